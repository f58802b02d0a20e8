/**
 * Pressure and hoop stress in the finished roll: two marches of different fineness, extrapolated to no shell thickness at all.
 *
 * Equations    P = (4 P(2 n) - P(n))/3 on the shells of the coarse march; between them the fine march with its correction
 *              hoop stress of the stack T = -P - r P' = -d(r P)/dr (force balance), by central differences; sigma_w at the outer edge
 * Source       Richardson's extrapolation of a second-order scheme; force balance of a ring
 */
import { march, type Softened, type Winding } from './march'
import { placesOf, shellsFor } from './shells'

export interface Stress {
  /** m, from core to outer edge */
  readonly radius: Float64Array
  /** Pa, between the laps */
  readonly pressure: Float64Array
  /** Pa, force along the film over width and lap pitch; compression negative */
  readonly hoop: Float64Array
}

export interface Stage {
  /** m, outer radius of the roll at this stage */
  readonly outerRadius: number
  /** Pa, on the first radii of the finished roll */
  readonly pressure: Float64Array
}

export interface Wound extends Stress {
  readonly stages: readonly Stage[]
  readonly shells: number
}

/** Winds a roll; `stages` of its growth are kept, evenly spread over the build-up. */
export function wind(winding: Winding, shells = shellsFor(winding), stages = 0): Wound | Softened {
  const half = shells / 2
  const places = placesOf(winding, shells)
  const radius = radii(winding, places)
  const keep = stageSteps(radius, stages)
  const coarse = march(winding, half, keep, placesOf(winding, half))
  const fine = march(
    winding,
    shells,
    keep.map((k) => 2 * k),
    places,
  )
  if ('softened' in coarse) return coarse
  if ('softened' in fine) return fine
  const pressure = extrapolated(coarse.pressure, fine.pressure)
  const hoop = hoopOf(radius, pressure, winding.woundOn(radius[shells - 1], radius[shells]))
  const kept = keep.map((k, j): Stage => ({
    outerRadius: radius[2 * k],
    pressure: extrapolated(coarse.stages[j], fine.stages[j]),
  }))
  return { radius, pressure, hoop, stages: kept, shells }
}

function radii({ coreRadius }: Winding, places: Float64Array): Float64Array {
  return Float64Array.from({ length: places.length / 2 }, (_, i) => coreRadius * Math.exp(places[2 * i]))
}

/** Steps of the coarse march nearest to even shares of the build-up, each once. */
function stageSteps(radius: Float64Array, stages: number): number[] {
  const last = radius.length - 1
  let k = 1
  const steps = Array.from({ length: stages }, (_, j) => {
    const wanted = radius[0] + ((radius[last] - radius[0]) * (j + 1)) / stages
    while (2 * k < last && radius[2 * k + 1] < wanted) k++
    return k
  })
  return [...new Set(steps)]
}

/** On the fine shells; the odd ones, which the coarse march lacks, take the mean correction of their neighbours. */
function extrapolated(coarse: Float64Array, fine: Float64Array): Float64Array {
  const result = fine.slice()
  for (let i = 0; i < coarse.length; i++) result[2 * i] += (fine[2 * i] - coarse[i]) / 3
  for (let i = 1; i < fine.length - 1; i += 2) {
    const correction = (result[i - 1] - fine[i - 1] + result[i + 1] - fine[i + 1]) / 2
    result[i] = Math.max(0, fine[i] + correction)
  }
  return result
}

/** -d(r P)/dr on the nodes; `outer` (Pa) at the last one, where a lap has just been wound on. */
export function hoopOf(radius: Float64Array, pressure: Float64Array, outer: number): Float64Array {
  const last = radius.length - 1
  const hoop = new Float64Array(last + 1)
  const product = (i: number) => radius[i] * pressure[i]
  for (let i = 1; i < last; i++) hoop[i] = -slopeAt(i, radius, product, i)
  hoop[0] = -slopeAt(1, radius, product, 0)
  hoop[last] = outer
  return hoop
}

/** Slope at node `at` of the parabola through nodes `middle - 1` to `middle + 1`. */
function slopeAt(middle: number, x: Float64Array, y: (i: number) => number, at: number): number {
  const [before, after] = [x[middle] - x[middle - 1], x[middle + 1] - x[middle]]
  const [rise, next] = [(y(middle) - y(middle - 1)) / before, (y(middle + 1) - y(middle)) / after]
  const curve = (next - rise) / (before + after)
  return rise + curve * (2 * x[at] - x[middle] - x[middle - 1])
}
