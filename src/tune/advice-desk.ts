/**
 * What one search for advice holds together: the box, what a setting costs on the linear line, and which changes are worth making.
 *
 * Equations    cost: advice.ts; a change matters where setting it back lets the cost rise by 1 % of what it is
 * Neglected    as in predict.ts
 * Source       own derivation
 */
import type { RunScenario } from '../run/run'
import type { Aims } from './advice'
import {
  changedTo,
  presentShares,
  sharesAt,
  sidesOf,
  valuesAt,
  type Change,
  type Side,
  type Subject,
} from './advice-box'
import { rollRange } from './diameters'
import { linearMeasures, type LinearMeasures, type Measures } from './measures'
import type { Point, Trouble } from './setup'

/** Values of the sides (SI), and the scenario with them. */
export interface Setting {
  readonly values: readonly number[]
  readonly scenario: RunScenario
  readonly changes: readonly Change[]
}

const LEAST_DAMPING = 0.03
/** Cost from which on a line cannot be used. */
const UNUSABLE = 10
/** By which the cost rises at least where a change matters, as a share of it. */
export const MATTERS = 0.01

/** Everything that one search holds together. */
export class Desk {
  readonly sides: readonly Side[]
  readonly present: readonly number[]
  private readonly points: readonly Point[]
  private damping = LEAST_DAMPING

  constructor(
    readonly scenario: RunScenario,
    readonly subject: Subject,
    readonly aims: Aims,
  ) {
    this.sides = sidesOf(subject)
    this.present = presentShares(this.sides)
    this.points = diametersOf(scenario, subject)
  }

  /** What swings may become less damped by half, not more. */
  holdDamping(present: number): void {
    this.damping = Math.max(LEAST_DAMPING, 0.5 * present)
  }

  /** The linear figures of a setting. */
  measure(scenario: RunScenario): { ok: true; measures: LinearMeasures } | Trouble {
    const measures = linearMeasures(scenario, this.subject.dancer.name, this.points, -Infinity)
    if ('ok' in measures) return measures
    return { ok: true, measures }
  }

  /** The scenario with values of the sides, SI. */
  with(values: readonly number[]): Setting {
    return { values, ...changedTo(this.scenario, this.subject, this.sides, values) }
  }

  at(shares: readonly number[]): Setting {
    return this.with(valuesAt(this.sides, shares))
  }

  /** Deviation as a share; from UNUSABLE on the line cannot be used, and less is nearer to one that can. */
  cost({ scenario }: Setting): number {
    const found = linearMeasures(scenario, this.subject.dancer.name, this.points, 0.3 * this.aims.phaseMargin)
    if ('ok' in found) return 1000
    const { leastDamping } = found
    const margin = this.marginLack(found)
    const damping = Math.max(0, 1 - leastDamping / this.damping)
    if (!Number.isFinite(found.deviation)) return UNUSABLE + margin + damping
    return found.deviation * (1 + 5 * margin + 5 * damping) + 0.2 * (margin + damping) + this.travelCost(found)
  }

  /** What the simulator says of a setting, and the linear line of its margin. */
  timedCost(measures: Measures, linear: LinearMeasures): number {
    return measures.deviation * (1 + this.marginLack(linear)) + this.travelCost(measures) + measures.stopSeconds
  }

  /** Share of the wanted margin that is lacking. */
  private marginLack({ phaseMargin }: LinearMeasures): number {
    return phaseMargin === null ? 0 : Math.max(0, 1 - phaseMargin / this.aims.phaseMargin)
  }

  private travelCost({ travelShare }: Measures): number {
    return Math.max(0, travelShare - this.aims.travelShare)
  }
}

/** Core, present and full, of the roll that the trim turns; of the unwind where it turns none. */
function diametersOf(scenario: RunScenario, { trim }: Subject): Point[] {
  const rewind = scenario.line.at(-1)
  const which = rewind?.part === 'rewind' && trim?.drives === rewind.name ? 'rewind' : 'unwind'
  const { core, full } = rollRange(scenario, which)
  const key = which === 'rewind' ? 'rewindDiameter' : 'unwindDiameter'
  return [{}, { [key]: core }, { [key]: full }]
}

/**
 * Settings with those changes set back that hardly matter, the most thinned out first: of each, one change less is set back than of the
 * one before. Tried one after another, the smallest change first, each beside those that are set back already.
 */
export function thinned(
  { sides }: Pick<Desk, 'sides'>,
  values: readonly number[],
  cost: (values: readonly number[]) => number,
): number[][] {
  const old = sides.map((side) => side.old)
  const most = cost(values) * (1 + MATTERS)
  if (!(most < UNUSABLE)) return []
  const [from, to] = [sharesAt(sides, old), sharesAt(sides, values)]
  const order = sides.map((_, k) => k).filter((k) => values[k] !== old[k])
  order.sort((a, b) => Math.abs(to[a] - from[a]) - Math.abs(to[b] - from[b]))
  const found: number[][] = []
  let kept = [...values]
  for (const k of order) {
    const back = kept.map((value, i) => (i === k ? old[k] : value))
    if (!(cost(back) <= most)) continue
    found.unshift(back)
    kept = back
  }
  return found
}
