/**
 * `npm run bench`: measures against the budgets. Every tests/bench/*.ts that exports `bench(): Promise<Row[]>` runs in a
 * process of its own, so that none warms up or fills the memory of the next. Names after `--` choose files.
 */
import { mkdtempSync, readFileSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { basename, join } from 'node:path'
import { bundle } from './bundle.mjs'
import { installMissing } from './install.mjs'
import { root, run, runPackage } from './process.mjs'
import { table } from './table.mjs'

/** @typedef {import('./table.mjs').Row} Row */

const ending = '.ts'

/**
 * @param {string} name without the ending
 * @returns {Promise<Row[]>}
 */
async function measure(name) {
  const output = join(root, 'dist', 'bench', `${name}.js`)
  const reports = mkdtempSync(join(tmpdir(), 'spanwright-bench-'))
  try {
    await bundle(join(root, 'tests', 'bench', name + ending), output)
    const report = join(reports, 'rows.json')
    const one = join(root, 'tests', 'tools', 'bench-one.mjs')
    const code = await run(process.execPath, ['--expose-gc', one, output, report])
    if (code !== 0) throw new Error(`stopped with exit code ${code}`)
    return /** @type {Row[]} */ (JSON.parse(readFileSync(report, 'utf8')))
  } catch (error) {
    const note = error instanceof Error ? error.message : String(error)
    return [{ what: name, budget: '', measured: 'could not be measured', within: false, note }]
  } finally {
    rmSync(reports, { recursive: true, force: true })
  }
}

await installMissing()
const chosen = process.argv.slice(2)
const names = readdirSync(join(root, 'tests', 'bench'))
  .filter((file) => file.endsWith(ending))
  .map((file) => basename(file, ending))
  .filter((name) => chosen.length === 0 || chosen.includes(name))
if (names.length === 0) {
  console.error(`No benchmark in tests/bench is called ${chosen.join(' or ')}.`)
  process.exit(2)
}
// Some open the built page.
const built = await runPackage('vite/bin/vite.js', ['build', '--logLevel', 'warn'])
if (built !== 0) process.exit(built)

/** @type {Row[]} */
const rows = []
for (const name of names) {
  console.error(`measuring ${name} ...`)
  rows.push(...(await measure(name)))
}
console.log(table(rows).join('\n'))
process.exitCode = rows.every(({ within }) => within !== false) ? 0 : 1
