/** Finds a Chromium to test with, or gets one. */
import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { run, runPackage } from './process.mjs'

const installed = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/usr/bin/google-chrome-stable',
  '/usr/bin/microsoft-edge',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
  ...[process.env['PROGRAMFILES'], process.env['PROGRAMFILES(X86)']].flatMap((folder) =>
    folder === undefined
      ? []
      : [
          join(folder, 'Google', 'Chrome', 'Application', 'chrome.exe'),
          join(folder, 'Microsoft', 'Edge', 'Application', 'msedge.exe'),
        ],
  ),
]

/**
 * The page under test is our own and loads nothing from elsewhere, so the sandbox, which root and most containers cannot
 * use, is left off; nothing is fetched in the background. Each launch gets a fresh, temporary profile.
 */
export const launchOptions = {
  headless: true,
  chromiumSandbox: false,
  args: [
    '--no-sandbox',
    '--disable-gpu',
    '--disable-quic',
    '--no-first-run',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync',
  ],
}

/**
 * The first browser there is, or undefined.
 * @param {string | undefined} named path given by the person, which goes first
 * @param {readonly string[]} places
 * @returns {string | undefined}
 */
export function findBrowser(named = process.env['CHROMIUM'], places = installed) {
  if (named !== undefined && named !== '') {
    if (!existsSync(named)) throw new Error(`CHROMIUM names "${named}", and there is no such file.`)
    return named
  }
  return places.find((place) => existsSync(place))
}

async function fetched() {
  const { chromium } = await import('playwright-core')
  const place = chromium.executablePath()
  return place !== '' && existsSync(place) ? place : undefined
}

const isRoot = () => process.getuid?.() === 0

/**
 * A browser's path, installing one where none is found.
 * @returns {Promise<string>} a rejection that says what to install when there is no way
 */
export async function provideBrowser() {
  const found = findBrowser() ?? (await fetched())
  if (found !== undefined) return found
  if (isRoot() && existsSync('/usr/bin/apt-get')) {
    console.log('No Chromium found: installing it with apt-get update && apt-get install -y chromium ...')
    const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' }
    const updated = await run('apt-get', ['update'], { env })
    if (updated === 0) await run('apt-get', ['install', '-y', 'chromium'], { env })
  } else {
    console.log('No Chromium found: fetching one with npx playwright-core install chromium ...')
    await runPackage('playwright-core/cli.js', ['install', 'chromium'])
  }
  const provided = findBrowser() ?? (await fetched())
  if (provided !== undefined) return provided
  throw new Error(
    'No browser to test with. Install Chromium or Chrome (Debian: apt-get install chromium), or set CHROMIUM to the path of one, and run npm test again.',
  )
}
