/** The browser's database: the only file that knows idb. */
import { openDB, type DBSchema } from 'idb'
import type { Kept, Shelf, Store } from './store'

interface Shelves extends DBSchema {
  work: { key: string; value: Kept }
  own: { key: string; value: Kept }
  aside: { key: string; value: Kept }
  trend: { key: string; value: Kept }
}

const shelves: readonly Shelf[] = ['work', 'own', 'aside', 'trend']

/** Of the shelves; records have a version of their own. */
const version = 2

/** ms; a database that does not answer is done without */
const patience = 3000

/** Fails where the browser keeps nothing, such as in some private windows, or where a newer version has changed the shelves. */
export async function openDatabase(): Promise<Store> {
  const opening = openDB<Shelves>('spanwright', version, {
    upgrade: (database) => {
      for (const shelf of shelves) {
        if (!database.objectStoreNames.contains(shelf)) database.createObjectStore(shelf, { keyPath: 'id' })
      }
    },
    // A newer version of this page is being opened in another tab: it must not wait for this one.
    blocking: () => void opening.then((database) => database.close()),
  })
  const late = new Promise<never>((_, reject) => setTimeout(() => reject(new Error('no answer')), patience))
  const database = await Promise.race([opening, late])
  return {
    all: (shelf) => database.getAll(shelf),
    get: (shelf, id) => database.get(shelf, id),
    ids: (shelf) => database.getAllKeys(shelf),
    put: async (shelf, record) => {
      await database.put(shelf, record)
    },
    remove: (shelf, id) => database.delete(shelf, id),
  }
}
