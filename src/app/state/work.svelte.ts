/** The scenario in hand: chosen, changed field by field, run anew at each change; every change can be taken back. */
import { placeWords } from '../fields/words'
import { at, differences, pathText, withValue, type Json, type Path } from './document'
import type { Scenario } from './scenario'
import { noHistory, recorded, redone, undone, type History, type Turn } from './history'
import type { RunState } from './run.svelte'

/** A recording laid over the run: which, and by how much its times are shifted (s). */
export interface Laid {
  readonly id: string
  readonly shift: number
}

/** What a step goes back to. */
export interface InHand {
  readonly chosen: Scenario | null
  readonly document: Json
  readonly trend?: Laid | undefined
}

export class Work {
  /** What is in hand; a new object with every change, and only then. */
  held = $state.raw<InHand>({ chosen: null, document: null })
  history = $state.raw<History<InHand>>(noHistory)
  /** What is typed into a field and not yet applied, by the field's path. */
  entries = $state.raw<ReadonlyMap<string, string>>(new Map())
  readonly chosen: Scenario | null = $derived(this.held.chosen)
  readonly document: Json = $derived(this.held.document)
  readonly title: string = $derived(this.#told('title'))
  readonly about: string = $derived(this.#told('about'))
  /** Paths of the values that differ from the scenario's own. */
  readonly changed: ReadonlyMap<string, Path> = $derived(
    new Map(differences(this.held.chosen?.document, this.held.document).map((path) => [pathText(path), path])),
  )
  /** What would be taken back, and done again, in words; empty where there is nothing. */
  readonly undoes: string = $derived(this.history.past.at(-1)?.words ?? '')
  readonly redoes: string = $derived(this.history.future.at(-1)?.words ?? '')

  readonly #run: RunState
  readonly #now: () => number

  /** @param now ms */
  constructor(run: RunState, now: () => number = Date.now) {
    this.#run = run
    this.#now = now
  }

  /** Opens a scenario as a copy: its own document is never changed. */
  choose(scenario: Scenario, trend?: Laid): void {
    if (this.held.chosen) this.#record(`opening “${scenario.title}”`, '')
    this.#hold({ chosen: scenario, document: scenario.document, trend })
  }

  /** The first question that is asked: nothing before it is worth going back to. */
  begin(scenario: Scenario, trend?: Laid): void {
    const held = { chosen: scenario, document: scenario.document, trend }
    // What is running for a newcomer already need not run again.
    if (this.document === held.document) this.held = held
    else this.resume(held, noHistory, new Map())
  }

  /** Goes on from where work was left, with its history. */
  resume(held: InHand, history: History<InHand>, entries: ReadonlyMap<string, string>): void {
    this.history = history
    this.#hold(held)
    this.entries = entries
  }

  /** Goes back to what was in hand once, such as when a run was pinned. */
  take(held: InHand, words: string): void {
    if (held === this.held) return
    this.#record(words, '')
    this.#hold(held)
  }

  /** An undefined value leaves the field out. */
  set(path: Path, value: Json | undefined): void {
    this.#change(withValue(this.document, path, value), placeWords(this.document, path), pathText(path))
  }

  /**
   * Puts another document in the present one's place, such as one with an event moved.
   * @param words what is done, where the places that change do not say it; such an act is a step of its own
   */
  replace(document: Json, words?: string): void {
    const paths = differences(this.document, document)
    const [first] = paths
    if (!first) return
    const places = paths.length === 1 ? placeWords(this.document, first) : `${paths.length} changes`
    this.#change(document, words ?? places, words === undefined ? paths.map(pathText).join(' ') : '')
  }

  /** The value that the chosen scenario came with. */
  own(path: Path): Json | undefined {
    return this.chosen ? at(this.chosen.document, path) : undefined
  }

  /** Puts one value back, or leaves it out again. */
  restore(path: Path): void {
    const words = `putting back ${placeWords(this.document, path)}`
    this.#change(withValue(this.document, path, this.own(path)), words, '')
  }

  restoreAll(): void {
    if (this.chosen) this.#change(this.chosen.document, 'putting back all changes', '')
  }

  /**
   * Lays a recording over the run, shifts it, or takes it away.
   * @param key of the step: shifts that follow each other closely are one
   */
  lay(trend: Laid | undefined, words: string, key = ''): void {
    this.#record(words, key)
    this.held = { ...this.held, trend }
  }

  undo(): void {
    this.#turn(undone(this.history, this.held))
  }

  redo(): void {
    this.#turn(redone(this.history, this.held))
  }

  rerun(): void {
    void this.#run.start(this.document)
  }

  /** Notes what is being typed into a field; null: nothing any more. */
  enter(path: Path, text: string | null): void {
    const entries = new Map(this.entries)
    if (text === null) entries.delete(pathText(path))
    else entries.set(pathText(path), text)
    this.entries = entries
  }

  /** What the scenario is called, or about: as it was chosen, until that is written anew. */
  #told(key: 'title' | 'about'): string {
    const written = at(this.document, [key])
    return typeof written === 'string' && written !== this.own([key]) ? written : (this.chosen?.[key] ?? '')
  }

  #change(document: Json, words: string, key: string): void {
    if (differences(this.document, document).length === 0) return
    this.#record(words, key)
    this.#hold({ ...this.held, document })
  }

  #record(words: string, key: string): void {
    this.history = recorded(this.history, { words, key, at: this.#now(), state: this.held })
  }

  #turn(turn: Turn<InHand> | undefined): void {
    if (!turn) return
    this.history = turn.history
    this.#hold(turn.state)
  }

  #hold(held: InHand): void {
    // Another line: nothing of the former one's run stays.
    const before = this.held
    const isOther = held.chosen !== before.chosen
    if (isOther) this.#run.clear()
    if (isOther && this.held.chosen) this.entries = new Map()
    this.held = held
    // Where only a recording comes or goes there is nothing to compute.
    if (held.document !== before.document || held.trend === before.trend) this.rerun()
  }
}
