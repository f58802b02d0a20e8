/** Checks of the stiff oscillations: rollers and carriages on the film itself, from the linearised line at standstill. */
import { EigenvalueDecomposition } from 'ml-matrix'
import { jacobian } from '../../line/jacobian'
import type { Check } from '../check'
import { pointOf, rewind, scenarioOf, span, unwind, type Entry } from './rig'

/** Frequencies (Hz) at which the standing line oscillates, rising. */
function frequencies(line: readonly Entry[], tension: number): number[] {
  const point = pointOf(scenarioOf({ line, speed: 0, threadingTension: tension }))
  const states = point.y.map((_, k) => k)
  const { imaginaryEigenvalues } = new EigenvalueDecomposition(
    jacobian(point.line, 0, point.y, states, point.line.scales()),
  )
  return imaginaryEigenvalues
    .filter((w) => w > 1e-3)
    .map((w) => w / (2 * Math.PI))
    .sort((a, b) => a - b)
}

/** N: strain so small that it does not count */
const HARDLY = 0.1

function rollerBetween(tension: number): number {
  const roller = {
    part: 'idler',
    name: 'idler',
    diameter: '100 mm',
    wrap: '0 deg',
    turn: 'left',
    inertia: '0.01 kg m²',
  }
  return frequencies([unwind(tension), span(1), roller, span(1), rewind()], tension)[0]
}

const rollerMode: Check = {
  id: '9',
  title: 'A roller swings on the film',
  kind: 'own derivation',
  source: 'Own derivation: w^2 = (EA R^2/J)(1/L1 + 1/L2) at vanishing strain, times (1 + strain) else',
  inputs:
    'Film of EA 225 kN, held at both ends of two spans of 1 m; between them a roller of 50 mm radius, J 0.01 kg m².',
  rows: [
    { what: 'frequency, strain vanishing', expected: 53.3822, unit: 'Hz', tolerance: 0.0001 },
    { what: 'frequency at 0.05 % strain', expected: 53.395, unit: 'Hz', tolerance: 0.001 },
  ],
  compute: () => [rollerBetween(HARDLY), rollerBetween(112.5)],
}

/** The slowest mode of a dancer with a light roller; its spans, half arcs included, are `before` and `after` m long. */
function dancerOnFilm(tension: number, before: number, after: number): number {
  const halfArc = (0.1 * Math.PI) / 4
  const dancer = {
    ...{ part: 'dancer', name: 'dancer', diameter: '100 mm', wrap: '180 deg', turn: 'left', inertia: '1e-6 kg m²' },
    ...{ mass: '10 kg', force: `${2 * tension} N`, lowerStop: '-50 mm', upperStop: '50 mm' },
  }
  return frequencies([unwind(tension), span(before - halfArc), dancer, span(after - halfArc), rewind()], tension)[0]
}

const dancerMode: Check = {
  id: '10',
  title: 'A dancer swings on held film',
  kind: 'own derivation',
  source: 'Own derivation: w^2 = (k + 4 EA/(L1 + L2))/M with a light roller that may turn, at vanishing strain',
  inputs: 'Film of EA 225 kN, held at both ends; dancer of 10 kg without a spring, wrap 180 deg, two spans of 1 m.',
  rows: [
    { what: 'frequency, strain vanishing', expected: 33.762, unit: 'Hz', tolerance: 0.0005 },
    { what: 'frequency at 0.05 % strain', expected: 33.77, unit: 'Hz', tolerance: 0.0006 },
    { what: 'frequency, spans of 0.5 and 1.5 m', expected: 33.762, unit: 'Hz', tolerance: 0.0005 },
  ],
  compute: () => [dancerOnFilm(HARDLY, 1, 1), dancerOnFilm(112.5, 1, 1), dancerOnFilm(HARDLY, 0.5, 1.5)],
}

export const modeChecks: readonly Check[] = [rollerMode, dancerMode]
