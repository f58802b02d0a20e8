/**
 * What presses film together across the line: the causes that a model can be named for, and those that are left out.
 *
 * Variables    lateral compression (Pa)
 * Parameters   a setting (setting.ts)
 * Equations    heat held by friction on the roller: E alpha dT
 *              tension lost on the roller: film wants to widen by nu d(sigma_x)/E, friction holds it: nu d(sigma_x)
 *              neck-in: film stretched more than on the roller behind wants to be narrower by nu d(sigma_x)/E: nu d(sigma_x)
 * Neglected    slip across the roller and what the free edges let go: all three are upper bounds
 * Source       heat, lost tension, neck-in: own derivation from linear elasticity with the width held; narrowing of stretched
 *              film: Converting Quarterly, article on Poisson's ratio; misalignment: assess.ts
 */
import type { Setting } from './setting'

export interface Cause {
  readonly name: string
  /** where it presses: in the span, on the roller, or (misalignment) on both */
  readonly place: 'span' | 'roller' | 'both'
  /** Pa */
  readonly compression: number
  /** of the limit in the span and on the roller; null where it does not act */
  readonly ofTroughs: number | null
  readonly ofFold: number | null
  readonly bound: 'model' | 'upper bound'
  readonly source: string
}

const own = 'own derivation, the width held: an upper bound'

export function causesOf(s: Setting, misalignment: number, troughLimit: number, fold: number): Cause[] {
  const row = (name: string, place: Cause['place'], compression: number, source = own): Cause => ({
    ...{ name, place, compression, source, bound: source === own ? 'upper bound' : 'model' },
    ofTroughs: place === 'roller' ? null : compression / troughLimit,
    ofFold: place === 'span' ? null : compression / fold,
  })
  const shelton = 'beam with shear (Shelton) and principal stress (Good, Kedl & Shelton 1997; attribution from memory)'
  return [
    row('Misaligned roller', 'both', misalignment, shelton),
    row('Heat across the width', 'roller', s.modulus * s.expansion * s.heat),
    row('Tension lost on the roller', 'roller', (s.poisson * s.fall) / s.thickness),
    row('Neck-in', 'span', (s.poisson * s.rise) / s.thickness),
  ]
}

/** Known to wrinkle film, and not computed here: no published model that could be named. */
export const notModelled: readonly string[] = [
  'a roller out of line at right angles to the film (twist)',
  'a tapered, crowned or bent roller',
  'baggy edges or lanes, and film that is thicker on one side',
  'curl and moisture',
  'a skewed or unevenly loaded nip',
  'air trapped between laps or under a nip',
  'static charge',
  'flutter and sag of a wide span',
]
