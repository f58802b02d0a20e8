/** Where a figure of the run crosses a limit while one field changes from one end to the other: bisection. */
import { setField } from '../scenario/path'
import { formatNumber, formatQuantity, type Kind } from '../units'
import { caseOf } from './sweep'

export interface LimitSearch {
  readonly document: unknown
  readonly path: string
  /** kind and unit in which the field's values are written; null for a plain number */
  readonly kind: Kind | null
  readonly unit: string
  /** SI */
  readonly from: number
  readonly to: number
  /** key of the figure */
  readonly figure: string
  /** SI */
  readonly limit: number
  /** after which the place is known well enough; left out, to a four-thousandth of the range */
  readonly halvings?: number
}

export type LimitFound =
  /** `value` lies within `within` of where the figure crosses the limit; SI. */
  | { readonly found: true; readonly value: number; readonly within: number; readonly runs: number }
  /** Both ends lie on the same side. */
  | { readonly found: false; readonly at: readonly [number, number] }
  | { readonly found: 'broken'; readonly value: number; readonly say: string }

const HALVINGS = 12

class Broken extends Error {
  constructor(
    readonly value: number,
    readonly say: string,
  ) {
    super(say)
  }
}

/** A job without anything in common to its inputs. */
export function limitSearch(): (search: LimitSearch) => Generator<number, LimitFound> {
  return function* (search) {
    try {
      return yield* bisect(search)
    } catch (error) {
      if (error instanceof Broken) return { found: 'broken', value: error.value, say: error.say }
      throw error
    }
  }
}

function* bisect(search: LimitSearch): Generator<number, LimitFound> {
  const { limit, halvings = HALVINGS } = search
  let [low, high] = [search.from, search.to]
  const atLow = yield* figureAt(search, low, 0)
  const atHigh = yield* figureAt(search, high, 1)
  if (atLow > limit === atHigh > limit) return { found: false, at: [atLow, atHigh] }
  for (let i = 0; i < halvings; i++) {
    const middle = (low + high) / 2
    const isLow = (yield* figureAt(search, middle, i + 2)) > limit === atLow > limit
    if (isLow) low = middle
    else high = middle
  }
  return { found: true, value: (low + high) / 2, within: Math.abs(high - low) / 2, runs: halvings + 2 }
}

/** As it stands in the field. */
const written = (value: number, { kind, unit }: LimitSearch): string =>
  kind === null ? formatNumber(value, 10) : formatQuantity(value, unit, 10, kind)

/** The figure of the run with this value in the field; `run` counts the runs for the share that is done. */
function* figureAt(search: LimitSearch, value: number, run: number): Generator<number, number> {
  const setting = setField(search.document, search.path, written(value, search))
  if (!setting.ok) throw new Broken(value, setting.problem.say)
  const work = caseOf(setting.document)
  let step = work.next()
  for (; step.done !== true; step = work.next()) yield (run + step.value) / ((search.halvings ?? HALVINGS) + 2)
  if (step.value.outcome !== 'finished') throw new Broken(value, step.value.say)
  const figure = step.value.figures.find(({ key }) => key === search.figure)?.value
  if (figure === undefined || figure === null) {
    throw new Broken(value, `The run has no figure "${search.figure}".`)
  }
  return figure
}
