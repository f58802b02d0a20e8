/** Lines of one's own, kept by name and listed in the gallery. */
import { withValue, type Json } from '../state/document'
import type { Scenario } from '../state/scenario'
import type { Laid } from '../state/work.svelte'
import { newId } from './claims'
import type { Keeper } from './keeper.svelte'
import { readOwn, RECORD_VERSION, type OwnRecord } from './records'

const newer =
  'Lines kept by a newer version of this page were found. They are left untouched: open them with that version.'
const longestName = 200

export class OwnLines {
  list = $state.raw<readonly OwnRecord[]>([])
  /** The one deleted last can be put back. */
  deleted = $state.raw<OwnRecord | null>(null)

  constructor(
    private readonly keeper: Keeper,
    private readonly now: () => number = Date.now,
  ) {}

  /** Reads the list anew: another tab may have changed it. */
  async read(): Promise<void> {
    const good: OwnRecord[] = []
    for (const raw of (await this.keeper.store?.all('own')) ?? []) {
      const reading = readOwn(raw)
      if (reading.kind === 'good') good.push(reading.record)
      else if (reading.kind === 'newer') this.keeper.say('newer own', newer)
      else await this.#setAside(raw, reading.why)
    }
    this.list = good.sort((a, b) => b.at - a.at)
  }

  /**
   * @param trend the recording that lies over it
   * @returns the name it is kept by, or nothing where it could not be kept
   */
  async add(name: string, document: Json, trend?: Laid): Promise<string | undefined> {
    const free = freeName(
      name,
      this.list.map((own) => own.name),
    )
    const record: OwnRecord = {
      version: RECORD_VERSION,
      id: newId(),
      at: this.now(),
      name: free,
      document: withValue(document, ['title'], free),
      ...(trend && { trend }),
    }
    return (await this.#put(record)) ? free : undefined
  }

  async rename(own: OwnRecord, name: string): Promise<void> {
    const trimmed = name.trim().slice(0, longestName)
    const others = this.list.filter(({ id }) => id !== own.id).map((other) => other.name)
    if (trimmed === '' || trimmed === own.name) return
    const free = freeName(trimmed, others)
    await this.#put({ ...own, name: free, document: withValue(own.document, ['title'], free) })
  }

  async remove(own: OwnRecord): Promise<void> {
    const { store } = this.keeper
    if (!store || !(await this.keeper.attempt(() => store.remove('own', own.id)))) return
    this.list = this.list.filter(({ id }) => id !== own.id)
    this.deleted = own
  }

  async putBack(): Promise<void> {
    const own = this.deleted
    if (own && (await this.#put(own))) this.deleted = null
  }

  async #put(record: OwnRecord): Promise<boolean> {
    const { store } = this.keeper
    if (!store || !(await this.keeper.attempt(() => store.put('own', record)))) return false
    this.list = [record, ...this.list.filter(({ id }) => id !== record.id)].sort((a, b) => b.at - a.at)
    return true
  }

  async #setAside(raw: unknown, why: string): Promise<void> {
    const { store } = this.keeper
    const id = typeof raw === 'object' && raw !== null && 'id' in raw ? String(raw.id) : newId()
    this.keeper.say(`broken ${id}`, `A line of your own could not be read and was set aside (${why}).`, { broken: raw })
    const aside = { id: `own ${id}`, at: this.now(), record: raw }
    if (store && (await this.keeper.attempt(() => store.put('aside', aside)))) await store.remove('own', id)
  }
}

/** The name, numbered where it is taken. */
export function freeName(name: string, taken: readonly string[]): string {
  if (!taken.includes(name)) return name
  let number = 2
  while (taken.includes(`${name} (${number})`)) number++
  return `${name} (${number})`
}

/** As the gallery opens it. */
export const scenarioOf = ({ id, name, document }: OwnRecord): Scenario => {
  return { key: `own/${id}`, title: name, about: 'A line of your own.', document }
}
