/** A whole run of one document, in steps, for those who want its figures and not its traces. */
import type { Failed, Refused } from '../run/outcome'
import { prepare } from '../run/prepare'
import type { RunPlan } from '../run/record'
import type { Summary } from '../run/summary'

export type Ended =
  { readonly outcome: 'finished'; readonly summary: Summary; readonly plan: RunPlan } | Refused | Failed

/** Ticks between two times that the samples are thrown away: they must not pile up over an hour of line time. */
const ticksPerBlock = 500

/** Each step tells the share of the run's time that is done. */
export function* runDocument(document: unknown): Generator<number, Ended> {
  const run = prepare(document)
  if (!('step' in run)) return run
  for (let tick = 1; ; tick++) {
    const outcome = run.step()
    if (outcome?.outcome === 'finished') return { ...outcome, plan: run.plan }
    if (outcome?.outcome === 'failed' || outcome?.outcome === 'refused') return outcome
    if (tick % ticksPerBlock === 0) run.takeBlock()
    yield run.time / run.plan.duration
  }
}
