/** Serves the built page and starts one browser for all files of browser tests. */
import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { chromium } from 'playwright-core'
import type { TestProject } from 'vitest/node'
import { launchOptions, provideBrowser } from '../tools/browser.mjs'
import { root } from '../tools/process.mjs'
import { serve } from '../tools/serve.mjs'

declare module 'vitest' {
  interface ProvidedContext {
    pageAddress: string
    browserAddress: string
  }
}

export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const folder = join(root, 'dist')
  if (!existsSync(join(folder, 'index.html'))) throw new Error('There is no built page to test: npm run build first.')
  const executablePath = await provideBrowser()
  const { address, close } = await serve(folder, 0)
  const browser = await chromium.launchServer({ ...launchOptions, executablePath, host: '127.0.0.1' })
  project.provide('pageAddress', address)
  project.provide('browserAddress', browser.wsEndpoint())
  return async () => {
    await browser.close()
    await close()
  }
}
