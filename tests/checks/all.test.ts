import { expect, test } from 'vitest'
import { checks, runCheck } from '../../src/checks'

test.each(checks.map((check) => [check.id, check.title, check] as const))('check %s: %s', (_id, _title, check) => {
  const { rows, problem } = runCheck(check)
  expect(problem).toBeUndefined()
  for (const { what, expected, computed, tolerance } of rows) {
    expect(Math.abs(computed - expected), `${what}: ${computed} instead of ${expected}`).toBeLessThanOrEqual(tolerance)
  }
})

test('every check has an id of its own, names its inputs and its source', () => {
  expect(new Set(checks.map(({ id }) => id)).size).toBe(checks.length)
  for (const { title, source, inputs } of checks) {
    expect([title, source, inputs].map((text) => text.trim().length > 0)).toEqual([true, true, true])
  }
})

test('no tolerance is so wide that a figure of nought would pass', () => {
  const wide = checks.flatMap(({ id, rows }) =>
    rows
      .filter(({ expected, tolerance }) => expected !== 0 && tolerance >= Math.abs(expected))
      .map(({ what }) => [id, what]),
  )
  expect(wide).toEqual([])
})
