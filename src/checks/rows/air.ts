/** Checks of air cylinders on a dancer: pressure to tension, gas spring, and what a regulator leaves of it. */
import { ATMOSPHERE, forceOf, gasSpring, pressureFor, type CylinderSpec } from '../../line/cylinder'
import type { Check } from '../check'
import { finish, pointOf, rewind, runOf, scenarioOf, span, unwind, type Entry } from './rig'

/** A cylinder as a scenario states it. */
const stated = (c: CylinderSpec): Entry => ({
  ...{ bore: `${c.bore} m`, count: c.count, pressure: `${c.pressure} Pa`, lever: c.lever },
  ...{ deadVolume: `${c.deadVolume} m^3`, lag: `${c.lag} s`, exponent: c.exponent },
})

const light = { diameter: '100 mm', turn: 'left', inertia: '4e-4 kg m²' }

const dancer = (cylinder: CylinderSpec, changes: Entry): Entry => ({
  ...{ part: 'dancer', name: 'dancer', ...light, wrap: '180 deg', mass: '4 kg', cylinder: stated(cylinder) },
  ...{ lowerStop: '-200 mm', upperStop: '200 mm', ...changes },
})

const PSI = 6894.757293168

const levered: CylinderSpec = {
  ...{ bore: 0.05, count: 2, pressure: 6 * PSI, lever: 120 / 365, deadVolume: 1e-3, lag: 0.1, exponent: 1.4 },
}

/** N, tension in a standing line whose dancer these cylinders push. */
function standingTension(): number {
  const line = [unwind(25), span(1), dancer(levered, {}), span(1), rewind()]
  return pointOf(scenarioOf({ line, speed: 0, threadingTension: 25 })).line.spans.force[0]
}

const lever: Check = {
  id: '7',
  title: 'Air pressure to film tension through a lever',
  kind: 'published',
  source:
    'Worked example "Web tension dancer roll force calculation verification", industrialmonitordirect.com; arithmetic ' +
    're-checked: it prints 26.71 N in the film, its own figures give 26.7047 N',
  inputs:
    'Two cylinders of 50 mm bore at 6 psi above atmosphere, 120 mm from the pivot; the dancer roller at 365 mm; wrap 180 deg.',
  rows: [
    { what: 'force of one cylinder', expected: 81.23, unit: 'N', tolerance: 0.005 },
    { what: 'force at the roller', expected: 53.41, unit: 'N', tolerance: 0.005 },
    { what: 'tension of a standing line', expected: 26.7047, unit: 'N', tolerance: 1e-4 },
  ],
  compute: () => [
    forceOf({ ...levered, count: 1, lever: 1 }, levered.pressure),
    forceOf(levered, levered.pressure),
    standingTension(),
  ],
}

const COLUMN = 0.3
const ABSOLUTE = 150e3

/** Cylinder of `area` (m^2) with a column of air of 0.30 m behind its piston when the carriage stands at 0; lower stop at -0.2 m. */
const column = (area: number): CylinderSpec => ({
  ...{ bore: Math.sqrt((4 * area) / Math.PI), count: 1, pressure: ABSOLUTE - ATMOSPHERE, lever: 1, lag: 100 },
  ...{ deadVolume: area * (COLUMN - 0.2), exponent: 1.4 },
})

/** m², the area whose gas spring has the stiffness (N/m): stiffness goes with area where the column is given. */
function areaFor(stiffness: number): number {
  const tried = 1e-4
  return (tried * stiffness) / gasSpring(column(tried), ABSOLUTE, 0.2)
}

/** N/m: M w^2 of a carriage whose weight the air carries, from ten half swings of a run with slack film. */
function swingStiffness(area: number): number {
  const cylinder = column(area)
  // all but a trifle: a line whose film is slack has no state to start from
  const mass = (forceOf(cylinder, cylinder.pressure) - 1e-3) / 9.80665
  const line = [unwind(25), span(1), dancer(cylinder, { mass: `${mass} kg`, stores: 'up' }), span(1), rewind()]
  const tick = 0.002
  const scenario = scenarioOf({ line, speed: 0, duration: 3, tick, threadingTension: 25 })
  const { line: built, y } = pointOf(scenario)
  for (const j of [0, 1]) y[j] = built.spans.length[j] + 0.1
  const { state } = built.carriages[0]
  y[state + 1] = 1e-3
  const z: number[] = []
  finish(runOf(scenario, y), (run) => z.push(run.y[state]))
  const crossings: number[] = []
  for (let n = 1; n < z.length; n++) if (z[n - 1] * z[n] < 0) crossings.push(tick * (n - z[n] / (z[n] - z[n - 1])))
  const half = (crossings[10] - crossings[0]) / 10
  return mass * (Math.PI / half) ** 2
}

