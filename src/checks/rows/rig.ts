/**
 * Small lines for the checks, written as a scenario file would be and run through the same reading, the same search for the
 * operating point and the same run as every other.
 */
import { Line } from '../../line/line'
import { filmEnergy, powerBalance } from '../../line/power'
import { operatingPoint } from '../../line/rest'
import type { Summary } from '../../run/summary'
import { Run } from '../../run/run'
import { readDocument } from '../../scenario/read'
import type { Scenario } from '../../scenario/schema'

export type Entry = Readonly<Record<string, unknown>>

/** PET of 50 µm and 1 m width: 225 kN of force per unit strain. */
export const pet = {
  ...{ thickness: '50 µm', width: '1 m', modulus: '4.5 GPa', density: '1390 kg/m³' },
  ...{ elasticLimit: '20 %', fillFactor: 1 },
}

export const STIFFNESS = 225e3

const roll = { diameter: '1 m', core: '90 mm', coreInertia: '0.01 kg m²' }

/** A roll whose speed is prescribed; film leaves it with the strain of `woundTension` (N). */
export const unwind = (woundTension: number, changes: Entry = {}): Entry => ({
  ...{ part: 'unwind', name: 'unwind', film: 'A', ...roll, woundTension: `${woundTension} N` },
  ...{ drive: { kind: 'ideal' }, ...changes },
})

/** Film without damping of its own, `length` m. */
export const span = (length: number): Entry => ({ part: 'span', length: `${length} m`, filmDamping: '0 s' })

/** A roller of prescribed speed that the film touches along a line: spans end exactly here. `draw` as a number. */
export const nip = (name: string, draw = 0): Entry => ({
  ...{ part: 'driven', name, diameter: '100 mm', wrap: '0 deg', turn: 'left', inertia: '0.01 kg m²' },
  ...{ nip: true, draw: `${draw * 100} %`, drive: { kind: 'ideal' } },
})

export const rewind = (draw = 0, changes: Entry = {}): Entry => ({
  ...{ part: 'rewind', name: 'rewind', ...roll, diameter: '200 mm' },
  ...{ draw: `${draw * 100} %`, drive: { kind: 'ideal' }, ...changes },
})

export interface Setting {
  readonly line: readonly Entry[]
  /** m/s, at the start */
  readonly speed: number
  /** s */
  readonly duration?: number
  readonly tick?: number
  readonly film?: Entry
  readonly stage?: readonly Entry[]
  readonly threadingTension?: number
}

export function scenarioOf(s: Setting): Scenario {
  const reading = readDocument({
    spanwright: 1,
    title: 'Check',
    films: { A: { ...pet, ...s.film } },
    line: s.line,
    speed: { start: `${s.speed} m/s`, threadingTension: `${s.threadingTension ?? 100} N` },
    stage: s.stage ?? [],
    run: { for: `${s.duration ?? 1} s`, tick: `${s.tick ?? 0.01} s`, tolerance: 1e-9 },
  })
  if (!reading.ok) throw new Error(reading.problems.map((p) => p.say).join(' '))
  return reading.scenario
}

export interface Point {
  readonly line: Line
  readonly y: number[]
}

/** The line at its operating point, evaluated there. */
export function pointOf(scenario: Scenario): Point {
  const line = new Line(scenario)
  const start = operatingPoint(line)
  if (!start.ok) throw new Error(start.say)
  line.rates(0, start.y)
  return { line, y: start.y }
}

/** A run of `scenario` that begins in state `y`. Without `y` it begins at its operating point. */
export function runOf(scenario: Scenario, y?: readonly number[]): Run {
  return new Run(scenario, new Line(scenario), y === undefined ? pointOf(scenario).y : [...y])
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

/** s: along the rates the energy of the film is as good as a square of this, so the difference is exact but for rounding */
const STEP = 1e-5

/**
 * By how much what is stored and what is supplied differ at the run's present instant, and all power that passes, W. The film's
 * energy is differentiated along the rates, from either side: a splice that passes a roller just then, or film that has just
 * gone slack, spoils one of them.
 */
export function powerGap({ line, y, time }: Run): { gap: number; passing: number } {
  const rates = line.rates(time, y).slice()
  const energyAt = (s: number) => {
    line.rates(
      time,
      y.map((value, k) => value + s * rates[k]),
    )
    return filmEnergy(line)
  }
  const sides = [STEP, -STEP].map((s) => {
    const filmStored = (4 * energyAt(s) - 3 * energyAt(0) - energyAt(2 * s)) / (2 * s)
    const { stored, supplied, passing } = powerBalance(line, time, y, filmStored)
    return { gap: Math.abs(stored - supplied), passing }
  })
  return sides[0].gap < sides[1].gap ? sides[0] : sides[1]
}
