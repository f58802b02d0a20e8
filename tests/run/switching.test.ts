/** Finding and passing switches: when, in which order, and when to give up. */
import { afterEach, describe, expect, test, vi } from 'vitest'
import type { Guard } from '../../src/line/part'
import { Rollers } from '../../src/line/rollers'
import { begin, Run } from '../../src/run/run'
import { Switching } from '../../src/run/switching'
import {
  dancer,
  finish,
  idler,
  pointOf,
  rewind,
  runOf,
  scenarioOf,
  slacken,
  span,
  timeOf,
  trim,
  unwind,
} from '../line/rig'
import type { Setting } from '../line/rig'

afterEach(() => {
  vi.restoreAllMocks()
})

const sticky = { drag: '0.1 N m', breakaway: '0.5 N m' }
const standing = { speed: 0, threading: 100 }
const pair: Setting = {
  line: [unwind(100), span(1), idler('a', sticky), span(1), idler('b', sticky), span(1), rewind()],
  ...standing,
}

describe('at one instant', () => {
  test('two rollers that come to rest together both stick, and are told', () => {
    const { line, y } = pointOf(pair)
    const { rollers, spans, unwoundState } = line
    // 0.3 N m on the first, -0.3 N m on the second: more than they slide with, less than they let go with
    spans.hold(1, 106, y, unwoundState)
    for (const i of [1, 2]) {
      rollers.mode[i] = 1
      y[rollers.state[i]] = -1e-9
    }
    const told: string[] = []
    const switching = new Switching(line)
    switching.settle(0, y, (guard, { what }) => told.push(`${guard.name} ${what}`))
    expect(told).toEqual(['a sticks', 'b sticks'])
    expect(switching.events).toBe(2)
    for (const i of [1, 2]) {
      expect(rollers.mode[i]).toBe(0)
      expect(y[rollers.state[i]]).toBe(0)
    }
  })

  test('one that reaches rest with more than its breakaway goes straight over, without a word', () => {
    const { line, y } = pointOf(pair)
    const { rollers, spans, unwoundState } = line
    spans.hold(0, 120, y, unwoundState)
    rollers.mode[1] = 1
    y[rollers.state[1]] = -1e-9
    const told: string[] = []
    new Switching(line).settle(0, y, (guard) => told.push(guard.name))
    expect(told).toEqual([])
    expect(rollers.mode[1]).toBe(-1)
    expect(y[rollers.state[1]]).toBe(0)
    expect(rollers.mode[2]).toBe(0)
  })

  test('a dancer that sticks and a roller that lets go are both settled before the run goes on', () => {
    const line = [
      unwind(100),
      span(1),
      dancer('dancer', { slidingFriction: '5 N' }),
      span(1),
      idler('a', sticky),
      span(1),
    ]
    const { line: built, y } = pointOf({ line: [...line, rewind()], ...standing })
    const [carriage] = built.carriages
    built.spans.hold(2, 130, y, built.unwoundState)
    carriage.on = 'free'
    carriage.sliding = 1
    y[carriage.state + 1] = -1e-9
    new Switching(built).settle(0, y, () => undefined)
    expect(carriage.on).toBe('stuck')
    expect(built.rollers.mode[2]).toBe(1)
  })
})

/** A carriage that falls from rest onto its upper stop with 5 m/s^2; the film hangs. */
const falling = (stop: number, rest: Partial<Setting> = {}) =>
  runOf(
    {
      line: [unwind(100), span(1), dancer('dancer', { force: '20 N', upperStop: `${stop} m` }), span(1), rewind()],
      ...{ ...standing, duration: 0.5, ...rest },
    },
    (point) => slacken(point, 0.5),
  )

