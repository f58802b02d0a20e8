/**
 * A controller as a program: its recursion sample by sample, and that it acts at its samples only. Sampled PID, textbook; figures
 * reckoned here by closed forms or by a second recursion.
 */
import { describe, expect, test } from 'vitest'
import { Program, type ProgramSpec } from '../../src/line/program'
import { dancer, finish, idler, nip, rewind, runOf, span, trim, unwind, type Entry, type Setting } from './rig'

const SAMPLE = 0.02
const plain: ProgramSpec = {
  ...{ sample: SAMPLE, filter: 0, derivativeTime: 0, derivativeFilter: 0, delayed: false, deadBand: 0 },
}

/** Outputs of a program that starts at rest at 0 and then measures `course(n)` at sample n; its integral begins at 0. */
function outputs(
  changes: Partial<ProgramSpec>,
  course: (n: number) => number,
  count: number,
  gains = { gain: 2, integral: 0, limit: 1e9 },
  roll = 0.3,
): { u: number[]; integral: number[] } {
  const program = new Program({ ...plain, ...changes }, gains, -1)
  const y = [7, 0]
  program.resume(0, 0, 0, y, 1, roll)
  const [u, integral]: [number[], number[]] = [[], []]
  for (let n = 0; n < count; n++) {
    u.push(program.step(course(n), 0, y, 1, roll))
    integral.push(y[1])
  }
  expect(y[0]).toBe(7)
  return { u, integral }
}

const step = () => 0.01

function expectAll(found: readonly number[], expected: (n: number) => number): void {
  found.forEach((value, n) => expect(value).toBeCloseTo(expected(n), 13))
}

describe('one sample after the other', () => {
  test('proportional: -Kp e at once, for the drive feeds the dancer', () => {
    expectAll(outputs({}, (n) => 0.003 * n, 5).u, (n) => -2 * 0.003 * n)
  })

  test('filter: a step is followed as 1 - exp(-n T/T_f)', () => {
    const { u } = outputs({ filter: 0.05 }, step, 12)
    expectAll(u, (n) => -2 * 0.01 * (1 - Math.exp((-(n + 1) * SAMPLE) / 0.05)))
  })

  test('derivative: T_d times the slope, which its own filter follows as 1 - exp(-n T/T_g)', () => {
    const ramp = (n: number) => 0.004 * (n + 1)
    const { u } = outputs({ derivativeTime: 0.3, derivativeFilter: 0.06 }, ramp, 12)
    const slope = (n: number) => (0.004 / SAMPLE) * (1 - Math.exp((-(n + 1) * SAMPLE) / 0.06))
    expectAll(u, (n) => -2 * (ramp(n) + 0.3 * slope(n)))
    expectAll(outputs({ derivativeTime: 0.3 }, ramp, 5).u, (n) => -2 * (ramp(n) + (0.3 * 0.004) / SAMPLE))
  })

  test('integral: sums T e of the samples before', () => {
    const { u, integral } = outputs({}, step, 8, { gain: 2, integral: 5, limit: 1e9 })
    expectAll(u, (n) => -(2 * 0.01 + 5 * n * SAMPLE * 0.01))
    expectAll(integral, (n) => (n + 1) * SAMPLE * 0.01)
  })

  test('dead band: nothing within, continuous beyond, on either side', () => {
    const course = [0.001, -0.002, 0.002, 0.005, -0.0035]
    const { u, integral } = outputs({ deadBand: 0.002 }, (n) => course[n], 5, { gain: 2, integral: 0, limit: 1e9 })
    const e = [0, 0, 0, 0.003, -0.0015]
    expectAll(u, (n) => -2 * e[n])
    expect(integral[2]).toBeCloseTo(0, 15)
    expect(integral[4]).toBeCloseTo(SAMPLE * 0.0015, 13)
  })

  test.each([
    [0.05, 0.5],
    [0.1, 0.5],
    [0.2, 0.75],
    [0.25, 0.875],
    [0.6, 1],
  ])('schedule: at a diameter of %d m all gains count %d', (roll, factor) => {
    const schedule: [number, number][] = [
      [0.1, 0.5],
      [0.3, 1],
    ]
    const gains = { gain: 2, integral: 5, limit: 1e9 }
    const { u } = outputs({ schedule }, step, 4, gains, roll)
    expectAll(u, (n) => -factor * (2 * 0.01 + 5 * n * SAMPLE * 0.01))
  })

  test('delayed: each output comes one sample later, the first is that of the start', () => {
    const prompt = outputs({}, (n) => 0.003 * (n + 1), 6).u
    expect(outputs({ delayed: true }, (n) => 0.003 * (n + 1), 6).u).toEqual([0, ...prompt.slice(0, 5)])
  })

  test.each([1, -1])(
    'at its limit (%d) the integral does not run on, and comes off at once when the error turns',
    (side) => {
      const course = (n: number) => side * (n < 200 ? 0.01 : -0.0002)
      const { u, integral } = outputs({}, course, 210, { gain: 2, integral: 5, limit: 0.05 })
      const reached = u.findIndex((value) => Math.abs(value) === 0.05)
      // Kp e + Ki n T e first passes the limit at n = 30
      expect(reached).toBe(31)
      expect(Math.abs(u[30])).toBeCloseTo(0.05, 12)
      for (let n = reached; n < 200; n++) {
        expect(u[n]).toBe(-side * 0.05)
        expect(integral[n]).toBe(integral[reached])
      }
      expectAll(u.slice(200), (n) => -side * (5 * (31 - n * 0.02) * SAMPLE * 0.01 - 2 * 0.0002))
    },
  )

  test('taken up again it knows nothing of the slope before, and its output does not jump', () => {
    const program = new Program(
      { ...plain, derivativeTime: 0.3, derivativeFilter: 0.1 },
      { gain: 2, integral: 5, limit: 1e9 },
      -1,
    )
    const y = [0]
    program.resume(0, 0, 0, y, 0, 1)
    for (let n = 1; n < 5; n++) program.step(0.01 * n, 0, y, 0, 1)
    program.resume(-0.03, 0, 0.2, y, 0, 1)
    expect(program.step(-0.03, 0, y, 0, 1)).toBeCloseTo(0.2, 13)
  })

  test('a limited output lets the integral go where it leaves the limit', () => {
    const program = new Program(plain, { gain: 2, integral: 5, limit: 0.05 }, 1)
    const y = [0, 0.1]
    expect(program.step(-0.01, 0, y, 1, 1)).toBe(0.05)
    expect(y[1]).toBeCloseTo(0.1 - SAMPLE * 0.01, 15)
    expect(program.step(0.01, 0, y, 1, 1)).toBe(0.05)
    expect(y[1]).toBeCloseTo(0.1 - SAMPLE * 0.01, 15)
  })
})

