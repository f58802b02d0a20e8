/**
 * Position trim: a PI law from a dancer's position to the speed of a drive.
 *
 * Variables    error e = z - set point (m), its integral X (m s, state), output u (m/s, or a ratio of line speed)
 * Parameters   gain Kp, integral gain Ki, limit of |u|; kind speed (1/s, 1/s^2, m/s) or ratio (1/m, 1/(m s), 1)
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
import type { SpeedTrim } from './drive'
import type { Actor } from './part'
import { positionProgram, Program } from './program'

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
      usual: ['0.05 1/s^2', '2 1/s^2'],
      least: 0,
      most: 1e4,
    }),
    '0 1/s^2',
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

export class Trim implements Actor, SpeedTrim {
  readonly name: string
  readonly spec: TrimSpec
  readonly dancer: Carriage
  /** state index of the integral of the error */
  readonly state: number
  /** -1 when the trimmed drive feeds the dancer, +1 when it draws from it */
  readonly sign: -1 | 1
  /** present output, m/s or ratio, and its rate of change */
  output = 0
  outputRate = 0
  private raw = 0
  private heldSpeed = 0
  private readonly program: Program | undefined
  private sampling = false

  /** @param diameter m, of the roll that a gain schedule goes by */
  constructor(
    spec: TrimSpec,
    dancer: Carriage,
    sign: -1 | 1,
    state: number,
    private readonly diameter: () => number,
  ) {
    this.name = `trim of ${spec.drives}`
    this.spec = spec
    this.dancer = dancer
    this.sign = sign
    this.state = state
    this.program = spec.program === undefined ? undefined : new Program(spec.program, spec, sign)
  }

  get held(): boolean {
    return this.heldSpeed > 0
  }

  private error(y: readonly number[]): number {
    return y[this.dancer.state] - this.dancer.setPoint
  }

  place(_t: number, y: readonly number[]): void {
    if (this.heldSpeed > 0 || this.sampling) return
    const { gain, integral, limit } = this.spec
    const e = this.error(y)
    this.raw = this.sign * (gain * e + integral * y[this.state])
    this.output = Math.min(limit, Math.max(-limit, this.raw))
    const free = this.output === this.raw
    this.outputRate = free
      ? this.sign * (gain * (y[this.dancer.state + 1] - this.dancer.setPointRate) + integral * e)
      : 0
  }

  /** Acts as a program from the first sample on; before, as at the search for the start, it is the same law without samples. */
  sampleAt(tick: number, length: number, _t: number, y: number[]): boolean {
    const { program, dancer } = this
    if (program === undefined) return false
    if (!this.sampling) this.takeUp(program, y)
    this.sampling = true
    if (this.heldSpeed > 0 || tick % Math.round(program.spec.sample / length) !== 0) return false
    this.output = program.step(y[dancer.state], dancer.setPoint, y, this.state, this.diameter())
    this.outputRate = 0
    return true
  }

  private takeUp(program: Program, y: number[]): void {
    const { dancer } = this
    program.resume(y[dancer.state], dancer.setPoint, this.output, y, this.state, this.diameter())
  }

  scale(scales: Float64Array): void {
    scales[this.state] = 1e-3
  }

  act(_t: number, y: readonly number[], dy: number[]): void {
    // without an integral gain the sum of the error is of no use, and would keep the line from having a steady state
    const still = this.heldSpeed > 0 || this.sampling || this.spec.integral === 0
    dy[this.state] = still ? 0 : this.error(y) + (this.sign * (this.output - this.raw)) / this.spec.gain
  }

  /** Reference surface speed (m/s) of the drive for base speed `v`, and how it changes. */
  apply(v: number, draw: number): number {
    if (this.spec.kind === 'ratio') return v * (1 + draw + this.output)
    return v * (1 + draw) + (this.heldSpeed > 0 ? (this.output * v) / this.heldSpeed : this.output)
  }

  applyRate(v: number, a: number, draw: number, drawRate: number): number {
    if (this.spec.kind === 'ratio') return a * (1 + draw + this.output) + v * (this.outputRate + drawRate)
    return a * (1 + draw) + v * drawRate + (this.heldSpeed > 0 ? (this.output * a) / this.heldSpeed : this.outputRate)
  }

  /** From now on the output stays as it is, as a share of the reference; `speed` is the base speed at this moment, m/s. */
  hold(speed: number): void {
    this.heldSpeed = speed
    this.outputRate = 0
  }

  /** Works again; the integral starts where the output does not jump. */
  release(y: number[]): void {
    this.heldSpeed = 0
    const { program } = this
    if (program !== undefined && this.sampling) {
      this.takeUp(program, y)
      return
    }
    const { gain, integral } = this.spec
    if (integral > 0) y[this.state] = (this.sign * this.output - gain * this.error(y)) / integral
  }
}
