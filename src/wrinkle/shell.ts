/**
 * A fold on a roller: the compression at which film that is bent round a roller buckles as a cylindrical shell, and the grip
 * that it takes to hold it together.
 *
 * Variables    none
 * Parameters   thickness h (m), roller radius R (m), modulus E (Pa), Poisson's ratio nu (1), tension per width T (N/m),
 *              width W (m), friction mu (1)
 * Equations    sigma_fold = E h/(R sqrt(3 (1 - nu^2)))
 *              film presses on the roller with T/R, so friction can build up a compression towards the middle of at most
 *              sigma_held = mu (T/R) (W/2)/h; a fold needs sigma_held >= sigma_fold, that is mu >= 2 E h^2/(T W sqrt(3 (1 - nu^2)))
 * Neglected    imperfections of the film (shells often buckle below the classical figure), axial friction already used up
 *              by the tension difference across the roller; a nip holds whatever the friction
 * Source       classical buckling of a cylinder under axial compression, as in NACA TN 1343 (1947); friction needed: own
 *              derivation, equilibrium across the width, an upper bound of what can be held
 */

/** Pa, lateral compression at which film on a roller folds. */
export function foldLimit(thickness: number, radius: number, modulus: number, poisson: number): number {
  return (modulus * thickness) / (radius * Math.sqrt(3 * (1 - poisson ** 2)))
}

/** Pa, compression that friction can hold in the middle of the width. `tension` in N/m. */
export function heldCompression(
  friction: number,
  tension: number,
  radius: number,
  width: number,
  thickness: number,
): number {
  return (friction * tension * width) / (2 * radius * thickness)
}
