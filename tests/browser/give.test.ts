/** What is handed on and what comes in from others: links, recordings, figures, pictures, reports. */
import { deflateRawSync } from 'node:zlib'
import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { asLongAsItTakes, button, enter, finished, notices, opened, saved, stiffness, violations, wide } from './hands'
import { newPage, pageAddress } from './launch'
import { headingsOf, readPdf } from './pdf'

const dialog = (page: Page) => page.getByRole('dialog', { name: 'Share and print' })
const question = (page: Page) => page.getByRole('heading', { level: 1 })

test('a link opens as a copy elsewhere, never over the work in hand, which undo brings back', async () => {
  const { page, context, complaints } = await opened()
  await context.grantPermissions(['clipboard-read', 'clipboard-write'])
  await enter(page, stiffness(page), '900 N/m')
  const title = await question(page).innerText()
  await button(page, 'Share and print').click()
  await button(page, 'Copy a link').click()
  await dialog(page).getByText('Copied.').waitFor()
  const link = await page.evaluate(() => navigator.clipboard.readText())
  expect(await violations(page)).toEqual([])
  expect(complaints).toEqual([])

  // Somebody who has another line in hand, on a machine of their own.
  const other = (await newPage(wide)).page
  await finished(other)
  await enter(other, stiffness(other), '700 N/m')
  await other.goto(link)
  await other.getByRole('heading', { level: 1, name: `Copy of “${title}”` }).waitFor()
  await finished(other)
  expect(await stiffness(other).inputValue()).toBe('900 N/m')
  expect(other.url()).toBe(`${pageAddress}#line`)
  await other.getByRole('button', { name: /^Undo: opening/ }).click()
  await other.getByRole('heading', { level: 1, name: title, exact: true }).waitFor()
  expect(await stiffness(other).inputValue()).toBe('700 N/m')

  // A newcomer begins with it.
  const newcomer = (await newPage(wide, 'light', { path: link })).page
  await newcomer.getByRole('heading', { level: 1, name: `Copy of “${title}”` }).waitFor()
  await finished(newcomer)
  expect(await newcomer.getByRole('dialog').count()).toBe(0)
})

test('a small link that inflates to 50 MB, and a link cut short, are refused in words; the work stays', async () => {
  const { page, complaints } = await opened()
  await enter(page, stiffness(page), '800 N/m')
  const bomb = deflateRawSync(Buffer.alloc(50_000_000, '[0,'), { level: 9 }).toString('base64url')
  expect(bomb.length).toBeLessThan(70_000)
  for (const [code, says] of [
    [bomb, 'inflates to more than 2 MB'],
    [bomb.slice(0, 900), 'It may have been cut short'],
  ] as const) {
    await page.evaluate((hash) => (location.hash = hash), `open/${code}/line`)
    await notices(page).getByText(says).waitFor()
    expect(await stiffness(page).inputValue()).toBe('800 N/m')
    expect(page.url()).toBe(`${pageAddress}#line`)
  }
  expect(complaints).toEqual([])
})

/** As a machine of the trade writes it: two lines before the head, semicolons, decimal commas, gaps, a clock, a remark. */
function messy(rows: number): string {
  const lines = ['Trend export;;;', 'Recorder 3;02.03.2026;;', 'Time;Infeed dancer [mm];p1;Remark']
  const two = (value: number) => String(value).padStart(2, '0')
  for (let i = 0; i < rows; i++) {
    const ms = i / 10
    const clock = `14:${two(Math.floor(ms / 60_000))}:${two(Math.floor(ms / 1000) % 60)},${String(i % 10_000).padStart(4, '0')}`
    const travel =
      i % 7 === 3 || (i > 40_000 && i < 50_000) ? '' : (20 * Math.sin(i / 30_000)).toFixed(3).replace('.', ',')
    lines.push(`${clock};${travel};${(61 + (i % 5) / 10).toFixed(1).replace('.', ',')};${i === 5 ? '=1+1' : ''}`)
  }
  return lines.join('\r\n')
}

/** Counts frames while something goes on: the longest pause between two of them, in ms. */
const watchFrames = (page: Page) =>
  page.evaluate(() => {
    const seen = { longest: 0, frames: 0, last: performance.now() }
    Object.assign(window, { seen })
    const look = () => {
      const now = performance.now()
      seen.longest = Math.max(seen.longest, now - seen.last)
      seen.last = now
      seen.frames++
      requestAnimationFrame(look)
    }
    requestAnimationFrame(look)
  })
