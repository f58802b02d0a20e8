/** Check of the power that is lost where film passes a roller without slip. */
import type { Check } from '../check'
import { finish, nip, pointOf, powerGap, rewind, runOf, scenarioOf, span, STIFFNESS, unwind, type Entry } from './rig'

const BEFORE = 5e-4
const AFTER = 1.5e-3

/** Power of all motors, less what turns the rolls faster, and film energy in less out, W: what strain changing at the nip loses. */
function lostAtNip(): number {
  const draw = (1 + AFTER) / (1 + BEFORE) - 1
  const line = [unwind(BEFORE * STIFFNESS), span(1), nip('nip'), span(1), rewind(draw)]
  const { rollers, spans } = pointOf(scenarioOf({ line, speed: 2 })).line
  let power = 0
  for (let i = 0; i < rollers.count; i++)
    power += (rollers.motor[i] - rollers.inertia[i] * rollers.acceleration[i]) * rollers.speed[i]
  const energy = (j: number) => spans.force[j] ** 2 / (2 * STIFFNESS)
  return power + rollers.flux[0] * energy(0) - rollers.flux[2] * energy(1)
}

function largestGap(): number {
  const idler = (name: string): Entry => ({
    ...{
      part: 'idler',
      name,
      diameter: '80 mm',
      wrap: '90 deg',
      turn: 'left',
      inertia: '2e-3 kg m²',
      drag: '0.02 N m',
    },
  })
  const line = [
    ...[
      unwind(100),
      span(0.7),
      idler('idler 1'),
      span(0.5),
      idler('idler 2'),
      span(0.6),
      nip('nip', 0.0002),
      span(0.9),
    ],
    rewind(0.0004),
  ]
  const stage = [{ at: '0.2 s', do: 'speed', to: '3 m/s', in: '1 s', rounding: '10 %' }]
  let largest = 0
  finish(runOf(scenarioOf({ line, speed: 2, duration: 2, tick: 0.02, stage })), (run) => {
    const { gap, passing } = powerGap(run)
    largest = Math.max(largest, gap / passing)
  })
  return largest
}

const rollerLoss: Check = {
  id: '44',
  title: 'Power lost at a roller without slip',
  kind: 'own derivation',
  source:
    'Own derivation: q EA (e_in - e_out)^2/2 for a flux q of unstretched film; the whole power balance rests on it',
  inputs:
    'PET, EA 225 kN, passes a driven roller at 2 m/s from 0.05 % to 0.15 % strain. Then a line of five rollers in a ramp: ' +
    'what is stored against what is supplied, as a share of all power that passes, largest of 100 samples.',
  rows: [
    { what: 'motors and film energy in less out', expected: 0.2248876, unit: 'W', tolerance: 1e-6 },
    { what: 'largest gap of the power balance', expected: 0, unit: '1', tolerance: 1e-6 },
  ],
  compute: () => [lostAtNip(), largestGap()],
}

export const energyChecks: readonly Check[] = [rollerLoss]
