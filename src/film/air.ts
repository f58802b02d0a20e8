/**
 * The film of air that is carried in between film and roller, and what is left of friction above it.
 *
 * Variables    none
 * Parameters   radius R (m), speeds of film and surface (m/s), tension per width T (N/m), viscosity of air eta (Pa s),
 *              roughness of film and of roller, root mean square (m), friction mu (1)
 * Equations    height h0 = 0.643 R (6 eta (|v_film| + |v_surface|)/T)^(2/3)
 *              combined roughness Rq = sqrt(Rq_film^2 + Rq_roller^2)
 *              friction: mu up to h0 = Rq, falling linearly to 0 at h0 = 3 Rq
 * Neglected    air that escapes at the edges, through pores and along grooves (so narrow or porous film grips better than told)
 * Source       foil bearing: Eshel & Elrod 1965, Knox & Sweeney 1971 (years from memory); friction: Paper, Film & Foil
 *              Converter, "Rough enough", February 2006; Ducotey & Good, J. Tribology 121 (1999), abstract
 */

/** Pa s, air at 20 °C */
const AIR_VISCOSITY = 1.81e-5

/** H'' far upstream of H''' = (1 - H)/H^3 that starts from H = 1; computed anew by check 29 */
const FOIL_BEARING = 0.643

/** m, height of the air film. `tension` in N per metre of width; `speeds` is the sum of both surfaces' speeds (m/s). */
export function airFilm(radius: number, speeds: number, tension: number): number {
  return FOIL_BEARING * radius * ((6 * AIR_VISCOSITY * Math.abs(speeds)) / tension) ** (2 / 3)
}

/** m, roughness of two surfaces together */
export function combinedRoughness(film: number, roller: number): number {
  return Math.hypot(film, roller)
}

/** The friction that an air film of `height` (m) leaves. */
export function frictionOverAir(friction: number, height: number, roughness: number): number {
  return friction * Math.min(1, Math.max(0, (3 * roughness - height) / (2 * roughness)))
}