const lag = { drive: { kind: 'lag', lag: '0.1 s' } }
const line = (changes: Entry = {}) => [
  ...[unwind(100, changes), span(0.6, 1e-3), dancer('dancer', { mass: '1 kg', damping: '20 N s/m' })],
  ...[span(0.4, 1e-3), nip('nip', { draw: '1 %' }), span(1), rewind({ draw: '1 %' })],
]
const gains = { gain: '1.2 1/s', integral: '0.8 1/s^2' }

describe('in a run', () => {
  const program = {
    sample: '40 ms',
    filter: '60 ms',
    derivativeTime: '50 ms',
    derivativeFilter: '30 ms',
    delayed: true,
  }
  const setting: Setting = {
    line: line(lag),
    control: [trim('dancer', 'unwind', { ...gains, program })],
    stage: [
      { at: '0.123 s', do: 'set point', dancer: 'dancer', to: '20 mm', in: '0.5 s' },
      { at: '0.51 s', do: 'draw', roller: 'nip', to: '1.1 %', in: '0.2 s' },
    ],
    duration: 2,
  }

  test('it acts at its samples only, and as its recursion says', () => {
    const run = runOf(setting)
    const [trimmed] = run.line.trims
    const z = run.line.carriages[0]
    // the recursion, once more: state of the filter, of the slope, of the integral and of what is computed
    const state = { f: 0, d: 0, X: 0, u: 0, first: true }
    let changes = 0
    let [held, before] = [0, 0]
    finish(run, ({ y, time }) => {
      const tick = Math.round(time / 0.01)
      if (tick % 4 === 0) {
        const e0 = y[z.state]
        if (state.first)
          Object.assign(state, { f: e0, X: y[trimmed.state] - 0.04 * (e0 - z.setPoint), u: trimmed.output })
        state.first = false
        const f = state.f + (1 - Math.exp(-4 / 6)) * (e0 - state.f)
        state.d += (1 - Math.exp(-4 / 3)) * ((f - state.f) / 0.04 - state.d)
        state.f = f
        const e = f - z.setPoint
        held = state.u
        state.u = -(1.2 * (e + 0.05 * state.d) + 0.8 * state.X)
        state.X += 0.04 * e
        expect(trimmed.output).toBeCloseTo(held, 11)
        expect(y[trimmed.state]).toBeCloseTo(state.X, 11)
      } else expect(trimmed.output).toBe(before)
      if (trimmed.output !== before) changes++
      before = trimmed.output
    })
    expect(changes).toBeGreaterThan(40)
    expect(changes).toBeLessThanOrEqual(51)
    expect(Math.abs(before)).toBeGreaterThan(1e-3)
  })

  test('between samples the trimmed drive holds its speed', () => {
    const run = runOf({ ...setting, line: line() })
    let [before, changes] = [NaN, 0]
    finish(run, ({ line: { rollers }, time }) => {
      const surface = rollers.radius[0] * rollers.speed[0]
      // the reference is taken at the sample, and stands in the speeds from the next evaluation on
      if (Math.round(time / 0.01) % 4 > 1) expect(surface).toBeCloseTo(before, 12)
      else if (Math.abs(surface - before) > 1e-9) changes++
      before = surface
    })
    expect(changes).toBeGreaterThan(30)
  })

  test('a tension trim samples too', () => {
    const cell = [unwind(100, lag), span(1, 1e-3), idler('cell', { wrap: '120 deg' }), span(1, 1e-3), nip('nip')]
    const control = [
      {
        ...{ control: 'tension trim', measures: 'cell', drives: 'unwind', kind: 'speed', tension: '80 N' },
        ...{ gain: '0.0002 m/s/N', integral: '0.0005 m/s/(N s)', program: { sample: '50 ms', delayed: true } },
      },
    ]
    const stage = [{ at: '0.2 s', do: 'draw', roller: 'nip', to: '0.02 %', in: '0.2 s' }]
    const run = runOf({ line: [...cell, span(1), rewind()], control, stage, duration: 2 })
    const [trimmed] = run.line.corrections as unknown as { output: number }[]
    let [before, changes] = [trimmed.output, 0]
    finish(run, ({ time }) => {
      if (trimmed.output === before) return
      expect(Math.round(time / 0.01) % 5).toBe(0)
      before = trimmed.output
      changes++
    })
    expect(changes).toBeGreaterThan(20)
    expect(run.line.spans.force[0]).toBeGreaterThan(70)
  })
})

