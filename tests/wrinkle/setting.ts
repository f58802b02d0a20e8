/** The setting that tests start from: the page's own, and even draws of whole settings. */
import fc from 'fast-check'
import { readSetting, startingDocument, type Setting } from '../../src/wrinkle'

const reading = readSetting(startingDocument)
if (!reading.ok) throw new Error(reading.problems.map((p) => p.say).join(' '))

export const starting: Setting = reading.setting

const parts = 1_000_000
/** Evenly between two figures, or evenly in ratio. */
export const even = (low: number, high: number) =>
  fc.integer({ min: 0, max: parts }).map((n) => low + (n / parts) * (high - low))
export const ratio = (low: number, high: number) =>
  fc.integer({ min: 0, max: parts }).map((n) => low * (high / low) ** (n / parts))

export const anySetting: fc.Arbitrary<Setting> = fc.record({
  thickness: ratio(5e-6, 3e-4),
  width: ratio(0.05, 3),
  length: ratio(0.05, 10),
  tension: ratio(1, 5000),
  modulus: ratio(1e8, 1e11),
  poisson: even(0, 0.49),
  elasticLimit: ratio(5e-4, 0.05),
  radius: ratio(0.01, 0.5),
  misalignment: even(-0.02, 0.02),
  heat: even(0, 100),
  expansion: ratio(1e-6, 2e-4),
  fall: even(0, 100),
  speed: even(0, 20),
  friction: even(0.05, 1),
  filmRoughness: ratio(1e-8, 1e-6),
  rollerRoughness: ratio(1e-7, 1e-5),
  nip: fc.boolean(),
})
