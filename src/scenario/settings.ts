/** What a run is held against, and how long and how finely it is computed. */
import * as v from 'valibot'
import { plainNumber, quantity } from '../units'

/** What a finished roll is held against. */
const rollLimits = {
  corePressure: v.optional(
    quantity('stress', {
      meaning: 'Pressure on the core that it may see',
      usual: ['0.07 MPa', '0.7 MPa'],
      why: 'Published range in practice: 0.07 to 0.7 MPa, up to 7 MPa for stretch film (Paper, Film & Foil Converter).',
      above: 0,
      most: 1e9,
      illustrative: true,
    }),
    '0.7 MPa',
  ),
  boreChange: v.optional(
    quantity('travel', {
      meaning: 'By how much the bore of the core may shrink in diameter',
      usual: ['0.05 mm', '0.5 mm'],
      why: 'Beyond the clearance of the shaft the core cannot be drawn off.',
      above: 0,
      most: 0.1,
      illustrative: true,
    }),
    '0.2 mm',
  ),
  blockingPressure: v.optional(
    quantity('stress', {
      meaning: 'Pressure between laps at which they begin to stick to each other',
      usual: ['0.2 MPa', '2 MPa'],
      above: 0,
      most: 1e9,
      illustrative: true,
    }),
    '1 MPa',
  ),
  hoopCompression: v.optional(
    quantity('stress', {
      meaning: 'Compression along the film, beyond that of the plateau, at which laps may buckle into a star',
      usual: ['0.2 MPa', '3 MPa'],
      above: 0,
      most: 1e9,
      illustrative: true,
    }),
    '0.5 MPa',
  ),
  slipReserve: v.optional(
    plainNumber({
      meaning: 'How many times the torque that must pass each lap must be able to hold',
      usual: ['1.2', '3'],
      least: 1,
      most: 100,
      illustrative: true,
    }),
    1.5,
  ),
  axialForce: v.optional(
    quantity('force', {
      meaning: 'Force along the axis that every lap must hold',
      usual: ['50 N', '2 kN'],
      why: 'Handling, standing on end and a skewed lay-on roller push laps out sideways.',
      least: 0,
      most: 1e7,
      illustrative: true,
    }),
    '300 N',
  ),
}

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
  ...rollLimits,
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
