/** Opens the built page in the one browser that setup.ts started. Pages close by themselves after their test. */
import { chromium, type Browser, type BrowserContext, type BrowserContextOptions, type Page } from 'playwright-core'
import { afterAll, afterEach, inject } from 'vitest'

export interface Size {
  readonly width: number
  readonly height: number
}

export type Theme = 'light' | 'dark'

/** Sizes the page must work at. `doubled` is a desktop window at 200 % zoom. */
export const sizes = {
  desktop: { width: 1280, height: 800 },
  tablet: { width: 820, height: 1180 },
  doubled: { width: 640, height: 400 },
} as const satisfies Record<string, Size>

export interface Visit {
  readonly page: Page
  readonly context: BrowserContext
  /** What the browser complained about so far: errors on the console (a blocked style or script too), in scripts, in requests. */
  readonly complaints: readonly string[]
}

export const pageAddress = inject('pageAddress')

let connection: Promise<Browser> | undefined
let contexts: BrowserContext[] = []

export interface VisitOptions extends BrowserContextOptions {
  /** After the address, such as `#checks`. */
  readonly path?: string
  /** Until the file's last test, for tests that share a page. */
  readonly shared?: boolean
  /** By the bare address, where the gallery greets a newcomer. */
  readonly newcomer?: boolean
}

/** A page of its own, without memory of others, already at the address. */
export async function newPage(
  size: Size = sizes.desktop,
  theme: Theme = 'light',
  { newcomer = false, shared = false, path = newcomer ? '' : '#line', ...options }: VisitOptions = {},
): Promise<Visit> {
  connection ??= chromium.connect(inject('browserAddress'))
  const browser = await connection
  const context = await browser.newContext({ viewport: { ...size }, colorScheme: theme, locale: 'en-GB', ...options })
  if (!shared) contexts.push(context)
  const page = await context.newPage()
  const complaints: string[] = []
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') complaints.push(message.text())
  })
  page.on('pageerror', (error) => complaints.push(error.message))
  page.on('requestfailed', (request) =>
    complaints.push(`${request.url()}: ${request.failure()?.errorText ?? 'failed'}`),
  )
  page.on('response', (response) => {
    if (response.status() >= 400) complaints.push(`${response.url()}: ${response.status()}`)
  })
  await page.goto(new URL(path, pageAddress).href)
  return { page, context, complaints }
}

// Pages left open would go on taking time from the tests that follow.
afterEach(async () => {
  const done = contexts
  contexts = []
  await Promise.all(done.map((context) => context.close()))
})

afterAll(async () => {
  await (await connection)?.close()
})
