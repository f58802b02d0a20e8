/** What was typed after `sweep`. */
import type { Ends } from '../tune/vary'

export interface SweepCommand {
  readonly command: 'sweep'
  /** '-': standard input */
  readonly file: string
  readonly vary: readonly Ends[]
  readonly sets: readonly { readonly path: string; readonly value: string }[]
  /** which share, from 1, of how many */
  readonly share: { readonly number: number; readonly of: number }
  readonly json: boolean
  readonly csv: string | undefined
}

/** PATH=FROM..TO/N; a unit may hold a stroke too. */
const varyPattern = /^([^=]+)=(.+?)\.\.(.+)\/(\d{1,5})$/
const sharePattern = /^(\d{1,4})\/(\d{1,4})$/

/** The variation that a text stands for; undefined when it is none. */
export function readVary(text: string): Ends | undefined {
  const [, path = '', from = '', to = '', count = ''] = varyPattern.exec(text) ?? []
  const ends = { path: path.trim(), from: from.trim(), to: to.trim(), count: Number(count) }
  return ends.path === '' || ends.from === '' || ends.to === '' || ends.count < 1 ? undefined : ends
}

/** The share that a text stands for; all when there is none, undefined when it is no share. */
export function readShare(text: string | undefined): SweepCommand['share'] | undefined {
  if (text === undefined) return { number: 1, of: 1 }
  const [, number = '', of = ''] = sharePattern.exec(text) ?? []
  const share = { number: Number(number), of: Number(of) }
  return share.number >= 1 && share.number <= share.of ? share : undefined
}
