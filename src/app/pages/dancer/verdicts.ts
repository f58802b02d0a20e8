/** What may be said of runs and points of which not all need have an answer. Knows no screen. */

export interface Verdict {
  readonly severity: 'ok' | 'warn'
  readonly text: string
}

/** Of corners that all hold, as far as they ran: stopped early, or with one that broke off, the rest is not known. */
export function holding(ran: number, asked: number, computing: boolean): Verdict {
  if (computing) return { severity: 'ok', text: 'It holds in all corners so far.' }
  if (ran === asked) return { severity: 'ok', text: `It holds in all ${asked} runs.` }
  return { severity: 'warn', text: `It holds in the ${ran} of ${asked} that ran; of the others nothing is known.` }
}

/** Beside the least of some points: nothing where all have a figure, else of how many it is the least. */
export function amongPoints(known: number, asked: number, computing: boolean): string {
  if (known === asked) return ''
  return computing ? `, of ${known} points so far` : `, of the ${known} of ${asked} points that have a figure`
}
