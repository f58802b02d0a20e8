/** The line drawn: it shows the record at the cursor, plays it, and can be read part by part from the keyboard. */
import type { Locator, Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { asked, button, gallery, opened, resized, tablet, tension, violationsInBoth, wide } from './hands'

const drawing = (page: Page): Locator => page.getByRole('listbox', { name: /^The line/ })
const scrubber = (page: Page): Locator => page.getByRole('slider', { name: 'Time, seconds' })
const readout = (page: Page): Locator => page.locator('[data-readout]')
const cursor = async (page: Page): Promise<number> => Number(await tension(page).getAttribute('aria-valuenow'))

/** Puts the cursor at an instant by the scrub slider. */
const scrub = (page: Page, time: number): Promise<void> => scrubber(page).fill(String(time))

/** Where the dancer's circle stands. */
async function dancerAt(page: Page): Promise<number[]> {
  const dancer = drawing(page).locator('circle.dancer').first()
  return Promise.all(['cx', 'cy'].map(async (name) => Number(await dancer.getAttribute(name))))
}

/** Something of the middle of a part's shape, in the page. */
const middleOf = (shape: Locator) => {
  return shape.evaluate((found) => {
    const { left, top, width, height } = found.getBoundingClientRect()
    return { x: left + width / 2, y: top + height / 2 }
  })
}

test('draws every part, and each span coloured and labelled by its share', async () => {
  const { page, complaints } = await opened()
  const options = await drawing(page).getByRole('option').count()
  const films = drawing(page).locator('path.film')
  // Rollers and the spans between them take turns.
  expect(options).toBe(2 * (await films.count()) + 1)
  for (const one of await films.all()) expect(await one.getAttribute('class')).toMatch(/step-[0-5]/)
  const labels = await drawing(page).locator('text.share').allTextContents()
  expect(labels.length).toBeGreaterThan(3)
  for (const label of labels) expect(label).toMatch(/^\d+(\.\d)? %$/)
  expect(complaints).toEqual([])
})

test('follows the cursor of the charts, and the scrub slider moves theirs', async () => {
  const { page } = await opened()
  await tension(page).focus()
  await page.keyboard.press('Home')
  const start = await dancerAt(page)
  expect(Number(await scrubber(page).inputValue())).toBe(0)
  // In the midst of the splice the dancer has let film go.
  await scrub(page, 5.3)
  expect(await cursor(page)).toBeCloseTo(5.3, 2)
  const [x = 0, y = 0] = await dancerAt(page)
  expect(Math.hypot(x - (start[0] ?? 0), y - (start[1] ?? 0))).toBeGreaterThan(5)
})

test('plays: the cursor runs and the dancer moves, until it is told to pause', async () => {
  const { page } = await opened()
  await scrub(page, 3)
  const before = await dancerAt(page)
  await button(page, 'Play').click()
  await expect.poll(() => cursor(page)).toBeGreaterThan(4)
  await button(page, 'Pause').click()
  const at = await cursor(page)
  expect(await dancerAt(page)).not.toEqual(before)
  await button(page, 'To start').click()
  expect(await cursor(page)).toBe(0)
  expect(at).toBeLessThan(24)
})

test('goes slower and faster within its bounds', async () => {
  const { page } = await opened()
  const player = page.getByRole('group', { name: 'Play the run' })
  await button(page, 'Slower').click()
  await button(page, 'Slower').click()
  expect(await player.innerText()).toContain('1/16 speed')
  expect(await button(page, 'Slower').isDisabled()).toBe(true)
  for (let k = 0; k < 3; k++) await button(page, 'Faster').click()
  expect(await player.innerText()).toContain('4 × speed')
})

test('never starts by itself, and stands still for those who want less motion', async () => {
  const { page } = await opened(wide, 'light', { reducedMotion: 'reduce' })
  expect(await button(page, 'Play').isVisible()).toBe(true)
})

test('arrow keys go along the film and tell what each part does', async () => {
  const { page } = await opened()
  await drawing(page).focus()
  expect(await readout(page).innerText()).toMatch(/unwind/)
  const current = async () => {
    const id = (await drawing(page).getAttribute('aria-activedescendant')) ?? ''
    return (await page.locator(`[id="${id}"]`).getAttribute('aria-label')) ?? ''
  }
  expect(await current()).toMatch(/^unwind, unwind roll, radius \d+.*surface speed .* m\/min/)
  await page.keyboard.press('ArrowRight')
  expect(await current()).toMatch(/^unwind → .*, span, tension \d+\.\d N, of elastic limit \d+ %, in the band$/)
  expect(await readout(page).innerText()).toMatch(/tension\s+\d+\.\d N/)
  await page.keyboard.press('End')
  expect(await current()).toMatch(/^rewind, rewind roll/)
  await page.keyboard.press('ArrowRight')
  expect(await current()).toMatch(/^rewind,/)
  await page.keyboard.press('Home')
  expect(await current()).toMatch(/^unwind,/)
})

test('a pointer on the dancer tells its position, a press on film chooses its span in the charts', async () => {
  const { page } = await opened()
  const dancer = await middleOf(drawing(page).locator('circle.dancer').first())
  await page.mouse.move(dancer.x, dancer.y)
  expect(await readout(page).innerText()).toMatch(/infeed\s+dancer\s+dancer\s+position\s+−?\d+\.\d mm/)
  const film = await middleOf(drawing(page).locator('path.film').nth(7))
  await page.mouse.click(film.x, film.y)
  const name = await readout(page).locator('b').innerText()
  await page.mouse.move(0, 0)
  expect(name).toContain('→')
  expect(await tension(page).getAttribute('aria-valuetext')).toContain(name.replaceAll('\u00a0', ' '))
})

test('film that hangs is drawn hanging and named slack', async () => {
  const { page } = await opened()
  await asked(page, /out of travel/)
  // The winding dancer lies on its stop then, and holds no tension.
  await scrub(page, 15.75)
  const hanging = drawing(page).locator('path.slack')
  expect(await hanging.count()).toBeGreaterThan(0)
  expect(await hanging.first().getAttribute('d')).toContain('Q')
  expect(await drawing(page).locator('text.share').allTextContents()).toContain('slack')
})

test('folds away and comes back', async () => {
  const { page } = await opened()
  await page.getByRole('region', { name: 'Line' }).getByRole('button', { name: 'Fold away' }).click()
  expect(await drawing(page).count()).toBe(0)
  await button(page, 'Show the line').click()
  expect(await drawing(page).isVisible()).toBe(true)
})

/** Pairs of texts of the drawing that cover each other, and those that leave it. */
function collisions(page: Page): Promise<string[]> {
  return drawing(page).evaluate((svg) => {
    const frame = svg.getBoundingClientRect()
    const texts = [...svg.querySelectorAll('text')].map((text) => ({ text, box: text.getBoundingClientRect() }))
    const outside = texts.filter(
      ({ box }) => box.left < frame.left || box.right > frame.right || box.top < frame.top || box.bottom > frame.bottom,
    )
    const covered = texts.flatMap((a, i) =>
      texts
        .slice(i + 1)
        .filter(
          (b) =>
            a.box.left < b.box.right - 1 &&
            b.box.left < a.box.right - 1 &&
            a.box.top < b.box.bottom - 2 &&
            b.box.top < a.box.bottom - 2,
        )
        .map((b) => `${a.text.textContent} / ${b.text.textContent}`),
    )
    return [...outside.map(({ text }) => `outside: ${text.textContent}`), ...covered]
  })
}

test('no label covers another: every line at 1024 x 768, and one in three at 1440 x 900', async () => {
  const { page, complaints } = await opened(tablet)
  await button(page, 'Ask another question').click()
  await gallery(page).locator('li b').first().waitFor()
  const titles = await gallery(page).locator('li b').allInnerTexts()
  await page.keyboard.press('Escape')
  for (const [k, title] of titles.entries()) {
    await asked(page, title)
    await drawing(page).locator('text.share').first().waitFor()
    expect(await collisions(page), title).toEqual([])
    if (k % 3 > 0) continue
    await resized(page, wide)
    expect(await collisions(page), title).toEqual([])
    await resized(page, tablet)
  }
  expect(complaints).toEqual([])
})

test('axe finds nothing to complain of, light and dark', async () => {
  const { page } = await opened()
  await drawing(page).focus()
  await page.keyboard.press('ArrowRight')
  expect(await violationsInBoth(page)).toEqual([])
})
