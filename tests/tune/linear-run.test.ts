/**
 * The linear line against the simulator: the same small step, on random lines of every kind of drive, dancer and trim. What the
 * simulator does without the step (rolls grow, radii change) is taken off.
 */
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Document } from '../run/lines'
import { prepare } from '../../src/run/prepare'
import { Run } from '../../src/run/run'
import { readDocument } from '../../src/scenario/read'
import { closedLine } from '../../src/tune/closed'
import { LinearRun } from '../../src/tune/linear-run'
import { settles } from '../../src/tune/loops'
import { plantOf } from '../../src/tune/plant'
import { standAt } from '../../src/tune/setup'
import { evaluate, finish, idler, nip, rewind, runOf, span, unwind, type Setting } from '../line/rig'
import { randomDocument } from '../run/random-lines'
import { closedAt, plantAt } from './rig'

type Part = Readonly<Record<string, unknown>>

const TICK = 0.005
const DURATION = 1.2
const STEP = 1e-4
/** N, below which a step shows so little that growing rolls outdo it */
const FELT = 0.02

/** Without what no linear model holds: dry friction of dancers, uneven rolls, estimates that lag behind a growing roll. */
function tamed(document: Document, stage: readonly Part[]): Document {
  const line = (document['line'] as Part[]).map((part) => {
    const rest = Object.fromEntries(
      Object.entries(part).filter(
        ([key]) => !['slidingFriction', 'frictionAtRest', 'unevenness', 'calculator'].includes(key),
      ),
    )
    return rest
  })
  const speed = { ...(document['speed'] as Part) }
  if (speed['start'] === '0 m/s') speed['start'] = '0.5 m/s'
  return { ...document, line, speed, stage, run: { for: `${DURATION} s`, tick: `${TICK} s`, tolerance: 1e-9 } }
}

function drawOf(document: Document): number {
  const part = (document['line'] as Part[]).find((p) => p['name'] === 'nip 1')
  return Number.parseFloat(String(part?.['draw'])) / 100
}

/** Tensions (a row for each tick), or undefined where the line cannot be run or something switches. */
function tensions(document: Document): number[][] | undefined {
  const run = prepare(document)
  if (!(run instanceof Run)) return undefined
  const rows: number[][] = []
  for (;;) {
    run.line.rates(run.time, run.y)
    rows.push([...run.line.spans.force])
    const outcome = run.step()
    if (outcome === undefined) continue
    if (outcome.outcome !== 'finished') return undefined
    const switched = outcome.summary.happenings.some((h) => h.what !== 'event')
    return switched ? undefined : rows
  }
}

interface Answer {
  readonly peak: number
  readonly worst: number
}

/** Largest answer of any tension to the step, and largest difference between line and simulator. */
function compare(document: Document): Answer | undefined {
  const draw = drawOf(document)
  const step = { do: 'draw', at: '0.1 s', roller: 'nip 1', to: `${100 * (draw + STEP)} %`, in: '0.1 s' }
  const stepped = tamed(document, [step])
  const [calm, moved] = [tensions(tamed(document, [])), tensions(stepped)]
  const reading = readDocument(stepped)
  if (calm === undefined || moved === undefined || !reading.ok) return undefined
  const standing = standAt(reading.scenario)
  if (!standing.ok) return undefined
  const plant = plantOf(standing)
  const closed = closedLine(plant)
  const input = plant.inputs.find((one) => one.key === 'draw/nip 1')
  if (!closed.ok || input === undefined || !settles(plant)) return undefined
  const outputs = plant.outputs.filter((o) => o.key.startsWith('tension/'))
  const linear = new LinearRun(plant, closed, { inputs: [input], outputs, tick: TICK })
  const course = moved.map((_, k) => STEP * rise((k * TICK - 0.1) / 0.1))
  const still = closed.loops.map(() => 0)
  let [peak, worst] = [0, 0]
  moved.forEach((row, k) => {
    linear.step([course[k]], [course[Math.min(k + 1, course.length - 1)]], still)
    row.forEach((force, j) => {
      peak = Math.max(peak, Math.abs(force - calm[k][j]))
      worst = Math.max(worst, Math.abs(force - calm[k][j] - linear.seen[j]))
    })
  })
  return { peak, worst }
}

/** A ramp whose ends are rounded over a quarter each, from 0 to 1. */
function rise(s: number): number {
  const a = 1 / 0.75
  if (s <= 0) return 0
  if (s >= 1) return 1
  if (s < 0.25) return (a * s * s) / 0.5
  if (s > 0.75) return 1 - (a * (1 - s) ** 2) / 0.5
  return (a * 0.25) / 2 + a * (s - 0.25)
}

describe('the linear line in time', () => {
  test(
    '20 random stable lines: a small step of draw as in the simulator, within 1 % of its peak',
    { timeout: 120_000 },
    () => {
      const found: Answer[] = []
      for (const document of fc.sample(randomDocument, { seed: 7, numRuns: 120 })) {
        if (found.length === 20) break
        const answer = compare(document)
        if (answer !== undefined && answer.peak > FELT) found.push(answer)
      }
      expect(found).toHaveLength(20)
      for (const { peak, worst } of found) {
        expect(worst / peak).toBeLessThan(0.01)
      }
    },
  )

  test('a ramp of line speed, whose acceleration a torque winder is told: as in the simulator, within 1 % of its peak', () => {
    const [from, to, ramp] = [0.5, 0.505, 0.25]
    const line = [
      ...[unwind(100), span(1), nip('nip'), span(0.7, 1e-3), idler('idler'), span(0.7, 1e-3)],
      rewind({ drive: { kind: 'torque', tension: '100 N', torqueLimit: '500 N m', inertiaCompensation: '40 %' } }),
    ]
    const setting: Setting = { line, speed: from, tick: TICK, duration: 0.8, tolerance: 1e-9 }
    const there = { do: 'speed', at: '0.1 s', to: `${to} m/s`, in: `${ramp} s` }
    const seen = [[], [there]].map((stage) => {
      const rows: number[] = []
      finish(runOf({ ...setting, stage }), (run) => rows.push(evaluate(run).spans.force[2]))
      return rows
    })
    const plant = plantAt(setting)
    const inputs = plant.inputs.filter(({ key }) => key === 'speed')
    const outputs = plant.outputs.filter(({ key }) => key === 'tension/idler → rewind')
    const linear = new LinearRun(plant, closedAt(plant), { inputs, outputs, tick: TICK })
    const course = (k: number) => (to - from) * Math.min(1, Math.max(0, (k * TICK - 0.1) / ramp))
    let [peak, worst] = [0, 0]
    seen[0].forEach((calm, k) => {
      linear.step([course(k)], [course(k + 1)], [])
      const moved = seen[1][k] - calm
      peak = Math.max(peak, Math.abs(moved))
      // where a ramp begins or ends the acceleration jumps, and either side of that is right
      const corner = [0.1, 0.1 + ramp].some((at) => Math.abs(k * TICK - at) < 1.5 * TICK)
      if (!corner) worst = Math.max(worst, Math.abs(moved - linear.seen[0]))
    })
    expect(peak).toBeGreaterThan(0.1)
    expect(worst / peak).toBeLessThan(0.01)
  })
})
