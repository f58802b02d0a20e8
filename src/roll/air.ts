/**
 * Air between the laps: what goes in with each, and what it leaves of friction.
 *
 * Variables    air layer h0 (m), pressure between the laps P (Pa above atmosphere)
 * Parameters   roll radius R (m), speeds of film and surface (m/s), tension per width T (N/m), viscosity eta (Pa s), share that stays
 * Equations    h0 = 0.643 R (6 eta (|v_film| + |v_surface|)/T)^(2/3);  in the roll h0 x share x p0/(p0 + P) (isothermal)
 *              friction: whole for h0 <= Rq, none from 3 Rq on, linear between; Rq: roughness of both surfaces together
 * Neglected    escape of air past the edges and along the spiral in time (the share that stays stands for it), width
 * Source       foil bearing, wide and impermeable: Eshel & Elrod 1965 (constant; from memory), Knox & Sweeney 1971; friction:
 *              Paper, Film & Foil Converter, "Rough enough", February 2006; Ducotey & Good, J. Tribology 121 (1999); Boyle's law
 */
export const AIR_VISCOSITY = 1.81e-5
const ATMOSPHERE = 101325

/** Air layer between film and a surface of radius `radius` (m) on which it runs, m. */
export function airLayer(radius: number, speeds: number, tensionPerWidth: number): number {
  if (!(tensionPerWidth > 0)) return 0
  return 0.643 * radius * ((6 * AIR_VISCOSITY * speeds) / tensionPerWidth) ** (2 / 3)
}

/** An air layer of `thickness` (m, at atmosphere) under a pressure (Pa), m. */
export const compressed = (thickness: number, pressure: number): number =>
  (thickness * ATMOSPHERE) / (ATMOSPHERE + pressure)

/** The same air under another pressure, m. */
export const recompressed = (layer: number, from: number, to: number): number =>
  (layer * (ATMOSPHERE + from)) / (ATMOSPHERE + to)

/** Share of the friction that is left with an air layer, 0 to 1. */
export function frictionLeft(layer: number, roughness: number): number {
  return Math.min(1, Math.max(0, (3 * roughness - layer) / (2 * roughness)))
}
