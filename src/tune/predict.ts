/**
 * What the linear line makes of a scenario's stage: extremes of tension and dancer position, and which input they come from.
 *
 * Equations    linear-run.ts; shares by superposition: each input alone
 * Neglected    as in stage-course.ts; dry friction of the dancer, which holds tension back by up to F_c/sum g_j
 * Source       own derivation
 */
import type { RunScenario } from '../run/run'
import type { ClosedLine } from './closed'
import { LinearRun } from './linear-run'
import type { Output, Plant } from './plant'
import { stageCourse, type Course, type StageCourse } from './stage-course'

export interface Predicted {
  readonly output: Output
  /** off the steady value, SI */
  readonly least: number
  readonly most: number
}

/** Extremes of some outputs through the scenario's stage. */
export function predict(
  scenario: RunScenario,
  plant: Plant,
  closed: ClosedLine,
  outputs: readonly Output[],
  tick = scenario.run.tick,
): Predicted[] {
  return runThrough(plant, closed, outputs, stageCourse(scenario, plant, closed, tick), tick)
}

/** The input (or set point) that alone moves the output most, with how far it does. */
export function mainCause(
  scenario: RunScenario,
  plant: Plant,
  closed: ClosedLine,
  output: Output,
): { name: string; moves: number } | undefined {
  const { tick } = scenario.run
  const stage = stageCourse(scenario, plant, closed, tick)
  const still = stage.setPoints.map((r) => new Float64Array(r.length))
  const alone: [string, StageCourse][] = grouped(stage.courses).map(([name, courses]) => [
    name,
    { ...stage, courses, setPoints: still, kicks: [] },
  ])
  stage.setPoints.forEach((r, k) => {
    if (r.every((v) => v === 0)) return
    const one = still.map((none, i) => (i === k ? r : none))
    alone.push([`set point of the ${closed.loops[k].loop.name}`, { ...stage, courses: [], setPoints: one, kicks: [] }])
  })
  if (stage.kicks.length > 0) alone.push(['speed of the new roll', { ...stage, courses: [], setPoints: still }])
  const found = alone.map(([name, course]) => {
    const [{ least, most }] = runThrough(plant, closed, [output], course, tick)
    return { name, moves: Math.max(-least, most) }
  })
  return found.reduce<{ name: string; moves: number } | undefined>(
    (a, b) => (a === undefined || b.moves > a.moves ? b : a),
    undefined,
  )
}

/** Courses one by one; those of the unwind and of the rest of the line as one where both run alike. */
function grouped(courses: readonly Course[]): [string, Course[]][] {
  const speeds = courses.filter(({ input }) => input.key.startsWith('speed/'))
  const [one, two] = speeds
  const alike = speeds.length === 2 && one.values.every((value, k) => value === two.values[k])
  const others = courses.filter((course) => !alike || !speeds.includes(course))
  const single = others.map((course): [string, Course[]] => [course.input.name, [course]])
  return alike ? [['line speed', speeds], ...single] : single
}

function runThrough(
  plant: Plant,
  closed: ClosedLine,
  outputs: readonly Output[],
  { courses, setPoints, kicks, keeps, ticks }: StageCourse,
  tick: number,
): Predicted[] {
  const unwind = plant.line.rollers.names[0]
  const kept = keeps.length === 0 ? [] : plant.loops.filter((loop) => loop.correction.law.drives === unwind)
  const inputs = courses.map((c) => c.input)
  const linear = new LinearRun(plant, closed, { inputs, outputs, tick, keeps: kept })
  const least = new Float64Array(outputs.length)
  const most = new Float64Array(outputs.length)
  const [now, then] = [new Float64Array(courses.length), new Float64Array(courses.length)]
  const wanted = new Float64Array(setPoints.length)
  for (let k = 0; k < ticks; k++) {
    for (let i = 0; i < courses.length; i++) {
      now[i] = courses[i].values[k]
      then[i] = courses[i].values[k + 1]
    }
    for (let i = 0; i < setPoints.length; i++) wanted[i] = setPoints[i][k]
    for (const kick of kicks) if (kick.tick === k) linear.x[kick.state] += kick.by
    linear.step(
      now,
      then,
      wanted,
      keeps.some(({ from, to }) => k >= from && k < to),
    )
    for (let j = 0; j < outputs.length; j++) {
      const value = linear.seen[j]
      if (!(value >= least[j])) least[j] = Number.isNaN(value) ? -Infinity : value
      if (!(value <= most[j])) most[j] = Number.isNaN(value) ? Infinity : value
    }
  }
  return outputs.map((output, j) => ({ output, least: least[j], most: most[j] }))
}
