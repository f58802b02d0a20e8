/** A bar without contact: geometry, and nothing else. Own derivation. */
import { describe, expect, test } from 'vitest'
import { finish, idler, nip, pointOf, rewind, runOf, span, stepOf, unwind, type Entry } from './rig'

const bar = (changes: Entry = {}): Entry => ({
  ...{ part: 'bar', name: 'air bar', diameter: '120 mm', wrap: '60 deg', turn: 'left', ...changes },
})

describe('round a bar', () => {
  const line = [unwind(100), span(0.8, 0.001), bar(), span(0.4, 0.004), nip('nip'), span(1), rewind()]
  const point = pointOf({ line })

  test('two spans are one, longer by the arc', () => {
    expect(point.line.spans.names).toEqual(['unwind → nip', 'nip → rewind'])
    expect(point.line.spans.length[0]).toBeCloseTo(1.2 + (Math.PI / 3) * 0.06, 14)
  })

  test('nothing turns: it has no state', () => {
    expect(point.line.rollers.names).toEqual(['unwind', 'nip', 'rewind'])
    expect(point.line.stateNames.some((name) => name.includes('bar'))).toBe(false)
  })

  test('film damping is that of the free lengths, each by its share', () => {
    expect(point.line.spans.damping[0]).toBeCloseTo((0.8 * 0.001 + 0.4 * 0.004) / 1.2, 15)
  })
})

test('with an untouched bar a line runs as it does with one span of the same length', () => {
  const draw = { draw: '0.1 %' }
  const rest = [nip('nip', draw), span(1), rewind(draw)]
  const straight = (share: Entry) => ({
    line: [unwind(100), span(1.2 + 0.06 * (Math.PI / 3)), nip('nip', share), span(1), rewind(share)],
  })
  const bent = [unwind(100), span(0.7), bar(), span(0.5), ...rest]
  const tensions = [{ line: bent }, straight(draw)].map((setting) => {
    const seen: number[] = []
    finish(stepOf(straight({}), { ...setting, duration: 2 }), ({ line }) => seen.push(line.spans.force[0]))
    return seen
  })
  tensions[0].forEach((force, k) => expect(force).toBeCloseTo(tensions[1][k], 6))
  expect(tensions[0].at(-1)).toBeGreaterThan(200)
})

test('several bars, and rollers with arcs beside them, all add up; a wrap of nothing adds nothing', () => {
  const line = [
    ...[unwind(100), span(0.2), bar(), span(0.3), bar({ name: 'second bar', wrap: '180 deg', diameter: '100 mm' })],
    ...[span(0.4), bar({ name: 'third bar', wrap: '0 deg' }), span(0.1), idler('idler', { wrap: '180 deg' }), span(1)],
    rewind(),
  ]
  const { spans } = pointOf({ line }).line
  const arcs = 0.06 * (Math.PI / 3) + 0.05 * Math.PI + (0.05 * Math.PI) / 2
  expect(spans.length[0]).toBeCloseTo(1 + arcs, 14)
  expect(finish(runOf({ line, duration: 0.1 })).spans[0].tension.end).toBeCloseTo(100, 4)
})
