/** An air cylinder on a dancer: statics through a lever, and the gas laws. Textbook; closed forms own derivation. */
import { expect, test } from 'vitest'
import { ATMOSPHERE, forceOf, gasSpring, pressureFor, volumeAt, type CylinderSpec } from '../../src/line/cylinder'
import { dancer, evaluate, finish, pointOf, rewind, runOf, slacken, span, unwind } from './rig'
import type { Entry, Setting } from './rig'

const spec: CylinderSpec = {
  ...{ bore: 0.04, count: 2, pressure: 80e3, lever: 0.4, deadVolume: 3e-4, lag: 0.1, exponent: 1.4 },
}
const AREA = (Math.PI * 0.04 ** 2) / 4

const cylinder = {
  ...{ bore: '40 mm', count: 2, pressure: '80 kPa', lever: 0.4, deadVolume: '300 cm^3', lag: '100 ms', exponent: 1.4 },
}
/** N, that it pushes with at its set pressure */
const PUSH = 80e3 * 2 * AREA * 0.4

const line = (changes: Entry = {}, air: Entry = {}): Entry[] => [
  ...[unwind(PUSH / 2), span(1, 1e-3)],
  dancer('dancer', { force: undefined, cylinder: { ...cylinder, ...air }, ...changes }),
  ...[span(1, 1e-3), rewind()],
]
const standing: Omit<Setting, 'line'> = { speed: 0, threading: 40 }

test('force and pressure through count, bore and lever, and back', () => {
  expect(forceOf(spec, 80e3)).toBeCloseTo(PUSH, 9)
  expect(pressureFor(spec, PUSH)).toBeCloseTo(80e3, 6)
})

test('its gas spring is the slope of p V^n = const at the carriage', () => {
  const p = 2.1e5
  const above = 0.15
  const pushed = (z: number) => forceOf(spec, p * (volumeAt(spec, above) / volumeAt(spec, z)) ** 1.4 - ATMOSPHERE)
  const slope = (pushed(above + 1e-5) - pushed(above - 1e-5)) / 2e-5
  expect(gasSpring(spec, p, above) / -slope).toBeCloseTo(1, 7)
})

test('a standing line carries half of its force in either strand', () => {
  expect(pointOf({ line: line(), ...standing }).line.spans.force[0]).toBeCloseTo(PUSH / 2, 6)
  expect(pointOf({ line: line() }).line.spans.force[1]).toBeCloseTo(PUSH / 2, 5)
})

test('the regulator restores pressure as exp(-t/T) while the carriage stands', () => {
  const held = { slidingFriction: '1000 N' }
  const run = runOf({ line: line(held), ...standing, duration: 0.5 }, ({ line: { carriages }, y }) => {
    const state = carriages[0].cylinder?.state ?? -1
    y[state] += 20e3
  })
  const state = run.line.carriages[0].cylinder?.state ?? -1
  finish(run, ({ time, y }) => {
    expect(y[state] - ATMOSPHERE - 80e3).toBeCloseTo(20e3 * Math.exp(-time / 0.1), 1)
  })
})

/** The carriage alone between slack strands, its air shut in. */
const alone = (lag: string, from: number, duration: number) =>
  runOf({ line: line({ stiffness: '800 N/m' }, { lag }), ...standing, duration, tick: 0.005 }, (point) => {
    const [{ state, cylinder: air }] = point.line.carriages
    point.y[state] = from
    if (air !== undefined) point.y[air.state] = ATMOSPHERE + 80e3
    slacken(point, 0.5)
  })

test('air shut in keeps p V^1.4 while the carriage swings', () => {
  const run = alone('100 s', -0.1, 1)
  const [{ state, cylinder: air }] = run.line.carriages
  const shut = (y: readonly number[]) => y[air?.state ?? -1] * volumeAt(spec, y[state] + 0.2) ** 1.4
  const start = shut(run.y)
  let [low, high] = [Infinity, -Infinity]
  finish(run, ({ y, time }) => {
    // in 100 s the regulator makes good what differs by: a hundredth of it in this second
    expect(Math.abs(shut(y) / start - 1)).toBeLessThan(0.006 * time + 1e-9)
    low = Math.min(low, y[state])
    high = Math.max(high, y[state])
  })
  expect(high - low).toBeGreaterThan(0.1)
})

test('a fast swing feels spring and gas spring together', () => {
  const run = alone('100 s', 0.1249, 1.2)
  const { state } = run.line.carriages[0]
  // where force and spring balance; the swing about there is small
  const stiffness = 800 + gasSpring(spec, ATMOSPHERE + 80e3, PUSH / 800 + 0.2)
  const crossings: number[] = []
  const z: number[] = []
  finish(run, ({ y }) => z.push(y[state]))
  const middle = (Math.max(...z) + Math.min(...z)) / 2
  for (let n = 1; n < z.length; n++) {
    if ((z[n - 1] - middle) * (z[n] - middle) > 0) continue
    crossings.push(0.005 * (n - 1 + (middle - z[n - 1]) / (z[n] - z[n - 1])))
  }
  const half = (crossings[crossings.length - 1] - crossings[0]) / (crossings.length - 1)
  expect(crossings.length).toBeGreaterThan(4)
  expect((Math.PI / half) ** 2 * 4).toBeGreaterThan(0.99 * stiffness)
  expect((Math.PI / half) ** 2 * 4).toBeLessThan(1.01 * stiffness)
})

test('another pressure is led to, and tension follows', () => {
  const stage = [{ at: '0.1 s', do: 'dancer pressure', dancer: 'dancer', to: '120 kPa', in: '0.3 s' }]
  const control = [{ control: 'position trim', measures: 'dancer', drives: 'unwind', kind: 'speed', gain: '3 1/s' }]
  const run = runOf({ line: line({ damping: '100 N s/m' }), control, stage, speed: 0.5, duration: 6 })
  finish(run)
  expect(evaluate(run).spans.force[0]).toBeCloseTo((PUSH / 2) * 1.5, 1)
  expect(run.happenings[0].say).toBe('The pressure of dancer changes.')
})

test('a taper sets the pressure that its tension needs', () => {
  const control = [
    { control: 'force taper', measures: 'rewind', drives: 'dancer', tension: '60 N', law: 'hyperbolic', taper: '40 %' },
  ]
  const { line: built, y } = pointOf({ line: line(), control, ...standing })
  const tapered = 60 * (1 - 0.4 * (1 - 0.045 / 0.1))
  expect(built.spans.force[1]).toBeCloseTo(tapered, 6)
  const [{ cylinder: air }] = built.carriages
  expect(y[air?.state ?? -1] - ATMOSPHERE).toBeCloseTo(pressureFor(spec, 2 * tapered), 4)
})
