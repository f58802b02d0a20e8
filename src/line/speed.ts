/** Line speed at the start and how it may change. */
import * as v from 'valibot'
import { quantity } from '../units'

export const rounding = quantity('fraction', {
  meaning: 'Share of a ramp spent on each of its two rounded ends',
  usual: ['0 %', '50 %'],
  why: 'A straight ramp starts with a jolt of inertia; a rounded one does not.',
  least: 0,
  most: 0.5,
})

export const speedSchema = v.strictObject({
  start: quantity('speed', {
    meaning: 'Line speed at the start; 0 begins at rest',
    usual: ['3 m/min', '60 m/min'],
    least: 0,
    most: 50,
  }),
  acceleration: v.optional(
    quantity('acceleration', {
      meaning: 'Mean acceleration of ramps that state no time',
      usual: ['0.05 m/s²', '0.5 m/s²'],
      above: 0,
      most: 100,
    }),
    '0.2 m/s²',
  ),
  rounding: v.optional(rounding, '25 %'),
  threadingTension: quantity('force', {
    meaning: 'Tension at which film stands threaded before a start',
    usual: ['20 N', '100 N'],
    least: 0,
    most: 1e6,
  }),
})

export type SpeedSpec = v.InferOutput<typeof speedSchema>
