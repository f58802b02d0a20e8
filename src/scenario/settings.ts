/** What a run is held against, and how long and how finely it is computed. */
import * as v from 'valibot'
import { plainNumber, quantity } from '../units'

export const limitsSchema = v.strictObject({
  shareOfElastic: v.optional(
    quantity('fraction', {
      meaning: "Share of the film's elastic limit strain that it may see",
      usual: ['20 %', '60 %'],
      why: 'Splices, edges and heat take the rest.',
      above: 0,
      most: 10,
      illustrative: true,
    }),
    '50 %',
  ),
  leastTension: v.optional(
    quantity('force', {
      meaning: 'Tension below which film wanders or hangs',
      usual: ['5 N', '40 N'],
      least: 0,
      most: 1e6,
      illustrative: true,
    }),
    '10 N',
  ),
})

export const runSchema = v.strictObject({
  for: quantity('time', {
    meaning: 'How long the run lasts, in line time',
    usual: ['10 s', '120 s'],
    above: 0,
    most: 1e6,
  }),
  tick: v.optional(
    quantity('time', { meaning: 'Recording interval', usual: ['5 ms', '50 ms'], least: 1e-4, most: 10 }),
    '10 ms',
  ),
  tolerance: v.optional(
    plainNumber({
      meaning: 'Tolerance of the integration, relative to what matters',
      usual: ['1e-7', '1e-5'],
      least: 1e-11,
      most: 1e-3,
    }),
    1e-6,
  ),
})

export type LimitsSpec = v.InferOutput<typeof limitsSchema>
export type RunSpec = v.InferOutput<typeof runSchema>
