/**
 * The classical scheme, lap by lap: kept as a second, independent way to the same roll, of first order in the lap's thickness.
 *
 * Equations    laps of thickness h in r; under a new lap dP = F_w/(W r) at the radius beneath it; core by a ghost node
 *              r^2 dP'' + 3 r dP' - (E_t/E_r - 1) dP = 0 by central differences, E_r at the pressure before the lap
 * Source       Hakiel 1987, TAPPI J. 70(5) 113-117
 */
import { modulusAt } from '../film/stack'
import type { Winding } from './march'

/** Pressure (Pa) at the boundaries of `laps` equal laps, core first. */
export function lapByLap(winding: Winding, laps: number): Float64Array {
  const { coreRadius, outerRadius } = winding
  const h = (outerRadius - coreRadius) / laps
  const pressure = new Float64Array(laps + 1)
  const ratio = new Float64Array(laps + 1)
  for (let lap = 0; lap < laps; lap++) {
    const under = coreRadius + lap * h
    for (let i = 0; i < lap; i++) ratio[i] = ratioAt(winding, h, i, pressure[i], ratio[i - 1] ?? 0)
    let change = (winding.woundOn(under, under + h) * h) / under
    pressure[lap] += change
    for (let i = lap - 1; i >= 0; i--) {
      change *= ratio[i]
      pressure[i] += change
    }
  }
  return pressure
}

/** dP_i over dP_(i+1), with that of the node within. */
function ratioAt(
  { coreRadius, along, through, core }: Winding,
  h: number,
  i: number,
  p: number,
  inner: number,
): number {
  const r = coreRadius + i * h
  const [curve, slope] = [(r * r) / (h * h), (3 * r) / (2 * h)]
  const middle = 2 * curve + along / modulusAt(through, p) - 1
  if (i > 0) return (curve + slope) / (middle - (curve - slope) * inner)
  return (2 * curve) / (middle + (curve - slope) * 2 * h * ((core - 1) / r))
}
