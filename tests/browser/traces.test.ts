/** Traces as people read them: by keyboard, mouse and touch, in the browser, as it was built. */
import { expect, test } from 'vitest'
import {
  tablet,
  field,
  tension,
  attribute,
  opened,
  firstPath,
  pixelsOf,
  pictureOf,
  asked,
  violations,
  misfits,
} from './hands'

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

test('tension is read as force, per width, stress or strain; limits, legend, peaks and table follow', async () => {
  const { page } = await opened()
  const choice = page.getByRole('combobox', { name: 'Read tension as' })
  const said = async (measure: string) => {
    await choice.selectOption(measure)
    await tension(page).focus()
    await page.keyboard.press('Home')
    return attribute(tension(page), 'aria-valuetext')
  }
  const force = Number(/(\d+\.\d) N, limit 340 N/.exec(await said('force'))?.[1])
  // 420 mm of 36 µm film of 4.5 GPa
  const figure = (text: string, unit: string) =>
    Number.parseFloat(text.split(` ${unit}, limit`)[0]?.split(' ').at(-1) ?? '')
  expect(figure(await said('forcePerWidth'), 'N/m')).toBeCloseTo(force / 0.42, 0)
  expect(figure(await said('stress'), 'MPa')).toBeCloseTo(force / (0.42 * 36), 2)
  const strain = await said('strain')
  expect(figure(strain, '%')).toBeCloseTo((force / (0.42 * 36e-6 * 4.5e9)) * 100, 3)
  expect(strain).toContain('limit 0.5 %')
  expect(await page.getByRole('heading', { name: /^Tension/ }).innerText()).toBe('Tension, %')
  const table = page.getByRole('table', { name: /^Tension, %/ })
  expect(await table.getByRole('row').nth(1).innerText()).toMatch(/0\.0\d\d/)
  expect(await misfits(page)).toEqual([])
})

test('a finger on a name hides and shows its line', async () => {
  const { page } = await opened({ width: 1024, height: 1400 }, 'light', { hasTouch: true })
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
  const { page } = await opened(tablet, 'light', { hasTouch: true })
  const chart = tension(page)
  await chart.scrollIntoViewIfNeeded()
  const area = await chart.locator('.u-over').boundingBox()
  if (!area) throw new Error('The tension picture has no plotting area.')
  await page.touchscreen.tap(area.x + area.width / 2, area.y + area.height / 2)
  const duration = Number(await attribute(chart, 'aria-valuemax'))
  expect(Number(await attribute(chart, 'aria-valuenow'))).toBeCloseTo(duration / 2, 0)
})

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
