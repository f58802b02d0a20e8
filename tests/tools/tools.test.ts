import { mkdirSync, mkdtempSync, rmSync, utimesSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'
import { afterAll, describe, expect, test } from 'vitest'
import { findBrowser } from './browser.mjs'
import { isStale } from './bundle.mjs'
import { addCounts, countTests } from './counts.mjs'
import { missingPackages } from './install.mjs'
import { table } from './table.mjs'
import { firstPageScripts, weighFirstPage } from './weight.mjs'

const folder = mkdtempSync(join(tmpdir(), 'spanwright-tools-'))
afterAll(() => rmSync(folder, { recursive: true }))

describe('packages to install', () => {
  const one = { version: '1.0.0', integrity: 'sha512-one' }
  const wanted = { packages: { '': {}, 'node_modules/one': one, 'node_modules/other': { ...one, optional: true } } }

  test('none when all are there', () => {
    expect(missingPackages(wanted, wanted)).toEqual([])
  })
  test('all but the optional on a fresh machine', () => {
    expect(missingPackages(wanted, undefined)).toEqual(['one'])
  })
  test('one of another version', () => {
    const present = { packages: { 'node_modules/one': { ...one, version: '0.9.0' } } }
    expect(missingPackages(wanted, present)).toEqual(['one'])
  })
})

describe('counting tests', () => {
  const file = (status: string, ...tests: string[]) => ({
    status,
    assertionResults: tests.map((one) => ({ status: one })),
  })

  test('passed and failed ones', () => {
    const report = {
      testResults: [file('passed', 'passed', 'passed', 'skipped'), file('failed', 'passed', 'failed', 'failed')],
    }
    expect(countTests(report, 1)).toEqual({ passed: 3, failed: 2 })
  })
  test('a file that broke before its tests is a failure', () => {
    expect(countTests({ testResults: [file('failed'), file('passed', 'passed')] }, 1)).toEqual({ passed: 1, failed: 1 })
  })
  test('an error outside every test is a failure', () => {
    expect(countTests({ testResults: [file('passed', 'passed')] }, 1)).toEqual({ passed: 1, failed: 1 })
  })
  test('no tests, or no report, is a failure', () => {
    expect(countTests({ testResults: [] }, 0)).toEqual({ passed: 0, failed: 1 })
    expect(countTests({ testResults: [file('passed', 'skipped')] }, 0)).toEqual({ passed: 0, failed: 1 })
    expect(countTests(undefined, 0)).toEqual({ passed: 0, failed: 1 })
  })
  test('stages add up', () => {
    expect(
      addCounts([
        { passed: 1, failed: 2 },
        { passed: 10, failed: 20 },
      ]),
    ).toEqual({ passed: 11, failed: 22 })
    expect(addCounts([])).toEqual({ passed: 0, failed: 0 })
  })
})

describe('weight of the first page', () => {
  const page = join(folder, 'page')
  mkdirSync(join(page, 'assets'), { recursive: true })
  mkdirSync(join(page, 'workers'))
  writeFileSync(
    join(page, 'index.html'),
    '<script type="module" crossorigin src="./assets/index.js"></script>' +
      '<link rel="modulepreload" crossorigin href="./assets/shared.js"><link rel="stylesheet" href="./assets/index.css">',
  )
  for (const name of ['assets/index.js', 'assets/shared.js', 'assets/later.js', 'assets/index.css', 'workers/run.js']) {
    writeFileSync(join(page, name), `of ${name}`)
  }

  test('counts the scripts named in the page and the workers, not what is fetched later', () => {
    const scripts = firstPageScripts(page)
    expect(scripts.map(({ file }) => file)).toEqual(['assets/index.js', 'assets/shared.js', 'workers/run.js'])
    expect(scripts[0].bytes).toBe(gzipSync('of assets/index.js', { level: 9 }).length)
    expect(weighFirstPage(page).within).toBe(true)
  })
  test('over the budget is not within', () => {
    const digits = Array.from({ length: 200_000 }, (_, index) => (Math.sin(index) * 1e8).toString(36)).join('')
    writeFileSync(join(page, 'assets/shared.js'), digits)
    const { within, lines } = weighFirstPage(page)
    expect(within).toBe(false)
    expect(lines.at(-1)).toContain('OVER')
  })
  test('a page without script is not a page', () => {
    const empty = join(folder, 'empty')
    mkdirSync(empty)
    writeFileSync(join(empty, 'index.html'), '<p>')
    expect(weighFirstPage(empty).within).toBe(false)
  })
})

test('a built file is stale when it is absent or a source is newer', () => {
  const source = join(folder, 'source')
  const output = join(folder, 'built.js')
  mkdirSync(join(source, 'below'), { recursive: true })
  writeFileSync(join(source, 'below', 'one.ts'), '')
  for (const path of [join(source, 'below', 'one.ts'), join(source, 'below'), source]) utimesSync(path, 100, 100)
  expect(isStale(output, [source])).toBe(true)
  writeFileSync(output, '')
  utimesSync(output, 200, 200)
  expect(isStale(output, [source])).toBe(false)
  utimesSync(join(source, 'below', 'one.ts'), 300, 300)
  expect(isStale(output, [source])).toBe(true)
})

test('a browser: the named one goes first, and a wrong name is said', () => {
  const here = join(folder, 'browser')
  writeFileSync(here, '')
  expect(findBrowser(here, [])).toBe(here)
  expect(findBrowser('', [join(folder, 'absent'), here])).toBe(here)
  expect(findBrowser('', [join(folder, 'absent')])).toBeUndefined()
  expect(() => findBrowser(join(folder, 'absent'), [here])).toThrow(/CHROMIUM names .*absent/)
})

test('measurements stand in columns', () => {
  const rows = [
    { what: 'a line', budget: '100 ms', measured: '60 ms', within: true },
    { what: 'roll', budget: '', measured: '1 s', within: null, note: 'no budget' },
    { what: 'map', budget: '2 s', measured: '3 s', within: false },
  ]
  expect(table(rows)).toEqual([
    'what    budget  measured  kept  note',
    '------  ------  --------  ----  ---------',
    'a line  100 ms  60 ms     yes',
    'roll            1 s       -     no budget',
    'map     2 s     3 s       NO',
  ])
})
