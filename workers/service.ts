/** The worker's side of a run: numbers the runs, lets the newest supersede, answers each call with an outcome. */
import type { Failed, Outcome, Refused } from '../src/run/outcome'
import type { Block, RunPlan } from '../src/run/record'
import { runInSlices, usualPace, type Clock, type Pace, type Steps, type Teller } from './slices'

export type Prepare = (document: unknown) => Steps | Refused | Failed

/** What the worker tells the page about run `number`; each resolves when the page has taken it. */
export interface Telling {
  began(number: number, plan: RunPlan): Promise<unknown>
  block(number: number, block: Block): Promise<unknown>
  progress(number: number, share: number, time: number): Promise<unknown>
}

export class RunService {
  /** Number of the run that may go on; 0: none. */
  #wanted = 0

  constructor(
    private readonly prepare: Prepare,
    private readonly telling: Telling,
    private readonly clock: Clock,
    private readonly pace: Pace = usualPace,
  ) {}

  async run(number: number, document: unknown): Promise<Outcome> {
    this.#wanted = number
    const stopped = () => this.#wanted !== number
    // While a control is dragged several calls may be waiting: hear them all before the work of building begins.
    await this.clock.pause()
    if (stopped()) return { outcome: 'cancelled' }
    const run = this.prepare(document)
    if (!('step' in run)) return run
    return runInSlices(run, this.#tellerFor(number), this.clock, stopped, this.pace)
  }

  cancel(): void {
    this.#wanted = 0
  }

  #tellerFor(number: number): Teller {
    return {
      began: (plan: RunPlan) => this.telling.began(number, plan),
      block: (block: Block) => this.telling.block(number, block),
      progress: (share: number, time: number) => this.telling.progress(number, share, time),
    }
  }
}
