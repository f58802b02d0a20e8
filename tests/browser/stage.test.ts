/** The stage as people work on it: by mouse, keyboard and touch, in the browser, as it was built. */
import type { CDPSession, Locator, Page } from 'playwright-core'
import { expect, test } from 'vitest'
import {
  answer,
  attribute,
  doubled,
  field,
  misfits,
  opened,
  rerun,
  tablet,
  tension,
  resized,
  violationsInBoth,
  wide,
} from './hands'

const stage = (page: Page): Locator => page.getByRole('group', { name: 'What is staged, along time' })
const handles = (page: Page): Locator => stage(page).locator('.handle')
const panel = (page: Page): Locator => page.getByRole('region', { name: 'Stage, what is open' })
const stagedField = (page: Page, key: string): Locator => panel(page).locator(`[data-field="stage/${key}"]`)
const timeOf = async (handle: Locator): Promise<number> => Number(await attribute(handle, 'aria-valuenow'))

async function added(page: Page, title: string): Promise<void> {
  await page.getByRole('button', { name: 'Add event' }).click()
  await rerun(page, () => panel(page).getByRole('button', { name: title, exact: true }).click())
}

async function boxOf(locator: Locator): Promise<{ x: number; y: number; width: number; height: number }> {
  const box = await locator.boundingBox()
  if (!box) throw new Error('There is nothing to lay a hand on.')
  return box
}

test('an event is added where it can be, edited, doubled, and taken out again', async () => {
  const { page, complaints } = await opened()
  expect(await handles(page).count()).toBe(1)
  await added(page, 'Draw')
  expect(await handles(page).count()).toBe(2)
  expect(await panel(page).getByRole('heading').first().innerText()).toBe('Draw, print nip')
  await rerun(page, async () => {
    await stagedField(page, '1/to').getByRole('textbox').fill('0.12 %')
    await page.keyboard.press('Enter')
  })
  await rerun(page, () => panel(page).getByRole('button', { name: 'Once more' }).click())
  expect(await handles(page).count()).toBe(3)
  await rerun(page, () => panel(page).getByRole('button', { name: 'Take out' }).click())
  expect(await panel(page).count()).toBe(0)
  await handles(page).nth(1).focus()
  await rerun(page, () => page.keyboard.press('Delete'))
  expect(await handles(page).count()).toBe(1)
  expect(
    await handles(page)
      .first()
      .evaluate((handle) => handle === document.activeElement),
  ).toBe(true)
  expect(complaints).toEqual([])
})

test('what a line cannot have is told with its reason', async () => {
  const { page } = await opened()
  await page.getByRole('button', { name: 'Add event' }).click()
  await panel(page).getByText('Not on this line').click()
  expect(await panel(page).innerText()).toContain('No driven roller of this line has an index feed.')
})

test('arrow keys move an event by one recording interval, with Shift by ten, and the run follows', async () => {
  const { page } = await opened()
  const handle = handles(page).first()
  await handle.focus()
  await rerun(page, () => page.keyboard.press('ArrowRight'))
  expect(await timeOf(handle)).toBe(3.01)
  await rerun(page, () => page.keyboard.press('Shift+ArrowLeft'))
  expect(await timeOf(handle)).toBe(2.91)
  expect(await attribute(handle, 'aria-valuetext')).toMatch(/^2\.91 s, lasts /)
  expect(await field(page, 'stage/0/at').inputValue()).toBe('2.91 s')
  await page.keyboard.press('Enter')
  expect(await stagedField(page, '0/at').getByRole('textbox').inputValue()).toBe('2.91 s')
  expect(await page.evaluate(() => document.activeElement?.closest('#stage-panel') !== null)).toBe(true)
})

test('an event is drawn along by mouse: shown at once, run when it is let go, on a tick', async () => {
  const { page } = await opened()
  const handle = handles(page).first()
  const [box, axis] = [await boxOf(handle), await boxOf(stage(page).locator('.lanes'))]
  const ended = await attribute(answer(page), 'data-ended')
  await page.mouse.move(box.x + 10, box.y + 10)
  await page.mouse.down()
  await page.mouse.move(box.x + 10 + axis.width / 12, box.y + 12, { steps: 5 })
  const during = await timeOf(handle)
  expect(during).toBeCloseTo(5, 1)
  expect(during).toBe(Math.round(during * 100) / 100)
  expect(await attribute(answer(page), 'data-ended')).toBe(ended)
  await rerun(page, () => page.mouse.up())
  expect(await timeOf(handle)).toBe(during)
  expect(await field(page, 'stage/0/at').inputValue()).toBe(`${during} s`)
})

