/** The roll that film goes onto: what it holds, what it takes, what it remembers. Newton, geometry, conservation of film. */
import { describe, expect, test } from 'vitest'
import {
  dancer,
  EA,
  finish,
  idler,
  moveDancer,
  nip,
  pet,
  pointOf,
  rewind,
  runOf,
  span,
  trim,
  unwind,
  type Entry,
} from './rig'
import type { Setting } from './rig'

const torque = (changes: Entry = {}): Entry => ({
  ...{ drag: '0.5 N m', viscousDrag: '0.02 N m s' },
  drive: { kind: 'torque', tension: '120 N', torqueLimit: '200 N m', ...changes },
})
const line = (changes: Entry, damping = 0.002) => [
  ...[unwind(100), span(1, damping), nip('nip'), span(0.8, damping), rewind(changes)],
]

describe('on torque', () => {
  test.each(['100 mm', '200 mm', '700 mm'])(
    'a roll of %s holds the tension asked for, its drag made up for',
    (diameter) => {
      const { spans, rollers } = pointOf({ line: line({ ...torque(), diameter }) }).line
      expect(spans.force[1]).toBeCloseTo(120, 6)
      const drag = 0.5 + 0.02 * rollers.speed[2]
      expect(rollers.motor[2]).toBeCloseTo(120 * rollers.radius[2] + drag, 6)
    },
  )

  test('taper by the roll as it is', () => {
    const tapered = torque({ law: 'linear', taper: '40 %', fullDiameter: '490 mm' })
    const { force } = pointOf({ line: line({ ...tapered, diameter: '290 mm' }) }).line.spans
    expect(force[1]).toBeCloseTo(120 * (1 - 0.4 / 2), 6)
  })

  test("tension follows the law while the roll grows; slowing down at constant speed the roll gives J w R'/R^2 more", () => {
    const thick = { A: { ...pet, thickness: '500 µm', modulus: '0.45 GPa' } }
    const changes = { ...torque({ law: 'hyperbolic', taper: '60 %' }), diameter: '91 mm' }
    const run = runOf({ line: line(changes), films: thick, duration: 10, tick: 0.05 })
    finish(run, ({ time, line: { rollers, spans } }) => {
      // the start holds the radii: what growing does comes in after it
      if (time < 0.5) return
      const r = rollers.radius[2]
      const growth = (500e-6 * rollers.flux[2]) / (2 * Math.PI * r)
      const slowing = (rollers.inertia[2] * rollers.speed[2] * growth) / r ** 2
      expect(spans.force[1]).toBeCloseTo(120 * (1 - 0.6 * (1 - 0.045 / r)) + slowing, 1)
    })
    expect(run.line.rollers.radius[2]).toBeGreaterThan(0.055)
  })

  test('a ramp does not disturb it: the inertia of the roll is made up for', () => {
    const stage = [{ at: '0 s', do: 'speed', to: '3 m/s', in: '2 s' }]
    const run = runOf({ line: line({ ...torque(), diameter: '500 mm' }), stage, duration: 2, rounding: 0.2 })
    const { spans } = finish(run)
    const inertiaForce = (run.line.rollers.inertia[2] * 1) / 0.25 ** 2
    expect(inertiaForce).toBeGreaterThan(100)
    expect(spans[1].tension.min).toBeGreaterThan(119)
    expect(spans[1].tension.max).toBeLessThan(121)
  })

  test('at its torque limit it holds what that gives', () => {
    const { spans, rollers } = pointOf({ line: line(torque({ torqueLimit: '8 N m' })) }).line
    expect(rollers.motor[2]).toBe(8)
    expect(spans.force[1]).toBeCloseTo((8 - 0.5 - 0.02 * rollers.speed[2]) / 0.1, 6)
  })

  test('at rest it stands with its tension on, and starts without letting go', () => {
    const stage = [{ at: '0.5 s', do: 'start', to: '1 m/s', in: '2 s' }]
    const run = runOf({ line: line(torque()), speed: 0, threading: 120, stage, duration: 4, rounding: 0.25 })
    const standing: number[] = []
    const { spans } = finish(run, ({ time, line: { spans: film } }) => {
      if (time < 0.5) standing.push(film.force[1])
    })
    for (const force of standing) expect(force).toBeCloseTo(120, 6)
    expect(spans[1].tension.end).toBeCloseTo(120, 1)
    // it sticks by its drag at first: that much may go before it turns
    expect(spans[1].tension.min).toBeGreaterThan(120 - 2 * (0.5 / 0.1))
  })
})

