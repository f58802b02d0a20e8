/**
 * Drives: what turns a roller, or holds it back.
 *
 * Variables    reference turn rate w* (rad/s), motor torque tau_m (N m, forward positive), torque integral I (N m, state of a servo)
 * Parameters   line speed v* (m/s), draw (1), trim, estimate R_est of the radius (m), bandwidth w_n (rad/s), damping zeta (1),
 *              torque limit (N m), power limit (W), lag (s), feed-forward T_f (s), brake torque (N m)
 * Equations    w* = (v* (1 + draw) + u)/R_est, or v* (1 + draw + u)/R_est with a trim of kind ratio
 *              with feed-forward w* is raised by T_f (1 + draw)/R_est times the rate of v* (T_f = lag, or 1/(2 zeta w_n) of a
 *              servo, leaves no error in a ramp); the integral of a servo takes no notice of it
 *              ideal: w = w*;  lag: dw/dt = (w* - w)/lag;  torque of both follows from the motion
 *              servo: raw = Kp (w* - w) + I, tau_m = raw within the limits, Kp = 2 zeta w_n J,
 *                     dI/dt = w_n^2 J (w* - w) + (tau_m - raw) w_n/(2 zeta)   (no wind-up, continuous at the limit)
 *              brake: adds its torque to sliding drag and breakaway, opposes motion only
 * Neglected    current loop, backlash, ripple, sampling; J and R_est are taken as true
 * Source       PI speed loop with back-calculation, textbook control
 */
import * as v from 'valibot'
import { plainNumber, quantity } from '../units'
import type { Actor } from './part'
import type { Profile } from './profile'
import type { Rollers } from './rollers'

const torqueLimit = quantity('torque', {
  meaning: 'Most torque at the roller',
  usual: ['5 N m', '80 N m'],
  above: 0,
  most: 1e6,
})

const feedForward = v.optional(
  quantity('time', {
    meaning: 'Feed-forward: the speed asked for is raised by this time x acceleration',
    usual: ['0 ms', '50 ms'],
    why: 'As long as the lag, or 1/(2 x damping x bandwidth) of a servo, it takes the lag out of ramps and index moves.',
    least: 0,
    most: 100,
  }),
  '0 ms',
)

export const idealDrive = v.strictObject({ kind: v.literal('ideal') })

export const lagDrive = v.strictObject({
  kind: v.literal('lag'),
  lag: quantity('time', {
    meaning: 'Time constant with which speed follows its reference',
    usual: ['20 ms', '300 ms'],
    above: 0,
    most: 100,
  }),
  feedForward,
})

export const servoDrive = v.strictObject({
  kind: v.literal('servo'),
  bandwidth: quantity('angularSpeed', {
    meaning: 'Bandwidth of the speed loop',
    usual: ['5 rad/s', '200 rad/s'],
    why: 'A loop must be slower than the oscillations of film and rollers that it can feel.',
    above: 0,
    most: 1e4,
  }),
  damping: v.optional(
    plainNumber({ meaning: 'Damping ratio of the speed loop', usual: ['0.7', '1.5'], above: 0, most: 10 }),
    1,
  ),
  torqueLimit,
  powerLimit: v.optional(
    quantity('power', { meaning: 'Most power at the roller', usual: ['0.2 kW', '10 kW'], above: 0, most: 1e8 }),
  ),
  feedForward,
})

export const brakeDrive = v.strictObject({
  kind: v.literal('brake'),
  torque: quantity('torque', {
    meaning: 'Brake torque',
    usual: ['1 N m', '30 N m'],
    why: 'The brake can only hold back: tension is torque over radius, and rises as the roll gets smaller.',
    least: 0,
    most: 1e6,
  }),
})

export type DriveSpec =
  v.InferOutput<typeof idealDrive> | v.InferOutput<typeof lagDrive> | v.InferOutput<typeof servoDrive>

/** Something that corrects the speed of a drive. */
export interface SpeedTrim {
  /** Reference surface speed (m/s) for base speed `v` (m/s) and draw. */
  apply(v: number, draw: number): number
  /** How that changes while base speed changes by `a` (m/s²) and draw by `drawRate` (1/s). */
  applyRate(v: number, a: number, draw: number, drawRate: number): number
}

/** What a drive that follows speed refers to. */
export interface SpeedReference {
  readonly profile: Profile
  readonly draw: Profile
  trim: SpeedTrim | undefined
}

/** Reference surface speed at time t, m/s. */
export function referenceSpeed(r: SpeedReference, t: number): number {
  const v = r.profile.value(t)
  return r.trim === undefined ? v * (1 + r.draw.value(t)) : r.trim.apply(v, r.draw.value(t))
}

/** By how much feed-forward of time `lead` (s) raises the reference at time t, m/s. */
function leadSpeed(r: SpeedReference, t: number, lead: number): number {
  return lead === 0 ? 0 : lead * r.profile.rate(t) * (1 + r.draw.value(t))
}

