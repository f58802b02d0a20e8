/** Checks of rolls of film: how they grow, and what their inertia asks of the film. */
import type { Check } from '../check'
import { finish, nip, rewind, runOf, scenarioOf, span, unwind, type Entry } from './rig'

const CORE = 0.02
const FULL = 0.055
const LENGTH = 47

/** Winds the length of the check at constant surface speed; the roll's angle is what its recorded turn rate adds up to. */
function wound(): number[] {
  const thickness = (Math.PI * (FULL ** 2 - CORE ** 2)) / LENGTH
  const film = { thickness: `${thickness} m`, width: '0.1 m', modulus: '2 GPa', fillFactor: 1 }
  const line = [
    ...[unwind(1e-4), span(1), nip('nip'), span(1)],
    rewind(0, { diameter: `${2 * CORE} m`, core: `${2 * CORE} m` }),
  ]
  const tick = 0.01
  const samples: { length: number; radius: number; rate: number }[] = []
  const run = runOf(scenarioOf({ line, film, speed: 1, duration: LENGTH + 0.1, tick, threadingTension: 1e-4 }))
  finish(run, ({ line: { rollers, woundState }, y }) => {
    samples.push({ length: y[woundState], radius: rollers.radius[2], rate: rollers.speed[2] })
  })
  let angle = 0
  const last = samples.findIndex((s) => s.length >= LENGTH)
  const end = samples[last]
  const before = samples[last - 1]
  const share = (LENGTH - before.length) / (end.length - before.length)
  for (let k = 1; k <= last; k++) {
    const part = ((samples[k - 1].rate + samples[k].rate) / 2) * tick
    angle += k < last ? part : share * part
  }
  const radius = before.radius + share * (end.radius - before.radius)
  return [radius, (radius - CORE) / angle, angle / 300, angle / (2 * Math.PI)]
}

const constantRate: Check = {
  id: '6',
  title: 'A roll built at a constant turn rate',
  kind: 'published',
  source:
    'A. Downey, Modeling and Simulation in Python, No Starch Press, chapter Rotation: about 4.2 s, close to 200 turns (its ' +
    'text once prints the final radius as 0.55 m; its figures are those of 0.055 m). Further digits: own derivation, k = ' +
    '(R1^2 - R0^2)/(2 L)',
  inputs:
    'Core radius 20 mm, outer radius 55 mm, 47 m of paper, 300 rad/s. Computed at constant surface speed; radius against ' +
    'angle does not know the difference.',
  rows: [
    { what: 'radius after 47 m', expected: 0.055, unit: 'm', tolerance: 1e-7 },
    { what: 'growth of the radius', expected: 2.79255e-5, unit: 'm/rad', tolerance: 1e-10 },
    { what: 'time for the roll at 300 rad/s', expected: 4.177778, unit: 's', tolerance: 1e-6 },
    { what: 'turns', expected: 199.4742, unit: '1', tolerance: 1e-4 },
  ],
  compute: wound,
}

/** So thin that the roll hardly changes while it is watched, so stiff that strain does not count, and damped. */
const thin = { thickness: '12 µm', modulus: '1000 GPa', fillFactor: 1 }
const damped = (length: number): Entry => ({ part: 'span', length: `${length} m`, filmDamping: '10 ms' })

/** Force (N) that a braked roll's inertia takes from the film, or asks of it, in the middle of a straight ramp. */
function inertiaForce(ramp: Entry, start: number, seconds: number, tension: number): number {
  const brake = { drive: { kind: 'brake', torque: `${tension * 0.5} N m` }, core: '20 mm', coreInertia: '1e-6 kg m²' }
  const line = [unwind(tension, brake), damped(0.5), nip('nip'), damped(0.5), rewind()]
  const stage = [{ at: '0 s', in: `${seconds} s`, rounding: '0 %', ...ramp }]
  const duration = seconds / 2
  const run = runOf(
    scenarioOf({ line, film: thin, speed: start, duration, tick: 0.05, stage, threadingTension: tension }),
  )
  finish(run)
  const { rollers, spans } = run.line
  return Math.abs((tension * 0.5) / rollers.radius[0] - spans.force[0])
}

const rollInertia: Check = {
  id: '14',
  title: 'Inertia force of a roll of film',
  kind: 'own derivation',
  source: 'Own derivation: a solid roll of mass m asks m a/2 at its surface; core neglected',
  inputs:
    'PET of 1390 kg/m³, roll of 1 m diameter and 1 m width on a brake; line stops from 300 m/min in 10 s, in 2 s, and ' +
    'starts to 300 m/min in 10 s, on straight ramps. Steady tension less tension in the middle of the ramp.',
  rows: [
    { what: 'stop in 10 s', expected: 272.926, unit: 'N', tolerance: 0.15 },
    { what: 'stop in 2 s', expected: 1364.629, unit: 'N', tolerance: 0.15 },
    { what: 'start in 10 s', expected: 272.926, unit: 'N', tolerance: 0.15 },
  ],
  compute: () => [
    inertiaForce({ do: 'stop' }, 5, 10, 400),
    inertiaForce({ do: 'stop' }, 5, 2, 1800),
    inertiaForce({ do: 'start', to: '5 m/s' }, 0, 10, 20),
  ],
}

export const rollChecks: readonly Check[] = [constantRate, rollInertia]
