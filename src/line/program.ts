/**
 * A controller as a program: it acts at its sample times, and holds its output in between.
 *
 * Variables    measured value, filtered m_f; error e; integral X (state, changed at samples only); output u
 * Parameters   sample time T (s), filter time T_f (s), derivative time T_d (s) with its own filter T_g (s), dead band b, factor s of a
 *              schedule on roll diameter, whether the output needs one sample to compute
 * Equations    m_f += (1 - exp(-T/T_f)) (m - m_f);  e = m_f - set point, less the dead band
 *              d += (1 - exp(-T/T_g)) ((m_f - m_f before)/T - d)
 *              u = limit(sgn s (Kp (e + T_d d) + Ki X));  X += T e, unless the output is at its limit and e drives it further
 *              parallel form inside; as ideal form: gain Kp, integral time Kp/Ki, derivative time T_d
 * Neglected    jitter, resolution of measurement and output
 * Source       sampled PID with clamping, textbook control
 */
import * as v from 'valibot'
import { flag, plainNumber, quantity } from '../units'
import { lookUp } from './table'

const factor = plainNumber({ meaning: 'Factor on all gains', usual: ['0.2', '2'], least: 0, most: 100 })
const diameter = quantity('diameter', { meaning: 'Roll diameter', usual: ['90 mm', '600 mm'], above: 0, most: 5 })

const common = {
  sample: quantity('time', {
    meaning: 'Sample time, a multiple of the recording interval',
    usual: ['4 ms', '50 ms'],
    why: 'A loop that looks too seldom acts on the past: it must be several times faster than what it steers.',
    above: 0,
    most: 100,
  }),
  filter: v.optional(
    quantity('time', { meaning: 'Filter of the measured value', usual: ['0 ms', '200 ms'], least: 0, most: 100 }),
    '0 ms',
  ),
  derivativeTime: v.optional(
    quantity('time', { meaning: 'Derivative time', usual: ['0 s', '0.5 s'], least: 0, most: 100 }),
    '0 s',
  ),
  derivativeFilter: v.optional(
    quantity('time', { meaning: 'Filter of the derivative', usual: ['0 ms', '200 ms'], least: 0, most: 100 }),
    '0 ms',
  ),
  delayed: v.optional(flag({ meaning: 'Whether the output needs one more sample to compute' }), false),
  schedule: v.optional(v.pipe(v.array(v.strictTuple([diameter, factor])), v.minLength(2), v.maxLength(50))),
}

export const positionProgram = v.strictObject({
  ...common,
  deadBand: v.optional(
    quantity('travel', {
      meaning: 'Distance from the set point that is let pass',
      usual: ['0 mm', '5 mm'],
      least: 0,
      most: 1,
    }),
    '0 mm',
  ),
})

export const tensionProgram = v.strictObject({
  ...common,
  deadBand: v.optional(
    quantity('force', {
      meaning: 'Difference from the set point that is let pass',
      usual: ['0 N', '2 N'],
      least: 0,
      most: 1e4,
    }),
    '0 N',
  ),
})

export type ProgramSpec = v.InferOutput<typeof positionProgram>

export interface Gains {
  readonly gain: number
  readonly integral: number
  readonly limit: number
}

export class Program {
  private filtered: number | undefined
  private slope = 0
  private pending: number | undefined

  constructor(
    readonly spec: ProgramSpec,
    private readonly gains: Gains,
    private readonly sign: -1 | 1,
  ) {}

  /**
   * One sample: returns the output to hold from now on. `state` is the index of the integral in y; `roll` the diameter (m) that the
   * schedule goes by.
   */
  step(measured: number, setPoint: number, y: number[], state: number, roll: number): number {
    const { sample, filter, derivativeTime, derivativeFilter, delayed } = this.spec
    const before = this.filtered ?? measured
    const now = before + follow(sample, filter) * (measured - before)
    this.slope += follow(sample, derivativeFilter) * ((now - before) / sample - this.slope)
    this.filtered = now
    const e = this.error(now, setPoint)
    const { gain, integral } = this.gains
    const s = this.strength(roll)
    const raw = s * (gain * (e + derivativeTime * this.slope) + integral * y[state])
    const output = this.limited(raw)
    if (output === raw || s * e * raw < 0) y[state] += sample * e
    if (!delayed) return output
    const last = this.pending ?? output
    this.pending = output
    return last
  }

  /**
   * Takes over, at the start or after a pause, where the output has been `output` and `measured` has long been so: the integral is
   * set so that the output does not jump.
   */
  resume(measured: number, setPoint: number, output: number, y: number[], state: number, roll: number): void {
    this.filtered = measured
    this.slope = 0
    this.pending = output
    const { gain, integral } = this.gains
    const s = this.strength(roll)
    const e = this.error(measured, setPoint)
    const goesOn = this.limited(s * (gain * e + integral * y[state])) === output
    if (!goesOn && integral > 0 && s !== 0) y[state] = (output / s - gain * e) / integral
  }

  private error(measured: number, setPoint: number): number {
    const off = measured - setPoint
    return Math.sign(off) * Math.max(0, Math.abs(off) - this.spec.deadBand)
  }

  private limited(raw: number): number {
    const { limit } = this.gains
    return Math.min(limit, Math.max(-limit, raw))
  }

  /** Sign and factor of the schedule. */
  private strength(roll: number): number {
    const { schedule } = this.spec
    return this.sign * (schedule === undefined ? 1 : lookUp(schedule, roll))
  }
}

/** Share of the way that a first-order filter goes in one sample. */
function follow(sample: number, filter: number): number {
  return filter > 0 ? 1 - Math.exp(-sample / filter) : 1
}
