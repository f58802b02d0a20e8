/** A span's tension over a whole run in the measure that is read. */
import type { Extreme, RunPlan } from '../../run/record'
import type { SpanSummary } from '../../run/summary'
import type { Measure } from '../shown'
import type { Trace } from '../state/trace'
import { gaugeOf } from './gauge'

/** Start and extremes; in newtons, as they also are while there is no trace to read from. */
export function spanTension(
  { name, tension }: SpanSummary,
  plan: RunPlan,
  trace: Trace | undefined,
  measure: Measure,
): Extreme & { readonly start: number } {
  const index = plan.channels.findIndex(({ key }) => key === `tension/${name}`)
  const gauge = trace && index >= 0 ? gaugeOf(trace, measure) : undefined
  const extreme = gauge?.extreme(index, tension)
  return gauge && extreme ? { ...extreme, start: gauge.start(name, tension.start) } : tension
}
