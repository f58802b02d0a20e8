/** Where, along a field that was varied, a figure keeps to its limit. */
import type { RunPlan } from '../run/record'

export interface FigureLimit {
  /** SI */
  readonly limit: number
  /** which side of it is good */
  readonly holds: 'up to' | 'from'
}

const fromBelow: ReadonlySet<string> = new Set(['least tension', 'least grip left'])

/** Which side of a limit is good for a figure, by its key. */
export const goodSide = (key: string): FigureLimit['holds'] =>
  fromBelow.has(key.split('/')[0] ?? '') ? 'from' : 'up to'

/** Whether a splice may bring another film, and with it another limit of tension; the plan's are those of the first film. */
export const filmChanges = ({ channels }: RunPlan): boolean => channels.some(({ group }) => group === 'limit')

/** What the verdict holds a figure of this plan's run against; undefined for one that it does not judge. */
export function limitOf(key: string, plan: RunPlan): FigureLimit | undefined {
  const [what = '', ...rest] = key.split('/')
  if (what === 'greatest tension' && filmChanges(plan)) return undefined
  const owner = rest.join('/')
  const spans = owner === '' ? plan.spans : plan.spans.filter(({ name }) => name === owner)
  const limit = limits[what]?.(spans)
  return limit === undefined || !Number.isFinite(limit) ? undefined : { limit, holds: goodSide(key) }
}

/** Of several spans the strictest. */
const limits: Readonly<Record<string, (spans: RunPlan['spans']) => number>> = {
  'share of elastic limit': (spans) => Math.min(...spans.map(({ most, elasticTension }) => most / elasticTension)),
  'least tension': (spans) => Math.max(...spans.map(({ least }) => least)),
  'greatest tension': (spans) => Math.min(...spans.map(({ most }) => most)),
  'slack time': () => 0,
  'time on a stop': () => 0,
  'least grip left': () => 0,
  'share of torque limit': () => 1,
}

export const keeps = (figure: number, { limit, holds }: FigureLimit): boolean =>
  holds === 'up to' ? figure <= limit : figure >= limit

/** One value of the field, in rising order, and whether its run keeps its limit; null where that cannot be told. */
export interface Sample {
  readonly x: number
  readonly kept: boolean | null
}

interface Bracket {
  readonly low: number
  readonly high: number
}

/** Neighbours between which the limit is crossed. */
export function brackets(samples: readonly Sample[]): Bracket[] {
  return samples.slice(1).flatMap((after, i) => {
    const before = samples[i]
    if (!before || before.kept === null || after.kept === null) return []
    return before.kept === after.kept ? [] : [{ low: before.x, high: after.x }]
  })
}

export interface Stretch {
  readonly from: number
  readonly to: number
  /** what ends it on either side: the limit, the end of what was asked, or a value that cannot be run */
  readonly begins: 'limit' | 'end' | 'no run'
  readonly ends: 'limit' | 'end' | 'no run'
}

/**
 * Stretches over which the figure keeps to its limit, as far as the samples tell.
 * @param crossings where the limit is crossed, for each bracket in its order
 */
export function stretches(samples: readonly Sample[], crossings: readonly number[]): Stretch[] {
  const found: Stretch[] = []
  const places = [...crossings]
  let open: Pick<Stretch, 'from' | 'begins'> | undefined
  for (const [i, { x, kept }] of samples.entries()) {
    const before = samples[i - 1]
    const good = kept === true
    const wasGood = before?.kept === true
    const isCrossed = before !== undefined && before.kept !== null && kept !== null && good !== wasGood
    const at = isCrossed ? (places.shift() ?? x) : x
    if (good && !wasGood) open = { from: at, begins: isCrossed ? 'limit' : i === 0 ? 'end' : 'no run' }
    if (!good && wasGood && open) {
      found.push({ ...open, to: isCrossed ? at : (before?.x ?? x), ends: isCrossed ? 'limit' : 'no run' })
      open = undefined
    }
  }
  const last = samples.at(-1)
  if (open && last) found.push({ ...open, to: last.x, ends: 'end' })
  return found
}
