/** Every page by keyboard alone, stop by stop, and under axe, light and dark. */
import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { button, finished, opened, violations, wide } from './hands'

interface Stop {
  /** what it is called, with its place among all that can be reached */
  readonly name: string
  readonly number: number
  readonly wrong: readonly string[]
}

/** Numbers everything that the Tab key is to reach; tells how many. */
const numbered = (page: Page): Promise<number> =>
  page.evaluate(() => {
    const all = [
      ...document.querySelectorAll<HTMLElement>('a[href], button, input, select, textarea, summary, [tabindex]'),
    ]
    const reached = all.filter((one) => {
      const off = one.matches(':disabled') || one.tabIndex < 0
      return !off && one.checkVisibility({ contentVisibilityAuto: false, visibilityProperty: true })
    })
    reached.forEach((one, k) => (one.dataset['stop'] = String(k)))
    return reached.length
  })

/** The stop that has the focus: where it is, what is wrong with it. */
const stop = (page: Page): Promise<Stop> =>
  page.evaluate(() => {
    const here = document.activeElement
    if (!(here instanceof HTMLElement || here instanceof SVGElement) || here === document.body)
      return { name: 'the page itself', number: -1, wrong: [] }
    const labels = 'labels' in here && here.labels instanceof NodeList ? [...here.labels] : []
    const by = (here.getAttribute('aria-labelledby') ?? '').split(' ').map((id) => document.getElementById(id))
    const texts = [
      here.getAttribute('aria-label'),
      ...by.map((one) => one?.textContent),
      ...labels.map((l) => l.textContent),
    ]
    const name =
      [...texts, here.textContent]
        .find((text) => text?.trim())
        ?.trim()
        .slice(0, 60) ?? ''
    const box = here.getBoundingClientRect()
    const inSight = box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth
    // What lies over it would hide it.
    const at = document.elementFromPoint(
      Math.min(Math.max(box.left + box.width / 2, 1), innerWidth - 1),
      Math.min(Math.max(box.top + box.height / 2, 1), innerHeight - 1),
    )
    const style = getComputedStyle(here)
    const ringed = style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2
    const wrong = [
      name === '' && `has no name: ${here.outerHTML.slice(0, 160)}`,
      !inSight && 'is out of sight',
      !ringed && 'shows no ring',
      inSight &&
        at !== null &&
        !here.contains(at) &&
        !at.contains(here) &&
        `is covered by ${at.className || at.tagName}`,
    ].filter((one) => one !== false)
    return { name, number: Number(here.dataset['stop'] ?? -1), wrong }
  })

/** Walks the page from its start to its end, and some steps back. */
async function walked(page: Page): Promise<void> {
  const count = await numbered(page)
  const wrong: string[] = []
  const met = new Set<number>()
  await page.locator('[data-stop="0"]').focus()
  for (let k = 0; k < 3 * count && !met.has(count - 1); k++) {
    if (k > 0) await page.keyboard.press('Tab')
    const here = await stop(page)
    if (here.number >= 0) met.add(here.number)
    wrong.push(...here.wrong.map((one) => `${here.name} ${one}`))
  }
  const missed = await page.evaluate(
    (seen) =>
      [...document.querySelectorAll<HTMLElement>('[data-stop]')]
        .filter((one) => !seen.includes(Number(one.dataset['stop'])) && one.checkVisibility())
        .map((one) => one.outerHTML.slice(0, 120)),
    [...met],
  )
  expect({ wrong, missed }).toEqual({ wrong: [], missed: [] })
  const last = await stop(page)
  await page.keyboard.press('Shift+Tab')
  expect((await stop(page)).number, 'the way back').toBeLessThan(last.number)
}

/** Each page, and what is waited for until it stands still. */
const pages: readonly [string, (page: Page) => Promise<unknown>][] = [
  ['Line', finished],
  ['Dancer', (page) => page.getByText('Modes, slowest first').first().waitFor()],
  ['Roll', (page) => page.locator('main[data-roll="told"][data-computing="false"]').waitFor()],
  ['Wrinkle', (page) => page.getByRole('heading', { name: 'Why does thin film wrinkle?' }).waitFor()],
  [
    'Checks',
    async (page) => {
      await page.locator('article[data-state="passes"]').first().waitFor()
      await button(page, 'Stop').press('Enter')
    },
  ],
]

/** One visit for all: each page is gone to by keyboard too. */
let visit: ReturnType<typeof opened> | undefined

test.each(pages)(
  '%s: walked by the Tab key, all of it, in sight, named and ringed; axe, light and dark',
  async (label, ready) => {
    visit ??= opened(wide, 'light', { shared: true })
    const { page, complaints } = await visit
    await page.getByRole('navigation', { name: 'Pages' }).getByRole('link', { name: label }).focus()
    await page.keyboard.press('Enter')
    await ready(page)
    for (const colorScheme of ['dark', 'light'] as const) {
      await page.emulateMedia({ colorScheme })
      expect([colorScheme, await violations(page)]).toEqual([colorScheme, []])
    }
    await walked(page)
    expect(complaints).toEqual([])
  },
)
