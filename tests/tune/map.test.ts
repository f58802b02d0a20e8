/** Maps: the limit of Routh, and points on either side of a map's boundary, tried in time. */
import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { along, figureOf, mapper, quantityAt, shareOf, stations, varied, type Axis } from '../../src/tune/map'
import { plantOf } from '../../src/tune/plant'
import { standAt } from '../../src/tune/setup'
import { readScenario } from '../../src/scenario/read'
import type { Scenario } from '../../src/scenario/schema'
import { Line } from '../../src/line/line'
import { operatingPoint } from '../../src/line/rest'
import { Run } from '../../src/run/run'
import { dancer, nip, rewind, scenarioOf, span, trim, unwind, type Entry } from '../line/rig'

const DURATION = 7
const GAIN = 'control/0/gain'
const LAG = 'line/unwind/drive/lag'

/** A light dancer of two strands behind a lagging drive: stable exactly when Kp > lag x Ki. */
function lagging(program?: Entry): Scenario {
  const light = { mass: '0.5 kg', damping: '10 N s/m' }
  const line = [
    ...[
      unwind(100, { drive: { kind: 'lag', lag: '100 ms' } }),
      span(0.3, 1e-3),
      dancer('dancer', light),
      span(0.3, 1e-3),
    ],
    ...[nip('nip'), span(0.3, 1e-3), rewind()],
  ]
  const control = [
    trim('dancer', 'unwind', { gain: '6 1/s', integral: '40 1/s^2', ...(program === undefined ? {} : { program }) }),
  ]
  return scenarioOf({ line, control, speed: 0.5, duration: DURATION, tick: 0.02, tolerance: 1e-6 })
}

const across: Axis = { path: LAG, from: 0.05, to: 0.2, scale: 'linear' }
const up: Axis = { path: GAIN, from: 0.5, to: 40, scale: 'log' }

function damping(scenario: Scenario): (lag: number, gain: number) => number {
  const map = mapper(scenario, { across, up, figure: { of: 'least damping' } })
  if (!map.ok) throw new Error(map.say)
  return (lag, gain) => map.cell(lag, gain).value
}

/** Gain at which the map's figure passes 0 between two gains. */
function boundary(at: (gain: number) => number, low: number, high: number): number {
  let [from, to] = [low, high]
  const below = at(from) > 0
  for (let k = 0; k < 30; k++) {
    const middle = Math.sqrt(from * to)
    if (at(middle) > 0 === below) from = middle
    else to = middle
  }
  return Math.sqrt(from * to)
}

/** 1/s: growth of the dancer's swing in a run of the simulator that begins 0.2 mm off. */
function growth(scenario: Scenario, lag: number, gain: number): number {
  const changed = varied(scenario, [
    [LAG, lag],
    [GAIN, gain],
  ]).scenario as Scenario
  const line = new Line(changed)
  const start = operatingPoint(line)
  if (!start.ok) throw new Error(start.say)
  const { y } = start
  const [carriage] = line.carriages
  y[carriage.state] = 2e-4
  carriage.place(0, y)
  for (const j of carriage.strands.spans) line.spans.hold(j, 100, y, line.unwoundState)
  const run = new Run(changed, line, y)
  const squares = [0, 0, 0, 0]
  for (;;) {
    const outcome = run.step()
    const quarter = Math.min(3, Math.floor((4 * run.time) / DURATION))
    squares[quarter] += run.y[carriage.state] ** 2
    if (outcome === undefined) continue
    if (outcome.outcome !== 'finished') throw new Error(JSON.stringify(outcome))
    return Math.log(squares[3] / squares[1]) / DURATION
  }
}

