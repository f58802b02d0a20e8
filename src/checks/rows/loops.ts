/** Checks of control: where a position loop stops being stable, and what a winder on torque lacks that is told no inertia. */
import type { TrimSpec } from '../../line/trim'
import type { Check } from '../check'
import { finish, nip, pointOf, rewind, runOf, scenarioOf, span, unwind, type Entry } from './rig'

const LAG = 0.1
const INTEGRAL = 200
const DURATION = 16

const dancer: Entry = {
  ...{ part: 'dancer', name: 'dancer', diameter: '100 mm', wrap: '180 deg', turn: 'left', inertia: '2e-3 kg m²' },
  ...{ mass: '0.5 kg', damping: '10 N s/m', force: '200 N', lowerStop: '-50 mm', upperStop: '50 mm' },
}
const idler = (name: string, changes: Entry): Entry => ({
  ...{ part: 'idler', name, diameter: '100 mm', wrap: '180 deg', turn: 'right', inertia: '2e-3 kg m²', ...changes },
})
const strand: Entry = { ...span(0.3), filmDamping: '1 ms' }

/** Two strands, or four with a second roller on the carriage. */
const stores: Readonly<Record<2 | 4, readonly Entry[]>> = {
  2: [dancer],
  4: [{ ...dancer, force: '400 N' }, strand, idler('turn', {}), strand, idler('rider', { rides: 'dancer' })],
}

/** 1/s: growth of the swing of a run, from its root mean squares in the second and in the last quarter. */
function growth(strands: 2 | 4, gain: number): number {
  const line = [
    ...[unwind(100, { drive: { kind: 'lag', lag: `${LAG} s` } }), strand, ...stores[strands], strand],
    ...[nip('nip'), strand, rewind()],
  ]
  const control: TrimSpec = {
    ...{ control: 'position trim', measures: 'dancer', drives: 'unwind', kind: 'speed' },
    ...{ gain, integral: INTEGRAL, limit: 10 },
  }
  const scenario = { ...scenarioOf({ line, speed: 0.5, duration: DURATION, tick: 0.02 }), control: [control] }
  const { line: built, y } = pointOf(scenario)
  const { state, strands: held } = built.carriages[0]
  y[state] = 5e-4
  built.carriages[0].place(0, y)
  for (const j of held.spans) built.spans.hold(j, 100, y, built.unwoundState)
  let [early, late] = [0, 0]
  finish(runOf(scenario, y), (run) => {
    const quarter = Math.ceil((4 * run.time) / DURATION - 1e-9)
    if (quarter === 2) early += run.y[state] ** 2
    if (quarter === 4) late += run.y[state] ** 2
  })
  return Math.log(late / early) / DURATION
}

const BOUNDARY = LAG * INTEGRAL

/** Growth half a percent below and above the boundary, and where a straight line between them is zero, as a share of it. */
function crossing(strands: 2 | 4): [below: number, above: number, at: number] {
  const below = growth(strands, 0.995 * BOUNDARY)
  const above = growth(strands, 1.005 * BOUNDARY)
  return [below, above, 0.995 + (0.01 * below) / (below - above)]
}

const positionLoop: Check = {
  id: '11',
  title: 'A position loop behind a lagging drive at its limit of stability',
  kind: 'own derivation',
  source:
    'Routh on tau_d s^3 + s^2 + (Kp/n) s + Ki/n: stable exactly when Kp > tau_d Ki; rates of growth are its roots',
  inputs:
    'Drive with a lag of 0.1 s, Ki 200 1/s², so that the limit is Kp = 20 1/s; dancers of two and of four strands so light that ' +
    'film is stiff against them. Runs of 16 s with Kp 0.5 % below and above.',
  rows: [
    { what: 'two strands, 0.5 % below: grows by', expected: 0.0125, unit: '1/s', tolerance: 2e-3 },
    { what: 'two strands, 0.5 % above: grows by', expected: -0.0125, unit: '1/s', tolerance: 2e-3 },
    { what: 'two strands, limit over tau_d Ki', expected: 1, unit: '1', tolerance: 1e-3 },
    { what: 'four strands, 0.5 % below: grows by', expected: 0.00833, unit: '1/s', tolerance: 2e-3 },
    { what: 'four strands, 0.5 % above: grows by', expected: -0.00834, unit: '1/s', tolerance: 2e-3 },
    { what: 'four strands, limit over tau_d Ki', expected: 1, unit: '1', tolerance: 1e-3 },
  ],
  compute: () => [...crossing(2), ...crossing(4)],
}

/** So thin that the roll hardly changes while it is watched, so stiff that strain does not count, and damped. */
const thin = { thickness: '12 µm', modulus: '1000 GPa', fillFactor: 1 }
const damped: Entry = { ...span(0.5), filmDamping: '10 ms' }
const solid = { diameter: '1 m', core: '20 mm', coreInertia: '1e-6 kg m²' }

/** N, by which the film on a roll driven by torque differs from what is asked for, in the middle of a straight ramp. */
function missing(roll: 'winder' | 'unwind', ramp: Entry, start: number, seconds: number, compensation: number): number {
  const asked = 1800
  const drive = { kind: 'torque', tension: `${asked} N`, torqueLimit: '5000 N m' }
  const driven = { ...solid, drive: { ...drive, inertiaCompensation: `${compensation} %` } }
  const line =
    roll === 'winder'
      ? [unwind(asked), damped, nip('nip'), damped, rewind(0, driven)]
      : [unwind(asked, driven), damped, nip('nip'), damped, rewind()]
  const stage = [{ at: '0.01 s', in: `${seconds} s`, rounding: '0 %', ...ramp }]
  const times = { duration: seconds / 2, tick: 0.05 }
  const run = runOf(scenarioOf({ line, film: thin, speed: start, ...times, stage, threadingTension: asked }))
  finish(run)
  return run.line.spans.force[roll === 'winder' ? 1 : 0] - asked
}

const up = { do: 'start', to: '5 m/s' }
const down = { do: 'stop' }

const uncompensated: Check = {
  id: '14, drive on torque',
  title: 'A roll on torque whose drive is told no inertia',
  kind: 'own derivation',
  source:
    'Own derivation: a solid roll of mass m asks m a/2 at its surface, less the share that the drive adds; core neglected',
  inputs:
    'PET of 1390 kg/m³, roll of 1 m diameter and 1 m width, line between rest and 300 m/min on straight ramps; tension in the ' +
    'middle of the ramp less the 1800 N asked for.',
  rows: [
    { what: 'winder starts in 10 s, 0 %', expected: -272.926, unit: 'N', tolerance: 0.15 },
    { what: 'winder stops in 2 s, 0 %', expected: 1364.629, unit: 'N', tolerance: 0.3 },
    { what: 'unwind starts in 10 s, 0 %', expected: 272.926, unit: 'N', tolerance: 0.15 },
    { what: 'unwind stops in 2 s, 0 %', expected: -1364.629, unit: 'N', tolerance: 0.15 },
    { what: 'winder stops in 2 s, 100 %', expected: 0, unit: 'N', tolerance: 0.15 },
    { what: 'winder starts in 10 s, 140 %', expected: 109.17, unit: 'N', tolerance: 0.15 },
  ],
  compute: () => [
    missing('winder', up, 0, 10, 0),
    missing('winder', down, 5, 2, 0),
    missing('unwind', up, 0, 10, 0),
    missing('unwind', down, 5, 2, 0),
    missing('winder', down, 5, 2, 100),
    missing('winder', up, 0, 10, 140),
  ],
}

export const loopChecks: readonly Check[] = [positionLoop, uncompensated]
