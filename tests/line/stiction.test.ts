/**
 * Dry friction that holds harder than it slides: rollers and carriages that let go, come to rest and stay. Coulomb friction; closed
 * forms own derivation.
 */
import { describe, expect, test } from 'vitest'
import { Switching } from '../../src/run/switching'
import { dancer, EA, finish, idler, nip, pointOf, rewind, runOf, slacken, span, timeOf, unwind } from './rig'
import type { Entry, Point, Setting } from './rig'

const standing = { speed: 0, threading: 100 }

/** A roller that does not turn. */
const held = { breakaway: '1000 N m' }

/** Lets everything go over that must, and evaluates the line. */
function settle({ line, y }: Point): number[] {
  new Switching(line).settle(0, y, () => undefined)
  return line.rates(0, y)
}

describe('a carriage on held film', () => {
  const MASS = 4
  const SLIDING = 4.7
  const START = 0.0002
  const film = (friction: number): Setting => ({
    line: [
      ...[unwind(100), span(1)],
      dancer('dancer', { ...held, slidingFriction: `${SLIDING} N`, frictionAtRest: `${friction} N` }),
      ...[span(1), rewind()],
    ],
    ...{ ...standing, duration: 0.2, tick: 1e-4 },
  })

  /** Deflection of the first start and of every turning point, and where it stays, m. */
  function swing(friction: number): { turns: number[]; stiffness: number; end: number; on: string } {
    let stiffness = 0
    const run = runOf(film(friction), ({ line, y }) => {
      stiffness = EA / y[0] + EA / y[1]
      y[line.carriages[0].state] = START
    })
    const { state } = run.line.carriages[0]
    const z: number[] = []
    finish(run, ({ y }) => z.push(y[state]))
    const turns = [START]
    for (let n = 1; n + 1 < z.length; n++) {
      const [before, after] = [z[n - 1] - z[n], z[n + 1] - z[n]]
      if (before * after <= 0) continue
      const bend = before + after
      turns.push(z[n] - (after - before) ** 2 / (8 * bend))
    }
    return { turns, stiffness, end: z[z.length - 1], on: run.line.carriages[0].on }
  }

  test.each([
    ['that of sliding', SLIDING],
    ['more than that of sliding', 12],
  ])('loses 4 F_c/k a cycle and stays inside F_s/k, with friction at rest %s', (_, friction) => {
    const { turns, stiffness, end, on } = swing(friction)
    const lost = (2 * SLIDING) / stiffness
    const expected = [START]
    while (Math.abs(expected[expected.length - 1]) * stiffness > friction) {
      const last = expected[expected.length - 1]
      expected.push(Math.sign(-last) * (Math.abs(last) - lost))
    }
    expect(expected.length).toBeGreaterThan(8)
    expect(turns.length).toBeGreaterThanOrEqual(8)
    turns.slice(0, 8).forEach((z, n) => expect(z / expected[n]).toBeCloseTo(1, 2))
    for (let n = 2; n < 8; n++) expect((Math.abs(turns[n - 2]) - Math.abs(turns[n])) / (2 * lost)).toBeCloseTo(1, 2)
    expect(end).toBeCloseTo(expected[expected.length - 1], 8)
    expect(Math.abs(end)).toBeLessThanOrEqual(friction / stiffness)
    expect(on).toBe('stuck')
    if (friction > SLIDING) expect(Math.abs(end)).toBeGreaterThan(SLIDING / stiffness)
  })

  test.each([-1, 1])('lets go just above its friction at rest (%d), and starts with (F_s - F_c)/M', (side) => {
    for (const [share, moves] of [
      [1 - 1e-6, false],
      [1 + 1e-6, true],
    ] as const) {
      const point = pointOf(film(12))
      const [carriage] = point.line.carriages
      point.y[carriage.state] = (side * 12 * share) / (EA / point.y[0] + EA / point.y[1])
      const acceleration = settle(point)[carriage.state + 1]
      expect(carriage.on).toBe(moves ? 'free' : 'stuck')
      expect(acceleration).toBeCloseTo(moves ? (-side * (12 - SLIDING)) / MASS : 0, 4)
    }
  })

  test('friction at rest alone, without any while it slides, holds it from the start', () => {
    const alone = { ...held, slidingFriction: '0 N', frictionAtRest: '12 N' }
    const line = [unwind(100), span(1), dancer('dancer', alone), span(1), rewind()]
    const run = runOf({ line, ...standing, duration: 0.1 }, ({ line: { carriages }, y }) => {
      y[carriages[0].state] = 1e-5
    })
    finish(run)
    expect(run.y[run.line.carriages[0].state]).toBe(1e-5)
  })
})

