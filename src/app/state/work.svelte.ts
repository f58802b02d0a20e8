/** The scenario in hand: chosen from the gallery, changed field by field, run anew at each change. */
import { at, pathText, withValue, type Json, type Path } from './document'
import type { Scenario } from './gallery'
import type { RunState } from './run.svelte'

export class Work {
  chosen = $state.raw<Scenario | null>(null)
  document = $state.raw<Json>(null)
  /** Paths of the values that differ from the scenario's own. */
  changed = $state.raw<ReadonlyMap<string, Path>>(new Map())

  readonly #run: RunState

  constructor(run: RunState) {
    this.#run = run
  }

  choose(scenario: Scenario): void {
    this.#run.clear()
    this.chosen = scenario
    this.document = scenario.document
    this.changed = new Map()
    this.rerun()
  }

  set(path: Path, value: Json): void {
    this.document = withValue(this.document, path, value)
    const changed = new Map(this.changed)
    if (value === this.own(path)) changed.delete(pathText(path))
    else changed.set(pathText(path), path)
    this.changed = changed
    this.rerun()
  }

  /** Puts another document in the present one's place, such as one with an event moved. */
  replace(document: Json): void {
    this.document = document
    this.rerun()
  }

  /** The value that the chosen scenario came with. */
  own(path: Path): Json | undefined {
    return this.chosen ? at(this.chosen.document, path) : undefined
  }

  /** Puts one value back, or leaves it out again. */
  restore(path: Path): void {
    this.document = withValue(this.document, path, this.own(path))
    this.changed = new Map([...this.changed].filter(([key]) => key !== pathText(path)))
    this.rerun()
  }

  restoreAll(): void {
    if (!this.chosen) return
    this.document = this.chosen.document
    this.changed = new Map()
    this.rerun()
  }

  rerun(): void {
    void this.#run.start(this.document)
  }
}