describe('maps', () => {
  test('the boundary of the lagging drive is that of Routh: gain = lag x integral gain', () => {
    const at = damping(lagging())
    for (const lag of [0.06, 0.1, 0.15]) {
      expect(boundary((gain) => at(lag, gain), 0.5, 40) / (40 * lag)).toBeCloseTo(1, 2)
    }
  })

  test(
    '20 random points on either side of the boundary behave so in time, continuous and as a program',
    { timeout: 60_000 },
    () => {
      const lags = fc.sample(fc.integer({ min: 55, max: 190 }), { seed: 11, numRuns: 20 }).map((ms) => ms / 1000)
      const program = { sample: '20 ms', filter: '10 ms', delayed: true }
      const [continuous, sampled] = [lagging(), lagging(program)]
      lags.forEach((lag, k) => {
        const scenario = k % 2 === 0 ? continuous : sampled
        const at = damping(scenario)
        const limit = boundary((gain) => at(lag, gain), 0.5, 20)
        const [below, above] = [0.96 * limit, 1.04 * limit]
        expect(at(lag, below)).toBeLessThan(0)
        expect(at(lag, above)).toBeGreaterThan(0)
        expect(growth(scenario, lag, below)).toBeGreaterThan(0)
        expect(growth(scenario, lag, above)).toBeLessThan(0)
      })
    },
  )

  test('a cell is the same whichever cell came before it', () => {
    const one = damping(lagging())
    const values = stations(up, 6).flatMap((gain) => stations(across, 6).map((lag) => one(lag, gain)))
    const other = damping(lagging())
    const backwards = [...stations(up, 6)]
      .reverse()
      .flatMap((gain) => [...stations(across, 6)].reverse().map((lag) => other(lag, gain)))
    backwards.reverse().forEach((value, k) => expect(value).toBeCloseTo(values[k], 6))
  })

  test('speed and diameters are sides too; what cannot be is told', () => {
    const scenario = lagging()
    const map = mapper(scenario, {
      across: { path: 'speed', from: 0.1, to: 1, scale: 'log' },
      up: { path: 'unwind diameter', from: 0.09, to: 0.5, scale: 'linear' },
      figure: { of: 'phase margin', loop: 0 },
    })
    if (!map.ok) throw new Error(map.say)
    expect(map.cell(0.5, 0.3).value).toBeGreaterThanOrEqual(-Math.PI)
    expect(map.cell(0.5, 0.05).say).toContain('as large as its core')
    expect(
      mapper(scenario, { across: { ...across, path: 'line/dancer/mess' }, up, figure: { of: 'least damping' } }),
    ).toMatchObject({
      ok: false,
      say: expect.stringContaining('mass') as string,
    })
    expect(mapper(scenario, { across: { ...across, from: -1 }, up, figure: { of: 'least damping' } }).ok).toBe(false)
    expect(mapper(scenario, { across: { ...across, to: across.from }, up, figure: { of: 'least damping' } }).ok).toBe(
      false,
    )
    expect(quantityAt(scenario, 'line/dancer/name')).toMatchObject({ ok: false })
    expect(quantityAt(scenario, 'line/dancer/mass')).toMatchObject({ ok: true, kind: 'mass', value: 0.5 })
  })

  test('places on a side and back', () => {
    for (const axis of [across, up]) {
      fc.assert(
        fc.property(fc.integer({ min: 0, max: 1000 }), (n) => {
          expect(shareOf(axis, along(axis, n / 1000))).toBeCloseTo(n / 1000, 12)
        }),
      )
    }
  })
})

describe('a map over numbers of a law', () => {
  const shipped = (name: string): Scenario => {
    const reading = readScenario(readFileSync(`scenarios/${name}.json`, 'utf8'))
    if (!reading.ok) throw new Error(name)
    return reading.scenario
  }

  test.each(['start-stop', 'loop-too-slow', 'continuous-to-indexing'])(
    'each cell is that of the line built anew, though the map builds it once: %s',
    (name) => {
      const scenario = shipped(name)
      const [gain, integral] = [1, 0.2].map((value, k): Axis => {
        return { path: ['control/0/gain', 'control/0/integral'][k], from: value / 20, to: value * 30, scale: 'log' }
      })
      for (const figure of [{ of: 'least damping' } as const, { of: 'phase margin', loop: 0 } as const]) {
        const map = mapper(scenario, { across: gain, up: integral, figure })
        if (!map.ok) throw new Error(map.say)
        for (const y of stations(integral, 4)) {
          for (const x of stations(gain, 4)) {
            const { scenario: there } = varied(scenario, [
              [gain.path, x],
              [integral.path, y],
            ])
            const standing = standAt(there)
            if (!standing.ok) throw new Error(standing.say)
            expect(map.cell(x, y).value).toBeCloseTo(figureOf(plantOf(standing, false), figure).value, 4)
          }
        }
      }
    },
  )
})
