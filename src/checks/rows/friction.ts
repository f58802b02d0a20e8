/** Checks of dry friction that holds harder than it slides: what a swing loses, where it stays, and how a roller lets go. */
import { Run } from '../../run/run'
import { Switching } from '../../run/switching'
import type { Check } from '../check'
import { finish, pointOf, rewind, scenarioOf, span, STIFFNESS, unwind, type Entry, type Point } from './rig'

const SLIDING = 4.5
const AT_REST = 12
const TENSION = 100
const HALF_ARC = (Math.PI * 0.1) / 4
const TICK = 1e-4

/** A carriage on film that is held at both ends and by a roller that does not turn. */
const carriage: Entry = {
  ...{ part: 'dancer', name: 'dancer', diameter: '100 mm', wrap: '180 deg', turn: 'left', inertia: '2e-3 kg m²' },
  ...{ breakaway: '1000 N m', mass: '4 kg', force: `${2 * TENSION} N`, lowerStop: '-50 mm', upperStop: '50 mm' },
  ...{ slidingFriction: `${SLIDING} N`, frictionAtRest: `${AT_REST} N` },
}

/** Turning points of the carriage that is let go 0.2 mm off, with parabolas through three samples, and where it stays, mm. */
function turns(): { turns: number[]; end: number } {
  const strand = span(1 - HALF_ARC)
  const line = [unwind(TENSION), strand, carriage, strand, rewind()]
  const scenario = scenarioOf({ line, speed: 0, duration: 0.16, tick: TICK, threadingTension: TENSION })
  const { line: built, y } = pointOf(scenario)
  const { state } = built.carriages[0]
  y[state] = 2e-4
  const z: number[] = []
  // on the very line that stands: what sticks there goes on sticking
  finish(new Run(scenario, built, y), (run) => z.push(1e3 * run.y[state]))
  const found = [z[0]]
  for (let n = 1; n + 1 < z.length; n++) {
    const [before, after] = [z[n - 1] - z[n], z[n + 1] - z[n]]
    if (before * after > 0) found.push(z[n] - (after - before) ** 2 / (8 * (before + after)))
  }
  return { turns: found, end: z[z.length - 1] }
}

/** N/mm, of both strands of 1 m */
const SPRING = (2e-3 * STIFFNESS * (STIFFNESS + TENSION)) / STIFFNESS

/** um, amplitude lost in the first and in the third cycle; N, force of the film where the carriage stays. */
function swing(): number[] {
  const { turns: found, end } = turns()
  return [1e3 * (found[0] - found[2]), 1e3 * (found[4] - found[6]), Math.abs(end) * SPRING]
}

const lost: Check = {
  id: 'friction, swing',
  title: 'What dry friction takes from a swing, and where it leaves it',
  kind: 'own derivation',
  source:
    'Coulomb friction, textbook: a swing loses 4 F_c/k a cycle, and stays at the first turning point within F_s/k',
  inputs:
    'Carriage of 4 kg on held film of EA 225 kN, two strands of 1 m at 100 N, so that k = 450.2 N/mm; friction 4.5 N sliding, ' +
    '12 N at rest; let go at 0.2 mm, 90.04 N.',
  rows: [
    { what: 'lost in the first cycle', expected: 39.98, unit: 'µm', tolerance: 0.1 },
    { what: 'lost in the third cycle', expected: 39.98, unit: 'µm', tolerance: 0.1 },
    { what: 'force where it stays: 90.04 N less nine times 9 N', expected: 9.04, unit: 'N', tolerance: 0.01 },
  ],
  compute: swing,
}

/** A roller of 50 mm radius between two spans at rest, with more tension behind it than before it. */
function pulled(torque: number): Point {
  const idler = {
    ...{ part: 'idler', name: 'idler', diameter: '100 mm', wrap: '0 deg', turn: 'left', inertia: '2e-3 kg m²' },
    ...{ drag: '0.1 N m', breakaway: '0.5 N m' },
  }
  const line = [unwind(TENSION), span(1), idler, span(1), rewind()]
  const point = pointOf(scenarioOf({ line, speed: 0, threadingTension: TENSION }))
  point.line.spans.hold(1, TENSION + torque / 0.05, point.y, point.line.unwoundState)
  new Switching(point.line).settle(0, point.y, () => undefined)
  point.line.rates(0, point.y)
  return point
}

/** N m, least torque with which the roller does not stay. */
function breakaway(): number {
  let [stays, goes] = [0, 2]
  while (goes - stays > 1e-9) {
    const middle = (stays + goes) / 2
    if (pulled(middle).line.rollers.mode[1] === 0) stays = middle
    else goes = middle
  }
  return goes
}

const letsGo: Check = {
  id: 'friction, breakaway',
  title: 'A roller that is harder to set going than to keep going',
  kind: 'own derivation',
  source:
    'Coulomb friction, textbook: it goes when the film asks for more than breakaway, and starts with (breakaway - drag)/J',
  inputs: 'Idler of 50 mm radius, J 0.002 kg m², drag 0.1 N m, breakaway 0.5 N m, at rest between two spans.',
  rows: [
    { what: 'torque of the film at which it goes', expected: 0.5, unit: 'N m', tolerance: 1e-7 },
    { what: 'its acceleration then', expected: 200, unit: 'rad/s²', tolerance: 1e-3 },
  ],
  compute: () => {
    const torque = breakaway()
    return [torque, pulled(torque).line.rollers.acceleration[1]]
  },
}

export const frictionChecks: readonly Check[] = [lost, letsGo]
