/**
 * What beats at the line by itself: turns of the rolls and of rollers out of round, cycles of an index feed, and where one of their
 * harmonics meets a mode that is lightly damped.
 *
 * Equations    roll turn n v/(pi D);  index cycle n v/p, amplitude of harmonic n by the Fourier integral of the feed's speed
 *              they meet a mode at f where v = f pi D/n, D = n v/(pi f), v = f p/n; modes move little with speed, less with diameter:
 *              their frequency is looked up again at the crossing
 * Neglected    as in modes.ts
 * Source       kinematics; Fourier
 */
import { feedSpeed, type FeedSpec } from '../line/feed'
import type { RunScenario } from '../run/run'
import { rollRange } from './diameters'
import { modesOf, type Mode } from './modes'
import type { Point } from './setup'

export interface Beat {
  readonly source: string
  readonly kind: 'roll turn' | 'index cycle'
  readonly harmonic: number
  /** Hz */
  readonly frequency: number
  /** m/s of the feed's speed, of an index cycle */
  readonly amplitude?: number
}

export interface Meeting {
  readonly beat: string
  readonly harmonic: number
  readonly mode: Mode
  /** Hz */
  readonly frequency: number
  readonly at: { readonly quantity: 'speed' | 'unwind diameter' | 'rewind diameter'; readonly value: number }
  readonly say: string
}

const HARMONICS = 4
/** Damping ratio below which a mode is worth meeting. */
const LIGHT = 0.3
const SAMPLES = 512

/** Harmonics of roll turns and index cycles at a point. */
export function beatsOf(scenario: RunScenario, point: Point = {}, harmonics = HARMONICS): Beat[] {
  const speed = point.speed ?? scenario.speed.start
  const orders = Array.from({ length: harmonics }, (_, k) => k + 1)
  const rolls = (['unwind', 'rewind'] as const).flatMap((which) => {
    const diameter = diameterAt(scenario, point, which)
    const name = nameOf(scenario, which)
    return orders.map((n): Beat => {
      return { source: name, kind: 'roll turn', harmonic: n, frequency: (n * speed) / (Math.PI * diameter) }
    })
  })
  const feeds = scenario.line.flatMap((part) => {
    if (part.part !== 'driven' || part.index === undefined || !fits(part.index, speed)) return []
    const { index, name } = part
    return orders.map((n): Beat => {
      const frequency = (n * speed) / index.pitch
      return { source: name, kind: 'index cycle', harmonic: n, frequency, amplitude: feedHarmonic(index, speed, n) }
    })
  })
  return [...rolls, ...feeds]
}

const fits = (feed: FeedSpec, speed: number) => speed > 0 && feed.move <= feed.pitch / speed

/** Whether a feed of that name has time for its move at a line speed (m/s). */
const cyclesAt = ({ line }: RunScenario, name: string, speed: number) =>
  line.some((part) => part.part === 'driven' && part.name === name && part.index && fits(part.index, speed))

/** m/s, amplitude of harmonic n of a feed's speed at line speed `speed` (m/s). */
export function feedHarmonic(feed: FeedSpec, speed: number, n: number): number {
  const cycle = feed.pitch / speed
  let [cosine, sine] = [0, 0]
  for (let k = 0; k < SAMPLES; k++) {
    const phase = (k + 0.5) / SAMPLES
    const v = feedSpeed(feed, phase * cycle)
    cosine += v * Math.cos(2 * Math.PI * n * phase)
    sine += v * Math.sin(2 * Math.PI * n * phase)
  }
  return (2 / SAMPLES) * Math.hypot(cosine, sine)
}

function nameOf({ line }: RunScenario, which: 'unwind' | 'rewind'): string {
  const roll = line.find((p) => p.part === which)
  return roll !== undefined && 'name' in roll ? roll.name : which
}

function diameterAt(scenario: RunScenario, point: Point, which: 'unwind' | 'rewind'): number {
  const stated = which === 'unwind' ? point.unwindDiameter : point.rewindDiameter
  return stated ?? rollRange(scenario, which).present
}

