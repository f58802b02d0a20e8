/** What the tests of the page do with it, and how they look at it. */
import { mkdtemp, readFile, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import axe, { type AxeResults } from 'axe-core'
import type { Download, Locator, Page } from 'playwright-core'
import { newPage, type Size, type Theme, type VisitOptions } from './launch'

export const wide: Size = { width: 1440, height: 900 }
export const tablet: Size = { width: 1024, height: 768 }
/** 1440 x 900 at 200 % zoom. */
export const doubled: Size = { width: 720, height: 450 }
/** 1280 px at 400 % zoom. */
export const narrow: Size = { width: 320, height: 640 }

export const answer = (page: Page): Locator => page.locator('[data-phase]')
/** Looked for at every frame: a locator looks up to half a second late, and nearly every test waits here. */
const there = async (page: Page, selector: string): Promise<void> => {
  await page.waitForFunction((wanted) => document.querySelector(wanted) !== null, selector)
}
export const finished = (page: Page): Promise<void> => there(page, '[data-phase="finished"]')
export const row = (page: Page, path: string): Locator => page.locator(`[data-field="${path}"]`)
export const field = (page: Page, path: string): Locator => row(page, path).getByRole('textbox')
/** The dancer's stiffness, of the line that a newcomer finds. */
export const stiffness = (page: Page): Locator => field(page, 'line/6/stiffness')
export const button = (page: Page, name: string | RegExp): Locator =>
  page.getByRole('button', { name, exact: typeof name === 'string' })
export const gallery = (page: Page): Locator => page.getByRole('dialog', { name: 'What do you want to know?' })
export const notices = (page: Page): Locator => page.locator('.notices')
export const tension = (page: Page): Locator => page.getByRole('slider', { name: /^Tension over time/ })
export const attribute = async (locator: Locator, name: string): Promise<string> =>
  (await locator.getAttribute(name)) ?? ''

export async function opened(size: Size = wide, theme: Theme = 'light', options: VisitOptions = {}) {
  const visit = await newPage(size, theme, options)
  await finished(visit.page)
  return visit
}

/** Takes the open page to another size of window, and waits until it is drawn anew: far quicker than another visit. */
export async function resized(page: Page, { width, height }: Size): Promise<void> {
  await page.setViewportSize({ width, height })
  await page.evaluate(async () => {
    for (let i = 0; i < 3; i++) await new Promise(requestAnimationFrame)
  })
}

/** What axe finds, in light and in dark. */
export async function violationsInBoth(page: Page): Promise<string[]> {
  const found: string[] = []
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme })
    found.push(...(await violations(page)).map((one) => `${colorScheme}: ${one}`))
  }
  return found
}

/** Does something that reruns the line and waits until that run has finished. */
export async function rerun(page: Page, act: () => Promise<unknown>): Promise<void> {
  const before = await attribute(answer(page), 'data-ended')
  await act()
  await there(page, `[data-phase="finished"]:not([data-ended="${before}"])`)
}

export async function enter(page: Page, entry: Locator, text: string): Promise<void> {
  await entry.fill(text)
  await rerun(page, () => page.keyboard.press('Enter'))
}

/** Longer than it takes until a change is kept. */
export const asLongAsItTakes = (page: Page): Promise<void> => page.waitForTimeout(1000)

/** The name of a path in the scenario that is open first, found by the headings of its panel. */
export async function firstPath(page: Page, ending: string): Promise<string> {
  return attribute(page.locator(`[data-field$="${ending}"]`).first(), 'data-field')
}

/** How many pixels of each picture have exactly a token's colour. */
export function pixelsOf(page: Page, tokens: readonly string[]): Promise<number[]> {
  return page.locator('.picture canvas').evaluateAll((canvases, wanted) => {
    const style = getComputedStyle(document.documentElement)
    // Read from a copy: the browser complains of pictures that are read again and again.
    const copy = document.createElement('canvas')
    const pen = copy.getContext('2d', { willReadFrequently: true })
    return canvases.map((canvas, i) => {
      if (!(canvas instanceof HTMLCanvasElement) || !pen) return 0
      copy.width = canvas.width
      copy.height = canvas.height
      pen.fillStyle = style.getPropertyValue(`--${wanted[i] ?? ''}`)
      pen.fillRect(0, 0, 1, 1)
      const [r, g, b] = pen.getImageData(0, 0, 1, 1).data
      pen.clearRect(0, 0, 1, 1)
      pen.drawImage(canvas, 0, 0)
      const { data } = pen.getImageData(0, 0, copy.width, copy.height)
      let count = 0
      for (let k = 0; k < data.length; k += 4) if (data[k] === r && data[k + 1] === g && data[k + 2] === b) count++
      return count
    })
  }, tokens)
}

export const pictureOf = (page: Page, chart: number): Promise<string> =>
  page
    .locator('.picture canvas')
    .nth(chart)
    .evaluate((canvas) => (canvas instanceof HTMLCanvasElement ? canvas.toDataURL() : ''))

/** Opens the question of the gallery with these words, on whichever page answers it. */
export async function ask(page: Page, words: string | RegExp): Promise<void> {
  await button(page, 'Ask another question').click()
  await gallery(page).getByRole('button', { name: words }).click()
}

/** To the Line page, where the run is seen through. */
export async function toLine(page: Page): Promise<void> {
  await page.getByRole('navigation', { name: 'Pages' }).getByRole('link', { name: 'Line' }).click()
  await finished(page)
}

export async function asked(page: Page, words: string | RegExp): Promise<void> {
  await ask(page, words)
  await toLine(page)
}

/** Names of the rules of accessibility that are broken, each with where. */
export async function violations(page: Page): Promise<string[]> {
  await page.evaluate(axe.source)
  const { violations: found } = await page.evaluate<AxeResults>('axe.run()')
  return found.flatMap(({ id, nodes }) => nodes.map((node) => `${id}: ${node.html}`))
}

/** Texts that do not fit their boxes (of one pixel are those for screen readers), and the page if it scrolls sideways. */
export function misfits(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const told = [
      ...document.querySelectorAll('h1, h2, h3, label, button, summary, caption, th, td, dt, dd, legend, output'),
    ]
    const wide = told.filter((box) => box.clientWidth > 1 && box.scrollWidth > box.clientWidth + 1)
    const root = document.documentElement
    const sideways = root.scrollWidth > root.clientWidth ? [`the page scrolls sideways: ${root.scrollWidth}`] : []
    return [...sideways, ...wide.map((box) => `${box.tagName} "${box.textContent}"`)]
  })
}

/** What a file holds that the page has handed to the browser. */
export async function contentOf(download: Download): Promise<Buffer> {
  const folder = await mkdtemp(join(tmpdir(), 'spanwright-saved-'))
  const file = join(folder, 'saved')
  // The browser is another process: the file must be fetched from it.
  await download.saveAs(file)
  const content = await readFile(file)
  await rm(folder, { recursive: true })
  return content
}

/** Does something that saves a file. */
export async function saved(page: Page, act: () => Promise<unknown>): Promise<{ name: string; content: Buffer }> {
  const saving = page.waitForEvent('download')
  await act()
  const download = await saving
  return { name: download.suggestedFilename(), content: await contentOf(download) }
}
