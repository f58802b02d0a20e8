/**
 * Traction of film round a roller.
 *
 * Variables    none
 * Parameters   wrap beta (rad), friction mu (1)
 * Equations    the higher tension is at most exp(mu beta) times the lower
 * Neglected    centrifugal force, stiffness of the film
 * Source       Euler-Eytelwein, textbook
 */

/** By how much the higher tension can exceed the lower before film slides, over the lower. */
export function gripRatio(wrap: number, friction: number): number {
  return Math.expm1(friction * wrap)
}
