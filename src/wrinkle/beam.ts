/**
 * A span that meets a misaligned roller: the film as a beam in its own plane, under tension, bent and sheared.
 *
 * Variables    lateral force V (N)
 * Parameters   tension F (N), width W, thickness h, length L (m), modulus E (Pa), Poisson's ratio nu (1)
 * Equations    K^2 = F/(E I), I = h W^3/12, G = E/(2 (1 + nu)), n = 1.2; film square to the upstream roller, and on the
 *              downstream roller square to its axis and without moment (steady state):
 *              phi = V [(1 - 1/cosh KL)/F + n/(G W h)]
 *              mean shear stress tau = V/(W h); 1.5 times as much at mid width
 *              moment at the upstream roller V tanh(KL)/K (V L for small KL); an edge goes slack where 6 M/(h W^2) = sigma_x
 *              shear to bending for small KL: 0.4 (1 + nu) (W/L)^2
 * Neglected    slip on either roller, twist out of the plane, initial camber, what troughs take from the stiffness
 * Source       J. J. Shelton (steady state of a misaligned roller, beam with shear; attribution from memory); shear factor
 *              1.2 of a rectangle: textbook; exact moment of the tensioned beam: own derivation
 */

export interface Beam {
  /** m */
  readonly thickness: number
  readonly width: number
  readonly length: number
  /** Pa */
  readonly modulus: number
  readonly poisson: number
  /** N */
  readonly tension: number
}

const SHEAR_FACTOR = 1.2

/** Share of the mean shear stress that stands at mid width. */
export const PEAK_SHEAR = 1.5

/** KL: small for a short wide span, where tension does not stiffen it. */
export function slenderness({ thickness, width, length, modulus, tension }: Beam): number {
  return length * Math.sqrt((12 * tension) / (modulus * thickness * width ** 3))
}

/** rad per N: how far the roller is out of line for each newton of lateral force; bending and shear apart. */
export function compliance(beam: Beam): { bending: number; shear: number } {
  const { thickness, width, modulus, poisson, tension } = beam
  // 1 - 1/cosh x without loss of digits for small x and without overflow for large
  const less = -Math.expm1(-slenderness(beam))
  const bending = less ** 2 / (1 + (1 - less) ** 2) / tension
  return { bending, shear: (2 * SHEAR_FACTOR * (1 + poisson)) / (modulus * width * thickness) }
}

/** Pa, mean shear stress of a misalignment (rad). */
export function meanShear(beam: Beam, misalignment: number): number {
  const { bending, shear } = compliance(beam)
  return Math.abs(misalignment) / (bending + shear) / (beam.width * beam.thickness)
}

/** rad, misalignment of a mean shear stress (Pa). */
export function misalignmentOf(beam: Beam, shearStress: number): number {
  const { bending, shear } = compliance(beam)
  return shearStress * beam.width * beam.thickness * (bending + shear)
}

/** rad, misalignment at which one edge goes slack at the upstream roller: beyond it the beam is no model. */
export function slackEdge(beam: Beam): number {
  const { width, length, tension } = beam
  const kl = slenderness(beam)
  // moment at which 6 M/(h W^2) reaches F/(h W), over the arm of the lateral force
  const arm = kl > 0 ? (length * Math.tanh(kl)) / kl : length
  const { bending, shear } = compliance(beam)
  return ((tension * width) / 6 / arm) * (bending + shear)
}
