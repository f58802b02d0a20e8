/**
 * The stage of a scenario as inputs of the linear line, tick by tick.
 *
 * Variables    every input off its value at the start: speeds, feeds, draws, forces, pressures, winding tensions, radii of uneven rolls;
 *              set points of the trims; kicks: a roll that is put on turning faster or slower than the line
 * Equations    courses: courses.ts; uneven roll: its deviation at the angle that line speed has turned it by
 * Neglected    change of film and of roll inertia at a splice, free strain, tapers as the roll grows
 * Source       own derivation
 */
import { Line } from '../line/line'
import { TorqueDrive } from '../line/torque-drive'
import { deviationOf, START_ANGLE } from '../line/roll'
import { spliceTimes } from '../line/stage'
import type { RunScenario } from '../run/run'
import type { ClosedLine } from './closed'
import type { Input } from './differences'
import type { Plant } from './plant'

/** A course of one input, a value for each tick and one beyond. */
export interface Course {
  readonly input: Input
  readonly values: Float64Array
}

/** A jump of one state at a tick, in its own size. */
export interface Kick {
  readonly tick: number
  readonly state: number
  readonly by: number
}

export interface StageCourse {
  readonly ticks: number
  readonly courses: readonly Course[]
  readonly setPoints: readonly Float64Array[]
  readonly kicks: readonly Kick[]
  /** stretches of ticks through which the trims of the unwind are kept still */
  readonly keeps: readonly { readonly from: number; readonly to: number }[]
}

const STILL = 1e-12

export function stageCourse(scenario: RunScenario, plant: Plant, closed: ClosedLine, tick: number): StageCourse {
  const line = new Line(scenario)
  const ticks = Math.ceil(scenario.run.for / tick)
  const courses: Course[] = []
  for (const input of plant.inputs) {
    const at = valueAt(line, scenario, input)
    if (at === undefined) continue
    const values = Float64Array.from({ length: ticks + 1 }, (_, k) => at(k * tick) - at(0))
    if (values.some((v) => Math.abs(v) > STILL)) courses.push({ input, values })
  }
  const setPoints = closed.loops.map(({ loop }) => setPointCourse(line, loop.correction.law, ticks, tick))
  const keeps = scenario.stage.flatMap((event) => {
    if (event.do !== 'zero-speed splice') return []
    return [{ from: Math.round(event.at / tick), to: Math.round((event.at + spliceTimes(event).end) / tick) }]
  })
  return { ticks, courses, setPoints, kicks: kicksOf(scenario, line, plant, tick), keeps }
}

/** How an input is led by the stage; undefined where it is not, or is part of another. */
function valueAt(line: Line, scenario: RunScenario, { key, part }: Input): ((t: number) => number) | undefined {
  const { courses } = line
  const [what] = key.split('/')
  if (key === 'speed/downstream') return (t) => courses.line.speedAt(t)
  if (what === 'speed' && part === line.rollers.names[0]) return (t) => courses.unwind.speedAt(t)
  const drive = line.drives.find((d) => d.name === part)
  const reference = drive?.reference
  if (what === 'feed' && reference !== undefined) {
    return (t) => reference.profile.speedAt(t) - courses.line.speedAt(t)
  }
  if (what === 'draw' && reference !== undefined) return (t) => reference.draw.speedAt(t)
  if (what === 'winding' && drive instanceof TorqueDrive) return windingAt(line, drive)
  const dancer = line.carriages.find((c) => c.name === part)
  if (what === 'force' && dancer !== undefined && dancer.cylinder === undefined) {
    const profile = courses.setting('dancer force', part, dancer.setup.force ?? 0)
    return (t) => profile.speedAt(t)
  }
  if (what === 'pressure' && dancer?.cylinder !== undefined) {
    const profile = courses.setting('dancer pressure', part, dancer.cylinder.spec.pressure)
    return (t) => profile.speedAt(t)
  }
  return what === 'radius' ? radiusAt(line, scenario, part) : undefined
}

/** Must be asked in the order of time. */
function windingAt(line: Line, drive: TorqueDrive): (t: number) => number {
  const radius = line.rollers.estimate[drive.roller]
  const start = drive.course.at(0, radius)
  return (t) => {
    if (t === 0) return start
    line.courses.enter(t)
    return drive.course.at(t, radius)
  }
}

/** Must be asked in the order of time: the roll is turned on from the time before. */
function radiusAt(line: Line, scenario: RunScenario, part: string): ((t: number) => number) | undefined {
  const spec = scenario.line.find((p) => p.part !== 'span' && p.name === part)
  if (spec?.part !== 'unwind' && spec?.part !== 'rewind') return undefined
  const { unevenness, diameter } = spec
  if (unevenness === undefined) return undefined
  const profile = spec.part === 'unwind' ? line.courses.unwind : line.courses.line
  let [angle, last] = [START_ANGLE, 0]
  return (t) => {
    if (t === 0) return deviationOf(unevenness, START_ANGLE)
    angle += ((profile.speedAt(t) + profile.speedAt(last)) / diameter) * (t - last)
    last = t
    return deviationOf(unevenness, angle)
  }
}

function setPointCourse(line: Line, law: object, ticks: number, tick: number): Float64Array {
  const measures = 'measures' in law ? law.measures : undefined
  const dancer = line.carriages.find((c) => c.name === measures)
  if (dancer === undefined) return new Float64Array(ticks + 1)
  const profile = line.courses.setting('set point', dancer.name, dancer.setup.setPoint)
  return Float64Array.from({ length: ticks + 1 }, (_, k) => profile.speedAt(k * tick) - dancer.setup.setPoint)
}

function kicksOf(scenario: RunScenario, line: Line, plant: Plant, tick: number): Kick[] {
  const last = line.rollers.count - 1
  return scenario.stage.flatMap((event): Kick[] => {
    if (event.do !== 'flying splice' && event.do !== 'rewind change') return []
    const roller = event.do === 'flying splice' ? 0 : last
    const state = plant.states.findIndex((s) => s.index === plant.line.rollers.state[roller])
    if (state < 0 || plant.line.rollers.state[roller] < 0) return []
    const speed = line.courses.line.speedAt(event.at)
    const by = (event.mismatch * speed) / plant.line.rollers.radius[roller] / plant.scales[state]
    return [{ tick: Math.round(event.at / tick), state, by }]
  })
}

/** Events that no linear line follows, in the words of the stage. */
export function leftOut(scenario: RunScenario): string[] {
  const names = scenario.stage.flatMap((event) => {
    if (event.do === 'free strain') return ['free strain of the film']
    const another = event.do === 'flying splice' || event.do === 'zero-speed splice' || event.do === 'rewind change'
    return another ? ['another roll and film after the change'] : []
  })
  return [...new Set(names)]
}
