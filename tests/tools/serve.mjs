/** A small server for the built page, on this machine only. Only Node's own modules. */
import { createReadStream } from 'node:fs'
import { realpath, stat } from 'node:fs/promises'
import { createServer } from 'node:http'
import { extname, join, sep } from 'node:path'
import { securityHeaders } from './policy.mjs'

const host = '127.0.0.1'

/** @type {Record<string, string>} */
const contentTypes = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.mjs': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.webmanifest': 'application/manifest+json; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.woff2': 'font/woff2',
  '.txt': 'text/plain; charset=utf-8',
  '.map': 'application/json; charset=utf-8',
}

/**
 * The file an address stands for, or undefined when there is none inside the folder.
 * @param {string} folder real path of the served folder
 * @param {string} url as requested
 * @returns {Promise<{ path: string, size: number } | undefined>}
 */
async function findFile(folder, url) {
  try {
    const path = decodeURIComponent(url.replace(/[?#].*$/, ''))
    // Names that begin with a point are not for visitors; '..' is one of them. A backslash is a separator on Windows.
    if (path.includes('\0') || path.split(/[/\\]/).some((name) => name.startsWith('.'))) return undefined
    const file = await realpath(join(folder, path.endsWith('/') ? `${path}index.html` : path))
    const found = await stat(file)
    return file.startsWith(folder + sep) && found.isFile() ? { path: file, size: found.size } : undefined
  } catch {
    return undefined
  }
}

/**
 * @param {string} folder
 * @param {import('node:http').IncomingMessage} request
 * @param {import('node:http').ServerResponse} response
 */
async function answer(folder, request, response) {
  for (const [name, value] of Object.entries(securityHeaders)) response.setHeader(name, value)
  /** @param {number} code @param {string} text */
  const refuse = (code, text) => {
    response.writeHead(code, { 'Content-Type': 'text/plain; charset=utf-8' }).end(`${text}\n`)
  }
  if (request.method !== 'GET' && request.method !== 'HEAD') {
    response.setHeader('Allow', 'GET, HEAD')
    refuse(405, 'Only GET and HEAD are answered here.')
    return
  }
  const file = await findFile(folder, request.url ?? '/')
  if (file === undefined) {
    refuse(404, 'There is no such file.')
    return
  }
  response.writeHead(200, {
    'Content-Type': contentTypes[extname(file.path).toLowerCase()] ?? 'application/octet-stream',
    'Content-Length': file.size,
    'Cache-Control': 'no-cache',
  })
  if (request.method === 'HEAD') {
    response.end()
    return
  }
  createReadStream(file.path)
    .on('error', () => response.destroy())
    .pipe(response)
}

/**
 * @param {import('node:http').Server} server
 * @param {number} port
 * @returns {Promise<number>} the port, or a rejection when it is taken
 */
function listen(server, port) {
  return new Promise((resolve, reject) => {
    server.once('error', reject)
    server.listen(port, host, () => {
      server.off('error', reject)
      const bound = server.address()
      resolve(typeof bound === 'object' && bound !== null ? bound.port : port)
    })
  })
}

/**
 * @param {unknown} error
 * @returns {boolean}
 */
function isTaken(error) {
  return error instanceof Error && 'code' in error && error.code === 'EADDRINUSE'
}

/**
 * Serves a folder at the first free port from `port` on; port 0 takes any.
 * @param {string} folder
 * @param {number} port
 * @returns {Promise<{ address: string, close: () => Promise<void> }>}
 */
export async function serve(folder, port) {
  const served = await realpath(folder)
  const server = createServer((request, response) => void answer(served, request, response))
  const last = port === 0 ? 0 : Math.min(port + 99, 65535)
  for (let tried = port; ; tried += 1) {
    try {
      const bound = await listen(server, tried)
      return {
        address: `http://${host}:${bound}/`,
        close: () =>
          new Promise((resolve) => {
            server.close(() => resolve())
            server.closeAllConnections()
          }),
      }
    } catch (error) {
      if (!isTaken(error)) throw error
      if (tried >= last) throw new Error(`No port from ${port} to ${last} is free on ${host}.`, { cause: error })
    }
  }
}
