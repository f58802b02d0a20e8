/** What advice may change, and how a point of its search becomes a scenario. */
import { actingArea, cylinderSchema } from '../line/cylinder'
import { dancerSchema, type DancerSpec } from '../line/dancer'
import type { Line } from '../line/line'
import type { RunScenario } from '../run/run'
import { withValue } from '../scenario/path'
import { fieldInfo, type Kind } from '../units'
import type { LoopSpec } from './forms'

/** A field that is to be set: where, to what (SI), and what it was. */
export interface Change {
  /** as in a scenario path */
  readonly path: string
  readonly name: string
  readonly kind: Kind
  readonly old: number
  readonly new: number
}

/** What a dancer hangs on: its part, and the trim that measures it. */
export interface Subject {
  readonly dancer: DancerSpec
  /** index in the scenario's line, and of the trim in its control; the latter undefined without one */
  readonly place: number
  readonly control: number | undefined
  readonly trim: LoopSpec | undefined
  /** whether a taper sets its force, whatever the scenario states */
  readonly tapered: boolean
}

export interface Side {
  readonly path: string
  readonly name: string
  readonly kind: Kind
  readonly old: number
  readonly least: number
  readonly most: number
  /** of one that begins at 0: below about this it is laid out evenly, above it in its logarithm */
  readonly about?: number
  /** why it ends where it does, for people */
  readonly ends: { readonly least: string; readonly most: string }
}

/** The dancer of that name with its trim; undefined where there is none. */
export function subjectOf(scenario: RunScenario, dancer: string): Subject | undefined {
  const place = scenario.line.findIndex((p) => p.part === 'dancer' && p.name === dancer)
  const part = scenario.line[place]
  if (part?.part !== 'dancer') return undefined
  const control = scenario.control.findIndex((c) => c.control === 'position trim' && c.measures === dancer)
  const trim = scenario.control[control]
  const tapered = scenario.control.some((c) => c.control === 'force taper' && c.drives === dancer)
  if (trim?.control !== 'position trim') return { dancer: part, place, control: undefined, trim: undefined, tapered }
  return { dancer: part, place, control, trim, tapered }
}

const LESS_THAN_NONE = 'there is none below it'

/**
 * The sides of the box: stiffness up to where the dancer by itself swings at 4 Hz, damping up to twice what it is, gain a factor about
 * what it is, the integral time from 0.3 s up to none at all. Stiffness by its root, the others by their logarithm; what may be 0 by
 * that of 1 + x/about, so that 0 and what is are points of the box.
 */
export function sidesOf(subject: Subject): Side[] {
  const { dancer, place, control, trim } = subject
  const damping: Side = {
    ...{ path: `line/${place}/damping`, name: 'damping', kind: 'damping', old: dancer.damping },
    ...{ least: 0, most: Math.max(200, 2 * dancer.damping), about: 1 },
    ends: { least: LESS_THAN_NONE, most: 'the search goes up to 200 N s/m, or to twice what it was' },
  }
  const sides = [damping, ...stiffnessSide(subject)]
  if (trim === undefined || control === undefined) return sides
  const speed = trim.kind === 'speed'
  const rate = trim.integral / trim.gain
  return [
    ...sides,
    {
      ...{ path: `control/${control}/gain`, name: 'gain', kind: speed ? 'trimGainSpeed' : 'trimGainRatio' },
      ...{ old: trim.gain, least: trim.gain / 30, most: trim.gain * 10 },
      ends: { least: `that is a thirtieth of what it was${AGAIN}`, most: `that is ten times what it was${AGAIN}` },
    },
    {
      ...{ path: `control/${control}/integral`, name: 'integral gain', old: trim.integral },
      ...{ kind: speed ? 'trimIntegralSpeed' : 'trimIntegralRatio', least: 0, most: Math.max(1 / 0.3, rate) },
      ...{ about: 1 / 60, ends: { least: LESS_THAN_NONE, most: 'the search takes no integral time below 0.3 s' } },
    },
  ]
}

const AGAIN = '; put it into the line and search again to look further'

/**
 * None where a taper sets the force and the spring is stretched at the set point: nothing then makes up for what another spring pulls.
 * Else as far as force or pressure can make up for it.
 */
function stiffnessSide({ dancer, place, tapered }: Subject): Side[] {
  const { mass, stiffness } = dancer
  const stretch = dancer.setPoint - dancer.springZero
  if (tapered && stretch !== 0) return []
  const room = roomOf(dancer)
  const [lowest, highest] =
    stretch === 0 ? [-Infinity, Infinity] : [room.below / stretch, room.above / stretch].sort((x, y) => x - y)
  const stiff = Math.max(mass * (2 * Math.PI * 4) ** 2, stiffness)
  const least = Math.max(0, stiffness + lowest)
  const most = Math.min(stiff, stiffness + highest)
  if (!(most - least > 1e-6)) return []
  const held = 'beyond it no force or pressure would keep the tension what it is'
  return [
    {
      ...{ path: `line/${place}/stiffness`, name: 'stiffness', kind: 'stiffness', old: stiffness, least, most },
      ends: {
        least: least === 0 ? LESS_THAN_NONE : held,
        most: most < stiff ? held : 'with it the dancer by itself swings at 4 Hz, and the search goes no further',
      },
    },
  ]
}

