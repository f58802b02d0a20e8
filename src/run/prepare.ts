/** From a document to a run that is ready to step. */
import { readDocument } from '../scenario/read'
import type { Failed, Refused } from './outcome'
import { begin, type Run } from './run'

/** Reads a document (parsed JSON) and makes it ready to run: refused by field, failed when it has no state to start from. */
export function prepare(document: unknown): Run | Refused | Failed {
  const reading = readDocument(document)
  if (!reading.ok) return { outcome: 'refused', problems: reading.problems }
  return begin(reading.scenario)
}
