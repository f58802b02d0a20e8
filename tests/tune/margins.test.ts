/** Margins of three loops against Octave's control package, whose equations and laws are written anew: tests/reference/loop_margins.m. */
import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { loopGain } from '../../src/tune/loops'
import { dancer, idler, nip, rewind, span, trim, unwind, type Entry } from '../line/rig'
import { plantAt } from './rig'

interface Reference {
  readonly name: string
  readonly parameters: Record<string, number>
  readonly gainMargin: number
  readonly gainAt: number
  readonly phaseMargin: number
  readonly phaseAt: number
}

const references = JSON.parse(readFileSync('tests/reference/loop-margins.json', 'utf8')) as Reference[]
const [lagging, program, winder] = references

const held = { drag: '0 N m', breakaway: '0 N m' }

function zone(p: Record<string, number>, drive: Entry): Entry[] {
  const film = p['tf']
  return [
    ...[unwind(100, { drive }), span(0.5, film)],
    dancer('dancer', {
      mass: `${p['M']} kg`,
      damping: `${p['c']} N s/m`,
      stiffness: `${p['k']} N/m`,
      force: `${p['P']} N`,
    }),
    ...[span(0.7, film), nip('nip'), span(1, film), rewind()],
  ]
}

function expectMargins(found: ReturnType<typeof loopGain>, wanted: Reference): void {
  if (!found.ok) throw new Error(found.say)
  const { phaseMargin, gainMargin } = found.margins
  expect(found.stable).toBe(true)
  expect(phaseMargin?.value).toBeCloseTo(wanted.phaseMargin, 5)
  expect((phaseMargin?.w ?? 0) / wanted.phaseAt).toBeCloseTo(1, 5)
  expect((gainMargin?.value ?? 0) / wanted.gainMargin).toBeCloseTo(1, 4)
  expect((gainMargin?.w ?? 0) / wanted.gainAt).toBeCloseTo(1, 5)
}

describe('margins against the control package of Octave', () => {
  test('position trim on a lagging drive, continuous', () => {
    const p = lagging.parameters
    const line = zone(p, { kind: 'lag', lag: `${p['lag']} s` })
    const control = [trim('dancer', 'unwind', { gain: `${p['gain']} 1/s`, integral: `${p['integral']} 1/s^2` })]
    expectMargins(loopGain(plantAt({ line, control, speed: p['v'] }), 0), lagging)
  })

  test('position trim as a program on a servo: filters, derivative, hold, one sample of delay', () => {
    const p = program.parameters
    const line = zone(p, { kind: 'servo', bandwidth: `${p['wn']} rad/s`, torqueLimit: '1000 N m' })
    const control = [
      trim('dancer', 'unwind', {
        ...{ gain: `${p['gain']} 1/s`, integral: `${p['integral']} 1/s^2` },
        program: {
          ...{ sample: `${p['sample']} s`, filter: `${p['filter']} s`, delayed: true },
          ...{ derivativeTime: `${p['derivativeTime']} s`, derivativeFilter: `${p['derivativeFilter']} s` },
        },
      }),
    ]
    expectMargins(loopGain(plantAt({ line, control, speed: p['v'] }), 0), program)
  })

  test('tension trim on a torque winder, through its load cell', () => {
    const p = winder.parameters
    const line = [
      ...[unwind(100), span(1), nip('nip'), span(p['L'], p['tf']), idler('cell', held), span(p['L'], p['tf'])],
      rewind({ ...held, drive: { kind: 'torque', tension: `${p['F']} N` } }),
    ]
    const control = [
      {
        ...{ control: 'tension trim', measures: 'cell', drives: 'rewind', kind: 'torque', tension: `${p['F']} N` },
        ...{ gain: `${100 * p['gain']} %`, integral: `${p['integral']} 1/s`, filter: `${p['T']} s`, limit: '50 N' },
      },
    ]
    expectMargins(loopGain(plantAt({ line, control, speed: p['v'] }), 0), winder)
  })
})
