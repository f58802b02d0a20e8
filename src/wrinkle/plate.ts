/**
 * Troughs in a free span: the lateral compression at which a thin plate strip under tension buckles, and how.
 *
 * Variables    lateral wave number q (1/m)
 * Parameters   thickness h (m), length L (m), modulus E (Pa), Poisson's ratio nu (1), tensile stress sigma_x (Pa),
 *              compression beyond the limit (Pa)
 * Equations    D = E h^3/(12 (1 - nu^2)), p = (pi/L)^2
 *              a wave sin(pi x/L) sin(q y) buckles at sigma_y h = (D (p + q^2)^2 + sigma_x h p)/q^2, least where
 *              q^2 = sqrt(p^2 + sigma_x h p/D):  sigma_tr = 2 D (p + q^2)/h
 *              approximation for sigma_x h >> p D: sigma_tr = (pi h/L) sqrt(E sigma_x/(3 (1 - nu^2)))
 *              its relative error is 1/sqrt(sigma_x h/(p D)), to first order
 *              wavelength 2 pi/q; amplitude from the shortening beyond the limit: A = (wavelength/pi) sqrt(shortening)
 * Neglected    edges (the strip is taken as wide against a wavelength), stiffness of the troughs beyond the limit, curl,
 *              different moduli along and across
 * Source       plate strip under tension: Timoshenko; wavelength: Cerda & Mahadevan, PRL 90, 074302 (2003); amplitude: own
 *              derivation from the length of a sine
 */

export interface Strip {
  /** m */
  readonly thickness: number
  readonly length: number
  /** Pa */
  readonly modulus: number
  readonly poisson: number
}

export interface Troughs {
  /** Pa, lateral compression at which they begin */
  readonly limit: number
  /** Pa, the same by the formula for high tension */
  readonly approximation: number
  /** how far the approximation lies from the limit, relative: positive when it is too low */
  readonly approximationError: number
  /** m, from crest to crest */
  readonly wavelength: number
}

/** Error beyond which the approximation should not be used. */
export const APPROXIMATION_TOLERANCE = 0.02

/** N m, bending stiffness per width */
export function plateStiffness({ thickness, modulus, poisson }: Omit<Strip, 'length'>): number {
  return (modulus * thickness ** 3) / (12 * (1 - poisson ** 2))
}

/** Troughs under a tensile stress (Pa); without tension those of a plate. */
export function troughs(strip: Strip, stress: number): Troughs {
  const { thickness, length, modulus, poisson } = strip
  const bending = plateStiffness(strip)
  const p = (Math.PI / length) ** 2
  const wave = Math.sqrt(p ** 2 + (stress * thickness * p) / bending)
  const limit = (2 * bending * (p + wave)) / thickness
  const approximation = ((Math.PI * thickness) / length) * Math.sqrt((modulus * stress) / (3 * (1 - poisson ** 2)))
  return {
    limit,
    approximation,
    approximationError: 1 - approximation / limit,
    wavelength: (2 * Math.PI) / Math.sqrt(wave),
  }
}

/** m, from the middle to a crest, when the compression (Pa) that flat film would carry is beyond the limit. */
export function troughAmplitude({ limit, wavelength }: Troughs, compression: number, modulus: number): number {
  return (wavelength / Math.PI) * Math.sqrt(Math.max(0, compression - limit) / modulus)
}
