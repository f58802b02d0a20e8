/** `npm run -s headless -- ...`: the command line. Nothing but the program's own words goes to standard output. */
import { join } from 'node:path'
import { bundle, isStale } from './bundle.mjs'
import { installMissing } from './install.mjs'
import { root, run } from './process.mjs'

const output = join(root, 'dist', 'headless', 'main.js')

await installMissing({ quiet: true })
try {
  if (isStale(output, [join(root, 'src'), join(root, 'package-lock.json')])) {
    await bundle(join(root, 'src', 'headless', 'main.ts'), output)
  }
} catch (error) {
  console.error(`The command line could not be built: ${error instanceof Error ? error.message : String(error)}`)
  process.exit(3)
}
// Paths among the arguments are meant from where the person is, not from the project's folder.
const folder = process.env['INIT_CWD'] ?? process.cwd()
process.exitCode = await run(process.execPath, [output, ...process.argv.slice(2)], { folder })
