/** How hard each span's film is strained, and which is meant. */
import type { Result } from '../state/run.svelte'
import type { Trace } from '../state/trace'

export interface SpanState {
  readonly name: string
  /** Channel key of its tension. */
  readonly key: string
  /** Greatest share of the film's elastic limit so far. */
  readonly share: number
}

/** A finished run knows its shares exactly; one under way by its samples and the film it began with. */
export function spanStates(trace: Trace, result: Result | null): SpanState[] {
  const known = result !== null && result.plan === trace.plan ? result.summary.spans : []
  return trace.group('tension').map(({ channel, index }, j) => {
    const limits = trace.plan.spans.find(({ name }) => name === channel.name) ?? trace.plan.spans[j]
    const sampled = limits ? Math.max(0, trace.extremes[index]?.max ?? 0) / limits.elasticTension : 0
    const share = known.find(({ name }) => name === channel.name)?.limitShare ?? sampled
    return { name: channel.name, key: channel.key, share }
  })
}

export function worstOf(spans: readonly SpanState[]): SpanState | undefined {
  return spans.reduce<SpanState | undefined>(
    (worst, span) => (worst && worst.share >= span.share ? worst : span),
    undefined,
  )
}
