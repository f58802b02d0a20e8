/** The first page as people use it: by keyboard, mouse and touch, in the browser, as it was built. */
import axe, { type AxeResults } from 'axe-core'
import type { Locator, Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { newPage, type Size, type Theme } from './launch'

const wide: Size = { width: 1440, height: 900 }
const tablet: Size = { width: 1024, height: 768 }
/** 1440 x 900 at 200 % zoom. */
const doubled: Size = { width: 720, height: 450 }
/** 1280 px at 400 % zoom. */
const narrow: Size = { width: 320, height: 640 }

const answer = (page: Page): Locator => page.locator('[data-phase]')
const finished = (page: Page): Promise<void> => page.locator('[data-phase="finished"]').waitFor()
const row = (page: Page, path: string): Locator => page.locator(`[data-field="${path}"]`)
const field = (page: Page, path: string): Locator => row(page, path).getByRole('textbox')
const tension = (page: Page): Locator => page.getByRole('slider', { name: /^Tension over time/ })
const attribute = async (locator: Locator, name: string): Promise<string> => (await locator.getAttribute(name)) ?? ''

async function opened(size: Size = wide, theme: Theme = 'light', touch = false) {
  const visit = await newPage(size, theme, { hasTouch: touch })
  await finished(visit.page)
  return visit
}

/** Does something that reruns the line and waits until that run has finished. */
async function rerun(page: Page, act: () => Promise<unknown>): Promise<void> {
  const before = await attribute(answer(page), 'data-ended')
  await act()
  await page.locator(`[data-phase="finished"]:not([data-ended="${before}"])`).waitFor()
}

/** The name of a path in the scenario that is open first, found by the headings of its panel. */
async function firstPath(page: Page, ending: string): Promise<string> {
  return attribute(page.locator(`[data-field$="${ending}"]`).first(), 'data-field')
}

test('the line that the page opens with runs and finishes', async () => {
  const { page, complaints } = await opened()
  expect(await page.getByRole('heading', { level: 1 }).innerText()).toMatch(/\?$/)
  const rows = page.getByRole('table', { name: /^Tension/ }).getByRole('row')
  expect(await rows.count()).toBeGreaterThan(3)
  expect(await rows.nth(1).innerText()).toMatch(/\d+(\.\d)? %/)
  expect(complaints).toEqual([])
})

/** How many pixels of each picture have exactly a token's colour. */
function pixelsOf(page: Page, tokens: readonly string[]): Promise<number[]> {
  return page.locator('.picture canvas').evaluateAll((canvases, wanted) => {
    const probe = document.createElement('canvas').getContext('2d')
    const style = getComputedStyle(document.documentElement)
    return canvases.map((canvas, i) => {
      const pen = canvas instanceof HTMLCanvasElement ? canvas.getContext('2d') : null
      if (!pen || !probe) return 0
      probe.fillStyle = style.getPropertyValue(`--${wanted[i] ?? ''}`)
      probe.fillRect(0, 0, 1, 1)
      const [r, g, b] = probe.getImageData(0, 0, 1, 1).data
      const { data } = pen.getImageData(0, 0, pen.canvas.width, pen.canvas.height)
      let count = 0
      for (let k = 0; k < data.length; k += 4) if (data[k] === r && data[k + 1] === g && data[k + 2] === b) count++
      return count
    })
  }, tokens)
}

test('every picture shows its traces', async () => {
  // Tall enough for all four: those out of sight wait with drawing.
  const { page } = await opened({ width: 1440, height: 1600 })
  const shown = async () => (await pixelsOf(page, ['share-0', 'go', 'go', 'go'])).map((count) => count > 300)
  await expect.poll(shown).toEqual([true, true, true, true])
})

test('what happened stands on the time axis by name, and leads the cursor there', async () => {
  const { page } = await opened()
  const moment = page
    .getByRole('group', { name: /^What happened/ })
    .getByRole('button')
    .first()
  const [, at = ''] = / at (\d+\.\d+) s/.exec(await attribute(moment, 'aria-label')) ?? []
  await moment.click()
  expect(Number(await attribute(tension(page), 'aria-valuenow'))).toBeCloseTo(Number(at), 2)
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

test('the keyboard moves the cursor, zooms, and all readings follow', async () => {
  const { page } = await opened()
  const chart = tension(page)
  await chart.focus()
  await page.keyboard.press('Home')
  expect(await attribute(chart, 'aria-valuenow')).toBe('0')
  const atStart = await attribute(chart, 'aria-valuetext')
  expect(atStart).toMatch(/^0\.00 s, .* \d+\.\d N, limit \d+ N, \d+ % used$/)
  await page.keyboard.press('Shift+ArrowRight')
  await page.keyboard.press('ArrowRight')
  const now = Number(await attribute(chart, 'aria-valuenow'))
  expect(now).toBeGreaterThan(0)
  expect(await attribute(chart, 'aria-valuetext')).not.toBe(atStart)
  for (const other of await page.locator('.picture[role="slider"]').all()) {
    expect(Number(await attribute(other, 'aria-valuenow'))).toBe(now)
  }
  const whole = page.getByRole('button', { name: 'Whole run' })
  expect(await whole.isDisabled()).toBe(true)
  await page.keyboard.press('+')
  expect(await whole.isDisabled()).toBe(false)
  await page.keyboard.press('0')
  expect(await whole.isDisabled()).toBe(true)
  await page.keyboard.press('End')
  const end = Number(await attribute(chart, 'aria-valuenow'))
  expect(end).toBe(Number(await attribute(chart, 'aria-valuemax')))
})

test('dragging chooses a stretch of time for all charts, a double click shows the whole run', async () => {
  const { page } = await opened({ width: 1440, height: 1600 })
  const area = await tension(page).locator('.u-over').boundingBox()
  if (!area) throw new Error('The tension picture has no plotting area.')
  const whole = page.getByRole('button', { name: 'Whole run' })
  const before = await pictureOf(page, 2)
  await page.mouse.move(area.x + area.width * 0.1, area.y + 50)
  await page.mouse.down()
  await page.mouse.move(area.x + area.width * 0.3, area.y + 50, { steps: 4 })
  await page.mouse.up()
  expect(await whole.isDisabled()).toBe(false)
  await expect.poll(() => pictureOf(page, 2)).not.toBe(before)
  await page.mouse.dblclick(area.x + 20, area.y + 50)
  expect(await whole.isDisabled()).toBe(true)
})

const pictureOf = (page: Page, chart: number): Promise<string> =>
  page
    .locator('.picture canvas')
    .nth(chart)
    .evaluate((canvas) => (canvas instanceof HTMLCanvasElement ? canvas.toDataURL() : ''))

test('units switch between metric and inch, in fields, pictures and tables', async () => {
  const { page } = await opened()
  const path = await firstPath(page, '/force')
  await page.getByRole('button', { name: /Inch units/ }).click()
  expect(await field(page, path).inputValue()).toMatch(/ lbf$/)
  expect(await page.getByRole('heading', { name: /^Tension/ }).innerText()).toBe('Tension, lbf')
  expect(await page.getByRole('table', { name: /^Tension, lbf/ }).count()).toBe(1)
  await page.getByRole('button', { name: /Metric units/ }).click()
  expect(await field(page, path).inputValue()).toMatch(/ N$/)
})

test('a finger on a name hides and shows its line', async () => {
  const { page } = await opened({ width: 1024, height: 1400 }, 'light', true)
  const toggle = page
    .getByRole('group', { name: /^Tension: spans/ })
    .getByRole('button')
    .first()
  const before = await pictureOf(page, 0)
  expect(await attribute(toggle, 'aria-pressed')).toBe('true')
  await toggle.tap()
  expect(await attribute(toggle, 'aria-pressed')).toBe('false')
  await expect.poll(() => pictureOf(page, 0)).not.toBe(before)
  await toggle.tap()
  expect(await attribute(toggle, 'aria-pressed')).toBe('true')
})

test('a finger on a picture puts the cursor there', async () => {
  const { page } = await opened(tablet, 'light', true)
  const chart = tension(page)
  await chart.scrollIntoViewIfNeeded()
  const area = await chart.locator('.u-over').boundingBox()
  if (!area) throw new Error('The tension picture has no plotting area.')
  await page.touchscreen.tap(area.x + area.width / 2, area.y + area.height / 2)
  const duration = Number(await attribute(chart, 'aria-valuemax'))
  expect(Number(await attribute(chart, 'aria-valuenow'))).toBeCloseTo(duration / 2, 0)
})

test('each question of the gallery opens its line and runs it', async () => {
  const { page, complaints } = await opened()
  const ask = page.getByRole('button', { name: 'Ask another question' })
  const dialog = page.getByRole('dialog', { name: 'What do you want to know?' })
  await ask.click()
  const titles = await dialog.locator('li b').allInnerTexts()
  await page.keyboard.press('Escape')
  expect(titles.length).toBeGreaterThan(1)
  for (const title of titles) {
    await ask.click()
    await rerun(page, () => dialog.getByRole('button', { name: title }).click())
    expect(await page.getByRole('heading', { level: 1 }).innerText()).toBe(title)
  }
  expect(complaints).toEqual([])
})

/** Opens the question of the gallery whose title has these words. */
async function asked(page: Page, words: RegExp): Promise<void> {
  await page.getByRole('button', { name: 'Ask another question' }).click()
  await rerun(page, () => page.getByRole('dialog').getByRole('button', { name: words }).click())
}

test('the limit read at the cursor is that of the film that lies in the span just then', async () => {
  const { page } = await opened()
  await asked(page, /thin film follows thick/)
  const limitAt = async (key: string) => {
    await tension(page).focus()
    await page.keyboard.press(key)
    const said = await attribute(tension(page), 'aria-valuetext')
    return Number(/limit (\d+) N, \d+ % used$/.exec(said)?.[1])
  }
  const [first, last] = [await limitAt('Home'), await limitAt('End')]
  expect(last).toBeGreaterThan(0)
  expect(first / last).toBeCloseTo((75 * 4.5) / (25 * 4.6), 1)
  const isRed = async () => (await pixelsOf(page, ['bad']))[0] ?? 0
  await expect.poll(isRed).toBeGreaterThan(100)
})

test('further traces are folded away until they are asked for, and share cursor and time axis', async () => {
  const { page } = await opened({ width: 1440, height: 2000 })
  await asked(page, /air cylinder/)
  const sliders = () =>
    page.getByRole('slider', { name: / over time, / }).evaluateAll((all) => all.map((one) => one.ariaLabel ?? ''))
  const before = await sliders()
  const buttons = page.getByRole('group', { name: 'More traces' }).getByRole('button')
  const titles = await buttons.allInnerTexts()
  expect(titles).toContain('Drive torque')
  expect(titles).toContain('Cylinder pressure')
  for (const button of await buttons.all()) await button.click()
  const more = (await sliders()).slice(before.length)
  expect(more.map((label) => label.replace(/ over time.*/, ''))).toEqual(titles)
  expect(more).toContain('Drive torque over time, N m')
  expect(more).toContain('Cylinder pressure over time, bar')
  const pressure = page.getByRole('slider', { name: /^Cylinder pressure over time/ })
  await pressure.focus()
  await page.keyboard.press('Home')
  expect(await attribute(pressure, 'aria-valuetext')).toMatch(/^0\.00 s, .* \d+\.\d+ bar/)
  expect(await attribute(tension(page), 'aria-valuenow')).toBe('0')
  expect(await misfits(page)).toEqual([])
  expect(await violations(page)).toEqual([])
  await buttons.first().click()
  expect((await sliders()).length).toBe(before.length + titles.length - 1)
})

test('what happens again and again is told once, and every instant of it on demand', async () => {
  const { page } = await opened()
  await asked(page, /runs out of travel/)
  const again = page.getByRole('button', { name: /^\d+ times, last at/ })
  const times = Number.parseInt(await again.first().innerText())
  const instants = page.getByRole('button', { name: /^Put the cursor at/ })
  const before = await instants.count()
  expect(before).toBeLessThan(20)
  await again.first().click()
  expect(await instants.count()).toBe(before + times - 1)
  const strip = page.getByRole('group', { name: /^What happened, along time/ })
  expect(await strip.locator('.tick').count()).toBeLessThan(40)
  expect(await misfits(page)).toEqual([])
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

/** Names of the rules broken, each with where. */
async function violations(page: Page): Promise<string[]> {
  await page.evaluate(axe.source)
  const found = await page.evaluate(async () => {
    const { axe } = globalThis as unknown as { axe: { run(): Promise<AxeResults> } }
    return (await axe.run()).violations
  })
  return found.flatMap(({ id, nodes }) => nodes.map((node) => `${id}: ${node.html}`))
}

test.each(['light', 'dark'] as const)('axe finds nothing to complain of, %s', async (theme) => {
  const { page, complaints } = await opened(wide, theme)
  const path = await firstPath(page, '/mass')
  await field(page, path).fill('wrong')
  await page.keyboard.press('Enter')
  expect(await violations(page)).toEqual([])
  await page.getByRole('button', { name: 'Ask another question' }).click()
  expect(await violations(page)).toEqual([])
  expect(complaints).toEqual([])
})

/** Texts that do not fit their boxes (of one pixel are those for screen readers), and the page if it scrolls sideways. */
function misfits(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const told = [...document.querySelectorAll('h1, h2, h3, label, button, summary, caption, th, td, legend, output')]
    const wide = told.filter((box) => box.clientWidth > 1 && box.scrollWidth > box.clientWidth + 1)
    const root = document.documentElement
    const sideways = root.scrollWidth > root.clientWidth ? [`the page scrolls sideways: ${root.scrollWidth}`] : []
    return [...sideways, ...wide.map((box) => `${box.tagName} "${box.textContent}"`)]
  })
}

test.each([
  ['1440 x 900', wide],
  ['1024 x 768', tablet],
  ['200 % zoom', doubled],
  ['400 % zoom', narrow],
] as const)('no text is clipped, nothing scrolls sideways at %s', async (_, size) => {
  const { page } = await opened(size)
  expect(await misfits(page)).toEqual([])
  await page.getByRole('button', { name: /Inch units/ }).click()
  expect(await misfits(page)).toEqual([])
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
