/** The Wrinkle page and the lessons as people use them, in the browser, as it was built. */
import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { doubled, narrow, resized, tablet, violationsInBoth, wide } from './hands'
import { newPage, type Size, type Theme } from './launch'

async function opened(path = '#wrinkle', size: Size = wide, theme: Theme = 'light') {
  const visit = await newPage(size, theme, { path })
  await visit.page.getByRole('heading', { name: 'Why does thin film wrinkle?' }).waitFor()
  return visit
}

const first = (page: Page): Promise<string> => page.locator('p.first').innerText()
const knob = (page: Page, name: string) => page.getByRole('textbox', { name, exact: true })

async function turn(page: Page, name: string, text: string): Promise<void> {
  await knob(page, name).fill(text)
  await page.keyboard.press('Enter')
}

/** What the picture looks like; a few frames after the last change. */
const picture = (page: Page): Promise<string> =>
  page.evaluate(async () => {
    for (let i = 0; i < 3; i++) await new Promise(requestAnimationFrame)
    const canvas = document.querySelector('figure canvas')
    return canvas instanceof HTMLCanvasElement ? canvas.toDataURL() : ''
  })

test('a knob changes words, bars and picture, by keyboard; Put all back undoes it', async () => {
  const { page, complaints } = await opened()
  // the page opens with what it asks about, and with what would cure it
  expect(await first(page)).toMatch(/^The span has troughs/)
  expect(await page.getByText('What would have it flat, each by itself').count()).toBe(1)
  const opening = await picture(page)
  await turn(page, 'Misalignment', '0.5 mm/m')
  expect(await first(page)).toContain('The film runs flat.')
  const flat = await picture(page)
  await turn(page, 'Misalignment', '3 mm/m')
  expect(await first(page)).toMatch(/^The span has troughs 41\.6 mm apart/)
  const troughs = await picture(page)
  expect(troughs === flat).toBe(false)
  const named = await page.getByRole('img', { name: /^The span between two rollers\./ }).getAttribute('aria-label')
  expect(named).toContain('troughs 41.6 mm apart')
  await turn(page, 'Heat across the width', '25 K')
  expect(await first(page)).toContain('A crease is pressed in.')
  expect((await picture(page)) === troughs).toBe(false)
  // by arrow: 3 to 4 mm/m in the last digit
  await knob(page, 'Misalignment').focus()
  await page.keyboard.press('ArrowUp')
  expect(await knob(page, 'Misalignment').inputValue()).toBe('4 mm/m')
  await page.getByRole('button', { name: 'Put all back' }).press('Enter')
  expect(await first(page)).toMatch(/^The span has troughs/)
  expect((await picture(page)) === opening).toBe(true)
  expect(complaints).toEqual([])
})

test('a bad figure is explained at its knob and changes nothing', async () => {
  const { page } = await opened()
  const before = await first(page)
  for (const [name, text, say] of [
    ['Tension per width', '0 N/m', 'a force per width above 0 N/m'],
    ['Roller radius', '0 mm', 'a diameter above 0 mm'],
    ['Thickness', '25 kg', 'a thickness'],
  ] as const) {
    await turn(page, name, text)
    expect(await page.getByRole('alert').filter({ hasText: say }).count()).toBe(1)
    expect(await first(page)).toBe(before)
    await page.keyboard.press('Escape')
  }
})

test('equations are mathematics with the present figures; inch units everywhere', async () => {
  const { page } = await opened()
  await page.locator('#equations-title').scrollIntoViewIfNeeded()
  expect(await page.locator('math').count()).toBe(9)
  expect(await page.locator('math').nth(1).textContent()).toContain('12.5 kPa')
  const [space, height] = await page
    .locator('math')
    .first()
    .evaluate((math) => [math.namespaceURI ?? '', math.getBoundingClientRect().height] as const)
  expect(space).toBe('http://www.w3.org/1998/Math/MathML')
  expect(height).toBeGreaterThan(10)
  await page.getByRole('button', { name: /^in · lbf/ }).click()
  expect(await page.locator('math').nth(1).textContent()).toMatch(/psi$/)
  expect(await knob(page, 'Misalignment').inputValue()).toMatch(/ mil\/ft$/)
  expect(await page.locator('.results').innerText()).not.toMatch(/\d (kPa|MPa|mm\/m|µm)\b|NaN|Infinity|undefined/)
})