test('an event moved past another keeps the focus', async () => {
  const { page } = await opened()
  await added(page, 'Draw')
  await rerun(page, async () => {
    await stagedField(page, '1/at').getByRole('textbox').fill('3.02 s')
    await page.keyboard.press('Enter')
  })
  await handles(page).first().focus()
  for (const expected of [3.01, 3.02, 3.03]) {
    await rerun(page, () => page.keyboard.press('ArrowRight'))
    const focused = page.locator('.handle:focus')
    expect(await attribute(focused, 'aria-label')).toContain('Zero-speed splice')
    expect(await timeOf(focused)).toBe(expected)
  }
  expect(await attribute(handles(page).nth(1), 'aria-label')).toContain('Zero-speed splice')
})

test('what cannot be is told at once at the event, nothing is lost, and moving it away mends it', async () => {
  const { page } = await opened()
  await added(page, 'Stop')
  await stagedField(page, '1/at').getByRole('textbox').fill('5 s')
  await page.keyboard.press('Enter')
  await page.locator('[data-phase="refused"]').waitFor()
  const refusal = page.locator('.refusals')
  expect(await refusal.innerText()).toMatch(/Stop cannot be so.*found "5 s", expected a time from \d/s)
  expect(await attribute(handles(page).nth(1), 'aria-invalid')).toBe('true')
  expect(await stagedField(page, '1/at').getByRole('alert').innerText()).toContain('5 s')
  expect(await stagedField(page, '1/at').getByRole('textbox').inputValue()).toBe('5 s')
  await handles(page).nth(1).focus()
  await rerun(page, () => page.keyboard.press('End'))
  expect(await refusal.innerText()).toBe('')
})

test('an event after the end of the run waits at the right end, and it is told why', async () => {
  const { page } = await opened()
  await field(page, 'run/for').fill('2 s')
  await page.keyboard.press('Enter')
  await page.locator('[data-phase="refused"]').waitFor()
  const handle = handles(page).first()
  expect(await attribute(handle, 'aria-valuetext')).toContain('after the run is over')
  await handle.focus()
  await page.keyboard.press('Enter')
  expect(await panel(page).innerText()).toContain('lengthen the run')
  const [box, lanes] = [await boxOf(handle), await boxOf(stage(page).locator('.lanes'))]
  expect(box.x + box.width).toBeCloseTo(lanes.x + lanes.width, 0)
})

test('the speed profile is led by its corners, by key and by hand; the run by its length', async () => {
  const { page } = await opened()
  const start = stage(page).getByRole('slider', { name: 'Speed at the start' })
  expect(await attribute(start, 'aria-valuetext')).toBe('6.00 m/min at 0.00 s')
  await start.focus()
  await rerun(page, () => page.keyboard.press('ArrowUp'))
  expect(await field(page, 'speed/start').inputValue()).toBe('6.1 m/min')
  await page.getByRole('button', { name: 'Speed, length' }).click()
  await rerun(page, async () => {
    await panel(page).locator('[data-field="run/for"]').getByRole('textbox').fill('40 s')
    await page.keyboard.press('Enter')
  })
  await page.getByRole('button', { name: 'Add event' }).click()
  await rerun(page, () => panel(page).getByRole('button', { name: 'Change of speed', exact: true }).click())
  const corner = stage(page).getByRole('slider', { name: /^End of change of speed/ })
  const before = await attribute(corner, 'aria-valuetext')
  const box = await boxOf(corner)
  await page.mouse.move(box.x + 12, box.y + 12)
  await page.mouse.down()
  await page.mouse.move(box.x + 32, box.y + 20, { steps: 4 })
  await rerun(page, () => page.mouse.up())
  const after = await attribute(corner, 'aria-valuetext')
  expect(Number.parseFloat(after)).toBeLessThan(Number.parseFloat(before))
  expect(await stagedField(page, '1/in').getByRole('textbox').inputValue()).toMatch(/^\d+\.?\d* s$/)
})

test('a finger draws an event along; it does not scroll the page', async () => {
  const { page, context } = await opened(tablet, 'light', { hasTouch: true })
  const handle = handles(page).first()
  const [box, axis] = [await boxOf(handle), await boxOf(stage(page).locator('.lanes'))]
  const cdp = await context.newCDPSession(page)
  await rerun(page, async () => {
    await touched(cdp, 'touchStart', [box.x + 8, box.y + 12])
    for (const share of [0.25, 0.5, 0.75, 1]) {
      await touched(cdp, 'touchMove', [box.x + 8 + (share * axis.width) / 12, box.y + 12])
    }
    await touched(cdp, 'touchEnd')
  })
  expect(await timeOf(handle)).toBeCloseTo(5, 1)
})

