/** The traces of a run as comma-separated text in shown units, in pieces: a long run need not lie in memory twice. */
import { headCell } from '../../run/csv'
import { toUnit } from '../../units'
import { unitOf, type System } from '../shown'
import type { Trace } from '../state/trace'

/** Rows of a piece. */
const rowsAtOnce = 1000

export function* csvOf(trace: Trace, system: System): Generator<string> {
  const { channels } = trace.plan
  const units = channels.map(({ kind }) => unitOf(kind, system))
  const names = channels.map(({ key }, k) => `${key.replaceAll(' → ', ' to ')} (${units[k] ?? ''})`)
  yield `${['time (s)', ...names].map(headCell).join(',')}\n`
  const columns = channels.map(({ kind }, k) => {
    const values = trace.values(k)
    const unit = units[k] ?? ''
    return (i: number) => toUnit(values[i] ?? NaN, unit, kind)
  })
  for (let from = 0; from < trace.count; from += rowsAtOnce) {
    let text = ''
    for (let i = from; i < Math.min(trace.count, from + rowsAtOnce); i++) {
      text += [numberText(trace.time[i] ?? NaN), ...columns.map((of) => numberText(of(i)))].join(',') + '\n'
    }
    yield text
  }
}

/** Eight digits; what is no number is an empty cell, so that no cell begins with a sign but that of a number. */
const numberText = (value: number): string => (Number.isFinite(value) ? String(Number(value.toPrecision(8))) : '')
