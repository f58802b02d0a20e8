/** The first page as people use it: numbers, runs, questions, what fits where. In the browser, as it was built. */
import { expect, test } from 'vitest'
import {
  wide,
  tablet,
  doubled,
  narrow,
  answer,
  row,
  field,
  attribute,
  ask,
  button,
  toLine,
  gallery,
  opened,
  rerun,
  resized,
  firstPath,
  violationsInBoth,
  misfits,
} from './hands'

test('the line that the page opens with runs and finishes', async () => {
  const { page, complaints } = await opened()
  expect(await page.getByRole('heading', { level: 1 }).innerText()).toMatch(/\?$/)
  const rows = page.getByRole('table', { name: /^Tension/ }).getByRole('row')
  expect(await rows.count()).toBeGreaterThan(3)
  expect(await rows.nth(1).innerText()).toMatch(/\d+(\.\d)? %/)
  expect(complaints).toEqual([])
})

test('a number changed by keyboard reruns the line, and a figure changes with it', async () => {
  const { page, complaints } = await opened()
  const path = await firstPath(page, '/force')
  const table = page.getByRole('table', { name: /^Tension/ })
  const [text, figures] = [await field(page, path).inputValue(), await table.innerText()]
  await field(page, path).focus()
  await rerun(page, () => page.keyboard.press('Shift+ArrowUp'))
  const raised = await field(page, path).inputValue()
  expect(Number.parseFloat(raised)).toBe(Number.parseFloat(text) + 10)
  expect(await table.innerText()).not.toBe(figures)
  await rerun(page, () =>
    row(page, path)
      .getByRole('button', { name: /^Put back/ })
      .click(),
  )
  expect(await field(page, path).inputValue()).toBe(text)
  expect(await table.innerText()).toBe(figures)
  expect(complaints).toEqual([])
})

test('a wrong entry is told below its field and stays as it was typed; Esc puts the old text back', async () => {
  const { page } = await opened()
  const path = await firstPath(page, '/mass')
  const text = await field(page, path).inputValue()
  const ended = await attribute(answer(page), 'data-ended')
  await field(page, path).fill('3 newtons')
  await page.keyboard.press('Enter')
  const message = await row(page, path).getByRole('alert').innerText()
  expect(message).toContain('found "3 newtons"')
  expect(message).toContain('expected a mass')
  expect(await field(page, path).inputValue()).toBe('3 newtons')
  expect(await attribute(field(page, path), 'aria-invalid')).toBe('true')
  await page.keyboard.press('Tab')
  expect(await field(page, path).inputValue()).toBe('3 newtons')
  await field(page, path).focus()
  await page.keyboard.press('Escape')
  expect(await field(page, path).inputValue()).toBe(text)
  expect(await row(page, path).getByRole('alert').innerText()).toBe('')
  expect(await attribute(answer(page), 'data-ended')).toBe(ended)
})

test('a step that would leave the allowed range is not taken, and told', async () => {
  const { page } = await opened()
  const path = await firstPath(page, '/stiffness')
  await rerun(page, async () => {
    await field(page, path).fill('5 N/m')
    await page.keyboard.press('Enter')
  })
  await page.keyboard.press('Shift+ArrowDown')
  expect(await field(page, path).inputValue()).toBe('5 N/m')
  expect(await row(page, path).getByRole('alert').innerText()).toContain('at least 0 N/m')
})

test('what a field means and usually is belongs to its description', async () => {
  const { page } = await opened()
  const path = await firstPath(page, '/mass')
  const described = await field(page, path).evaluate((input) =>
    (input.getAttribute('aria-describedby') ?? '')
      .split(' ')
      .map((id) => document.getElementById(id)?.textContent ?? `no ${id}`)
      .join(' '),
  )
  expect(described).toContain('Moving mass')
  expect(described).toMatch(/Usual: .*\d+ to \d+ kg/)
})

test('a value that only the whole line shows to be wrong is refused by name, and mended again', async () => {
  const { page } = await opened()
  const path = await firstPath(page, '/diameter')
  const text = await field(page, path).inputValue()
  await field(page, path).fill('20 mm')
  await page.keyboard.press('Enter')
  await page.locator('[data-phase="refused"]').waitFor()
  expect(await answer(page).innerText()).toContain('diameter')
  expect(await row(page, path).getByRole('alert').innerText()).toContain('20 mm')
  await rerun(page, async () => {
    await field(page, path).fill(text)
    await page.keyboard.press('Enter')
  })
  expect(await row(page, path).getByRole('alert').innerText()).toBe('')
})