/** One step of a touch with fingers at these places. */
async function touched(
  cdp: CDPSession,
  type: 'touchStart' | 'touchMove' | 'touchEnd',
  ...fingers: [number, number][]
): Promise<void> {
  await cdp.send('Input.dispatchTouchEvent', { type, touchPoints: fingers.map(([x, y], id) => ({ x, y, id })) })
}

test('two fingers stretch time and carry it along, in all pictures', async () => {
  const { page, context } = await opened({ width: 1024, height: 1100 }, 'light', { hasTouch: true })
  const area = await boxOf(tension(page).locator('.u-over'))
  const cdp = await context.newCDPSession(page)
  const y = area.y + 60
  const at = (share: number): [number, number] => [area.x + share * area.width, y]
  const whole = page.getByRole('button', { name: 'Whole run' })
  expect(await whole.isDisabled()).toBe(true)
  await touched(cdp, 'touchStart', at(0.4), at(0.6))
  for (const spread of [0.15, 0.2, 0.3]) await touched(cdp, 'touchMove', at(0.5 - spread), at(0.5 + spread))
  await touched(cdp, 'touchEnd')
  await expect.poll(() => whole.isDisabled()).toBe(false)
  // The splice at 3 s has left the picture: it shows a third of the run, about its middle.
  await expect.poll(() => handles(page).count()).toBe(1)
  const bar = await boxOf(handles(page).first())
  expect(bar.x).toBeCloseTo((await boxOf(stage(page).locator('.lanes'))).x, 0)
  const scroll = () =>
    page.evaluate(() => [...document.querySelectorAll('*')].reduce((sum, one) => sum + one.scrollTop, 0))
  const before = await scroll()
  // Both carried to the right: earlier times come in, none of it scrolls.
  await touched(cdp, 'touchStart', at(0.1), at(0.25))
  for (const by of [0.2, 0.5, 0.7]) await touched(cdp, 'touchMove', at(0.1 + by), at(0.25 + by))
  await touched(cdp, 'touchEnd')
  await expect.poll(async () => (await boxOf(handles(page).first())).x).toBeGreaterThan(bar.x + 20)
  expect(await scroll()).toBe(before)
})

test('axe finds nothing to complain of with forms open, light and dark', async () => {
  const { page } = await opened()
  await handles(page).first().click()
  await panel(page).waitFor()
  expect(await violationsInBoth(page)).toEqual([])
  await page.getByRole('button', { name: 'Add event' }).click()
  expect(await violationsInBoth(page)).toEqual([])
})

/** Texts and targets of the stage that lie over each other. */
function overlaps(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const all = [
      ...document.querySelectorAll('.handle, .moment, #stage-panel button, #stage-panel input, #stage-panel label'),
    ]
    const boxes = all.map((one) => ({ one, box: one.getBoundingClientRect() })).filter(({ box }) => box.width > 0)
    return boxes.flatMap(({ one, box }, k) =>
      boxes.slice(k + 1).flatMap((other) => {
        const b = other.box
        const apart =
          box.right <= b.left + 1 || b.right <= box.left + 1 || box.bottom <= b.top + 1 || b.bottom <= box.top + 1
        return apart
          ? []
          : [`${one.classList.value || one.tagName} over ${other.one.classList.value || other.one.tagName}`]
      }),
    )
  })
}

test('nothing of the stage is clipped, covered or too small at 1440 x 900, 1024 x 768 and 200 % zoom', async () => {
  const { page } = await opened()
  await handles(page).first().click()
  await panel(page).waitFor()
  for (const size of [wide, tablet, doubled]) {
    await resized(page, size)
    expect(await misfits(page), `${size.width} px`).toEqual([])
    expect(await overlaps(page), `${size.width} px`).toEqual([])
    const targets = '.handle, .corner, #stage-panel button, #stage-panel input, #stage-panel select'
    const small = await page.locator(targets).evaluateAll((all) =>
      all.flatMap((one) => {
        const { width, height } = one.getBoundingClientRect()
        return width < 24 || height < 24 ? [`${one.classList.value}: ${width} x ${height}`] : []
      }),
    )
    expect(small, `${size.width} px`).toEqual([])
  }
})

test('on a tablet drawing, stage and a good part of the tension picture are in sight together', async () => {
  const { page } = await opened(tablet)
  const seen = async (locator: Locator) => {
    const { y, height } = await boxOf(locator)
    return Math.max(0, Math.min(y + height, tablet.height) - Math.max(y, 0)) / height
  }
  expect(await seen(page.getByRole('listbox', { name: /^The line, part by part/ }))).toBe(1)
  expect(await seen(stage(page))).toBe(1)
  expect(await seen(tension(page))).toBeGreaterThan(0.6)
})
