/** A roll from first lap to storage: wound, then changed. Bad input is refused by field; nothing is thrown. */
import { softensAt, stackModulus } from '../film/stack'
import { formatQuantity, problemAt, type Place, type Problem } from '../units'
import { airFilm } from '../film/air'
import { compressed } from './air'
import { lapOf, windingOf, woundOnOf, type RollInput } from './input'
import { change, type Changed } from './later'
import { wind, type Wound } from './stress'

export interface RollResult {
  readonly outcome: 'finished'
  readonly input: RollInput
  readonly wound: Wound
  /** after shrinkage, warming and air leaving; undefined when nothing happens to the roll */
  readonly later: Changed | undefined
  /** N, wound-on tension at the nodes */
  readonly tension: Float64Array
  /** m, air layer at the nodes: as wound, and later */
  readonly air: Float64Array
  readonly airLater: Float64Array
}

export type RollOutcome = RollResult | { readonly outcome: 'refused'; readonly problems: readonly Problem[] }

export interface RollOptions {
  readonly shells?: number
  /** of the growth, to be kept */
  readonly stages?: number
}

const STAGES = 24
/** How far beyond the largest pressure of the roll its stack must still have stiffness. */
const BEYOND = 1.5

/** Computes a roll. `document`: what the scenario was read from, for messages. */
export function solveRoll(input: RollInput, document?: unknown, options: RollOptions = {}): RollOutcome {
  const refused = problems(input, document)
  if (refused.length > 0) return { outcome: 'refused', problems: refused }
  const winding = windingOf(input)
  const wound = wind(winding, options.shells, options.stages ?? STAGES)
  if ('softened' in wound) return { outcome: 'refused', problems: [softened(input, document, wound.softened)] }
  const { radius, pressure } = wound
  // a pile that gives way never lets the pressure reach that point: it stays just below
  const soft = softensAt(winding.through, BEYOND * Math.max(...pressure))
  if (soft !== undefined) return { outcome: 'refused', problems: [softened(input, document, soft)] }
  const tension = tensionAlong(input, radius)
  const fresh = radius.map((r, i) => layer(input, r, tension[i]))
  const air = fresh.map((h, i) => compressed(h, pressure[i]))
  const later = changedBy(input, wound, air)
  const left = 1 - input.later.airLeaves
  const airLater = fresh.map((h, i) => left * compressed(h, later?.pressure[i] ?? pressure[i]))
  return { outcome: 'finished', input, wound, later, tension, air, airLater }
}

/** Means of the shells about the nodes, so that a ring shows as it was wound in. */
function tensionAlong(input: RollInput, radius: Float64Array): Float64Array {
  const woundOn = woundOnOf(input)
  const last = radius.length - 1
  return radius.map((r, i) => {
    const from = i === 0 ? r : (r + radius[i - 1]) / 2
    const to = i === last ? r : (r + radius[i + 1]) / 2
    return woundOn.mean(from, to)
  })
}

/** m at atmosphere: the share of the carried air that stays. */
function layer({ film, speed, airKept }: RollInput, radius: number, tension: number): number {
  return tension > 0 ? airKept * airFilm(radius, 2 * speed, tension / film.width) : 0
}

function changedBy(input: RollInput, wound: Wound, air: Float64Array): Changed | undefined {
  const { film, later, inRoll, core } = input
  const along = film.expansion * later.filmWarmer - later.shrinkAlong
  const through = inRoll.expansionThrough * later.filmWarmer - later.shrinkThrough
  const atCore = core.expansion * later.coreWarmer
  const leaving = air.map((h) => through - (later.airLeaves * h) / lapOf(input))
  if (along === 0 && atCore === 0 && leaving.every((e) => e === 0)) return undefined
  return change(windingOf(input), wound, { along, through: leaving, core: atCore })
}

function problems(input: RollInput, document: unknown): Problem[] {
  const { core, fullRadius, taper, taperAt, rewindAt } = input
  const found: Problem[] = []
  const line = ['line', rewindAt] as const
  if (!(fullRadius > core.outer)) {
    const place: Place = taperAt === undefined ? [...line, 'core'] : [...taperAt, 'fullDiameter']
    const expected = `a full roll larger than its core, ${formatQuantity(2 * core.outer, 'mm')}`
    found.push(problemAt(place, document, formatQuantity(2 * fullRadius, 'mm'), expected))
  }
  if (!(core.bore < core.outer)) {
    const expected = `a bore smaller than the core, ${formatQuantity(2 * core.outer, 'mm')}`
    found.push(problemAt([...line, 'coreTube', 'bore'], document, formatQuantity(2 * core.bore, 'mm'), expected))
  }
  if (!(taper.tension >= 0)) {
    const place: Place = taperAt === undefined ? line : [...taperAt, 'tension']
    found.push(problemAt(place, document, formatQuantity(taper.tension, 'N'), 'a tension of at least 0 N'))
  }
  const { ringAt } = input
  if (ringAt !== undefined && fullRadius > core.outer && !(ringAt >= core.outer && ringAt < fullRadius)) {
    const [from, to] = [2 * core.outer, 2 * fullRadius].map((d) => formatQuantity(d, 'mm'))
    const expected = `a diameter in the roll: from its core, ${from}, to below the full ${to}`
    found.push(problemAt([...line, 'ringAt'], document, formatQuantity(2 * ringAt, 'mm'), expected))
  }
  const soft = softensAt(stackModulus(input.stack), 0)
  if (soft !== undefined) found.push(softened(input, document, soft))
  return found
}

function softened({ filmKey, stack }: RollInput, document: unknown, pressure: number): Problem {
  const place: Place = ['films', filmKey, 'inRoll', 'stack']
  const found = `a stack modulus that is no longer above 0 at ${formatQuantity(pressure, 'kPa', 3)}`
  const hint =
    stack.law === 'cubic'
      ? 'its factors fit no further than the test went: take one of K2 and K3 away, or use the law "Pfeiffer"'
      : undefined
  return problemAt(place, document, found, 'one above 0 at every pressure that the roll reaches', hint)
}
