import { expect, test } from 'vitest'
import { runCheck, type Check } from '../../src/checks'

function checkWith(changes: Partial<Check>): Check {
  return {
    id: 'x',
    title: 'Twice two',
    kind: 'own derivation',
    source: 'counting',
    inputs: '2, 2',
    rows: [
      { what: 'sum', expected: 4, unit: '1', tolerance: 0.01 },
      { what: 'difference', expected: 0, unit: '1', tolerance: 0.01 },
    ],
    compute: () => [4.005, -0.01],
    ...changes,
  }
}

test('passes when every row lies within its tolerance, on either side', () => {
  const result = runCheck(checkWith({}))
  expect(result.pass).toBe(true)
  expect(result.problem).toBeUndefined()
  expect(result.rows.map(({ computed, pass }) => [computed, pass])).toEqual([
    [4.005, true],
    [-0.01, true],
  ])
})

test('one row outside fails the check and is marked', () => {
  const result = runCheck(checkWith({ compute: () => [4, 0.02] }))
  expect(result.pass).toBe(false)
  expect(result.rows.map(({ pass }) => pass)).toEqual([true, false])
})

test('a figure that is no number fails', () => {
  expect(runCheck(checkWith({ compute: () => [Number.NaN, 0] })).pass).toBe(false)
})

test('a thrown error is a failed check with its message', () => {
  const broken = checkWith({
    compute: () => {
      throw new Error('no such line')
    },
  })
  const result = runCheck(broken)
  expect(result.pass).toBe(false)
  expect(result.problem).toBe('no such line')
  expect(result.rows.every(({ pass, computed }) => !pass && Number.isNaN(computed))).toBe(true)
})

test('too few or too many figures fail', () => {
  expect(runCheck(checkWith({ compute: () => [4] })).problem).toBe('computed 1 figures for 2 rows')
  const many = runCheck(checkWith({ compute: () => [4, 0, 0] }))
  expect(many.pass).toBe(false)
})

test('a check without rows proves nothing', () => {
  expect(runCheck(checkWith({ rows: [], compute: () => [] })).pass).toBe(false)
})
