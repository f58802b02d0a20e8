/** The Dancer page in the browser: every view by keyboard, the map's point by typing and click, advice put into the line. */
import type { Locator, Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { ask, doubled, finished, gallery, violations, wide } from './hands'
import { newPage, pageAddress, type Visit } from './launch'

const views = ['Modes', 'Loop', 'Response', 'Map', 'Ripple', 'Sizing', 'Advice', 'Tolerance', 'Sheet']
const study = (page: Page): Locator => page.locator('section.study')
/** Nothing is being computed for the view: no question to the pool is under way any more. */
const settled = (page: Page): Promise<void> =>
  expect.poll(() => page.locator('.waiting progress').count(), { timeout: 60_000 }).toBe(0)

/** A page that tests share, since each visit costs seconds: a test leaves the line as it found it. */
let shared: ReturnType<typeof newPage> | undefined

async function opened(view: string): Promise<Visit> {
  const path = `#dancer/${view}`
  shared ??= newPage(wide, 'light', { path, shared: true })
  const visit = await shared
  await visit.page.goto(new URL(path, pageAddress).href)
  await finished(visit.page)
  return visit
}

/** A view with the line of a question of the gallery, which opens on the page that the question is about. */
async function asked(view: string, question: string): Promise<Visit> {
  const { page } = await opened('sheet')
  await ask(page, question)
  await page.waitForURL((url) => !url.hash.includes('sheet'))
  await gallery(page).waitFor({ state: 'detached' })
  return opened(view)
}

const shown: Readonly<Record<string, string>> = {
  Modes: 'Modes, slowest first',
  Loop: 'A step on the simulator',
  Response: 'Where harmonics meet lightly damped modes',
  Map: 'Point in hand',
  Ripple: 'What would cancel it',
  Sizing: 'Cylinder for a tension',
  Advice: 'Search for better numbers',
  Tolerance: 'Run the 16 corners',
  Sheet: 'Print this sheet',
}

test('every view is reached by keyboard and says something; axe content, light and dark; no sideways scroll at 200 %', async () => {
  const { page, complaints } = await opened('modes')
  for (const view of views) {
    await page.getByRole('navigation', { name: 'Views of the dancer' }).getByRole('link', { name: view }).focus()
    await page.keyboard.press('Enter')
    await study(page)
      .getByText(shown[view] ?? '')
      .first()
      .waitFor()
    await settled(page)
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme })
      expect([view, colorScheme, await violations(page)]).toEqual([view, colorScheme, []])
    }
    await page.setViewportSize(doubled)
    const width = await page.evaluate(() => document.documentElement.scrollWidth)
    expect([view, width]).toEqual([view, doubled.width])
    await page.emulateMedia({ colorScheme: 'light' })
    await page.setViewportSize(wide)
  }
  expect(complaints).toEqual([])
})

test('modes: the one in hand is chosen by arrow keys and drawn with its parts', async () => {
  const { page } = await opened('modes')
  const modes = study(page).getByRole('table', { name: 'Modes, slowest first' }).getByRole('button')
  await modes.first().focus()
  const drawing = study(page).getByRole('img', { name: /^Who takes part/ })
  const before = await drawing.getAttribute('aria-label')
  await page.keyboard.press('ArrowDown')
  await expect.poll(() => modes.nth(1).getAttribute('aria-pressed')).toBe('true')
  expect(await drawing.getAttribute('aria-label')).not.toBe(before)
  expect(await drawing.getAttribute('aria-label')).toMatch(/\d+ %/)
})

test('a graph has a keyboard cursor that reads the curve, and a table of extremes', async () => {
  const { page } = await opened('response')
  const graph = study(page).getByRole('slider').first()
  await graph.focus()
  await page.keyboard.press('Home')
  const first = await graph.getAttribute('aria-valuetext')
  expect(first).toMatch(/Frequency 0\.01 Hz/)
  await page.keyboard.press('End')
  expect(await graph.getAttribute('aria-valuetext')).toMatch(/Frequency 100 Hz/)
  await study(page).getByText('Extremes').first().click()
  expect(await study(page).getByRole('table').first().innerText()).toMatch(/Greatest/)
})

test('a diameter below the core is refused beside its field', async () => {
  const { page } = await opened('loop')
  const diameter = study(page).getByRole('textbox', { name: 'Unwind diameter' })
  await diameter.fill('5 mm')
  await page.keyboard.press('Enter')
  await study(page).getByText('Unwind diameter: expected between the core').waitFor()
  await page.keyboard.press('Escape')
})

