import { expect, test } from 'vitest'
import { standing } from '../../src/app/parts/share'

const limits = { name: 'a → b', elasticTension: 100, most: 40, least: 20 }
const span = (limitShare: number, min: number, max: number, slackSeconds = 0) => ({
  name: 'a → b',
  tension: { start: min, end: min, min, max, atMin: 0, atMax: 1 },
  limitShare,
  limitAt: 1,
  slackSeconds,
})

test.each([
  ['in band', span(0.3, 25, 30)],
  ['above band', span(0.5, 25, 50)],
  ['below band', span(0.3, 10, 30)],
  ['slack', span(0.3, 0, 30, 0.1)],
  ['past limit', span(1.2, 0, 120, 0.1)],
])('%s', (word, summary) => {
  expect(standing(summary, limits)).toBe(word)
})

test('a thinner film that followed is judged by its own strain', () => {
  expect(standing(span(0.6, 25, 30), limits)).toBe('above band')
})
