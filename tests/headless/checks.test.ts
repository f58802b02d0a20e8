import { expect, test } from 'vitest'
import { runCheck, type Check } from '../../src/checks'
import { checksCommand } from '../../src/headless/checks'

function checkOf(compute: Check['compute']): Check {
  return {
    id: 'lever',
    title: 'Pressure through a lever',
    kind: 'published equation, own digits',
    source: 'A textbook of mechanics',
    inputs: 'two bores of 50 mm',
    rows: [{ what: 'force in the film', expected: 26.7047, unit: 'N', tolerance: 1e-4 }],
    compute,
  }
}

function printed(...checks: Check[]): { code: number; text: string } {
  const lines: string[] = []
  const code = checksCommand((line) => lines.push(line), checks.map(runCheck))
  return { code, text: lines.join('\n') }
}

test('every row is printed with its kind, source, inputs, both figures and tolerance', () => {
  const { code, text } = printed(checkOf(() => [26.70472]))
  expect(code).toBe(0)
  expect(text).toContain('Pressure through a lever')
  expect(text).toContain('published equation, own digits: A textbook of mechanics')
  expect(text).toContain('two bores of 50 mm')
  expect(text).toContain('pass  force in the film: expected 26.7047 N, computed 26.70472 N, tolerance 1e-4 N')
  expect(text).toContain('1 checks, 1 passed, 0 failed')
})

test('one that fails gives exit code 1', () => {
  const { code, text } = printed(
    checkOf(() => [26.7047]),
    checkOf(() => [26.71]),
  )
  expect(code).toBe(1)
  expect(text).toContain('FAIL  force in the film')
  expect(text).toContain('2 checks, 1 passed, 1 failed')
})

test('one that cannot be computed says why', () => {
  const broken = checkOf(() => {
    throw new Error('the line has no dancer')
  })
  const { code, text } = printed(broken)
  expect(code).toBe(1)
  expect(text).toContain('could not be computed: the line has no dancer')
})

test('no checks at all is no success', () => {
  expect(printed().code).toBe(1)
})
