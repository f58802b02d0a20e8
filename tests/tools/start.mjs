/** `npm start`: installs what is missing, builds the page and serves it on this machine. */
import { join } from 'node:path'
import { installMissing } from './install.mjs'
import { root, runPackage } from './process.mjs'
import { serve } from './serve.mjs'

await installMissing()
const code = await runPackage('vite/bin/vite.js', ['build'])
if (code !== 0) {
  console.error('The page could not be built: see the lines above.')
  process.exit(code)
}
const { address } = await serve(join(root, 'dist'), 4173)
console.log(`\nSpanwright is at ${address}   (stop it with Ctrl+C)`)
