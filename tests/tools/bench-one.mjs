/** Runs one built benchmark and writes its rows: `node bench-one.mjs BUILT.js ROWS.json`. */
import { writeFileSync } from 'node:fs'
import { pathToFileURL } from 'node:url'

const [built, report] = process.argv.slice(2)
/** @type {{ bench?: () => Promise<unknown> }} */
const { bench } = await import(pathToFileURL(built).href)
if (bench === undefined) console.error('  it exports no bench(): taken for a helper of the others')
writeFileSync(report, JSON.stringify(bench === undefined ? [] : await bench()))
// Whatever a benchmark left open, such as a browser, must not keep the table waiting.
process.exit(0)