describe('in time', () => {
  test.each([0.0123, 0.0777, 0.1, 0.1999])('a fall of %d m ends within 1e-7 s of sqrt(2 s/a)', (stop) => {
    const run = falling(stop)
    finish(run)
    expect(Math.abs(timeOf(run, 'stop touched') - Math.sqrt((2 * stop) / 5))).toBeLessThan(1.01e-7)
    expect(run.y[run.line.carriages[0].state]).toBe(stop)
  })

  test('at the very end of a tick: once, and no sample is lost or doubled', () => {
    const run = falling(0.1)
    finish(run)
    expect(run.happenings.filter((h) => h.what === 'stop touched')).toHaveLength(1)
    expect(timeOf(run, 'stop touched')).toBeCloseTo(0.2, 6)
    const block = run.takeBlock()
    expect(block?.count).toBe(51)
    block?.data.slice(0, 51).forEach((time, n) => expect(time).toBeCloseTo(0.01 * n, 12))
  })

  test('an event at the end of a tick comes before the sample of a program there, one inside makes it act no sooner', () => {
    const output = (at: number) => {
      const program = { sample: '100 ms' }
      const setting: Setting = {
        line: [unwind(100), span(1, 1e-3), dancer('dancer', { damping: '50 N s/m' }), span(1, 1e-3), rewind()],
        control: [trim('dancer', 'unwind', { gain: '1 1/s', program })],
        stage: [{ at: `${at} s`, do: 'set point', dancer: 'dancer', to: '50 mm', in: '1 ms' }],
        ...{ duration: 0.4, tick: 0.1 },
      }
      const seen: number[] = []
      finish(runOf(setting), ({ line }) => seen.push(line.trims[0].output))
      return seen.map((u) => Math.round(u * 1e4) / 1e4)
    }
    expect(output(0.15)).toEqual(output(0.199))
    expect(output(0.15)[1]).toBeCloseTo(0, 6)
    expect(output(0.15)[2]).toBeCloseTo(0.05, 3)
    expect(output(0.2)[2]).toBeCloseTo(0, 6)
    expect(output(0.2)[3]).toBeCloseTo(0.05, 3)
  })
})

test('a splice that holds a trim at the instant of a sample comes before it', () => {
  const splice = { do: 'zero-speed splice', film: 'A', rampDown: '0.2 s', hold: '0.1 s', rampUp: '0.2 s' }
  const setting: Setting = {
    line: [unwind(100), span(1, 1e-3), dancer('dancer', { damping: '50 N s/m' }), span(1, 1e-3), rewind()],
    control: [trim('dancer', 'unwind', { gain: '1 1/s', program: { sample: '100 ms' } })],
    stage: [
      { at: '0.15 s', do: 'set point', dancer: 'dancer', to: '50 mm', in: '1 ms' },
      { at: '0.4 s', ...splice, roll: { diameter: '450 mm', woundTension: '100 N' } },
    ],
    ...{ duration: 0.6, tick: 0.1 },
  }
  const seen: number[] = []
  finish(runOf(setting), ({ line }) => seen.push(line.trims[0].output))
  expect(Math.abs(seen[3] - seen[2])).toBeGreaterThan(1e-4)
  expect(seen.slice(4)).toEqual([seen[3], seen[3], seen[3]])
})

describe('a part that switches for ever', () => {
  const failing = (guard: Guard) => {
    const { scenario, line, y } = pointOf({ ...pair, duration: 1 })
    ;(line.guards as Guard[]).push(guard)
    return { scenario, line, y }
  }

  test('within one instant ends the run, which names it', () => {
    let armed = false
    const part = failing({
      name: 'the flipper',
      value: (t) => (armed || t > 0.105 ? 1 : -1),
      cross: () => void (armed = true),
    })
    const run = new Run(part.scenario, part.line, part.y)
    let outcome = run.step()
    while (outcome === undefined) outcome = run.step()
    expect(outcome).toMatchObject({ outcome: 'failed', state: 'the flipper' })
    if (outcome.outcome !== 'failed') throw new Error(outcome.outcome)
    expect(outcome.at).toBeCloseTo(0.105, 6)
    expect(outcome.say).toMatch(/^the flipper switches to and fro without an end\. /)
  })

  test('every microsecond, and silently, ends the run too', () => {
    let next = 0.1
    const guard: Guard = { name: 'the hummer', value: (t) => t - next, cross: (t) => void (next = t + 1e-6) }
    const part = failing(guard)
    const run = new Run(part.scenario, part.line, part.y)
    let outcome = run.step()
    while (outcome === undefined) outcome = run.step()
    expect(outcome).toMatchObject({ outcome: 'failed', state: 'the hummer' })
    if (outcome.outcome === 'failed') expect(outcome.at).toBeLessThan(0.11)
    expect(run.happenings).toEqual([])
  })

  test('at the first instant is a failed run, not a thrown error', () => {
    vi.spyOn(Rollers.prototype, 'stickGuard').mockImplementation((i) => {
      return { name: `roller ${i}`, value: () => 1, cross: () => undefined }
    })
    expect(begin(scenarioOf({ ...pair, duration: 1 }))).toMatchObject({ outcome: 'failed', at: 0, state: 'roller 0' })
  })
})