test('a run can be stopped and run again', async () => {
  const { page } = await opened()
  await field(page, 'run/for').fill('3000 s')
  await page.keyboard.press('Enter')
  await page.getByRole('progressbar').waitFor()
  await page.getByRole('button', { name: 'Stop', exact: true }).click()
  await page.locator('[data-phase="stopped"]').waitFor()
  expect(await page.getByText('grey: the run before').isVisible()).toBe(true)
  expect(await attribute(page.getByRole('region', { name: 'Verdict' }), 'data-state')).toBe('stopped')
  await rerun(page, () =>
    page
      .locator('[data-field="run/for"]')
      .getByRole('button', { name: /^Put back/ })
      .click(),
  )
})

test('questions of the gallery open their lines on the page that they say, and run them', async () => {
  const { page, complaints } = await opened()
  await button(page, 'Ask another question').click()
  await gallery(page).locator('li b').first().waitFor()
  const cards = await gallery(page)
    .locator('li:has(b)')
    .evaluateAll((all) =>
      all.map((one) => ({
        title: one.querySelector('b')?.textContent ?? '',
        answered: /on the (\w+) page$/.exec(one.textContent?.trim() ?? '')?.[1]?.toLowerCase(),
      })),
    )
  await page.keyboard.press('Escape')
  expect(new Set(cards.map(({ answered }) => answered))).toEqual(new Set(['line', 'dancer', 'roll', 'wrinkle']))
  // That each runs is tested without a browser: here the last of each page opens.
  for (const [answered, title] of new Map(cards.map(({ title, answered }) => [answered, title]))) {
    await ask(page, title)
    expect(await page.getByRole('navigation', { name: 'Pages' }).locator('[aria-current="page"]').innerText()).toBe(
      `${answered?.slice(0, 1).toUpperCase()}${answered?.slice(1)}`,
    )
    await toLine(page)
    expect(await page.getByRole('heading', { level: 1 }).innerText()).toBe(title)
  }
  expect(complaints).toEqual([])
})

test('the caution is one press away', async () => {
  const { page } = await opened()
  await page.getByRole('button', { name: 'Caution' }).click()
  const text = await page.getByRole('dialog').innerText()
  for (const word of ['Nips', 'tension', 'Stored energy', 'never certifies', 'Local codes', 'licensed'])
    expect(text).toContain(word)
})

test('the end of a run is told once, politely', async () => {
  const { page } = await opened()
  const live = page.locator('[aria-live="polite"]')
  expect(await live.count()).toBe(1)
  expect(await live.innerText()).toMatch(/^Run finished\. .+/)
})

test('axe finds nothing to complain of, light and dark', async () => {
  const { page, complaints } = await opened()
  const path = await firstPath(page, '/mass')
  await field(page, path).fill('wrong')
  await page.keyboard.press('Enter')
  expect(await violationsInBoth(page)).toEqual([])
  await page.getByRole('button', { name: 'Ask another question' }).click()
  expect(await violationsInBoth(page)).toEqual([])
  expect(complaints).toEqual([])
})

test('no text is clipped, nothing scrolls sideways at 1440 x 900, 1024 x 768, 200 % and 400 % zoom', async () => {
  const { page } = await opened()
  for (const units of [/Metric units/, /Inch units/]) {
    await page.getByRole('button', { name: units }).click()
    for (const size of [wide, tablet, doubled, narrow]) {
      await resized(page, size)
      expect(await misfits(page), `${units}, ${size.width} px`).toEqual([])
    }
  }
})

test('everything that can be pressed is at least 24 px large', async () => {
  const { page } = await opened(tablet)
  const small = await page.evaluate(() =>
    [...document.querySelectorAll('button, input, select, summary, a[href]')]
      .map((target) => ({ target, box: target.getBoundingClientRect() }))
      .filter(({ box }) => box.width > 0 && (box.width < 24 || box.height < 24))
      .map(({ target, box }) => `${target.textContent || target.id}: ${box.width} x ${box.height}`),
  )
  expect(small).toEqual([])
})
