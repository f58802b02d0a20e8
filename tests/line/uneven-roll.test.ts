/**
 * A roll out of round at prescribed speed before a span whose other end runs evenly: to first order in strain
 * de/dt = (v/L) (e_in - e) - (e/R) (v/L) cos(phi), so the strain swings by (e/R)/sqrt(1 + (w L/v)^2), late by atan(w L/v).
 * Own derivation.
 */
import { describe, expect, test } from 'vitest'
import { EA, finish, nip, pet, rewind, runOf, span, timeOf, unwind, type Entry, type Setting } from './rig'

const LENGTH = 0.5
const TICK = 0.002
/** the film so thin that the roll stays as large as it is, and pulled so much that no swing makes it slack */
const thin = { ...pet, thickness: '0.225 µm', modulus: '1000 GPa' }
const TENSION = 200

const line = (roll: Entry): Setting => ({
  films: { A: thin },
  line: [unwind(TENSION, roll), span(LENGTH), nip('nip'), span(1), rewind()],
  ...{ threading: TENSION, tick: TICK, tolerance: 1e-9 },
})

/** First harmonic of samples at angles of the roll: amplitude, and by how much (rad) it comes after the cosine of the angle. */
function harmonic(samples: readonly { angle: number; value: number }[]): { amplitude: number; late: number } {
  let [c, s] = [0, 0]
  const mean = samples.reduce((sum, { value }) => sum + value, 0) / samples.length
  for (const { angle, value } of samples) {
    c += (value - mean) * Math.cos(angle)
    s += (value - mean) * Math.sin(angle)
  }
  return { amplitude: (2 / samples.length) * Math.hypot(c, s), late: Math.atan2(s, c) }
}

/** Strain before the nip against the roll's angle over the last `turns` turns of a run. */
function swings(diameter: number, runout: number, speed: number) {
  const turn = (Math.PI * diameter) / speed
  const [settle, turns] = [Math.ceil((12 * LENGTH) / speed / turn), 4]
  const roll = { diameter: `${diameter} m`, unevenness: { runout: `${runout} m` } }
  // a tick that divides a turn: the harmonic is then taken over whole turns
  const tick = turn / 100
  const run = runOf({ ...line(roll), speed, duration: (settle + turns) * turn, tick })
  const samples: { angle: number; value: number }[] = []
  finish(run, ({ y, line: { spans, unwindRoll } }) => {
    samples.push({ angle: y[unwindRoll.states.angle ?? -1], value: spans.force[0] / EA })
  })
  return harmonic(samples.slice(-100 * turns))
}

describe('strain behind a roll with a runout', () => {
  test.each([
    ['full', 0.6, 1e-4, 1],
    ['small', 0.1, 4e-5, 1],
    ['full, slow', 0.6, 1e-4, 0.25],
    ['small, half the runout', 0.1, 2e-5, 1],
  ])('%s: swings by e/R through the low pass of the span, and as late', (_name, diameter, runout, speed) => {
    const radius = diameter / 2
    const { amplitude, late } = swings(diameter, runout, speed)
    // w L/v = L/R: line speed does not enter
    const ratio = LENGTH / radius
    expect(amplitude / (runout / radius / Math.hypot(1, ratio))).toBeCloseTo(1, 2.3)
    // a longer arm feeds more: strain falls where the cosine is greatest
    const expected = Math.PI + Math.atan(ratio)
    const off = late - expected
    expect(Math.abs(off - 2 * Math.PI * Math.round(off / (2 * Math.PI)))).toBeLessThan(0.01)
  })
})

describe('the angle of a roll', () => {
  test('is what its turn rate adds up to, and film leaves by the arm of each angle', () => {
    const roll = { diameter: '0.3 m', unevenness: { runout: '0.1 mm', flat: '0.2 mm', flatArc: '60 deg' } }
    const run = runOf({ ...line(roll), speed: 1, duration: 2.5 })
    const stretch = 1 + TENSION / EA
    finish(run, ({ y, time, line: { unwindRoll, rollers } }) => {
      const angle = y[unwindRoll.states.angle ?? -1]
      expect(angle).toBeCloseTo(Math.PI / 2 + time / 0.15, 4)
      const off = angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI))
      const dent = Math.abs(off) < Math.PI / 6 ? 2e-4 * Math.cos(3 * off) ** 2 : 0
      expect(rollers.flux[0] * stretch).toBeCloseTo((0.15 + 1e-4 * Math.cos(angle) - dent) * rollers.speed[0], 5)
    })
  })

  test('over a whole turn a runout feeds as much as a round roll; a flat feeds less by its depth times half its arc', () => {
    const fed = (unevenness: Entry, turns: number) => {
      const roll = { diameter: '0.3 m', unevenness }
      const run = runOf({ ...line(roll), speed: 1, duration: turns * Math.PI * 0.3, tick: 0.05 })
      finish(run)
      return run.y[run.line.unwoundState] * (1 + TENSION / EA)
    }
    const round = fed({ runout: '0 mm' }, 2)
    expect(round).toBeCloseTo(2 * Math.PI * 0.3, 5)
    expect(fed({ runout: '1 mm' }, 2)).toBeCloseTo(round, 5)
    const arc = (40 * Math.PI) / 180
    expect((round - fed({ flat: '1 mm', flatArc: '40 deg' }, 2)) / (2 * 0.001 * (arc / 2))).toBeCloseTo(1, 3)
    expect((round - fed({ flat: '2 mm', flatArc: '20 deg' }, 2)) / (2 * 0.002 * (arc / 4))).toBeCloseTo(1, 3)
  })
})

test('a new roll brings a roundness of its own, from a quarter turn before its high point', () => {
  const splice: Entry = {
    ...{ at: '0.5 s', do: 'flying splice', film: 'A', patch: '0 mm' },
    roll: { diameter: '300 mm', core: '90 mm', woundTension: `${TENSION} N` },
  }
  const roll = { diameter: '0.3 m', unevenness: { runout: '1 mm' } }
  const run = runOf({ ...line(roll), stage: [splice], duration: 1 })
  const spread: [number, number][] = []
  finish(run, ({ time, line: { rollers, unwindRoll } }) => spread.push([time, rollers.radius[0] - unwindRoll.mean]))
  expect(Math.max(...spread.filter(([t]) => t < 0.49).map(([, d]) => Math.abs(d)))).toBeGreaterThan(0.0009)
  expect(spread.filter(([t]) => t > 0.51).every(([, d]) => d === 0)).toBe(true)
  expect(timeOf(run, 'splice')).toBe(0.5)
})

test('a winder out of round pulls at prescribed speed by its runout', () => {
  const roll = { diameter: '0.2 m', unevenness: { runout: '0.02 mm' } }
  const setting = line({})
  const turn = Math.PI * 0.2
  const run = runOf({
    ...{ ...setting, line: [...setting.line.slice(0, -1), rewind(roll)] },
    ...{ speed: 1, duration: 20 * turn, tick: turn / 100 },
  })
  const samples: { angle: number; value: number }[] = []
  finish(run, ({ y, line: { spans, rewindRoll } }) => {
    samples.push({ angle: y[rewindRoll.states.angle ?? -1], value: spans.force[1] / EA })
  })
  const { amplitude, late } = harmonic(samples.slice(-400))
  // the arm pulls: in phase, through the same low pass, L = 1 m
  expect(amplitude / (2e-5 / 0.1 / Math.hypot(1, 10))).toBeCloseTo(1, 2.3)
  expect(Math.abs(late - Math.atan(10))).toBeLessThan(0.01)
})
