/**
 * A bar that turns the film without touching it (air cushion): no inertia, no drag, so its two spans are one.
 *
 * Variables    none
 * Parameters   diameter (m), wrap (rad)
 * Equations    adds the length of its arc, wrap x diameter/2, to the span it lies in
 * Neglected    height and drag of the air cushion
 * Source       geometry
 */
import * as v from 'valibot'
import { choice, quantity } from '../units'
import type { PartDefinition } from './part'
import { nameField } from './roller-fields'

export const barSchema = v.strictObject({
  part: v.literal('bar'),
  name: nameField,
  diameter: quantity('diameter', { meaning: 'Diameter of the bar', usual: ['40 mm', '200 mm'], above: 0, most: 5 }),
  wrap: quantity('angle', {
    meaning: 'Angle over which the film follows the bar',
    usual: ['10 deg', '180 deg'],
    least: 0,
    most: 2 * Math.PI,
  }),
  turn: choice(['left', 'right'], { meaning: 'Which way the film turns, seen along its path' }),
})

export type BarSpec = v.InferOutput<typeof barSchema>

export const bar: PartDefinition<BarSpec> = {
  part: 'bar',
  role: 'bar',
  schema: barSchema,
  build: (spec, assembly) => assembly.addArc((spec.wrap * spec.diameter) / 2),
}
