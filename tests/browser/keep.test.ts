/** Nothing is lost: work in hand after a reload, a crash, in two tabs, without room; own lines and files. */
import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { newPage, pageAddress } from './launch'
import { asLongAsItTakes, button, contentOf, enter, field, finished, gallery, notices, opened, rerun } from './hands'
import { stiffness, violations, wide } from './hands'

/** Another tab of the same browser. */
async function another(page: Page): Promise<Page> {
  const next = await page.context().newPage()
  await next.goto(pageAddress)
  await finished(next)
  return next
}

/** Puts a record where the page keeps its own. */
const put = (page: Page, shelf: 'work' | 'own', record: unknown): Promise<unknown> =>
  page.evaluate(
    ([name, value]) =>
      new Promise((resolve, reject) => {
        const opening = indexedDB.open('spanwright')
        opening.onerror = reject
        opening.onsuccess = () => {
          const change = opening.result.transaction(name, 'readwrite')
          change.objectStore(name).put(value)
          change.oncomplete = resolve
          change.onerror = reject
        }
      }),
    [shelf, record] as const,
  )

const records = (page: Page, shelf: string): Promise<{ id: string }[]> =>
  page.evaluate(
    (name) =>
      new Promise((resolve, reject) => {
        const opening = indexedDB.open('spanwright')
        opening.onerror = reject
        opening.onsuccess = () => {
          const asking = opening.result.transaction(name).objectStore(name).getAll()
          asking.onsuccess = () => resolve(asking.result as { id: string }[])
          asking.onerror = reject
        }
      }),
    shelf,
  )

test.each(['light', 'dark'] as const)(
  'a newcomer is greeted by questions, with a line running behind, %s',
  async (theme) => {
    const { page, complaints } = await newPage(wide, theme, { newcomer: true })
    await gallery(page).waitFor()
    await finished(page)
    const asked = await gallery(page).locator('li b').count()
    expect(asked).toBeGreaterThan(3)
    expect(asked).toBeLessThan(9)
    expect(await violations(page)).toEqual([])
    await page.keyboard.press('Escape')
    expect(await gallery(page).count()).toBe(0)
    expect(await page.getByRole('table', { name: /^Tension/ }).count()).toBe(1)
    expect(complaints).toEqual([])
  },
)

test('a question chosen by keyboard opens its line, and after a reload it is there without being asked', async () => {
  const { page } = await newPage(wide, 'light', { newcomer: true })
  await finished(page)
  const question = gallery(page).getByRole('button', { name: /continuous to indexing/ })
  await question.focus()
  await rerun(page, () => page.keyboard.press('Enter'))
  await asLongAsItTakes(page)
  await page.reload()
  await finished(page)
  expect(await page.getByRole('heading', { level: 1 }).innerText()).toContain('continuous to indexing')
  expect(await gallery(page).count()).toBe(0)
})

test('a newcomer who comes by the address of a page is shown that page', async () => {
  const { page } = await newPage(wide, 'light', { path: '#line' })
  await finished(page)
  expect(await gallery(page).count()).toBe(0)
})

test('a tab killed in mid-edit: what was on the screen a second before is there again', async () => {
  const { page } = await opened()
  await enter(page, stiffness(page), '40 N/m')
  await field(page, 'run/for').fill('15 ')
  await asLongAsItTakes(page)
  const crashed = page.waitForEvent('crash')
  const session = await page.context().newCDPSession(page)
  session.send('Page.crash').catch(() => undefined)
  await crashed
  const next = await another(page)
  expect(await stiffness(next).inputValue()).toBe('40 N/m')
  expect(await field(next, 'run/for').inputValue()).toBe('15 ')
  expect(await notices(next).innerText()).toBe('')
  await rerun(next, () => button(next, /^Undo: infeed dancer stiffness/).click())
  expect(await stiffness(next).inputValue()).toBe('0 N/m')
})

