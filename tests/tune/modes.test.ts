import fc from 'fast-check'
import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { modesOf, type Modes } from '../../src/tune/modes'
import type { Point } from '../../src/tune/setup'
import { readScenario } from '../../src/scenario/read'
import type { Scenario } from '../../src/scenario/schema'
import { dancer, idler, nip, rewind, scenarioOf, span, trim, unwind, type Setting } from '../line/rig'

function modes(setting: Setting, point: Point = {}): Modes {
  const found = modesOf(scenarioOf(setting), point)
  if (!found.ok) throw new Error(found.say)
  return found
}

function shipped(file: string): Scenario {
  const reading = readScenario(readFileSync(`scenarios/${file}`, 'utf8'))
  if (!reading.ok) throw new Error(reading.problems.map((p) => p.say).join(' '))
  return reading.scenario
}

const servo = { kind: 'servo', bandwidth: '15 rad/s', torqueLimit: '500 N m' }
const zone = [
  ...[unwind(100, { drive: servo }), span(0.6, 1e-3), idler('idler 1'), span(0.5, 1e-3)],
  dancer('dancer', { stiffness: '150 N/m', damping: '20 N s/m' }),
  ...[span(0.5, 1e-3), nip('nip'), span(1, 1e-3), rewind()],
]
const control = [trim('dancer', 'unwind', { gain: '1.2 1/s', integral: '0.3 1/s^2' })]

describe('modes', () => {
  test('a span between driven rollers carries its film away in L/v', () => {
    const { modes: found, stable } = modes({ line: [unwind(100), span(2), nip('nip'), span(3), rewind()], speed: 1.5 })
    expect(stable).toBe(true)
    expect(found.map((m) => m.kind)).toEqual(['film transport', 'film transport'])
    expect(found[0].timeConstant).toBeCloseTo(2, 6)
    expect(found[1].timeConstant).toBeCloseTo(2 / 1.5, 6)
    expect(found[0].say).toContain('nip → rewind')
  })

  test("the kinds are told apart: loop, dancer on held film, rollers on film, drive; the dancer's own frequency stands beside", () => {
    const { modes: found, dancers } = modes({ line: zone, control, speed: 0.5 })
    const kinds = found.map((m) => m.kind)
    expect(kinds).toContain('loop')
    expect(kinds).toContain('dancer on held film')
    expect(kinds).toContain('rollers on film')
    expect(dancers[0].own).toBeCloseTo(Math.sqrt(150 / 4) / (2 * Math.PI), 9)
    const held = found.find((m) => m.kind === 'dancer on held film')
    expect(held?.parts[0].part).toBe('dancer')
    expect((held?.frequency ?? 0) > 5 * dancers[0].own).toBe(true)
    const loop = found.find((m) => m.kind === 'loop')
    expect(loop?.parts.some((p) => p.part.includes('trim of unwind') || p.part === 'dancer')).toBe(true)
  })

  test('shares of a mode sum to no more than 1 and none is negative', () => {
    for (const m of modes({ line: zone, control, speed: 0.5 }).modes) {
      expect(m.parts.reduce((sum, p) => sum + p.share, 0)).toBeLessThan(1 + 1e-9)
      expect(Math.min(...m.parts.map((p) => p.share))).toBeGreaterThan(0)
    }
  })

  test('modes of a line with a quick program are those of the continuous law; of a slow one they are less damped', () => {
    const slowest = (sample?: string) => {
      const law = { gain: '1.2 1/s', integral: '0.3 1/s^2', ...(sample === undefined ? {} : { program: { sample } }) }
      const { modes: found } = modes({ line: zone, control: [trim('dancer', 'unwind', law)], speed: 0.5, tick: 0.001 })
      return found.filter((m) => m.kind === 'loop' && m.frequency > 0)[0]
    }
    const continuous = slowest()
    const quick = slowest('1 ms')
    expect(quick.frequency / continuous.frequency).toBeCloseTo(1, 2)
    expect(quick.damping / continuous.damping).toBeCloseTo(1, 2)
    expect(slowest('200 ms').damping).toBeLessThan(0.98 * continuous.damping)
  })

  test('an integral gain too high does not settle, and is said so', () => {
    const wild = [trim('dancer', 'unwind', { gain: '1 1/s', integral: '100 1/s^2' })]
    const found = modes({ line: zone, control: wild, speed: 0.5 })
    expect(found.stable).toBe(false)
    expect(found.leastDamping).toBeLessThan(0)
    expect(found.modes.some((m) => m.say.includes('grows'))).toBe(true)
  })

  test('a dancer that nothing brings back drifts', () => {
    const found = modes({
      line: zone.map((p) => (p['part'] === 'dancer' ? { ...p, stiffness: '0 N/m' } : p)),
      speed: 0.5,
    })
    expect(found.modes.some((m) => m.kind === 'drift' && m.say.includes('nothing brings it back'))).toBe(true)
    expect(found.stable).toBe(true)
  })

  test('at standstill everything is free to move, and the notes say so', () => {
    const found = modes({ line: zone, control, speed: 0.5 }, { speed: 0 })
    expect(found.notes.join(' ')).toContain('The line stands')
    expect(found.modes.some((m) => m.kind === 'dancer on held film')).toBe(true)
  })

  test('a smaller roll turns with less inertia: its swing on the film is quicker', () => {
    const torque = { kind: 'torque', tension: '100 N', torqueLimit: '500 N m' }
    const line = [unwind(100), span(1), nip('nip'), span(1, 1e-3), rewind({ drive: torque })]
    const at = (rewindDiameter: number) =>
      modes({ line, speed: 0.5 }, { rewindDiameter }).modes.find((m) => m.frequency > 0)?.frequency ?? 0
    expect(at(0.1)).toBeGreaterThan(1.5 * at(0.4))
  })

  test('what cannot be looked at is told: a roll smaller than its core, a speed below 0, no steady state', () => {
    const scenario = scenarioOf({ line: zone, control, speed: 0.5 })
    expect(modesOf(scenario, { unwindDiameter: 0.01 })).toMatchObject({ ok: false, field: 'diameter of unwind' })
    expect(modesOf(scenario, { speed: -1 })).toMatchObject({ ok: false })
    expect(modesOf(scenario, { speed: Number.NaN })).toMatchObject({ ok: false })
    const line = [unwind(100), span(1), nip('nip', { draw: '-1 %' }), span(1), rewind()]
    const slack = modesOf(scenarioOf({ line, speed: 0.5 }))
    expect(slack).toMatchObject({ ok: false, say: expect.stringContaining('steady') as string })
  })

  test('every shipped scenario has modes at any speed and diameter, without a figure that is none', () => {
    const files = readdirSync('scenarios').filter((f) => f.endsWith('.json'))
    for (const file of files) {
      const scenario = shipped(file)
      const points = fc.sample(
        fc.record({
          speed: fc.integer({ min: 0, max: 100 }).map((k) => k / 100),
          unwindDiameter: fc.integer({ min: 90, max: 500 }).map((d) => d / 1000),
        }),
        { seed: 3, numRuns: 3 },
      )
      for (const point of [{}, ...points]) {
        const found = modesOf(scenario, point)
        if (!found.ok) {
          expect(found.say.length).toBeGreaterThan(20)
          continue
        }
        for (const m of found.modes) {
          expect([m.re, m.im, m.frequency, m.damping].every(Number.isFinite)).toBe(true)
        }
      }
    }
  })
})
