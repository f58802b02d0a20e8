/**
 * Keeps the work in hand as it is made, and brings it back. Each tab writes a record of its own, which no other tab writes:
 * a tab that finds the newest one in use goes on with a copy.
 */
import type { Claims } from './claims'
import { newId } from './claims'
import { isUntouched, readWork, RECORD_VERSION, type WorkRecord } from './records'
import { MemoryStore, type Store } from './store'

/** What is kept of the page, and how it comes back. */
export interface Subject {
  capture(): Omit<WorkRecord, 'version' | 'id' | 'at'>
  restore(record: WorkRecord): void
}

/** This tab's own memory, which a reload leaves alone. */
export interface Session {
  read(): string | null
  write(id: string): void
}

export interface Notice {
  readonly key: string
  readonly say: string
  /** One by one, what is meant. */
  readonly list?: readonly string[]
  /** A record that could not be read, to be saved as a file. */
  readonly broken?: unknown
}

/** How work begins: with nothing kept, where it was left, or with a copy of what another tab works on. */
export type Beginning = 'new' | 'back' | 'copy'

/** ms from a change to its being kept, at most */
const delay = 250
/** ms for the lock of a page that is just being reloaded */
const patience = 500
/** ms; where tabs cannot know of each other, work not touched for so long is taken to be left */
const longLeft = 24 * 3_600_000

const copied =
  'This line is open in another tab too. This tab goes on with a copy of its own: what you change here does not reach the other.'
const perhapsOpen =
  'Whether this line is open in another tab cannot be told at this address. This tab goes on with a copy of its own: what you change here does not reach the other.'
const newer =
  'Work kept by a newer version of this page was found. It is left untouched: open it with that version. Here you begin afresh.'
const broken =
  'Work that was kept could not be read and was set aside. It can be saved as a file, and is otherwise left.'
const unavailable =
  'This browser keeps nothing here (a private window, or storage is switched off). Work goes on, but ends with this tab: save the line as a file before you close it.'
const full =
  'The browser’s storage is full: what you do now is not kept. Work goes on in this tab. Delete lines of your own that you no longer need, or save this one as a file.'
const failing = 'What you do now could not be kept by the browser. Work goes on in this tab: save the line as a file.'

export class Keeper {
  notices = $state.raw<readonly Notice[]>([])
  /** Work left by tabs that have closed since. */
  left = $state.raw<readonly WorkRecord[]>([])

  /** Once begun; until then nothing is written. */
  store: Store | null = null
  #id = ''
  #dirty = false
  #timer: ReturnType<typeof setTimeout> | undefined

  constructor(
    private readonly open: () => Promise<Store>,
    private readonly claims: Claims,
    private readonly session: Session,
    private readonly subject: Subject,
    private readonly now: () => number = Date.now,
  ) {}

  async begin(): Promise<Beginning> {
    try {
      const store = await this.open()
      const records = await this.#read(store)
      const found = await this.#choose(records)
      this.store = store
      if (found.record) this.subject.restore(found.record)
      return found.beginning
    } catch {
      this.say('unavailable', unavailable)
      this.#id = newId()
      this.store = new MemoryStore()
      return 'new'
    }
  }

  /** Something has changed: it will be kept within moments. */
  changed(): void {
    this.#dirty = true
    this.#timer ??= setTimeout(() => void this.flush(), delay)
  }

  /** Keeps at once what has changed. */
  async flush(): Promise<void> {
    clearTimeout(this.#timer)
    this.#timer = undefined
    const store = this.store
    if (!this.#dirty || !store) return
    this.#dirty = false
    const record = { ...this.subject.capture(), version: RECORD_VERSION, id: this.#id, at: this.now() } as const
    if (await this.attempt(() => store.put('work', record))) return
    // Not kept: the next change tries again.
    this.#dirty = true
  }

  /** Writes, and tells where that fails. */
  async attempt(write: () => Promise<void>): Promise<boolean> {
    try {
      await write()
      this.dismiss('failing')
      return true
    } catch (error) {
      this.say('failing', error instanceof DOMException && error.name === 'QuotaExceededError' ? full : failing)
      return false
    }
  }

  say(key: string, say: string, more: Pick<Notice, 'broken' | 'list'> = {}): void {
    const notice = { key, say, ...more }
    const known = this.notices.some((other) => other.key === key)
    this.notices = known ? this.notices.map((other) => (other.key === key ? notice : other)) : [...this.notices, notice]
  }

  dismiss(key: string): void {
    if (this.notices.some((notice) => notice.key === key)) this.notices = this.notices.filter((n) => n.key !== key)
  }

  /** Looks again for work that closed tabs have left; what nothing would be missed of is cleared away. */
  async look(): Promise<void> {
    const store = this.store
    if (!store) return
    const taken = await this.claims.taken()
    const isLeft = (record: WorkRecord) => (taken ? !taken.has(record.id) : this.#isOld(record))
    const records = (await this.#read(store)).filter((record) => record.id !== this.#id && isLeft(record))
    for (const record of records.filter(isUntouched)) await store.remove('work', record.id)
    this.left = records.filter((record) => !isUntouched(record))
  }

  async forget(record: WorkRecord): Promise<void> {
    await this.store?.remove('work', record.id)
    this.left = this.left.filter(({ id }) => id !== record.id)
  }

  /** Good records, newest first; what is broken is set aside on the way. */
  async #read(store: Store): Promise<WorkRecord[]> {
    const good: WorkRecord[] = []
    for (const raw of await store.all('work')) {
      const reading = readWork(raw)
      if (reading.kind === 'good') good.push(reading.record)
      else if (reading.kind === 'newer') this.say('newer', newer)
      else await this.#setAside(store, raw, reading.why)
    }
    return good.sort((a, b) => b.at - a.at)
  }

  async #setAside(store: Store, raw: unknown, why: string): Promise<void> {
    const id = typeof raw === 'object' && raw !== null && 'id' in raw ? String(raw.id) : newId()
    this.say(`broken ${id}`, `${broken} (${why})`, { broken: raw })
    const aside = { id: `work ${id}`, at: this.now(), record: raw }
    if (await this.attempt(() => store.put('aside', aside))) await store.remove('work', id)
  }

  async #choose(records: readonly WorkRecord[]): Promise<{ beginning: Beginning; record?: WorkRecord }> {
    const mine = this.session.read()
    const own = records.find(({ id }) => id === mine)
    const record = own ?? records[0]
    if (!record) {
      await this.#become(newId())
      return { beginning: 'new' }
    }
    const granted = await this.claims.take(record.id, own ? patience : 0)
    // Where that cannot be told, this tab's own is taken up, and of others what they have left long since.
    if (granted ?? (own !== undefined || this.#isOld(record))) {
      this.#id = record.id
      this.session.write(record.id)
      return { beginning: 'back', record }
    }
    await this.#become(newId())
    this.say('copy', granted === undefined ? perhapsOpen : copied)
    return { beginning: 'copy', record }
  }

  #isOld(record: WorkRecord): boolean {
    return this.now() - record.at > longLeft
  }

  async #become(id: string): Promise<void> {
    this.#id = id
    this.session.write(id)
    await this.claims.take(id, 0)
  }
}
