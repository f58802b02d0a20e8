/** The whole way: from the gallery to a changed number, pinned, compared, reloaded, and back to the start. */
import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import {
  asLongAsItTakes,
  button,
  doubled,
  enter,
  finished,
  gallery,
  misfits,
  narrow,
  pixelsOf,
  rerun,
  resized,
  stiffness,
} from './hands'
import { tablet, violations, wide } from './hands'
import { newPage, type Size, type Theme } from './launch'

async function arrived(size: Size = wide, theme: Theme = 'light') {
  const visit = await newPage(size, theme, { newcomer: true })
  await gallery(visit.page).waitFor()
  await finished(visit.page)
  return visit
}

const pinned = (page: Page) => page.getByRole('region', { name: 'Pinned runs' })
const figures = (page: Page) => pinned(page).getByRole('table')
const differences = (page: Page, letter: string) => pinned(page).getByLabel(`What differs between ${letter} and now`)
const pinName = (page: Page, letter: string) => page.getByRole('textbox', { name: `Name of pinned run ${letter}` })

/** How many pixels of the tension picture are ink. */
const inkIn = async (page: Page): Promise<number> => (await pixelsOf(page, ['ink']))[0] ?? 0

/** All that must be there after the numbers were changed with a run pinned, and again after a reload. */
async function expectCompared(page: Page): Promise<void> {
  expect(await stiffness(page).inputValue()).toBe('300 N/m')
  await figures(page).getByRole('columnheader', { name: 'Now' }).waitFor()
  expect(await pinName(page, 'A').inputValue()).toBe('soft')
  expect(await differences(page, 'A').innerText()).toMatch(/infeed dancer stiffness\s+0 N\/m →\s+now\s+300 N\/m/)
  const text = await figures(page).innerText()
  expect(text).toMatch(/\d+ of \d+ figures differ/)
  expect(text).toMatch(/[▲▼]/)
  const said = await page.getByRole('slider', { name: /^Tension over time/ }).getAttribute('aria-valuetext')
  expect(said).toMatch(/N, A \d+\.\d/)
}

test('with the mouse: asked, changed, pinned, compared, reloaded, and undone to the start', async () => {
  const { page, complaints } = await arrived()
  // Its line runs behind the gallery already.
  await gallery(page)
    .getByRole('button', { name: /zero-speed splice/ })
    .click()
  await finished(page)
  const before = await inkIn(page)
  await button(page, 'Pin this run').click()
  await pinName(page, 'A').fill('soft')
  await pinName(page, 'A').blur()
  await expect.poll(() => inkIn(page)).toBeGreaterThan(before + 100)
  await stiffness(page).click()
  await enter(page, stiffness(page), '300 N/m')
  await expectCompared(page)
  expect(await violations(page)).toEqual([])
  await asLongAsItTakes(page)
  await page.reload()
  await finished(page)
  await expectCompared(page)
  await rerun(page, () => button(page, /^Undo: infeed dancer stiffness/).click())
  expect(await stiffness(page).inputValue()).toBe('0 N/m')
  await pinned(page).getByText('The same numbers as now.').waitFor()
  await expect.poll(() => figures(page).innerText()).toContain('No figure differs.')
  await rerun(page, () => button(page, /^Redo: infeed dancer stiffness/).click())
  await expectCompared(page)
  await rerun(page, () => button(page, 'Take up the numbers of A').click())
  expect(await stiffness(page).inputValue()).toBe('0 N/m')
  await button(page, 'Unpin A').click()
  expect(await pinned(page).count()).toBe(0)
  expect(complaints).toEqual([])
})

/** Tab until the focus is where it is wanted: what the keyboard cannot reach fails here. */
async function tabTo(page: Page, label: RegExp): Promise<void> {
  for (let i = 0; i < 400; i++) {
    const found = await page.evaluate(() => {
      const here = document.activeElement
      if (here === document.body) return ''
      const name = here instanceof HTMLInputElement ? here.labels?.[0]?.textContent : here?.textContent
      const row = here?.closest('[data-field]')?.getAttribute('data-field') ?? ''
      return `${here?.getAttribute('aria-label') ?? ''} ${name ?? ''} ${row}`
    })
    if (label.test(found)) return
    await page.keyboard.press('Tab')
  }
  throw new Error(`The keyboard never came to ${label}.`)
}

