/** A line of one's own: from a template, with a dancer added and a splice staged, to the end of its run. */
import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { doubled, finished, misfits, rerun, violations, wide } from './hands'
import { newPage, type Size, type Theme } from './launch'

const outline = (page: Page) => page.getByRole('region', { name: 'What the line is made of' })
const work = (page: Page) => page.getByRole('region', { name: 'What is being worked on' })
const row = (page: Page, name: string | RegExp) => outline(page).getByRole('button', { name })
const lacking = (page: Page) => page.getByRole('status', { name: 'What the line lacks' })
const undo = (page: Page) => page.getByRole('button', { name: /^Undo/ })
const names = (page: Page) => outline(page).locator('.row b').allInnerTexts()

async function opened(size: Size = wide, theme: Theme = 'light') {
  const visit = await newPage(size, theme, { path: '#build' })
  await finished(visit.page)
  return visit
}

test('by mouse: a template, a dancer with its trim, and a splice; each act is taken back by one undo', async () => {
  const { page, complaints } = await opened()
  await rerun(page, () => page.getByRole('button', { name: /^Begin from this: Print line/ }).click())
  await row(page, /^idler 4/).click()
  await work(page).getByRole('button', { name: 'Add a part behind it' }).click()
  await rerun(page, () => work(page).getByRole('button', { name: 'Dancer', exact: true }).click())
  // It carries the tension that the film had there, and says what it lacks.
  await lacking(page).getByText('dancer has no trim').waitFor()
  expect(await names(page)).toContain('dancer')
  await rerun(page, () => lacking(page).getByRole('button', { name: 'Let it trim pull nip' }).click())
  expect(await lacking(page).innerText()).toBe('')
  await row(page, 'Position trim, dancer → pull nip').waitFor()
  await outline(page).getByRole('button', { name: 'Add an event' }).click()
  await rerun(page, () => work(page).getByRole('button', { name: 'Zero-speed splice' }).click())
  expect(await page.locator('[data-phase]').innerText()).toMatch(/%|stop|travel/)
  expect(
    await page
      .getByRole('listbox', { name: /^The line/ })
      .getByRole('option', { name: /^dancer, dancer/ })
      .count(),
  ).toBe(1)

  // A part that is picked in the list is renamed, and whoever refers to it follows.
  await row(page, /^dancer/).click()
  await work(page).getByLabel('Name', { exact: true }).fill('second dancer')
  await rerun(page, () => page.keyboard.press('Enter'))
  await row(page, 'Position trim, second dancer → pull nip').waitFor()
  await work(page).getByLabel('Name', { exact: true }).fill('unwind')
  await page.keyboard.press('Enter')
  await work(page).getByText('another part is called "unwind"').waitFor()
  await page.keyboard.press('Escape')
  for (const words of ['calling dancer second dancer', 'stage', 'trimming pull nip by dancer', 'adding dancer']) {
    expect(await undo(page).innerText()).toContain(words)
    await undo(page).click()
  }
  expect(await names(page)).not.toContain('dancer')
  await finished(page)
  expect(complaints).toEqual([])
})

test('by keyboard alone: the same line', async () => {
  const { page } = await opened()
  const press = async (name: string | RegExp, where = work(page)) => {
    await where.getByRole('button', { name }).first().focus()
    await page.keyboard.press('Enter')
  }
  await rerun(page, () => press(/^Begin from this: Print line/))
  // One place of the list is on the way of the Tab key; arrows go on from there, and choose.
  await row(page, /^Begin, and name/).focus()
  for (let i = 0; i < 20; i++) {
    if ((await work(page).getByRole('heading', { level: 2 }).innerText()) === 'Idler 4') break
    await page.keyboard.press('ArrowDown')
  }
  await press('Add a part behind it')
  await rerun(page, () => press(/^Dancer$/))
  await rerun(page, () => press('Let it trim pull nip', lacking(page)))
  await press('Add an event', outline(page))
  await rerun(page, () => press('Zero-speed splice'))
  await row(page, /^Zero-speed splice/).waitFor()
  expect(await lacking(page).innerText()).toBe('')
})

test('what cannot be is said at once: rolls stay, two dancers in one stretch pull against each other', async () => {
  const { page } = await opened()
  await rerun(page, () => page.getByRole('button', { name: /^Begin from this: Print line/ }).click())
  await row(page, /^unwind/).click()
  await work(page).getByRole('button', { name: 'Take out' }).click()
  await work(page).getByText('The rolls stand at the ends of the line, and stay.').waitFor()
  await row(page, /^infeed dancer/).click()
  await work(page).getByRole('button', { name: 'Copy' }).click()
  await lacking(page).getByText('Between unwind and print nip infeed dancer and infeed dancer 2 each hold').waitFor()
  await page.locator('[data-phase="failed"]').waitFor()
  await rerun(page, () => lacking(page).getByRole('button', { name: 'Take out infeed dancer 2' }).click())
  expect(await lacking(page).innerText()).toBe('')
})

test('a generic film shows where each figure is from, and is taken in one step', async () => {
  const { page } = await opened()
  await row(page, /^Film A/).click()
  const films = work(page).getByRole('region', { name: 'Generic films to begin with' })
  await films.getByLabel('Film', { exact: true }).selectOption({ label: 'Copper foil' })
  expect(await films.getByRole('row', { name: /^Elastic limit/ }).innerText()).toMatch(/0\.1 %.*from memory/s)
  expect(await films.getByRole('row', { name: /^Friction on a roller/ }).innerText()).toMatch(
    /illustrative: measure it/,
  )
  await films.getByRole('button', { name: 'Take these figures for film A' }).click()
  await expect.poll(() => work(page).getByRole('textbox', { name: 'Modulus' }).inputValue()).toBe('70 GPa')
  expect(await work(page).getByRole('textbox', { name: 'Width' }).inputValue()).toBe('420 mm')
  expect(await undo(page).innerText()).toContain('taking Copper foil for film A')
})

const forms = {
  light: ['Begin, and name', /^Film A/, /^infeed dancer/, 'Add an event'],
  dark: [/^Position trim/, 'Add a part', 'Add a control'],
} as const

test.each(['light', 'dark'] as const)('forms keep the rules of accessibility, %s', async (theme) => {
  const { page } = await opened(wide, theme)
  for (const name of forms[theme]) {
    await row(page, name).first().click()
    expect([name, await violations(page)]).toEqual([name, []])
  }
})

test('at 200 % zoom nothing is cut off and the page does not scroll sideways', async () => {
  const { page } = await opened(doubled)
  for (const name of ['Begin, and name', /^Film A/, /^infeed dancer/, /^Zero-speed splice/]) {
    await row(page, name).first().click()
    expect([name, await misfits(page)]).toEqual([name, []])
  }
})
