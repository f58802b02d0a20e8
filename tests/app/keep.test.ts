import { expect, test, vi } from 'vitest'
import { fileName } from '../../src/app/keep/files'
import { openFile } from '../../src/app/keep/open'
import { freeName, OwnLines } from '../../src/app/keep/own.svelte'
import { readOwn, readWork, type WorkRecord } from '../../src/app/keep/records'
import { browser, content, document, Locks, Tab } from './tab'

test('nothing kept is a new beginning; what is kept comes back in the next tab once the first has closed', async () => {
  const { tab, locks } = browser(new Locks())
  const first = tab()
  expect(await first.keeper.begin()).toBe('new')
  await first.change('5 s')
  locks.held.clear()
  const second = tab()
  expect(await second.keeper.begin()).toBe('back')
  expect(second.restored).toMatchObject(content('5 s'))
  expect(second.told).toEqual([])
  // A step back leads to the scenario's own document, not to a copy of it.
  expect(second.restored?.history.past[0]?.state.document).toBe(second.restored?.held.chosen?.document)
})

test('a second tab goes on with a copy, and neither writes what the other keeps', async () => {
  const { tab, drawer, locks } = browser(new Locks())
  const [first, second] = [tab(), tab()]
  await first.keeper.begin()
  await first.change('5 s')
  expect(await second.keeper.begin()).toBe('copy')
  expect([second.restored?.held, second.told]).toEqual([content('5 s').held, ['copy']])
  await second.change('7 s')
  await first.change('6 s')
  const kept = (await drawer.all('work')) as WorkRecord[]
  const lengths = Object.fromEntries(kept.map(({ id, held }) => [id, (held.document as { run: unknown }).run]))
  expect(lengths).toEqual({ [first.id ?? '']: { for: '6 s' }, [second.id ?? '']: { for: '7 s' } })
  expect(locks.held.size).toBe(2)
})

test('a reload takes up its own record, whatever is newer; a duplicated tab gets a copy of it', async () => {
  const { tab, locks } = browser(new Locks())
  const [first, second] = [tab(), tab()]
  await first.keeper.begin()
  await first.change('5 s')
  await second.keeper.begin()
  second.now = 2000
  await second.change('7 s')
  locks.held.delete(first.id ?? '')
  const reloaded = tab()
  reloaded.id = first.id
  expect([await reloaded.keeper.begin(), reloaded.restored?.held]).toEqual(['back', content('5 s').held])
  const duplicate = tab()
  duplicate.id = first.id
  expect([await duplicate.keeper.begin(), duplicate.restored?.held]).toEqual(['copy', content('5 s').held])
  expect(duplicate.id).not.toBe(first.id)
})

test('a change is kept within half a second, and many changes at once', async () => {
  vi.useFakeTimers()
  try {
    const { tab, drawer } = browser(new Locks())
    const one = tab()
    await one.keeper.begin()
    for (let i = 0; i < 20; i++) {
      one.keeper.changed()
      await vi.advanceTimersByTimeAsync(20)
    }
    expect(drawer.writes).toBe(1)
    await vi.advanceTimersByTimeAsync(500)
    expect(drawer.writes).toBe(2)
    await vi.advanceTimersByTimeAsync(5000)
    expect(drawer.writes).toBe(2)
  } finally {
    vi.useRealTimers()
  }
})

test('full storage is told, work goes on, and the next change is kept when there is room again', async () => {
  const { tab, drawer } = browser(new Locks())
  const one = tab()
  await one.keeper.begin()
  drawer.failure = new DOMException('no room', 'QuotaExceededError')
  await one.change('5 s')
  expect(one.keeper.notices.map(({ say }) => say).join()).toContain('full')
  drawer.failure = null
  await one.change('6 s')
  expect(one.told).toEqual([])
  expect(await drawer.ids('work')).toEqual([one.id])
})

test('where nothing can be kept that is told, and work goes on in memory', async () => {
  const one = new Tab(() => Promise.reject(new Error('denied')), new Locks())
  expect(await one.keeper.begin()).toBe('new')
  expect(one.told).toEqual(['unavailable'])
  await one.change('5 s')
  expect(one.told).toEqual(['unavailable'])
  const own = new OwnLines(one.keeper)
  expect(await own.add('Mine', document)).toBe('Mine')
})

test('a record of a newer version is told and not touched', async () => {
  const { tab, drawer } = browser(new Locks())
  const record = { id: 'x', version: 2, something: 'else' }
  await drawer.put('work', record)
  const one = tab()
  one.id = 'x'
  expect([await one.keeper.begin(), one.told]).toEqual(['new', ['newer']])
  await one.change('5 s')
  expect((await drawer.all('work'))[0]).toEqual(record)
  expect(one.id).not.toBe('x')
})

const nested = (depth: number): unknown => (depth === 0 ? '1' : [nested(depth - 1)])