test("the line's own spans are there when its run is, and can be taken to the knobs", async () => {
  const { page } = await opened()
  const take = page.getByRole('button', { name: /^Take .* to the knobs$/ })
  await take.first().waitFor()
  expect(await page.getByText(/^Align every roller of/).innerText()).toMatch(/to 0\.\d+ mm\/m or better/)
  // no row is hidden by the height of its frame
  const cut = await page
    .getByRole('region', { name: 'Spans of the line' })
    .evaluate((frame) => frame.scrollHeight - frame.clientHeight)
  expect(cut).toBeLessThanOrEqual(0)
  await take.first().press('Enter')
  expect(await knob(page, 'Thickness').inputValue()).toBe('36 µm')
})

test('the chart runs over the chosen knob, and a generic film says where its figures are from', async () => {
  const { page } = await opened()
  await page.getByRole('combobox', { name: 'Critical misalignment against' }).selectOption('thickness')
  const chart = page.getByRole('img', { name: /^Critical misalignment against thickness: troughs may begin from/ })
  expect(await chart.count()).toBe(1)
  await page.getByRole('combobox', { name: 'Film' }).selectOption('aluminium')
  expect(await knob(page, 'Modulus').inputValue()).toBe('69 GPa')
  await page.getByText('Where its figures are from').press('Enter')
  const source = page.getByText('textbook value of aluminium, from memory')
  const shown = await source.count()
  expect(shown).toBeGreaterThan(0)
  await turn(page, 'Modulus', '60 GPa')
  expect(await source.count()).toBe(shown - 1)
  await page.getByRole('button', { name: 'Put all back' }).press('Enter')
  expect(await source.count()).toBe(0)
  expect(await page.getByRole('combobox', { name: 'Film' }).inputValue()).toBe('')
})

test('a lesson on the page, from its address to its end, by keyboard', async () => {
  const { page, complaints } = await opened('#wrinkle/lesson/tension-helps/1')
  await page.getByRole('radio', { name: /elastic limit ends it/ }).press('Space')
  await page.getByRole('button', { name: 'Set it up' }).press('Enter')
  expect(await first(page)).toContain('The span has troughs')
  await page.getByRole('link', { name: 'Next' }).press('Enter')
  await page.getByText('step 2 of 4').waitFor()
  await page.getByRole('button', { name: 'Do it for me' }).press('Enter')
  expect(await knob(page, 'Tension per width').inputValue()).toBe('260 N/m')
  expect(await first(page)).toContain('The film runs flat.')
  await page.getByRole('link', { name: 'Next' }).press('Enter')
  await page.getByRole('link', { name: 'Next' }).press('Enter')
  expect(await page.getByText('As you predicted.').count()).toBe(1)
  await page.getByRole('link', { name: 'Close' }).press('Enter')
  await page.getByRole('region', { name: 'Lessons' }).waitFor({ state: 'detached' })
  expect(complaints).toEqual([])
})

test('a lesson of a line opens at a step and sets the line as it wants it', async () => {
  const { page, complaints } = await newPage(wide, 'light', { path: '#line/lesson/speed-error/2' })
  await page.getByText('step 2 of 4').waitFor()
  await page.getByRole('button', { name: 'Do it for me' }).click()
  await page.getByRole('heading', { level: 1, name: 'What does a tenth of a percent of draw do?' }).waitFor()
  await page.locator('[data-phase="finished"]').waitFor()
  const row = page
    .getByRole('table', { name: /^Tension/ })
    .getByRole('row')
    .filter({ hasText: /second\snip\s→\sthird\snip/ })
  expect(await row.innerText()).toMatch(/\s9\.\d\s/)
  expect(complaints).toEqual([])
})

test('an address of no lesson opens their list', async () => {
  const { page } = await opened('#wrinkle/lesson/nothing')
  expect(await page.getByText('There is no lesson “nothing”.').count()).toBe(1)
  expect(await page.getByRole('region', { name: 'Lessons' }).getByRole('listitem').count()).toBeGreaterThanOrEqual(8)
})

test('axe has no complaint, light and dark: page, lesson, large type', async () => {
  const { page } = await opened('#wrinkle/lesson/air/4')
  expect(await violationsInBoth(page)).toEqual([])
  await page.getByRole('button', { name: 'Large type' }).click()
  expect(await violationsInBoth(page)).toEqual([])
})

test('nothing runs out of the page at 1440 x 900, 1024 x 768, 200 % and 400 % zoom', async () => {
  const { page } = await opened('#wrinkle/lesson/air/4')
  for (const size of [wide, tablet, doubled, narrow]) {
    await resized(page, size)
    const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)
    expect(over, `${size.width} px`).toBeLessThanOrEqual(0)
  }
})
