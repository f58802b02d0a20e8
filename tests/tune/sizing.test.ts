import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { Line } from '../../src/line/line'
import { operatingPoint } from '../../src/line/rest'
import { beatsOf, feedHarmonic, meetingsOf } from '../../src/tune/harmonics'
import { cancelling, rippleAt, rippleDancerOf, type RippleDancer } from '../../src/tune/ripple'
import { Responses } from '../../src/tune/response'
import * as sizing from '../../src/tune/sizing'
import { dancer, nip, rewind, scenarioOf, span, unwind, type Entry } from '../line/rig'
import { plantAt } from './rig'

const number = (min: number, max: number) =>
  fc.integer({ min: 0, max: 1000 }).map((n) => min + ((max - min) * n) / 1000)

const plain: RippleDancer = {
  ...{ mass: 4, stiffness: 0, damping: 0, friction: 0, strands: 2, gasStiffness: 0, lag: Infinity },
  ...{ rollerMass: 0.5, rollerDrag: 0.2 },
}

describe('ripple of a dancer', () => {
  test('a spring of M w^2 leaves nothing; the parts sum to the whole', () => {
    const w = 7
    const ripple = rippleAt({ ...plain, stiffness: 4 * w * w }, w, 0.02)
    expect(ripple.total.size).toBeLessThan(1e-12)
    expect(ripple.spring.re).toBeCloseTo(0.5 * 4 * w * w * 0.02, 12)
    expect(ripple.roller.drag).toBeCloseTo(0.1, 12)
  })

  test("the roller's inertia is half of what the strands differ by on the linear line, whichever side of it moves", () => {
    const free = { drag: '0 N m', breakaway: '0 N m' }
    const line = [
      unwind(100),
      span(1),
      dancer('dancer', { ...free, mass: '0.01 kg' }),
      span(1),
      nip('nip'),
      span(1),
      rewind(),
    ]
    const plant = plantAt({ line, speed: 0.5 })
    const { line: built, y } = plant
    const parts = rippleDancerOf(built, built.carriages[0], y)
    expect(parts.rollerMass).toBeCloseTo(0.8, 9)
    const responses = new Responses(plant)
    const w = 2 * Math.PI
    for (const key of ['speed/unwind', 'speed/downstream']) {
      const answers = responses.at(
        w,
        responses.disturbances.findIndex((d) => d.key === key),
      )
      const of = (output: string) => answers[responses.outputs.findIndex((o) => o.key === output)]
      const half = of('tension/unwind → dancer').less(of('tension/dancer → nip')).size / 2
      const { roller, mass } = rippleAt(parts, w, of('dancer/dancer').size)
      expect(of('dancer/dancer').size).toBeCloseTo(1 / (4 * Math.PI), 3)
      expect(roller.inertia / half).toBeCloseTo(1, 2)
      expect(roller.inertia).toBeCloseTo(1.2567, 2)
      expect(of('tension/unwind → dancer').add(of('tension/dancer → nip')).size / 2 / mass.size).toBeCloseTo(1, 1)
    }
  })

  test('damping and friction stand a quarter turn ahead; friction by its first harmonic', () => {
    const ripple = rippleAt({ ...plain, damping: 30, friction: 2 }, 5, 0.01)
    expect(ripple.damping.im).toBeCloseTo((30 * 5 * 0.01) / 2, 12)
    expect(ripple.friction.im).toBeCloseTo(4 / Math.PI, 12)
    expect(rippleAt({ ...plain, friction: 2 }, 5, 0).total.size).toBe(0)
  })

  test('no gas spring does better than the one that is called best, with any damping and spring', () => {
    fc.assert(
      fc.property(
        number(1, 8),
        number(0, 200),
        number(0, 100),
        number(1, 12),
        number(0.05, 0.5),
        number(0, 2),
        (mass, stiffness, damping, w, lag, other) => {
          const d = { ...plain, mass, stiffness, damping, lag }
          const best = cancelling(d, w, 0.02, lag)
          const at = (gasStiffness: number) => rippleAt({ ...d, gasStiffness }, w, 0.02).total.size
          expect(at(best.gas)).toBeCloseTo(best.gasLeaves, 9)
          expect(at(best.gas)).toBeLessThanOrEqual(at(other * mass * w * w) + 1e-12)
        },
      ),
      { numRuns: 200 },
    )
  })

  test('without spring and damping it leaves 1/sqrt(1 + (w T)^2) of the bare mass, and says so', () => {
    const { gasShare, say } = cancelling(plain, 2 * Math.PI, 0.02, 0.1)
    expect(gasShare).toBeCloseTo(1 / Math.sqrt(1 + (2 * Math.PI * 0.1) ** 2), 12)
    expect(say).toContain('84.7 %')
  })

  test('is read off a line: strands, roller, gas spring', () => {
    const cylinder = { bore: '40 mm', pressure: '1.6 bar', deadVolume: '300 cm^3', lag: '0.1 s' }
    const line = [
      unwind(100),
      span(1),
      dancer('dancer', { force: undefined, cylinder }),
      span(1),
      nip('nip'),
      span(1),
      rewind(),
    ]
    const built = new Line(scenarioOf({ line: line.map(withoutHoles), speed: 0 }))
    const start = operatingPoint(built)
    if (!start.ok) throw new Error(start.say)
    const found = rippleDancerOf(built, built.carriages[0], start.y)
    expect(found.strands).toBeCloseTo(2, 12)
    expect(found.rollerMass).toBeCloseTo(0.002 / 0.05 ** 2, 12)
    // n p A^2/V with the piston at mid travel, 200 mm above the lower stop
    const area = Math.PI * 0.02 ** 2
    expect(found.gasStiffness).toBeCloseTo((1.4 * 261325 * area ** 2) / (300e-6 + 0.2 * area), 6)
  })
})