test.each([
  ['without its parts', { id: 'x', version: 1 }],
  ['without a version', { id: 'x' }],
  [
    'with a document too deep',
    { ...content('5 s'), id: 'x', version: 1, at: 0, held: { chosen: null, document: nested(50) } },
  ],
  [
    'with a reserved word',
    {
      ...content('5 s'),
      id: 'x',
      version: 1,
      at: 0,
      held: JSON.parse('{"chosen":null,"document":{"__proto__":{}}}') as unknown,
    },
  ],
  ['with half a history', { ...content('5 s'), id: 'x', version: 1, at: 0, history: { past: [{}], future: [] } }],
])('a record %s is set aside whole, told, and does not stand in the way', async (_, record) => {
  const { tab, drawer } = browser(new Locks())
  await drawer.inner.put('work', record)
  const one = tab()
  expect(await one.keeper.begin()).toBe('new')
  expect(one.keeper.notices.map(({ broken }) => broken)).toEqual([record])
  expect(await drawer.ids('work')).toEqual([])
  expect(await drawer.all('aside')).toMatchObject([{ record: structuredClone(record) }])
})

test('what closed tabs left is listed, unless nothing would be missed of it', async () => {
  const { tab, drawer, locks } = browser(new Locks())
  const [first, second, third] = [tab(), tab(), tab()]
  for (const one of [first, second, third]) await one.keeper.begin()
  await first.change('5 s')
  await second.change('20 s')
  await third.change('7 s')
  locks.held.delete(first.id ?? '')
  locks.held.delete(second.id ?? '')
  await third.keeper.look()
  expect(third.keeper.left.map(({ id }) => id)).toEqual([first.id])
  expect(await drawer.ids('work')).toEqual([first.id, third.id])
  await third.keeper.forget(third.keeper.left[0] ?? { ...content(''), id: '', version: 1, at: 0 })
  expect([third.keeper.left, await drawer.ids('work')]).toEqual([[], [third.id]])
})

test('own lines: named apart, renamed, duplicated, deleted and put back', async () => {
  const { tab } = browser(new Locks())
  const one = tab()
  await one.keeper.begin()
  const own = new OwnLines(one.keeper, () => one.now++)
  const names = () => own.list.map(({ name }) => name)
  await own.add('Mine', document)
  expect(await own.add('Mine', document)).toBe('Mine (2)')
  const [second] = own.list
  if (!second) throw new Error('Nothing was kept.')
  expect(second.document).toMatchObject({ title: 'Mine (2)' })
  await own.rename(second, '  <b>Yours</b> ')
  await own.rename(second, ' ')
  expect(names()).toEqual(['<b>Yours</b>', 'Mine'])
  const [renamed] = own.list
  if (renamed) await own.remove(renamed)
  expect(names()).toEqual(['Mine'])
  await own.putBack()
  const again = new OwnLines(one.keeper)
  await again.read()
  expect(again.list.map(({ name }) => name)).toEqual(['<b>Yours</b>', 'Mine'])
})

test('an own line that cannot be read is set aside, one of a newer version left', async () => {
  const { tab, drawer } = browser(new Locks())
  const one = tab()
  await one.keeper.begin()
  await drawer.put('own', { id: 'broken' })
  await drawer.put('own', Object.assign({ id: 'newer' }, { version: 9 }))
  const own = new OwnLines(one.keeper)
  await own.read()
  expect([own.list, one.told, await drawer.ids('own')]).toEqual([[], ['broken broken', 'newer own'], ['newer']])
})

test.each([null, undefined, 3, 'text', [], {}, { version: NaN }])('%j is no record', (raw) => {
  expect([readWork(raw).kind, readOwn(raw).kind]).toEqual(['broken', 'broken'])
})

test('a taken name is numbered', () => {
  expect(freeName('a', [])).toBe('a')
  expect(freeName('a', ['a', 'a (2)'])).toBe('a (3)')
})

test.each([
  ['Will it hold, at 36 µm?', 'will-it-hold-at-36-m.json'],
  ['../../etc/<b>', 'etc-b.json'],
  ['???', 'line.json'],
])('a file named after %s', (title, name) => expect(fileName(title, 'json')).toBe(name))

test.each([
  ['no JSON', '{"spanwright": 1,', 'line 1, column'],
  ['another version', '{"spanwright": 99}', 'newer version'],
  ['deep nesting', '['.repeat(100_000), '32 levels'],
  ['a reserved word', '{"spanwright": 1, "__proto__": {"polluted": true}}', '__proto__'],
  ['markup for a title', '{"spanwright": 1, "title": "<img src=x onerror=alert(1)>"}', 'films'],
])('a file with %s is refused with words', async (_, text, words) => {
  const opening = await openFile(new File([text], 'a.json'))
  expect(opening.ok ? [] : opening.says.join(' ')).toContain(words)
  expect(Object.hasOwn(Object.prototype, 'polluted')).toBe(false)
})

test('a file too large is refused, read or unread', async () => {
  for (const size of [2_000_001, 9_000_000]) {
    const opening = await openFile(new File([' '.repeat(size)], 'a.json'))
    expect(opening.ok ? [] : opening.says.join(' ')).toContain('2')
    expect(opening.ok).toBe(false)
  }
})