describe('an idler', () => {
  const line = [
    ...[unwind(100), span(1), idler('idler', { drag: '0.1 N m', breakaway: '0.5 N m' }), span(1)],
    rewind({ draw: '20 %' }),
  ]
  const RADIUS = 0.05

  test.each([-1, 1])('lets go just above its breakaway (%d), and starts with (breakaway - drag)/J', (side) => {
    for (const [share, turns] of [
      [1 - 1e-9, false],
      [1 + 1e-9, true],
    ] as const) {
      const point = pointOf({ line, ...standing })
      const { rollers, spans, unwoundState } = point.line
      spans.hold(0, 100, point.y, unwoundState)
      spans.hold(1, 100 + (side * share * 0.5) / RADIUS, point.y, unwoundState)
      settle(point)
      expect(rollers.mode[1]).toBe(turns ? side : 0)
      expect(rollers.acceleration[1]).toBeCloseTo(turns ? (side * (0.5 - 0.1)) / 0.002 : 0, 4)
    }
  })

  test('is told to turn at the instant at which its torque passes breakaway', () => {
    const ramp = { at: '0 s', do: 'start', to: '0.02 m/s', in: '1 s' }
    const run = runOf({ line, ...standing, stage: [ramp], duration: 0.5 })
    finish(run)
    // film fed into the first span as it was wound, and drawn out of the second at that span's own strain
    const strained = 1 + 100 / EA
    const torque = (t: number) => {
      const moved = (0.02 * t * t) / 2
      const [first, second] = [(1 + moved) / strained, Math.exp(-1.2 * moved) / strained]
      return RADIUS * EA * (1 / second - 1 / first)
    }
    let [before, after] = [0, 0.5]
    while (after - before > 1e-12) {
      const middle = (before + after) / 2
      if (torque(middle) > 0.5) after = middle
      else before = middle
    }
    expect(Math.abs(timeOf(run, 'turns', 'idler') - after)).toBeLessThan(2e-7)
  })
})

test('a stopped line keeps unequal tensions, and no roller holds more than its breakaway', () => {
  const sticky = { drag: '0.05 N m', breakaway: '0.2 N m' }
  const names = ['a', 'b', 'c', 'd', 'e']
  const line = [
    ...[unwind(100), span(1, 1e-3), ...names.flatMap((name) => [idler(name, sticky), span(0.5, 1e-3)])],
    ...[nip('nip', { draw: '0.02 %' }), span(1, 1e-3), rewind()],
  ]
  const stage = [{ at: '0.1 s', do: 'stop', in: '1 s' }]
  const seen: number[][] = []
  const run = runOf({ line, speed: 0.5, stage, rounding: 0.2, duration: 3 })
  finish(run, ({ line: { spans }, time }) => {
    if (time > 2) seen.push(Array.from(spans.force))
  })
  const { rollers, spans } = run.line
  for (let i = 1; i <= names.length; i++) {
    expect(rollers.mode[i]).toBe(0)
    expect(rollers.speed[i]).toBe(0)
    expect(Math.abs(rollers.filmTorque(i, spans.force))).toBeLessThanOrEqual(0.2)
  }
  expect(Math.max(...seen[0]) - Math.min(...seen[0])).toBeGreaterThan(1)
  seen[seen.length - 1].forEach((force, j) => expect(force).toBeCloseTo(seen[0][j], 6))
})

