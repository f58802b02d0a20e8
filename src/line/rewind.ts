/**
 * The rewind: a roll that film goes onto.
 *
 * Variables    motor torque (N m), roll radius R (m)
 * Parameters   diameter, core, core inertia, drag, drive: ideal, lag, servo (with draw) or torque (with taper)
 * Equations    torque drive: tau_m = (F_set(R) + u) R + drag + J a/R within the limit, a = dv/dt of line speed; F_set: taper.ts,
 *              u: tension-trim.ts; wound-on tension with a lay-on roller F_last + mu_nip min(N, N_sat)
 *              the stretch of the film that goes on is written on the tape; turning backward it comes off as it lay
 * Neglected    air between laps; J and drag are known exactly to the drive, R as far as its diameter calculator does
 * Source       Newton
 */
import * as v from 'valibot'
import { quantity } from '../units'
import { idealDrive, lagDrive, servoDrive, type Drive } from './drive'
import type { PartDefinition } from './part'
import type { Profile } from './profile'
import { layOnSchema, rollExtras } from './roll'
import { dragFields, nameField } from './roller-fields'
import type { Rollers } from './rollers'
import type { TensionTrim } from './tension-trim'
import { TaperCourse, taperFields } from './taper'
import { rollFields } from './unwind'

export const torqueDrive = v.strictObject({
  kind: v.literal('torque'),
  ...taperFields,
  torqueLimit: v.optional(
    quantity('torque', { meaning: 'Most torque at the roll', usual: ['10 N m', '80 N m'], above: 0, most: 1e6 }),
    '100 N m',
  ),
})

export const rewindSchema = v.strictObject({
  part: v.literal('rewind'),
  name: nameField,
  ...rollFields,
  ...rollExtras,
  layOn: v.optional(layOnSchema),
  ...dragFields,
  draw: v.optional(
    quantity('fraction', {
      meaning: 'How much faster than line speed it is asked to run; a torque drive takes no notice',
      usual: ['0 %', '1 %'],
      least: -0.5,
      most: 0.5,
    }),
    '0 %',
  ),
  drive: v.variant('kind', [idealDrive, lagDrive, servoDrive, torqueDrive]),
})

export type RewindSpec = v.InferOutput<typeof rewindSchema>

export const rewind: PartDefinition<RewindSpec> = {
  part: 'rewind',
  role: 'roll',
  schema: rewindSchema,
  build: (spec, assembly, place) => {
    const { drive } = spec
    const roller = assembly.roller({
      ...spec,
      place,
      radius: spec.diameter / 2,
      inertia: 1,
      wrap: 0,
      friction: 1,
      nip: true,
      prescribed: drive.kind === 'ideal',
    })
    assembly.rewindRoll(spec)
    if (drive.kind !== 'torque') {
      assembly.speedDrive(spec.name, roller, drive, spec.draw)
      return
    }
    assembly.drive((rollers, courses) => {
      const course = new TaperCourse({ spec: drive, coreRadius: spec.core / 2 }, courses, spec.name)
      return new TorqueDrive(spec.name, roller, rollers, courses.line, course, drive.torqueLimit)
    })
  },
}

/** Asks for tapered tension by torque, with diameter, drag and inertia compensated. */
export class TorqueDrive implements Drive {
  readonly reference = undefined
  trim: TensionTrim | undefined
  constructor(
    readonly name: string,
    readonly roller: number,
    private readonly rollers: Rollers,
    private readonly profile: Profile,
    readonly course: TaperCourse,
    readonly limit: number,
  ) {}

  place(t: number): void {
    const { roller, rollers } = this
    const r = rollers.estimate[roller]
    const drag = rollers.coulomb[roller] * rollers.mode[roller] + rollers.viscous[roller] * rollers.speed[roller]
    const tension = this.course.at(t, r) + (this.trim?.output ?? 0)
    const wanted = tension * r + drag + (rollers.inertia[roller] * this.profile.rate(t)) / r
    rollers.motor[roller] = Math.min(this.limit, Math.max(-this.limit, wanted))
  }
}
