/**
 * What would take troughs away, each knob by itself: the least tension and the least length at which the film runs flat.
 *
 * Variables    none
 * Parameters   an assessment (assess.ts)
 * Equations    the first place where the misalignment forgiven (flatUpTo) reaches the present one: found by steps, then by halving
 * Neglected    what the knobs change elsewhere on the line
 * Source       own derivation
 */
import { assess, type Assessment } from './assess'

export interface Cures {
  /** N/m and m; null where none within reach does */
  readonly tension: number | null
  readonly length: number | null
}

/** Spans are told of up to so many times their length. */
export const LONGEST = 5

const [STEPS, HALVINGS] = [24, 20]

function least({ setting }: Assessment, knob: 'tension' | 'length', most: number): number | null {
  const flatAt = (value: number) => assess({ ...setting, [knob]: value }).flatUpTo >= Math.abs(setting.misalignment)
  const from = setting[knob]
  if (!(most > from)) return null
  const at = (k: number) => from * (most / from) ** (k / STEPS)
  const first = Array.from({ length: STEPS }, (_, k) => k + 1).find((k) => flatAt(at(k)))
  if (first === undefined) return null
  let [low, high] = [at(first - 1), at(first)]
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2
    if (flatAt(middle)) high = middle
    else low = middle
  }
  return high
}

/** Tension counts up to the elastic limit. */
export function cures(found: Assessment): Cures {
  const { elasticLimit, modulus, thickness, length } = found.setting
  return {
    tension: least(found, 'tension', elasticLimit * modulus * thickness),
    length: least(found, 'length', LONGEST * length),
  }
}
