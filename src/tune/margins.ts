/**
 * Margins of a loop from its gain.
 *
 * Equations    phase margin: 180 deg + angle of L where |L| = 1, the worst of all crossings; gain margin: 1/|L| where L is real and
 *              negative, the one nearest to 1 on either side; of a program L is real at half its sampling rate too, z = -1; distance: least |1 + L|; delay margin: phase margin/w
 * Source       Nyquist and Bode, textbook
 */
import type { Complex } from './complex'

export interface Crossing {
  /** rad/s */
  readonly w: number
  /** phase crossing of |L| = 1: rad; gain crossing of the negative real axis: factor by which the gain may change */
  readonly value: number
}

export interface LoopMargins {
  /** where |L| = 1, with the phase margin there, rad */
  readonly phase: readonly Crossing[]
  /** where L is real and negative, with the factor that would bring it to -1 */
  readonly gain: readonly Crossing[]
  /** worst phase margin, rad; null where |L| never passes 1 */
  readonly phaseMargin: Crossing | null
  /** factor by which the gain may rise; null where nothing limits it */
  readonly gainMargin: Crossing | null
  /** factor to which the gain may fall; null where nothing limits it */
  readonly leastGain: Crossing | null
  /** s of further delay that would bring it to swing; null without a crossing */
  readonly delayMargin: number | null
  /** least |1 + L|, and where */
  readonly distance: Crossing
}

interface Sample {
  readonly w: number
  readonly gain: Complex
}

/**
 * Margins of a loop sampled at rising frequencies; `at` gives its gain between them. `half`: half the sampling rate of a program (rad/s),
 * where its gain is real without changing sides; the frequencies end before it.
 */
export function marginsOf(points: readonly Sample[], at: (w: number) => Complex, half?: number): LoopMargins {
  const phase: Crossing[] = []
  const gain: Crossing[] = []
  for (let k = 1; k < points.length; k++) {
    const [one, two] = [points[k - 1], points[k]]
    if (one.gain.size > 1 !== two.gain.size > 1) {
      const w = crossing(one.w, two.w, (x) => Math.log(at(x).size))
      phase.push({ w, value: aboveTurn(at(w)) })
    }
    if (one.gain.im > 0 === two.gain.im > 0) continue
    const w = crossing(one.w, two.w, (x) => at(x).im)
    const there = at(w)
    if (there.re < 0) gain.push({ w, value: 1 / there.size })
  }
  const last = half === undefined ? undefined : at(half)
  if (half !== undefined && last !== undefined && last.re < 0) gain.push({ w: half, value: 1 / last.size })
  const delays = phase.map(({ w, value }) => (value >= 0 ? value : value + 2 * Math.PI) / w)
  return {
    ...{ phase, gain },
    phaseMargin: least(phase, ({ value }) => Math.abs(value)),
    gainMargin: least(
      gain.filter(({ value }) => value >= 1),
      ({ value }) => value,
    ),
    leastGain: least(
      gain.filter(({ value }) => value < 1),
      ({ value }) => -value,
    ),
    delayMargin: delays.length === 0 ? null : Math.min(...delays),
    distance: nearest(points, at),
  }
}

/** 180 deg + angle, rad, in -pi..pi: what the phase may still fall before L = -1. */
function aboveTurn(value: Complex): number {
  const turned = value.angle + Math.PI
  return turned > Math.PI ? turned - 2 * Math.PI : turned
}

function least<T>(list: readonly T[], size: (one: T) => number): T | null {
  return list.reduce<T | null>((a, b) => (a === null || size(b) < size(a) ? b : a), null)
}

/** Where `f` passes 0 between two frequencies, by halving in their logarithm. */
function crossing(low: number, high: number, f: (w: number) => number): number {
  let [from, to] = [low, high]
  const rises = f(to) > 0
  for (let k = 0; k < 60 && to / from > 1 + 1e-14; k++) {
    const middle = Math.sqrt(from * to)
    if (f(middle) > 0 === rises) to = middle
    else from = middle
  }
  return Math.sqrt(from * to)
}

const GOLDEN = (Math.sqrt(5) - 1) / 2

/** Least distance of L from -1: the nearest sample, then a golden section between its neighbours. */
function nearest(points: readonly Sample[], at: (w: number) => Complex): Crossing {
  const distance = (w: number) => at(w).plus(1).size
  let best = 0
  points.forEach(({ gain }, k) => {
    if (gain.plus(1).size < points[best].gain.plus(1).size) best = k
  })
  let low = Math.log(points[Math.max(0, best - 1)].w)
  let high = Math.log(points[Math.min(points.length - 1, best + 1)].w)
  for (let k = 0; k < 40; k++) {
    const [a, b] = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)]
    if (distance(Math.exp(a)) < distance(Math.exp(b))) high = b
    else low = a
  }
  const w = Math.exp((low + high) / 2)
  return { w, value: distance(w) }
}
