/**
 * How film behaves lying in a roll: stiffness of the stack through its thickness, friction of film on film, and what it does later.
 *
 * Variables    pressure between the laps P (Pa)
 * Parameters   Pfeiffer: pressure K1 (Pa), slope K2;  cubic: K0 (Pa), K1, K2 (1/Pa), K3 (1/Pa^2);  constant E_r (Pa)
 * Equations    E_r = dP/d(strain through the stack): K2 (K1 + P) | K0 + K1 P + K2 P^2 + K3 P^3 | constant
 * Neglected    hysteresis: unloading follows the loading curve; creep
 * Source       Pfeiffer, TAPPI 1966 (from memory); polynomial: Hakiel 1987, TAPPI J. 70(5) 113-117; constant: Altmann 1968
 */
import * as v from 'valibot'
import { choice, plainNumber, quantity } from '../units'

const basis = v.optional(
  choice(['illustrative', 'from memory', 'published', 'measured'], {
    meaning: 'Where these figures come from; a verdict that rests on them says so',
  }),
  'illustrative',
)

const pfeiffer = v.strictObject({
  law: v.literal('Pfeiffer'),
  pressure: quantity('stress', {
    meaning: 'Pressure K1 of the law K2 (K1 + P)',
    usual: ['0.005 MPa', '0.1 MPa'],
    why: 'With the slope it sets how soft the outermost laps are: K1 K2 at no pressure.',
    above: 0,
    most: 1e9,
    illustrative: true,
  }),
  slope: plainNumber({
    meaning: 'Slope K2 of the law K2 (K1 + P)',
    usual: ['20', '150'],
    above: 0,
    most: 1e6,
    illustrative: true,
  }),
  basis,
})

const cubic = v.strictObject({
  law: v.literal('cubic'),
  k0: quantity('modulus', {
    meaning: 'Stack modulus K0 at no pressure',
    usual: ['0.0002 GPa', '0.01 GPa'],
    above: 0,
    most: 1e12,
    illustrative: true,
  }),
  k1: v.optional(plainNumber({ meaning: 'Slope K1 with pressure', usual: ['20', '150'], least: -1e6, most: 1e6 }), 0),
  k2: v.optional(
    quantity('perPressure', { meaning: 'Factor K2 of pressure squared', usual: ['-50 1/MPa', '50 1/MPa'] }),
    '0 1/MPa',
  ),
  k3: v.optional(
    quantity('perPressureSquared', { meaning: 'Factor K3 of pressure cubed', usual: ['-20 1/MPa²', '20 1/MPa²'] }),
    '0 1/MPa²',
  ),
  basis,
})

const constant = v.strictObject({
  law: v.literal('constant'),
  modulus: quantity('modulus', {
    meaning: 'Stack modulus at every pressure',
    usual: ['0.005 GPa', '0.2 GPa'],
    above: 0,
    most: 1e12,
    illustrative: true,
  }),
  basis,
})

const stackSchema = v.variant('law', [pfeiffer, cubic, constant])
export type StackSpec = v.InferOutput<typeof stackSchema>

/** Taken where a film states none: 40 (10 kPa + P). Illustrative. */
export const illustrativeStack: StackSpec = { law: 'Pfeiffer', pressure: 10e3, slope: 40, basis: 'illustrative' }

/** What a film does in a roll. */
export const inRollSchema = v.strictObject({
  stack: v.optional(stackSchema),
  friction: v.optional(
    plainNumber({
      meaning: 'Friction of film on film',
      usual: ['0.2', '0.5'],
      why: 'With pressure it is what keeps the laps from slipping on each other.',
      least: 0,
      most: 5,
      illustrative: true,
    }),
    0.3,
  ),
  expansionThrough: v.optional(
    quantity('perTemperature', {
      meaning: 'Thermal expansion through its thickness',
      usual: ['1e-5 1/K', '2e-4 1/K'],
      least: -1e-3,
      most: 1e-2,
      illustrative: true,
    }),
    '6e-5 1/K',
  ),
})

export type InRollSpec = v.InferOutput<typeof inRollSchema>

/** Coefficients of E_r = c0 + c1 P + c2 P^2 + c3 P^3: every law is such a polynomial. SI. */
export type StackModulus = readonly [number, number, number, number]

export function stackModulus(stack: StackSpec): StackModulus {
  switch (stack.law) {
    case 'Pfeiffer':
      return [stack.slope * stack.pressure, stack.slope, 0, 0]
    case 'cubic':
      return [stack.k0, stack.k1, stack.k2, stack.k3]
    case 'constant':
      return [stack.modulus, 0, 0, 0]
  }
}

/** E_r (Pa) at pressure P (Pa). */
export const modulusAt = ([c0, c1, c2, c3]: StackModulus, p: number): number => c0 + p * (c1 + p * (c2 + p * c3))

/** The least pressure (Pa) up to `most` at which the stack has no stiffness left; undefined when it keeps some. */
export function softensAt(stack: StackModulus, most: number): number | undefined {
  const steps = 2000
  for (let k = 0; k <= steps; k++) {
    const p = most * (k / steps) ** 2
    if (!(modulusAt(stack, p) > 0)) return p
  }
  return undefined
}
