/**
 * What a finished roll does later: shrinkage, warming, air leaving.
 *
 * Variables    x = ln(r/r0), change of pressure dP (Pa), u = r dP, gap e_gap >= 0 where laps no longer touch
 * Parameters   free strains of the film along e_t and through e_r(r), of the core e_c; E_t, E_r(P), m = E_t/E_c + nu as in the winding
 * Equations    u'' - E_t/E_r(P) u = r E_t (e_t - e_r - e_gap) (e_t the same everywhere), u = 0 outside, u' = m u + r0 E_t (e_t - e_c) at
 *              the core; P >= 0, e_gap >= 0, and one of the two is 0 everywhere
 *              in steps, E_r at the pressure in the middle of each; which laps touch is found by exchanging rows until none is wrong
 * Neglected    different loading and unloading curve of the stack, relaxation, how long it takes
 * Source       own derivation from equilibrium and compatibility; confirmed by a displacement formulation (tests)
 */
import { modulusAt } from '../film/stack'
import type { Winding } from './march'
import { hoopOf, type Stress } from './stress'

export interface FreeStrains {
  readonly along: number
  /** at every node */
  readonly through: Float64Array
  readonly core: number
}

export interface Changed extends Stress {
  /** whether laps (or the core and the first lap) have come apart at a node */
  readonly apart: readonly boolean[]
}

const STEPS = 40
const MOST_EXCHANGES = 200

/** The roll after its film and core have taken on free strains. */
export function change(winding: Winding, before: Stress, strains: FreeStrains, steps = STEPS): Changed {
  const { radius } = before
  const pressure = before.pressure.slice()
  const gap = new Float64Array(radius.length)
  const frame = new Frame(winding, radius, strains, steps)
  for (let step = 0; step < steps; step++) {
    const middle = new Float64Array(radius.length)
    const half = frame.step(pressure, gap, pressure)
    for (let i = 0; i < radius.length; i++) middle[i] = pressure[i] + half.pressure[i] / 2
    const { pressure: rise, gap: opening } = frame.step(pressure, gap, middle)
    for (let i = 0; i < radius.length; i++) {
      pressure[i] = Math.max(0, pressure[i] + rise[i])
      gap[i] = Math.max(0, gap[i] + opening[i])
    }
  }
  const last = radius.length - 1
  const rise = pressure.map((p, i) => p - before.pressure[i])
  // the outer edge keeps its lap: the change there follows from the change beside it
  const hoop = hoopOf(radius, rise, 0)
  hoop[last] = 2 * hoop[last - 1] - hoop[last - 2]
  for (let i = 0; i <= last; i++) hoop[i] += before.hoop[i]
  const apart = Array.from(gap, (g, i) => i < last && g > 0)
  // a lap that lies loose carries nothing along either
  if (apart[last - 1]) hoop[last] = 0
  return { radius, pressure, hoop, apart }
}

class Frame {
  /** thickness in ln r of the shell inside node i */
  private readonly dx: Float64Array
  private readonly upper: Float64Array
  private readonly value: Float64Array

  constructor(
    private readonly winding: Winding,
    private readonly radius: Float64Array,
    private readonly strains: FreeStrains,
    private readonly steps: number,
  ) {
    this.dx = radius.map((r, i) => (i === 0 ? 0 : Math.log(r / radius[i - 1])))
    this.upper = new Float64Array(radius.length)
    this.value = new Float64Array(radius.length)
  }

  /** Changes of pressure and gap in one step from `pressure` and `gap`, with the stack as stiff as at the pressure `at`. */
  step(pressure: Float64Array, gap: Float64Array, at: Float64Array): { pressure: Float64Array; gap: Float64Array } {
    const last = this.radius.length - 1
    const touching = Array.from(gap, (g) => !(g > 0))
    let result = this.solve(pressure, gap, at, touching)
    for (let k = 0; k < MOST_EXCHANGES; k++) {
      let exchanged = false
      for (let i = 0; i < last; i++) {
        const wrong = touching[i] ? pressure[i] + result.pressure[i] < 0 : gap[i] + result.gap[i] < 0
        if (wrong) touching[i] = !touching[i]
        exchanged ||= wrong
      }
      if (!exchanged) break
      result = this.solve(pressure, gap, at, touching)
    }
    return result
  }

  /** Tridiagonal system from core to edge; where laps are apart the pressure goes to 0 and the gap follows from the row left over. */
  private solve(pressure: Float64Array, gap: Float64Array, at: Float64Array, touching: readonly boolean[]) {
    const { radius, upper, value } = this
    const last = radius.length - 1
    for (let i = 0; i < last; i++) {
      if (!touching[i]) {
        upper[i] = 0
        value[i] = -radius[i] * pressure[i]
        continue
      }
      const { inner, diagonal, outer, right } = this.row(i, at[i], -gap[i])
      const pivot = i === 0 ? diagonal : diagonal - inner * upper[i - 1]
      upper[i] = outer / pivot
      value[i] = (right - (i === 0 ? 0 : inner * value[i - 1])) / pivot
    }
    value[last] = 0
    for (let i = last - 1; i >= 0; i--) value[i] -= upper[i] * value[i + 1]
    const opening = new Float64Array(last + 1)
    for (let i = 0; i < last; i++) {
      if (touching[i]) {
        opening[i] = -gap[i]
        continue
      }
      const { inner, diagonal, outer, right, perGap } = this.row(i, at[i], 0)
      const before = i === 0 ? 0 : inner * value[i - 1]
      opening[i] = (before + diagonal * value[i] + outer * value[i + 1] - right) / perGap
    }
    return { pressure: value.map((u, i) => u / radius[i]), gap: opening }
  }

  /** Row i: inner u_(i-1) + diagonal u_i + outer u_(i+1) = right, with `opening` of the gap taken over to the right. */
  private row(i: number, p: number, opening: number) {
    const { radius, strains, winding, steps } = this
    const { along, through, core } = winding
    const after = this.dx[i + 1]
    const before = i === 0 ? after : this.dx[i]
    // times after (before + after)/2: on even shells the plain second difference
    const area = (after * (before + after)) / 2
    const perGap = -area * radius[i] * along
    const stiff = (area * along) / modulusAt(through, p)
    const free = (strains.along - strains.through[i]) / steps
    const right = -perGap * (free - opening)
    const inner = after / before
    if (i > 0) return { inner, diagonal: -1 - inner - stiff, outer: 1, right, perGap }
    const atCore = 2 * after * radius[0] * along * ((strains.along - strains.core) / steps)
    return { inner: 0, diagonal: -2 - stiff - 2 * after * core, outer: 2, right: right + atCore, perGap }
  }
}
