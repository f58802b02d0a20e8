import { expect, test } from 'vitest'
import { pagePolicy, policy } from '../tools/policy.mjs'
import { newPage, pageAddress } from './launch'

test('the page loads without a complaint', async () => {
  const { page, complaints } = await newPage()
  await page.waitForLoadState('networkidle')
  expect(await page.title()).toContain('Spanwright')
  expect(await page.locator('#app').innerText()).not.toBe('')
  expect(complaints).toEqual([])
})

test('every answer carries the policy, and so does the page itself', async () => {
  const { page, context } = await newPage(undefined, 'light', { fresh: true })
  const seen: { url: string; header: string | null }[] = []
  context.on('response', (response) => {
    seen.push({ url: response.url(), header: response.headers()['content-security-policy'] ?? null })
  })
  await page.reload()
  await page.waitForLoadState('networkidle')
  expect(seen.length).toBeGreaterThan(1)
  expect(seen.filter(({ header }) => header !== policy)).toEqual([])
  const meta = page.locator('meta[http-equiv="Content-Security-Policy"]')
  expect(await meta.getAttribute('content')).toBe(pagePolicy)
})

test('the policy is in force: the browser blocks script and style written into the page, and other addresses', async () => {
  const { page } = await newPage()
  const blocked = await page.evaluate(async () => {
    const directives: string[] = []
    document.addEventListener('securitypolicyviolation', (event) => directives.push(event.effectiveDirective))
    document.body.insertAdjacentHTML('beforeend', '<p style="color: red"></p>')
    const script = document.createElement('script')
    script.textContent = 'document.title = "broken in"'
    document.body.append(script)
    await fetch('https://elsewhere.invalid/').catch(() => undefined)
    await new Promise((resolve) => setTimeout(resolve))
    return directives
  })
  // Each twice: once by the header, once by the page's own policy.
  const expected = ['connect-src', 'script-src-elem', 'style-src-attr'].flatMap((directive) => [directive, directive])
  expect(blocked.sort()).toEqual(expected)
  expect(await page.title()).not.toBe('broken in')
})

test('addresses outside the built page are not answered', async () => {
  const { page } = await newPage()
  const answer = await page.request.get(new URL('/%2e%2e/package.json', pageAddress).href)
  expect(answer.status()).toBe(404)
})
