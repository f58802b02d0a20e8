/**
 * Air between the laps of a roll, at the pressure that they press it to.
 *
 * Variables    air layer h (m), pressure between the laps P (Pa above atmosphere)
 * Parameters   atmosphere p0 (Pa)
 * Equations    h (p0 + P) stays; the layer carried in and the friction above it are those of `film/air.ts`
 * Neglected    warming of the air; its escape past the edges and along the spiral in time (the share that stays stands for it)
 * Source       Boyle's law
 */
const ATMOSPHERE = 101325

/** An air layer of `thickness` (m, at atmosphere) under a pressure (Pa), m. */
export const compressed = (thickness: number, pressure: number): number =>
  (thickness * ATMOSPHERE) / (ATMOSPHERE + pressure)

/** The same air under another pressure, m. */
export const recompressed = (layer: number, from: number, to: number): number =>
  (layer * (ATMOSPHERE + from)) / (ATMOSPHERE + to)
