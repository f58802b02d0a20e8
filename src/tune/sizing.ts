/**
 * How large a dancer has to be: travel for what it must store, force for the tension wanted.
 *
 * Parameters   line speed v (m/s), strands n, wrap beta (rad), cylinder: cylinder.ts
 * Equations    a stop of the feed: film v (T_d/2 + T_h + T_u/2), travel film/n; mismatch x of two speeds for a time t: x v t; a trim of
 *              gain Kp (1/s) alone stands off by x v/Kp; storage n z/v
 *              force of n strands at tension F: n F, n = 2 sin(beta/2) for each roller; volume of air for a gas spring k:
 *              c l^2 n_p p A^2/k - A l z above the lower stop
 * Neglected    film stretched while it is stored, ramps of the mismatch
 * Source       kinematics and statics, textbook
 */
import { ATMOSPHERE, type CylinderSpec } from '../line/cylinder'

/** m of film that a feed owes while it stops: ramp down, hold, ramp up (s), at line speed (m/s). */
export function filmForHold(speed: number, down: number, hold: number, up: number): number {
  return speed * (down / 2 + hold + up / 2)
}

/** m of film that two speeds differing by a share put between them in a time (s). */
export function filmForMismatch(speed: number, share: number, time: number): number {
  return Math.abs(share) * speed * time
}

/** m by which a proportional trim of gain Kp (1/s) stands off for a lasting mismatch; infinite without a gain. */
export function standOff(speed: number, share: number, gain: number): number {
  return (Math.abs(share) * speed) / gain
}

/** s that a travel (m) lasts. */
export function secondsOf(travel: number, strands: number, speed: number): number {
  return (travel * strands) / speed
}

/** Share of its wrap with which one roller's two strands pull along its motion. */
export function strandsOf(wrap: number): number {
  return 2 * Math.sin(wrap / 2)
}

/** m of bore for a force (N) at a pressure above atmosphere (Pa). */
export function boreFor(force: number, pressure: number, count: number, lever: number): number {
  return Math.sqrt((4 * force) / (Math.PI * pressure * count * lever))
}

/** m^3 of air at the lower stop that makes a gas spring of stiffness k (N/m) at a place above that stop (m); negative where none does. */
export function volumeFor(
  spec: Pick<CylinderSpec, 'bore' | 'count' | 'lever' | 'exponent' | 'pressure'>,
  stiffness: number,
  above: number,
): number {
  const area = (Math.PI * spec.bore ** 2) / 4
  const absolute = ATMOSPHERE + spec.pressure
  return (spec.count * spec.lever ** 2 * spec.exponent * absolute * area ** 2) / stiffness - area * spec.lever * above
}

/** Share of the tension by which dry friction (N) lets it wander. */
export function frictionShare(friction: number, strands: number, tension: number): number {
  return friction / (strands * tension)
}
