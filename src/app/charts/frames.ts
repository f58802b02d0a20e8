/**
 * Drawing in turn, a few pictures a frame: a frame that has used its time leaves the rest to the next one, so that
 * keys and pointer are heard meanwhile. Whoever asks again while waiting keeps its place.
 */

/** ms of drawing a frame; one picture is drawn in any case. */
const budget = 16

export class Frames {
  readonly #waiting = new Set<() => void>()
  #asked = false

  constructor(
    private readonly next: (draw: () => void) => unknown,
    private readonly now: () => number,
  ) {}

  ask(draw: () => void): void {
    this.#waiting.add(draw)
    this.#request()
  }

  forget(draw: () => void): void {
    this.#waiting.delete(draw)
  }

  #request(): void {
    if (this.#asked || this.#waiting.size === 0) return
    this.#asked = true
    this.next(() => this.#frame())
  }

  #frame(): void {
    this.#asked = false
    const end = this.now() + budget
    for (const draw of this.#waiting) {
      this.#waiting.delete(draw)
      draw()
      if (this.now() >= end) break
    }
    this.#request()
  }
}

/** Those of the screen. */
export const frames = new Frames(
  (draw) => requestAnimationFrame(draw),
  () => performance.now(),
)
