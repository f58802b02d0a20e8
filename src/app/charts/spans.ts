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

/** A finished run knows its shares exactly; one under way by its samples. */
export function spanStates(trace: Trace, result: Result | null): SpanState[] {
  const known = result !== null && result.plan === trace.plan ? result.summary.spans : []
  const shares = new Map(known.map(({ name, limitShare }) => [name, limitShare]))
  return trace.group('tension').map(({ channel: { name, key } }) => {
    return { name, key, share: shares.get(name) ?? trace.shares.get(name) ?? 0 }
  })
}

export function worstOf(spans: readonly SpanState[]): SpanState | undefined {
  return spans.reduce<SpanState | undefined>(
    (worst, span) => (worst && worst.share >= span.share ? worst : span),
    undefined,
  )
}
