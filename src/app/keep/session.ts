/** The tab's own memory, which outlives a reload and a crash of the page, but not the tab. */
import type { Session } from './keeper.svelte'

const key = 'spanwright work'

export const tabMemory: Session = {
  read: () => {
    try {
      return sessionStorage.getItem(key)
    } catch {
      return null
    }
  },
  /** Refused: after a reload the work kept last is taken up, as in a new tab. */
  write: (id) => {
    try {
      sessionStorage.setItem(key, id)
    } catch {
      return
    }
  },
}
