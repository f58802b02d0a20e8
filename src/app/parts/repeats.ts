/** Happenings that come again and again are told once, with all their instants. */
import type { Happening } from '../../run/record'

export interface Repeated {
  readonly say: string
  /** s, ascending */
  readonly times: readonly number[]
}

/** In the order in which they happened first. */
export function repeated(happenings: readonly Happening[]): Repeated[] {
  const bySay = new Map<string, number[]>()
  for (const { at, say } of happenings) {
    const times = bySay.get(say)
    if (times) times.push(at)
    else bySay.set(say, [at])
  }
  return [...bySay].map(([say, times]) => ({ say, times }))
}
