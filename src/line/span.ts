/** A free length of film between two rollers; its mechanics are in spans.ts. */
import * as v from 'valibot'
import { quantity } from '../units'
import type { PartDefinition } from './part'

export const spanSchema = v.strictObject({
  part: v.literal('span'),
  length: quantity('length', {
    meaning: 'Free length between the points where the film leaves one roller and meets the next',
    usual: ['0.2 m', '1.5 m'],
    why: 'A long span takes a speed error slowly: its time constant is length over speed.',
    above: 0,
    most: 1000,
  }),
  filmDamping: v.optional(
    quantity('time', {
      meaning: 'Damping of the film: time constant of its viscous part',
      usual: ['0.1 ms', '10 ms'],
      least: 0,
      most: 1,
      illustrative: true,
    }),
    '1 ms',
  ),
})

export type SpanSpec = v.InferOutput<typeof spanSchema>

export const span: PartDefinition<SpanSpec> = {
  part: 'span',
  role: 'span',
  schema: spanSchema,
  build: (spec, assembly) => assembly.freeLength(spec.length, spec.filmDamping),
}
