/**
 * From a scenario to the roll that it winds: everything that the roll's own models need, SI, with where each figure comes from.
 *
 * Equations    stack along the film: E_t = E h/h_eff, wound-on stress F_w/(W h_eff): force over width and lap pitch
 *              (the laps and what lies between them are taken as one material)
 * Source       own derivation (mean over a lap)
 */
import * as v from 'valibot'
import type { FilmSpec } from '../film/film'
import { illustrativeStack, inRollSchema, stackModulus, type InRollSpec, type StackSpec } from '../film/stack'
import { Line } from '../line/line'
import type { PartSpec } from '../line/parts'
import { operatingPoint } from '../line/rest'
import type { TaperSpec } from '../line/taper'
import type { CoreTube, LaterSpec } from '../line/wound-roll'
import type { Scenario } from '../scenario/schema'
import type { LimitsSpec } from '../scenario/settings'
import { own, type Place } from '../units'
import { coreStiffness, type Tube } from './core'
import type { RingPlace, Winding } from './march'
import { WoundOn, type Ring } from './wound-on'

type Rewind = Extract<PartSpec, { part: 'rewind' }>

/** From the weakest to the strongest. */
export const bases = ['illustrative', 'from memory', 'published', 'stated', 'measured'] as const
export type Basis = (typeof bases)[number]

/** What a figure of the verdict may rest on. */
export type InputName = 'stack modulus' | 'friction' | 'core' | 'air' | 'limit' | 'tension' | 'fill factor' | 'film'

export interface RollInput {
  readonly title: string
  readonly film: Pick<
    FilmSpec,
    | 'thickness'
    | 'width'
    | 'modulus'
    | 'density'
    | 'poisson'
    | 'elasticLimit'
    | 'fillFactor'
    | 'roughness'
    | 'expansion'
  >
  /** name of the film in the list of films */
  readonly filmKey: string
  readonly inRoll: InRollSpec
  readonly stack: StackSpec
  /** outer: m, radius of the bare core */
  readonly core: Tube & { readonly expansion: number }
  readonly taper: TaperSpec
  /** the group of fields that states the taper; undefined where the tension is the line's own and no taper is set */
  readonly taperAt: Place | undefined
  /** the line gave no tension of its own: it is the threading tension */
  readonly tensionAssumed: boolean
  /** m, where the scenario asks for its run to be put in; undefined where it does not */
  readonly ringAt: number | undefined
  /** place of the rewind in the line */
  readonly rewindAt: number
  /** m */
  readonly fullRadius: number
  /** m/s and m/s² */
  readonly speed: number
  readonly acceleration: number
  /** N, what the lay-on roller adds */
  readonly layOn: number
  /** N, what more load of it could add before it adds no more; undefined where no lay-on roller is fitted */
  readonly layOnRoom: number | undefined
  readonly airKept: number
  readonly rings: readonly Ring[]
  readonly later: LaterSpec
  readonly limits: LimitsSpec
  readonly basis: Readonly<Record<InputName, Basis>>
  /** limits that the scenario itself states */
  readonly statedLimits: ReadonlySet<keyof LimitsSpec>
}

/** The roll that a scenario winds. `document` is what it was read from: it tells what was stated and what is a default. */
export function rollInput(scenario: Scenario, document: unknown, rings: readonly Ring[] = []): RollInput {
  const rewindAt = scenario.line.findIndex(({ part }) => part === 'rewind')
  const [unwind, rewind] = [scenario.line[0], scenario.line[rewindAt]]
  if (unwind?.part !== 'unwind' || rewind?.part !== 'rewind')
    throw new RangeError('a line needs an unwind and a rewind')
  const film = scenario.films[unwind.film]
  const inRoll = film.inRoll ?? v.parse(inRollSchema, {})
  const { taper, taperAt, tensionAssumed } = taperOf(scenario, rewind, rewindAt)
  const tube = rewind.coreTube ?? boardCore(rewind)
  const stack = inRoll.stack ?? illustrativeStack
  const written = (...place: Place) => place.reduce<unknown>(own, document) !== undefined
  const stated = (is: boolean): Basis => (is ? 'stated' : 'illustrative')
  const filmAt = ['films', unwind.film] as const
  return {
    ...{ title: scenario.title, film, filmKey: unwind.film, inRoll, stack, taper, taperAt, tensionAssumed },
    ...{ rewindAt, rings, ringAt: rewind.ringAt === undefined ? undefined : rewind.ringAt / 2 },
    core: { ...tube, outer: rewind.core / 2, bore: tube.bore / 2 },
    fullRadius: taper.fullDiameter / 2,
    speed: topSpeed(scenario),
    acceleration: scenario.speed.acceleration,
    ...layOnOf(rewind),
    airKept: rewind.airKept,
    later: rewind.later ?? { shrinkAlong: 0, shrinkThrough: 0, filmWarmer: 0, coreWarmer: 0, airLeaves: 0 },
    limits: scenario.limits,
    statedLimits: new Set(Object.keys(scenario.limits).filter((key) => written('limits', key)) as (keyof LimitsSpec)[]),
    basis: {
      'stack modulus': stack.basis,
      friction: stated(written(...filmAt, 'inRoll', 'friction')),
      core: stated(rewind.coreTube !== undefined),
      air: stated(written('line', rewindAt, 'airKept')),
      limit: 'illustrative',
      tension: 'stated',
      'fill factor': stated(written(...filmAt, 'fillFactor')),
      film: 'stated',
    },
  }
}

