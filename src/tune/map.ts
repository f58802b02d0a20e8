/**
 * A map over two quantities: how well damped the line is, or how much margin a loop has, cell by cell.
 *
 * Equations    least damping: least -Re s/|s|, rates s as in rates.ts; phase margin: loops.ts
 * Neglected    as in plant.ts
 * Source       own derivation
 */
import type { RunScenario } from '../run/run'
import { getField, withValue } from '../scenario/path'
import { fieldInfo, type Kind } from '../units'
import { Line } from '../line/line'
import { closedLine } from './closed'
import { eigenvaluesOf } from './eigenvalues'
import { neighbourOf, steadyNear, type Neighbour } from './near'
import { plantOf, type Plant } from './plant'
import { lawOf } from './law'
import { heldLine, leastDampingAmong, sampledRates } from './rates'
import { trimsOf } from './margin-course'
import { quickMargin } from './quick-margin'
import { impossible, scenarioAt, standAt, type Point, type Standing, type Trouble } from './setup'

export type Figure =
  | { readonly of: 'least damping' }
  /** of trim number `loop`: position trims first, then tension trims, as in loopGain */
  | { readonly of: 'phase margin'; readonly loop: number }

/** One side of a map. */
export interface Axis {
  /** `speed`, `unwind diameter`, `rewind diameter`, or the path of a field */
  readonly path: string
  /** SI */
  readonly from: number
  readonly to: number
  readonly scale: 'linear' | 'log'
}

/** What can be varied. */
export interface Quantity {
  readonly ok: true
  readonly path: string
  readonly kind: Kind | undefined
  /** SI, as the scenario has it; undefined where it states nothing */
  readonly value: number | undefined
  readonly meaning: string
  /** SI, allowed */
  readonly least: number
  readonly most: number
}

export interface MapQuestion {
  readonly across: Axis
  readonly up: Axis
  readonly figure: Figure
}

export interface Cell {
  /** the figure (1 or rad); NaN where there is none */
  readonly value: number
  /** why there is none */
  readonly say?: string
}

/** One map's worth of cells; keeps the last steady state as a start for the next. */
export interface Mapper {
  readonly ok: true
  /** the figure at two values, SI */
  cell(across: number, up: number): Cell
}

/** Value on an axis at a share 0..1 of its way. */
export function along({ from, to, scale }: Axis, share: number): number {
  return scale === 'log' ? from * (to / from) ** share : from + (to - from) * share
}

/** Share of its way at which a value lies on an axis. */
export function shareOf({ from, to, scale }: Axis, value: number): number {
  return scale === 'log' ? Math.log(value / from) / Math.log(to / from) : (value - from) / (to - from)
}

/** Evenly spaced values along an axis, both ends included. */
export function stations(axis: Axis, count: number): number[] {
  return Array.from({ length: count }, (_, k) => along(axis, count > 1 ? k / (count - 1) : 0))
}

const POINTS: Readonly<Record<string, { kind: Kind; meaning: string; key: keyof Point }>> = {
  speed: { kind: 'speed', meaning: 'Line speed', key: 'speed' },
  'unwind diameter': { kind: 'diameter', meaning: 'Diameter of the roll on the unwind', key: 'unwindDiameter' },
  'rewind diameter': { kind: 'diameter', meaning: 'Diameter of the roll on the rewind', key: 'rewindDiameter' },
}

/** What a path stands for in a map, a sweep or a search. */
export function quantityAt(scenario: RunScenario, path: string): Quantity | Trouble {
  const point = Object.hasOwn(POINTS, path) ? POINTS[path] : undefined
  if (point !== undefined) {
    const { kind, meaning } = point
    const [value, least, most] = pointRange(scenario, path)
    return { ok: true, path, kind, meaning, value, least, most }
  }
  const finding = getField(scenario, path)
  if (!finding.ok) return { ok: false, field: path, say: finding.problem.say }
  const info = fieldInfo(finding.field.schema)
  if (info === undefined || (info.type !== 'quantity' && info.type !== 'number')) {
    return {
      ok: false,
      field: path,
      say: `${path} is no number that could be varied: choose a quantity, such as a mass or a gain.`,
    }
  }
  const { value } = finding.field
  return {
    ...{ ok: true, path, kind: info.kind, meaning: info.notes.meaning },
    value: typeof value === 'number' ? value : undefined,
    least: info.least ?? info.above ?? -Infinity,
    most: info.most ?? Infinity,
  }
}

function pointRange(scenario: RunScenario, path: string): [number, number, number] {
  if (path === 'speed') return [scenario.speed.start, 0, 50]
  const wanted = path.startsWith('unwind') ? 'unwind' : 'rewind'
  const roll = scenario.line.find((p) => p.part === wanted)
  return roll !== undefined && 'core' in roll ? [roll.diameter, roll.core, 5] : [0.3, 0.05, 5]
}

