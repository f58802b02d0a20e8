/**
 * Position trim: a PI law from a dancer's position to the speed of a drive.
 *
 * Variables    error e = z - set point (m), its integral X (m s, state), output u (m/s, or a ratio of line speed)
 * Parameters   gain Kp, integral gain Ki, limit of |u|; kind speed (1/s, 1/s², m/s) or ratio (1/m, 1/(m s), 1)
 * Equations    u_raw = sgn (Kp e + Ki X), u = u_raw within the limit;  dX/dt = e + sgn (u - u_raw)/Kp (no wind-up)
 *              sgn = -1 when the trimmed drive feeds the dancer, +1 when it draws from it
 *              kind speed adds u to line speed x (1 + draw); kind ratio multiplies line speed by (1 + draw + u)
 *              held (during a splice at the trimmed unwind): u stays, as a share of the reference; X is set at release so
 *              that u does not jump
 *              as a program (program.ts) it samples, filters, and may differentiate, wait and follow a schedule
 * Neglected    without a program: sampling, filters, dead band
 * Source       PI law with back-calculation, textbook control; the held state: common practice, no source
 */
import * as v from 'valibot'
import { nameText, quantity } from '../units'
import type { Carriage } from './carriage'
import { Correction } from './correction'
import type { Actor } from './part'
import { positionProgram } from './program'

const common = {
  control: v.literal('position trim'),
  measures: nameText({ meaning: 'The dancer whose position is held' }),
  drives: nameText({ meaning: 'The roller whose speed is trimmed' }),
  program: v.optional(positionProgram),
}

export const speedTrimSchema = v.strictObject({
  ...common,
  kind: v.literal('speed'),
  gain: quantity('trimGainSpeed', {
    meaning: 'Speed added for each metre that the dancer stands off its set point',
    usual: ['0.3 1/s', '3 1/s'],
    why: 'High brings the dancer back soon; too high for the drive behind it makes the loop swing.',
    above: 0,
    most: 1e4,
  }),
  integral: v.optional(
    quantity('trimIntegralSpeed', {
      meaning: 'Speed added for each metre and second off the set point',
      usual: ['0.05 1/s²', '2 1/s²'],
      least: 0,
      most: 1e4,
    }),
    '0 1/s²',
  ),
  limit: v.optional(
    quantity('speed', {
      meaning: 'Most that the trim may add or take',
      usual: ['1 m/min', '20 m/min'],
      above: 0,
      most: 100,
    }),
    '10 m/min',
  ),
})

export const ratioTrimSchema = v.strictObject({
  ...common,
  kind: v.literal('ratio'),
  gain: quantity('trimGainRatio', {
    meaning: 'Share of line speed added for each metre off the set point',
    usual: ['0.5 1/m', '5 1/m'],
    why: 'Its strength follows line speed: without speed it has no authority.',
    above: 0,
    most: 1e4,
  }),
  integral: v.optional(
    quantity('trimIntegralRatio', {
      meaning: 'Share of line speed added for each metre and second off the set point',
      usual: ['0.1 1/(m s)', '3 1/(m s)'],
      least: 0,
      most: 1e4,
    }),
    '0 1/(m s)',
  ),
  limit: v.optional(
    quantity('fraction', {
      meaning: 'Most that the trim may add or take, of line speed',
      usual: ['2 %', '20 %'],
      above: 0,
      most: 1,
    }),
    '10 %',
  ),
})

export type TrimSpec = v.InferOutput<typeof speedTrimSchema> | v.InferOutput<typeof ratioTrimSchema>

export class Trim extends Correction implements Actor {
  readonly name: string

  /**
   * @param sign -1 when the trimmed drive feeds the dancer, +1 when it draws from it; @param state index of the integral of the error;
   * @param roll m, diameter that a gain schedule goes by
   */
  constructor(
    readonly spec: TrimSpec,
    readonly dancer: Carriage,
    sign: -1 | 1,
    readonly state: number,
    private readonly roll: () => number,
  ) {
    super(spec, sign, state)
    this.name = `trim of ${spec.drives}`
  }

  protected measured(y: readonly number[]): number {
    return y[this.dancer.state]
  }

  protected diameter(): number {
    return this.roll()
  }

  place(_t: number, y: readonly number[]): void {
    this.wanted = this.dancer.setPoint
    this.correct(y)
    this.correctRate(y, y[this.dancer.state + 1] - this.dancer.setPointRate)
  }

  scale(scales: Float64Array): void {
    scales[this.state] = 1e-3
  }

  act(_t: number, y: readonly number[], dy: number[]): void {
    this.wind(y, dy)
  }

  override apply(v: number, draw: number): number {
    return this.spec.kind === 'ratio' ? v * (1 + draw + this.output) : super.apply(v, draw)
  }

  override applyRate(v: number, a: number, draw: number, drawRate: number): number {
    if (this.spec.kind !== 'ratio') return super.applyRate(v, a, draw, drawRate)
    return a * (1 + draw + this.output) + v * (this.outputRate + drawRate)
  }
}
