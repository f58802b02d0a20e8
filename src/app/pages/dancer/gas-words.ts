/**
 * What is said of a regulated cylinder that is to carry the mass. Knows no screen.
 *
 * Equations    gas spring a k_gas, a = j w T/(1 + j w T); beside it b = k - M w^2 + j w c; one that cancels the part in phase has
 *              k_gas = (M w^2 - k)/Re a and leaves |a k_gas + b|; none leaves |b|. Without damping their ratio is 1/(w T)
 * Source       own derivation; tune/ripple.ts
 */
import type { RippleDancer } from '../../../tune/ripple'

/** What a gas spring that cancels only the part in phase leaves, over what none leaves; `lag` of the regulator, s. */
export function inPhaseShare({ stiffness, mass, damping }: RippleDancer, w: number, lag: number): number {
  const short = mass * w * w - stiffness
  // Im a/Re a = 1/(w T)
  return Math.abs(short / (w * lag) + w * damping) / Math.hypot(short, w * damping)
}

/** After the best gas spring has been named: what becomes of the one that people would try. */
export function inPhaseWords(share: number): string {
  const one = 'One that cancels only the part in phase'
  if (share > 1.005) return `${one} makes it worse than none.`
  return share < 0.995 ? `${one} leaves more than that, though less than none.` : `${one} does no better than none.`
}

/** Why the best gas spring is none. */
export function whyNone({ stiffness, mass }: RippleDancer, w: number): string {
  return stiffness >= mass * w * w
    ? 'the spring carries the mass already'
    : 'damping weighs so much that what the spring would take in phase it adds to it'
}
