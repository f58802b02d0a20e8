/** Where a figure of the run crosses a limit while one field changes from one end to the other: bisection. */
import { setField } from '../scenario/path'
import { formatNumber, formatQuantity, type Kind } from '../units'
import { goodSide, keeps } from './holding'
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
  /** SI; null for the limit that each run has of its own */
  readonly limit: number | null
  /** after which the place is known well enough; left out, to a four-thousandth of the range */
  readonly halvings?: number
}

export type LimitFound =
  /** Of the last two values run on either side of the crossing, the one that keeps the limit and the one `beyond` it; SI. */
  | { readonly found: true; readonly value: number; readonly beyond: number; readonly runs: number }
  /** Both ends lie on the same side; their figures. */
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
  const { halvings = HALVINGS } = search
  let [low, high] = [search.from, search.to]
  const atLow = yield* runAt(search, low, 0)
  const atHigh = yield* runAt(search, high, 1)
  const { kept } = atLow
  if (kept === atHigh.kept) return { found: false, at: [atLow.figure, atHigh.figure] }
  for (let i = 0; i < halvings; i++) {
    const middle = (low + high) / 2
    const at = yield* runAt(search, middle, i + 2)
    if (at.kept === kept) low = middle
    else high = middle
  }
  const [value, beyond] = kept ? [low, high] : [high, low]
  return { found: true, value, beyond, runs: halvings + 2 }
}

/** As it stands in the field. */
const written = (value: number, { kind, unit }: LimitSearch): string =>
  kind === null ? formatNumber(value, 10) : formatQuantity(value, unit, 10, kind)

/** The run with this value in the field, by its figure; `run` counts the runs for the share that is done. */
function* runAt(search: LimitSearch, value: number, run: number): Generator<number, { figure: number; kept: boolean }> {
  const setting = setField(search.document, search.path, written(value, search))
  if (!setting.ok) throw new Broken(value, setting.problem.say)
  const work = caseOf(setting.document)
  let step = work.next()
  for (; step.done !== true; step = work.next()) yield (run + step.value) / ((search.halvings ?? HALVINGS) + 2)
  if (step.value.outcome !== 'finished') throw new Broken(value, step.value.say)
  const figure = step.value.figures.find(({ key }) => key === search.figure)
  if (!figure || figure.value === null) throw new Broken(value, `The run has no figure "${search.figure}".`)
  const limit = search.limit === null ? figure.limit : { limit: search.limit, holds: goodSide(figure.key) }
  if (!limit) throw new Broken(value, `The verdict knows no limit for "${search.figure}": state one.`)
  return { figure: figure.value, kept: keeps(figure.value, limit) }
}
