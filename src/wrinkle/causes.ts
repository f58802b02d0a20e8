/**
 * What presses film together across the line: the causes that a model can be named for, and those that are left out.
 *
 * Variables    lateral compression (Pa)
 * Parameters   a setting (setting.ts)
 * Equations    heat held by friction on the roller: E alpha dT
 *              tension lost on the roller: film wants to widen by nu d(sigma_x)/E, friction holds it: nu d(sigma_x)
 *              misalignment: smaller principal stress of its shear, at mid width (1.5 times the mean) and by the mean
 * Neglected    slip across the roller and what the free edges let go: heat and lost tension are upper bounds; neck-in (a roller
 *              that holds film wider than it wants to be pulls it apart there; what that presses further on in the span is
 *              another problem than those solved here)
 * Source       heat, lost tension: own derivation from linear elasticity with the width held; misalignment: assess.ts
 */
import type { Setting } from './setting'

export interface Cause {
  readonly name: string
  /** where it is held against a limit: in the span, on the roller, or both */
  readonly place: 'span' | 'roller' | 'both'
  /** Pa */
  readonly compression: number
  /** of the limit in the span and on the roller; null where it does not act */
  readonly ofTroughs: number | null
  readonly ofFold: number | null
  readonly source: string
}

const own = 'own derivation, the width held: an upper bound'

/** @param shear compression (Pa) of the misalignment's shear at mid width and by its mean */
export function causesOf(
  s: Setting,
  shear: { readonly peak: number; readonly mean: number },
  troughLimit: number,
  fold: number,
): Cause[] {
  const row = (name: string, place: Cause['place'], compression: number, source = own): Cause => ({
    ...{ name, place, compression, source },
    ofTroughs: place === 'roller' ? null : compression / troughLimit,
    ofFold: place === 'span' ? null : compression / fold,
  })
  const shelton = 'beam with shear (Shelton) and principal stress (Good, Kedl & Shelton 1997; attribution from memory)'
  return [
    row('Misaligned roller, at mid width', 'span', shear.peak, shelton),
    row('Misaligned roller, by mean shear', 'both', shear.mean, shelton),
    row('Heat across the width', 'roller', s.modulus * s.expansion * s.heat),
    row('Tension lost on the roller', 'roller', (s.poisson * s.fall) / s.thickness),
  ]
}

/** Known to wrinkle film, and not computed here: no published model that could be named. */
export const notModelled: readonly string[] = [
  'neck-in: film that is stretched more than on the roller behind gets narrower',
  'a roller out of line at right angles to the film (twist)',
  'a tapered, crowned or bent roller',
  'baggy edges or lanes, and film that is thicker on one side',
  'curl and moisture',
  'a skewed or unevenly loaded nip',
  'air trapped between laps or under a nip',
  'static charge',
  'flutter and sag of a wide span',
]
