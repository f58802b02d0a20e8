/** In words, how much larger than it is the picture draws what would not be seen otherwise. */
import { formatNumber } from '../../../units'
import type { Scene } from './scene'

export function largerText({ turn, depth }: Scene['drawn']): string {
  const times = (factor: number) => `${formatNumber(factor, 2)} times`
  const same = Math.abs(turn - depth) < 1e-6 * turn
  if (same) return `Troughs and misalignment are drawn ${times(turn)} as large as they are.`
  return `Troughs are drawn ${times(depth)} as large as they are, misalignment ${times(turn)}.`
}
