/**
 * A step of a dancer's set point on the simulator itself, friction, limits, stops and sampling included, beside what the linear line
 * makes of the same step: what lies between the two is what margins leave out.
 */
import { begin } from '../run/run'
import type { Scenario } from '../scenario/schema'
import { scenarioOf } from './ask'
import { settles } from './loops'
import { plantOf } from './plant'
import { standAt, type Point, type Trouble } from './setup'
import { steppedLine } from './stepped'

export interface StepQuestion {
  readonly point: Point
  /** whose set point moves */
  readonly dancer: string
  /** m */
  readonly by: number
  /** s that are shown */
  readonly for: number
}

export interface StepCourse {
  /** s after the step */
  readonly time: number[]
  /** m, off the position before the step */
  readonly position: number[]
  /** N, off the tension before the step, in the span before the dancer */
  readonly tension: number[]
}

export interface StepAnswer extends StepCourse {
  readonly ok: true
  /** what the linear line makes of it; undefined where it does not settle, or no trim measures the dancer */
  readonly linear: StepCourse | undefined
}

/** s before the step: the line shows that it stands still. */
const BEFORE = 0.5
/** Most points kept: more than a picture has pixels to show. */
const POINTS = 500

/** Runs one point after another, in steps that tell the share of the time that is done. */
export function askStep(document: unknown): (question: StepQuestion) => Generator<number, StepAnswer | Trouble> {
  const reading = scenarioOf(document)
  return function* (question) {
    if (!reading.ok) return reading
    const run = begin(withStep(reading.scenario, question))
    if (!('step' in run)) return { ok: false, say: run.say, field: run.state }
    const columns: StepCourse = { time: [], position: [], tension: [] }
    const { channels } = run.plan
    const position = channels.findIndex(({ key }) => key === `dancer/${question.dancer}`)
    const tension = channels.findIndex(
      ({ group, name }) => group === 'tension' && name.endsWith(`→ ${question.dancer}`),
    )
    if (position < 0) return { ok: false, say: `The line has no dancer "${question.dancer}".`, field: 'line' }
    for (;;) {
      const outcome = run.step()
      const block = run.takeBlock()
      if (block) {
        for (let i = 0; i < block.count; i++) {
          columns.time.push(block.data[i] - BEFORE)
          columns.position.push(block.data[(position + 1) * block.count + i])
          columns.tension.push(block.data[(tension + 1) * block.count + i])
        }
      }
      if (outcome?.outcome === 'failed') return { ok: false, say: outcome.say, field: outcome.state }
      if (outcome) return { ok: true, ...offStart(columns), linear: linearStep(reading.scenario, question) }
      yield run.time / run.plan.duration
    }
  }
}

function offStart({ time, position, tension }: StepCourse): StepCourse {
  const stride = Math.max(1, Math.ceil(time.length / POINTS))
  const thinned = (column: number[], from: number) =>
    column.filter((_, k) => k % stride === 0).map((value) => value - from)
  return { time: thinned(time, 0), position: thinned(position, position[0]), tension: thinned(tension, tension[0]) }
}

function linearStep(scenario: Scenario, { point, dancer, by, for: duration }: StepQuestion): StepCourse | undefined {
  const trim = scenario.control.find((one) => one.control === 'position trim' && one.measures === dancer)
  const standing = standAt(scenario, point)
  if (trim === undefined || !standing.ok) return undefined
  const plant = plantOf(standing)
  if (!settles(plant)) return undefined
  const before = plant.outputs.find(({ key, name }) => key.startsWith('tension/') && name.endsWith(`→ ${dancer}`))
  const wanted = [`dancer/${dancer}`, before?.key ?? '']
  const stepped = steppedLine(plant, `set point/${trim.drives}`, by, wanted, { tick: scenario.run.tick, duration })
  if (!stepped.ok) return undefined
  const [position, tension] = stepped.values.map((values) => [...values])
  return offStart({ time: [...stepped.times], position, tension })
}

/** The scenario with nothing but the step on its stage. */
function withStep(scenario: Scenario, { point, dancer, by, for: shown }: StepQuestion): Scenario {
  const found = scenario.line.find((part) => part.part === 'dancer' && part.name === dancer)
  const setPoint = found?.part === 'dancer' ? found.setPoint : 0
  const line = scenario.line.map((part) => {
    if (part.part === 'unwind') return { ...part, diameter: point.unwindDiameter ?? part.diameter }
    if (part.part === 'rewind') return { ...part, diameter: point.rewindDiameter ?? part.diameter }
    return part
  })
  return {
    ...scenario,
    line,
    speed: { ...scenario.speed, start: point.speed ?? scenario.speed.start },
    stage: [{ do: 'set point', at: BEFORE, dancer, to: setPoint + by, in: 0.01 }],
    run: { ...scenario.run, for: BEFORE + shown },
  }
}
