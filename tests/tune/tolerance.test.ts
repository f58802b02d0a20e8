import { expect, test } from 'vitest'
import { readDocument } from '../../src/scenario/read'
import { sweepCases } from '../../src/tune/sweep'
import { atCorner, cornersOf, toleranceCorners, worstCorner, type Corner } from '../../src/tune/tolerance'
import { shortLine } from '../headless/line'

const nominal: Corner = { friction: 1, modulus: 1, mass: 1, diameter: 0.3 }

function answerAt(corner: Corner) {
  const work = toleranceCorners({ document: shortLine, dancer: 'infeed dancer' })(corner)
  for (;;) {
    const step = work.next()
    if (step.done !== true) continue
    if (!step.value.ok) throw new Error(step.value.say)
    return step.value
  }
}

test('four ranges have sixteen corners, each once; a range without width counts once', () => {
  const ranges = { friction: [0.5, 1.5], modulus: [0.9, 1.1], mass: [0.8, 1.2], diameter: [0.1, 0.3] } as const
  const corners = cornersOf(ranges)
  expect(new Set(corners.map((corner) => JSON.stringify(corner))).size).toBe(16)
  expect(cornersOf({ ...ranges, mass: [1, 1] })).toHaveLength(8)
})

test('a corner changes what it names and nothing else', () => {
  const reading = readDocument(shortLine)
  if (!reading.ok) throw new Error('not read')
  const { scenario } = reading
  expect(atCorner(scenario, 'infeed dancer', nominal)).toEqual(scenario)
  const other = atCorner(scenario, 'infeed dancer', { friction: 2, modulus: 0.5, mass: 3, diameter: 0.2 })
  expect(other.films['A']?.modulus).toBeCloseTo(4.5e9 / 2, 0)
  expect(other.line[0]).toMatchObject({ diameter: 0.2 })
  expect(other.line.find(({ part }) => part === 'dancer')).toMatchObject({ mass: 12, damping: 40 })
  expect(other.control).toBe(scenario.control)
})

test('the figures of a corner are those of the scenario written with its numbers', () => {
  const corner = answerAt({ friction: 1, modulus: 0.5, mass: 3, diameter: 0.2 })
  const work = sweepCases({
    document: shortLine,
    paths: ['films/A/modulus', 'line/infeed dancer/mass', 'line/unwind/diameter'],
  })(['2.25 GPa', '12 kg', '200 mm'])
  let step = work.next()
  while (step.done !== true) step = work.next()
  if (step.value.outcome !== 'finished') throw new Error(step.value.say)
  const figures = new Map(step.value.figures.map(({ key, value }) => [key, value]))
  expect(corner.limitShare).toBeCloseTo(figures.get('share of elastic limit') ?? NaN, 9)
  expect(corner.leastTension).toBeCloseTo(figures.get('least tension') ?? NaN, 9)
  expect(corner.travelShare).toBeCloseTo(figures.get('travel used/infeed dancer') ?? NaN, 9)
  expect(corner.leastTension).not.toBeCloseTo(answerAt(nominal).leastTension, 1)
  expect([corner.wantedTension, corner.allowedShare, corner.ranOutAt]).toEqual([20, 0.4, undefined])
})

test('a corner that cannot be run says why', () => {
  const work = toleranceCorners({ document: { spanwright: 1 }, dancer: 'x' })(nominal)
  const step = work.next()
  expect(step.done).toBe(true)
  expect(step.value).toMatchObject({ ok: false })
})

test('the worst corner is that of the greatest badness; answers that are not there count for nothing', () => {
  expect(worstCorner([1, undefined, 5, 3], (x) => x)).toBe(2)
  expect(worstCorner([undefined], () => 1)).toBeUndefined()
})
