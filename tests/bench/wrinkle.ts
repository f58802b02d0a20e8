/** Script, style and layout of a frame of the Wrinkle page while a knob moves, in Chromium, on the built page. */
import { join } from 'node:path'
import { chromium, type CDPSession, type Page } from 'playwright-core'
import { launchOptions, provideBrowser } from '../tools/browser.mjs'
import { serve } from '../tools/serve.mjs'
import type { Row } from '../tools/table.mjs'

const MOVES = 120
/** ms */
const BUDGET = 8

const knobs = ['Thickness', 'Misalignment', 'Width']

export async function bench(): Promise<Row[]> {
  const { address, close } = await serve(join(process.cwd(), 'dist'), 0)
  const browser = await chromium.launch({ ...launchOptions, executablePath: await provideBrowser() })
  try {
    const page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
    await page.goto(new URL('#wrinkle', address).href)
    // the run of the line ends first
    await page.getByText('Align every roller').waitFor()
    await page.getByRole('textbox', { name: 'Misalignment', exact: true }).fill('2.5 mm/m')
    await page.keyboard.press('Enter')
    const session = await page.context().newCDPSession(page)
    await session.send('Performance.enable')
    const rows: Row[] = []
    for (const knob of knobs) rows.push(await rowOf(page, session, knob))
    return rows
  } finally {
    await browser.close()
    await close()
  }
}

/** ms spent so far: script, style, layout. */
async function spent(session: CDPSession): Promise<number> {
  const { metrics } = await session.send('Performance.getMetrics')
  const of = (name: string) => metrics.find((metric) => metric.name === name)?.value ?? NaN
  return 1000 * (of('ScriptDuration') + of('RecalcStyleDuration') + of('LayoutDuration'))
}

async function rowOf(page: Page, session: CDPSession, knob: string): Promise<Row> {
  const slider = page.getByRole('slider', { name: `${knob}, within its usual range`, exact: true })
  const before = await spent(session)
  await slider.evaluate(async (input, moves) => {
    for (let i = 0; i < moves; i++) {
      if (input instanceof HTMLInputElement) input.value = String(0.1 + (0.8 * i) / moves)
      input.dispatchEvent(new Event('input', { bubbles: true }))
      await new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve)))
    }
  }, MOVES)
  const measured = ((await spent(session)) - before) / MOVES
  return {
    what: `wrinkle picture, ${knob.toLowerCase()} moves: script and layout of a frame`,
    budget: `${BUDGET} ms`,
    measured: `${measured.toFixed(1)} ms`,
    within: measured < BUDGET,
  }
}
