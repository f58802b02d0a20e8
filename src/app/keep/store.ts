/** Where records are kept: the browser's database, or memory where there is none. */

/** Work in hand, a record for each tab; lines of one's own; records that could not be read; recordings. */
export type Shelf = 'work' | 'own' | 'aside' | 'trend'

export interface Kept {
  readonly id: string
}

export interface Store {
  /** Whatever lies there: it may have been written by another version of this page, or by somebody else. */
  all(shelf: Shelf): Promise<readonly unknown[]>
  get(shelf: Shelf, id: string): Promise<unknown>
  ids(shelf: Shelf): Promise<readonly string[]>
  put(shelf: Shelf, record: Kept): Promise<void>
  remove(shelf: Shelf, id: string): Promise<void>
}

/** Until the page is closed. */
export class MemoryStore implements Store {
  readonly #shelves: Readonly<Record<Shelf, Map<string, unknown>>> = {
    work: new Map(),
    own: new Map(),
    aside: new Map(),
    trend: new Map(),
  }

  all(shelf: Shelf): Promise<readonly unknown[]> {
    return Promise.resolve([...this.#shelves[shelf].values()])
  }

  get(shelf: Shelf, id: string): Promise<unknown> {
    return Promise.resolve(this.#shelves[shelf].get(id))
  }

  ids(shelf: Shelf): Promise<readonly string[]> {
    return Promise.resolve([...this.#shelves[shelf].keys()])
  }

  put(shelf: Shelf, record: Kept): Promise<void> {
    this.#shelves[shelf].set(record.id, record)
    return Promise.resolve()
  }

  remove(shelf: Shelf, id: string): Promise<void> {
    this.#shelves[shelf].delete(id)
    return Promise.resolve()
  }
}
