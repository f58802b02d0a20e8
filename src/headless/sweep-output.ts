/** A sweep for people, as one object, and as comma-separated text. */
import type { Figure } from '../tune/figures'
import type { CaseResult } from '../tune/sweep'
import type { Case, Variation } from '../tune/vary'
import { formatNumber, kinds, toUnit } from '../units'
import { headCell } from '../run/csv'
import type { SweepCommand } from './sweep-arguments'
import { table } from './table'

export interface Row {
  /** from 1, in the order of all cases whatever the share */
  readonly number: number
  readonly values: Case
  readonly result: CaseResult
}

const figuresIn = ({ result }: Row): readonly Figure[] => (result.outcome === 'finished' ? result.figures : [])

/** The figures of the first case that has any: all cases run the same line. */
function headings(rows: readonly Row[]): readonly Figure[] {
  const first = rows.find(({ result }) => result.outcome === 'finished')
  return first === undefined ? [] : figuresIn(first)
}

/** Those of single spans would make the table too wide; they are in the object and in the file. */
export function sweepTable(rows: readonly Row[], variations: readonly Variation[]): string[] {
  const figures = headings(rows).filter(({ key }) => !key.includes(' → '))
  const shown = figures.filter(({ key }) => rows.some((row) => valueOf(row, key) !== null))
  const head = [
    'case',
    ...variations.map(({ path }) => path),
    ...shown.map(({ name, kind }) => `${name} ${kinds[kind].metric}`),
  ]
  const body = rows.map((row) => [
    String(row.number),
    ...row.values,
    ...(row.result.outcome === 'finished'
      ? shown.map(({ key, kind }) => figureText(valueOf(row, key), kind))
      : shown.map((_, column) => (column === 0 ? row.result.outcome : ''))),
  ])
  return [...table(head, body), '', 'The figures advise; they certify nothing.']
}

function figureText(value: number | null, kind: Figure['kind']): string {
  return value === null ? '' : formatNumber(toUnit(value, kinds[kind].metric, kind), 4)
}

function valueOf(row: Row, key: string): number | null {
  return figuresIn(row).find((figure) => figure.key === key)?.value ?? null
}

export function sweepJson(
  rows: readonly Row[],
  variations: readonly Variation[],
  share: SweepCommand['share'],
): string {
  const cases = rows.map(({ number, values, result }) => ({
    case: number,
    values,
    ...(result.outcome === 'finished'
      ? { outcome: result.outcome, figures: Object.fromEntries(result.figures.map(({ key, value }) => [key, value])) }
      : result),
  }))
  return JSON.stringify({ vary: variations, share: `${share.number}/${share.of}`, cases }, null, 2)
}

export function sweepCsv(rows: readonly Row[], variations: readonly Variation[]): string {
  const figures = headings(rows)
  const head = [
    'case',
    ...variations.map(({ path }) => path),
    'outcome',
    ...figures.map(({ name, kind }) => `${name.replaceAll(' → ', ' to ')} (${kinds[kind].si})`),
  ]
  const lines = rows.map((row) => [
    String(row.number),
    ...row.values,
    row.result.outcome,
    ...figures.map(({ key }) => numberText(valueOf(row, key))),
  ])
  return [head.map(headCell), ...lines].map((cells) => `${cells.join(',')}\n`).join('')
}

const numberText = (value: number | null) => (value === null ? '' : String(Number(value.toPrecision(10))))
