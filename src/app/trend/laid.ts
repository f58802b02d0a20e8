/** A recording as it lies over the traces: what of it the charts need. */
import type { Stroke } from '../charts/strokes'

/** A column that belongs to a channel, in SI. */
export interface Lane {
  readonly channel: string
  readonly title: string
  readonly values: Float64Array
}

export interface Recording {
  readonly name: string
  /** s from its first row; NaN where it is not told */
  readonly time: Float64Array
  readonly lanes: readonly Lane[]
}

/** Times the usual spacing of a lane's samples, beyond which rows without a value are a gap. */
const gapFrom = 1.5

/**
 * A lane as strokes on the run's time: rows without a value are left out. The pen lifts where they leave a gap, not where a
 * machine records one channel less often than another; a sample is never left alone, since nothing would be seen of it.
 */
export function strokeOf({ time }: Recording, shift: number, { values }: Lane): Stroke {
  const kept = new Float64Array(values.length)
  const times = new Float64Array(values.length)
  const gaps: number[] = []
  let [count, gap] = [0, false]
  for (let i = 0; i < values.length; i++) {
    const [at, value] = [time[i] ?? NaN, values[i] ?? NaN]
    if (Number.isNaN(at) || Number.isNaN(value)) {
      gap = true
      continue
    }
    if (gap && count > 0) gaps.push(count)
    gap = false
    times[count] = at + shift
    kept[count++] = value
  }
  const own = times.subarray(0, count)
  return { time: own, values: kept.subarray(0, count), lifts: liftsOf(own, gaps) }
}

function liftsOf(time: Float64Array, gaps: readonly number[]): number[] {
  const longest = usualSpacing(time) * gapFrom
  const lifts: number[] = []
  for (const sample of gaps) {
    const isAlone = sample - (lifts.at(-1) ?? 0) < 2
    if (!isAlone && (time[sample] ?? NaN) - (time[sample - 1] ?? NaN) > longest) lifts.push(sample)
  }
  return lifts
}

/** Spacings looked at to find the usual one. */
const looks = 1000

function usualSpacing(time: Float64Array): number {
  const every = Math.max(1, Math.floor(time.length / looks))
  const found: number[] = []
  for (let i = 1; i < time.length; i += every) found.push((time[i] ?? NaN) - (time[i - 1] ?? NaN))
  return found.sort((a, b) => a - b)[found.length >> 1] ?? 0
}
