/**
 * What a rewind states of the roll that it builds: its core, the air that goes in, where a simulated run lies in it, and what happens
 * to the roll later. The moving line takes no notice of these fields.
 *
 * Parameters   core: bore (m), modulus E (Pa), Poisson's ratio, expansion (1/K); shares and temperature changes as named below
 * Source       fields only; equations in the room of the roll
 */
import * as v from 'valibot'
import { plainNumber, quantity } from '../units'

const coreTube = v.strictObject({
  bore: quantity('diameter', {
    meaning: 'Bore of the core',
    usual: ['76.2 mm', '152.4 mm'],
    above: 0,
    most: 2,
  }),
  modulus: quantity('modulus', {
    meaning: 'Elastic modulus of the core around its circumference',
    usual: ['1 GPa', '200 GPa'],
    why: 'Board is far softer than plastic or steel; a soft core lets the pressure go.',
    above: 0,
    most: 1e12,
    illustrative: true,
  }),
  poisson: v.optional(plainNumber({ meaning: "Poisson's ratio of the core", least: 0, most: 0.499 }), 0.3),
  expansion: v.optional(
    quantity('perTemperature', {
      meaning: 'Thermal expansion of the core',
      usual: ['5e-6 1/K', '1e-4 1/K'],
      least: -1e-3,
      most: 1e-2,
      illustrative: true,
    }),
    '1e-5 1/K',
  ),
})

const share = (meaning: string, most = 0.2) =>
  v.optional(quantity('fraction', { meaning, usual: ['0 %', '1 %'], least: -most, most }), '0 %')

const warmer = (meaning: string) =>
  v.optional(quantity('temperatureDifference', { meaning, usual: ['-20 K', '20 K'], least: -300, most: 500 }), '0 K')

const later = v.strictObject({
  shrinkAlong: share('Shrinkage along the film after winding'),
  shrinkThrough: share('Shrinkage through its thickness'),
  filmWarmer: warmer('By how much the film is warmer than when it was wound'),
  coreWarmer: warmer('By how much the core is warmer than when it was wound'),
  airLeaves: v.optional(
    quantity('fraction', {
      meaning: 'Share of the wound-in air that leaves',
      usual: ['0 %', '100 %'],
      least: 0,
      most: 1,
    }),
    '0 %',
  ),
  unwindTension: v.optional(
    quantity('force', {
      meaning: 'Tension at which the roll is unwound later; left out, that at the core',
      usual: ['20 N', '150 N'],
      least: 0,
      most: 1e6,
    }),
  ),
})

export const woundRollFields = {
  coreTube: v.optional(coreTube),
  airKept: v.optional(
    quantity('fraction', {
      meaning: 'Share of the air carried along by film and roll that stays between the laps',
      usual: ['0 %', '30 %'],
      why: 'Without a lay-on roller wide film keeps most of it; a lay-on roller presses nearly all of it out.',
      least: 0,
      most: 1,
      illustrative: true,
    }),
    '2 %',
  ),
  ringAt: v.optional(
    quantity('diameter', {
      meaning: 'Where in the roll a simulated run is put in as a ring; left out, at the diameter the run starts with',
      usual: ['100 mm', '500 mm'],
      above: 0,
      most: 5,
    }),
  ),
  later: v.optional(later),
}

export type CoreTube = v.InferOutput<typeof coreTube>
export type LaterSpec = v.InferOutput<typeof later>
