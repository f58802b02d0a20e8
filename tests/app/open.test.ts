/** A link that was followed: the line in it opens as a copy, and says so. */
import { expect, test } from 'vitest'
import { copyName, followed, linkTo } from '../../src/app/share/open'
import { firstScenario } from '../../src/app/state/scenario'
import { isLink } from '../../src/app/state/route.svelte'

test('a link opens as a copy that says so, on the page that it was made on', async () => {
  const link = await linkTo(firstScenario.document, 'roll', 'https://example.org/films/')
  const hash = link.slice(link.indexOf('#'))
  expect(isLink(hash)).toBe(true)
  const opening = await followed(hash)
  const title = `Copy of “${firstScenario.title}”`
  expect(opening).toMatchObject({ ok: true, scenario: { title, page: 'roll', about: firstScenario.about } })
  const document = opening.ok ? opening.scenario.document : null
  expect(document).toEqual({ ...(firstScenario.document as object), title })
})

test('a copy of a copy is a copy, and a line without a name is one too', () => {
  expect(copyName(copyName('A'))).toBe('Copy of “A”')
  expect(copyName('')).toBe('Copy of a line')
})

test.each(['#open/', '#open/AAAA', '#open/%%%/line', '#open//line'])('%s is refused in words', async (hash) => {
  const opening = await followed(hash)
  expect(opening.ok ? '' : opening.say).toMatch(/^The link /)
})

test.each(['#line', '', '#opening/x', '#dancer/open/x'])('%j is no link', (hash) => {
  expect(isLink(hash)).toBe(false)
})