const framesOf = (page: Page) =>
  page.evaluate(() => (window as unknown as { seen: { longest: number; frames: number } }).seen)

const trend = (page: Page) => page.getByRole('region', { name: 'Recording of the machine' })

/** Makes the file in the page: it need not travel there. */
const drop = (page: Page, name: string, text: string, times = 1) =>
  page.evaluate(
    ([called, content, count]) => {
      const files = new DataTransfer()
      files.items.add(new File(Array<string>(count).fill(content), called, { type: 'text/csv' }))
      document.body.dispatchEvent(new DragEvent('drop', { dataTransfer: files, bubbles: true, cancelable: true }))
    },
    [name, text, times] as const,
  )

test('a messy recording of 200,000 rows is laid over, shifted, compared, kept and undone; the page stays awake', async () => {
  const { page, complaints } = await opened()
  await watchFrames(page)
  await drop(page, 'shift 3.csv', messy(200_000))
  const lay = trend(page).getByRole('button', { name: 'Lay it over' })
  await lay.waitFor()
  // Frames went on while 8 MB were read in slices.
  expect((await framesOf(page)).frames).toBeGreaterThan(10)
  await trend(page).getByText('200,000 rows of 4 columns').waitFor()
  expect(await violations(page)).toEqual([])
  // One column said what it is; the other is asked for.
  await trend(page).getByRole('button', { name: 'Add a column' }).click()
  expect(await lay.getAttribute('aria-disabled')).toBe('true')
  await trend(page).getByLabel('Belongs to').nth(1).selectOption({ index: 1 })
  await trend(page).getByText('Say which unit').waitFor()
  await trend(page).getByLabel('Unit', { exact: true }).nth(1).selectOption('N')
  await lay.click()
  const table = trend(page).getByRole('table', { name: /^Recorded less computed/ })
  await table.waitFor()
  const rows = await table.getByRole('row').allInnerTexts()
  expect(rows[1]).toMatch(/infeed dancer\s+Infeed dancer\s+[\d.]+ mm/)
  expect(rows[2]).toMatch(/p1\s+[\d.]+ N/)
  const legend = page.getByRole('group', { name: /^Dancer position/ })
  await page.getByRole('slider', { name: /^Dancer position/ }).press('PageDown')
  expect(await legend.innerText()).toContain('recorded')

  // By keyboard a step, with Shift ten; by number; out of the run.
  const shift = trend(page).getByLabel('Shift by')
  await shift.focus()
  await page.keyboard.press('ArrowUp')
  await page.keyboard.press('Shift+ArrowUp')
  expect(Number(await shift.inputValue())).toBeCloseTo(0.11, 9)
  await shift.fill('1000 s')
  await page.keyboard.press('Enter')
  await table.getByText('Nothing of it lies within the run').first().waitFor()
  await shift.fill('-0.5')
  await page.keyboard.press('Enter')
  expect(complaints).toEqual([])

  await asLongAsItTakes(page)
  await page.reload()
  await finished(page)
  await page.getByRole('button', { name: 'Recording', exact: true }).click()
  await table.waitFor()
  expect(await shift.inputValue()).toBe('-0.500')
  await trend(page).getByRole('button', { name: 'Take it away' }).click()
  expect(await table.count()).toBe(0)
  await button(page, /^Undo: taking/).click()
  await table.waitFor()
})

test('a recording of a million rows is read or cancelled, and one that is too long is refused, while the page answers', async () => {
  const { page, complaints } = await opened()
  const piece = Array.from({ length: 10_000 }, (_, i) => `${(i * 0.001).toFixed(3)},${(i % 100) / 4},=1+1\n`).join('')
  await watchFrames(page)
  await drop(page, 'long.csv', piece, 100)
  await trend(page).getByText('Reading “long.csv”').waitFor()
  await button(page, 'All 13 spans')
    .or(button(page, /^All \d+ spans/))
    .first()
    .click()
  await trend(page).getByText('1,000,000 rows of 3 columns').waitFor()
  const { frames } = await framesOf(page)
  expect(frames).toBeGreaterThan(20)
  await drop(page, 'too long.csv', piece, 201)
  await trend(page).getByText('more than 2 million rows').waitFor()
  await drop(page, 'again.csv', piece, 100)
  await trend(page).getByRole('button', { name: 'Cancel' }).click()
  expect(await trend(page).getByText('Reading').count()).toBe(0)
  expect(complaints).toEqual([])
})

