/**
 * The core: a tube pressed from outside.
 *
 * Variables    pressure outside P (Pa) and inside P_i (Pa)
 * Parameters   outer radius b, bore radius a (m), modulus E (Pa), Poisson's ratio nu
 * Equations    stiffness E_c = E/((b^2 + a^2)/(b^2 - a^2) - nu): pressure over strain of the outer radius
 *              hoop stress at the bore (P_i (b^2 + a^2) - 2 P b^2)/(b^2 - a^2);  change of the bore radius 2 P a b^2/(E (b^2 - a^2))
 * Neglected    end effects, the shaft inside, spiral winding of board cores (one modulus stands for it)
 * Source       Lame's thick cylinder
 */
export interface Tube {
  /** m */
  readonly outer: number
  readonly bore: number
  /** Pa */
  readonly modulus: number
  readonly poisson: number
}

/** E_c, Pa. */
export function coreStiffness({ outer, bore, modulus, poisson }: Tube): number {
  const [b, a] = [outer * outer, bore * bore]
  return modulus / ((b + a) / (b - a) - poisson)
}

/** Hoop stress at the bore, Pa; tension positive. */
export function boreStress({ outer, bore }: Pick<Tube, 'outer' | 'bore'>, inside: number, outside: number): number {
  const [b, a] = [outer * outer, bore * bore]
  return (inside * (b + a) - 2 * outside * b) / (b - a)
}

/** By how much the bore's diameter shrinks under a pressure outside, m. */
export const boreShrinks = (tube: Tube, outside: number): number =>
  (-boreStress(tube, 0, outside) / tube.modulus) * 2 * tube.bore