const gas: Check = {
  id: '8',
  title: 'A gas spring of 300 N/m',
  kind: 'own derivation',
  source: 'k = n p A/h of a column of gas; the task is a vibrations textbook exercise, its answer own derivation',
  inputs:
    'Exponent 1.4, 150 kPa absolute, column 0.30 m; then a carriage whose weight that air carries is pushed at 1 mm/s.',
  rows: [
    { what: 'bore area', expected: 4.2857e-4, unit: 'm²', tolerance: 1e-8 },
    { what: 'M w^2 of the carriage', expected: 300, unit: 'N/m', tolerance: 0.5 },
  ],
  compute: () => [areaFor(300), swingStiffness(areaFor(300))],
}

const TENSION = 100
const PER_CYCLE = 200
const WHOLE = 4
const TURN_RATE = 2 * Math.PI
/** m, film on half the arc of the dancer roller: it counts to the span */
const HALF_ARC = (Math.PI * 0.1) / 4

/** A cylinder that holds 2 x 100 N, with the volume whose gas spring is `stiffness` (N/m) at z = 0. */
function springing(stiffness: number): CylinderSpec {
  const open: CylinderSpec = { bore: 0.04, count: 1, pressure: 0, lever: 1, deadVolume: 1, lag: 0.1, exponent: 1.4 }
  const pressure = pressureFor(open, 2 * TENSION)
  const needed = gasSpring(open, pressure + ATMOSPHERE, 0) / stiffness
  return { ...open, pressure, deadVolume: needed - 0.2 * forceOf(open, 1) }
}

/** N, first harmonic of a strand over whole cycles of a sine feed. */
function ripple(cylinder: CylinderSpec): number {
  const index = { pattern: 'cycloidal', pitch: '250 mm', move: '1 s' }
  const strand = { ...span(0.6 - HALF_ARC), filmDamping: '2 ms' }
  const line = [
    ...[unwind(TENSION), strand, dancer(cylinder, {}), strand],
    { part: 'driven', name: 'index roller', ...light, wrap: '0 deg', nip: true, index, drive: { kind: 'ideal' } },
    { ...span(1), filmDamping: '2 ms' },
    rewind(0, { diameter: '100 mm', coreInertia: '1e-4 kg m²', drive: { kind: 'torque', tension: `${TENSION} N` } }),
  ]
  const film = { thickness: '36 µm', width: '0.392 m', modulus: '4.5 GPa' }
  const stage = [{ at: '0.1 s', do: 'changeover', roller: 'index roller', to: 'indexing', in: '0.1 s' }]
  const times = { duration: 8.2, tick: 1 / PER_CYCLE }
  const pulls: number[] = []
  finish(runOf(scenarioOf({ line, speed: 0.25, film, stage, ...times, threadingTension: TENSION })), (run) => {
    const { force } = run.line.spans
    pulls.push((force[0] + force[1]) / 2)
  })
  let [cosine, sine] = [0, 0]
  pulls.slice(-WHOLE * PER_CYCLE).forEach((pull, n) => {
    cosine += pull * Math.cos((TURN_RATE * n) / PER_CYCLE)
    sine += pull * Math.sin((TURN_RATE * n) / PER_CYCLE)
  })
  return (2 / (WHOLE * PER_CYCLE)) * Math.hypot(cosine, sine)
}

const BEST = 4 * TURN_RATE ** 2

const regulated: Check = {
  id: '13, air cylinder',
  title: 'A dancer with a regulated air cylinder that follows a sine feed',
  kind: 'own derivation',
  source:
    'Z |k_gas j w T/(1 + j w T) - M w^2|/2 for each strand, least at k_gas = M w^2: 1.571 N/sqrt(1 + (w T)^2); film elastic',
  inputs:
    'Cycloidal moves of 0.25 m as long as the cycle, 1 s; carriage 4 kg; cylinder with a gas spring of M w^2 = 157.914 N/m and a ' +
    'regulator of 0.1 s; half and twice that gas spring. First harmonic over four whole cycles, mean of both strands.',
  rows: [
    { what: 'gas spring of M w^2', expected: 1.33, unit: 'N', tolerance: 2e-3 },
    { what: 'half of it', expected: 1.394, unit: 'N', tolerance: 3e-3 },
    { what: 'twice of it', expected: 1.571, unit: 'N', tolerance: 5e-3 },
  ],
  compute: () => [BEST, BEST / 2, 2 * BEST].map((stiffness) => ripple(springing(stiffness))),
}

export const airChecks: readonly Check[] = [lever, gas, regulated]
