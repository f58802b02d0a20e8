/** Figures against a figure, in shown units, on even or logarithmic axes: ranges, readings and paths. Knows no screen. */
import type { Range } from './ranges'

export interface GraphAxis {
  readonly label: string
  readonly unit: string
  readonly log: boolean
  /** A range wanted whatever the curves do. */
  readonly range?: Range
}

export interface Curve {
  readonly name: string
  /** rising */
  readonly xs: ArrayLike<number>
  /** NaN lifts the pen */
  readonly ys: ArrayLike<number>
  /** how it is stroked; two curves of a graph have different ones */
  readonly look: Look
}

export const looks = ['first', 'second', 'third', 'fourth', 'fifth', 'old'] as const
export type Look = (typeof looks)[number]

/** Something that stands at one place of an axis, by name. */
export interface Rule {
  readonly at: number
  readonly name: string
  readonly severe?: boolean
}

export interface Tick {
  readonly at: number
  readonly text: string
}

/** Decades shown below the highest value of a logarithmic axis: what is smaller matters to nobody. */
const mostDecades = 5

const usable = (value: number, log: boolean) => Number.isFinite(value) && (!log || value > 0)

/** What the values reach over; of a logarithmic axis whole decades are not asked for, only room. */
export function rangeOf(values: Iterable<number>, log: boolean, wanted?: Range): Range {
  let [min, max] = [wanted?.min ?? Infinity, wanted?.max ?? -Infinity]
  for (const value of values) {
    if (!usable(value, log)) continue
    min = Math.min(min, value)
    max = Math.max(max, value)
  }
  if (!(min <= max)) return log ? { min: 1, max: 10 } : { min: 0, max: 1 }
  if (log) min = Math.max(min, max / 10 ** mostDecades)
  if (min === max) return log ? { min: min / 2, max: max * 2 } : { min: min - 1, max: max + 1 }
  return { min, max }
}

/** Room above and below for curves that would touch the frame. */
export function roomy({ min, max }: Range, log: boolean): Range {
  if (log) {
    const room = (max / min) ** 0.06
    return { min: min / room, max: max * room }
  }
  const room = (max - min) * 0.06
  return { min: min === 0 ? 0 : min - room, max: max + room }
}

export function* valuesOf(curves: readonly Curve[], axis: 'xs' | 'ys'): Generator<number> {
  for (const curve of curves) for (let i = 0; i < curve[axis].length; i++) yield curve[axis][i] ?? NaN
}

/** 0 at the lower end of the range, 1 at the upper. */
export function shareAt(value: number, { min, max }: Range, log: boolean): number {
  return log ? Math.log(value / min) / Math.log(max / min) : (value - min) / (max - min)
}

export function valueAt(share: number, { min, max }: Range, log: boolean): number {
  return log ? min * (max / min) ** share : min + share * (max - min)
}

export function ticksOf(range: Range, log: boolean, most: number): Tick[] {
  return log ? logTicks(range, most) : evenTicks(range, most)
}

function evenTicks({ min, max }: Range, most: number): Tick[] {
  const least = (max - min) / most
  const power = 10 ** Math.floor(Math.log10(least))
  const step = power * ([1, 2, 5, 10].find((factor) => factor * power >= least * (1 - 1e-9)) ?? 10)
  const first = Math.ceil(min / step - 1e-9)
  const count = Math.floor(max / step + 1e-9) - first + 1
  const places = Math.max(0, -Math.floor(Math.log10(step) + 1e-9))
  return Array.from({ length: count }, (_, i) => {
    const at = (first + i) * step
    return { at, text: at.toFixed(places).replace('-', '−') }
  })
}

function logTicks({ min, max }: Range, most: number): Tick[] {
  const decades = Math.log10(max / min)
  const factors = decades * 3 <= most ? [1, 2, 5] : decades * 2 <= most ? [1, 3] : [1]
  const every = factors.length > 1 ? 1 : Math.max(1, Math.ceil(decades / most))
  const ticks: Tick[] = []
  for (let power = Math.floor(Math.log10(min)); power <= Math.log10(max); power++) {
    if (power % every !== 0) continue
    for (const factor of factors) {
      const at = Number(`${factor}e${power}`)
      if (at >= min * (1 - 1e-9) && at <= max * (1 + 1e-9)) ticks.push({ at, text: digits(at, 2) })
    }
  }
  // Less than a decade may hold none or one of them.
  return ticks.length < 2 ? evenTicks({ min, max }, most) : ticks
}

/** A figure to so many digits, with a true minus sign. */
export function digits(value: number, count = 3): string {
  if (!Number.isFinite(value)) return '—'
  const size = Math.abs(value)
  const rounded = Number(value.toPrecision(count))
  const text = size !== 0 && (size < 1e-3 || size >= 1e6) ? rounded.toExponential() : String(rounded)
  return text.replace('-', '−')
}

export interface Frame {
  readonly width: number
  readonly height: number
  readonly x: Range
  readonly y: Range
  readonly logX: boolean
  readonly logY: boolean
}

/** The curve as the path of a pen that lifts where there is no value. */
export function pathOf({ xs, ys }: Curve, { width, height, x, y, logX, logY }: Frame): string {
  let path = ''
  let down = false
  for (let i = 0; i < xs.length; i++) {
    const [px, py] = [xs[i] ?? NaN, ys[i] ?? NaN]
    if (!usable(px, logX) || !Number.isFinite(py)) {
      down = false
      continue
    }
    // Far outside is as good as at the edge, and short to write. A logarithm of nothing lies below everything.
    const up = logY && py <= 0 ? -1 : Math.min(2, Math.max(-1, shareAt(py, y, logY)))
    path += `${down ? 'L' : 'M'}${(shareAt(px, x, logX) * width).toFixed(1)} ${((1 - up) * height).toFixed(1)}`
    down = true
  }
  return path
}

/** Value of a curve at x, between its points on a straight line; NaN outside. */
export function readAt({ xs, ys }: Curve, x: number): number {
  let [low, high] = [0, xs.length - 1]
  if (high < 0 || !(x >= (xs[0] ?? NaN)) || !(x <= (xs[high] ?? NaN))) return NaN
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if ((xs[middle] ?? NaN) <= x) low = middle
    else high = middle
  }
  const [x0, x1, y0, y1] = [xs[low] ?? NaN, xs[high] ?? NaN, ys[low] ?? NaN, ys[high] ?? NaN]
  return x1 === x0 ? y1 : y0 + ((y1 - y0) * (x - x0)) / (x1 - x0)
}

export interface Extremum {
  readonly x: number
  readonly y: number
}

/** Where a curve is highest and lowest; undefined for one without a value. */
export function extremesOf({ xs, ys }: Curve): { readonly least: Extremum; readonly most: Extremum } | undefined {
  let [least, most]: [Extremum | undefined, Extremum | undefined] = [undefined, undefined]
  for (let i = 0; i < xs.length; i++) {
    const point = { x: xs[i] ?? NaN, y: ys[i] ?? NaN }
    if (!Number.isFinite(point.y)) continue
    if (!least || point.y < least.y) least = point
    if (!most || point.y > most.y) most = point
  }
  return least && most ? { least, most } : undefined
}
