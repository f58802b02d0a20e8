/** What is asked of the linear model from outside, as jobs: a scenario document in common, points as inputs, plain data as answers. */
import { readDocument } from '../scenario/read'
import type { Scenario } from '../scenario/schema'
import { loopGain, type LoopGain } from './loops'
import type { LoopMargins } from './margins'
import { modesOf, type Modes } from './modes'
import { plantOf } from './plant'
import { standAt, type Point, type Trouble } from './setup'

/** The scenario of a document, or why there is none. */
export function scenarioOf(document: unknown): { readonly ok: true; readonly scenario: Scenario } | Trouble {
  const reading = readDocument(document)
  if (reading.ok) return reading
  const [first] = reading.problems
  return { ok: false, say: first?.say ?? 'The scenario cannot be read.', ...(first ? { field: first.path } : {}) }
}

/** Modes at one point after another. */
export function askModes(document: unknown): (point: Point) => Modes | Trouble {
  const reading = scenarioOf(document)
  return (point) => (reading.ok ? modesOf(reading.scenario, point) : reading)
}

export interface LoopQuestion {
  readonly point: Point
  /** place among the loops: position trims first, then tension trims, each in the order of the file */
  readonly loop: number
  /** whether the gain itself is wanted, not only its margins */
  readonly curve: boolean
}

export interface LoopAnswer extends Omit<LoopGain, 'points'> {
  readonly margins: LoopMargins
  /** loop gain over frequency (Hz): size, and phase in degrees as it runs on */
  readonly curve: { readonly hertz: number[]; readonly size: number[]; readonly phase: number[] } | undefined
}

/** Gain and margins of a loop at one point after another. */
export function askLoop(document: unknown): (question: LoopQuestion) => LoopAnswer | Trouble {
  const reading = scenarioOf(document)
  return ({ point, loop, curve }) => {
    if (!reading.ok) return reading
    const standing = standAt(reading.scenario, point)
    if (!standing.ok) return standing
    const gain = loopGain(plantOf(standing, false), loop)
    if (!gain.ok) return gain
    const { points, ...rest } = gain
    return { ...rest, curve: curve ? curveOf(points) : undefined }
  }
}

function curveOf(points: LoopGain['points']): LoopAnswer['curve'] {
  let [turns, last] = [0, 0]
  const phase = points.map(({ gain }, k) => {
    const angle = (gain.angle * 180) / Math.PI
    if (k > 0 && angle - last > 180) turns--
    if (k > 0 && angle - last < -180) turns++
    last = angle
    return angle + 360 * turns
  })
  // A loop gain that begins at +180 is read as -180, where the margin is counted from.
  const shift = (phase[0] ?? 0) > 90 ? -360 : 0
  return {
    hertz: points.map(({ w }) => w / (2 * Math.PI)),
    size: points.map(({ gain }) => gain.size),
    phase: phase.map((value) => value + shift),
  }
}