describe('a dancer on its stop', () => {
  const alone = (friction: Entry) =>
    runOf(
      {
        line: [
          unwind(100),
          span(1),
          dancer('dancer', { force: '20 N', upperStop: '0.1 m', ...friction }),
          span(1),
          rewind(),
        ],
        ...{ ...standing, duration: 4, tick: 0.01 },
        stage: [
          { at: '1 s', do: 'dancer force', dancer: 'dancer', to: '-20 N', in: '1 s' },
          { at: '3 s', do: 'dancer force', dancer: 'dancer', to: '20 N', in: '1 s' },
        ],
      },
      (point) => slacken(point, 0.5),
    )

  // the force is led with a quarter of the second rounded at either end: straight, with 40 N in 0.75 s, in between
  test.each([
    ['without friction', {}, 20, 0],
    ['with 2 N sliding and 8 N at rest', { slidingFriction: '2 N', frictionAtRest: '8 N' }, 18, 8],
  ])('%s: leaves when the net force points away, and its time there is counted', (_, friction, net, rest) => {
    const run = alone(friction)
    const summary = finish(run)
    const landing = Math.sqrt((2 * 0.1 * 4) / net)
    const leaving = 1.5 + (rest / 40) * 0.75
    expect(Math.abs(timeOf(run, 'stop touched') - landing)).toBeLessThan(3e-7)
    const left = run.happenings.filter((h) => h.what === 'stop left').map((h) => h.at)
    expect(left).toHaveLength(2)
    expect(Math.abs(left[0] - leaving)).toBeLessThan(3e-7)
    expect(Math.abs(left[1] - leaving - 2)).toBeLessThan(3e-7)
    const lower = run.happenings.filter((h) => h.what === 'stop touched')[1]
    expect(lower.say).toContain('lower stop')
    const onStops = leaving - landing + (left[1] - lower.at)
    expect(Math.abs(summary.dancers[0].stopSeconds - onStops)).toBeLessThan(1e-6)
  })
})

describe('a brake alone holds the roll', () => {
  /** J a/R of the full roll in the straight part of the stop, N m */
  const DECELERATION = 1 / (4 * 0.75)
  const inertia = 0.01 + (Math.PI / 2) * 1390 * (0.2 ** 4 - 0.045 ** 4)
  const needed = (inertia * DECELERATION) / 0.2
  const slackWith = (torque: number) => {
    const line = [
      unwind(40, { drive: { kind: 'brake', torque: `${torque} N m` }, drag: '0.5 N m' }),
      ...[span(0.25, 0.02), nip('nip'), span(1, 0.02), rewind()],
    ]
    const stage = [{ at: '0.2 s', do: 'stop', in: '4 s' }]
    return finish(runOf({ line, speed: 1, stage, rounding: 0.25, duration: 5, tolerance: 1e-7 })).spans[0].slackSeconds
  }

  test('the film goes slack exactly when the inertia asks for more than brake and drag give', () => {
    expect(slackWith(1.005 * needed - 0.5)).toBe(0)
    expect(slackWith(0.995 * needed - 0.5)).toBeGreaterThan(0.1)
  })
})

test('a line that stands is held as it is, bit for bit, without a step of the solver', () => {
  const held = { breakaway: '0.05 N m', drag: '0.02 N m' }
  const line = [unwind(100), span(0.5, 1e-3), idler('idler', held), span(0.5, 1e-3), nip('nip'), span(1), rewind()]
  const run = runOf({ line, ...standing, duration: 1 })
  const before = [...run.y]
  const { solver } = finish(run)
  expect([...run.y]).toEqual(before)
  expect(solver.steps).toBe(0)
})
