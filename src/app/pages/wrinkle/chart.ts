/** Geometry of the chart of critical misalignment against a knob: scales, paths, ticks. Knows no browser. */
import type { Curves } from '../../../wrinkle'

export interface Frame {
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
}

export interface Scale {
  readonly low: number
  readonly high: number
  readonly ratio: boolean
}

/** Place of a value, 0..1; held within. */
export function place({ low, high, ratio }: Scale, value: number): number {
  const share = ratio ? Math.log(Math.max(value, low / 10) / low) / Math.log(high / low) : (value - low) / (high - low)
  return Math.min(1.05, Math.max(-0.05, share))
}

/** Whole decades that hold every positive value, at least one. */
export function decades(values: Iterable<number>): Scale {
  let [low, high] = [Infinity, 0]
  for (const value of values) {
    if (!(value > 0) || !Number.isFinite(value)) continue
    low = Math.min(low, value)
    high = Math.max(high, value)
  }
  if (high === 0) return { low: 1e-4, high: 1e-1, ratio: true }
  const from = 10 ** Math.floor(Math.log10(low) + 1e-9)
  const to = 10 ** Math.ceil(Math.log10(high) - 1e-9)
  return { low: from, high: to > from ? to : 10 * from, ratio: true }
}

const round = (n: number) => Math.round(n * 10) / 10

/** A curve as the text of an SVG path; the pen lifts where there is nothing to draw (a critical misalignment of 0). */
export function pathOf(at: Float64Array, values: Float64Array, x: Scale, y: Scale, frame: Frame): string {
  let pen = 'M'
  let text = ''
  for (let i = 0; i < at.length; i++) {
    if (!(values[i] > 0)) {
      pen = 'M'
      continue
    }
    const px = frame.left + place(x, at[i]) * (frame.right - frame.left)
    const py = frame.bottom - place(y, values[i]) * (frame.bottom - frame.top)
    text += `${pen}${round(px)} ${round(py)}`
    pen = 'L'
  }
  return text
}

/** Where the strain limit is passed: the knob's figure and to which side lies too much; undefined where it is kept or passed throughout. */
export function strainEdge({ at, withinStrain }: Curves): { at: number; beyond: 'right' | 'left' } | undefined {
  for (let i = 1; i < at.length; i++) {
    if (withinStrain[i] === withinStrain[i - 1]) continue
    return { at: (at[i] + at[i - 1]) / 2, beyond: withinStrain[i] === 0 ? 'right' : 'left' }
  }
  return undefined
}

/** Round figures within a scale: decades with 2 and 5 between, or even steps. */
export function ticks({ low, high, ratio }: Scale, wanted: number): number[] {
  if (ratio) {
    const spans = Math.log10(high / low)
    const parts = spans > 2.2 ? [1] : [1, 2, 5]
    const first = Math.floor(Math.log10(low))
    const all = Array.from({ length: Math.ceil(spans) + 2 }, (_, k) => parts.map((p) => p * 10 ** (first + k))).flat()
    return all.filter((tick) => tick >= low * 0.999 && tick <= high * 1.001)
  }
  const rough = (high - low) / wanted
  const size = 10 ** Math.floor(Math.log10(rough))
  const step = [1, 2, 5, 10].map((m) => m * size).find((s) => s >= rough) ?? 10 * size
  const first = Math.ceil(low / step - 1e-9)
  return Array.from({ length: Math.floor(high / step + 1e-9) - first + 1 }, (_, k) => (first + k) * step)
}
