/** Checks of film between rollers of prescribed speed: draw, its settling, and what a change does to the span after it. */
import type { Check } from '../check'
import { finish, nip, pointOf, rewind, runOf, scenarioOf, span, STIFFNESS, unwind, type Setting } from './rig'

const balance =
  'Mass balance of a span: Whitworth & Harrison 1983, Shelton 1986 (attribution from memory); digits from the exact ' +
  'conservation of film, m(t) = m_end + (m_start - m_end) exp(-v t/L)'

/** unwind, nip 1, a span of `length` m, nip 2 with `draw`, rewind; film comes in with the strain of `tension` (N). */
const zone = (speed: number, length: number, tension: number, draw: number): Setting => ({
  line: [unwind(tension), span(1), nip('nip 1'), span(length), nip('nip 2', draw), span(1), rewind(draw)],
  speed,
})

const TIME_CONSTANT = 2.497502

function afterDraw(): number[] {
  const before = pointOf(scenarioOf(zone(2, 5, 112.5, 0)))
  const setting = { ...zone(2, 5, 112.5, 0.001), duration: 20 * TIME_CONSTANT, tick: TIME_CONSTANT }
  const tension: number[] = []
  finish(runOf(scenarioOf(setting), before.y), ({ line }) => tension.push(line.spans.force[1]))
  const end = pointOf(scenarioOf(setting)).line.spans.force[1]
  return [0, 1, 2, 3, 5].map((k) => tension[k]).concat(end)
}

const changeOfDraw: Check = {
  id: '1',
  title: 'Tension in a span after a change of draw',
  kind: 'published equation, own digits',
  source: balance,
  inputs:
    'PET, E 4.5 GPa, 50 µm, 1 m wide; span of 5 m between rollers at 2 and 2.002 m/s; film comes in at 0.05 % strain, and ' +
    'stands at that strain at the start. Time constant L/v2 = 2.497502 s.',
  rows: [
    ['at the start', 112.5],
    ['after one time constant', 254.746],
    ['after two time constants', 307.12],
    ['after three time constants', 326.394],
    ['after five time constants', 336.094],
    ['in the end', 337.6125],
  ].map(([what, expected]) => ({ what: `tension ${what}`, expected: Number(expected), unit: 'N', tolerance: 0.001 })),
  compute: afterDraw,
}

const drawAdds: Check = {
  id: '2',
  title: 'Draw adds to the strain that comes in',
  kind: 'published',
  source:
    'T. J. Walker, article on how draw control creates strain, webhandling.com: 0.5 % and 1 % make 1.5 %, rounded; exactly ' +
    '1.005 x 1.01 - 1 = 1.505 %',
  inputs: 'Film at 0.5 % strain runs from one driven roller to the next, which runs 1 % faster.',
  rows: [
    { what: 'strain between the rollers, as published', expected: 1.5, unit: '%', tolerance: 0.05 },
    { what: 'strain between the rollers, exact', expected: 1.505, unit: '%', tolerance: 1e-6 },
  ],
  compute: () => {
    const { line } = pointOf(scenarioOf(zone(2, 5, 0.005 * STIFFNESS, 0.01)))
    const strain = (100 * line.spans.force[1]) / STIFFNESS
    return [strain, strain]
  },
}

/** Times (s) at which tension in the zone has gone through 1 - 1/e and 95 % of a small step. */
function settling(speed: number, expected: number): number[] {
  const length = 15.24
  const setting = { ...zone(speed, length, 112.5, 1e-5), duration: 3.2 * expected, tick: expected / 1000 }
  const from = pointOf(scenarioOf(zone(speed, length, 112.5, 0)))
  const last = pointOf(scenarioOf(setting)).line.spans.force[1]
  const first = from.line.spans.force[1]
  const wanted = [1 - Math.exp(-1), 0.95]
  const found: number[] = []
  let [shareBefore, timeBefore] = [0, 0]
  finish(runOf(scenarioOf(setting), from.y), ({ line, time }) => {
    const share = (line.spans.force[1] - first) / (last - first)
    const goal = wanted[found.length]
    if (goal !== undefined && share >= goal) {
      found.push(timeBefore + ((time - timeBefore) * (goal - shareBefore)) / (share - shareBefore))
    }
    ;[shareBefore, timeBefore] = [share, time]
  })
  return found
}

