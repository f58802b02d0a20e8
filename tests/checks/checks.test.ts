/** The checks as a whole: which ones there are, where they come from, and that a wrong figure does not pass. */
import { describe, expect, test } from 'vitest'
import { checks, runCheck, type Check } from '../../src/checks'

/** Those of the moving line, by the numbers that they are known by. */
const movingLine = ['1', '2', '3', '4', '6', '9', '10', '14', '27', '40', '44']

const woundRoll = [...Array.from({ length: 13 }, (_, k) => String(16 + k)), '42', '43', '45']

const wrinkles = ['15', '29', '30', '31', '32', '33', '34', '38']

const expectedIds = [...new Set([...movingLine, ...woundRoll, ...wrinkles])]

/** The kinds that say by themselves that there is no publication. */
const withoutSource: readonly Check['kind'][] = ['own derivation', 'common practice, no source', 'from memory']

test('the checks of the moving line, of the roll and of wrinkles are all there, each once', () => {
  const ids = checks.map((check) => check.id)
  expect(expectedIds.filter((id) => !ids.includes(id))).toEqual([])
  expect(ids.length).toBe(new Set(ids).size)
})

describe.each(checks.map((check) => [check.id, check] as const))('check %s', (_, check) => {
  test('names who published it, or is of a kind that says that nobody did', () => {
    if (!withoutSource.includes(check.kind)) expect(check.source).toMatch(/\p{Lu}[\p{L}.]+/u)
    expect(check.source.length).toBeGreaterThan(10)
  })

  test('every row is about something, in a unit, with a tolerance', () => {
    expect(check.rows.length).toBeGreaterThan(0)
    for (const { what, unit, tolerance } of check.rows) {
      expect(what).not.toBe('')
      expect(unit).not.toBe('')
      expect(tolerance).toBeGreaterThan(0)
    }
    expect(new Set(check.rows.map((row) => row.what)).size).toBe(check.rows.length)
  })
})

test.each(expectedIds)(
  'check %s: a figure that is off by a little more than its tolerance fails, each by itself',
  (id) => {
    const check = checks.find((one) => one.id === id)
    if (check === undefined) throw new Error(`no check ${id}`)
    const computed = check.compute()
    const frozen = (rows: Check['rows']) => runCheck({ ...check, rows, compute: () => computed })
    expect(frozen(check.rows).pass).toBe(true)
    check.rows.forEach((_row, n) => {
      const wrong = check.rows.map((row, k) =>
        k === n ? { ...row, expected: row.expected + 2.1 * row.tolerance } : row,
      )
      const result = frozen(wrong)
      expect(result.pass).toBe(false)
      expect(result.rows.map((row) => row.pass)).toEqual(check.rows.map((_other, k) => k !== n))
    })
  },
)