const withoutHoles = (part: Entry): Entry => Object.fromEntries(Object.entries(part).filter(([, v]) => v !== undefined))

describe('sizing', () => {
  test('tension, force, pressure and bore, there and back', () => {
    fc.assert(
      fc.property(
        number(10, 200),
        number(1, 4),
        number(0.016, 0.05),
        number(0.3, 2),
        (tension, strands, bore, lever) => {
          const cylinder = { bore, count: 2, lever }
          const pressure = sizing.pressureForTension(tension, strands, cylinder)
          expect(sizing.tensionForPressure(pressure, strands, cylinder)).toBeCloseTo(tension, 9)
          expect(sizing.boreFor(tension, strands, pressure, cylinder)).toBeCloseTo(bore, 12)
          expect(sizing.forceForTension(tension, strands) / strands).toBeCloseTo(tension, 9)
        },
      ),
    )
  })

  test('two bores of 50 mm at 6 psi through a lever of 120/365: 26.70 N in the film (published example)', () => {
    const cylinder = { bore: 0.05, count: 2, lever: 120 / 365 }
    expect(sizing.tensionForPressure(6 * 6894.757, sizing.strandsOf(Math.PI), cylinder)).toBeCloseTo(26.7047, 3)
  })

  test('volume for a gas spring: 300 N/m at 150 kPa absolute from a column of 0.3 m', () => {
    const area = 4.2857e-4
    const bore = Math.sqrt((4 * area) / Math.PI)
    const volume = sizing.volumeForStiffness(300, 150e3 - 101325, { bore, count: 1, lever: 1, exponent: 1.4 })
    expect(volume / area).toBeCloseTo(0.3, 4)
  })

  test('travel for a hold, for indexing, for a mismatch', () => {
    const hold = { rampDown: 1.5, hold: 2, rampUp: 1.5 }
    expect(sizing.travelForHold(hold, 0.1, 2)).toBeCloseTo(0.175, 12)
    const feed = { pattern: 'trapezoid', pitch: 0.3, move: 0.8, ramp: 0.15 } as const
    expect(sizing.travelForIndexing(feed, 0.15, 2)).toBeCloseTo(0.09365625, 12)
    expect(sizing.travelForMismatch(-0.01, 2, 0.5, 2)).toBeCloseTo(0.005, 12)
  })

  test('seconds of storage and what they mean', () => {
    expect(sizing.storage(0.2, 2, 0.9).verdict).toBe('little')
    expect(sizing.storage(0.2, 2, 0.6).verdict).toBe('usual')
    expect(sizing.storage(0.2, 2, 0.2)).toMatchObject({ seconds: 2, verdict: 'ample' })
    expect(sizing.storage(0.2, 2, 0)).toMatchObject({ seconds: null, verdict: 'stands' })
    expect(sizing.frictionShare(3, 2, 50)).toBeCloseTo(0.03, 12)
  })
})

const index = { pattern: 'cycloidal', pitch: '250 mm', move: '1 s' }
const indexing = scenarioOf({
  line: [
    ...[unwind(100, { drive: { kind: 'servo', bandwidth: '20 rad/s', torqueLimit: '500 N m' } }), span(1, 1e-3)],
    ...[nip('index roller', { index }), span(1, 1e-3), rewind({ drive: { kind: 'torque', tension: '100 N' } })],
  ],
  speed: 0.25,
})

describe('what beats at a line', () => {
  test('rolls turn v/(pi D) times a second, cycles come v/pitch times', () => {
    const beats = beatsOf(indexing, {}, 2)
    const of = (source: string) => beats.filter((b) => b.source === source).map((b) => b.frequency)
    expect(of('unwind')[0]).toBeCloseTo(0.25 / (Math.PI * 0.4), 12)
    expect(of('rewind')[1]).toBeCloseTo(0.5 / (Math.PI * 0.2), 12)
    expect(of('index roller')).toEqual([1, 2])
  })

  test('a sine feed has one harmonic, of the line speed itself; a trapezoid those of its Fourier series', () => {
    const feed = { pattern: 'cycloidal', pitch: 0.25, move: 1 } as const
    expect(feedHarmonic(feed, 0.25, 1)).toBeCloseTo(0.25, 9)
    expect(feedHarmonic(feed, 0.25, 2)).toBeLessThan(1e-9)
    // v_peak (move - ramp)/T sinc(n (move - ramp)/T) sinc(n ramp/T) x 2
    const trapezoid = { pattern: 'trapezoid', pitch: 0.3, move: 0.8, ramp: 0.15 } as const
    const sinc = (x: number) => Math.sin(Math.PI * x) / (Math.PI * x)
    const wanted = (n: number) => 2 * 0.15 * Math.abs(sinc((n * 0.65) / 2) * sinc((n * 0.15) / 2))
    for (const n of [1, 2, 3]) expect(feedHarmonic(trapezoid, 0.15, n)).toBeCloseTo(wanted(n), 5)
  })

  test('a meeting is where it is said to be: there the harmonic has the frequency of the mode', () => {
    const meetings = meetingsOf(indexing, {}, 3).filter((m) => m.at.quantity === 'speed')
    expect(meetings.length).toBeGreaterThan(0)
    for (const { beat, harmonic, frequency, at } of meetings) {
      const there = beatsOf(indexing, { speed: at.value }).find((b) => b.source === beat && b.harmonic === harmonic)
      expect(there?.frequency ?? NaN).toBeCloseTo(frequency, 9)
    }
  })
})
