/** The two ways of seeing the same linear line: by frequency and in time. */
import { describe, expect, test } from 'vitest'
import { LinearRun } from '../../src/tune/linear-run'
import { Responses } from '../../src/tune/response'
import { steppedLine } from '../../src/tune/stepped'
import { dancer, idler, nip, rewind, span, trim, unwind, type Entry } from '../line/rig'
import { closedAt, plantAt } from './rig'

const servo = { kind: 'servo', bandwidth: '15 rad/s', torqueLimit: '500 N m', feedForward: '20 ms' }
const torque = { kind: 'torque', tension: '100 N', torqueLimit: '500 N m', inertiaCompensation: '60 %' }
const line = [
  ...[unwind(100, { drive: servo }), span(0.6, 1e-3), dancer('dancer', { damping: '20 N s/m', stiffness: '100 N/m' })],
  ...[span(0.5, 1e-3), nip('nip'), span(0.7, 1e-3), idler('idler'), span(0.7, 1e-3), rewind({ drive: torque })],
]
const control = (changes: Entry = {}) => [
  trim('dancer', 'unwind', { gain: '1.2 1/s', integral: '0.5 1/s^2', ...changes }),
]
const OUTPUTS = ['tension/unwind → dancer', 'tension/idler → rewind', 'dancer/dancer']
const TICK = 0.002

describe('frequency response', () => {
  test.each([
    ['speed', {}],
    ['draw/nip', {}],
    ['radius/unwind', {}],
    ['force/dancer', {}],
    ['winding/rewind', {}],
    ['draw/nip', { program: { sample: '20 ms', filter: '40 ms' } }],
  ] as const)('is what a sine settles to in time: %s %o', (key, changes) => {
    const plant = plantAt({ line, control: control(changes), speed: 0.5, tick: 0.002 })
    const closed = closedAt(plant)
    const inputs = plant.inputs.filter((i) => i.key === key)
    const outputs = plant.outputs.filter((o) => OUTPUTS.includes(o.key))
    const responses = new Responses(plant)
    const k = responses.disturbances.findIndex((d) => d.key === key)
    const w = 2 * Math.PI * 1.25
    const wanted = responses.at(w, k)
    const run = new LinearRun(plant, closed, { inputs, outputs, tick: TICK })
    const perCycle = Math.round(0.8 / TICK)
    const cycles = 40
    const sums = outputs.map(() => [0, 0])
    for (let n = 0; n < cycles * perCycle; n++) {
      run.step([Math.sin(w * n * TICK)], [Math.sin(w * (n + 1) * TICK)], [0])
      if (n < (cycles - 2) * perCycle) continue
      sums.forEach((sum, j) => {
        sum[0] += (run.seen[j] * Math.sin(w * n * TICK)) / perCycle
        sum[1] += (run.seen[j] * Math.cos(w * n * TICK)) / perCycle
      })
    }
    // What stands before the nip hears nothing of the winder: nothing must then come of either way.
    const largest = Math.max(...outputs.map((output) => wanted[responses.outputs.indexOf(output)].size))
    expect(largest).toBeGreaterThan(0)
    outputs.forEach((output, j) => {
      const { re, im, size } = wanted[responses.outputs.indexOf(output)]
      expect(Math.hypot(sums[j][0] - re, sums[j][1] - im) / Math.max(size, 1e-9 * largest)).toBeLessThan(
        'program' in changes ? 0.02 : 2e-3,
      )
    })
  })

  test('at the lowest frequency the answer to a set point of a trim with an integral part is the set point itself', () => {
    const responses = new Responses(plantAt({ line, control: control(), speed: 0.5 }))
    const k = responses.disturbances.findIndex((d) => d.key === 'set point/unwind')
    const j = responses.outputs.findIndex((o) => o.key === 'dancer/dancer')
    const { re, im } = responses.at(1e-4, k)[j]
    expect(re).toBeCloseTo(1, 3)
    expect(im).toBeCloseTo(0, 2)
  })

  test('over a range: rising frequencies, finite answers; nothing for what is not there', () => {
    const responses = new Responses(plantAt({ line, control: control(), speed: 0.5 }))
    const points = responses.over('draw/nip', 'tension/unwind → dancer', 0.01, 100)
    expect(points.length).toBeGreaterThan(200)
    points.forEach(({ frequency, value }, n) => {
      expect(frequency).toBeGreaterThan(n > 0 ? points[n - 1].frequency : 0)
      expect(Number.isFinite(value.size)).toBe(true)
    })
    expect(responses.over('draw/none', 'tension/unwind → dancer')).toEqual([])
  })
})

describe('a step on the linear line', () => {
  test('of a set point ends at the set point; of a draw, where its integral part leaves the dancer: at its place', () => {
    const plant = plantAt({ line, control: control(), speed: 0.5 })
    const step = steppedLine(plant, 'set point/unwind', 0.01, ['dancer/dancer'], { tick: 0.01, duration: 40 })
    if (!step.ok) throw new Error(step.say)
    expect(step.times.length).toBe(step.values[0].length)
    expect(step.values[0].at(-1)).toBeCloseTo(0.01, 5)
    const draw = steppedLine(plant, 'draw/nip', 1e-4, ['dancer/dancer'], { tick: 0.01, duration: 60 })
    if (!draw.ok) throw new Error(draw.say)
    expect(Math.min(...draw.values[0])).toBeLessThan(-1e-6)
    expect(draw.values[0].at(-1)).toBeCloseTo(0, 7)
    expect(steppedLine(plant, 'no such thing', 1, [], { tick: 0.01, duration: 1 }).ok).toBe(false)
  })
})
