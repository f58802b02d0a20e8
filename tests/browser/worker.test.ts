/** Runs in a real worker, under the page's policy. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { build } from 'vite'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { prepare } from '../../src/run/prepare'
import { root } from '../tools/process.mjs'
import { serve } from '../tools/serve.mjs'
import { newPage, sizes } from './launch'

const folder = mkdtempSync(join(tmpdir(), 'spanwright-worker-'))
let address: string
let close: () => Promise<void>

beforeAll(async () => {
  await build({
    configFile: false,
    root: join(root, 'tests', 'browser', 'worker-page'),
    base: './',
    logLevel: 'error',
    worker: { format: 'es' },
    build: { outDir: folder, emptyOutDir: true, target: 'es2022', modulePreload: { polyfill: false } },
  })
  ;({ address, close } = await serve(folder, 0))
})

afterAll(async () => {
  await close()
  rmSync(folder, { recursive: true, force: true })
})

const open = () => newPage(sizes.desktop, 'light', { path: address })

const shipped = JSON.parse(readFileSync(join(root, 'scenarios', 'start-stop.json'), 'utf8')) as {
  run: Record<string, unknown>
}
/** Without its stage, so that it may last as long as a test wants. */
const lasting = (time: string) => ({ ...shipped, stage: [], run: { ...shipped.run, for: time } })

test('a run arrives whole and says the same as without a browser', async () => {
  const { page, complaints } = await open()
  const seen = await page.evaluate(async (document) => {
    const diary = new window.Diary()
    const outcome = await window.createRunner().run(document, diary)
    const { plan, samples, isWhole, shares } = diary
    return { outcome, plan, samples, isWhole, shares }
  }, shipped)
  const run = prepare(shipped)
  if (!('step' in run)) throw new Error(run.outcome)
  let here = run.step()
  while (here === undefined) here = run.step()
  if (here.outcome !== 'finished' || seen.outcome.outcome !== 'finished') throw new Error(seen.outcome.outcome)
  // What comes of sines and exponentials may differ between the two in its last bits.
  expect(seen.plan).toEqual({ ...run.plan, pace: seen.plan?.pace })
  expect(seen.isWhole).toBe(true)
  expect(seen.samples).toBe(run.takeBlock()?.count)
  expect(seen.shares.at(-1)).toBe(1)
  const [there, byNode] = [seen.outcome.summary, here.summary]
  for (const [j, { tension }] of there.spans.entries()) {
    expect(Math.abs(tension.max / byNode.spans[j].tension.max - 1)).toBeLessThan(1e-6)
  }
  expect(complaints).toEqual([])
})

test('a newer run supersedes: the older ends as cancelled and hears no more, the newer runs to its end', async () => {
  const { page } = await open()
  const seen = await page.evaluate(
    async ([long, short]) => {
      const runner = window.createRunner()
      const [older, newer] = [new window.Diary(), new window.Diary()]
      let second: Promise<{ outcome: string }> | undefined
      let heardByThen = 0
      older.onBlock = () => {
        heardByThen = older.samples
        second ??= runner.run(short, newer)
      }
      const first = await runner.run(long, older)
      const { outcome } = (await second) ?? { outcome: 'never began' }
      return {
        outcomes: [first.outcome, outcome],
        heardLate: older.samples - heardByThen,
        isWhole: newer.isWhole,
        lastTime: newer.blocks.at(-1)?.data[(newer.blocks.at(-1)?.count ?? 0) - 1],
        workers: window.workersStarted,
      }
    },
    [lasting('3000 s'), lasting('1.5 s')],
  )
  expect(seen).toEqual({ outcomes: ['cancelled', 'finished'], heardLate: 0, isWhole: true, lastTime: 1.5, workers: 1 })
})

test('a cancel is heard by the worker, which is ready for the next run', async () => {
  const { page } = await open()
  const seen = await page.evaluate(
    async ([long, short]) => {
      const runner = window.createRunner()
      const diary = new window.Diary()
      diary.onBlock = () => runner.cancel()
      const first = await runner.run(long, diary)
      const blocks = diary.blocks.length
      const second = await runner.run(short, new window.Diary())
      return {
        outcomes: [first.outcome, second.outcome],
        late: diary.blocks.length - blocks,
        workers: window.workersStarted,
      }
    },
    [lasting('3000 s'), lasting('0.5 s')],
  )
  expect(seen).toEqual({ outcomes: ['cancelled', 'finished'], late: 0, workers: 1 })
})

test('only the last of many runs in a row goes to its end, as when a control is dragged', async () => {
  const { page } = await open()
  const outcomes = await page.evaluate(async (document) => {
    const runner = window.createRunner()
    const runs = []
    for (let i = 0; i < 20; i++) {
      runs.push(runner.run(document, new window.Diary()))
      await new Promise((resolve) => setTimeout(resolve, 10))
    }
    return (await Promise.all(runs)).map(({ outcome }) => outcome)
  }, lasting('8 s'))
  expect(outcomes.slice(0, -1).every((outcome) => outcome === 'cancelled')).toBe(true)
  expect(outcomes.at(-1)).toBe('finished')
})

test('what cannot be run comes back as a value', async () => {
  const { page } = await open()
  const outcome = await page.evaluate(
    (document) => window.createRunner().run(document, new window.Diary()),
    lasting('3 kg'),
  )
  expect(outcome).toMatchObject({ outcome: 'refused', problems: [{ field: 'run/for', found: '"3 kg"' }] })
})

test('a worker whose program does not load fails the run in words; the next run gets a fresh one', async () => {
  const { page } = await open()
  await page.route('**/run.worker*', (route) => route.abort())
  const run = () => page.evaluate((document) => window.runner.run(document, new window.Diary()), lasting('0.5 s'))
  const failed = await run()
  expect(failed).toMatchObject({ outcome: 'failed', state: 'worker' })
  await page.unroute('**/run.worker*')
  expect(await run()).toMatchObject({ outcome: 'finished' })
})

test('an end while running settles the run', async () => {
  const { page } = await open()
  const outcome = await page.evaluate(async (document) => {
    const runner = window.createRunner()
    const diary = new window.Diary()
    diary.onBlock = () => runner.dispose()
    return (await runner.run(document, diary)).outcome
  }, lasting('3000 s'))
  expect(outcome).toBe('cancelled')
})