/** A scenario with quantities set (SI), and the point that belongs to it. */
export function varied(
  scenario: RunScenario,
  settings: readonly (readonly [path: string, value: number])[],
): { scenario: RunScenario; point: Point } {
  let changed = scenario
  let point: Point = {}
  for (const [path, value] of settings) {
    if (Object.hasOwn(POINTS, path)) point = { ...point, [POINTS[path].key]: value }
    else {
      const finding = getField(changed, path)
      if (finding.ok) changed = withValue(changed, finding.field.place, value) as RunScenario
    }
  }
  return { scenario: changed, point }
}

/** Prepares a map; refused where a side is no quantity or leaves what its field allows. */
export function mapper(scenario: RunScenario, { across, up, figure }: MapQuestion): Mapper | Trouble {
  for (const axis of [across, up]) {
    const quantity = quantityAt(scenario, axis.path)
    if (!quantity.ok) return quantity
    const wrong = wrongAxis(axis, quantity)
    if (wrong !== undefined) return { ok: false, field: axis.path, say: wrong }
  }
  const at = (x: number, y: number) =>
    varied(scenario, [
      [across.path, x],
      [up.path, y],
    ])
  const onlyLaws = [across, up].every(({ path }) => isOfLaw(scenario, path)) && trimsOf(scenario).every(bringsBack)
  return { ok: true, cell: onlyLaws ? cellsOfLaws(at, figure) : cellsOfLines(at, figure) }
}

type At = (x: number, y: number) => { scenario: RunScenario; point: Point }
type CellAt = (x: number, y: number) => Cell

/** Every cell is a line of its own, which stands nearly as the one before. */
function cellsOfLines(at: At, figure: Figure): CellAt {
  let last: Neighbour | undefined
  return (x, y) => {
    const found = stand(at(x, y), last)
    if (!found.ok) return { value: Number.NaN, say: found.say }
    last = neighbourOf(found.line, found.y.slice())
    return figureOf(plantOf(found, false), figure)
  }
}

/** The line is the same in every cell, only what its trims make of what they measure is not. */
function cellsOfLaws(at: At, figure: Figure): CellAt {
  let plant: Plant | undefined
  return (x, y) => {
    const { scenario, point } = at(x, y)
    if (plant === undefined) {
      const found = standAt(scenario, point)
      if (!found.ok) return { value: Number.NaN, say: found.say }
      plant = plantOf(found, false)
    }
    const trims = trimsOf(scenario)
    const loops = plant.loops.map((loop, k) => {
      const law = lawOf({ law: trims[k], sign: loop.correction.sign }, loop.diameter)
      return { ...loop, law }
    })
    return figureOf({ ...plant, loops }, figure)
  }
}

const LAW_FIELDS = new Set(['gain', 'integral', 'sample', 'filter', 'derivativeTime', 'derivativeFilter'])

/** Whether a path leads to a number of a trim's law, which no steady state and no opened line knows. */
function isOfLaw(scenario: RunScenario, path: string): boolean {
  const finding = getField(scenario, path)
  if (!finding.ok) return false
  const { place } = finding.field
  return place[0] === 'control' && LAW_FIELDS.has(String(place.at(-1)))
}

/** With an integral part what is measured stands where it is wanted, whatever the gain. */
const bringsBack = ({ integral }: { readonly integral: number }) => integral > 0

function wrongAxis({ from, to, scale, path }: Axis, { least, most }: Quantity): string | undefined {
  if (!Number.isFinite(from) || !Number.isFinite(to) || from === to) return `${path} needs two different ends.`
  if (scale === 'log' && !(Math.min(from, to) > 0)) return `${path} on a logarithmic side needs ends above 0.`
  if (Math.min(from, to) < least || Math.max(from, to) > most) {
    return `${path} must stay within ${least} and ${most} (SI).`
  }
  return undefined
}

function stand(
  { scenario, point }: { scenario: RunScenario; point: Point },
  last: Neighbour | undefined,
): Standing | Trouble {
  if (last !== undefined) {
    const wrong = impossible(scenario, point)
    if (wrong !== undefined) return wrong
    const line = new Line(scenarioAt(scenario, point))
    const y = steadyNear(line, last)
    if (y !== undefined) return { ok: true, line, y }
  }
  return standAt(scenario, point)
}

export function figureOf(plant: Plant, figure: Figure): Cell {
  if (figure.of === 'phase margin') return quickMargin(plant, figure.loop)
  return leastDampingOf(plant)
}

export function leastDampingOf(plant: Plant): Cell {
  const closed = closedLine(plant)
  if (!closed.ok) return { value: Number.NaN, say: closed.say }
  const { matrix, n, period } = closed
  const whole = eigenvaluesOf(matrix, n)
  const held = period === undefined ? undefined : heldLine(closed)
  const between = held && eigenvaluesOf(held.matrix, held.states.length)
  if (![whole, between].every((values) => values === undefined || values.re.every(Number.isFinite))) {
    return { value: Number.NaN, say: 'The modes of the line could not be found.' }
  }
  const rates =
    period === undefined || between === undefined
      ? Array.from(whole.re, (re, k) => ({ re, im: whole.im[k] }))
      : sampledRates(whole, between, period)
  return { value: leastDampingAmong(rates) }
}
