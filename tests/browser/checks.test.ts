/** The Checks page in the browser: computed there, told row by row. */
import { expect, test } from 'vitest'
import { violations } from './hands'
import { checks } from '../../src/checks'
import { newPage, type Theme } from './launch'

async function opened(theme: Theme) {
  const visit = await newPage({ width: 1024, height: 768 }, theme)
  await visit.page.getByRole('link', { name: 'Checks' }).click()
  await visit.page.locator('article[data-state="passes"]').first().waitFor()
  return visit
}

test('every check is computed in the pool and passes', async () => {
  const { page, complaints } = await opened('light')
  expect(await page.getByRole('heading', { level: 1 }).innerText()).toMatch(/\?$/)
  await page.getByText(`All ${checks.length} checks pass`).waitFor()
  expect(await page.locator('article[data-state="passes"]').count()).toBe(checks.length)
  expect(await page.locator('article tbody tr').count()).toBe(checks.flatMap(({ rows }) => rows).length)
  expect(await violations(page)).toEqual([])
  expect(complaints).toEqual([])
})

test('dark: axe has no complaint; computing is stopped and begun again by keyboard', async () => {
  const { page } = await opened('dark')
  expect(await violations(page)).toEqual([])
  await page.getByRole('button', { name: 'Stop' }).focus()
  await page.keyboard.press('Enter')
  await page.getByRole('button', { name: 'Compute again' }).focus()
  await page.keyboard.press('Enter')
  await page.getByRole('button', { name: 'Stop' }).waitFor()
})
