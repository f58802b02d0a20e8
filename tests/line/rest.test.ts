/** The state a run starts from: nothing changes in it, and where there is none that is told. Own derivation, from statics. */
import { describe, expect, test } from 'vitest'
import { Line } from '../../src/line/line'
import { operatingPoint } from '../../src/line/rest'
import { dancer, finish, idler, nip, pointOf, rewind, runOf, scenarioOf, span, trim, unwind, type Entry } from './rig'
import type { Setting } from './rig'

const servo = { drive: { kind: 'servo', bandwidth: '20 rad/s', torqueLimit: '100 N m' } }
const lag = { drive: { kind: 'lag', lag: '50 ms' } }
const torque = { drive: { kind: 'torque', tension: '90 N', torqueLimit: '100 N m' } }
const rough = { drag: '0.03 N m', viscousDrag: '0.0004 N m s' }
const integral = { gain: '1.2 1/s', integral: '0.4 1/s^2' }

const lines: Record<string, Pick<Setting, 'line' | 'control'>> = {
  'speed drives and draws': {
    line: [
      ...[unwind(100, servo), span(1), idler('idler 1', rough), span(0.5), nip('nip', { ...servo, draw: '0.05 %' })],
      ...[span(1), idler('idler 2', rough), span(0.4), rewind({ ...lag, draw: '0.06 %' })],
    ],
  },
  'a brake and a winder on torque': {
    line: [
      ...[unwind(80, { drive: { kind: 'brake', torque: '15 N m' }, drag: '0.5 N m' }), span(1), idler('idler', rough)],
      ...[span(1), nip('nip', lag), span(1), rewind({ ...torque, drag: '0.4 N m' })],
    ],
  },
  'dancers that trim both rolls': {
    line: [
      ...[unwind(70, servo), span(0.6), dancer('infeed', { ...rough, stiffness: '300 N/m', setPoint: '10 mm' })],
      ...[span(0.5), nip('nip', { feedError: '0.3 %' }), span(0.6), dancer('winding', { force: '140 N' }), span(0.8)],
      rewind(lag),
    ],
    control: [trim('infeed', 'unwind', integral), trim('winding', 'rewind', integral)],
  },
  'a dancer on a spring with nothing to bring it back but that': {
    line: [
      ...[unwind(100, { drive: { kind: 'brake', torque: '30 N m' } }), span(0.6)],
      ...[dancer('dancer', { stiffness: '900 N/m', force: '230 N' }), span(1), nip('nip'), span(1), rewind()],
    ],
  },
}

describe.each(Object.entries(lines))('%s', (_, setting) => {
  test('running: nothing changes but what is wound', () => {
    const { line, y } = pointOf({ ...setting, speed: 1.5 })
    const rates = line.rates(0, y)
    const scales = line.scales()
    y.forEach((_value, k) => {
      if (k === line.unwoundState || k === line.woundState) expect(rates[k]).toBeCloseTo(1.5, 1)
      else expect(Math.abs(rates[k]) / scales[k]).toBeLessThan(1e-5)
    })
    expect(y[line.unwoundState]).toBe(0)
    expect(y[line.woundState]).toBe(0)
    for (const force of line.spans.force) expect(force).toBeGreaterThan(1)
  })

  test('standing: nothing changes at all, and nothing happens', () => {
    const run = runOf({ ...setting, speed: 0, threading: 75, duration: 0.5 })
    const before = run.y.slice()
    const scales = run.line.scales()
    finish(run)
    run.y.forEach((value, k) => expect(Math.abs(value - before[k])).toBeLessThan(1e-8 * scales[k]))
    expect(run.happenings).toEqual([])
  })
})

