/**
 * Margins of a loop as the roll goes from core to full and the line through its speeds.
 *
 * Source       loops.ts; the worst is named
 */
import type { RunScenario } from '../run/run'
import { rollRange } from './diameters'
import { loopGain, type LoopGain } from './loops'
import { plantOf } from './plant'
import { standAt, type Point, type Trouble } from './setup'

export type MarginPoint = {
  readonly point: Point
  /** which of the two courses it belongs to, and its value there (m, m/s) */
  readonly over: 'diameter' | 'speed'
  readonly value: number
} & ({ readonly ok: true; readonly loop: LoopGain } | Trouble)

/** Points of a course: over the diameters of the roll that the trim turns (else the unwind's), and over speeds up to `fastest` (m/s). */
export function marginPoints(
  scenario: RunScenario,
  k: number,
  { diameters = 9, speeds = 8, fastest = topSpeed(scenario) } = {},
): Pick<MarginPoint, 'point' | 'over' | 'value'>[] {
  const which = rollOf(scenario, k)
  const { core, full } = rollRange(scenario, which)
  const key = which === 'unwind' ? 'unwindDiameter' : 'rewindDiameter'
  const step = (count: number, i: number) => (count > 1 ? i / (count - 1) : 0)
  return [
    ...Array.from({ length: diameters }, (_, i) => {
      const value = core + (full - core) * step(diameters, i)
      return { point: { [key]: value }, over: 'diameter' as const, value }
    }),
    ...Array.from({ length: speeds }, (_, i) => {
      const value = (fastest * (i + 1)) / speeds
      return { point: { speed: value }, over: 'speed' as const, value }
    }),
  ]
}

/** The loop of trim `k` (position trims first, then tension trims) at one point. */
function marginAt(scenario: RunScenario, k: number, point: Point): LoopGain | Trouble {
  const standing = standAt(scenario, point)
  return standing.ok ? loopGain(plantOf(standing, false), k) : standing
}

/** All points of a course, one after another: a step for each. */
export function* marginCourse(
  scenario: RunScenario,
  k: number,
  options: Parameters<typeof marginPoints>[2] = {},
): Generator<number, MarginPoint[], undefined> {
  const points = marginPoints(scenario, k, options)
  const found: MarginPoint[] = []
  for (const one of points) {
    const loop = marginAt(scenario, k, one.point)
    found.push(loop.ok ? { ...one, ok: true, loop } : { ...one, ...loop })
    yield found.length / points.length
  }
  return found
}

/** The point with the least phase margin; one that does not settle comes before all others. */
export function worstOf(course: readonly MarginPoint[]): (MarginPoint & { ok: true }) | undefined {
  const told = course.filter((one): one is MarginPoint & { ok: true } => one.ok)
  const size = ({ loop }: { loop: LoopGain }) => {
    const margin = loop.margins.phaseMargin?.value ?? Math.PI
    return loop.stable ? margin : -10 - Math.abs(margin)
  }
  return told.length === 0 ? undefined : told.reduce((a, b) => (size(b) < size(a) ? b : a))
}

/** Trims in the order in which the line has them: position trims first, then tension trims. */
export function trimsOf({ control }: RunScenario) {
  return [
    ...control.filter((c) => c.control === 'position trim'),
    ...control.filter((c) => c.control === 'tension trim'),
  ]
}

function rollOf(scenario: RunScenario, k: number): 'unwind' | 'rewind' {
  const trim = trimsOf(scenario)[k]
  const rewind = scenario.line.find((p) => p.part === 'rewind')
  return rewind !== undefined && trim?.drives === rewind.name ? 'rewind' : 'unwind'
}

/** m/s: the highest that the scenario knows, by half. */
function topSpeed({ speed, stage }: RunScenario): number {
  return 1.5 * Math.max(speed.start, 0.05, ...stage.map((e) => (e.do === 'start' || e.do === 'speed' ? e.to : 0)))
}
