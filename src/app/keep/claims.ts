/** Which records belong to a tab that is open: each tab holds a lock on its own, which ends with the tab, however it ends. */
import { ChannelClaims } from './channel'

export interface Claims {
  /** Whether this tab has the record from now on; asks until `patience` ms have passed. Undefined: it cannot be told. */
  take(id: string, patience: number): Promise<boolean | undefined>
  /** Records that some tab has now; undefined where that cannot be told. */
  taken(): Promise<ReadonlySet<string> | undefined>
}

const prefix = 'spanwright/work/'

/** Never lets go: the browser does, when the tab ends. */
const forEver = new Promise<void>(() => undefined)

/** Browsers have locks only where the address is https or the machine itself; elsewhere tabs ask each other. */
export function openClaims(): Claims {
  const locks: LockManager | undefined = navigator.locks
  return locks ? new LockClaims(locks) : new ChannelClaims(new BroadcastChannel('spanwright/work'))
}

export class LockClaims implements Claims {
  constructor(private readonly locks: Pick<LockManager, 'request' | 'query'>) {}

  take(id: string, patience: number): Promise<boolean | undefined> {
    return new Promise((settle) => {
      const options = patience > 0 ? { signal: AbortSignal.timeout(patience) } : { ifAvailable: true }
      const held = (lock: Lock | null) => {
        settle(lock !== null)
        return lock ? forEver : undefined
      }
      // Some pages, such as files on some browsers, have locks and may not use them.
      this.locks
        .request(prefix + id, options, held)
        .catch((error: unknown) => settle(isLate(error) ? false : undefined))
    })
  }

  async taken(): Promise<ReadonlySet<string> | undefined> {
    const found = await this.locks.query().catch(() => undefined)
    const names = found?.held?.map(({ name = '' }) => name).filter((name) => name.startsWith(prefix))
    return names && new Set(names.map((name) => name.slice(prefix.length)))
  }
}

const isLate = (error: unknown) => error instanceof DOMException && error.name === 'TimeoutError'

/** Told apart from all others, here and in other tabs. */
export function newId(): string {
  return [...crypto.getRandomValues(new Uint32Array(3))].map((word) => word.toString(36)).join('-')
}