test('what is wound and the radius agree at every sample', () => {
  const run = runOf({ line: line({ draw: '0.1 %' }), speed: 5, duration: 5 })
  finish(run, ({ y, line: { rollers, woundState } }) => {
    expect(rollers.radius[2] ** 2 - 0.1 ** 2).toBeCloseTo((50e-6 * y[woundState]) / Math.PI, 13)
  })
  expect(run.y[run.line.woundState]).toBeCloseTo((5 * 5 * 1.001) / ((1 + 100 / EA) * 1.001), 6)
})

test('a splice is a ring in the roll: from there on laps of the new film', () => {
  const B = { ...pet, thickness: '150 µm' }
  const splice = {
    ...{ at: '0.5 s', do: 'flying splice', film: 'B', patch: '0 mm' },
    roll: { diameter: '400 mm', woundTension: '300 N' },
  }
  const run = runOf({ line: line({}), films: { B }, stage: [splice], duration: 6 })
  let atSplice = NaN
  finish(run, ({ y, line: { rollers, woundState } }) => {
    if (rollers.material[2] === 0) atSplice = y[woundState]
    else {
      const area = 50e-6 * atSplice + 150e-6 * (y[woundState] - atSplice)
      expect(Math.PI * (rollers.radius[2] ** 2 - 0.1 ** 2)).toBeCloseTo(area, 5)
    }
  })
  expect(run.line.rollers.material[2]).toBe(1)
  // 1.8 m of line lay before the splice when it was made, and 0.5 m had gone
  expect(atSplice).toBeCloseTo(2.3, 1)
})

describe('the stretch that film was wound with', () => {
  test('is written as it went on', () => {
    const changes = { ...torque({ law: 'hyperbolic', taper: '100 %' }), diameter: '91 mm' }
    const thick = { A: { ...pet, thickness: '500 µm', modulus: '0.45 GPa' } }
    const run = runOf({ line: line(changes), films: thick, duration: 3, tick: 0.01 })
    const seen: { s: number; stretch: number }[] = []
    finish(run, ({ time, y, line: { spans, woundState } }) => {
      if (time > 0) seen.push({ s: y[woundState], stretch: 1 + spans.pull[1] / EA })
    })
    for (const { s, stretch } of seen) expect(run.line.wound.at(s)).toBeCloseTo(stretch, 12)
    expect(seen[0].stretch - (seen.at(-1)?.stretch ?? 0)).toBeGreaterThan(1e-5)
  })

  /** At rest the dancer stands above its set point: the rewind lets film back into the line. */
  const back: Setting = {
    line: [
      ...[unwind(100), span(1), nip('nip'), span(0.4, 0.001), dancer('dancer', { stiffness: '2000 N/m' })],
      ...[span(0.6, 0.001), idler('idler'), span(0.5, 0.001), rewind({ drive: { kind: 'lag', lag: '50 ms' } })],
    ],
    ...{ control: [trim('dancer', 'rewind', { gain: '3 1/s' })], speed: 0, threading: 100, duration: 2 },
  }

  test('comes off again when the roll turns back', () => {
    const run = runOf(back, (point) => moveDancer(point, -0.05, 150, [3]))
    const last = run.line.rollers.count - 1
    let given = 0
    finish(run, ({ line: { rollers, spans } }) => {
      if (rollers.speed[last] > -1e-6) return
      given++
      expect(rollers.flux[last]).toBeCloseTo((rollers.radius[last] * rollers.speed[last]) / spans.woundOn, 14)
    })
    expect(given).toBeGreaterThan(50)
    expect(run.y[run.line.woundState]).toBeLessThan(-0.05)
    expect(run.line.rollers.radius[last]).toBeLessThan(0.1)
  })
})
