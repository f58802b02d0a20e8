/** How much script the first visit has to fetch. */
import { existsSync, readFileSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'

/** bytes, compressed */
export const firstPageBudget = 200_000

/**
 * Scripts that index.html names, with those they import at once (the build lists them as module preloads), and those of the
 * workers it starts with: the pool's is fetched when a page first has a job for it.
 * @param {string} folder the built page
 * @returns {{ file: string, bytes: number }[]} bytes compressed
 */
export function firstPageScripts(folder) {
  const html = readFileSync(join(folder, 'index.html'), 'utf8')
  const named = [...html.matchAll(/<(?:script|link)\b[^>]*?\b(?:src|href)="([^"]+\.m?js)"[^>]*>/g)].map(([, file]) =>
    file.replace(/^\.?\//, ''),
  )
  const workers = join(folder, 'workers')
  const files = existsSync(workers) ? readdirSync(workers).filter((file) => /^(?!job\.).*\.m?js$/.test(file)) : []
  return [...named, ...files.map((file) => `workers/${file}`)].map((file) => ({
    file,
    bytes: gzipSync(readFileSync(join(folder, file)), { level: 9 }).length,
  }))
}

/**
 * @param {string} folder the built page
 * @returns {{ within: boolean, lines: string[] }} lines for people
 */
export function weighFirstPage(folder) {
  const scripts = firstPageScripts(folder)
  const total = scripts.reduce((sum, { bytes }) => sum + bytes, 0)
  /** @param {number} bytes */
  const kilobytes = (bytes) => `${(bytes / 1000).toFixed(1)} kB`
  const within = scripts.length > 0 && total <= firstPageBudget
  return {
    within,
    lines: [
      ...scripts.map(({ file, bytes }) => `  ${kilobytes(bytes).padStart(9)}  ${file}`),
      `  ${kilobytes(total).padStart(9)}  script of the first page, gzipped; budget ${kilobytes(firstPageBudget)}${within ? '' : ' - OVER'}`,
    ],
  }
}