function layOnOf({ layOn: roller }: Rewind): Pick<RollInput, 'layOn' | 'layOnRoom'> {
  if (roller === undefined) return { layOn: 0, layOnRoom: undefined }
  const { friction, load, saturation } = roller
  return { layOn: friction * Math.min(load, saturation), layOnRoom: friction * Math.max(0, saturation - load) }
}

type Tapered = Pick<RollInput, 'taper' | 'taperAt' | 'tensionAssumed'>

/** The taper of the winder's own drive, else of the control that holds its tension; else the tension of the line at its start. */
function taperOf(scenario: Scenario, rewind: Rewind, rewindAt: number): Tapered {
  if (rewind.drive.kind === 'torque')
    return { taper: rewind.drive, taperAt: ['line', rewindAt, 'drive'], tensionAssumed: false }
  for (const [at, control] of scenario.control.entries()) {
    const holds =
      (control.control === 'tension trim' && control.drives === rewind.name) ||
      (control.control === 'force taper' && control.measures === rewind.name)
    if (holds) return { taper: control, taperAt: ['control', at], tensionAssumed: false }
  }
  const unwind = scenario.line[0]
  const held = unwind?.part === 'unwind' ? unwind.diameter ** 2 - unwind.core ** 2 : 0
  const fullDiameter = Math.sqrt(rewind.core ** 2 + held)
  const atStart = lineTension(scenario)
  const tension = atStart ?? scenario.speed.threadingTension
  const fixed = { law: 'constant', taper: 0, blend: 0.5, exponent: 0.3, table: undefined } as const
  return { taper: { ...fixed, tension, fullDiameter }, taperAt: undefined, tensionAssumed: atStart === undefined }
}

/** N, tension of the last span as the line starts; undefined where it finds no rest. */
function lineTension(scenario: Scenario): number | undefined {
  const line = new Line(scenario)
  const start = operatingPoint(line)
  if (!start.ok) return undefined
  line.rates(0, start.y)
  return line.spans.force[line.spans.count - 1]
}

function topSpeed({ speed, stage }: Scenario): number {
  const later = stage.flatMap((event) => (event.do === 'speed' || event.do === 'start' ? [event.to] : []))
  return Math.max(speed.start, ...later)
}

/** m, bore of a board core of an outer diameter. Illustrative. */
export const usualBoreOf = (core: number): number => core * (76.2 / 90)

/** A board core with the usual bore. Illustrative. */
function boardCore({ core }: Rewind): CoreTube {
  return { bore: usualBoreOf(core), modulus: 3e9, poisson: 0.3, expansion: 1e-5 }
}

/** m, what a lap adds to the radius. */
export const lapOf = ({ film }: RollInput): number => film.thickness * film.fillFactor

/** The wound-on tension along the radius. */
export const woundOnOf = ({ taper, core, layOn, rings }: RollInput): WoundOn =>
  new WoundOn(taper, core.outer, layOn, rings)

/** The roll as its stress model takes it. */
export function windingOf(input: RollInput): Winding {
  const { film, core, fullRadius, stack } = input
  const along = film.modulus / film.fillFactor
  const section = film.width * lapOf(input)
  const tension = woundOnOf(input)
  return {
    coreRadius: core.outer,
    outerRadius: fullRadius,
    along,
    through: stackModulus(stack),
    core: along / coreStiffness(core) + film.poisson,
    woundOn: (from, to) => tension.mean(from, to) / section,
    rings: ringPlaces(input),
  }
}

/** Rings as far as they lie in the roll. */
function ringPlaces({ rings, core, fullRadius }: RollInput): RingPlace[] {
  return rings.flatMap(({ radius }) => {
    const from = Math.log(Math.max(radius[0], core.outer) / core.outer)
    const to = Math.log(Math.min(radius[radius.length - 1], fullRadius) / core.outer)
    return to > from ? [{ middle: (from + to) / 2, width: to - from }] : []
  })
}
