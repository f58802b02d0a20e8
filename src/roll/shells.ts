/**
 * The shells that a roll is computed in: how many, and where they lie.
 *
 * Variables    x = ln(r/r0)
 * Parameters   length over which the softest lap lets pressure through sqrt(E_r(0)/E_t), in x; rings c +- w/2 in x
 * Equations    shells even in z, dz/dx = 1 + sum of A/(1 + ((x - c)/w)^2), A so that a ring has its number of shells:
 *              even in x where there is no ring, and smoothly closer about one, so that the scheme keeps its order
 * Neglected    detail inside a ring below its share of shells
 * Source       own choice; mapped grids, textbook numerics
 */
import { modulusAt } from '../film/stack'
import type { RingPlace, Winding } from './march'

/** Length over which the softest lap lets pressure through, in shells: with so many the extrapolated error stays under 0.1 %. */
const SHELLS_PER_LENGTH = 1 / 0.15
const FEWEST = 480
const MOST = 4800
/** Over a ring of a simulated run. */
const SHELLS_PER_RING = 48

/** A ring with the factor by which shells lie closer in its middle, less 1. */
interface Graded extends RingPlace {
  readonly closer: number
}

const grownOf = ({ coreRadius, outerRadius }: Winding): number => Math.log(outerRadius / coreRadius)

/** Shells that the stack asks for where there is no ring. */
function plainShells(winding: Winding): number {
  const steep = Math.sqrt(winding.along / modulusAt(winding.through, 0))
  return Math.max(FEWEST, steep * grownOf(winding) * SHELLS_PER_LENGTH)
}

function gradedOf(winding: Winding): Graded[] {
  const usual = grownOf(winding) / Math.min(MOST, plainShells(winding))
  return (winding.rings ?? []).map((ring) => ({
    ...ring,
    closer: Math.max(0, (usual * SHELLS_PER_RING) / ring.width - 1),
  }))
}

const risen = (rings: readonly Graded[], x: number): number =>
  rings.reduce(
    (z, { middle, width, closer }) =>
      z + closer * width * (Math.atan((x - middle) / width) + Math.atan(middle / width)),
    x,
  )

const density = (rings: readonly Graded[], x: number): number =>
  rings.reduce((sum, { middle, width, closer }) => sum + closer / (1 + ((x - middle) / width) ** 2), 1)

/** How many shells a roll is computed with; a `share` of them where a coarser roll will do. An even number. */
export function shellsFor(winding: Winding, share = 1): number {
  const grown = grownOf(winding)
  const plain = Math.max(FEWEST / 2, share * Math.min(MOST, plainShells(winding)))
  return 2 * Math.ceil((plain * risen(gradedOf(winding), grown)) / grown / 2)
}

/** Whether the stack asks for more shells than a roll is ever given: the pressures are then a little high. */
export const fewerThanWanted = (winding: Winding): boolean => plainShells(winding) > MOST

/** x of the shells' edges (even places) and middles (odd ones), from the core to half a shell beyond the outer edge. */
export function placesOf(winding: Winding, shells: number): Float64Array {
  const grown = grownOf(winding)
  const rings = gradedOf(winding)
  const step = risen(rings, grown) / (2 * shells)
  const places = new Float64Array(2 * shells + 2)
  for (let j = 1; j < places.length; j++) {
    const even = places[j - 1] + step / density(rings, places[j - 1])
    places[j] = rings.length === 0 ? step * j : placeAt(rings, j * step, places[j - 1], even)
  }
  places[2 * shells] = grown
  return places
}

const EXACT = 1e-14
const MOST_STEPS = 60

/** x at which z is reached, from above `low`: Newton's steps, halved back where one would leave what is known. */
function placeAt(rings: readonly Graded[], z: number, low: number, guess: number): number {
  let [from, to, x] = [low, Infinity, guess]
  for (let k = 0; k < MOST_STEPS; k++) {
    const miss = risen(rings, x) - z
    if (Math.abs(miss) < EXACT) break
    if (miss > 0) to = x
    else from = x
    const next = x - miss / density(rings, x)
    x = next > from && next < to ? next : to === Infinity ? 2 * x - from : (from + to) / 2
  }
  return x
}