describe('during a zero-speed splice of the unwind that it trims', () => {
  const splice = {
    ...{ at: '0.5 s', do: 'zero-speed splice', film: 'A', rampDown: '0.5 s', hold: '0.4 s', rampUp: '0.5 s' },
    ...{ refill: '60 %', patch: '0 mm', roll: { diameter: '450 mm', woundTension: '100 N' } },
  }
  const schedule = [
    ['90 mm', 0.4],
    ['600 mm', 1],
  ]

  // refilled, the dancer stands where it stood; else it is released far off its set point
  test.each<[string, Entry, string, number]>([
    ['filter and delay', { filter: '300 ms', delayed: true }, '0 %', 1.9],
    ['derivative', { derivativeTime: '0.2 s' }, '0 %', 1.9],
    ['dead band', { deadBand: '2 mm' }, '0 %', 1.9],
    ['schedule', { schedule }, '60 %', 0.5 + 1.7 + (0.25 + 0.4 + 0.25 - 0.36 * 0.5) / 0.6 + 0.3],
  ])('it keeps its share of the reference and takes over again without a jump: %s', (_, changes, refill, end) => {
    const control = [trim('dancer', 'unwind', { ...gains, program: { sample: '20 ms', ...changes } })]
    const samples: { time: number; output: number; z: number }[] = []
    const stage = [{ ...splice, refill }]
    const run = runOf({ line: line(), control, speed: 0.25, stage, duration: 4.5, tick: 0.005 })
    finish(run, ({ time, y, line: { trims, carriages } }) => {
      samples.push({ time, output: trims[0].output, z: y[carriages[0].state] })
    })
    for (const s of samples.filter((s) => s.time < end)) expect(s.output).toBeCloseTo(0.0025, 5)
    const held = samples.filter((s) => s.time > 0.5 && s.time < end)
    expect(held.length).toBeGreaterThan(270)
    for (const s of held) expect(s.output).toBe(held[0].output)
    const after = samples.filter((s) => s.time > end - 1e-9)
    for (const s of after.slice(0, 4)) expect(s.output).toBeCloseTo(held[0].output, 6)
    expect(Math.min(...samples.map((s) => s.z))).toBeLessThan(-0.11)
    expect(Math.abs(after[after.length - 1].z)).toBeLessThan(0.05)
    expect(after[after.length - 1].output).not.toBe(held[0].output)
  })
})
