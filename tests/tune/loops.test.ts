import { describe, expect, test } from 'vitest'
import { loopGain, loopOf, settles } from '../../src/tune/loops'
import { marginCourse, marginPoints, trimsOf, worstOf, type MarginPoint } from '../../src/tune/margin-course'
import { quickMargin } from '../../src/tune/quick-margin'
import { dancer, idler, nip, rewind, scenarioOf, span, trim, unwind, type Entry } from '../line/rig'
import { plantAt } from './rig'

const servo = (bandwidth: number) => ({ kind: 'servo', bandwidth: `${bandwidth} rad/s`, torqueLimit: '500 N m' })
const zone = (changes: Entry = {}) => [
  ...[unwind(100, { drive: servo(15), ...changes }), span(0.6, 1e-3), dancer('dancer', { damping: '20 N s/m' })],
  ...[span(0.5, 1e-3), nip('nip'), span(1, 1e-3), rewind()],
]
const law = (changes: Entry = {}) => [trim('dancer', 'unwind', { gain: '1.2 1/s', integral: '0.3 1/s^2', ...changes })]

function all<T, R>(steps: Generator<T, R>): R {
  for (let next = steps.next(); ; next = steps.next()) if (next.done === true) return next.value
}

describe('loops', () => {
  test('a position loop far below its drive: L = (Kp + Ki/s)/(2 s), margin from that', () => {
    const plant = plantAt({ line: zone({ drive: { kind: 'ideal' } }), control: law(), speed: 0.5 })
    const loop = loopOf(plant, plant.loops[0])
    for (const w of [0.05, 0.3, 1, 3]) {
      const { re, im } = loop.at(w)
      // (1.2 - 0.3 j/w)/(2 j w) = -0.15/w^2 - 0.6 j/w
      expect(re / (-0.15 / w ** 2)).toBeCloseTo(1, 1)
      expect(im / (-0.6 / w)).toBeCloseTo(1, 2)
    }
  })

  test('a quick program has the margins of the continuous law; a slow one loses about w T/2 of phase, and w T more with a delay', () => {
    const margin = (program?: Entry) => {
      const found = loopGain(
        plantAt({ line: zone(), control: law(program === undefined ? {} : { program }), speed: 0.5, tick: 0.001 }),
        0,
      )
      if (!found.ok || found.margins.phaseMargin === null) throw new Error('no margin')
      return found.margins.phaseMargin
    }
    const { value, w } = margin()
    expect(margin({ sample: '1 ms' }).value).toBeCloseTo(value, 2)
    const slow = margin({ sample: '100 ms' }).value
    // and the integral, summed up to the sample before, half a sample more of its own share
    expect((value - slow) / (w * 0.05)).toBeGreaterThan(0.95)
    expect((value - slow) / (w * 0.05)).toBeLessThan(1.4)
    expect(slow - margin({ sample: '100 ms', delayed: true }).value).toBeCloseTo(w * 0.1, 2)
  })

  test('margins and the roots of the closed line agree on which side of stability it is', () => {
    for (const gain of [0.5, 2, 8, 15, 25, 40]) {
      for (const program of [undefined, { sample: '50 ms', filter: '30 ms' }]) {
        const control = law({ gain: `${gain} 1/s`, ...(program === undefined ? {} : { program }) })
        const plant = plantAt({ line: zone(), control, speed: 0.5, tick: 0.01 })
        const found = loopGain(plant, 0)
        if (!found.ok) throw new Error(found.say)
        const fits = found.margins.gain.every(({ value }) => value > 1)
        expect(settles(plant)).toBe(fits)
      }
    }
  })

  test.each([
    // the dancer alone: z(k + 1) = (1 - Kp T/2) z(k), which swings up from Kp T/2 = 2 on; the film between makes it a little slower
    ['ideal', '400 ms', 5, 4 / (0.4 * 5)],
    ['ideal', '200 ms', 5, 4 / (0.2 * 5)],
    // on a servo: as found by closing the loop with ever more gain
    [15, '400 ms', 2, 5.08],
    [60, '200 ms', 2, 10.03],
  ] as const)(
    'a program whose limit is a swing at half its sampling rate has a gain margin: drive %s, %s, gain %d: %d',
    (drive, sample, gain, wanted) => {
      const at = (factor: number) => {
        const control = law({ gain: `${gain * factor} 1/s`, integral: '0 1/s^2', program: { sample } })
        const changes = { drive: drive === 'ideal' ? { kind: 'ideal' } : servo(drive) }
        return plantAt({ line: zone(changes), control, speed: 0.5, tick: 0.01 })
      }
      const found = loopGain(at(1), 0)
      if (!found.ok || found.margins.gainMargin === null) throw new Error('no margin')
      const { value, w } = found.margins.gainMargin
      expect(Math.abs(value / wanted - 1)).toBeLessThan(0.005)
      expect(w / (Math.PI / (Number.parseFloat(sample) / 1000))).toBeCloseTo(1, 9)
      expect(settles(at(0.999 * value))).toBe(true)
      expect(settles(at(1.001 * value))).toBe(false)
      expect(found.margins.gain.filter((one) => one.w > 0.999 * w)).toHaveLength(1)
    },
  )

  test('two loops: the other one is closed, exactly where it samples alike', () => {
    const line = [
      ...[
        unwind(100, { drive: servo(15) }),
        span(0.6, 1e-3),
        dancer('dancer', { damping: '20 N s/m' }),
        span(0.5, 1e-3),
      ],
      ...[
        nip('nip'),
        span(0.5, 1e-3),
        dancer('other', { damping: '20 N s/m' }),
        span(0.5, 1e-3),
        rewind({ drive: servo(20) }),
      ],
    ]
    const both = (sample: string) => [
      trim('dancer', 'unwind', { gain: '1.2 1/s', integral: '0.3 1/s^2', program: { sample } }),
      trim('other', 'rewind', { gain: '1.5 1/s', integral: '0.3 1/s^2', program: { sample: '20 ms' } }),
    ]
    const value = (sample: string) => {
      const found = loopGain(plantAt({ line, control: both(sample), speed: 0.5, tick: 0.005 }), 0)
      return found.ok ? found.margins.phaseMargin?.value : undefined
    }
    // the nip between them prescribes its speed: they do not feel each other, however they sample
    const alone = loopGain(
      plantAt({ line: line.slice(0, 5).concat(span(1), rewind()), control: both('20 ms').slice(0, 1), speed: 0.5 }),
      0,
    )
    expect(value('20 ms')).toBeCloseTo(alone.ok ? (alone.margins.phaseMargin?.value ?? 0) : 0, 6)
    expect(value('10 ms')).toBeGreaterThan(value('20 ms') ?? 0)
  })

  test.each([
    ['18 ms', '20 ms'],
    ['7 ms', '10 ms'],
  ])('sample times that do not meet, %s and %s, are told as such, not as a line that does not settle', (one, two) => {
    const line = [
      ...[
        unwind(100, { drive: servo(15) }),
        span(0.6, 1e-3),
        dancer('dancer', { damping: '20 N s/m' }),
        span(0.5, 1e-3),
      ],
      ...[nip('nip'), span(0.5, 1e-3), dancer('other', { damping: '20 N s/m' }), span(0.5, 1e-3)],
      rewind({ drive: servo(20) }),
    ]
    const at = (first: string, second: string) => {
      const control = [
        trim('dancer', 'unwind', { gain: '1.2 1/s', integral: '0.3 1/s^2', program: { sample: first } }),
        trim('other', 'rewind', { gain: '1.5 1/s', integral: '0.3 1/s^2', program: { sample: second } }),
      ]
      return plantAt({ line, control, speed: 0.5, tick: 0.001 })
    }
    const say = expect.stringContaining(`every ${one}, ${two}: these meet too seldom`) as string
    expect(loopGain(at(one, two), 0)).toMatchObject({ ok: false, say })
    expect(quickMargin(at(one, two), 0)).toEqual({ value: Number.NaN, say })
    const unlike = loopGain(at('10 ms', '20 ms'), 0)
    expect(unlike).toMatchObject({ ok: true, stable: true })
    expect(unlike.ok && unlike.method).toContain('10 ms; the')
    expect(unlike.ok && unlike.method).toContain('without filter')
    const alike = loopGain(at('20 ms', '20 ms'), 0)
    expect(alike.ok && alike.method).toBe('program every 20 ms, exact at its samples')
  })

  test('a schedule on diameter counts with its factor', () => {
    const program = {
      sample: '10 ms',
      schedule: [
        ['90 mm', 2],
        ['400 mm', 1],
      ],
    }
    const at = (unwindDiameter: number) => {
      const plant = plantAt({ line: zone(), control: law({ program }), speed: 0.5 }, { unwindDiameter })
      return loopOf(plant, plant.loops[0]).law.strength
    }
    expect(at(0.09)).toBeCloseTo(-2, 9)
    expect(at(0.4)).toBeCloseTo(-1, 9)
  })

  test('from core to full and through the speeds, the worst named', () => {
    const scenario = scenarioOf({
      line: zone(),
      control: law({ kind: 'ratio', gain: '3 1/m', integral: '1 1/(m s)', limit: '10 %' }),
      speed: 0.5,
    })
    const values = marginPoints(scenario, 0, { diameters: 3, speeds: 2 }).map((p) => p.value)
    ;[0.09, 0.245, 0.4, 0.375, 0.75].forEach((wanted, k) => expect(values[k]).toBeCloseTo(wanted, 9))
    const course: MarginPoint[] = all(marginCourse(scenario, 0, { diameters: 3, speeds: 4 }))
    const worst = worstOf(course)
    // the gain of a ratio trim follows line speed, its integral part too: least phase at the lowest speed
    expect(worst?.over).toBe('speed')
    expect(trimsOf(scenario)).toHaveLength(1)
  })

  test('what is no loop is explained: none at all, one that measures nothing, one at its limit, a ratio at standstill', () => {
    expect(loopGain(plantAt({ line: zone(), speed: 0.5 }), 0)).toMatchObject({
      ok: false,
      say: expect.stringContaining('no position or tension trim') as string,
    })
    const cell = {
      ...{
        control: 'tension trim',
        measures: 'cell',
        drives: 'rewind',
        kind: 'speed',
        tension: '100 N',
        gain: '0.01 m/min/N',
      },
    }
    const line = [unwind(100), span(1), idler('cell'), span(1), nip('nip'), span(1), rewind()]
    const deaf = loopGain(plantAt({ line, control: [cell], speed: 0.5 }), 0)
    expect(deaf).toMatchObject({ ok: false, say: expect.stringContaining('measures nothing') as string })
    const torque = { kind: 'torque', tension: '60 N', torqueLimit: '500 N m' }
    const winding = [unwind(100), span(1), nip('nip'), span(1), idler('cell'), span(1), rewind({ drive: torque })]
    const weak = {
      ...{
        control: 'tension trim',
        measures: 'cell',
        drives: 'rewind',
        kind: 'torque',
        tension: '100 N',
        gain: '50 %',
      },
      limit: '10 N',
    }
    const limited = loopGain(plantAt({ line: winding, control: [weak], speed: 0.5 }), 0)
    expect(limited).toMatchObject({ ok: false, say: expect.stringContaining('limit') as string })
    const ratio = law({ kind: 'ratio', gain: '3 1/m', integral: '1 1/(m s)', limit: '10 %' })
    const still = loopGain(plantAt({ line: zone(), control: ratio, speed: 0.5 }, { speed: 0 }), 0)
    expect(still).toMatchObject({ ok: false, say: expect.stringContaining('standstill') as string })
  })
})
