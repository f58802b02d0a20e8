/** How well a line holds tension at a dancer: from the linear line, and from a run of the simulator. */
import type { Line } from '../line/line'
import type { RunScenario } from '../run/run'
import type { Summary } from '../run/summary'
import { zoneOf } from './advice-box'
import { closedLine } from './closed'
import { leastDampingOf } from './map'
import { plantOf } from './plant'
import { predict } from './predict'
import { quickMargin } from './quick-margin'
import { standAt, type Point, type Trouble } from './setup'

/** SI; shares of 1. */
export interface Measures {
  /** greatest deviation of tension in the dancer's strands from where it starts, as a share of that */
  readonly deviation: number
  /** the same over all spans between the drives beside the dancer: rollers with their inertia and drag come on top there */
  readonly zoneDeviation: number
  /** N, and span of the worst in the strands */
  readonly newtons: number
  readonly span: string
  /** of the distance between the stops */
  readonly travelShare: number
  /** s on a stop */
  readonly stopSeconds: number
}

export interface LinearMeasures extends Measures {
  /** least of those looked at, rad; null without a loop or a crossing */
  readonly phaseMargin: number | null
  /** where that is */
  readonly marginAt: Point
  readonly leastDamping: number
}

/** The figures of a finished run at a dancer. */
export function measuresOf(line: Line, summary: Summary, dancer: string): Measures {
  const tensions = summary.spans.map(({ name, tension }) => {
    const { start, min, max } = tension
    return { name, start, off: Math.max(max - start, start - min) }
  })
  const found = summary.dancers.find((d) => d.name === dancer)
  return {
    ...worstOf(line, dancer, tensions),
    travelShare: found?.travelUsed ?? 0,
    stopSeconds: found?.stopSeconds ?? 0,
  }
}

interface Off {
  readonly name: string
  readonly start: number
  readonly off: number
}

function worstOf(line: Line, dancer: string, tensions: readonly Off[]) {
  const strands = line.carriages.find((c) => c.name === dancer)?.strands.spans ?? []
  const [first, last] = zoneOf(line, dancer)
  const share = ({ start, off }: Off) => (start > 0 ? off / start : Infinity)
  const worst = strands.map((j) => tensions[j]).reduce((a, b) => (share(b) > share(a) ? b : a))
  const zone = Math.max(...tensions.slice(first, last + 1).map(share))
  return { deviation: share(worst), zoneDeviation: zone, newtons: worst.off, span: worst.name }
}

/** What the linear line says: dry friction counts with what it can hold back, F_c over the strands. */
export function linearMeasures(
  scenario: RunScenario,
  dancer: string,
  points: readonly Point[],
  enough: number,
): LinearMeasures | Trouble {
  const standing = standAt(scenario, { speed: referenceSpeed(scenario) })
  if (!standing.ok) return standing
  const plant = plantOf(standing)
  const closed = closedLine(plant)
  if (!closed.ok) return closed
  const damping = leastDampingOf(plant)
  if (Number.isNaN(damping.value)) return { ok: false, say: damping.say ?? '' }
  const margin = worstMargin(scenario, dancer, points)
  const { line } = plant
  const carriage = line.carriages.find((c) => c.name === dancer)
  const floor = carriage === undefined ? 0 : carriage.setup.slidingFriction / carriage.strands.total()
  const common = { phaseMargin: margin.value, marginAt: margin.point, leastDamping: damping.value, stopSeconds: 0 }
  if (damping.value <= 0 || (margin.value ?? 1) < enough) {
    // no need to follow what cannot be used: the search only has to learn which way is better
    return {
      ...common,
      deviation: Infinity,
      zoneDeviation: Infinity,
      newtons: Infinity,
      span: '',
      travelShare: Infinity,
    }
  }
  const answers = predict(scenario, plant, closed, plant.outputs)
  const tensions = answers
    .filter(({ output }) => output.key.startsWith('tension/'))
    .map(({ output, least, most }) => ({ name: output.name, start: output.value, off: Math.max(-least, most) + floor }))
  const move = answers.find(({ output }) => output.key === `dancer/${dancer}`)
  const travel = carriage === undefined ? 1 : carriage.setup.upperStop - carriage.setup.lowerStop
  const used = move === undefined ? 0 : (move.most - move.least) / travel
  return { ...common, ...worstOf(line, dancer, tensions), travelShare: used }
}

/** m/s: that of the start, or the highest of the stage for a line that starts from rest. */
export function referenceSpeed(scenario: RunScenario): number {
  if (scenario.speed.start > 0) return scenario.speed.start
  return Math.max(0, ...scenario.stage.map((e) => (e.do === 'start' || e.do === 'speed' ? e.to : 0)))
}

function worstMargin(
  scenario: RunScenario,
  dancer: string,
  points: readonly Point[],
): { value: number | null; point: Point } {
  let worst: { value: number | null; point: Point } = { value: null, point: {} }
  for (const point of points) {
    const standing = standAt(scenario, { speed: referenceSpeed(scenario), ...point })
    if (!standing.ok) continue
    const plant = plantOf(standing, false)
    const loop = plant.loops.findIndex(({ correction: { law } }) => 'measures' in law && law.measures === dancer)
    if (loop < 0 || plant.loops[loop].saturated) return worst
    const found = quickMargin(plant, loop).value
    const value = Number.isNaN(found) ? Math.PI : found
    if (worst.value === null || value < worst.value) worst = { value, point }
  }
  return worst
}
