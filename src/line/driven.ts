/**
 * A driven roller, with or without a nip.
 *
 * Parameters   diameter as its drive takes it (m), feed error d (1): it really feeds pi x diameter x (1 + d) a turn; draw (1)
 * Equations    radius in flux and torque R = diameter/2 (1 + d); the drive's estimate is diameter/2. Rest: rollers.ts, drive.ts
 * Neglected    squeeze of the film in the nip, slip
 * Source       kinematics
 */
import * as v from 'valibot'
import { flag, quantity } from '../units'
import { idealDrive, lagDrive, servoDrive } from './drive'
import { feedSchema } from './feed'
import type { PartDefinition } from './part'
import { rollerFields } from './roller-fields'

export const drivenSchema = v.strictObject({
  part: v.literal('driven'),
  ...rollerFields,
  nip: v.optional(flag({ meaning: 'Whether a nip presses the film on' }), false),
  draw: v.optional(
    quantity('fraction', {
      meaning: 'How much faster than line speed it is asked to run',
      usual: ['-0.2 %', '0.5 %'],
      why: 'Draw adds to the strain that comes in; a tenth of a percent may be most of the tension.',
      least: -0.5,
      most: 0.5,
    }),
    '0 %',
  ),
  feedError: v.optional(
    quantity('fraction', {
      meaning: 'Feed a turn beyond the stated diameter: tolerance, heat, rubber cover',
      usual: ['-0.2 %', '0.2 %'],
      least: -0.2,
      most: 0.2,
      illustrative: true,
    }),
    '0 %',
  ),
  index: v.optional(feedSchema),
  drive: v.variant('kind', [idealDrive, lagDrive, servoDrive]),
})

export type DrivenSpec = v.InferOutput<typeof drivenSchema>

export const driven: PartDefinition<DrivenSpec> = {
  part: 'driven',
  role: 'drive',
  schema: drivenSchema,
  build: (spec, assembly, place) => {
    const estimate = spec.diameter / 2
    const radius = estimate * (1 + spec.feedError)
    const roller = assembly.roller({ ...spec, place, radius, estimate, prescribed: spec.drive.kind === 'ideal' })
    assembly.speedDrive(spec.name, roller, spec.drive, spec.draw, spec.index)
  },
}
