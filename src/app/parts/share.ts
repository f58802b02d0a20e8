/** How near a span comes to its limits, in one word: colour never says it alone. */
import type { SpanLimits } from '../../run/record'
import type { SpanSummary } from '../../run/summary'

export type Standing = 'slack' | 'past limit' | 'above band' | 'below band' | 'in band'

export function standing(span: SpanSummary, limits: SpanLimits | undefined): Standing {
  if (span.limitShare >= 1) return 'past limit'
  if (span.slackSeconds > 0) return 'slack'
  // By strain, not by tension: another film may have followed the one that the band in newtons is for.
  if (limits && span.limitShare > limits.most / limits.elasticTension) return 'above band'
  if (limits && span.tension.min < limits.least) return 'below band'
  return 'in band'
}
