/** What tests do on the Line page. */
import axe, { type AxeResults } from 'axe-core'
import { mkdtemp, readFile, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Download, Locator, Page } from 'playwright-core'

export const finished = (page: Page): Promise<void> => page.locator('[data-phase="finished"]').waitFor()
export const button = (page: Page, name: string | RegExp): Locator => page.getByRole('button', { name })
export const gallery = (page: Page): Locator => page.getByRole('dialog', { name: 'What do you want to know?' })
export const notices = (page: Page): Locator => page.locator('.notices')
export const fieldAt = (page: Page, path: string): Locator =>
  page.locator(`[data-field="${path}"]`).getByRole('textbox')

/** The dancer's stiffness, of the line that a newcomer finds. */
export const stiffness = (page: Page): Locator => fieldAt(page, 'line/6/stiffness')

/** Does something that reruns the line and waits until that run has finished. */
export async function rerun(page: Page, act: () => Promise<unknown>): Promise<void> {
  const before = (await page.locator('[data-phase]').getAttribute('data-ended')) ?? ''
  await act()
  await page.locator(`[data-phase="finished"]:not([data-ended="${before}"])`).waitFor()
}

export async function enter(page: Page, field: Locator, text: string): Promise<void> {
  await field.fill(text)
  await rerun(page, () => page.keyboard.press('Enter'))
}

/** Longer than it takes until a change is kept. */
export const asLongAsItTakes = (page: Page): Promise<void> => page.waitForTimeout(1000)

/** Names of the rules of accessibility that are broken, each with where. */
export async function violations(page: Page): Promise<string[]> {
  await page.evaluate(axe.source)
  const { violations: found } = await page.evaluate<AxeResults>('axe.run()')
  return found.flatMap(({ id, nodes }) => nodes.map((node) => `${id}: ${node.html}`))
}

/** What a file holds that the page has handed to the browser. */
export async function contentOf(download: Download): Promise<Buffer> {
  const folder = await mkdtemp(join(tmpdir(), 'spanwright-saved-'))
  const file = join(folder, 'saved')
  await download.saveAs(file)
  const content = await readFile(file)
  await rm(folder, { recursive: true })
  return content
}

/** Does something that saves a file. */
export async function saved(page: Page, act: () => Promise<unknown>): Promise<{ name: string; content: Buffer }> {
  const saving = page.waitForEvent('download')
  await act()
  const download = await saving
  return { name: download.suggestedFilename(), content: await contentOf(download) }
}