const zoneSettles: Check = {
  id: '3',
  title: 'How long a draw zone takes to settle',
  kind: 'published',
  source:
    'T. J. Walker, Drawing Conclusions part II, Paper, Film & Foil Converter, June 2005: length over speed is the time ' +
    'constant, 95 % is reached after three of them (exactly 2.996)',
  inputs: '50 ft of film between driven rollers, at 200 ft/min and at 50 ft/min; a small step of draw.',
  rows: [
    { what: 'time constant at 200 ft/min', expected: 15, unit: 's', tolerance: 0.001 },
    { what: '95 % at 200 ft/min', expected: 45, unit: 's', tolerance: 0.1 },
    { what: 'time constant at 50 ft/min', expected: 60, unit: 's', tolerance: 0.001 },
    { what: '95 % at 50 ft/min', expected: 180, unit: 's', tolerance: 0.3 },
  ],
  compute: () => [...settling(1.016, 15), ...settling(0.254, 60)],
}

/** Least strain (share of the step) after the middle of three nips has stepped, and when (s). Span lengths in m at 1 m/s. */
function behindStep(upstream: number, downstream: number): [least: number, at: number] {
  const step = 1e-6
  const setting = (draw: number): Setting => ({
    line: [
      ...[unwind(11.25), span(1), nip('nip 1'), span(upstream), nip('nip 2', draw)],
      ...[span(downstream), nip('nip 3'), span(1), rewind()],
    ],
    ...{ speed: 1, duration: 3 * upstream, tick: 0.02 },
  })
  const from = pointOf(scenarioOf(setting(0)))
  const summary = finish(runOf(scenarioOf(setting(step)), from.y))
  const { min, atMin } = summary.spans[2].tension
  return [(min - from.line.spans.force[2]) / STIFFNESS / step, atMin]
}

const spanAfterStep: Check = {
  id: '4',
  title: 'The span after a roller that goes faster',
  kind: 'published equation, own digits',
  source:
    'Two mass balances in series: Whitworth & Harrison 1983, Shelton 1986 (attribution from memory). Linear in small strain: ' +
    'strain downstream -d (t/T) exp(-t/T) with equal time constants T',
  inputs:
    'Three rollers of prescribed speed; the middle one goes faster by a share d = 1e-6 at film strain 0.005 %. Time constants ' +
    'of the two spans 2 s and 2 s, then 2 s and 1 s.',
  rows: [
    { what: 'least strain downstream over d, spans alike', expected: -Math.exp(-1), unit: '1', tolerance: 0.00004 },
    { what: 'time of it, spans alike', expected: 2, unit: 's', tolerance: 0.0002 },
    { what: 'least strain downstream over d, 2 s and 1 s', expected: -0.5, unit: '1', tolerance: 0.00005 },
    { what: 'time of it, 2 s and 1 s', expected: 1.386294, unit: 's', tolerance: 0.0001 },
  ],
  compute: () => [...behindStep(2, 2), ...behindStep(2, 1)],
}

const speedError: Check = {
  id: '40',
  title: 'What a small speed error takes from the tension',
  kind: 'own derivation',
  source: 'Own derivation from film conservation: (1 + e) x 0.001/e of the tension at strain e, 87 % rounded',
  inputs: 'PET at 0.115 % strain between two driven rollers; the second turns 0.1 % too slowly.',
  rows: [{ what: 'tension lost', expected: 87.0565, unit: '%', tolerance: 0.0001 }],
  compute: () => {
    const tension = (draw: number) => pointOf(scenarioOf(zone(2, 5, 0.00115 * STIFFNESS, draw))).line.spans.force[1]
    return [100 * (1 - tension(-0.001) / tension(0))]
  },
}

export const drawChecks: readonly Check[] = [changeOfDraw, drawAdds, zoneSettles, spanAfterStep, speedError]
