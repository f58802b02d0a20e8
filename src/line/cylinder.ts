/**
 * An air cylinder on a dancer, fed by a pressure regulator.
 *
 * Variables    absolute pressure p (Pa, state), force on the carriage P (N), set pressure p_set (Pa)
 * Parameters   bore d (m), number of cylinders c, lever l (cylinder's arm over roller's arm), dead volume V_dead (m^3 each, reservoir
 *              included, at the lower stop), regulator lag T (s), polytropic exponent n
 * Equations    A = pi d^2/4;  V = V_dead + A l (z - z_lower);  dp/dt = (p_set - p)/T - n p A l z'/V
 *              P = c (p - p_atm) A l;  slow motion: the regulator holds P; fast: gas spring k = c l^2 n p A^2/V
 *              film tension from pressure at rest: P/sum g_j
 * Neglected    droop and unequal fill and relief of the regulator, heat, leakage
 * Source       gas laws, textbook; force through a lever: statics
 */
import * as v from 'valibot'
import { plainNumber, quantity, wholeNumber } from '../units'
import type { Courses } from './courses'
import type { Actor } from './part'
import type { Profile } from './profile'

/** Pa, absolute: standard atmosphere */
export const ATMOSPHERE = 101_325

export const cylinderSchema = v.strictObject({
  bore: quantity('diameter', { meaning: 'Bore of the cylinder', usual: ['16 mm', '40 mm'], above: 0, most: 1 }),
  count: v.optional(wholeNumber({ meaning: 'Number of cylinders', usual: ['1', '2'], least: 1, most: 8 }), 1),
  pressure: quantity('pressure', {
    meaning: 'Set pressure above atmosphere',
    usual: ['0.5 bar', '4 bar'],
    why: 'Stored energy: shut off and bleed it before anyone reaches in.',
    least: 0,
    most: 5e6,
  }),
  lever: v.optional(
    plainNumber({ meaning: "Cylinder's arm over roller's arm", usual: ['0.3', '1'], above: 0, most: 10 }),
    1,
  ),
  deadVolume: quantity('volume', {
    meaning: 'Air behind the piston at the lower stop, reservoir included',
    usual: ['20 cm³', '2 l'],
    why: 'A small volume turns into a gas spring in fast motion.',
    least: 0,
    most: 1,
    illustrative: true,
  }),
  lag: v.optional(
    quantity('time', {
      meaning: 'Time in which the regulator restores its pressure',
      usual: ['50 ms', '500 ms'],
      above: 0,
      most: 100,
      illustrative: true,
    }),
    '100 ms',
  ),
  exponent: v.optional(
    plainNumber({ meaning: 'Polytropic exponent: 1 slow, 1.4 fast', usual: ['1', '1.4'], least: 1, most: 1.67 }),
    1.4,
  ),
})

export type CylinderSpec = v.InferOutput<typeof cylinderSchema>

/** m² of all cylinders, as it acts at the roller (lever included). */
export function actingArea(c: CylinderSpec): number {
  return (c.count * c.lever * Math.PI * c.bore * c.bore) / 4
}

/** Force at the carriage (N) for a pressure above atmosphere (Pa). */
export function forceOf(c: CylinderSpec, pressure: number): number {
  return pressure * actingArea(c)
}

/** Pressure above atmosphere (Pa) that gives a force at the carriage (N). */
export function pressureFor(c: CylinderSpec, force: number): number {
  return force / actingArea(c)
}

/** m³ behind one piston at carriage position z (m) over the lower stop. */
export function volumeAt(c: CylinderSpec, above: number): number {
  return c.deadVolume + ((Math.PI * c.bore * c.bore) / 4) * c.lever * above
}

/** Stiffness at the carriage (N/m) that fast motion feels, at absolute pressure p (Pa) and `above` the lower stop (m). */
export function gasSpring(c: CylinderSpec, p: number, above: number): number {
  const area = (Math.PI * c.bore * c.bore) / 4
  return (c.count * c.lever * c.lever * c.exponent * p * area * area) / volumeAt(c, above)
}

export class Cylinder implements Actor {
  readonly name: string
  private readonly setPressure: Profile
  /** Pa above atmosphere, asked for by a taper; undefined: the scenario's own */
  asked: number | undefined

  /** @param state index of p; @param position index of z, z' follows; @param lowerStop m */
  constructor(
    dancer: string,
    readonly spec: CylinderSpec,
    readonly state: number,
    private readonly position: number,
    private readonly lowerStop: number,
    courses: Courses,
  ) {
    this.name = `cylinder of ${dancer}`
    this.setPressure = courses.setting('dancer pressure', dancer, spec.pressure)
  }

  /** Force at the carriage, N. */
  force(y: readonly number[]): number {
    return forceOf(this.spec, y[this.state] - ATMOSPHERE)
  }

  /** Pa, absolute, that the regulator is set to. */
  target(t: number): number {
    return ATMOSPHERE + (this.asked ?? this.setPressure.value(t))
  }

  scale(scales: Float64Array): void {
    scales[this.state] = 1e4
  }

  act(t: number, y: readonly number[], dy: number[]): void {
    const { lag, exponent, lever, bore } = this.spec
    const p = y[this.state]
    const volume = volumeAt(this.spec, y[this.position] - this.lowerStop)
    const squeeze = ((Math.PI * bore * bore) / 4) * lever * dy[this.position]
    dy[this.state] = (this.target(t) - p) / lag - (exponent * p * squeeze) / volume
  }
}