function referenceRate(r: SpeedReference, t: number): number {
  const v = r.profile.value(t)
  const a = r.profile.rate(t)
  const draw = r.draw.value(t)
  const drawRate = r.draw.rate(t)
  return r.trim === undefined ? a * (1 + draw) + v * drawRate : r.trim.applyRate(v, a, draw, drawRate)
}

/** A drive on roller `roller`; `limit` is its torque limit (N m), undefined when it has none. */
export interface Drive extends Actor {
  readonly roller: number
  readonly limit: number | undefined
  readonly reference: SpeedReference | undefined
}

/** Follows speed exactly; the torque is whatever that takes. */
export class IdealDrive implements Drive {
  readonly limit = undefined
  constructor(
    readonly name: string,
    readonly roller: number,
    readonly reference: SpeedReference,
    private readonly rollers: Rollers,
  ) {}

  place(t: number): void {
    this.rollers.speed[this.roller] = referenceSpeed(this.reference, t) / this.rollers.estimate[this.roller]
  }

  act(t: number): void {
    const { reference, rollers, roller } = this
    const radius = rollers.estimate[roller]
    rollers.acceleration[roller] =
      (referenceRate(reference, t) - rollers.speed[roller] * rollers.estimateRate[roller]) / radius
  }
}

/** Follows speed with a first-order lag. */
export class LagDrive implements Drive {
  readonly limit = undefined
  constructor(
    readonly name: string,
    readonly roller: number,
    readonly reference: SpeedReference,
    private readonly rollers: Rollers,
    private readonly spec: v.InferOutput<typeof lagDrive>,
  ) {
    rollers.imposed[roller] = 1
  }

  act(t: number): void {
    const { reference, spec, rollers, roller } = this
    const wanted = referenceSpeed(reference, t) + leadSpeed(reference, t, spec.feedForward)
    rollers.acceleration[roller] = (wanted / rollers.estimate[roller] - rollers.speed[roller]) / spec.lag
  }
}

/** PI speed loop with torque and power limit. */
export class ServoDrive implements Drive {
  readonly limit: number
  private raw = 0
  private error = 0

  constructor(
    readonly name: string,
    readonly roller: number,
    readonly reference: SpeedReference,
    private readonly rollers: Rollers,
    private readonly spec: v.InferOutput<typeof servoDrive>,
    /** state index of the torque integral */
    readonly state: number,
  ) {
    this.limit = spec.torqueLimit
  }

  place(t: number, y: readonly number[]): void {
    const { roller, rollers, spec } = this
    const w = rollers.speed[roller]
    const radius = rollers.estimate[roller]
    this.error = referenceSpeed(this.reference, t) / radius - w
    const lead = leadSpeed(this.reference, t, spec.feedForward) / radius
    this.raw = 2 * spec.damping * spec.bandwidth * rollers.inertia[roller] * (this.error + lead) + y[this.state]
    let most = spec.torqueLimit
    if (spec.powerLimit !== undefined && spec.powerLimit < most * Math.abs(w)) most = spec.powerLimit / Math.abs(w)
    rollers.motor[roller] = Math.min(most, Math.max(-most, this.raw))
  }

  /** A roll of another radius is put on: the torque that it starts with holds the same tension (common practice, no source). */
  takeOver(ratio: number, y: number[]): void {
    y[this.state] *= ratio
  }

  scale(scales: Float64Array, _speed: number, force: number): void {
    scales[this.state] = force * this.rollers.radius[this.roller]
  }

  act(_t: number, _y: readonly number[], dy: number[]): void {
    const { bandwidth, damping } = this.spec
    const spare = this.rollers.motor[this.roller] - this.raw
    const drive = bandwidth * bandwidth * this.rollers.inertia[this.roller] * this.error
    dy[this.state] = drive + (spare * bandwidth) / (2 * damping)
  }
}

/** The drive that a specification asks for; `state` hands out the index of one more state of that name. */
export function speedDrive(
  name: string,
  roller: number,
  spec: DriveSpec,
  reference: SpeedReference,
  rollers: Rollers,
  state: (name: string) => number,
): Drive {
  if (spec.kind === 'ideal') return new IdealDrive(name, roller, reference, rollers)
  if (spec.kind === 'lag') return new LagDrive(name, roller, reference, rollers, spec)
  return new ServoDrive(name, roller, reference, rollers, spec, state(`torque of ${name}`))
}

/** Holds back with a stated torque. */
export class BrakeDrive implements Drive {
  readonly limit = undefined
  readonly reference = undefined
  constructor(
    readonly name: string,
    readonly roller: number,
    rollers: Rollers,
    readonly torque: number,
  ) {
    rollers.coulomb[roller] += torque
    rollers.breakaway[roller] += torque
  }
}
