import { expect, test } from 'vitest'
import { checks } from '../../src/checks'
import { listOfChecks, toldCheck } from '../../src/checks/told'

test('every check is listed with what it is about, as plain data', () => {
  const texts = listOfChecks()()
  expect(texts.map(({ id }) => id)).toEqual(checks.map(({ id }) => id))
  for (const text of texts) expect(structuredClone(text)).toEqual(text)
})

test('what became of a check can be sent, row by row', () => {
  const [check] = checks
  const told = toldCheck()(check.id)
  expect(structuredClone(told)).toEqual(told)
  expect(told.pass).toBe(true)
  expect(told.rows.map(({ what }) => what)).toEqual(check.rows.map(({ what }) => what))
})

test('an unknown check is an error that names it', () => {
  expect(() => toldCheck()('none')).toThrow('"none"')
})
