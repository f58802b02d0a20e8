import fc from 'fast-check'
import { expect, test } from 'vitest'
import { limitSearch, type LimitFound, type LimitSearch } from '../../src/tune/find-limit'
import { sweepCases } from '../../src/tune/sweep'
import { shortLine } from '../headless/line'

const search: LimitSearch = {
  document: shortLine,
  path: 'line/infeed dancer/force',
  kind: 'force',
  unit: 'N',
  from: 100,
  to: 200,
  figure: 'greatest tension',
  limit: 80,
}

function found(changes: Partial<LimitSearch>): { end: LimitFound; shares: number[] } {
  const work = limitSearch()({ ...search, ...changes })
  const shares: number[] = []
  for (;;) {
    const step = work.next()
    if (step.done === true) return { end: step.value, shares }
    shares.push(step.value)
  }
}

/** The figure of a single run, found by another way: a search whose limit no run reaches tells the figures at its ends. */
function figureAt(force: number, figure = 'greatest tension'): number {
  const { end } = found({ from: force, to: force, figure, limit: 1e9 })
  if (end.found !== false) throw new Error('not a plain answer')
  return end.at[0]
}

test('finds the dancer force at which a tension limit is reached: of the last bracket the end that keeps it', () => {
  const { end, shares } = found({})
  if (end.found !== true) throw new Error(JSON.stringify(end))
  // Two strands carry the force of a dancer that hangs down: its greatest tension grows with half of it.
  expect(figureAt(end.value)).toBeLessThanOrEqual(80)
  expect(figureAt(end.beyond)).toBeGreaterThan(80)
  expect(end.beyond - end.value).toBeGreaterThan(0)
  expect(end.beyond - end.value).toBeLessThan(0.04)
  expect([...shares].sort((a, b) => a - b)).toEqual(shares)
  expect(Math.max(...shares)).toBeLessThanOrEqual(1)
})

test('each run is held to its own limit: what least tension may be asked for is the one that there is', () => {
  const least = figureAt(120, 'least tension')
  const held = { path: 'limits/leastTension', figure: 'least tension', limit: null, halvings: 4 } as const
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 999 }), fc.boolean(), (place, isTurned) => {
      const ends = [least - (10 * place) / 1000, least + 10 - (10 * place) / 1000] as const
      const [from, to] = isTurned ? [ends[1], ends[0]] : ends
      const { end } = found({ ...held, from, to })
      if (end.found !== true) throw new Error(JSON.stringify(end))
      expect(end.value).toBeLessThanOrEqual(least)
      expect(end.beyond).toBeGreaterThan(least)
      expect(end.beyond - end.value).toBeCloseTo(10 / 2 ** held.halvings, 9)
    }),
    { numRuns: 20 },
  )
})

test('the limit moves with the film: half its thickness, half the tension it may have', () => {
  const thickness = { path: 'films/A/thickness', kind: 'length', unit: 'µm', halvings: 6 } as const
  const { end } = found({ ...thickness, from: 4e-6, to: 36e-6, limit: null })
  if (end.found !== true) throw new Error(JSON.stringify(end))
  const own = (micrometres: number) => {
    const work = sweepCases({ document: shortLine, paths: [thickness.path] })([`${micrometres} µm`])
    let step = work.next()
    while (step.done !== true) step = work.next()
    if (step.value.outcome !== 'finished') throw new Error(step.value.say)
    return step.value.figures.find(({ key }) => key === 'greatest tension')
  }
  const [kept, broken, present] = [end.value * 1e6, end.beyond * 1e6, 36].map(own)
  expect(kept?.value).toBeLessThanOrEqual(kept?.limit?.limit ?? NaN)
  expect(broken?.value).toBeGreaterThan(broken?.limit?.limit ?? NaN)
  expect(kept?.limit?.limit).toBeCloseTo(((present?.limit?.limit ?? NaN) * end.value) / 36e-6, 6)
})

test('without a limit of its own or a stated one, that is said', () => {
  expect(found({ figure: 'ripple/infeed dancer', limit: null }).end).toMatchObject({ found: 'broken', value: 100 })
})

test('finds it from either end', () => {
  const [up, down] = [found({}).end, found({ from: 200, to: 100 }).end]
  if (up.found !== true || down.found !== true) throw new Error('not found')
  expect(down.value).toBeCloseTo(up.value, 1)
})

test('says when both ends lie on the same side', () => {
  const { end } = found({ limit: 1e4 })
  expect(end).toMatchObject({ found: false })
})

test('a run that is refused on the way is told with its value', () => {
  const { end } = found({ path: 'line/infeed dancer/mass', kind: 'mass', unit: 'kg', from: -1, to: 4 })
  expect(end).toMatchObject({ found: 'broken', value: -1 })
  expect(JSON.stringify(end)).toContain('mass')
})

test('a figure that the run does not have is told', () => {
  expect(JSON.stringify(found({ figure: 'beauty' }).end)).toContain('beauty')
})
