/** Tabs that know of each other by locks, by asking, or not at all: none takes what another works on, a reload takes its own. */
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { ChannelClaims, type Wire } from '../../src/app/keep/channel'
import { LockClaims, type Claims } from '../../src/app/keep/claims'
import type { WorkRecord } from '../../src/app/keep/records'
import { browser, content } from './tab'

const day = 24 * 3_600_000

/** No locks, no channel. */
const cannotTell: Claims = { take: () => Promise.resolve(undefined), taken: () => Promise.resolve(undefined) }

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

test('where tabs cannot know of each other a reload takes up its own record, again and again, without a word', async () => {
  const { tab, drawer } = browser(cannotTell)
  let here = tab()
  expect(await here.keeper.begin()).toBe('new')
  await here.change('5 s')
  for (const duration of ['6 s', '7 s', '8 s']) {
    const { id, screen } = here
    here = tab()
    here.id = id
    expect([await here.keeper.begin(), here.told, here.id]).toEqual(['back', [], id])
    expect(here.restored?.held).toEqual(screen.held)
    await here.change(duration)
  }
  await here.keeper.look()
  expect([here.keeper.left, (await drawer.all('work')).length]).toEqual([[], 1])
})

test('there a new tab goes on with a copy, says why, and lists nothing as left that may be open', async () => {
  const { tab, drawer } = browser(cannotTell)
  const [first, second] = [tab(), tab()]
  await first.keeper.begin()
  await first.change('5 s')
  expect([await second.keeper.begin(), second.restored?.held]).toEqual(['copy', content('5 s').held])
  expect(second.keeper.notices.map(({ say }) => say).join()).toContain('cannot be told')
  await second.change('7 s')
  await second.keeper.look()
  expect(second.keeper.left).toEqual([])
  // Not even what nothing would be missed of is cleared away under a tab that may be open.
  await first.change('20 s')
  await second.keeper.look()
  expect(await drawer.ids('work')).toEqual([first.id, second.id])
})

test('there work that was left a day ago is listed, and taken up by the next new tab', async () => {
  const { tab } = browser(cannotTell)
  const [first, second, third] = [tab(), tab(), tab()]
  await first.keeper.begin()
  await first.change('5 s')
  await second.keeper.begin()
  second.now = 1000 + day
  await second.change('7 s')
  await second.keeper.look()
  expect(second.keeper.left).toEqual([])
  second.now++
  await second.keeper.look()
  expect(second.keeper.left.map(({ id }) => id)).toEqual([first.id])
  third.now = second.now + 2 * day
  expect([await third.keeper.begin(), third.told, third.id]).toEqual(['back', [], second.id])
})

/** A channel that all tabs of a browser are on; one that has closed hears nothing. */
class Channel extends EventTarget implements Wire {
  static readonly open = new Set<Channel>()

  constructor() {
    super()
    Channel.open.add(this)
  }

  postMessage(data: unknown): void {
    for (const other of Channel.open) if (other !== this) other.dispatchEvent(new MessageEvent('message', { data }))
  }
}

/** What comes of it, however long answers are waited for. */
async function soon<T>(doing: Promise<T>): Promise<T> {
  await vi.runAllTimersAsync()
  return doing
}

function channels(count: number) {
  Channel.open.clear()
  return Array.from({ length: count }, () => {
    const wire = new Channel()
    return { wire, claims: new ChannelClaims(wire) }
  })
}

test('by asking: what one tab has, no other gets, until it has closed', async () => {
  const [one, other] = channels(2)
  if (!one || !other) throw new Error('no tabs')
  expect(await soon(one.claims.take('a', 0))).toBe(true)
  expect(await soon(other.claims.take('a', 500))).toBe(false)
  expect(await soon(other.claims.take('b', 0))).toBe(true)
  expect(await soon(one.claims.taken())).toEqual(new Set(['a', 'b']))
  expect(await soon(other.claims.taken())).toEqual(new Set(['a', 'b']))
  Channel.open.delete(one.wire)
  expect(await soon(other.claims.taken())).toEqual(new Set(['b']))
  expect(await soon(other.claims.take('a', 0))).toBe(true)
})

test('by asking: a page that is just being reloaded is waited for; of two that ask at once one gets it', async () => {
  const [one, other, third] = channels(3)
  if (!one || !other || !third) throw new Error('no tabs')
  await soon(one.claims.take('a', 0))
  const taking = other.claims.take('a', 500)
  await vi.advanceTimersByTimeAsync(200)
  Channel.open.delete(one.wire)
  expect(await soon(taking)).toBe(true)
  expect(await soon(Promise.all([other.claims.take('b', 0), third.claims.take('b', 0)]))).toEqual([true, false])
  expect(await soon(third.claims.taken())).toEqual(new Set(['a', 'b']))
})

/** Each with claims of its own on the channel, as tabs have. */
test('by asking, two tabs keep apart: a duplicate gets a copy, a closed one is left, a reload is not told anything', async () => {
  const shared = browser(cannotTell)
  const begun = (id: string | null) => {
    const wire = new Channel()
    return { wire, tab: Object.assign(shared.tab(new ChannelClaims(wire)), { id }) }
  }
  Channel.open.clear()
  const first = begun(null)
  expect(await soon(first.tab.keeper.begin())).toBe('new')
  await first.tab.change('5 s')
  const duplicate = begun(first.tab.id)
  expect([await soon(duplicate.tab.keeper.begin()), duplicate.tab.told]).toEqual(['copy', ['copy']])
  await duplicate.tab.change('7 s')
  Channel.open.delete(first.wire)
  await soon(duplicate.tab.keeper.look())
  expect(duplicate.tab.keeper.left.map(({ id }) => id)).toEqual([first.tab.id])
  const reloaded = begun(first.tab.id)
  expect([await soon(reloaded.tab.keeper.begin()), reloaded.tab.told]).toEqual(['back', []])
  const kept = (await shared.drawer.all('work')) as WorkRecord[]
  expect(kept.map(({ id }) => id)).toEqual([first.tab.id, duplicate.tab.id])
})

test('locks that may not be used tell nothing; a lock that another has is refused', async () => {
  const failing = (name: string) => {
    const fail = () => Promise.reject(new DOMException('', name))
    return new LockClaims({ request: fail, query: fail })
  }
  expect(await failing('SecurityError').take('a', 0)).toBeUndefined()
  expect(await failing('SecurityError').taken()).toBeUndefined()
  expect(await failing('TimeoutError').take('a', 500)).toBe(false)
})
