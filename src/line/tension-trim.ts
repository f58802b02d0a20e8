/**
 * Tension trim: a PI law from the tension at a load cell to the speed or the torque of a drive.
 *
 * Variables    measured tension F_m (N, state), integral X of the error (N s, state), output u (m/s or N)
 * Parameters   set point F_set, tapered with the diameter of the winder; gain Kp, integral gain Ki, limit of |u|, filter T (s)
 * Equations    load cell: resultant (F_before + F_after) sin(wrap/2), calibrated for equal tensions: T dF_m/dt = (1 + gain error)
 *              (F_before + F_after)/2 + tare - F_m;  e = F_m - F_set
 *              u_raw = sgn (Kp e + Ki X), u = u_raw within the limit;  dX/dt = e + sgn (u - u_raw)/Kp
 *              kind speed adds u to line speed x (1 + draw), sgn = +1 where the drive feeds the load cell's roller, else -1;
 *              kind torque adds u to the tension asked for of a torque drive
 *              as a program it acts at samples: program.ts
 * Neglected    deflection of the load cell, weight of the roller beyond the tare
 * Source       PI law with back-calculation, textbook control
 */
import * as v from 'valibot'
import { nameText, quantity } from '../units'
import { Correction } from './correction'
import type { Actor } from './part'
import { tensionProgram } from './program'
import type { Rollers } from './rollers'
import type { Spans } from './spans'
import { taperFields, type TaperCourse } from './taper'

const common = {
  control: v.literal('tension trim'),
  measures: nameText({ meaning: 'The idler on load cells' }),
  drives: nameText({ meaning: 'The drive that is trimmed' }),
  ...taperFields,
  gainError: v.optional(
    quantity('fraction', {
      meaning: 'By how much the load cell reads too high',
      usual: ['-3 %', '3 %'],
      least: -0.9,
      most: 10,
    }),
    '0 %',
  ),
  tare: v.optional(
    quantity('force', { meaning: 'What it reads without film', usual: ['-2 N', '2 N'], least: -1e5, most: 1e5 }),
    '0 N',
  ),
  program: v.optional(tensionProgram),
  filter: v.optional(
    quantity('time', { meaning: 'Filter of the load cell', usual: ['10 ms', '200 ms'], above: 0, most: 100 }),
    '50 ms',
  ),
}

export const speedTensionTrim = v.strictObject({
  ...common,
  kind: v.literal('speed'),
  gain: quantity('speedPerForce', {
    meaning: 'Speed added for each newton of error',
    usual: ['0.001 m/min/N', '0.1 m/min/N'],
    above: 0,
    most: 100,
  }),
  integral: v.optional(
    quantity('speedPerForceTime', {
      meaning: 'Speed added for each newton and second of error',
      usual: ['0 m/min/(N s)', '0.2 m/min/(N s)'],
      least: 0,
      most: 100,
    }),
    '0 m/min/(N s)',
  ),
  limit: v.optional(
    quantity('speed', {
      meaning: 'Most that the trim may add or take',
      usual: ['0.5 m/min', '5 m/min'],
      above: 0,
      most: 100,
    }),
    '2 m/min',
  ),
})

export const torqueTensionTrim = v.strictObject({
  ...common,
  kind: v.literal('torque'),
  gain: quantity('fraction', {
    meaning: 'Newtons added for each newton of error',
    usual: ['5 %', '80 %'],
    above: 0,
    most: 100,
  }),
  integral: v.optional(
    quantity('rate', {
      meaning: 'Newtons added for each newton and second of error',
      usual: ['0 1/s', '5 1/s'],
      least: 0,
      most: 1e4,
    }),
    '0 1/s',
  ),
  limit: v.optional(
    quantity('force', { meaning: 'Most that the trim may add or take', usual: ['5 N', '50 N'], above: 0, most: 1e5 }),
    '20 N',
  ),
})

export type TensionTrimSpec = v.InferOutput<typeof speedTensionTrim> | v.InferOutput<typeof torqueTensionTrim>

export class TensionTrim extends Correction implements Actor {
  readonly name: string

  /** @param state index of the measured tension; the integral follows. @param winder index of the roll whose diameter tapers */
  constructor(
    readonly spec: TensionTrimSpec,
    private readonly roller: number,
    private readonly winder: number,
    sign: -1 | 1,
    readonly state: number,
    private readonly rollers: Rollers,
    private readonly spans: Spans,
    private readonly course: TaperCourse,
  ) {
    super(spec, sign, state + 1)
    this.name = `tension trim of ${spec.drives}`
  }

  protected measured(y: readonly number[]): number {
    return y[this.state]
  }

  protected diameter(): number {
    return 2 * this.rollers.estimate[this.winder]
  }

  place(t: number, y: readonly number[]): void {
    this.wanted = this.course.at(t, this.rollers.estimate[this.winder])
    this.correct(y)
  }

  scale(scales: Float64Array, _speed: number, force: number): void {
    scales[this.state] = force
    scales[this.state + 1] = force
  }

  act(_t: number, y: readonly number[], dy: number[]): void {
    dy[this.state] = (this.reading() - y[this.state]) / this.spec.filter
    this.wind(y, dy)
    this.correctRate(y, dy[this.state])
  }

  /** What the load cell shows, N: the resultant of both spans, by the wrap, with its errors. */
  reading(): number {
    const { gainError, tare } = this.spec
    return ((1 + gainError) * (this.spans.force[this.roller - 1] + this.spans.force[this.roller])) / 2 + tare
  }
}
