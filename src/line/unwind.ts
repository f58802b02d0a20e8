/**
 * The unwind: a roll of film that lets film go.
 *
 * Parameters   film, diameter, core, core inertia, tension it was wound with, drag, drive (ideal, lag, servo, brake)
 * Equations    R and J: roll.ts; drives: drive.ts; q_0 = R w/lambda_wound, lambda_wound = 1 + wound tension/(EA)
 *              turning backward it takes film at the stretch of the first span, and gives it back at that stretch
 * Neglected    sag and sway of the first span as the roll gets smaller (its length stays)
 * Source       conservation of film
 */
import * as v from 'valibot'
import { nameText, quantity } from '../units'
import { brakeDrive, idealDrive, lagDrive, servoDrive } from './drive'
import type { PartDefinition } from './part'
import { rollExtras } from './roll'
import { dragFields, nameField } from './roller-fields'
import { torqueDrive } from './torque-drive'

/** What every roll of film states. */
export const rollFields = {
  diameter: quantity('diameter', {
    meaning: 'Outer diameter of the roll',
    usual: ['200 mm', '600 mm'],
    above: 0,
    most: 5,
  }),
  core: v.optional(
    quantity('diameter', { meaning: 'Outer diameter of the core', usual: ['85 mm', '170 mm'], above: 0, most: 2 }),
    '90 mm',
  ),
  coreInertia: v.optional(
    quantity('inertia', {
      meaning: 'Inertia of core, shaft and what turns with them',
      usual: ['0.002 kg m²', '0.1 kg m²'],
      above: 0,
      most: 1e4,
    }),
    '0.01 kg m²',
  ),
}

export const woundTension = quantity('force', {
  meaning: 'Tension at which the film lies wound in the roll',
  usual: ['20 N', '150 N'],
  why: 'The film enters the line with this strain; draw adds to it.',
  least: 0,
  most: 1e6,
})

export const unwindSchema = v.strictObject({
  part: v.literal('unwind'),
  name: nameField,
  film: nameText({ meaning: 'Name of the film on the roll, from the list of films' }),
  ...rollFields,
  ...rollExtras,
  woundTension,
  ...dragFields,
  drive: v.variant('kind', [idealDrive, lagDrive, servoDrive, brakeDrive, torqueDrive]),
})

export type UnwindSpec = v.InferOutput<typeof unwindSchema>

export const unwind: PartDefinition<UnwindSpec> = {
  part: 'unwind',
  role: 'roll',
  schema: unwindSchema,
  build: (spec, assembly, place) => {
    const roller = assembly.roller({
      ...spec,
      place,
      radius: spec.diameter / 2,
      inertia: 1,
      wrap: 0,
      friction: 1,
      nip: true,
      prescribed: spec.drive.kind === 'ideal',
    })
    assembly.unwindRoll(spec)
    if (spec.drive.kind === 'brake') assembly.brake(spec.name, roller, spec.drive.torque)
    else if (spec.drive.kind === 'torque') assembly.torqueDrive(spec.name, roller, spec.drive, spec.core / 2, -1)
    else assembly.speedDrive(spec.name, roller, spec.drive, 0)
  },
}
