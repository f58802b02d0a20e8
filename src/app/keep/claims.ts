/** Which records belong to a tab that is open: each tab holds a lock on its own, which ends with the tab, however it ends. */

export interface Claims {
  /** Whether this tab has the record from now on; asks until `patience` ms have passed. */
  take(id: string, patience: number): Promise<boolean>
  /** Records that some tab has now. */
  taken(): Promise<ReadonlySet<string>>
}

const prefix = 'spanwright/work/'

/** Never lets go: the browser does, when the tab ends. */
const forEver = new Promise<void>(() => undefined)

export class WebClaims implements Claims {
  /** Where there are no locks (an address without https) nothing can be known to be free. */
  readonly #locks: LockManager | undefined = navigator.locks

  take(id: string, patience: number): Promise<boolean> {
    const locks = this.#locks
    if (!locks) return Promise.resolve(false)
    return new Promise((settle) => {
      const options = patience > 0 ? { signal: AbortSignal.timeout(patience) } : { ifAvailable: true }
      const held = (lock: Lock | null) => {
        settle(lock !== null)
        return lock ? forEver : undefined
      }
      locks.request(prefix + id, options, held).catch(() => settle(false))
    })
  }

  async taken(): Promise<ReadonlySet<string>> {
    const { held = [] } = (await this.#locks?.query()) ?? {}
    const names = held.map(({ name = '' }) => name).filter((name) => name.startsWith(prefix))
    return new Set(names.map((name) => name.slice(prefix.length)))
  }
}

/** Told apart from all others, here and in other tabs. */
export function newId(): string {
  return [...crypto.getRandomValues(new Uint32Array(3))].map((word) => word.toString(36)).join('-')
}
