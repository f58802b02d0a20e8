/** A recording with its columns given to channels: what is laid over the traces, and how far the two differ. */
import type { Channel } from '../../run/record'
import { fromUnit, kinds, type Kind } from '../../units'
import type { Stroke } from '../charts/strokes'
import type { Lane, Recording } from './laid'
import type { Table } from './table'
import { timesOf, type TimeBase } from './times'
import { kindsOfUnit } from './format'

/** What a person says of a column. */
export interface Assignment {
  readonly column: number
  readonly channel: Channel
  readonly unit: string
}

export function recordingOf(name: string, table: Table, base: TimeBase, assignments: readonly Assignment[]): Recording {
  const lanes = assignments.map(({ column, channel, unit }): Lane => {
    const found = table.columns[column]
    return { channel: channel.key, title: found?.title ?? '', values: toSi(found?.values, unit, channel.kind) }
  })
  return { name, time: timesOf(table, base).time, lanes }
}

/** Every unit is a factor and, at most, an offset: a million values are not each looked up. */
function toSi(shown: Float64Array | undefined, unit: string, kind: Kind): Float64Array {
  const offset = fromUnit(0, unit, kind)
  const factor = fromUnit(1, unit, kind) - offset
  const values = new Float64Array(shown?.length ?? 0)
  for (let i = 0; i < values.length; i++) values[i] = (shown?.[i] ?? NaN) * factor + offset
  return values
}

/** Units that a column of a channel may be in, the one that its head names first. */
export function unitsFor(kind: Kind, stated: string): string[] {
  const units = kinds[kind].units
  return units.includes(stated) ? [stated, ...units.filter((unit) => unit !== stated)] : [...units]
}

const bareName = (text: string) =>
  text
    .toLowerCase()
    .replaceAll(/→|->/g, 'to')
    .replaceAll(/[^\p{L}\p{N}]+/gu, ' ')
    .trim()

/** The channel whose name stands in a column's title, if it is the only one and the unit allows it. */
export function guessChannel(title: string, unit: string, channels: readonly Channel[]): Channel | undefined {
  const allowed = unit === '' ? undefined : new Set(kindsOfUnit(unit))
  const text = ` ${bareName(title)} `
  const fits = channels.filter(({ name, kind }) => {
    return text.includes(` ${bareName(name)} `) && (allowed === undefined || allowed.has(kind))
  })
  const exact = fits.find(({ key }) => bareName(key) === text.trim())
  return exact ?? (fits.length === 1 ? fits[0] : undefined)
}

export interface Difference {
  /** samples of the recording that lie within the run */
  readonly count: number
  /** recorded less computed, SI */
  readonly rms: number
  readonly mean: number
  readonly peak: number
  /** s, of the run, where the peak is */
  readonly at: number
}

/** Recorded less computed at each recorded sample, the computed one taken on a straight line between its samples. */
export function differenceOf(recorded: Stroke, computed: Stroke): Difference {
  let [count, sum, squares, peak, at, k] = [0, 0, 0, 0, 0, 0]
  const { time, values } = computed
  const end = time[time.length - 1] ?? -Infinity
  for (let i = 0; i < recorded.time.length; i++) {
    const t = recorded.time[i] ?? NaN
    if (!(t >= (time[0] ?? Infinity) && t <= end)) continue
    while (k + 1 < time.length && (time[k + 1] ?? Infinity) < t) k++
    const [t0, t1] = [time[k] ?? 0, time[k + 1] ?? Infinity]
    const [v0, v1] = [values[k] ?? NaN, values[k + 1] ?? values[k] ?? NaN]
    // At a jump there are two samples at one instant.
    const share = t1 > t0 && Number.isFinite(t1) ? (t - t0) / (t1 - t0) : 0
    const off = (recorded.values[i] ?? NaN) - (v0 + share * (v1 - v0))
    count++
    sum += off
    squares += off * off
    if (Math.abs(off) > Math.abs(peak)) [peak, at] = [off, t]
  }
  return { count, rms: Math.sqrt(squares / count), mean: sum / count, peak, at }
}
