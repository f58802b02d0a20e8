/** The page without a network: after a first load, and as one file from disk. */
import { existsSync, statSync } from 'node:fs'
import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { expect, test } from 'vitest'
import { root } from '../tools/process.mjs'
import { serve } from '../tools/serve.mjs'
import { newPage } from './launch'

const dist = join(root, 'dist')
const single = join(root, 'dist-single', 'spanwright.html')
const finished = '[data-phase="finished"]'

const swReady = async (): Promise<boolean> => {
  const { active } = await navigator.serviceWorker.ready
  if (active?.state === 'activated') return true
  await new Promise((done) => active?.addEventListener('statechange', done, { once: true }))
  return true
}

test('after the first load the page opens and runs without its server', async () => {
  const server = await serve(dist, 0)
  const { page } = await newPage(undefined, 'light', { path: server.address, fresh: true })
  await page.locator(finished).waitFor()
  await page.evaluate(swReady)
  await server.close()
  await page.reload()
  await page.locator(finished).waitFor()
  // Pages that were never opened are there too.
  await page.goto(`${server.address}#build`)
  await page.reload()
  await page.getByRole('navigation', { name: 'Pages' }).waitFor()
})

test('a new version is seen at the next load, its files are kept, and those of the old version go', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'spanwright-versions-'))
  await cp(dist, folder, { recursive: true })
  const server = await serve(folder, 0)
  try {
    const { page } = await newPage(undefined, 'light', { path: server.address, fresh: true })
    await page.evaluate(swReady)
    const before = await page.evaluate(() => caches.keys())
    expect(before.length).toBe(1)
    const worker = await readFile(join(folder, 'sw.js'), 'utf8')
    await writeFile(join(folder, 'sw.js'), worker.replace(/"version":"\w+"/, '"version":"next"'))
    const html = await readFile(join(folder, 'index.html'), 'utf8')
    await writeFile(join(folder, 'index.html'), html.replace('<html lang="en">', '<html lang="en" data-next>'))
    await page.reload()
    expect(await page.locator('html[data-next]').count()).toBe(1)
    await page.evaluate(async () => {
      const registration = await navigator.serviceWorker.ready
      await registration.update()
    })
    await expect.poll(() => page.evaluate(() => caches.keys().then((names) => names.length))).toBe(2)
    // The old version serves as long as one of its pages is open.
    const names = async () => {
      await page.goto('about:blank')
      await page.goto(server.address)
      return page.evaluate(() => caches.keys().then((all) => all.map((name) => name.split(' ').at(-1))))
    }
    await expect.poll(names, { interval: 500, timeout: 30_000 }).toEqual(['next'])
  } finally {
    await server.close()
    await rm(folder, { recursive: true, force: true })
  }
})

test('the built page lives in any folder of a server', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'spanwright-folder-'))
  await cp(dist, join(folder, 'tools', 'film line'), { recursive: true })
  const server = await serve(folder, 0)
  try {
    const { page, complaints } = await newPage(undefined, 'light', {
      path: `${server.address}tools/film%20line/`,
      fresh: true,
    })
    await page.locator(finished).waitFor()
    await page.evaluate(swReady)
    expect(complaints).toEqual([])
  } finally {
    await server.close()
    await rm(folder, { recursive: true, force: true })
  }
})

test('the single file opens from disk, keeps its policy, and its run finishes', async () => {
  if (!existsSync(single)) throw new Error('There is no single file to test: npm run build first.')
  expect(statSync(single).size).toBeLessThan(5_000_000)
  const { page, context, complaints } = await newPage(undefined, 'light', { path: 'about:blank', fresh: true })
  const asked: string[] = []
  context.on('request', (request) => asked.push(request.url()))
  await page.goto(pathToFileURL(single).href)
  await page.locator(finished).waitFor()
  expect(await page.getByRole('heading', { level: 1 }).innerText()).toMatch(/\?$/)
  expect(complaints).toEqual([])
  expect(asked.filter((url) => !/^(file|blob|data):/.test(url))).toEqual([])
  const policy = await page.locator('meta[http-equiv="Content-Security-Policy"]').getAttribute('content')
  expect(policy).toContain("default-src 'none'")
  expect(policy).toMatch(/script-src 'sha256-[^']+'/)
  expect(policy).not.toContain('unsafe')
})
