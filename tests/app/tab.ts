/** Tabs of one browser, for tests of what is kept: its database, its locks, and what is on each screen. */
import type { Claims } from '../../src/app/keep/claims'
import { Keeper, type Session } from '../../src/app/keep/keeper.svelte'
import type { WorkRecord } from '../../src/app/keep/records'
import { MemoryStore, type Kept, type Shelf, type Store } from '../../src/app/keep/store'
import { noHistory } from '../../src/app/state/history'
import type { Json } from '../../src/app/state/document'

/** As the browser's database does, it hands out copies; writing fails as it is told to. */
class Drawer implements Store {
  readonly inner = new MemoryStore()
  failure: Error | null = null
  writes = 0

  async all(shelf: Shelf): Promise<readonly unknown[]> {
    return structuredClone(await this.inner.all(shelf))
  }

  async get(shelf: Shelf, id: string): Promise<unknown> {
    return structuredClone(await this.inner.get(shelf, id))
  }

  async ids(shelf: Shelf): Promise<string[]> {
    return (await this.all(shelf)).map((record) => (record as Kept).id)
  }

  async put(shelf: Shelf, record: Kept): Promise<void> {
    if (this.failure) throw this.failure
    this.writes++
    await this.inner.put(shelf, structuredClone(record))
  }

  remove(shelf: Shelf, id: string): Promise<void> {
    return this.inner.remove(shelf, id)
  }
}

/** The locks that all tabs of one browser share. */
export class Locks implements Claims {
  readonly held = new Set<string>()

  take(id: string): Promise<boolean> {
    const isFree = !this.held.has(id)
    this.held.add(id)
    return Promise.resolve(isFree)
  }

  taken(): Promise<ReadonlySet<string>> {
    return Promise.resolve(new Set(this.held))
  }
}

export const document: Json = { title: 'A?', line: [{ part: 'unwind' }], run: { for: '20 s' } }
const scenario = { key: 'a', title: 'A?', about: '', document }

type Content = Omit<WorkRecord, 'version' | 'id' | 'at'>

export function content(duration: string): Content {
  const before = { chosen: scenario, document }
  const held = { chosen: scenario, document: { title: 'A?', line: [{ part: 'unwind' }], run: { for: duration } } }
  const past = duration === '20 s' ? [] : [{ words: 'run length', key: 'run/for', at: 0, state: before }]
  const look = { window: null, cursor: null, span: null, hidden: [], more: [], reach: {} }
  return { page: 'line', held, history: { ...noHistory, past }, pins: [], look, entries: [] }
}

/** One tab with what is on its screen. */
export class Tab {
  screen: Content = content('20 s')
  restored: WorkRecord | null = null
  id: string | null = null
  now = 1000
  readonly session: Session = { read: () => this.id, write: (id) => (this.id = id) }
  readonly keeper: Keeper

  constructor(open: () => Promise<Store>, claims: Claims) {
    const subject = { capture: () => this.screen, restore: (record: WorkRecord) => (this.restored = record) }
    this.keeper = new Keeper(open, claims, this.session, subject, () => this.now)
  }

  async change(duration: string): Promise<void> {
    this.screen = content(duration)
    this.keeper.changed()
    await this.keeper.flush()
  }

  get told(): string[] {
    return this.keeper.notices.map(({ key }) => key)
  }
}

/** @param claims what its tabs know of each other */
export function browser<C extends Claims>(claims: C) {
  const drawer = new Drawer()
  return { drawer, locks: claims, tab: (own: Claims = claims) => new Tab(() => Promise.resolve(drawer), own) }
}
