/**
 * What a hand does on a plotting area. Mouse and pen: moving points, dragging chooses a stretch, a double click shows
 * all. Touch: one finger points (and still scrolls the page up and down), two fingers stretch time.
 */

export interface Gestures {
  readonly point: (left: number) => void
  readonly shade: (from: number, to: number) => void
  readonly choose: (from: number, to: number) => void
  readonly all: () => void
  /** Both instants that the two fingers held stay under them. */
  readonly pinch: (held: readonly [number, number], now: readonly [number, number]) => void
  readonly timeAt: (left: number) => number
}

/** CSS pixels: a shorter drag is a click. */
const shortest = 6

/** Returns how to stop listening. */
export function listen(area: HTMLElement, gestures: Gestures): () => void {
  const hand = new Hand(area, gestures)
  const events = { pointerdown: hand.down, pointermove: hand.move, pointerup: hand.up, pointercancel: hand.lost }
  const entries = Object.entries(events)
  for (const [name, handle] of entries) area.addEventListener(name, handle as EventListener)
  area.addEventListener('dblclick', gestures.all)
  return () => {
    for (const [name, handle] of entries) area.removeEventListener(name, handle as EventListener)
    area.removeEventListener('dblclick', gestures.all)
  }
}

class Hand {
  readonly #fingers = new Map<number, number>()
  #from: number | null = null
  #held: [number, number] | null = null

  constructor(
    private readonly area: HTMLElement,
    private readonly gestures: Gestures,
  ) {}

  #left(event: PointerEvent): number {
    const { left, width } = this.area.getBoundingClientRect()
    return Math.min(Math.max(0, event.clientX - left), width)
  }

  readonly down = (event: PointerEvent): void => {
    const left = this.#left(event)
    this.gestures.point(left)
    if (event.pointerType === 'touch') {
      this.#fingers.set(event.pointerId, left)
      this.#hold()
    } else if (event.button === 0) {
      this.area.setPointerCapture(event.pointerId)
      this.#from = left
    }
  }

  readonly move = (event: PointerEvent): void => {
    const left = this.#left(event)
    if (event.pointerType === 'touch') {
      this.#slide(event.pointerId, left)
      return
    }
    this.gestures.point(left)
    if (this.#from !== null) this.gestures.shade(this.#from, left)
  }

  readonly up = (event: PointerEvent): void => {
    const left = this.#left(event)
    const from = this.#from
    this.lost(event)
    if (from !== null && Math.abs(left - from) >= shortest)
      this.gestures.choose(Math.min(from, left), Math.max(from, left))
  }

  readonly lost = (event: PointerEvent): void => {
    this.#fingers.delete(event.pointerId)
    this.#from = null
    this.#hold()
    this.gestures.shade(0, 0)
  }

  #pair(): [number, number] | null {
    const [a, b] = [...this.#fingers.values()]
    return a === undefined || b === undefined ? null : [Math.min(a, b), Math.max(a, b)]
  }

  #hold(): void {
    const pair = this.#pair()
    this.#held = pair && [this.gestures.timeAt(pair[0]), this.gestures.timeAt(pair[1])]
  }

  #slide(finger: number, left: number): void {
    if (!this.#fingers.has(finger)) return
    this.#fingers.set(finger, left)
    const pair = this.#pair()
    if (!pair) this.gestures.point(left)
    else if (this.#held && pair[1] - pair[0] > shortest) this.gestures.pinch(this.#held, pair)
  }
}
