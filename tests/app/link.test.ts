/** A line in a link: what goes in comes out, and what a stranger puts in does no harm. */
import fc from 'fast-check'
import { deflateRawSync } from 'node:zlib'
import { expect, test } from 'vitest'
import { packed, unpacked } from '../../src/app/share/link'
import { gallery } from '../../src/app/state/gallery'
import type { Json } from '../../src/app/state/document'

const letters = (bytes: Uint8Array) => Buffer.from(bytes).toString('base64url')

test('every scenario of the gallery goes through a link and comes out equal, in few letters', async () => {
  expect(gallery.length).toBeGreaterThan(10)
  for (const { document } of gallery) {
    const code = await packed(document)
    expect(code).toMatch(/^[\w-]+$/)
    expect(code.length).toBeLessThan(JSON.stringify(document).length)
    const opened = await unpacked(code)
    expect(opened).toMatchObject({ ok: true, document })
  }
})

test('any text in a title survives', async () => {
  await fc.assert(
    fc.asyncProperty(fc.string({ unit: 'grapheme', maxLength: 60 }), async (title) => {
      const document: Json = { title, line: [] }
      expect(await unpacked(await packed(document))).toEqual({ ok: true, document })
    }),
    { numRuns: 60 },
  )
})

test('a small link that would inflate to 50 MB is given up', async () => {
  const code = letters(deflateRawSync(Buffer.alloc(50_000_000, '[0,'), { level: 9 }))
  expect(code.length).toBeLessThan(70_000)
  const opened = await unpacked(code)
  expect(opened.ok ? '' : opened.say).toContain('inflates to more than 2 MB')
})

test('a link that is broken in any place is refused in words, or opens as what it holds', async () => {
  const [first] = gallery
  const code = await packed(first?.document ?? null)
  await fc.assert(
    fc.asyncProperty(
      fc.integer({ min: 0, max: code.length - 1 }),
      fc.constantFrom('', 'A', '_', '-'),
      async (at, by) => {
        const opened = await unpacked(code.slice(0, at) + by + code.slice(at + 1))
        if (!opened.ok) expect(opened.say).toMatch(/^(The link|What the link holds)/)
      },
    ),
    { numRuns: 120 },
  )
})

test.each([
  ['', 'cut short'],
  ['a b', 'letters in it'],
  ['A', 'letters in it'],
  ['x'.repeat(3_000_001), 'longer than any line'],
  [letters(deflateRawSync('not json')), 'is no line'],
  [letters(deflateRawSync('[1, 2]')), 'no list of parts'],
  [letters(deflateRawSync('{"line": [], "__proto__": {"title": "x"}}')), 'not opened'],
  [letters(deflateRawSync('['.repeat(100_000))), 'What the link holds'],
  [letters(deflateRawSync(Buffer.from([0xff, 0xfe, 0xfd]))), 'does not inflate'],
])('%.20s is refused: %s', async (code, says) => {
  const opened = await unpacked(code)
  expect(opened.ok ? 'opened' : opened.say).toContain(says)
})
