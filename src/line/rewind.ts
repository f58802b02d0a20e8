/**
 * The rewind: a roll that film goes onto.
 *
 * Parameters   diameter, core, core inertia, drag, drive: ideal, lag, servo (with draw) or torque (with taper)
 * Equations    torque drive: torque-drive.ts; wound-on tension with a lay-on roller F_last + mu_nip min(N, N_sat)
 *              the stretch of the film that goes on is written on the tape; turning backward it comes off as it lay
 * Neglected    air between laps
 * Source       Newton
 */
import * as v from 'valibot'
import { quantity } from '../units'
import { idealDrive, lagDrive, servoDrive } from './drive'
import { torqueDrive } from './torque-drive'
import type { PartDefinition } from './part'
import { layOnSchema, rollExtras } from './roll'
import { dragFields, nameField } from './roller-fields'
import { rollFields } from './unwind'
import { woundRollFields } from './wound-roll'

export const rewindSchema = v.strictObject({
  part: v.literal('rewind'),
  name: nameField,
  ...rollFields,
  ...rollExtras,
  layOn: v.optional(layOnSchema),
  ...woundRollFields,
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
    assembly.torqueDrive(spec.name, roller, drive, spec.core / 2, 1)
  },
}