test('traces as a table and pictures as files: read back, and seen to stand by themselves', async () => {
  const { page, context, complaints } = await opened()
  await button(page, 'Share and print').click()
  const csv = await saved(page, () => button(page, 'Traces as a table (CSV)').click())
  expect(csv.name).toMatch(/^traces-.*\.csv$/)
  const rows = csv.content.toString('utf8').trimEnd().split('\n')
  expect(rows.length).toBeGreaterThan(2000)
  const width = rows[0]?.split(',').length ?? 0
  expect(rows.every((row) => row.split(',').length === width)).toBe(true)
  expect(csv.content.toString('utf8')).not.toMatch(/(^|[,\n])"?(?:[=+@]|-(?!\d))/)

  const line = (await saved(page, () => button(page, 'Line, SVG').click())).content.toString('utf8')
  const traces = (await saved(page, () => button(page, 'Traces, SVG').click())).content.toString('utf8')
  for (const svg of [line, traces]) expect(svg).not.toMatch(/class=|style=|var\(|href=/)
  expect(line).toContain('infeed dancer')
  expect(traces).toMatch(/elastic limit \d+ N/)
  const alone = await context.newPage()
  for (const svg of [line, traces]) {
    await alone.setContent(`<img src="data:image/svg+xml;base64,${Buffer.from(svg).toString('base64')}">`)
    const size = await alone.locator('img').evaluate(async (image: HTMLImageElement) => {
      await image.decode()
      return image.naturalWidth
    })
    expect(size).toBeGreaterThan(700)
  }
  const png = await saved(page, () => button(page, 'Traces, PNG').click())
  expect(png.content.subarray(1, 4).toString()).toBe('PNG')
  expect(png.content.readUInt32BE(16)).toBe(2000)
  expect(png.content.length).toBeGreaterThan(30_000)
  expect(await violations(page)).toEqual([])
  expect(complaints).toEqual([])
})

test('the report prints to a clean PDF: every part, no heading left alone at the foot of a page, charts as strokes', async () => {
  const { page, complaints } = await opened(wide, 'dark')
  await enter(page, stiffness(page), '300 N/m')
  await button(page, 'Share and print').click()
  await page.getByRole('link', { name: /^Open the report/ }).click()
  await page.locator('[data-report="whole"]').waitFor()
  await page.locator('article svg[aria-label^="Tension"]').waitFor()
  expect(await violations(page)).toEqual([])
  const bytes = await page.pdf({ preferCSSPageSize: true, tagged: true, outline: true })
  const pages = readPdf(bytes)
  expect(pages.length).toBeGreaterThan(2)
  expect(pages.length).toBeLessThan(9)
  for (const { width, height, pieces, images } of pages) {
    expect([Math.round(width), Math.round(height)]).toEqual([595, 842])
    expect(pieces.length).toBeGreaterThan(2)
    expect(images).toBe(0)
  }
  const headings = headingsOf(bytes)
  // The foot's margin, and two lines of what a heading is for.
  for (const { title, y } of headings) expect(y, title).toBeGreaterThan(48 + 30)
  const titles = headings.map(({ title }) => title)
  for (const title of [
    'Verdict',
    'The line at 0.00 s',
    'Stage',
    'Traces with limits',
    'Figures',
    'Settings',
    'Settings sheet of dancers and trims',
    "Taper table for the winder's drive",
    'Assumptions',
    'Cautions',
  ])
    expect(titles).toContain(title)
  // Where a line breaks its space is not written; some letters are joined to one.
  const text = pages
    .flatMap((one) => one.pieces)
    .join(' ')
    .normalize('NFKC')
    .replaceAll(/\s/g, '')
  for (const part of [
    /Spanwright\d+\.\d+\.\d+·reportof\d+\w+\d{4}/,
    /elasticlimit\d+N/,
    /●stiffness300N\/m/,
    /Zero-speedsplice/,
    /Notmodelled/,
    /nevercertifies/,
    /Nips/,
    /Turnrate,rpm/,
  ])
    expect(text).toMatch(part)
  expect(text).not.toMatch(/Askanotherquestion|undefined|NaN/)
  expect(complaints).toEqual([])
})
