/** The cross-section of a roll as rings of one step of a scale each. Knows no screen. */
import type { RollResult } from '../../../roll'
import { hoopOf } from '../../../roll/stress'

export type Shown = 'pressure' | 'hoop stress'

export interface SectionRing {
  /** m */
  readonly from: number
  readonly to: number
  /** step of the scale, 0 .. STEPS - 1 */
  readonly step: number
}

export const STEPS = 5

/** One picture of the build-up: a roll on the way, the full one, or the full one later. */
export interface Moment {
  readonly name: 'winding' | 'full' | 'later'
  readonly radius: Float64Array
  readonly values: Float64Array
}

/** All moments in order, the growing roll first. */
export function momentsOf(result: RollResult, shown: Shown): Moment[] {
  const { wound, later, tension, input } = result
  const lap = input.film.width * input.film.thickness * input.film.fillFactor
  const growing = wound.stages.map(({ pressure }): Moment => {
    const radius = wound.radius.subarray(0, pressure.length)
    const outer = (tension[pressure.length - 1] ?? 0) / lap
    return { name: 'winding', radius, values: shown === 'pressure' ? pressure : hoopOf(radius, pressure, outer) }
  })
  const pick = (state: { pressure: Float64Array; hoop: Float64Array }) =>
    shown === 'pressure' ? state.pressure : state.hoop
  const full: Moment = { name: 'full', radius: wound.radius, values: pick(wound) }
  // the last stage is the full roll
  return [
    ...growing.slice(0, -1),
    full,
    ...(later === undefined ? [] : [{ name: 'later', radius: later.radius, values: pick(later) } as const]),
  ]
}

export interface Scale {
  readonly least: number
  readonly most: number
}

/** One scale for all moments, so that colours can be compared while the roll grows. */
export function scaleOf(moments: readonly Moment[]): Scale {
  let [least, most] = [0, 0]
  for (const { values } of moments) {
    for (const value of values) {
      least = Math.min(least, value)
      most = Math.max(most, value)
    }
  }
  return { least, most: most > least ? most : least + 1 }
}

export function stepOf(value: number, { least, most }: Scale): number {
  return Math.min(STEPS - 1, Math.max(0, Math.floor((STEPS * (value - least)) / (most - least))))
}

/** Neighbouring shells of one step become one ring. */
export function ringsOf({ radius, values }: Moment, scale: Scale): SectionRing[] {
  const rings: { from: number; to: number; step: number }[] = []
  for (let i = 0; i + 1 < radius.length; i++) {
    const step = stepOf(((values[i] ?? 0) + (values[i + 1] ?? 0)) / 2, scale)
    const [from, to] = [radius[i] ?? 0, radius[i + 1] ?? 0]
    const last = rings[rings.length - 1]
    if (last?.step === step) last.to = to
    else rings.push({ from, to, step })
  }
  return rings
}
