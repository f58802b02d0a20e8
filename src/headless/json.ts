/** The one object that `run --json` prints: SI units, the same text for the same run. */
import type { Outcome } from '../run/outcome'

export function jsonText(outcome: Outcome, wallMs?: number): string {
  return JSON.stringify({ ...content(outcome), ...(wallMs === undefined ? {} : { wallMs }) }, null, 2)
}

function content(outcome: Outcome): object {
  if (outcome.outcome !== 'finished') return outcome
  const { title, ...figures } = outcome.summary
  return { title, outcome: outcome.outcome, ...figures }
}
