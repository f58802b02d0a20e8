/**
 * `npm test`: every check, in order, to the end even when one fails. The last line reads `N passed, N failed`: each test
 * counts as one, and so does each stage without tests. Names after `--` choose stages: `npm test -- types unit`.
 */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { provideBrowser } from './browser.mjs'
import { addCounts, countTests } from './counts.mjs'
import { installMissing } from './install.mjs'
import { root, runPackage } from './process.mjs'
import { weighFirstPage } from './weight.mjs'

/** @typedef {import('./counts.mjs').Counts} Counts */

const typeProjects = ['src', 'src/headless', 'workers', 'tests', '.']
const reports = mkdtempSync(join(tmpdir(), 'spanwright-test-'))

/**
 * @param {number} exitCode
 * @returns {Counts}
 */
const one = (exitCode) => (exitCode === 0 ? { passed: 1, failed: 0 } : { passed: 0, failed: 1 })

/** @returns {Promise<Counts>} */
async function checkTypes() {
  let worst = 0
  for (const project of typeProjects) {
    const code = await runPackage('typescript/bin/tsc', ['--project', project, '--noEmit'])
    if (code !== 0) console.error(`types in ${project}: not right`)
    worst = Math.max(worst, code)
  }
  return one(worst)
}

/** @returns {Promise<Counts>} */
async function build() {
  const code = await runPackage('vite/bin/vite.js', ['build', '--logLevel', 'warn'])
  if (code !== 0) return one(code)
  const single = await runPackage('vite/bin/vite.js', ['build', '--mode', 'single', '--logLevel', 'warn'])
  if (single !== 0) return one(single)
  const { within, lines } = weighFirstPage(join(root, 'dist'))
  console.log(lines.join('\n'))
  return one(within ? 0 : 1)
}

/**
 * @param {'unit' | 'browser'} project
 * @param {NodeJS.ProcessEnv} env
 * @returns {Promise<Counts>}
 */
async function runTests(project, env = process.env) {
  const file = join(reports, `${project}.json`)
  const args = ['run', '--project', project, '--reporter=default', '--reporter=json', `--outputFile.json=${file}`]
  const code = await runPackage('vitest/vitest.mjs', args, { env })
  let report
  try {
    report = JSON.parse(readFileSync(file, 'utf8'))
  } catch {
    console.error('No report was written: the tests did not run to their end.')
  }
  return countTests(report, code)
}

/** @returns {Promise<Counts>} */
async function testInBrowser() {
  try {
    return await runTests('browser', { ...process.env, CHROMIUM: await provideBrowser() })
  } catch (error) {
    console.error(error instanceof Error ? error.message : error)
    return one(1)
  }
}

/** @type {[string, () => Promise<Counts>][]} */
const stages = [
  ['format', async () => one(await runPackage('prettier/bin/prettier.cjs', ['--check', '.', '--log-level', 'warn']))],
  ['lint', async () => one(await runPackage('eslint/bin/eslint.js', ['.', '--max-warnings', '0']))],
  ['types', checkTypes],
  [
    'svelte',
    async () =>
      one(
        await runPackage('svelte-check/bin/svelte-check', [
          '--tsconfig',
          'src/app/tsconfig.json',
          '--fail-on-warnings',
        ]),
      ),
  ],
  ['unit', () => runTests('unit')],
  ['build', build],
  ['browser', testInBrowser],
]

const chosen = process.argv.slice(2)
const unknown = chosen.filter((name) => !stages.some(([stage]) => stage === name))
if (unknown.length > 0) {
  console.error(`Unknown stage ${unknown.join(', ')}: choose from ${stages.map(([name]) => name).join(', ')}.`)
  process.exit(2)
}

await installMissing()
/** @type {{ name: string, counts: Counts, seconds: number }[]} */
const results = []

/** @param {readonly string[]} names of stages, which run one after the other */
async function inTurn(names) {
  for (const [name, stage] of stages.filter(([name]) => names.includes(name))) {
    if (chosen.length > 0 && !chosen.includes(name)) continue
    console.log(`\n== ${name}`)
    const began = Date.now()
    const counts = await stage()
    const seconds = (Date.now() - began) / 1000
    results.push({ name, counts, seconds })
    console.log(`-- ${name}: ${counts.failed === 0 ? 'passed' : 'FAILED'} in ${seconds.toFixed(1)} s`)
  }
}

// Each of these two lanes keeps one core busy, about as long as the other; the tests use all there are.
await Promise.all([inTurn(['lint']), inTurn(['format', 'types', 'svelte'])])
await inTurn(['unit', 'build', 'browser'])
rmSync(reports, { recursive: true, force: true })

const total = addCounts(results.map(({ counts }) => counts))
console.log('')
for (const { name, counts, seconds } of results) {
  console.log(`${name.padEnd(8)}${seconds.toFixed(1).padStart(7)} s  ${counts.passed} passed, ${counts.failed} failed`)
}
console.log(`\n${total.passed} passed, ${total.failed} failed`)
process.exitCode = total.failed === 0 && total.passed > 0 ? 0 : 1
