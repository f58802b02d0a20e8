/** Starts other programs. Only Node's own modules: this runs before anything is installed. */
import { spawn } from 'node:child_process'
import { constants } from 'node:os'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

export const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..')

/**
 * Runs a program in the project's folder to its end and gives its exit code.
 * `output: 'errors'` sends what it prints to standard error, so that our own standard output stays clean.
 * @param {string} program
 * @param {readonly string[]} args
 * @param {{ output?: 'shown' | 'errors', folder?: string, env?: NodeJS.ProcessEnv, shell?: boolean }} [options]
 * @returns {Promise<number>}
 */
export function run(program, args, { output = 'shown', folder = root, env = process.env, shell = false } = {}) {
  return new Promise((resolve) => {
    const child = spawn(program, args, {
      cwd: folder,
      env,
      shell,
      stdio: ['inherit', output === 'errors' ? process.stderr : 'inherit', 'inherit'],
    })
    child.on('error', (error) => {
      console.error(`${program} could not be started: ${error.message}`)
      resolve(127)
    })
    child.on('close', (code, signal) => {
      resolve(code ?? 128 + (signal === null ? 0 : constants.signals[signal]))
    })
  })
}

/**
 * Runs a script of an installed package, e.g. `vite/bin/vite.js`.
 * @param {string} script
 * @param {readonly string[]} args
 * @param {Parameters<typeof run>[2]} [options]
 */
export function runPackage(script, args, options) {
  return run(process.execPath, [join(root, 'node_modules', script), ...args], options)
}
