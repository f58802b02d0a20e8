/** What advice may change, and how a point of its search becomes a scenario. */
import type { Line } from '../line/line'
import type { RunScenario } from '../run/run'
import { withValue } from '../scenario/path'
import type { DancerSpec } from '../line/dancer'
import type { Kind } from '../units'
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
}

export interface Side {
  readonly path: string
  readonly name: string
  readonly kind: Kind
  readonly old: number
  readonly least: number
  readonly most: number
}

/** The dancer of that name with its trim; undefined where there is none. */
export function subjectOf(scenario: RunScenario, dancer: string): Subject | undefined {
  const place = scenario.line.findIndex((p) => p.part === 'dancer' && p.name === dancer)
  const part = scenario.line[place]
  if (part?.part !== 'dancer') return undefined
  const control = scenario.control.findIndex((c) => c.control === 'position trim' && c.measures === dancer)
  const trim = scenario.control[control]
  if (trim?.control !== 'position trim') return { dancer: part, place, control: undefined, trim: undefined }
  return { dancer: part, place, control, trim }
}

/**
 * The sides of the box: stiffness up to where the dancer by itself swings at 4 Hz, damping and gain a factor about what they are, the
 * integral time from 0.3 s to 60 s. All but stiffness in their logarithm.
 */
export function sidesOf({ dancer, place, control, trim }: Subject): Side[] {
  const path = (field: string) => `line/${place}/${field}`
  const { mass, stiffness, damping } = dancer
  const stiff = mass * (2 * Math.PI * 4) ** 2
  const sides: Side[] = [
    {
      path: path('damping'),
      name: 'damping',
      kind: 'damping',
      old: damping,
      least: 1,
      most: Math.max(200, 2 * damping),
    },
    {
      path: path('stiffness'),
      name: 'stiffness',
      kind: 'stiffness',
      old: stiffness,
      least: 0,
      most: Math.max(stiff, stiffness),
    },
  ]
  if (trim === undefined || control === undefined) return sides
  const speed = trim.kind === 'speed'
  const gain: Kind = speed ? 'trimGainSpeed' : 'trimGainRatio'
  return [
    ...sides,
    {
      path: `control/${control}/gain`,
      name: 'gain',
      kind: gain,
      old: trim.gain,
      least: trim.gain / 30,
      most: trim.gain * 10,
    },
    {
      ...{ path: `control/${control}/integral`, name: 'integral gain', old: trim.integral },
      ...{ kind: speed ? 'trimIntegralSpeed' : 'trimIntegralRatio', least: 1 / 60, most: 1 / 0.3 },
    },
  ]
}

/** Shares 0..1 of the sides at which the scenario stands. */
export function presentShares(sides: readonly Side[], { trim }: Subject): number[] {
  return sides.map((side) => {
    if (side.name === 'stiffness') return Math.sqrt((side.old - side.least) / (side.most - side.least))
    const value = side.name === 'integral gain' && trim !== undefined ? side.old / trim.gain : side.old
    return Math.log(Math.max(value, side.least) / side.least) / Math.log(side.most / side.least)
  })
}

/** Values (SI) at shares of the sides. The integral side counts the rate 1/Ti: the gain it goes with is known only here. */
export function valuesAt(sides: readonly Side[], shares: readonly number[]): number[] {
  const values = sides.map(({ name, least, most }, k) =>
    name === 'stiffness' ? least + (most - least) * shares[k] ** 2 : least * (most / least) ** shares[k],
  )
  const gain = sides.findIndex((s) => s.name === 'gain')
  const integral = sides.findIndex((s) => s.name === 'integral gain')
  if (integral >= 0) values[integral] *= values[gain]
  return values
}

/**
 * The scenario with these values. Where the spring is not at rest at the set point, the force takes up what a stiffer spring would add:
 * the tension stays what it was.
 */
export function changedTo(
  scenario: RunScenario,
  subject: Subject,
  sides: readonly Side[],
  values: readonly number[],
): { scenario: RunScenario; changes: Change[] } {
  const changes = sides.map(({ path, name, kind, old }, k): Change => ({ path, name, kind, old, new: values[k] }))
  const { dancer, place } = subject
  const stiffer = changes.find((c) => c.name === 'stiffness')
  const stretch = dancer.setPoint - dancer.springZero
  if (stiffer !== undefined && stretch !== 0 && stiffer.new !== stiffer.old) {
    if (dancer.cylinder === undefined && dancer.force !== undefined) {
      const force = dancer.force + (stiffer.new - stiffer.old) * stretch
      changes.push({ path: `line/${place}/force`, name: 'force', kind: 'force', old: dancer.force, new: force })
    } else {
      const { setPoint, springZero } = dancer
      changes.push({
        path: `line/${place}/springZero`,
        name: 'rest of the spring',
        kind: 'travel',
        old: springZero,
        new: setPoint,
      })
    }
  }
  return { scenario: withChanges(scenario, changes), changes }
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
