/**
 * What position trim and tension trim have in common: a PI law that corrects a drive, continuous or as a program, and that can be held.
 *
 * Variables    error e = measured - wanted, its integral X (state), output u, its rate of change
 * Parameters   gain Kp, integral gain Ki, limit of |u|, sign of the action sgn
 * Equations    u_raw = sgn (Kp e + Ki X), u = u_raw within the limit;  dX/dt = e + sgn (u - u_raw)/Kp (no wind-up)
 *              as a program (program.ts) it acts at samples only; held, u stays as a share of the reference, and X is set at
 *              release so that u does not jump
 * Neglected    without a program: sampling, filters, dead band
 * Source       PI law with back-calculation, textbook control; the held state: common practice, no source
 */
import type { SpeedTrim } from './drive'
import { Program, type Gains, type ProgramSpec } from './program'

export interface CorrectionSpec extends Gains {
  readonly drives: string
  readonly program?: ProgramSpec | undefined
}

export abstract class Correction implements SpeedTrim {
  /** present output, m/s, ratio or N, and its rate of change */
  output = 0
  outputRate = 0
  /** what the measured value shall be at the present instant */
  protected wanted = 0
  private raw = 0
  private heldSpeed = 0
  private sampling = false
  private opened = false
  private readonly program: Program | undefined

  /** @param integralState state index of the integral of the error */
  constructor(
    readonly law: CorrectionSpec,
    readonly sign: -1 | 1,
    readonly integralState: number,
  ) {
    this.program = law.program === undefined ? undefined : new Program(law.program, law, sign)
  }

  /** The measured value in state y. */
  protected abstract measured(y: readonly number[]): number
  /** m, of the roll that a gain schedule goes by */
  protected abstract diameter(): number

  private error(y: readonly number[]): number {
    return this.measured(y) - this.wanted
  }

  /** Whether the output is kept from outside: by a splice, between two samples, or by who has opened the loop. */
  private get kept(): boolean {
    return this.heldSpeed > 0 || this.sampling || this.opened
  }

  /** Opens the loop for good: from now on the output is what is written to it, which is how a loop's gain is found. */
  open(): void {
    this.opened = true
    this.outputRate = 0
  }

  /** Writes the output that the law gives in state y. */
  protected correct(y: readonly number[]): void {
    if (this.kept) return
    const { gain, integral, limit } = this.law
    this.raw = this.sign * (gain * this.error(y) + integral * y[this.integralState])
    this.output = Math.min(limit, Math.max(-limit, this.raw))
  }

  /** Writes the output's rate of change while the error changes at `errorRate`. */
  protected correctRate(y: readonly number[], errorRate: number): void {
    if (this.kept) return
    const { gain, integral } = this.law
    this.outputRate = this.output === this.raw ? this.sign * (gain * errorRate + integral * this.error(y)) : 0
  }

  /** Writes the rate of change of the integral. */
  protected wind(y: readonly number[], dy: number[]): void {
    // without an integral gain the sum of the error is of no use, and would keep the line from having a steady state
    const still = this.kept || this.law.integral === 0
    dy[this.integralState] = still ? 0 : this.error(y) + (this.sign * (this.output - this.raw)) / this.law.gain
  }

  /**
   * Acts as a program from the first sample on; before, as at the search for the start, it is the same law without samples. The line
   * has been evaluated at (t, y).
   */
  sampleAt(tick: number, length: number, y: number[]): boolean {
    const { program } = this
    if (program === undefined) return false
    if (!this.sampling) this.takeUp(program, y)
    this.sampling = true
    this.outputRate = 0
    if (this.heldSpeed > 0 || tick % Math.round(program.spec.sample / length) !== 0) return false
    this.output = program.step(this.measured(y), this.wanted, y, this.integralState, this.diameter())
    return true
  }

  private takeUp(program: Program, y: number[]): void {
    program.resume(this.measured(y), this.wanted, this.output, y, this.integralState, this.diameter())
  }

  /** Reference surface speed (m/s) of the drive for base speed `v`; here the output is a speed. */
  apply(v: number, draw: number): number {
    return v * (1 + draw) + (this.heldSpeed > 0 ? (this.output * v) / this.heldSpeed : this.output)
  }

  applyRate(v: number, a: number, draw: number, drawRate: number): number {
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
    if (this.program !== undefined && this.sampling) {
      this.takeUp(this.program, y)
      return
    }
    const { gain, integral } = this.law
    if (integral > 0) y[this.integralState] = (this.sign * this.output - gain * this.error(y)) / integral
  }
}
