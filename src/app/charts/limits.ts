/** Limits of the film that lies in a span, as they are in time: a splice brings another film, and another limit. */
import type { Measure } from '../shown'
import type { Trace } from '../state/trace'
import { gaugeOf } from './gauge'
import { rangeOf, scaledBy } from './levels'
import type { Stretch } from './picture'
import { limitFits, tensionRange, type Range } from './ranges'

export interface FilmLimits {
  readonly elastic: readonly Stretch[]
  /** Upper edge of the working band. */
  readonly most: readonly Stretch[]
  readonly least: readonly Stretch[]
}

/** Limits of the span of that name, or of the first. */
export function filmLimits(
  trace: Trace | null,
  span: string,
  factor: number,
  measure: Measure = 'force',
): FilmLimits | undefined {
  const spans = trace?.plan.spans
  const known = spans?.find(({ name }) => name === span) ?? spans?.[0]
  if (!trace || !known) return undefined
  const gauge = gaugeOf(trace, measure)
  const elastic = scaledBy(gauge.limits(known.name, known.elasticTension), factor)
  const least = scaledBy(gauge.level(known.least, known.name, known.elasticTension), factor)
  return { elastic, most: scaledBy(elastic, known.most / known.elasticTension), least }
}

/** What a span carries at a sample, and what its film could: both in N. */
export function strainAt(trace: Trace, span: string, sample: number): { limit: number; share: number } | undefined {
  const known = trace.plan.spans.find(({ name }) => name === span)
  const tension = trace.plan.channels.findIndex(({ key }) => key === `tension/${span}`)
  if (!known || tension < 0) return undefined
  const channel = trace.limitOf(span)
  const limit = (channel === undefined ? undefined : trace.values(channel)[sample]) ?? known.elasticTension
  return { limit, share: Math.max(0, trace.values(tension)[sample] ?? NaN) / limit }
}

/**
 * How far up the picture reaches: to the highest limit in it where the user says so or the traces stay readable; else to
 * the lowest, so that a limit that falls is seen to fall.
 */
export function tensionFrame(
  data: Range | undefined,
  limits: FilmLimits | undefined,
  window: Range,
  wish: boolean | undefined,
): { readonly y: Range; readonly reaches: boolean } {
  const levels = limits && rangeOf(limits.elastic, window)
  if (!limits || !levels) return { y: tensionRange(data, undefined, false), reaches: false }
  const most = rangeOf(limits.most, window)?.max ?? levels.max
  const upTo = (elastic: number) => ({ most, elastic })
  const reaches = wish ?? limitFits(data, upTo(levels.max))
  const isLower = !reaches && wish === undefined && limitFits(data, upTo(levels.min))
  return { y: tensionRange(data, upTo(isLower ? levels.min : levels.max), reaches || isLower), reaches }
}
