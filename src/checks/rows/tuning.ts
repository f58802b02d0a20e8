/** Checks of the tuning room: the linear line against the same figures as the simulator, and rules of thumb. */
import { modesOf, plantOf, Responses, rippleAt, cancelling, standAt, storage, type RippleDancer } from '../../tune'
import type { Check } from '../check'
import { rewind, scenarioOf, span, unwind, type Entry } from './rig'

const storing: Check = {
  id: '39',
  title: 'Film that a dancer stores, in seconds of line speed',
  kind: 'published equation, own digits',
  source:
    'Carotron, public dancer set-up guide (carotron.com): half a second to one second of line speed or more seldom gives trouble; digits our own',
  inputs: 'Travel of 200 mm, two strands, 24 and 48 m/min; four strands, 48 m/min.',
  rows: [
    { what: 'two strands, 24 m/min', expected: 1, unit: 's', tolerance: 1e-12 },
    { what: 'two strands, 48 m/min: on the limit', expected: 0.5, unit: 's', tolerance: 1e-12 },
    { what: 'four strands, 48 m/min', expected: 1, unit: 's', tolerance: 1e-12 },
  ],
  compute: () => [storage(0.2, 2, 0.4), storage(0.2, 2, 0.8), storage(0.2, 4, 0.8)].map((s) => s.seconds ?? Number.NaN),
}

const PITCH = 0.25
const W = 2 * Math.PI
const HALF_ARC = (Math.PI * 0.1) / 4
const light = { diameter: '100 mm', turn: 'left', inertia: '1e-9 kg m²' }
const section: Entry = { thickness: '36 µm', width: '0.392 m', modulus: '4.5 GPa' }
const strand = span(0.6 - HALF_ARC)

/** The line of check 13: a dancer between an unwind that runs evenly and a roller that indexes. */
function followingLine(dancer: Entry): readonly Entry[] {
  return [
    ...[unwind(100), strand],
    {
      ...{ part: 'dancer', name: 'dancer', ...light, wrap: '180 deg', mass: '4 kg' },
      ...{ lowerStop: '-200 mm', upperStop: '200 mm', ...dancer },
    },
    strand,
    {
      ...{ part: 'driven', name: 'index roller', ...light, wrap: '0 deg', nip: true, drive: { kind: 'ideal' } },
      index: { pattern: 'cycloidal', pitch: `${PITCH} m`, move: '1 s' },
    },
    ...[span(1), rewind()],
  ]
}

/** First harmonics of a strand (N) and of the carriage (mm): the answer of the linear line to the first harmonic of the feed. */
function answers(dancer: Entry): [force: number, travel: number] {
  const standing = standAt(scenarioOf({ line: followingLine(dancer), speed: PITCH, film: section }))
  if (!standing.ok) throw new Error(standing.say)
  const responses = new Responses(plantOf(standing))
  const feed = responses.disturbances.findIndex((d) => d.key === 'feed/index roller')
  const outputs = responses.at(W, feed)
  const size = (key: string) => PITCH * outputs[responses.outputs.findIndex((o) => o.key === key)].size
  const mean = (size('tension/unwind → dancer') + size('tension/dancer → index roller')) / 2
  return [mean, 1000 * size('dancer/dancer')]
}

const spring = (stiffness: number) => ({ stiffness: `${stiffness} N/m`, force: '200 N' })

const following: Check = {
  id: '13, linear line',
  title: 'A dancer that follows a sine feed, by the frequency response of the linear line',
  kind: 'own derivation',
  source: 'Z |k - M w^2|/2 for each strand, elastic film; figures confirmed by an independent integration',
  inputs: 'The line of check 13 about its steady state; answer at 1 Hz to the first harmonic of the feed, 0.25 m/s.',
  rows: [
    { what: 'no spring: strand', expected: 1.572, unit: 'N', tolerance: 1e-3 },
    { what: 'spring of M w^2: strand', expected: 0, unit: 'N', tolerance: 2e-3 },
    { what: 'spring of 600 N/m: strand', expected: 4.388, unit: 'N', tolerance: 1e-3 },
    { what: 'no spring: carriage', expected: 19.909, unit: 'mm', tolerance: 2e-3 },
    { what: 'spring of M w^2: carriage', expected: 19.894, unit: 'mm', tolerance: 2e-3 },
    { what: 'spring of 600 N/m: carriage', expected: 19.853, unit: 'mm', tolerance: 2e-3 },
  ],
  compute: () => {
    const found = [0, 4 * W * W, 600].map((k) => answers(spring(k)))
    return [...found.map(([force]) => force), ...found.map(([, travel]) => travel)]
  },
}

