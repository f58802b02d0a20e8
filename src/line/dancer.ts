/** A dancer: one roller on a moving carriage. The carriage's mechanics are in carriage.ts, the roller's in rollers.ts. */
import * as v from 'valibot'
import { choice, quantity } from '../units'
import { cylinderSchema } from './cylinder'
import type { PartDefinition } from './part'
import { rollerFields } from './roller-fields'

const STANDARD_GRAVITY = 9.80665

export const dancerSchema = v.strictObject({
  part: v.literal('dancer'),
  ...rollerFields,
  mass: quantity('mass', {
    meaning: 'Moving mass, its rollers included',
    usual: ['2 kg', '8 kg'],
    why: 'Above its own frequency the mass rules: it holds still while the film length changes, and tension pays for it.',
    above: 0,
    most: 1e4,
  }),
  stiffness: v.optional(
    quantity('stiffness', {
      meaning: 'Stiffness of the spring on the carriage',
      usual: ['0 N/m', '1000 N/m'],
      why: 'Makes tension depend on position; cancels the mass at one frequency.',
      least: 0,
      most: 1e7,
    }),
    '0 N/m',
  ),
  springZero: v.optional(
    quantity('travel', {
      meaning: 'Position at which the spring is at rest',
      usual: ['-100 mm', '100 mm'],
      least: -100,
      most: 100,
    }),
    '0 mm',
  ),
  damping: v.optional(
    quantity('damping', { meaning: 'Damping of the carriage', usual: ['0 N s/m', '200 N s/m'], least: 0, most: 1e6 }),
    '0 N s/m',
  ),
  slidingFriction: v.optional(
    quantity('force', {
      meaning: 'Friction of seals and guides',
      usual: ['0 N', '5 N'],
      why: 'The film cannot feel a smaller change than this: tension wanders by it before the dancer moves.',
      least: 0,
      most: 1e5,
      illustrative: true,
    }),
    '0 N',
  ),
  frictionAtRest: v.optional(
    quantity('force', {
      meaning: 'Friction at rest; left out, that of sliding',
      usual: ['0 N', '10 N'],
      why: 'Above sliding friction the dancer sticks and slips: under a loop with an integral part it hunts.',
      least: 0,
      most: 1e5,
      illustrative: true,
    }),
  ),
  arm: v.optional(
    quantity('length', {
      meaning: 'Length of a swing arm; left out, the carriage runs on a straight guide',
      usual: ['200 mm', '600 mm'],
      why: 'The strands turn with the arm: tension then depends on position.',
      above: 0,
      most: 20,
    }),
  ),
  cylinder: v.optional(cylinderSchema),
  force: v.optional(
    quantity('force', {
      meaning:
        'Force that pushes the carriage towards storing film, without spring and weight; a cylinder takes its place',
      usual: ['50 N', '400 N'],
      why: 'Shared by the strands, it sets the tension.',
      least: -1e6,
      most: 1e6,
    }),
  ),
  stores: v.optional(
    choice(['up', 'down', 'level'], { meaning: 'Which way the carriage moves to store film' }),
    'level',
  ),
  lowerStop: quantity('travel', {
    meaning: 'Stop with the least film stored',
    usual: ['-150 mm', '-50 mm'],
    least: -100,
    most: 100,
  }),
  upperStop: quantity('travel', {
    meaning: 'Stop with the most film stored',
    usual: ['50 mm', '150 mm'],
    least: -100,
    most: 100,
  }),
  setPoint: v.optional(
    quantity('travel', {
      meaning: 'Position that a trim holds it at',
      usual: ['-50 mm', '50 mm'],
      least: -100,
      most: 100,
    }),
    '0 mm',
  ),
})

export type DancerSpec = v.InferOutput<typeof dancerSchema>

export const dancer: PartDefinition<DancerSpec> = {
  part: 'dancer',
  role: 'dancer',
  schema: dancerSchema,
  build: (spec, assembly, place) => {
    const roller = assembly.roller({ ...spec, place, radius: spec.diameter / 2, nip: false, prescribed: false })
    const gravity = { up: -STANDARD_GRAVITY, down: STANDARD_GRAVITY, level: 0 }[spec.stores]
    assembly.carriage({ ...spec, place, gravity })
    assembly.rides(spec.name, roller, spec.wrap)
  },
}
