import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { request } from 'node:http'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { policy } from './policy.mjs'
import { serve } from './serve.mjs'

const outer = mkdtempSync(join(tmpdir(), 'spanwright-serve-'))
let address = ''
let close: () => Promise<void> = () => Promise.resolve()

beforeAll(async () => {
  const folder = join(outer, 'page')
  mkdirSync(join(folder, 'workers'), { recursive: true })
  mkdirSync(join(outer, 'page beside'))
  writeFileSync(join(folder, 'index.html'), '<!doctype html>')
  writeFileSync(join(folder, 'workers', 'run.js'), 'export {}')
  writeFileSync(join(folder, '.hidden'), 'hidden')
  writeFileSync(join(outer, 'secret.txt'), 'secret')
  writeFileSync(join(outer, 'page beside', 'secret.txt'), 'secret')
  symlinkSync(join(outer, 'secret.txt'), join(folder, 'link.txt'))
  ;({ address, close } = await serve(folder, 0))
})

afterAll(async () => {
  await close()
  rmSync(outer, { recursive: true })
})

/** Node's own request sends the path as it is written, where fetch would tidy it. */
function ask(path: string, method = 'GET'): Promise<{ code: number; headers: Record<string, unknown>; body: string }> {
  return new Promise((resolve, reject) => {
    const { port } = new URL(address)
    request({ host: '127.0.0.1', port, path, method }, (response) => {
      let body = ''
      response.on('data', (part: Buffer) => (body += part.toString()))
      response.on('end', () => resolve({ code: response.statusCode ?? 0, headers: response.headers, body }))
    })
      .on('error', reject)
      .end()
  })
}

test.each([
  ['/', 'text/html; charset=utf-8'],
  ['/index.html?query', 'text/html; charset=utf-8'],
  ['/workers/run.js', 'text/javascript; charset=utf-8'],
])('%s is answered as %s, with the policy', async (path, type) => {
  const { code, headers, body } = await ask(path)
  expect(code).toBe(200)
  expect(body).not.toBe('')
  expect(headers).toMatchObject({
    'content-type': type,
    'content-security-policy': policy,
    'x-content-type-options': 'nosniff',
    'referrer-policy': 'no-referrer',
  })
})

test('the policy allows nothing inline, nothing evaluated and nothing from elsewhere', () => {
  expect(policy).not.toMatch(/unsafe|\*|https?:/)
  expect(policy).toMatch(/^default-src 'none'; script-src 'self'; style-src 'self';/)
  expect(policy).toContain("worker-src 'self'")
  expect(policy).toContain("frame-ancestors 'none'")
})

test.each([
  '/nothing.html',
  '/workers',
  '/workers/',
  '/../secret.txt',
  '/workers/../../secret.txt',
  '/%2e%2e/secret.txt',
  '/..%2fsecret.txt',
  '/..%5csecret.txt',
  '/%2e%2e/page%20beside/secret.txt',
  '//etc/passwd',
  '/link.txt',
  '/.hidden',
  '/index.html%00',
  '/%',
])('%s is not answered, and the refusal carries the policy too', async (path) => {
  const { code, headers, body } = await ask(path)
  expect(code).toBe(404)
  expect(body).not.toContain('secret')
  expect(headers['content-security-policy']).toBe(policy)
})

test('only reading is answered', async () => {
  expect((await ask('/', 'POST')).code).toBe(405)
  const head = await ask('/', 'HEAD')
  expect([head.code, head.body]).toEqual([200, ''])
})

test('a taken port leads to the next', async () => {
  const port = Number(new URL(address).port)
  const second = await serve(outer, port)
  expect(Number(new URL(second.address).port)).toBeGreaterThan(port)
  await second.close()
})
