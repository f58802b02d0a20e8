/** The Roll page in the browser: verdict, curves, cut, advice, laws and stack test, by pointer and by keyboard. */
import type { Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import { ask, violations, violationsInBoth } from './hands'
import { newPage, sizes, type Size, type Theme } from './launch'

const told = (page: Page) => page.locator('main[data-roll="told"][data-computing="false"]').waitFor()

async function opened(question: string, size: Size = sizes.desktop, theme: Theme = 'light', motion?: 'reduce') {
  const visit = await newPage(size, theme, { path: '#roll', ...(motion ? { reducedMotion: motion } : {}) })
  await ask(visit.page, question)
  await visit.page.getByRole('link', { name: 'Roll', exact: true }).click()
  await visit.page.getByText(question).first().waitFor()
  // Questions that another page answers open there.
  await visit.page.getByRole('link', { name: 'Roll', exact: true }).click()
  await told(visit.page)
  return visit
}

async function enter(page: Page, label: string, text: string) {
  const field = page.getByRole('textbox', { name: label, exact: true })
  await field.focus()
  await page.keyboard.press('Control+a')
  await page.keyboard.type(text)
  await page.keyboard.press('Enter')
}

const thin = 'Which taper for this thin film?'

describe('thin film with too little taper', () => {
  test('says what breaks, where, what it rests on and which way to turn; axe has no complaint in either theme', async () => {
    const { page, complaints } = await opened(thin)
    await page.getByText('The roll breaks one limit.').waitFor()
    const blocking = page.getByRole('listitem').filter({ hasText: 'may stick to each other' })
    expect(await blocking.innerText()).toMatch(/0\.671 MPa, at most 0\.65 MPa \(at a diameter of .*less tension/s)
    await page.getByText('All limits with their margins').click()
    expect(await page.getByRole('row', { name: /^Blocking: pressure between laps broken/ }).innerText()).toMatch(
      /too much.*stack modulus: illustrative/s,
    )
    expect(await violationsInBoth(page)).toEqual([])
    expect(complaints).toEqual([])
  })

  test('by keyboard: look for a better taper, use it, and the roll keeps its limits', async () => {
    const { page } = await opened(thin)
    await page.getByRole('button', { name: 'Look for one' }).focus()
    await page.keyboard.press('Enter')
    await page.getByText('Flattest pressure within the limits').waitFor()
    await page.getByText('What it trades').waitFor()
    await page.getByRole('button', { name: 'Use this setting' }).focus()
    await page.keyboard.press('Enter')
    await page.getByText(/The roll keeps all \d+ limits/).waitFor()
    expect(await page.getByRole('combobox', { name: 'Law' }).first().inputValue()).toBe('hyperbolic')
    await page
      .getByRole('button', { name: /^Put back/ })
      .first()
      .click()
    await page.getByText('The roll breaks one limit.').waitFor()
  })

  test('a field typed in another unit winds the roll anew; the pinned one stays in grey', async () => {
    const { page } = await opened(thin)
    await page.getByRole('button', { name: 'Pin this roll' }).click()
    await enter(page, 'Tension', '7.7 lbf')
    await page.getByText(/The roll keeps all \d+ limits/).waitFor()
    expect(await page.getByRole('figure', { name: /Pressure between the laps/ }).innerText()).toContain('pinned')
    await page.getByRole('button', { name: 'Unpin' }).click()
    expect(await page.getByRole('figure', { name: /Pressure between the laps/ }).innerText()).not.toContain('pinned')
  })

  test('what makes no roll is refused at its field and nothing typed is lost', async () => {
    const { page } = await opened(thin)
    await enter(page, 'Core bore', '95 mm')
    await page.getByText('This roll cannot be wound').waitFor()
    expect(await page.getByRole('textbox', { name: 'Core bore' }).inputValue()).toBe('95 mm')
    expect(await page.locator('[data-field$="coreTube/bore"] [role="alert"]').innerText()).toMatch(
      /smaller than the core/,
    )
    await enter(page, 'Core bore', '82 mm')
    await page.getByText('The roll breaks one limit.').waitFor()
  })
})

test('the cut: scrubbed and wound by keyboard, told in words; with reduced motion picture by picture', async () => {
  const { page } = await opened(thin, sizes.desktop, 'light', 'reduce')
  const build = page.getByRole('slider', { name: 'Build-up' })
  await build.focus()
  await page.keyboard.press('Home')
  const first = await build.getAttribute('aria-valuetext')
  expect(first).toMatch(/On the way, .* mm across/)
  await page.getByRole('button', { name: 'Wind it' }).press('Enter')
  expect(await build.getAttribute('aria-valuetext')).not.toBe(first)
  await build.press('End')
  expect(await build.getAttribute('aria-valuetext')).toBe('Later, 360 mm across')
  await page.getByRole('button', { name: 'hoop stress' }).click()
  await page.getByText('Rings in words').click()
  expect(
    await page
      .getByRole('listitem')
      .filter({ hasText: /step 1, −/ })
      .count(),
  ).toBeGreaterThan(0)
})

test('curves are read by keyboard', async () => {
  const { page } = await opened(thin)
  const curve = page.getByRole('slider', { name: 'Pressure between the laps over roll diameter' })
  await curve.focus()
  await page.keyboard.press('Home')
  expect(await curve.getAttribute('aria-valuetext')).toMatch(
    /roll diameter 90 mm, as wound 0\.39\d MPa, later 0\.37\d MPa/,
  )
})

test('a law is wound with, converted so that the roll ends at the same tension; the table follows', async () => {
  const { page } = await opened('Why does a roll of foil telescope?')
  await page.getByRole('button', { name: 'torque', exact: true }).click()
  await page.getByRole('figure', { name: /Each law's torque/ }).waitFor()
  await page.getByRole('button', { name: /Wind with it.*linear law/ }).press('Enter')
  await told(page)
  expect(await page.getByRole('textbox', { name: 'Taper', exact: true }).inputValue()).toBe('43.64 %')
  const last = page
    .getByRole('table', { name: /table for the drive/ })
    .getByRole('row')
    .last()
  expect(await last.innerText()).toMatch(/330\.0\s+20\.29/)
})

test('a stack test is pasted, fitted with its uncertainty, and used', async () => {
  const { page } = await opened('What does a stop leave in the roll?')
  const pairs = [5, 10, 20, 50, 100, 200, 400].map((p) => `${p}\t${(100 * Math.log1p(p / 15)) / 60}`)
  await page.getByRole('textbox', { name: /Pressure and strain/ }).fill(['kPa\t%', ...pairs].join('\n'))
  await page.getByRole('button', { name: 'Fit', exact: true }).press('Enter')
  await page.getByText(/K1 15 kPa ± .*; K2 60 ± .*one standard deviation/).waitFor()
  await page.getByRole('button', { name: 'Use this stack' }).press('Enter')
  await told(page)
  expect(await page.getByRole('textbox', { name: 'Stack pressure' }).inputValue()).toBe('0.015 MPa')
  await page.getByRole('textbox', { name: /Pressure and strain/ }).fill('1 2')
  await page.getByRole('button', { name: 'Fit', exact: true }).press('Enter')
  await page.getByText(/Found 1 different pressures/).waitFor()
})

test('a winder without a taper says so and still winds; nothing runs over the edge when doubled', async () => {
  const { page, complaints } = await opened('Which tension is left in each span after a stop?', sizes.doubled)
  await page.getByText("This winder's drive follows speed").waitFor()
  expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth')).toBe(true)
  expect(await violations(page)).toEqual([])
  expect(complaints).toEqual([])
})
