/** Tabs that know of each other by asking, where the browser has no locks for them. */
import type { Claims } from './claims'

/** As much of a broadcast channel as is needed: what is posted comes to all other tabs. */
export type Wire = Pick<BroadcastChannel, 'postMessage' | 'addEventListener' | 'removeEventListener'>

const question = 'which are taken?'
/** ms that an answer may take: a tab answers between two frames */
const patienceForOne = 150

export class ChannelClaims implements Claims {
  readonly #held = new Set<string>()

  constructor(private readonly wire: Wire) {
    wire.addEventListener('message', ({ data }: MessageEvent<unknown>) => {
      if (data === question) wire.postMessage([...this.#held])
    })
  }

  async take(id: string, patience: number): Promise<boolean> {
    // Held while it is asked for: two tabs that ask at once never both get it.
    this.#held.add(id)
    for (let left = patience; ; left -= patienceForOne) {
      const others = await this.#others()
      if (!others.has(id)) return true
      if (left <= patienceForOne) break
    }
    this.#held.delete(id)
    return false
  }

  async taken(): Promise<ReadonlySet<string>> {
    return new Set([...this.#held, ...(await this.#others())])
  }

  async #others(): Promise<ReadonlySet<string>> {
    const others = new Set<string>()
    const hear = ({ data }: MessageEvent<unknown>) => {
      if (Array.isArray(data)) for (const id of data) others.add(String(id))
    }
    this.wire.addEventListener('message', hear)
    this.wire.postMessage(question)
    await new Promise((go) => setTimeout(go, patienceForOne))
    this.wire.removeEventListener('message', hear)
    return others
  }
}
