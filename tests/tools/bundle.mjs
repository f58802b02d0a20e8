/** Builds one entry of the TypeScript source into one file that Node can run. Needs the installed packages. */
import { readdirSync, renameSync, rmSync, mkdirSync, statSync, utimesSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import { root } from './process.mjs'

/**
 * Newest change in a file, or in a folder and all below it: a folder's own time tells of files taken away.
 * @param {string} path
 * @returns {number} ms
 */
export function newestChange(path) {
  const found = statSync(path)
  if (!found.isDirectory()) return found.mtimeMs
  return Math.max(found.mtimeMs, ...readdirSync(path).map((name) => newestChange(join(path, name))))
}

/**
 * @param {string} output
 * @param {readonly string[]} sources
 * @returns {boolean}
 */
export function isStale(output, sources) {
  const built = statSync(output, { throwIfNoEntry: false })
  return built === undefined || sources.some((source) => newestChange(source) > built.mtimeMs)
}

/**
 * @param {string} entry
 * @param {string} output file; it appears whole or not at all, so that two builds at once do no harm
 */
export async function bundle(entry, output) {
  const { build } = await import('vite')
  const began = new Date()
  const folder = join(dirname(output), `.building-${process.pid}-${basename(output)}`)
  await build({
    configFile: false,
    root,
    logLevel: 'error',
    publicDir: false,
    ssr: { noExternal: true, external: ['playwright-core', 'vite'] },
    build: {
      ssr: entry,
      outDir: folder,
      target: 'node20',
      minify: false,
      rolldownOptions: { output: { entryFileNames: basename(output), codeSplitting: false } },
    },
  })
  mkdirSync(dirname(output), { recursive: true })
  renameSync(join(folder, basename(output)), output)
  rmSync(folder, { recursive: true, force: true })
  // A source that changes while the build reads it must count as newer.
  utimesSync(output, began, began)
}
