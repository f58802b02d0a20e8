/** A number asked about from its own field: the curve, the limit found, a value put into the line and taken back. */
import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { newPage, type Size, type Theme } from './launch'
import { doubled, field, finished, misfits, rerun, row, violations, wide } from './hands'

const mass = 'line/6/mass'
const panel = (page: Page) => page.getByRole('region', { name: /^What does it change\?/ })
const settled = (page: Page) => panel(page).locator('progress').waitFor({ state: 'detached' })

async function asked(size: Size, theme: Theme) {
  const visit = await newPage(size, theme)
  const { page } = visit
  await finished(page)
  // On a narrow page the numbers are folded away.
  const fold = page.getByRole('button', { name: 'Show all' })
  if (await fold.isVisible()) await fold.click()
  await field(page, mass).focus()
  await page.keyboard.press('Tab')
  await page.keyboard.press('Enter')
  await panel(page).waitFor()
  await settled(page)
  return visit
}

test('the moving mass of the dancer: its limit is found, put into the line by keyboard, and taken back', async () => {
  const { page, complaints } = await asked(wide, 'light')
  expect(await violations(page)).toEqual([])
  // The usual range, with the present value among them.
  await expect.poll(() => panel(page).getByRole('row').count()).toBe(13)
  expect(await panel(page).getByRole('row', { name: /now/ }).innerText()).toMatch(/^4 kg\s+now.*kept$/s)
  await panel(page).getByRole('button', { name: 'Find the limit' }).click()
  await panel(page).getByText('It is kept everywhere from 2 kg to 8 kg').waitFor()

  const limit = panel(page).getByLabel('Limit: at most')
  await limit.fill('20 %')
  await limit.press('Enter')
  await panel(page).getByRole('button', { name: 'Find the limit' }).focus()
  await page.keyboard.press('Enter')
  const said = await panel(page)
    .getByText(/Infeed dancer mass keeps it up to/)
    .innerText()
  const found = Number(/up to ([\d.]+) kg/.exec(said)?.[1])
  expect(found).toBeGreaterThan(4)
  expect(found).toBeLessThan(8)

  const put = panel(page)
    .getByRole('button', { name: /^Put .* into the line$/ })
    .first()
  await put.focus()
  await rerun(page, () => page.keyboard.press('Enter'))
  const value = await field(page, mass).inputValue()
  expect(Number.parseFloat(value)).toBeCloseTo(found, 1)
  // The run in hand is judged as the search said: at most a fifth of the elastic limit.
  const headline = await page.locator('[data-phase]').innerText()
  expect(Number(/: ([\d.]+) % of its elastic limit/.exec(headline)?.[1])).toBeLessThanOrEqual(20)
  await rerun(page, () => page.getByRole('button', { name: /^Undo: infeed dancer mass/ }).click())
  expect(await field(page, mass).inputValue()).toBe('4 kg')
  // Only this number changed, so what was asked still stands.
  expect(await panel(page).getByText('Something else was changed since').count()).toBe(0)

  await panel(page).getByLabel('Figure of the run').selectOption({ label: 'Infeed dancer: travel used' })
  await panel(page).getByText('The verdict knows no limit for this figure').waitFor()
  const chart = panel(page).getByRole('slider')
  await chart.focus()
  await page.keyboard.press('End')
  await rerun(page, () => page.keyboard.press('Enter'))
  expect(await field(page, mass).inputValue()).toBe('8 kg')
  await panel(page).getByRole('button', { name: 'Close' }).click()
  expect(await row(page, mass).locator('input:focus').count()).toBe(1)
  expect(complaints).toEqual([])
})

test('dark and at 200 % zoom: axe content, nothing cut off; a range that cannot be is refused beside its field', async () => {
  const { page } = await asked(doubled, 'dark')
  expect(await violations(page)).toEqual([])
  expect(await misfits(page)).toEqual([])
  const from = panel(page).getByLabel('From')
  await from.fill('9 kg')
  await from.press('Enter')
  await panel(page).getByText('From: expected the lower end below the upper one.').waitFor()
  await from.press('Escape')
  await panel(page).getByLabel('To', { exact: true }).fill('many')
  await page.keyboard.press('Enter')
  await panel(page).getByText('To: found "many", expected a value such as 8 kg.').waitFor()
})
