/**
 * The stage as it is worked on: events with what is wrong with them, the speeds that they lead, and what a hand holds just
 * now. The scenario in hand is changed when the hand lets go.
 */
import { readDocument } from '../../scenario/read'
import type { Scenario } from '../../scenario/schema'
import { parseQuantity, type Problem } from '../../units'
import { at, withValue, type Json, type Path } from '../state/document'
import type { Work } from '../state/work.svelte'
import { cornerMoved } from './corners'
import { curvesOf } from './curves'
import { added, copied, moved, removed, sorted, stagedOf, timeText, type Edit, type Staged } from './events'
import { eventAt, offersOf, type Offer } from './offers'
import { freeTime, snapped } from './times'

export type Panel =
  | { readonly what: 'event'; readonly index: number; readonly visit: number }
  | { readonly what: 'add' }
  | { readonly what: 'speed' }

/** What stands where nothing else is known: of a scenario that was never read. */
const usual = { duration: 10, tick: 0.01 }

export class Board {
  open = $state.raw<Panel | null>(null)
  /** The document as it would be if the hand let go, and the event that it holds. */
  #draft = $state.raw<Edit | null>(null)
  /** The last that could be read of the scenario chosen: what is refused is drawn by it. */
  #good: { readonly of: unknown; readonly scenario: Scenario } | null = null
  #visits = 0

  constructor(readonly work: Work) {}

  /** With what a hand holds just now. */
  readonly document = $derived.by(() => this.#draft?.document ?? this.work.document)
  readonly #reading = $derived.by(() => readDocument(this.document))

  readonly staged = $derived.by((): Staged[] => {
    const staged = stagedOf(this.document)
    const order = this.#draft?.order
    // While one is held each keeps its place in the list, so that the hand keeps its hold.
    return order
      ? staged.map((event, k) => ({ ...event, index: order[k] ?? k })).sort((a, b) => a.index - b.index)
      : staged
  })

  readonly #scenario = $derived.by(() => {
    const of = this.work.chosen
    if (this.#reading.ok) this.#good = { of, scenario: this.#reading.scenario }
    return this.#good?.of === of ? this.#good?.scenario : undefined
  })

  readonly curves = $derived.by(() => (this.#scenario ? curvesOf(this.#scenario) : []))
  /** The curves are those of before: as it stands the scenario cannot be run. */
  readonly stale = $derived.by(() => !this.#reading.ok)

  /** s; as written, whether or not the rest can be read */
  readonly duration = $derived.by(() => this.#written('for', usual.duration))
  readonly tick = $derived.by(() => this.#written('tick', usual.tick))

  /** What is wrong, by the event that it is told of; of the rest of the scenario nothing is told here. */
  readonly faults = $derived.by((): ReadonlyMap<number, readonly Problem[]> => {
    const found = new Map<number, Problem[]>()
    for (const problem of this.#reading.ok ? [] : this.#reading.problems) {
      const [list, place] = problem.path.split('/')
      if (list !== 'stage') continue
      const index = this.#draft?.order[Number(place)] ?? Number(place)
      found.set(index, [...(found.get(index) ?? []), problem])
    }
    return found
  })

  readonly offers = $derived.by((): Offer[] => offersOf(this.work.document))

  #written(key: string, otherwise: number): number {
    const text = at(this.document, ['run', key])
    const parsed = typeof text === 'string' ? parseQuantity(text, 'time') : undefined
    return parsed?.ok && parsed.value > 0 ? parsed.value : otherwise
  }

  /** On a tick within the run. */
  snap(time: number): number {
    return snapped(time, this.tick, this.duration)
  }

  /** Shows an event at another time without changing the scenario. */
  hold(index: number, time: number): void {
    this.#draft = moved(this.work.document, index, this.snap(time))
  }

  /** Shows the end of a ramp elsewhere: s and m/s. */
  holdCorner(index: number, time: number, speed: number, unit: string): void {
    const staged = stagedOf(this.work.document)
    const document = cornerMoved(this.work.document, staged[index], this.snap(time), speed, unit)
    this.#draft = { document, index, order: staged.map((_, k) => k) }
  }

  letGo(): number {
    const draft = this.#draft
    this.#draft = null
    return draft ? this.#take(draft) : -1
  }

  forget(): void {
    this.#draft = null
  }

  /** Puts an event elsewhere at once. Returns its place in the list. */
  move(index: number, time: number): number {
    return this.#take(moved(this.work.document, index, this.snap(time)))
  }

  moveCorner(index: number, time: number, speed: number, unit: string): void {
    this.holdCorner(index, time, speed, unit)
    this.letGo()
  }

  add({ event }: Offer, wanted: number): number {
    if (!event) return -1
    const { document } = this.work
    const put = (time: number) => added(document, eventAt(event, timeText(time, '')))
    const time = freeTime(wanted, this.tick, this.duration, (time) => put(time).document)
    return this.#take(put(time))
  }

  /** Once more, after it is over where there is room. */
  duplicate(index: number): number {
    const event = this.staged[index]
    if (!event) return -1
    const { document } = this.work
    const after = (event.time ?? 0) + Math.max(event.lasts, this.tick)
    const time = freeTime(after, this.tick, this.duration, (time) => copied(document, index, time).document)
    return this.#take(copied(document, index, time))
  }

  remove(index: number): void {
    if (this.open?.what === 'event') this.open = null
    this.work.replace(removed(this.work.document, index))
  }

  /** One field of an event or of the run; a time puts the event in its place. */
  set(path: Path, value: Json | undefined): void {
    if (path[0] === 'stage' && path[2] === 'at') {
      const edit = sorted(withValue(this.work.document, path, value), Number(path[1]))
      if (edit.order.some((former, place) => former !== place)) {
        this.#take(edit)
        return
      }
    }
    this.work.set(path, value)
  }

  /** Opens the form of an event, or closes it. */
  toggle(index: number): void {
    if (this.open?.what === 'event' && this.open.index === index) this.open = null
    else this.openAt(index)
  }

  openAt(index: number): void {
    if (index >= 0) this.open = { what: 'event', index, visit: ++this.#visits }
  }

  /** Opens the menu of events, or the form of speed and length; or closes it. */
  show(what: 'add' | 'speed'): void {
    this.open = this.open?.what === what ? null : { what }
  }

  #take({ document, index, order }: Edit): number {
    const { open } = this
    if (open?.what === 'event') this.open = { ...open, index: Math.max(0, order.indexOf(open.index)) }
    this.work.replace(document)
    return index
  }
}