test('two tabs: the second is told that it works on a copy, and neither overwrites the other', async () => {
  const { page } = await opened()
  await enter(page, stiffness(page), '40 N/m')
  await asLongAsItTakes(page)
  const second = await another(page)
  expect(await notices(second).innerText()).toContain('copy')
  expect(await violations(second)).toEqual([])
  await enter(second, stiffness(second), '70 N/m')
  await enter(page, stiffness(page), '50 N/m')
  await asLongAsItTakes(page)
  for (const [tab, text] of [
    [page, '50 N/m'],
    [second, '70 N/m'],
  ] as const) {
    await tab.reload()
    await finished(tab)
    expect(await stiffness(tab).inputValue()).toBe(text)
  }
  await second.close()
  await button(page, 'Ask another question').click()
  await gallery(page).getByRole('heading', { name: 'Left in tabs that have closed' }).waitFor()
  await rerun(page, () => gallery(page).locator('section .name').last().click())
  expect(await stiffness(page).inputValue()).toBe('70 N/m')
  await rerun(page, () => button(page, /^Undo: opening/).click())
  expect(await stiffness(page).inputValue()).toBe('50 N/m')
})

test('without room for more that is told, work goes on, and is kept once there is room', async () => {
  const { page } = await opened()
  await page.evaluate(() => {
    const truly = Object.getOwnPropertyDescriptor(IDBObjectStore.prototype, 'put')?.value as (
      ...record: unknown[]
    ) => IDBRequest<IDBValidKey>
    IDBObjectStore.prototype.put = function (...record) {
      if (document.documentElement.dataset['full'] !== undefined) throw new DOMException('', 'QuotaExceededError')
      return truly.apply(this, record)
    }
    document.documentElement.dataset['full'] = ''
  })
  await enter(page, stiffness(page), '40 N/m')
  await notices(page).getByText('full').waitFor()
  expect(await violations(page)).toEqual([])
  await page.evaluate(() => delete document.documentElement.dataset['full'])
  await enter(page, stiffness(page), '50 N/m')
  await expect.poll(() => notices(page).innerText()).toBe('')
  await page.reload()
  await finished(page)
  expect(await stiffness(page).inputValue()).toBe('50 N/m')
})

test('a browser that keeps nothing is told of, and the line runs all the same', async () => {
  const { context } = await newPage(undefined, 'light', { fresh: true })
  await context.addInitScript(() => {
    Object.defineProperty(window, 'indexedDB', {
      value: {
        open: () => {
          throw new DOMException('', 'SecurityError')
        },
      },
    })
  })
  const page = await context.newPage()
  await page.goto(new URL('#line', pageAddress).href)
  await finished(page)
  expect(await notices(page).innerText()).toContain('keeps nothing')
  await enter(page, stiffness(page), '40 N/m')
  await notices(page).getByRole('button', { name: 'Put away' }).click()
  expect(await notices(page).innerText()).toBe('')
})

test('a record of a newer version is left untouched; a broken one is set aside and can be saved', async () => {
  const { page } = await opened()
  const newer = { id: 'newer', version: 99, at: 1e15, of: 'another kind' }
  await put(page, 'work', newer)
  await put(page, 'work', { id: 'broken', version: 1, at: 1e15, held: '<img src=x onerror=alert(1)>' })
  const next = await another(page)
  const told = await notices(next).innerText()
  expect(told).toContain('newer version')
  expect(told).toContain('set aside')
  expect((await records(next, 'work')).map(({ id }) => id)).not.toContain('broken')
  expect((await records(next, 'work')).find(({ id }) => id === 'newer')).toEqual(newer)
  expect((await records(next, 'aside')).length).toBe(1)
  const saving = next.waitForEvent('download')
  await button(next, 'Save it as a file').click()
  expect((await contentOf(await saving)).toString('utf8')).toContain('onerror')
  expect(await next.locator('img').count()).toBe(0)
})

