/**
 * The rewind: a roll that film goes onto.
 *
 * Variables    motor torque (N m), roll radius R (m)
 * Parameters   diameter, core, core inertia, drag, drive: ideal, lag, servo (with draw) or torque (with taper)
 * Equations    torque drive: tau_m = F_set(R) R + drag + J a/R within the limit, a = dv/dt of line speed; F_set: taper.ts
 *              the stretch of the film that goes on is written on the tape; turning backward it comes off as it lay
 * Neglected    lay-on load, air between laps; R, J and drag are known exactly to the drive
 * Source       Newton
 */
import * as v from 'valibot'
import { choice, quantity } from '../units'
import { idealDrive, lagDrive, servoDrive, type Drive } from './drive'
import type { PartDefinition } from './part'
import type { Profile } from './profile'
import { dragFields, nameField } from './roller-fields'
import type { Rollers } from './rollers'
import { taperedTension, taperLaws, type Taper } from './taper'
import { rollFields } from './unwind'

export const torqueDrive = v.strictObject({
  kind: v.literal('torque'),
  tension: quantity('force', {
    meaning: 'Tension asked for at the core',
    usual: ['20 N', '150 N'],
    above: 0,
    most: 1e6,
  }),
  law: v.optional(choice(taperLaws, { meaning: 'How tension falls as the roll grows' }), 'constant'),
  taper: v.optional(
    quantity('fraction', {
      meaning:
        'Share of the tension given up: at the full diameter (linear), or against core over roll diameter (hyperbolic)',
      usual: ['0 %', '50 %'],
      why: 'The same figure means different final tensions in different laws.',
      least: 0,
      most: 1,
    }),
    '0 %',
  ),
  fullDiameter: v.optional(
    quantity('diameter', { meaning: 'Diameter of the full roll', usual: ['300 mm', '600 mm'], above: 0, most: 5 }),
    '400 mm',
  ),
  torqueLimit: v.optional(
    quantity('torque', { meaning: 'Most torque at the roll', usual: ['10 N m', '80 N m'], above: 0, most: 1e6 }),
    '100 N m',
  ),
})

export const rewindSchema = v.strictObject({
  part: v.literal('rewind'),
  name: nameField,
  ...rollFields,
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
    const taper: Taper = { ...drive, coreRadius: spec.core / 2, fullRadius: drive.fullDiameter / 2 }
    assembly.drive((rollers, profile) => new TorqueDrive(spec.name, roller, rollers, profile, taper, drive.torqueLimit))
  },
}

/** Asks for tapered tension by torque, with diameter, drag and inertia compensated. */
export class TorqueDrive implements Drive {
  readonly reference = undefined
  constructor(
    readonly name: string,
    readonly roller: number,
    private readonly rollers: Rollers,
    private readonly profile: Profile,
    readonly taper: Taper,
    readonly limit: number,
  ) {}

  place(t: number): void {
    const { roller, rollers } = this
    const r = rollers.radius[roller]
    const drag = rollers.coulomb[roller] * rollers.mode[roller] + rollers.viscous[roller] * rollers.speed[roller]
    const wanted = taperedTension(this.taper, r) * r + drag + (rollers.inertia[roller] * this.profile.rate(t)) / r
    rollers.motor[roller] = Math.min(this.limit, Math.max(-this.limit, wanted))
  }
}
