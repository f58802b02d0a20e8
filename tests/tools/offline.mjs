/** Writes the service worker of a build: which files it keeps, and a version that changes with any of them. */
import { createHash } from 'node:crypto'
import { readFileSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { root } from './process.mjs'

const source = join(root, 'workers', 'offline.js')
const placeholder = "{ version: '', files: [] }"

/**
 * @param {string} folder whose files are copied into the build as they are
 * @returns {import('vite').Plugin}
 */
export function offline(folder) {
  return {
    name: 'spanwright-offline',
    apply: 'build',
    enforce: 'post',
    generateBundle: {
      order: 'post',
      handler(_, bundle) {
        const hash = createHash('sha256')
        const built = Object.values(bundle).filter(({ fileName }) => fileName !== 'sw.js')
        for (const file of built.sort((a, b) => (a.fileName < b.fileName ? -1 : 1))) {
          hash.update(file.fileName).update(file.type === 'chunk' ? file.code : file.source)
        }
        const copied = readdirSync(folder).sort()
        for (const name of copied) hash.update(name).update(readFileSync(join(folder, name)))
        const files = [...built.map(({ fileName }) => fileName), ...copied]
        this.emitFile({ type: 'asset', fileName: 'sw.js', source: serviceWorker(hash.digest('hex'), files) })
      },
    },
  }
}

/**
 * @param {string} hash
 * @param {readonly string[]} files
 */
function serviceWorker(hash, files) {
  const text = readFileSync(source, 'utf8')
  if (!text.includes(placeholder)) throw new Error(`${source} has no place for the list of files.`)
  return text.replace(placeholder, JSON.stringify({ version: hash.slice(0, 16), files }))
}
