/** The spans of the line in hand over the tensions of its last run, worst first. */
import { readDocument } from '../../../scenario/read'
import { lineSpans, type LineSpan } from '../../../wrinkle'
import type { Desk } from '../../state/desk.svelte'

/** Empty without a finished run: the scenario as it was when its run ended, and figures of both belong together. */
export function spansOf({ run, work }: Desk): LineSpan[] {
  if (!run.result || run.phase !== 'finished') return []
  const reading = readDocument(work.document)
  return reading.ok ? lineSpans(reading.scenario, run.result.summary.spans) : []
}
