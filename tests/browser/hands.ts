/** What the tests of the Line page do with it, and how they look at it. */
import axe, { type AxeResults } from 'axe-core'
import type { Locator, Page } from 'playwright-core'
import { newPage, type Size, type Theme } from './launch'

export const wide: Size = { width: 1440, height: 900 }
export const tablet: Size = { width: 1024, height: 768 }
/** 1440 x 900 at 200 % zoom. */
export const doubled: Size = { width: 720, height: 450 }
/** 1280 px at 400 % zoom. */
export const narrow: Size = { width: 320, height: 640 }

export const answer = (page: Page): Locator => page.locator('[data-phase]')
export const finished = (page: Page): Promise<void> => page.locator('[data-phase="finished"]').waitFor()
export const row = (page: Page, path: string): Locator => page.locator(`[data-field="${path}"]`)
export const field = (page: Page, path: string): Locator => row(page, path).getByRole('textbox')
export const tension = (page: Page): Locator => page.getByRole('slider', { name: /^Tension over time/ })
export const attribute = async (locator: Locator, name: string): Promise<string> =>
  (await locator.getAttribute(name)) ?? ''

export async function opened(size: Size = wide, theme: Theme = 'light', touch = false) {
  const visit = await newPage(size, theme, { hasTouch: touch })
  await finished(visit.page)
  return visit
}

/** Does something that reruns the line and waits until that run has finished. */
export async function rerun(page: Page, act: () => Promise<unknown>): Promise<void> {
  const before = await attribute(answer(page), 'data-ended')
  await act()
  await page.locator(`[data-phase="finished"]:not([data-ended="${before}"])`).waitFor()
}

/** The name of a path in the scenario that is open first, found by the headings of its panel. */
export async function firstPath(page: Page, ending: string): Promise<string> {
  return attribute(page.locator(`[data-field$="${ending}"]`).first(), 'data-field')
}

/** How many pixels of each picture have exactly a token's colour. */
export function pixelsOf(page: Page, tokens: readonly string[]): Promise<number[]> {
  return page.locator('.picture canvas').evaluateAll((canvases, wanted) => {
    const probe = document.createElement('canvas').getContext('2d')
    const style = getComputedStyle(document.documentElement)
    return canvases.map((canvas, i) => {
      const pen = canvas instanceof HTMLCanvasElement ? canvas.getContext('2d') : null
      if (!pen || !probe) return 0
      probe.fillStyle = style.getPropertyValue(`--${wanted[i] ?? ''}`)
      probe.fillRect(0, 0, 1, 1)
      const [r, g, b] = probe.getImageData(0, 0, 1, 1).data
      const { data } = pen.getImageData(0, 0, pen.canvas.width, pen.canvas.height)
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

/** Opens the question of the gallery whose title has these words. */
export async function asked(page: Page, words: RegExp): Promise<void> {
  await page.getByRole('button', { name: 'Ask another question' }).click()
  await rerun(page, () => page.getByRole('dialog').getByRole('button', { name: words }).click())
}

/** Names of the rules broken, each with where. */
export async function violations(page: Page): Promise<string[]> {
  await page.evaluate(axe.source)
  const found = await page.evaluate(async () => {
    const { axe } = globalThis as unknown as { axe: { run(): Promise<AxeResults> } }
    return (await axe.run()).violations
  })
  return found.flatMap(({ id, nodes }) => nodes.map((node) => `${id}: ${node.html}`))
}

/** Texts that do not fit their boxes (of one pixel are those for screen readers), and the page if it scrolls sideways. */
export function misfits(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const told = [...document.querySelectorAll('h1, h2, h3, label, button, summary, caption, th, td, legend, output')]
    const wide = told.filter((box) => box.clientWidth > 1 && box.scrollWidth > box.clientWidth + 1)
    const root = document.documentElement
    const sideways = root.scrollWidth > root.clientWidth ? [`the page scrolls sideways: ${root.scrollWidth}`] : []
    return [...sideways, ...wide.map((box) => `${box.tagName} "${box.textContent}"`)]
  })
}
