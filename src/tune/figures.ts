/** The single numbers of a finished run that a sweep is read by and a limit is searched for. SI. */
import type { DancerSummary, SpanSummary, Summary } from '../run/summary'
import type { Kind } from '../units'

export interface Figure {
  /** Unique within a line, e.g. `greatest tension/idler 1 → idler 2`. */
  readonly key: string
  /** for people */
  readonly name: string
  readonly kind: Kind
  /** null where the line has nothing of the kind to measure */
  readonly value: number | null
}

/** Of the whole line first, then of every dancer. */
export function leadingFigures(summary: Summary): Figure[] {
  const { spans, rollers, drives, dancers } = summary
  return [
    whole('share of elastic limit', 'fraction', greatest(spans.map((s) => s.limitShare))),
    whole('least tension', 'force', least(spans.map((s) => s.tension.min))),
    whole('greatest tension', 'force', greatest(spans.map((s) => s.tension.max))),
    whole('slack time', 'time', greatest(spans.map((s) => s.slackSeconds))),
    whole('least grip left', 'fraction', least(rollers.flatMap((r) => r.tractionMargin ?? []))),
    whole('share of torque limit', 'fraction', greatest(drives.flatMap((d) => d.limitShare ?? []))),
    ...dancers.flatMap(ofDancer),
  ]
}

/** All of them: the leading ones, then those of every span. */
export function figuresOf(summary: Summary): Figure[] {
  return [...leadingFigures(summary), ...summary.spans.flatMap(ofSpan)]
}

const whole = (name: string, kind: Kind, value: number | null): Figure => ({ key: name, name, kind, value })
const greatest = (values: readonly number[]) => (values.length === 0 ? null : Math.max(...values))
const least = (values: readonly number[]) => (values.length === 0 ? null : Math.min(...values))

function part(owner: string, what: string, kind: Kind, value: number): Figure {
  return { key: `${what}/${owner}`, name: `${owner}: ${what}`, kind, value }
}

function ofDancer({ name, travelUsed, ripple, stopSeconds }: DancerSummary): Figure[] {
  return [
    part(name, 'travel used', 'fraction', travelUsed),
    part(name, 'ripple', 'travel', ripple),
    part(name, 'time on a stop', 'time', stopSeconds),
  ]
}

function ofSpan({ name, tension, limitShare, slackSeconds }: SpanSummary): Figure[] {
  return [
    part(name, 'least tension', 'force', tension.min),
    part(name, 'greatest tension', 'force', tension.max),
    part(name, 'swing of tension', 'force', tension.max - tension.min),
    part(name, 'share of elastic limit', 'fraction', limitShare),
    part(name, 'slack time', 'time', slackSeconds),
  ]
}
