/** A part chosen on the drawing has all its numbers in the panel: by mouse, by keyboard, and after a reload. */
import type { Locator, Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { asLongAsItTakes, button, enter, finished, opened, rerun, row, violations } from './hands'

const drawing = (page: Page): Locator => page.getByRole('listbox', { name: /^The line/ })
const first = (page: Page): Locator => page.locator('.groups > details').first()
const title = (page: Page): Promise<string> => first(page).getByRole('heading').innerText()

test('the dancer stands first; an idler chosen by keyboard shows every number, which can be changed and taken back', async () => {
  const { page, complaints } = await opened()
  expect(await title(page)).toBe('Infeed dancer')
  await drawing(page).focus()
  await page.keyboard.press('ArrowRight')
  await page.keyboard.press('ArrowRight')
  await page.keyboard.press('Enter')
  expect(await title(page)).toBe('Idler 1')
  expect(
    await drawing(page)
      .getByRole('option', { name: /^idler 1, idler, selected/ })
      .count(),
  ).toBe(1)
  await first(page).getByText('Breakaway').waitFor()
  expect(await violations(page)).toEqual([])
  await asLongAsItTakes(page)
  await page.reload()
  await finished(page)
  expect(await title(page)).toBe('Idler 1')

  const drag = row(page, 'line/2/drag').getByRole('textbox')
  await enter(page, drag, '0.03 N m')
  await asLongAsItTakes(page)
  await page.reload()
  await finished(page)
  await expect.poll(() => drag.inputValue()).toBe('0.03 N m')
  await button(page, /^Undo/).first().click()
  await expect.poll(() => drag.inputValue()).toBe('0.012 N m')
  expect(complaints).toEqual([])
})

test('chosen by a click, and let go by another; what else a dancer has unfolds below its main numbers', async () => {
  const { page, complaints } = await opened()
  const nip = await drawing(page).locator('circle.driven').first().boundingBox()
  const at = { x: (nip?.x ?? 0) + (nip?.width ?? 0) / 2, y: (nip?.y ?? 0) + (nip?.height ?? 0) / 2 }
  await page.mouse.click(at.x, at.y)
  await expect.poll(() => title(page)).toBe('Print nip')
  await page.mouse.click(at.x, at.y)
  await expect.poll(() => title(page)).toBe('Infeed dancer')
  await first(page).getByText('All its other numbers').click()
  const stop = row(page, 'line/6/upperStop').getByRole('textbox')
  await enter(page, stop, '120 mm')
  expect(await stop.evaluate((field) => field === document.activeElement)).toBe(true)
  expect(await stop.inputValue()).toBe('120 mm')

  // Yes and no are written as the file has them.
  await page.mouse.click(at.x, at.y)
  await first(page).getByText('All its other numbers').click()
  const isNip = first(page).getByRole('combobox', { name: 'Nip' })
  expect(await isNip.inputValue()).toBe('yes')
  await rerun(page, () => isNip.selectOption('no'))
  expect(await isNip.inputValue()).toBe('no')
  expect(complaints).toEqual([])
})
