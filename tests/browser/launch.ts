/** Opens the built page in the one browser that setup.ts started. What a test opens is closed, or wiped, after it. */
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

/** A page with the visit whose complaints it hears. */
interface Tab {
  readonly context: BrowserContext
  readonly page: Page
  complaints: string[]
  lost: boolean
}

/** Serves the tests of a file one after the other: opening another takes the machine nearly as long as a run of the page. */
let lent: { readonly tab: Tab; busy: boolean } | undefined
/** Closed after the test that opened them. */
let own: Tab[] = []

export interface VisitOptions extends BrowserContextOptions {
  /** After the address, such as `#checks`. */
  readonly path?: string
  /** Until the file's last test, for tests that share a page. */
  readonly shared?: boolean
  /** A browser's tab of its own, for tests that change the browser itself, such as by scripts that run first. */
  readonly fresh?: boolean
  /** By the bare address, where the gallery greets a newcomer. */
  readonly newcomer?: boolean
}

/** Said by the browser where it keeps no service worker, as in the tab that is lent: only some tests are about it. */
const blocked = 'Service Worker registration blocked by Playwright'

async function openTab(options: BrowserContextOptions): Promise<Tab> {
  connection ??= chromium.connect(inject('browserAddress'))
  const context = await (await connection).newContext({ locale: 'en-GB', ...options })
  const page = await context.newPage()
  const tab: Tab = { context, page, complaints: [], lost: false }
  page.on('console', (message) => {
    const isTold = message.type() === 'error' || message.type() === 'warning'
    if (isTold && message.text() !== blocked) tab.complaints.push(message.text())
  })
  page.on('pageerror', (error) => tab.complaints.push(error.message))
  page.on('requestfailed', (request) =>
    tab.complaints.push(`${request.url()}: ${request.failure()?.errorText ?? 'failed'}`),
  )
  page.on('response', (response) => {
    if (response.status() >= 400) tab.complaints.push(`${response.url()}: ${response.status()}`)
  })
  page.on('crash', () => (tab.lost = true))
  return tab
}

/** Forgets all that a test has left behind. */
async function wiped({ context, page }: Tab): Promise<void> {
  for (const other of context.pages()) if (other !== page) await other.close()
  await page.evaluate(() => sessionStorage.clear()).catch(() => undefined)
  await page.goto('about:blank')
  const session = await context.newCDPSession(page)
  await session.send('Storage.clearDataForOrigin', { origin: new URL(pageAddress).origin, storageTypes: 'all' })
  await session.detach()
  await context.clearPermissions()
  await page.unrouteAll()
  await page.mouse.move(0, 0)
}

async function tabFor(size: Size, theme: Theme, plain: boolean, options: BrowserContextOptions): Promise<Tab> {
  const look = { viewport: { ...size }, colorScheme: theme }
  if (!plain || lent?.busy === true) return openTab({ ...look, ...options })
  lent ??= { tab: await openTab({ ...look, serviceWorkers: 'block' }), busy: false }
  lent.busy = true
  const { tab } = lent
  tab.complaints = []
  await tab.page.setViewportSize(look.viewport)
  await tab.page.emulateMedia({ media: null, colorScheme: theme, reducedMotion: null, forcedColors: null })
  return tab
}

/** A page without memory of others, already at the address. */
export async function newPage(
  size: Size = sizes.desktop,
  theme: Theme = 'light',
  { newcomer = false, shared = false, fresh = false, path = newcomer ? '' : '#line', ...options }: VisitOptions = {},
): Promise<Visit> {
  const plain = !shared && !fresh && Object.keys(options).length === 0
  const tab = await tabFor(size, theme, plain, options)
  if (!shared && tab !== lent?.tab) own.push(tab)
  await tab.page.goto(new URL(path, pageAddress).href)
  return { page: tab.page, context: tab.context, complaints: tab.complaints }
}

// Pages left open would go on taking time from the tests that follow.
afterEach(async () => {
  const done = own
  own = []
  await Promise.all(done.map(({ context }) => context.close()))
  if (lent?.busy !== true) return
  const { tab } = lent
  lent.busy = false
  if (!tab.lost) return wiped(tab)
  lent = undefined
  await tab.context.close()
})

afterAll(async () => {
  await (await connection)?.close()
})
