/** One corner of what is not known for sure, run to its end, as a job of the pool. */
import type { Summary } from '../run/summary'
import { runDocument } from './run-document'
import type { Trouble } from './setup'
import type { Corner } from './tolerance'

export interface CornerAnswer {
  readonly ok: true
  readonly name: string
  readonly summary: Summary
}

/** A job without anything in common to its inputs: each corner is a scenario of its own. */
export function askCorner(): (corner: Corner) => Generator<number, CornerAnswer | Trouble> {
  return function* ({ name, document }) {
    const ended = yield* runDocument(document)
    if (ended.outcome === 'finished') return { ok: true, name, summary: ended.summary }
    if (ended.outcome === 'failed') return { ok: false, say: `${name}: ${ended.say}`, field: ended.state }
    return { ok: false, say: `${name}: ${ended.problems.map(({ say }) => say).join(' ')}` }
  }
}
