import { expect, test } from 'vitest'
import { limitSearch, type LimitFound, type LimitSearch } from '../../src/tune/find-limit'
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
function figureAt(force: number): number {
  const { end } = found({ from: force, to: force, limit: 1e9 })
  if (end.found !== false) throw new Error('not a plain answer')
  return end.at[0]
}

test('finds the dancer force at which a tension limit is reached', () => {
  const { end, shares } = found({})
  if (end.found !== true) throw new Error(JSON.stringify(end))
  // Two strands carry the force of a dancer that hangs down: its greatest tension grows with half of it.
  expect(figureAt(end.value - end.within)).toBeLessThanOrEqual(80)
  expect(figureAt(end.value + end.within)).toBeGreaterThan(80)
  expect(end.within).toBeLessThan(0.02)
  expect([...shares].sort((a, b) => a - b)).toEqual(shares)
  expect(Math.max(...shares)).toBeLessThanOrEqual(1)
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
