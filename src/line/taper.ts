/**
 * Taper: the tension that a winder is asked for as the roll grows.
 *
 * Variables    roll radius r (m), tension F (N)
 * Parameters   tension at the core F0 (N), taper k (1), core radius r0 (m), full radius r_max (m)
 * Equations    constant F0;  linear F0 (1 - k (r - r0)/(r_max - r0));  hyperbolic F0 (1 - k (1 - r0/r)) (k = 1: constant torque)
 * Neglected    nothing: these are definitions
 * Source       definitions in general trade use
 */
export const taperLaws = ['constant', 'linear', 'hyperbolic'] as const
export type TaperLaw = (typeof taperLaws)[number]

export interface Taper {
  readonly law: TaperLaw
  /** N, at the core */
  readonly tension: number
  /** share given up: 0..1 */
  readonly taper: number
  /** m */
  readonly coreRadius: number
  readonly fullRadius: number
}

/** Tension asked for at roll radius r (m), N. */
export function taperedTension(t: Taper, r: number): number {
  if (t.law === 'linear') return t.tension * (1 - (t.taper * (r - t.coreRadius)) / (t.fullRadius - t.coreRadius))
  if (t.law === 'hyperbolic') return t.tension * (1 - t.taper * (1 - t.coreRadius / r))
  return t.tension
}