describe('standing', () => {
  test('every zone between drives has the tension of its dancer, of its winder, or the threading tension', () => {
    const line = [
      ...[unwind(100, servo), span(1), idler('idler', rough), span(1), dancer('dancer', { force: '130 N' }), span(1)],
      ...[nip('nip 1'), span(1), nip('nip 2'), span(1), idler('idler 2'), span(1), rewind(torque)],
    ]
    const { spans } = pointOf({ line, speed: 0, threading: 40 }).line
    const expected = [65, 65, 65, 40, 90, 90]
    Array.from(spans.force).forEach((force, j) => expect(force).toBeCloseTo(expected[j], 6))
  })

  test('what has dry friction sticks, a servo holds against the film', () => {
    const { line } = pointOf({ ...lines['speed drives and draws'], speed: 0, threading: 60 })
    const at = (name: string) => line.rollers.names.indexOf(name)
    expect(line.rollers.mode[at('idler 1')]).toBe(0)
    expect(line.rollers.motor[at('unwind')]).toBeCloseTo(-60 * 0.2, 8)
  })
})

describe('without a trim', () => {
  const free: Setting = {
    line: [unwind(100), span(1), dancer('dancer', { setPoint: '30 mm' }), span(1), nip('nip'), span(1), rewind()],
  }

  test('a dancer that nothing brings back stands at its set point, and the film that gathers is left to the run', () => {
    const { line, y } = pointOf({ ...free, line: [unwind(120), ...free.line.slice(1)] })
    const { state } = line.carriages[0]
    expect(y[state]).toBeCloseTo(0.03, 12)
    const rates = line.rates(0, y)
    expect(Math.abs(rates[state + 1])).toBeLessThan(1e-4)
    // film comes with the stretch of 120 N and goes with that of 100 N
    expect(rates[0] + rates[1]).toBeCloseTo(1 / (1 + 120 / 225e3) - 1 / (1 + 100 / 225e3), 9)
  })
})

/** What is told of a line without a start. */
function told(setting: Setting): { state: string; say: string } {
  const start = operatingPoint(new Line(scenarioOf(setting)))
  if (start.ok) throw new Error('there is a start')
  return start
}

describe('where there is no start that is told', () => {
  const weak = { drive: { kind: 'servo', bandwidth: '20 rad/s', torqueLimit: '5 N m' } }
  const nipped = (first: Entry, draw = '0 %') => [
    ...[first, span(1), idler('idler'), span(1), nip('nip', { draw }), span(1), rewind({ draw })],
  ]

  test('a torque limit below what the dancer asks for', () => {
    const line = [unwind(100, weak), span(1), dancer('dancer'), span(1), nip('nip'), span(1), rewind()]
    expect(told({ line, control: [trim('dancer', 'unwind', integral)] }).say).toMatch(/no steady state/)
  })

  test('a roller so slow that film gathers before it', () => {
    const { state, say } = told({ line: nipped(unwind(50), '-0.1 %') })
    expect(state).toBe('film held unwind → idler')
    expect(say).toMatch(/no steady state/)
  })

  test('film that nothing holds back: which span would be slack, and what to do', () => {
    const { state, say } = told({ line: nipped(unwind(50, { drive: { kind: 'brake', torque: '0 N m' } })) })
    expect(state).toBe('film held unwind → idler')
    expect(say).toMatch(/slack at the start.*Raise/)
  })

  test('a dancer whose spring would hold it beyond its stop', () => {
    const line = [
      ...[
        unwind(40),
        span(1),
        dancer('dancer', { stiffness: '100 N/m', force: '200 N' }),
        span(1),
        nip('nip'),
        span(1),
      ],
      rewind(),
    ]
    const { state, say } = told({ line })
    expect(state).toBe('position of dancer')
    expect(say).toMatch(/outside its stops/)
  })

  test('a dancer with a force that lets the film hang', () => {
    const line = [unwind(100), span(1), dancer('dancer', { force: '-20 N' }), span(1), nip('nip'), span(1), rewind()]
    expect(told({ line, speed: 0 }).say).toMatch(/slack/)
  })
})