test('a line kept by name: renamed, duplicated, deleted, put back, opened, with its markup as text', async () => {
  const { page, complaints } = await opened()
  await enter(page, stiffness(page), '40 N/m')
  await button(page, 'Keep a copy').click()
  await page.getByText(/^Kept as/).waitFor()
  await rerun(page, () => button(page, /^Undo: infeed/).click())
  await button(page, 'Ask another question').click()
  const own = gallery(page).getByRole('region', { name: 'Your lines' })
  await own.getByRole('button', { name: /^Rename/ }).click()
  await page.keyboard.type('<b onclick=alert(1)>Stiff</b>')
  await page.keyboard.press('Enter')
  const line = own.getByRole('button', { name: '<b onclick=alert(1)>Stiff</b>', exact: true })
  await line.waitFor()
  await own.getByRole('button', { name: /^Duplicate/ }).click()
  await own.getByRole('button', { name: /^Duplicate .* \(2\)$/ }).waitFor()
  await own.getByRole('button', { name: /^Delete .* \(2\)$/ }).click()
  await own.getByRole('button', { name: 'Put it back' }).click()
  await own.getByRole('button', { name: /^Duplicate .* \(2\)$/ }).waitFor()
  expect(await violations(page)).toEqual([])
  await rerun(page, () => line.click())
  expect(await stiffness(page).inputValue()).toBe('40 N/m')
  expect(await page.getByRole('heading', { level: 1 }).innerText()).toBe('<b onclick=alert(1)>Stiff</b>')
  expect(complaints).toEqual([])
})

test('a line saved as a file reads back the same, by choosing and by dropping it', async () => {
  const { page } = await opened()
  await enter(page, stiffness(page), '40 N/m')
  const saving = page.waitForEvent('download')
  await button(page, 'Save as a file').click()
  const download = await saving
  expect(download.suggestedFilename()).toMatch(/^will-the-dancer.*\.json$/)
  const text = (await contentOf(download)).toString('utf8')
  expect(text).toContain('"stiffness": "40 N/m"')
  await rerun(page, () => button(page, /^Undo: infeed/).click())
  await button(page, 'Ask another question').click()
  const file = { name: 'mine.json', mimeType: 'application/json', buffer: Buffer.from(text) }
  await rerun(page, () => page.getByLabel('Scenario file').setInputFiles(file))
  expect(await stiffness(page).inputValue()).toBe('40 N/m')
  await rerun(page, () => button(page, /^Undo: opening/).click())
  await rerun(page, () => drop(page, text))
  expect(await stiffness(page).inputValue()).toBe('40 N/m')
})

/** Lets a file fall onto the page. */
const drop = (page: Page, text: string): Promise<void> =>
  page.evaluate((content) => {
    const dataTransfer = new DataTransfer()
    dataTransfer.items.add(new File([content], 'dropped <i>file</i>.json'))
    document.body.dispatchEvent(new DragEvent('drop', { dataTransfer, bubbles: true, cancelable: true }))
  }, text)

test.each([
  ['nesting without end', '['.repeat(200_000), '32 levels'],
  ['a reserved word', '{"spanwright": 1, "__proto__": {"polluted": 1}}', '__proto__'],
  ['markup', '{"spanwright": 1, "title": "x", "<img src=x onerror=alert(1)>": 1}', '<img src=x'],
  ['too much text', `"${'x'.repeat(2_000_001)}"`, 'at most 2.0 MB'],
])('a hostile file with %s is refused in words, and what is in hand stays', async (_, text, words) => {
  const { page, complaints } = await opened()
  await enter(page, stiffness(page), '40 N/m')
  await drop(page, text)
  await notices(page).getByText('was not opened').waitFor()
  const told = await notices(page).innerText()
  expect(told).toContain(words)
  expect(told).toContain('dropped <i>file</i>.json')
  expect(await notices(page).locator('img, i').count()).toBe(0)
  expect(await stiffness(page).inputValue()).toBe('40 N/m')
  expect(await violations(page)).toEqual([])
  expect(complaints).toEqual([])
})
