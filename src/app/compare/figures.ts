/** The figures of finished runs set against each other. */
import type { Summary } from '../../run/summary'
import type { Kind } from '../../units'
import { spanTension } from '../charts/tensions'
import { measureKinds, type Measure } from '../shown'
import type { PinnedRun } from './pins.svelte'

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

/** What decides, span by span and part by part; tension in the measure that is read. */
function figuresOf({ result, trace }: PinnedRun, measure: Measure): Figure[] {
  const summary: Summary = result.summary
  return [
    ...summary.spans.flatMap((span) => {
      const { name, limitShare, slackSeconds } = span
      const figure = figureOf('Tension', name)
      const tension = spanTension(span, result.plan, trace, measure)
      return [
        figure('greatest', measureKinds[measure], tension.max),
        figure('least', measureKinds[measure], tension.min),
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
/** Below this a share, a time or a torque is nothing; a strain may well be smaller. */
const nothing = 1e-4
const noStrain = 1e-7

/** The figures of all runs in the order in which they first come. */
export function figureRows(runs: readonly PinnedRun[], measure: Measure): FigureRow[] {
  const byRun = runs.map((run) => new Map(figuresOf(run, measure).map((figure) => [figure.key, figure])))
  const all = new Map(byRun.toReversed().flatMap((figures) => [...figures]))
  return [...all.values()].map((figure) => {
    const values = byRun.map((figures) => figures.get(figure.key)?.value)
    return { figure, values, differs: values.some((value) => isOther(figure, value, values.at(-1))) }
  })
}

export interface PartRows {
  readonly key: string
  readonly part: string
  readonly rows: readonly FigureRow[]
}

/** A part's figures together; the parts stay in their order. */
export function byPart(rows: readonly FigureRow[]): PartRows[] {
  const keyOf = ({ figure: { group, part } }: FigureRow) => `${group}/${part}`
  return [...new Set(rows.map(keyOf))].map((key) => {
    const own = rows.filter((row) => keyOf(row) === key)
    return { key, part: own[0]?.figure.part ?? '', rows: own }
  })
}

/** Whether a figure is another than the one it is held against. */
export function isOther({ kind }: Figure, value: number | undefined, against: number | undefined): boolean {
  if (value === undefined || against === undefined) return value !== against
  const least = kind === measureKinds.strain ? noStrain : nothing
  return Math.abs(value - against) > Math.max(least, alike * Math.max(Math.abs(value), Math.abs(against)))
}