/** m/s: twice the fastest that the line is looked at, starts at, or is led to by the stage. */
function fastestOf({ speed, stage }: RunScenario, point: Point): number {
  const staged = stage.flatMap((event) => (event.do === 'start' || event.do === 'speed' ? [event.to] : []))
  return 2 * Math.max(point.speed ?? 0, speed.start, ...staged)
}

/**
 * Where a harmonic meets a lightly damped mode: over speed up to `fastest` (m/s), and over the diameters that the scenario knows.
 * The lowest harmonics first, of one order the most lightly damped.
 */
export function meetingsOf(scenario: RunScenario, point: Point = {}, fastest = fastestOf(scenario, point)): Meeting[] {
  const modes = modesOf(scenario, point)
  if (!modes.ok) return []
  const light = modes.modes.filter((m) => m.frequency > 0.05 && m.damping < LIGHT && m.damping > 0)
  const speed = point.speed ?? scenario.speed.start
  const found: Meeting[] = []
  for (const beat of beatsOf(scenario, point)) {
    if (beat.frequency === 0) continue
    for (const mode of light) {
      const v = (speed * mode.frequency) / beat.frequency
      if (v > 0 && v <= fastest) {
        const one = meeting(scenario, point, beat, mode, 'speed', v)
        if (beat.kind === 'roll turn' || cyclesAt(scenario, beat.source, one.at.value)) found.push(one)
      }
      if (beat.kind !== 'roll turn') continue
      const which = beat.source === nameOf(scenario, 'rewind') ? 'rewind' : 'unwind'
      const range = rollRange(scenario, which)
      const d = (diameterAt(scenario, point, which) * beat.frequency) / mode.frequency
      if (d >= range.core && d <= range.full) found.push(meeting(scenario, point, beat, mode, `${which} diameter`, d))
    }
  }
  // two modes of the point can become one on the way to where they are met
  const once = [...new Map(found.map((one) => [one.say, one])).values()]
  return once.sort((a, b) => a.harmonic - b.harmonic || a.mode.damping - b.mode.damping)
}

type What = Meeting['at']['quantity']

/** Once more with the mode as it is there: its frequency may have moved on the way. */
function meeting(scenario: RunScenario, point: Point, beat: Beat, mode: Mode, quantity: What, value: number): Meeting {
  const there = modesOf(scenario, { ...point, ...pointFor(quantity, value) })
  const near = there.ok ? nearest(there.modes, mode) : mode
  const moved = near.frequency / mode.frequency
  const better = quantity === 'speed' ? value * moved : value / moved
  const shown = quantity === 'speed' ? `${(60 * better).toPrecision(3)} m/min` : `${(1000 * better).toPrecision(3)} mm`
  const order = beat.harmonic === 1 ? 'The' : `Harmonic ${beat.harmonic} of the`
  const what = beat.kind === 'roll turn' ? `turn of ${beat.source}` : `cycle of ${beat.source}`
  const where = quantity === 'speed' ? `a line speed of ${shown}` : `a diameter of ${shown}`
  return {
    ...{ beat: beat.source, harmonic: beat.harmonic, mode: near, frequency: near.frequency },
    at: { quantity, value: better },
    say: `${order} ${what} meets a mode of ${near.frequency.toPrecision(3)} Hz, damped to ${(100 * near.damping).toPrecision(2)} %, at ${where}.`,
  }
}

function pointFor(quantity: What, value: number): Point {
  if (quantity === 'speed') return { speed: value }
  return quantity === 'unwind diameter' ? { unwindDiameter: value } : { rewindDiameter: value }
}

function nearest(modes: readonly Mode[], wanted: Mode): Mode {
  const alike = modes.filter((m) => m.frequency > 0 && m.kind === wanted.kind)
  const apart = (m: Mode) => Math.abs(Math.log(m.frequency / wanted.frequency))
  return alike.length === 0 ? wanted : alike.reduce((a, b) => (apart(b) < apart(a) ? b : a))
}
