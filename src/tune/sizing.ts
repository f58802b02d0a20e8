/**
 * Sizing of a dancer: how much travel, which bore and pressure, how much air.
 *
 * Variables    tension F (N) of each strand, force P (N) at the carriage, gauge pressure p (Pa)
 * Parameters   line speed v (m/s), strands n (sum of shares), travel between the stops S (m), bore d (m), count, lever
 * Equations    storage: S n/v seconds;  hold: v (T_d/2 + T_h + T_u/2)/n;  indexing: swing of the feed/n;  mismatch: v x share x time/n
 *              P = n F;  p = P/(count x lever x pi d^2/4);  gas spring k = count l^2 n_p p A^2/V, solved for V
 *              roller wrapped by beta: n = 2 sin(beta/2)
 * Neglected    gravity, friction and springs (they come on top as forces); the loop, which takes some of it back
 * Source       kinematics, statics; storage of 0.5 to 1 s: public dancer set-up guide (carotron.com)
 */
import { actingArea, ATMOSPHERE, type CylinderSpec } from '../line/cylinder'
import { storedSwing, type FeedSpec } from '../line/feed'

export interface Storage {
  /** s of line speed; null at standstill */
  readonly seconds: number | null
  readonly verdict: 'little' | 'usual' | 'ample' | 'stands'
  readonly say: string
}

/** Strands that a roller wrapped by an angle (rad) counts for. */
export function strandsOf(wrap: number): number {
  return 2 * Math.sin(wrap / 2)
}

/** Film that a dancer can give or take, in seconds of line speed. */
export function storage(travel: number, strands: number, speed: number): Storage {
  if (speed <= 0) return { seconds: null, verdict: 'stands', say: 'The line stands: storage is counted at line speed.' }
  const seconds = (travel * strands) / speed
  const counted = `${seconds.toPrecision(3)} s of line speed`
  if (seconds < 0.5) {
    const say = `The dancer stores ${counted}: less than the half second below which drives seldom follow in time.`
    return { seconds, verdict: 'little', say }
  }
  const verdict = seconds <= 1 ? 'usual' : 'ample'
  const say = `The dancer stores ${counted}: ${verdict === 'usual' ? 'half a second to a second is what is usual' : 'more than the second that seldom gives trouble'}.`
  return { seconds, verdict, say }
}

/** m of travel for a stop of the feeding side while the line runs on. */
export function travelForHold(
  hold: { rampDown: number; hold: number; rampUp: number },
  speed: number,
  strands: number,
) {
  return (speed * (hold.rampDown / 2 + hold.hold + hold.rampUp / 2)) / strands
}

/** m of travel for an index feed at line speed (m/s). */
export function travelForIndexing(feed: FeedSpec, speed: number, strands: number): number {
  return storedSwing(feed, feed.pitch / speed) / strands
}

/** m of travel for a difference of speed (share) that lasts. */
export function travelForMismatch(share: number, seconds: number, speed: number, strands: number): number {
  return (Math.abs(share) * speed * seconds) / strands
}

/** N at the carriage for a tension (N) in each strand. */
export const forceForTension = (tension: number, strands: number) => tension * strands

type Area = Pick<CylinderSpec, 'bore' | 'count' | 'lever'>

/** Pa above atmosphere for a tension, and N of tension for a pressure. */
export function pressureForTension(tension: number, strands: number, cylinder: Area): number {
  return (tension * strands) / areaOf(cylinder)
}
export function tensionForPressure(pressure: number, strands: number, cylinder: Area): number {
  return (pressure * areaOf(cylinder)) / strands
}

/** m, bore at which a pressure (Pa above atmosphere) gives a tension. */
export function boreFor(
  tension: number,
  strands: number,
  pressure: number,
  { count, lever }: Omit<Area, 'bore'>,
): number {
  return Math.sqrt((4 * tension * strands) / (Math.PI * pressure * count * lever))
}

/**
 * m³ behind one piston (reservoir included, where the dancer stands) that makes a gas spring of this stiffness (N/m) at a pressure
 * above atmosphere.
 */
export function volumeForStiffness(stiffness: number, pressure: number, cylinder: Area & { exponent: number }): number {
  const { bore, count, lever, exponent } = cylinder
  const area = (Math.PI * bore * bore) / 4
  return (count * lever * lever * exponent * (pressure + ATMOSPHERE) * area * area) / stiffness
}

/** Share of the tension that dry friction (N at the carriage) hides. */
export function frictionShare(friction: number, strands: number, tension: number): number {
  return friction / (strands * tension)
}

function areaOf(cylinder: Area): number {
  return actingArea({ ...cylinder, pressure: 0, deadVolume: 0, lag: 1, exponent: 1 })
}
