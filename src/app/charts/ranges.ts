/** Axis ranges. Every function gives a finite range of positive length, whatever comes in. */

export interface Range {
  readonly min: number
  readonly max: number
}

const isRange = (min: number, max: number) => Number.isFinite(min) && Number.isFinite(max) && min <= max

/** Extremes of the samples from..to (inclusive) of several columns; undefined when there are none. */
export function extremes(columns: readonly Float64Array[], from: number, to: number): Range | undefined {
  let [min, max] = [Infinity, -Infinity]
  for (const column of columns) {
    for (let i = Math.max(0, from); i <= to && i < column.length; i++) {
      const value = column[i] ?? NaN
      if (value < min) min = value
      if (value > max) max = value
    }
  }
  return isRange(min, max) ? { min, max } : undefined
}

export function union(a: Range | undefined, b: Range | undefined): Range | undefined {
  if (!a || !b) return a ?? b
  return { min: Math.min(a.min, b.min), max: Math.max(a.max, b.max) }
}

/** Room around the data. A flat signal stands in the middle of a range of `least`. */
export function padded(data: Range | undefined, least: number, share = 0.08): Range {
  const { min, max } = data ?? { min: 0, max: least }
  const span = Math.max(max - min, least)
  const middle = (min + max) / 2
  const half = span / 2 + span * share
  return { min: middle - half, max: middle + half }
}

export interface TensionLimits {
  readonly most: number
  readonly elastic: number
}

/** The traces must reach this share of the elastic limit for it to come into the picture of itself. */
const leastFill = 0.2

export function limitFits(data: Range | undefined, limits: TensionLimits): boolean {
  return data !== undefined && data.max >= limits.elastic * leastFill
}

/** Room for the names of peaks and limits above them. */
const headroom = 0.2

/** From zero up to the elastic limit, or close to the traces; what stays out is told by a label at the upper edge. */
export function tensionRange(data: Range | undefined, limits: TensionLimits | undefined, upToLimit: boolean): Range {
  const top = data && data.max > 0 ? data.max : (limits?.most ?? 1)
  const max = limits && upToLimit ? Math.max(top, limits.elastic) : top
  const min = Math.min(0, data?.min ?? 0)
  const height = Math.max(max - min, 1e-6)
  return { min: min < 0 ? min - height * 0.05 : 0, max: max + height * headroom }
}

/** Zero belongs to the picture unless the signal is but a ripple on a high level. */
export function speedRange(data: Range | undefined, least: number): Range {
  if (!data) return { min: 0, max: least * 10 }
  const ripple = data.max - data.min
  const level = Math.max(Math.abs(data.min), Math.abs(data.max))
  if (ripple < level * 0.2) return padded(data, Math.max(least, level * 0.02))
  const whole = { min: Math.min(0, data.min), max: Math.max(0, data.max) }
  return withFoot(padded(whole, least))
}

/** A range that only reaches below zero by its padding starts at zero. */
function withFoot(range: Range): Range {
  const height = range.max - range.min
  return range.min < 0 && -range.min < height * 0.08 ? { min: -height * 0.02, max: range.max } : range
}

/** Around the trace, and the stops where they are wanted in the picture. */
export function dancerRange(data: Range | undefined, stops: Range | undefined, least: number): Range {
  return padded(union(data, stops), least, 0.1)
}

/** Time: never empty, never beyond the run. */
export function timeRange(from: number, to: number, duration: number): Range {
  const whole = duration > 0 ? duration : 1
  const min = Math.min(Math.max(0, from), whole)
  const max = Math.min(Math.max(min, to), whole)
  return max - min > whole * 1e-6 ? { min, max } : { min: 0, max: whole }
}
