/** The figures of finished runs set against each other. */
import type { Summary } from '../../run/summary'
import type { Kind } from '../../units'

export type FigureKind = Kind | 'share' | 'seconds'

export interface Figure {
  /** Unique within a run: figures of one key are compared. */
  readonly key: string
  readonly group: string
  readonly part: string
  readonly what: string
  readonly kind: FigureKind
  /** SI */
  readonly value: number
}

/** What decides, span by span and part by part. */
export function figuresOf(summary: Summary): Figure[] {
  return [
    ...summary.spans.flatMap(({ name, tension, limitShare, slackSeconds }) => {
      const figure = figureOf('Tension', name)
      return [
        figure('greatest', 'force', tension.max),
        figure('least', 'force', tension.min),
        figure('share of the limit', 'share', limitShare),
        figure('slack for', 'seconds', slackSeconds),
      ]
    }),
    ...summary.dancers.flatMap(({ name, travelUsed, stopSeconds, ripple }) => {
      const figure = figureOf('Dancers', name)
      return [
        figure('travel used', 'share', travelUsed),
        figure('on a stop for', 'seconds', stopSeconds),
        figure('ripple at the end', 'travel', ripple),
      ]
    }),
    ...summary.rollers.flatMap(({ name, tractionMargin }) =>
      tractionMargin === null ? [] : [figureOf('Traction', name)('least margin', 'share', tractionMargin)],
    ),
    ...summary.drives.map(({ name, peakTorque }) => figureOf('Drives', name)('peak torque', 'torque', peakTorque)),
    figureOf('Film', 'whole line')('scrap', 'length', summary.film.scrap),
  ]
}

function figureOf(group: string, part: string) {
  return (what: string, kind: FigureKind, value: number): Figure => {
    return { key: `${group}/${part}/${what}`, group, part, what, kind, value }
  }
}

export interface FigureRow {
  readonly figure: Figure
  /** Run by run; undefined where a run has no such figure. */
  readonly values: readonly (number | undefined)[]
  readonly differs: boolean
}

/** Smaller differences are of the solver's making, not of the line's. */
const alike = 2e-3
/** Below this a share, a time or a torque is nothing. */
const nothing = 1e-4

/** The figures of all runs in the order in which they first come. */
export function figureRows(summaries: readonly Summary[]): FigureRow[] {
  const byRun = summaries.map((summary) => new Map(figuresOf(summary).map((figure) => [figure.key, figure])))
  const all = new Map(byRun.toReversed().flatMap((figures) => [...figures]))
  return [...all.values()].map((figure) => {
    const values = byRun.map((figures) => figures.get(figure.key)?.value)
    return { figure, values, differs: values.some((value) => isOther(value, values.at(-1))) }
  })
}

/** Whether a figure is another than the one it is held against. */
export function isOther(value: number | undefined, against: number | undefined): boolean {
  if (value === undefined || against === undefined) return value !== against
  return Math.abs(value - against) > Math.max(nothing, alike * Math.max(Math.abs(value), Math.abs(against)))
}
