/** The time of each row of a recording, s from its first; and which column tells it. */
import { fromUnit } from '../../units'
import type { Column, Table } from './table'

export const timeUnits = ['s', 'ms', 'min', 'h'] as const
export type TimeUnit = (typeof timeUnits)[number]

const secondsIn: Readonly<Record<TimeUnit, number>> = { s: 1, ms: fromUnit(1, 'ms', 'time'), min: 60, h: 3600 }
const day = 86_400

/** A column that tells the time, or samples evenly apart where none does. */
export type TimeBase =
  | { readonly by: 'column'; readonly column: number; readonly unit: TimeUnit }
  /** s between two rows */
  | { readonly by: 'step'; readonly step: number }

const timeTitle = /^(time|zeit|temps|tiempo|tempo|tijd|timestamp|date ?time|elapsed|seconds?|sec|t|ms)\b/i

/** The column that most likely tells the time; undefined: ask. */
export function guessTime(table: Table): TimeBase | undefined {
  const columns = table.columns.map((column, index) => ({ column, index }))
  // Whether it rises is asked last: that looks at every row.
  const found =
    columns.find(({ column }) => column.type === 'clock' && rises(column)) ??
    columns.find(({ column }) => timeTitle.test(column.title.trim()) && rises(column)) ??
    columns.find(({ column, index }) => index === 0 && isTimeUnit(column.unit) && rises(column))
  return found && { by: 'column', column: found.index, unit: unitOf(found.column) }
}

const isTimeUnit = (unit: string) => timeUnits.some((one) => one === unit)

/** s where the head says nothing: then it has to be asked. */
export function unitOf({ unit, type }: Column): TimeUnit {
  return type === 'clock' ? 's' : (timeUnits.find((one) => one === unit) ?? 's')
}

/** Whether it is known without asking. */
export const tellsUnit = ({ unit, type }: Column): boolean => type === 'clock' || isTimeUnit(unit)

/** Nearly always goes on, and gets somewhere. A clock may pass midnight. */
function rises({ values, type }: Column): boolean {
  if (type === 'text') return false
  let [up, down, last, first] = [0, 0, NaN, NaN]
  for (const value of values) {
    if (Number.isNaN(value)) continue
    if (value > last || (type === 'clock' && value < last - day / 2)) up++
    else if (value < last) down++
    if (Number.isNaN(first)) first = value
    last = value
  }
  return up > 0 && down <= up * 0.01
}

export interface Times {
  /** s from the first row; NaN for a row whose time is not told, or goes back */
  readonly time: Float64Array
  /** rows without a time that goes on */
  readonly lost: number
}

export function timesOf(table: Table, base: TimeBase): Times {
  const column = base.by === 'column' ? table.columns[base.column] : undefined
  const factor = base.by === 'step' ? base.step : secondsIn[base.unit]
  const time = new Float64Array(table.rows)
  for (let i = 0; i < time.length; i++) time[i] = (base.by === 'step' ? i : (column?.values[i] ?? NaN)) * factor
  if (column?.type === 'clock') unwrap(time)
  const start = time.find((value) => !Number.isNaN(value)) ?? 0
  let [last, lost] = [-Infinity, 0]
  for (let i = 0; i < time.length; i++) {
    const value = (time[i] ?? NaN) - start
    if (value >= last) time[i] = last = value
    else {
      time[i] = NaN
      lost++
    }
  }
  spread(time)
  return { time, lost }
}

/** After midnight a clock starts again: it then lies most of a day behind. */
function unwrap(time: Float64Array): void {
  let [days, last] = [0, NaN]
  for (let i = 0; i < time.length; i++) {
    const value = time[i] ?? NaN
    if (Number.isNaN(value)) continue
    if (value < last - day / 2) days++
    last = value
    time[i] = value + days * day
  }
}

/** A clock coarser than the samples tells several the same time: they are laid evenly up to the next. */
function spread(time: Float64Array): void {
  let [from, step] = [0, 0]
  while (from < time.length) {
    let to = from + 1
    while (to < time.length && time[to] === time[from]) to++
    const length = (time[to] ?? NaN) - (time[from] ?? NaN)
    if (length > 0) step = length / (to - from)
    for (let i = from + 1; i < to; i++) time[i] = (time[from] ?? NaN) + (i - from) * step
    from = to
  }
}
