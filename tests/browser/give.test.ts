/** What is handed on and what comes in from others: links, recordings, figures, pictures, reports. */
import { deflateRawSync } from 'node:zlib'
import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { opened, wide } from './hands'
import { newPage, pageAddress } from './launch'
import { button, enter, finished, notices, stiffness, violations } from './line-page'

const dialog = (page: Page) => page.getByRole('dialog', { name: 'Share and print' })
const question = (page: Page) => page.getByRole('heading', { level: 1 })

test('a link opens as a copy elsewhere, never over the work in hand, which undo brings back', async () => {
  const { page, context, complaints } = await opened()
  await context.grantPermissions(['clipboard-read', 'clipboard-write'])
  await enter(page, stiffness(page), '900 N/m')
  const title = await question(page).innerText()
  await button(page, 'Share and print').click()
  await button(page, 'Copy a link').click()
  await dialog(page).getByText('Copied.').waitFor()
  const link = await page.evaluate(() => navigator.clipboard.readText())
  expect(await violations(page)).toEqual([])
  expect(complaints).toEqual([])

  // Somebody who has another line in hand, on a machine of their own.
  const other = (await newPage(wide)).page
  await finished(other)
  await enter(other, stiffness(other), '700 N/m')
  await other.goto(link)
  await other.getByRole('heading', { level: 1, name: `Copy of “${title}”` }).waitFor()
  await finished(other)
  expect(await stiffness(other).inputValue()).toBe('900 N/m')
  expect(other.url()).toBe(`${pageAddress}#line`)
  await other.getByRole('button', { name: /^Undo: opening/ }).click()
  await other.getByRole('heading', { level: 1, name: title, exact: true }).waitFor()
  expect(await stiffness(other).inputValue()).toBe('700 N/m')

  // A newcomer begins with it.
  const newcomer = (await newPage(wide, 'light', { path: link })).page
  await newcomer.getByRole('heading', { level: 1, name: `Copy of “${title}”` }).waitFor()
  await finished(newcomer)
  expect(await newcomer.getByRole('dialog').count()).toBe(0)
})

test('a small link that inflates to 50 MB, and a link cut short, are refused in words; the work stays', async () => {
  const { page, complaints } = await opened()
  await enter(page, stiffness(page), '800 N/m')
  const bomb = deflateRawSync(Buffer.alloc(50_000_000, '[0,'), { level: 9 }).toString('base64url')
  expect(bomb.length).toBeLessThan(70_000)
  for (const [code, says] of [
    [bomb, 'inflates to more than 2 MB'],
    [bomb.slice(0, 900), 'It may have been cut short'],
  ] as const) {
    await page.evaluate((hash) => (location.hash = hash), `open/${code}/line`)
    await notices(page).getByText(says).waitFor()
    expect(await stiffness(page).inputValue()).toBe('800 N/m')
    expect(page.url()).toBe(`${pageAddress}#line`)
  }
  expect(complaints).toEqual([])
})
