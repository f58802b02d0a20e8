import { expect, test } from 'vitest'
import { Route } from '../../src/app/state/route.svelte'

const known = ['line', 'roll']

test('an address names a page and leaves the rest to it', () => {
  const route = new Route(known, '#roll/with%20taper/2')
  expect(route.page).toBe('roll')
  expect(route.rest).toEqual(['with taper', '2'])
})

test.each(['', '#', '#nothing', '#nothing/2', '#%'])('%j opens the first page', (hash) => {
  const route = new Route(known, hash)
  expect(route.page).toBe('line')
  expect(route.rest).toEqual([])
})

test('a part that is escaped badly stands for itself', () => {
  const route = new Route(known, '#line/100%')
  expect(route.rest).toEqual(['100%'])
})
