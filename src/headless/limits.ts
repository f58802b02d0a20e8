/** Which runs count as broken limits under --strict. */
import type { RunPlan } from '../run/record'
import type { Summary } from '../run/summary'

/** A span past its allowed share, below its least tension or slack; a dancer on a stop; a roll that ran out. */
export function breaksLimit({ spans, dancers, happenings }: Summary, plan: RunPlan): boolean {
  return (
    spans.some(({ limitShare, tension, slackSeconds }, j) => {
      const { most, least, elasticTension } = plan.spans[j]
      return limitShare > most / elasticTension || tension.min < least || slackSeconds > 0
    }) ||
    dancers.some(({ stopSeconds }) => stopSeconds > 0) ||
    happenings.some(({ what }) => what === 'runs out')
  )
}