test('a map with ends that make no sense is refused in words, and comes back', async () => {
  const { page } = await opened('map')
  await settled(page)
  const from = study(page).getByRole('textbox', { name: 'from' }).first()
  await from.fill('-1')
  await page.keyboard.press('Enter')
  await study(page).getByText('from: expected above 0.').waitFor()
  await page.keyboard.press('Escape')
  expect(
    await study(page)
      .getByRole('slider', { name: /^Map of/ })
      .count(),
  ).toBe(1)
})

test('map: the point is moved by typing, by click and by keys; the line changes only when told to', async () => {
  const { page } = await opened('map')
  await settled(page)
  const map = study(page).getByRole('slider', { name: /^Map of/ })
  const said = async () => (await map.getAttribute('aria-valuetext')) ?? ''
  const start = await said()
  const point = study(page).locator('.point')
  const gain = point.getByRole('textbox', { name: 'Gain', exact: true })
  await gain.fill('2.5')
  await page.keyboard.press('Enter')
  await expect.poll(said).toContain('Gain 2.5 1/s')
  const box = await map.boundingBox()
  if (!box) throw new Error('the map is not drawn')
  await page.mouse.click(box.x + box.width * 0.3, box.y + box.height * 0.3)
  await expect.poll(said).not.toContain('Gain 2.5 1/s')
  const clicked = await said()
  await map.focus()
  await page.keyboard.press('Shift+ArrowRight')
  await expect.poll(said).not.toBe(clicked)
  expect(await page.getByRole('button', { name: 'None changed' }).count()).toBe(1)
  await gain.fill('2')
  await page.keyboard.press('Enter')
  await point.getByRole('button', { name: 'Put these numbers into the line' }).click()
  const field = page.locator('[data-field="control/0/gain"]').getByRole('textbox')
  await expect.poll(() => field.inputValue()).toBe('2 1/s')
  expect(start).toContain('Gain 1 1/s')
  await page.getByRole('button', { name: 'Put back 2 changes' }).click()
  await finished(page)
})

test('tolerance: the corners run in the pool, and the worst is named with its corner', async () => {
  const { page } = await opened('tolerance')
  for (const [legend, value] of [
    ['Modulus', '100 %'],
    ['Moving mass', '100 %'],
    ['Diameter', '160 mm'],
  ] as const) {
    const ends = study(page)
      .getByRole('group', { name: new RegExp(`^${legend}`) })
      .getByRole('textbox')
    for (const end of await ends.all()) {
      await end.fill(value)
      await end.press('Enter')
    }
  }
  await study(page).getByRole('button', { name: 'Run the 2 corners' }).click()
  await settled(page)
  await study(page)
    .getByText(/It holds in all 3 runs|It does not hold everywhere/)
    .waitFor()
  expect(await study(page).getByRole('table').innerText()).toMatch(/friction × 1\.5/)
})

test('standstill: modes are told, the loop says why it measures nothing or moves nothing, nothing breaks', async () => {
  const { page, complaints } = await opened('modes')
  const speed = study(page).getByRole('textbox', { name: 'Line speed' })
  await speed.fill('0 m/min')
  await page.keyboard.press('Enter')
  await study(page).getByText('The line stands: rollers and dancers are taken to be free').waitFor()
  await page.getByRole('link', { name: 'Response' }).click()
  await study(page).getByText('The line stands: nothing turns').waitFor()
  await speed.fill('')
  await page.keyboard.press('Enter')
  expect(complaints).toEqual([])
})

test('advice: searched, put into the line, on the sheet with its reason, and put back', async () => {
  const { page } = await asked('advice', 'Why does the dancer hunt')
  await study(page).getByRole('button', { name: 'Search for better numbers' }).click()
  const put = study(page).getByRole('button', { name: 'Put these numbers into the line' })
  await put.waitFor()
  expect(await study(page).getByRole('table').first().innerText()).toMatch(/Greatest deviation of tension/)
  await put.click()
  await finished(page)
  await study(page).getByRole('button', { name: 'These numbers are in the line' }).waitFor()
  await page.getByRole('link', { name: 'Sheet' }).click()
  const settings = await study(page).getByRole('table', { name: 'Settings' }).innerText()
  expect(settings).toMatch(/● \w+/)
  expect(settings).not.toContain('Set by hand.')
  await page.getByRole('button', { name: /^Put back \d+ changes?$/ }).click()
  await study(page).getByText('Nothing has been changed.').waitFor()
})

test('a line without a dancer is told what is missing', async () => {
  const { page } = await asked('modes', 'What does a tenth of a percent of draw do?')
  await study(page).getByRole('heading', { name: 'This line has no dancer' }).waitFor()
})
