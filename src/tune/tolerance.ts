/**
 * The corners of what is not known for sure: friction, diameter, modulus, mass; each a scenario of its own to be run, and the worst of
 * what came out.
 *
 * Equations    every combination of the least and the greatest of each range, and the middle
 * Neglected    what lies between the corners: a worst inside is not found
 * Source       worst-case analysis, common practice, no source
 */
import type { Summary } from '../run/summary'
import { withValue } from '../scenario/path'
import { readDocument } from '../scenario/read'
import type { Scenario } from '../scenario/schema'
import { formatQuantity, kinds, type Kind } from '../units'
import type { Trouble } from './setup'

/** Factors (friction, modulus, mass) and diameters (m) that the user gives as ranges; what is left out stays. */
export interface Ranges {
  /** of dancers and of roller drag */
  readonly friction?: readonly [number, number] | undefined
  /** m, of the roll on the unwind */
  readonly unwindDiameter?: readonly [number, number] | undefined
  readonly modulus?: readonly [number, number] | undefined
  /** moving mass of dancers */
  readonly mass?: readonly [number, number] | undefined
}

export interface Corner {
  /** for people: "friction x 1.5, diameter 90 mm" */
  readonly name: string
  readonly document: unknown
}

type Setting = readonly [place: (string | number)[], value: number, kind: Kind]

interface Choice {
  readonly name: string
  readonly settings: readonly Setting[]
}

/** The middle first, then every corner. */
export function cornersOf(document: unknown, ranges: Ranges): { ok: true; corners: Corner[] } | Trouble {
  const reading = readDocument(document)
  if (!reading.ok) return { ok: false, say: reading.problems.map((p) => p.say).join(' ') }
  const wrong = wrongRange(ranges)
  if (wrong !== undefined) return wrong
  const sides = sidesOf(reading.scenario, ranges)
  const combinations = sides.reduce<Choice[]>(
    (found, side) =>
      found.flatMap((one) =>
        side.map((choice) => ({
          name: one.name === '' ? choice.name : `${one.name}, ${choice.name}`,
          settings: [...one.settings, ...choice.settings],
        })),
      ),
    [{ name: '', settings: [] }],
  )
  const corners = combinations
    .filter(({ settings }) => settings.length > 0)
    .map(({ name, settings }) => ({ name, document: settings.reduce(write, document) }))
  return { ok: true, corners: [{ name: 'as stated', document }, ...corners] }
}

function write(document: unknown, [place, value, kind]: Setting): unknown {
  return withValue(document, place, formatQuantity(value, kinds[kind].metric, 10, kind))
}

function wrongRange(ranges: Ranges): Trouble | undefined {
  for (const [name, range] of Object.entries(ranges) as [string, readonly [number, number] | undefined][]) {
    if (range === undefined) continue
    const [least, most] = range
    if (least > 0 && most >= least && Number.isFinite(most)) continue
    if (name === 'friction' && least === 0 && most >= 0 && Number.isFinite(most)) continue
    return { ok: false, field: name, say: `The range of ${name} needs two numbers above 0, the smaller first.` }
  }
  return undefined
}

function sidesOf({ line, films }: Scenario, { friction, unwindDiameter, modulus, mass }: Ranges): Choice[][] {
  const parts = line.map((part, place) => ({ part, place }))
  const dancers = parts.flatMap(({ part, place }) => (part.part === 'dancer' ? [{ part, place }] : []))
  const rubbing = (factor: number): Setting[] => [
    ...dancers.flatMap(({ part, place }): Setting[] => {
      const { slidingFriction, frictionAtRest } = part
      const both: Setting[] = [[['line', place, 'slidingFriction'], slidingFriction * factor, 'force']]
      if (frictionAtRest !== undefined) both.push([['line', place, 'frictionAtRest'], frictionAtRest * factor, 'force'])
      return both
    }),
    ...parts.flatMap(({ part, place }): Setting[] => {
      if (part.part === 'span' || part.part === 'bar') return []
      const { drag, breakaway } = part
      const both: Setting[] = [[['line', place, 'drag'], drag * factor, 'torque']]
      if (breakaway !== undefined) both.push([['line', place, 'breakaway'], breakaway * factor, 'torque'])
      return both
    }),
  ]
  const stiff = (factor: number): Setting[] =>
    Object.entries(films).map(([name, film]) => [['films', name, 'modulus'], film.modulus * factor, 'modulus'])
  const heavy = (factor: number): Setting[] =>
    dancers.map(({ part, place }) => [['line', place, 'mass'], part.mass * factor, 'mass'])
  const unwind = line.findIndex((p) => p.part === 'unwind')
  const wide = (diameter: number): Setting[] => [[['line', unwind, 'diameter'], diameter, 'diameter']]
  const factors = (name: string, range: Ranges['friction'], settings: (f: number) => Setting[]): Choice[] =>
    range === undefined ? [] : range.map((f) => ({ name: `${name} × ${f}`, settings: settings(f) }))
  const diameters: Choice[] =
    unwindDiameter?.map((d) => ({ name: `diameter ${formatQuantity(d, 'mm', 4)}`, settings: wide(d) })) ?? []
  return [
    factors('friction', friction, rubbing),
    diameters,
    factors('modulus', modulus, stiff),
    factors('mass', mass, heavy),
  ].filter((side) => side.length > 0)
}

export interface WorstFigure {
  readonly what: string
  readonly kind: Kind
  /** SI */
  readonly value: number
  /** the corner it comes from, and as stated */
  readonly corner: string
  readonly stated: number
}

/** The worst of all corners that have run, figure by figure. `done`: in any order, the middle among them. */
export function worstOfCorners(done: readonly { readonly name: string; readonly summary: Summary }[]): WorstFigure[] {
  const [first] = done
  if (first === undefined) return []
  const stated = done.find(({ name }) => name === 'as stated') ?? first
  const found: WorstFigure[] = []
  const take = (what: string, kind: Kind, of: (s: Summary) => number, sign: 1 | -1) => {
    const worst = done.reduce((a, b) => (sign * of(b.summary) > sign * of(a.summary) ? b : a))
    found.push({ what, kind, value: of(worst.summary), corner: worst.name, stated: of(stated.summary) })
  }
  take('share of elastic limit', 'fraction', (s) => Math.max(...s.spans.map((x) => x.limitShare)), 1)
  take('greatest tension', 'force', (s) => Math.max(...s.spans.map((x) => x.tension.max)), 1)
  take('least tension', 'force', (s) => Math.min(...s.spans.map((x) => x.tension.min)), -1)
  take('time slack', 'time', (s) => Math.max(...s.spans.map((x) => x.slackSeconds)), 1)
  first.summary.dancers.forEach(({ name }, k) => {
    take(`travel used by ${name}`, 'fraction', (s) => s.dancers[k]?.travelUsed ?? 0, 1)
    take(`time on a stop, ${name}`, 'time', (s) => s.dancers[k]?.stopSeconds ?? 0, 1)
    take(`ripple of ${name}`, 'travel', (s) => s.dancers[k]?.ripple ?? 0, 1)
  })
  return found
}