const bare: RippleDancer = {
  ...{
    mass: 4,
    stiffness: 0,
    damping: 0,
    friction: 0,
    strands: 2,
    gasStiffness: 0,
    lag: 0.1,
    rollerMass: 0,
    rollerDrag: 0,
  },
}
const AMPLITUDE = PITCH / W / 2

const regulatedCylinder: Check = {
  id: '13, ripple',
  title: 'What of the inertia of a dancer a spring and a regulated cylinder can cancel',
  kind: 'own derivation',
  source: 'Z M w^2/2 for each strand; the best regulated cylinder leaves 1/sqrt(1 + (w T)^2) of it',
  inputs: 'Inextensible film, 4 kg, carriage of 19.894 mm at 1 Hz, regulator of 0.1 s.',
  rows: [
    { what: 'bare mass: strand', expected: 1.571, unit: 'N', tolerance: 5e-4 },
    { what: 'spring that cancels it', expected: 157.914, unit: 'N/m', tolerance: 1e-3 },
    { what: 'spring of 600 N/m: strand', expected: 4.398, unit: 'N', tolerance: 5e-4 },
    { what: 'best regulated cylinder: strand', expected: 1.33, unit: 'N', tolerance: 5e-4 },
    { what: 'its gas spring', expected: 157.914, unit: 'N/m', tolerance: 1e-3 },
  ],
  compute: () => {
    const best = cancelling(bare, W, AMPLITUDE, 0.1)
    const stiff = rippleAt({ ...bare, stiffness: 600 }, W, AMPLITUDE).total.size
    return [rippleAt(bare, W, AMPLITUDE).total.size, best.spring, stiff, best.gasLeaves, best.gas]
  },
}

/** Hz of the mode of this kind at standstill. */
function modeAtRest(line: readonly Entry[], kind: string): number {
  const found = modesOf(scenarioOf({ line, speed: 0, threadingTension: 0.1 }))
  if (!found.ok) throw new Error(found.say)
  return found.modes.find((m) => m.kind === kind && m.frequency > 0)?.frequency ?? Number.NaN
}

const roller: Entry = { part: 'idler', name: 'idler', ...light, wrap: '0 deg', inertia: '0.01 kg m²' }
const heavy: Entry = {
  ...{ part: 'dancer', name: 'dancer', ...light, inertia: '1e-6 kg m²', wrap: '180 deg', mass: '10 kg' },
  ...{ force: '0.2 N', lowerStop: '-50 mm', upperStop: '50 mm' },
}

const toldApart: Check = {
  id: '9 and 10, told apart',
  title: 'Rollers on film and a dancer on film, found and named by the modes',
  kind: 'own derivation',
  source: 'Own derivation: w^2 = (EA R^2/J)(1/L1 + 1/L2) and (k + 4 EA/(L1 + L2))/M at vanishing strain',
  inputs: 'Film of EA 225 kN held at both ends of two spans of 1 m; roller of 0.01 kg m², or dancer of 10 kg.',
  rows: [
    { what: 'rollers on film', expected: 53.3822, unit: 'Hz', tolerance: 2e-4 },
    { what: 'dancer on held film', expected: 33.762, unit: 'Hz', tolerance: 5e-4 },
  ],
  compute: () => [
    modeAtRest([unwind(0.1), span(1), roller, span(1), rewind()], 'rollers on film'),
    modeAtRest([unwind(0.1), span(1 - HALF_ARC), heavy, span(1 - HALF_ARC), rewind()], 'dancer on held film'),
  ],
}

export const tuningChecks: readonly Check[] = [toldApart, following, regulatedCylinder, storing]