test('with the keyboard alone: asked, changed, pinned, compared, reloaded, and undone to the start', async () => {
  const { page } = await arrived()
  await tabTo(page, /zero-speed splice/)
  await page.keyboard.press('Enter')
  await gallery(page).waitFor({ state: 'detached' })
  await tabTo(page, /Pin this run/)
  await page.keyboard.press('Enter')
  await tabTo(page, /Name of pinned run A/)
  await page.keyboard.press('Control+A')
  await page.keyboard.type('soft')
  await page.keyboard.press('Enter')
  await page.locator('body').press('Control+Home')
  await tabTo(page, /line\/6\/stiffness$/)
  await page.keyboard.press('Control+A')
  await page.keyboard.type('300 N/m')
  // An entry not yet applied takes its own steps back.
  await page.keyboard.press('Control+Z')
  expect(await button(page, /^Undo/).first().getAttribute('aria-disabled')).toBe('true')
  await page.keyboard.press('Control+A')
  await page.keyboard.type('300 N/m')
  await rerun(page, () => page.keyboard.press('Enter'))
  await expectCompared(page)
  await asLongAsItTakes(page)
  await page.reload()
  await finished(page)
  await expectCompared(page)
  await tabTo(page, /line\/6\/stiffness$/)
  await rerun(page, () => page.keyboard.press('Control+Z'))
  expect(await stiffness(page).inputValue()).toBe('0 N/m')
  await rerun(page, () => page.keyboard.press('Control+Shift+Z'))
  expect(await stiffness(page).inputValue()).toBe('300 N/m')
  await rerun(page, () => page.keyboard.press('Control+Z'))
  await rerun(page, () => page.keyboard.press('Control+Y'))
  expect(await stiffness(page).inputValue()).toBe('300 N/m')
})

test('four runs are pinned, each with a letter and a dash of its own; a fifth is refused with words', async () => {
  const { page } = await arrived(wide, 'dark')
  await page.keyboard.press('Escape')
  for (const text of ['100 N/m', '200 N/m', '300 N/m', '400 N/m']) {
    await button(page, 'Pin this run').click()
    await enter(page, stiffness(page), text)
  }
  const dashes = await pinned(page)
    .locator('li path')
    .evaluateAll((paths) => paths.map((path) => path.getAttribute('stroke-dasharray')))
  expect(new Set(dashes).size).toBe(4)
  const pin = button(page, 'Pin this run')
  expect(await pin.getAttribute('aria-disabled')).toBe('true')
  expect(await pin.getAttribute('title')).toContain('unpin one first')
  await pin.press('Enter')
  expect(await pinned(page).locator('li').count()).toBe(4)
  expect(await violations(page)).toEqual([])
})

test('a run of another line is named as such, and undoing across lines brings back the former one', async () => {
  const { page } = await arrived()
  await page.keyboard.press('Escape')
  await button(page, 'Pin this run').click()
  const title = await page.getByRole('heading', { level: 1 }).innerText()
  await button(page, 'Ask another question').click()
  await rerun(page, () =>
    gallery(page)
      .getByRole('button', { name: /thin film follows thick/ })
      .click(),
  )
  expect(await pinned(page).innerText()).toContain(`Of another line: ${title}`)
  await rerun(page, () => button(page, /^Undo: opening/).click())
  expect(await page.getByRole('heading', { level: 1 }).innerText()).toBe(title)
  expect(await pinned(page).innerText()).toContain('The same numbers as now.')
})

test('no text is clipped with runs pinned, nor in the gallery, at 1440 x 900, 1024 x 768, 200 % and 400 % zoom', async () => {
  const { page } = await arrived()
  const fits = async (unfolded: boolean) => {
    for (const size of [tablet, doubled, narrow, wide]) {
      await resized(page, size)
      const fold = button(page, 'Show all')
      if (unfolded && (await fold.isVisible())) await fold.click()
      expect(await misfits(page), `${size.width} px`).toEqual([])
    }
  }
  await fits(false)
  await page.keyboard.press('Escape')
  await button(page, 'Pin this run').click()
  await enter(page, stiffness(page), '100 N/m')
  await button(page, 'Pin this run').click()
  await enter(page, stiffness(page), '300 N/m')
  await fits(true)
})