/** N by which the force, or that of the cylinder, may become less (negative) and more. */
function roomOf({ cylinder, force = 0 }: DancerSpec): { below: number; above: number } {
  const { least = -Infinity, most = Infinity } =
    fieldInfo(cylinder === undefined ? dancerSchema.entries.force : cylinderSchema.entries.pressure) ?? {}
  if (cylinder === undefined) return { below: least - force, above: most - force }
  const area = actingArea(cylinder)
  return { below: (least - cylinder.pressure) * area, above: (most - cylinder.pressure) * area }
}

/** Shares 0..1 of the sides at which the scenario stands. */
export const presentShares = (sides: readonly Side[]): number[] =>
  sharesAt(
    sides,
    sides.map(({ old }) => old),
  )

/** Shares of the sides for values (SI); held within 0..1. */
export function sharesAt(sides: readonly Side[], values: readonly number[]): number[] {
  const gain = sides.findIndex((s) => s.name === 'gain')
  return sides.map(({ name, least, most, about }, k) => {
    const value = name === 'integral gain' ? values[k] / values[gain] : values[k]
    if (name === 'stiffness') return Math.sqrt(held((value - least) / (most - least)))
    if (about !== undefined) return held(Math.log1p(value / about) / Math.log1p(most / about))
    return held(Math.log(value / least) / Math.log(most / least))
  })
}

const held = (share: number) => Math.min(1, Math.max(0, share))

/** Values (SI) at shares of the sides. The integral side counts the rate 1/Ti: the gain it goes with is known only here. */
export function valuesAt(sides: readonly Side[], shares: readonly number[]): number[] {
  const values = sides.map(({ name, least, most, about }, k) => {
    if (name === 'stiffness') return least + (most - least) * shares[k] ** 2
    if (about !== undefined) return about * Math.expm1(shares[k] * Math.log1p(most / about))
    return least * (most / least) ** shares[k]
  })
  const gain = sides.findIndex((s) => s.name === 'gain')
  const integral = sides.findIndex((s) => s.name === 'integral gain')
  if (integral >= 0) values[integral] *= values[gain]
  return values
}

/** Share of a side within which a value stands on its end. */
const ON_THE_EDGE = 0.01

/** For each side on whose end its value stands: why it ends there. */
export function edgesOf(sides: readonly Side[], values: readonly number[]): Map<string, string> {
  const found = sharesAt(sides, values).flatMap((share, k): [string, string][] => {
    const { path, ends } = sides[k]
    if (share > ON_THE_EDGE && share < 1 - ON_THE_EDGE) return []
    return [[path, share <= ON_THE_EDGE ? ends.least : ends.most]]
  })
  return new Map(found)
}

/**
 * The scenario with these values. Where the spring is not at rest at the set point, the force, or the pressure of the cylinder, takes up
 * what a stiffer spring would add: the tension stays what it was.
 */
export function changedTo(
  scenario: RunScenario,
  { dancer, place }: Subject,
  sides: readonly Side[],
  values: readonly number[],
): { scenario: RunScenario; changes: Change[] } {
  const changes = sides.map(({ path, name, kind, old }, k): Change => ({ path, name, kind, old, new: values[k] }))
  const spring = changes.find((c) => c.name === 'stiffness')
  const more = spring === undefined ? 0 : (spring.new - spring.old) * (dancer.setPoint - dancer.springZero)
  if (more !== 0) changes.push(makingUp(dancer, place, more))
  return { scenario: withChanges(scenario, changes), changes }
}

/** `more` N of force on the carriage: of the cylinder where it has one. */
function makingUp({ cylinder, force = 0 }: DancerSpec, place: number, more: number): Change {
  if (cylinder === undefined) {
    return { path: `line/${place}/force`, name: 'force', kind: 'force', old: force, new: force + more }
  }
  const old = cylinder.pressure
  const path = `line/${place}/cylinder/pressure`
  return { path, name: 'pressure', kind: 'pressure', old, new: old + more / actingArea(cylinder) }
}

export function withChanges(scenario: RunScenario, changes: readonly Change[]): RunScenario {
  return changes.reduce((document, change) => {
    const place = change.path.split('/').map((word) => (/^\d+$/.test(word) ? Number(word) : word))
    return withValue(document, place, change.new) as RunScenario
  }, scenario)
}

/** First and last span between the drives on either side of a dancer. */
export function zoneOf(line: Line, dancer: string): [first: number, last: number] {
  const carriage = line.carriages.find((c) => c.name === dancer)
  const spans = carriage?.strands.spans ?? [0]
  const drives = line.drives.map((d) => d.roller)
  const first = Math.max(0, ...drives.filter((i) => i <= Math.min(...spans)))
  const last = Math.min(line.spans.count, ...drives.filter((i) => i > Math.max(...spans)))
  return [first, last - 1]
}
