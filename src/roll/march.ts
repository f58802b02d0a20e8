/**
 * Pressure in a roll while it is wound, lap by lap in the limit of thin laps.
 *
 * Variables    x = ln(r/r0), outer edge xi = ln(s/r0), pressure P(x; xi) (Pa), u = r dP/(ds) (Pa): each lap's share times radius
 * Parameters   E_t of the stack (Pa), E_r(P) (Pa), m = E_t/E_c + nu, wound-on stress sigma_w(xi) (Pa, force over width and lap pitch)
 * Equations    u'' = E_t/E_r(P) u,  u = sigma_w at the outer edge,  u' = m u at the core,  dP/dxi = exp(xi - x) u
 *              these are r^2 dP'' + 3 r dP' - (E_t/E_r - 1) dP = 0, dP(s) = F_w/(W s), dP'(r0) = (E_t/E_c - 1 + nu) dP/r0 for u = r dP
 *              scheme: central differences in x, Heun in xi with the predicted slope kept for the next step: second order in 1/N
 *              on shells even in x or smoothly graded (shells.ts)
 * Neglected    gravity, slip between laps, spiral of the lap, pressure across the width
 * Source       Hakiel 1987, TAPPI J. 70(5) 113-117, nonlinear orthotropic model; limit h -> 0 and scheme own derivation
 */
import type { StackModulus } from '../film/stack'
import { placesOf } from './shells'

/** A ring that differs from its neighbours: middle and width in ln(r/r0). */
export interface RingPlace {
  readonly middle: number
  readonly width: number
}

export interface Winding {
  /** m */
  readonly coreRadius: number
  readonly outerRadius: number
  /** Pa, of the stack along the film */
  readonly along: number
  readonly through: StackModulus
  /** E_t/E_c + nu */
  readonly core: number
  /** Pa, mean wound-on stress of the laps between two radii */
  readonly woundOn: (from: number, to: number) => number
  /** rings that differ from their neighbours: shells lie closer about them */
  readonly rings?: readonly RingPlace[]
}

export interface March {
  readonly pressure: Float64Array
  /** pressures at the steps asked for, each as long as the roll had shells then, plus one */
  readonly stages: readonly Float64Array[]
}

/** Pressure (Pa) at which the stack had no stiffness left. */
export interface Softened {
  readonly softened: number
}

/** Contributions below this share of the outermost are left out: with them go the laps deep inside that feel nothing any more. */
const NEGLIGIBLE = 1e-9

/** Winds the roll in `n` shells; keeps the pressures after each step of `keep` (rising). `places`: of the shells, as `placesOf` tells. */
export function march(
  winding: Winding,
  n: number,
  keep: readonly number[] = [],
  places = placesOf(winding, n),
): March | Softened {
  if (!(winding.through[0] > 0)) return { softened: 0 }
  const grid = new Grid(winding, n, places)
  const stages: Float64Array[] = []
  let next = 0
  for (let step = 0; step <= n; step++) {
    if (step > 0) grid.advance(step)
    else grid.slopes(0)
    if (grid.softened !== undefined) return { softened: grid.softened }
    for (; keep[next] === step; next++) stages.push(grid.pressure.slice(0, step + 1))
  }
  return { pressure: grid.pressure, stages }
}

class Grid {
  readonly pressure: Float64Array
  softened: number | undefined
  private readonly before: Float64Array
  private readonly ratio: Float64Array
  private slope: Float64Array
  private nextSlope: Float64Array
  /** thickness of the shell inside node i and by how much it grows the radius */
  private readonly dx: Float64Array
  private readonly growth: Float64Array
  /** of the row of node i: what its inner neighbour weighs beside the outer one, and E_t times thickness squared */
  private readonly weight: Float64Array
  private readonly stiffness: Float64Array
  /** r0 e^x of edges and middles of the shells */
  private readonly radius: Float64Array
  /** shells below this one feel nothing of what is wound on now */
  private low = 0

  constructor(
    private readonly winding: Winding,
    n: number,
    places: Float64Array,
  ) {
    const [pressure, before, ratio, slope, nextSlope] = Array.from({ length: 5 }, () => new Float64Array(n + 1))
    this.pressure = pressure
    this.before = before
    this.ratio = ratio
    this.slope = slope
    this.nextSlope = nextSlope
    this.dx = Float64Array.from({ length: n + 1 }, (_, i) => (i === 0 ? 0 : places[2 * i] - places[2 * i - 2]))
    this.growth = this.dx.map(Math.exp)
    const after = (i: number) => this.dx[Math.min(i + 1, n)]
    this.weight = this.dx.map((before, i) => (i === 0 ? 0 : after(i) / before))
    this.stiffness = this.dx.map(
      (before, i) => winding.along * after(i) * (i === 0 ? after(0) : (after(i) + before) / 2),
    )
    this.radius = places.map((x) => winding.coreRadius * Math.exp(x))
  }

  /** From `step - 1` shells to `step`. */
  advance(step: number): void {
    const { pressure, before, slope, low } = this
    const dx = this.dx[step]
    for (let i = low; i < step; i++) {
      before[i] = pressure[i]
      pressure[i] += dx * slope[i]
    }
    this.slopes(step)
    const next = this.slope
    for (let i = low; i < step; i++) pressure[i] = before[i] + (dx / 2) * (slope[i] + next[i])
  }

  /** Writes dP/dxi with `step` shells on the core into `slope`; the slopes before are kept in `nextSlope` until the next call. */
  slopes(step: number): void {
    const slope = this.nextSlope
    this.nextSlope = this.slope
    this.slope = slope
    this.sweepOut(step)
    const { ratio, growth, radius, winding } = this
    const top = winding.woundOn(radius[Math.max(0, 2 * step - 1)], radius[2 * step + 1])
    slope[step] = top
    let value = top
    for (let i = step - 1; i >= this.low; i--) {
      value *= ratio[i] * growth[i + 1]
      slope[i] = value
    }
    const least = NEGLIGIBLE * top
    while (this.low < step - 1 && slope[this.low] < least) this.low++
  }

  /** u_i = ratio_i u_(i+1), from the core (or where nothing changes any more) outward. */
  private sweepOut(step: number): void {
    const { pressure, ratio, dx, weight, stiffness, low } = this
    const { through, core } = this.winding
    const [c0, c1, c2, c3] = through
    let inner = low === 0 ? 0 : ratio[low - 1]
    for (let i = low; i < step; i++) {
      const p = pressure[i]
      const e = c0 + p * (c1 + p * (c2 + p * c3))
      if (!(e > 0)) {
        this.softened = p
        return
      }
      inner =
        i === 0
          ? (2 * e) / ((2 + 2 * dx[1] * core) * e + stiffness[0])
          : e / ((1 + weight[i] * (1 - inner)) * e + stiffness[i])
      ratio[i] = inner
    }
  }
}
