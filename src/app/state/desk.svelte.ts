/** What all pages share: the scenario in hand, its run, and how things are looked at. */
import { createPool, createRunner, type JobPool } from '../../../workers/client'
import { verdict, type Verdict } from '../../verdict/verdict'
import { paletteOf } from '../charts/picture'
import { Look } from './look.svelte'
import { Playback } from './playback.svelte'
import type { Route } from './route.svelte'
import { RunState } from './run.svelte'
import type { Scenario } from './gallery'
import { Work } from './work.svelte'

export class Desk {
  readonly run: RunState
  readonly work: Work
  readonly look = new Look()
  readonly playback: Playback
  /** Colours for what is painted by script, as the theme has them. */
  palette = $state.raw(paletteOf(document.documentElement))
  readonly verdict: Verdict | null = $derived.by(
    () => this.run.result && verdict(this.run.result.summary, this.run.result.plan, this.look.system),
  )

  readonly #runner = createRunner()
  #pool: JobPool | undefined

  /** @param browse opens the gallery of questions */
  constructor(
    readonly route: Route,
    readonly browse: () => void,
  ) {
    this.run = new RunState(this.#runner)
    this.work = new Work(this.run)
    this.playback = new Playback(this.look, this.run)
  }

  /** Workers for what is computed beside the run; made when the first job is asked for. */
  get pool(): JobPool {
    this.#pool ??= createPool()
    return this.#pool
  }

  /** Opens a scenario, on its own page where it has one. */
  open(scenario: Scenario): void {
    this.#onOtherLine(() => this.work.choose(scenario))
  }

  undo(): void {
    this.#onOtherLine(() => this.work.undo())
  }

  redo(): void {
    this.#onOtherLine(() => this.work.redo())
  }

  repaint(): void {
    this.palette = paletteOf(document.documentElement)
  }

  dispose(): void {
    this.#runner.dispose()
    this.#pool?.dispose()
  }

  /** A line that comes in place of another is looked at afresh. */
  #onOtherLine(act: () => void): void {
    const before = this.work.chosen
    act()
    if (this.work.chosen !== before) this.look.forget()
  }
}
