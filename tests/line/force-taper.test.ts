/** Taper on the dancer before the winder: its strands pull what the law asks at the diameter of the roll. Statics. */
import { describe, expect, test } from 'vitest'
import { dancer, evaluate, finish, nip, pointOf, rewind, runOf, span, trim, unwind, type Entry } from './rig'

const taper = (changes: Entry = {}): Entry => ({
  ...{
    control: 'force taper',
    measures: 'rewind',
    drives: 'dancer',
    tension: '150 N',
    law: 'hyperbolic',
    taper: '60 %',
  },
  ...{ fullDiameter: '600 mm', ...changes },
})

const lineOf = (stores: string, diameter: string, more: Entry = {}) => [
  ...[unwind(100), span(0.8, 0.002), nip('nip'), span(0.6, 0.002)],
  ...[dancer('dancer', { stores, force: '999 N', ...more }), span(0.5, 0.002), rewind({ diameter })],
]

describe.each(['up', 'down', 'level'])('a dancer that stores film going %s', (stores) => {
  test.each([
    ['90 mm', 1],
    ['180 mm', 0.7],
    ['360 mm', 0.55],
  ] as const)(
    'at a roll of %s: %d of the tension, whatever it weighs and whatever force is stated',
    (diameter, share) => {
      const control = [taper(), trim('dancer', 'rewind')]
      const { line } = pointOf({ line: lineOf(stores, diameter), control })
      expect(line.spans.force[1]).toBeCloseTo(150 * share, 5)
      expect(line.spans.force[2]).toBeCloseTo(150 * share, 5)
    },
  )
})

test('by its wrap: at 60 deg the force is half of that at 180 deg, the tension the same', () => {
  const force = (wrap: string) => {
    const point = pointOf({ line: lineOf('level', '180 mm', { wrap }), control: [taper(), trim('dancer', 'rewind')] })
    expect(point.line.spans.force[1]).toBeCloseTo(105, 5)
    return point.line.carriages[0].force
  }
  expect(force('60 deg') / force('180 deg')).toBeCloseTo(0.5, 9)
})

test('of an unwind it rises as the roll gets smaller', () => {
  const lines = ['400 mm', '200 mm'].map((diameter) => [
    unwind(100, { diameter }),
    ...lineOf('level', '180 mm').slice(1),
  ])
  const forces = lines.map((line) =>
    pointOf({ line, control: [taper({ measures: 'unwind' }), trim('dancer', 'rewind')] }),
  )
  expect(forces[0].line.spans.force[1]).toBeCloseTo(150 * (1 - 0.6 * (1 - 90 / 400)), 5)
  expect(forces[1].line.spans.force[1]).toBeCloseTo(150 * (1 - 0.6 * (1 - 90 / 200)), 5)
})

test('follows the roll through a run, and what the stage changes of tension and taper', () => {
  const stage: Entry[] = [{ at: '4 s', do: 'winding tension', roller: 'dancer', to: '100 N', taper: '20 %', in: '1 s' }]
  const control = [taper(), trim('dancer', 'rewind', { gain: '3 1/s' })]
  const run = runOf({ line: lineOf('level', '120 mm'), control, stage, speed: 2, duration: 12 })
  const share = (k: number) => 1 - k * (1 - 0.045 / run.line.rewindRoll.mean)
  finish(run, ({ time, line }) => {
    // while the roll grows the dancer moves as good as evenly: its strands pull the force
    if (time > 1 && time < 3.9) expect(Math.abs(line.spans.force[1] - 150 * share(0.6))).toBeLessThan(0.05)
  })
  expect(evaluate(run).spans.force[1]).toBeCloseTo(100 * share(0.2), 1)
  expect(share(0.2)).toBeLessThan(0.97)
})
