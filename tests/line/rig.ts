/**
 * Small lines for the tests of the moving line, written as a scenario file would be. Film of 225 kN per unit strain, rolls and
 * rollers whose figures can be reckoned with in the head.
 */
import { Line } from '../../src/line/line'
import { operatingPoint } from '../../src/line/rest'
import type { Happening } from '../../src/run/record'
import { Run } from '../../src/run/run'
import type { Summary } from '../../src/run/summary'
import { readDocument } from '../../src/scenario/read'
import type { Scenario } from '../../src/scenario/schema'

export { powerGap } from '../../src/checks/rows/rig'

export type Entry = Readonly<Record<string, unknown>>

/** PET of 50 µm and 1 m width. */
export const pet: Entry = {
  ...{ thickness: '50 µm', width: '1 m', modulus: '4.5 GPa', density: '1390 kg/m^3', elasticLimit: '20 %' },
  fillFactor: 1,
}

/** N, force per unit strain of that film */
export const EA = 225e3

const roll = { diameter: '400 mm', core: '90 mm', coreInertia: '0.01 kg m^2' }

export const unwind = (woundTension: number, changes: Entry = {}): Entry => ({
  ...{ part: 'unwind', name: 'unwind', film: 'A', ...roll, woundTension: `${woundTension} N` },
  ...{ drive: { kind: 'ideal' }, ...changes },
})

/** `length` in m, `damping` of the film in s */
export const span = (length: number, damping = 0): Entry => ({
  ...{ part: 'span', length: `${length} m`, filmDamping: `${damping} s` },
})

const roller = { diameter: '100 mm', wrap: '0 deg', turn: 'left', inertia: '0.002 kg m^2' }

export const idler = (name: string, changes: Entry = {}): Entry => ({ part: 'idler', name, ...roller, ...changes })

export const nip = (name: string, changes: Entry = {}): Entry => ({
  ...{ part: 'driven', name, ...roller, nip: true, drive: { kind: 'ideal' }, ...changes },
})

/** A dancer with two strands that stores film with nothing but its force. */
export const dancer = (name: string, changes: Entry = {}): Entry => ({
  ...{ part: 'dancer', name, ...roller, wrap: '180 deg', mass: '4 kg', force: '200 N' },
  ...{ lowerStop: '-200 mm', upperStop: '200 mm', ...changes },
})

export const rewind = (changes: Entry = {}): Entry => ({
  ...{ part: 'rewind', name: 'rewind', ...roll, diameter: '200 mm', drive: { kind: 'ideal' }, ...changes },
})

export const trim = (measures: string, drives: string, changes: Entry = {}): Entry => ({
  ...{ control: 'position trim', measures, drives, kind: 'speed', gain: '1 1/s', limit: '10 m/s', ...changes },
})

export interface Setting {
  readonly line: readonly Entry[]
  readonly control?: readonly Entry[]
  readonly films?: Readonly<Record<string, Entry>>
  /** m/s, at the start; 1 if nothing is said */
  readonly speed?: number
  /** N, as long as nothing else sets the tension */
  readonly threading?: number
  readonly stage?: readonly Entry[]
  /** share of a ramp; ramps are straight if nothing is said */
  readonly rounding?: number
  /** s */
  readonly duration?: number
  readonly tick?: number
  readonly tolerance?: number
}

export function documentOf(s: Setting): Entry {
  return {
    spanwright: 1,
    title: 'Test',
    films: { A: pet, ...s.films },
    line: s.line,
    control: s.control ?? [],
    speed: {
      start: `${s.speed ?? 1} m/s`,
      rounding: `${100 * (s.rounding ?? 0)} %`,
      threadingTension: `${s.threading ?? 100} N`,
    },
    stage: s.stage ?? [],
    run: { for: `${s.duration ?? 1} s`, tick: `${s.tick ?? 0.01} s`, tolerance: s.tolerance ?? 1e-8 },
  }
}

export function scenarioOf(setting: Setting): Scenario {
  const reading = readDocument(documentOf(setting))
  if (!reading.ok) throw new Error(reading.problems.map((p) => p.say).join(' '))
  return reading.scenario
}

export interface Point {
  readonly scenario: Scenario
  readonly line: Line
  readonly y: number[]
}

/** The line at its operating point, evaluated there. */
export function pointOf(setting: Setting): Point {
  const scenario = scenarioOf(setting)
  const line = new Line(scenario)
  const start = operatingPoint(line)
  if (!start.ok) throw new Error(start.say)
  line.rates(0, start.y)
  return { scenario, line, y: start.y }
}

/** A run from the operating point, or from what `change` makes of it. */
export function runOf(setting: Setting, change: (point: Point) => void = () => undefined): Run {
  const point = pointOf(setting)
  change(point)
  return new Run(point.scenario, point.line, point.y)
}

/** A run of `setting` that begins where `before`, a line of the same parts, stands. */
export function stepOf(before: Setting, setting: Setting): Run {
  const scenario = scenarioOf(setting)
  return new Run(scenario, new Line(scenario), pointOf(before).y)
}

/** Runs to the end; `seen` is called at the start and after every tick. */
export function finish(run: Run, seen: (run: Run) => void = () => undefined): Summary {
  seen(run)
  for (;;) {
    const outcome = run.step()
    if (outcome !== undefined && outcome.outcome !== 'finished') throw new Error(JSON.stringify(outcome))
    seen(run)
    if (outcome !== undefined) return outcome.summary
  }
}

/** When the first thing of this kind happened, s; to `part` if one is given. */
export function timeOf(run: Run, what: Happening['what'], part?: string): number {
  const found = run.happenings.find((h) => h.what === what && (part === undefined || h.part === part))
  if (found === undefined) throw new Error(`nothing of kind "${what}" happened: ${JSON.stringify(run.happenings)}`)
  return found.at
}

/** The line of a run, evaluated at its present instant: tensions and fluxes are those of the last evaluation. */
export function evaluate({ line, time, y }: Run): Line {
  line.rates(time, y)
  return line
}

/** Turns the film of every span slack by `surplus` m. */
export function slacken({ line, y }: Point, surplus: number): void {
  for (let j = 0; j < line.spans.count; j++) y[j] = line.spans.length[j] + surplus
}

/** Moves the only dancer to `z` m, with `tension` N in its strands and in the spans `others`. */
export function moveDancer({ line, y }: Point, z: number, tension: number, others: readonly number[] = []): void {
  const [carriage] = line.carriages
  y[carriage.state] = z
  line.place(0, y)
  for (const j of [...carriage.strands.spans, ...others]) line.spans.hold(j, tension, y, line.unwoundState)
}
