import { describe, expect, test } from 'vitest'
import { formsOf, type LoopSpec } from '../../src/tune/forms'

const speedTrim: LoopSpec = {
  ...{ control: 'position trim', measures: 'dancer', drives: 'unwind', kind: 'speed' },
  ...{ gain: 1.2, integral: 0.3, limit: 0.1 },
}
const base = { lineSpeed: 0.5, span: 0.2 }

describe('forms of a controller', () => {
  test('ideal form of 1.2 1/s and 0.3 1/s^2: integral time 4 s, 15 repeats a minute', () => {
    const { ideal, repeatsPerMinute } = formsOf(speedTrim, base)
    expect(ideal).toEqual({ gain: 1.2, integralTime: 4, derivativeTime: 0 })
    expect(repeatsPerMinute).toBeCloseTo(15, 12)
  })

  test('1.2 1/s over 200 mm of travel at 30 m/min: 1 % of travel, 2 mm, asks for 2.4 mm/s, which is 0.48 % of line speed', () => {
    const { relativeGain, relativeUnit } = formsOf(speedTrim, base)
    expect(relativeGain).toBeCloseTo(0.48, 12)
    expect(relativeUnit).toBe('% of line speed per % of travel')
  })

  test('a ratio trim counts without line speed, a torque trim without either', () => {
    const ratio: LoopSpec = { ...speedTrim, kind: 'ratio', gain: 2, integral: 0 }
    expect(formsOf(ratio, { lineSpeed: 0, span: 0.2 }).relativeGain).toBeCloseTo(0.4, 12)
    const torque: LoopSpec = {
      ...{ control: 'tension trim', measures: 'idler', drives: 'rewind', kind: 'torque', tension: 60, law: 'constant' },
      ...{ taper: 0, fullDiameter: 0.4, blend: 0.5, exponent: 0.3, gainError: 0, tare: 0, filter: 0.05 },
      ...{ gain: 0.2, integral: 1, limit: 15 },
    }
    expect(formsOf(torque, { lineSpeed: 0, span: 60 }).relativeGain).toBe(0.2)
    expect(formsOf(torque, base).kinds).toEqual({ gain: 'fraction', integral: 'rate' })
  })

  test('without an integral part there is no integral time and no repeat', () => {
    const { ideal, repeatsPerMinute } = formsOf({ ...speedTrim, integral: 0 }, base)
    expect(ideal.integralTime).toBeNull()
    expect(repeatsPerMinute).toBe(0)
  })

  test('at standstill the share of line speed says nothing', () => {
    expect(formsOf(speedTrim, { ...base, lineSpeed: 0 }).relativeGain).toBeNull()
  })

  test('derivative gain is gain times derivative time', () => {
    const program = { sample: 0.01, filter: 0, derivativeTime: 0.5, derivativeFilter: 0, delayed: false, deadBand: 0 }
    expect(formsOf({ ...speedTrim, program }, base).parallel).toEqual({ gain: 1.2, integral: 0.3, derivative: 0.6 })
  })
})
