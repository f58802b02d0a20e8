/** Checks of indexing feed: how much film a dancer must store, and what that costs in tension. */
import { storedSwing, type FeedSpec } from '../../line/feed'
import type { Check } from '../check'
import { finish, runOf, scenarioOf, span, unwind, type Entry, type Setting } from './rig'

const TENSION = 100
/** m, film on half the arc of the dancer roller: it counts to the span */
const HALF_ARC = (Math.PI * 0.1) / 4

/** A dancer roller so light that only the carriage counts, between an unwind that runs evenly and a roller that indexes. */
function indexingLine(dancer: Entry, index: Entry, length: number, damping: number): Entry[] {
  const strand = { ...span(length), filmDamping: `${damping} s` }
  const light = { diameter: '100 mm', turn: 'left', inertia: '4e-4 kg m²' }
  return [
    unwind(TENSION),
    strand,
    {
      ...{ part: 'dancer', name: 'dancer', ...light, wrap: '180 deg', force: `${2 * TENSION} N` },
      ...{ lowerStop: '-200 mm', upperStop: '200 mm', ...dancer },
    },
    strand,
    { part: 'driven', name: 'index roller', ...light, wrap: '0 deg', nip: true, index, drive: { kind: 'ideal' } },
    { ...span(1), filmDamping: '2 ms' },
    {
      ...{ part: 'rewind', name: 'rewind', diameter: '100 mm', coreInertia: '1e-4 kg m²' },
      drive: { kind: 'torque', tension: `${TENSION} N` },
    },
  ]
}

const changeover = { at: '0.1 s', do: 'changeover', roller: 'index roller', to: 'indexing', in: '0.1 s' }

const STORED: FeedSpec = { pattern: 'trapezoid', pitch: 0.3, move: 0.8, ramp: 0.15 }
const CYCLE = 2

/** m, peak to peak of a light dancer over the last 2.2 s of eleven cycles. */
function dancerSwing(): number {
  const index = { pattern: 'trapezoid', pitch: '300 mm', move: '0.8 s', ramp: '0.15 s' }
  const line = indexingLine({ mass: '50 g', damping: '5 N s/m' }, index, 0.8 - HALF_ARC, 1e-3)
  const setting: Setting = {
    line,
    speed: 0.15,
    stage: [changeover],
    duration: 22,
    tick: 0.02,
    threadingTension: TENSION,
  }
  return finish(runOf(scenarioOf(setting))).dancers[0].ripple
}

const stored: Check = {
  id: '12',
  title: 'Film stored each cycle of an indexing feed',
  kind: 'own derivation',
  source: 'v_m (T_c - T_i) + v_m^2/a: integral of the difference of two speeds',
  inputs: 'Trapezoid: pitch 0.30 m, cycle 2 s, move 0.8 s, ramps 0.15 s; a light dancer with two strands.',
  rows: [
    { what: 'stored film swings by', expected: 0.1873125, unit: 'm', tolerance: 1e-12 },
    { what: 'dancer of a run travels', expected: 0.09365625, unit: 'm', tolerance: 2e-6 },
  ],
  compute: () => [storedSwing(STORED, CYCLE), dancerSwing()],
}

const SECTION: Entry = { thickness: '36 µm', width: '0.392 m', modulus: '4.5 GPa' }
const TICK = 0.005
const PER_CYCLE = 200
const WHOLE = 4

/** Amplitude of the first harmonic of a signal sampled evenly over whole cycles. */
function firstHarmonic(samples: readonly number[]): number {
  let [cosine, sine] = [0, 0]
  samples.forEach((x, n) => {
    cosine += x * Math.cos((2 * Math.PI * n) / PER_CYCLE)
    sine += x * Math.sin((2 * Math.PI * n) / PER_CYCLE)
  })
  return (2 / samples.length) * Math.hypot(cosine, sine)
}

/** Spring of `stiffness` (N/m): first harmonics of a strand (N) and of the carriage (mm) over the last cycles of a run. */
function ripple(stiffness: number): [force: number, travel: number] {
  const index = { pattern: 'cycloidal', pitch: '250 mm', move: '1 s' }
  const line = indexingLine({ mass: '4 kg', stiffness: `${stiffness} N/m` }, index, 0.6 - HALF_ARC, 2e-3)
  const stage = [changeover]
  const scenario = scenarioOf({
    ...{ line, speed: 0.25, film: SECTION, stage, duration: 8.2, tick: TICK, threadingTension: TENSION },
  })
  const [pulls, places]: [number[], number[]] = [[], []]
  finish(runOf(scenario), ({ line: { spans, carriages }, y }) => {
    // both strands: what little the roller itself weighs comes on them with opposite signs
    pulls.push((spans.force[0] + spans.force[1]) / 2)
    places.push(1000 * y[carriages[0].state])
  })
  return [firstHarmonic(pulls.slice(-WHOLE * PER_CYCLE)), firstHarmonic(places.slice(-WHOLE * PER_CYCLE))]
}

const springs = [
  ['no spring', '0'],
  ['spring of M w^2', '157.914'],
  ['spring of 600 N/m', '600'],
] as const
const strands = [1.572, 0, 4.388]
const carriages = [19.909, 19.894, 19.853]

const spring: Check = {
  id: '13',
  title: 'A dancer that follows a sine feed, with three springs',
  kind: 'own derivation',
  source: 'Z |k - M w^2|/2 for each strand, elastic film; figures confirmed by an independent integration',
  inputs:
    'Cycloidal moves of 0.25 m as long as the cycle, 1 s; carriage 4 kg without damping; film of 63.504 kN, two spans of 0.6 m. First harmonic over four whole cycles, mean of both strands.',
  rows: [
    ...springs.map(([what], k) => ({ what: `${what}: strand`, expected: strands[k], unit: 'N', tolerance: 1e-3 })),
    ...springs.map(([what], k) => ({ what: `${what}: carriage`, expected: carriages[k], unit: 'mm', tolerance: 1e-3 })),
  ],
  compute: () => {
    const found = springs.map(([, stiffness]) => ripple(Number(stiffness)))
    return [...found.map(([force]) => force), ...found.map(([, travel]) => travel)]
  },
}

export const indexingChecks: readonly Check[] = [stored, spring]
