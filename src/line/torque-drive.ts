/**
 * Torque drive: asks a roll for tapered tension by torque alone.
 *
 * Variables    motor torque tau (N m, forward positive), roll radius R (m), line acceleration a (m/s²)
 * Parameters   taper: taper.ts; shares c_J, c_d of inertia and drag that are compensated (1 is exact); torque and power limit
 * Equations    tau = +-(F_set(R_est) + u) R_est + c_d (drag) + c_J J a/R_est within the limits; + for a winder, - for an unwind
 *              u: tension-trim.ts; R_est: roll.ts (the true radius without a diameter calculator)
 *              drag is compensated in the sense of motion; at rest, in that of the line speed that is asked for
 *              a slip clutch that is driven faster than its roll: hyperbolic with a taper of 100 %, nothing compensated: tau = F0 r0 always
 * Neglected    lag of the current loop; locking of a clutch that is driven too slowly
 * Source       Newton
 */
import * as v from 'valibot'
import { quantity } from '../units'
import type { Drive } from './drive'
import type { Profile } from './profile'
import type { Rollers } from './rollers'
import { taperFields, type TaperCourse } from './taper'
import type { TensionTrim } from './tension-trim'

const share = (meaning: string) =>
  v.optional(quantity('fraction', { meaning, usual: ['80 %', '120 %'], least: 0, most: 3 }), '100 %')

export const torqueDrive = v.strictObject({
  kind: v.literal('torque'),
  ...taperFields,
  inertiaCompensation: share('Share of the torque for speeding the roll up that is added in ramps'),
  dragCompensation: share('Share of the drag that is added'),
  torqueLimit: v.optional(
    quantity('torque', { meaning: 'Most torque at the roll', usual: ['10 N m', '80 N m'], above: 0, most: 1e6 }),
    '100 N m',
  ),
  powerLimit: v.optional(
    quantity('power', { meaning: 'Most power at the roll', usual: ['0.2 kW', '10 kW'], above: 0, most: 1e8 }),
  ),
})

export type TorqueDriveSpec = v.InferOutput<typeof torqueDrive>

export class TorqueDrive implements Drive {
  readonly reference = undefined
  readonly limit: number
  trim: TensionTrim | undefined

  /** @param sign 1 pulls film on (winder), -1 holds it back (unwind) */
  constructor(
    readonly name: string,
    readonly roller: number,
    private readonly rollers: Rollers,
    private readonly profile: Profile,
    readonly course: TaperCourse,
    private readonly spec: TorqueDriveSpec,
    private readonly sign: -1 | 1,
  ) {
    this.limit = spec.torqueLimit
  }

  place(t: number): void {
    const { roller, rollers, spec } = this
    const r = rollers.estimate[roller]
    const w = rollers.speed[roller]
    // else a winder at rest would not let go before film has slackened by as much
    const sense = rollers.mode[roller] === 0 ? Math.sign(this.profile.value(t)) : rollers.mode[roller]
    const drag = spec.dragCompensation * (rollers.coulomb[roller] * sense + rollers.viscous[roller] * w)
    const inertia = (spec.inertiaCompensation * rollers.inertia[roller] * this.profile.rate(t)) / r
    const wanted = this.sign * (this.course.at(t, r) + (this.trim?.output ?? 0)) * r + drag + inertia
    let most = spec.torqueLimit
    if (spec.powerLimit !== undefined && spec.powerLimit < most * Math.abs(w)) most = spec.powerLimit / Math.abs(w)
    rollers.motor[roller] = Math.min(most, Math.max(-most, wanted))
  }
}
