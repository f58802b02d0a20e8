/** Installs the packages of package-lock.json when they are absent or not the ones it asks for. Only Node's own modules. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { root, run } from './process.mjs'

/** @typedef {{ version?: string, integrity?: string, optional?: boolean, link?: boolean }} LockedPackage */
/** @typedef {{ packages: Record<string, LockedPackage> }} Lock */

/**
 * What is asked for and not there. Compared by contents, since file times say nothing after a checkout or an `npm install`.
 * @param {Lock} wanted package-lock.json
 * @param {Lock | undefined} present node_modules/.package-lock.json, which npm writes when it has finished
 * @returns {string[]}
 */
export function missingPackages(wanted, present) {
  return Object.entries(wanted.packages)
    .filter(([path, { optional }]) => {
      if (path === '') return false
      const found = present?.packages[path]
      if (found === undefined) return optional !== true
      return found.version !== wanted.packages[path].version || found.integrity !== wanted.packages[path].integrity
    })
    .map(([path]) => path.replace(/^.*node_modules\//, ''))
}

/**
 * @param {string} path
 * @returns {Lock | undefined}
 */
function readLock(path) {
  try {
    return /** @type {Lock} */ (JSON.parse(readFileSync(path, 'utf8')))
  } catch {
    return undefined
  }
}

/**
 * Leaves the process with a plain message when the packages cannot be installed: nothing after it could work.
 * @param {{ quiet?: boolean }} [options] quiet: says nothing on standard output
 */
export async function installMissing({ quiet = false } = {}) {
  const wanted = readLock(join(root, 'package-lock.json'))
  if (wanted === undefined) throw new Error('package-lock.json cannot be read: check out the whole project again.')
  const missing = missingPackages(wanted, readLock(join(root, 'node_modules', '.package-lock.json')))
  if (missing.length === 0) return
  console.error(`Installing packages (${missing.length} missing or of another version, such as ${missing[0]}) ...`)
  // NODE_ENV=production would leave out the packages that build and test.
  const args = ['ci', '--include=dev', '--no-audit', '--no-fund']
  const npm = process.env['npm_execpath']
  const code =
    npm?.endsWith('.js') === true
      ? await run(process.execPath, [npm, ...args], { output: quiet ? 'errors' : 'shown' })
      : await run('npm', args, { output: quiet ? 'errors' : 'shown', shell: process.platform === 'win32' })
  if (code === 0) return
  console.error(
    'The packages could not be installed: see the lines above. A network connection to the npm registry is needed once.',
  )
  process.exit(code)
}
