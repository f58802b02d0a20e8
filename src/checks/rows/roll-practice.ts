/** Checks of what rolls are made of and what is met in practice: stack laws, thickness in the roll, core pressures. */
import { stackModulus } from '../../film/stack'
import { fillFactorFrom } from '../../roll/build'
import { coreStiffness } from '../../roll/core'
import type { Winding } from '../../roll/march'
import { wind } from '../../roll/stress'
import type { Check } from '../check'

function corePressure(winding: Winding, shells?: number): number {
  const roll = wind(winding, shells)
  if ('softened' in roll) throw new Error('the stack has no stiffness left')
  return roll.pressure[0]
}

const illustrative: Winding = {
  ...{ coreRadius: 0.045, outerRadius: 0.135, along: 4.5e9, core: 1.51, woundOn: () => 10e6 },
  through: stackModulus({ law: 'Pfeiffer', pressure: 10e3, slope: 40, basis: 'illustrative' }),
}

const forms: Check = {
  id: '26',
  title: 'Two forms of one stack modulus',
  kind: 'published equation, own digits',
  source: 'Pfeiffer, TAPPI 1966 (from memory): K2 (K1 + P); Hakiel 1987, TAPPI J. 70(5) 113-117: K0 + K1 P + K2 P^2',
  inputs: 'The roll of check 25 with both forms, K0 = K1 K2: pressure at the core of the one over that of the other.',
  rows: [{ what: 'polynomial over Pfeiffer', expected: 1, unit: '1', tolerance: 1e-12 }],
  compute: () => {
    const cubic = stackModulus({ law: 'cubic', k0: 40 * 10e3, k1: 40, k2: 0, k3: 0, basis: 'illustrative' })
    return [corePressure({ ...illustrative, through: cubic }) / corePressure(illustrative)]
  },
}

/** Film µm, length m, diameter mm; on cores of 3 in, outer diameter taken as 90 mm. */
const market: readonly (readonly [number, number, number])[] = [
  ...([
    [12, 2700, 229],
    [15, 2300, 235],
    [17, 2000, 234],
    [20, 1700, 234],
  ] as const),
  ...([
    [23, 1500, 235],
    [30, 1100, 231],
    [35, 900, 227],
  ] as const),
]

const onTheMarket: Check = {
  id: '28',
  title: 'Thickness of a lap in rolls on the market',
  kind: 'published',
  source: 'Published table of stretch-film rolls, webplasticscompany.com (film, length, diameter); ratio: own digits',
  inputs: 'Seven rolls on 3 in cores of 90 mm outer diameter: thickness of a lap over nominal thickness.',
  rows: market.map(([film]) => ({ what: `film of ${film} µm`, expected: 1.078, unit: '1', tolerance: 0.0055 })),
  compute: () =>
    market.map(([film, length, diameter]) =>
      fillFactorFrom({ diameter: diameter / 1e3, core: 0.09, length, thickness: film / 1e6 }),
    ),
}

const met: Check = {
  id: '45',
  title: 'Core pressures met in practice',
  kind: 'published',
  source:
    'Paper, Film & Foil Converter, articles on cores (November 2009) and on wound-roll pressure (May 2006): 10 to 100 psi common, up ' +
    'to 1,000 psi for stretch film',
  inputs:
    'PET of 36 µm at the usual 185 N/m from a board core of 76.2/90 mm to 400 mm, stack 40 (10 kPa + P), illustrative: within 0.07 to 0.7 MPa.',
  rows: [{ what: 'pressure on the core', expected: 0.385, unit: 'MPa', tolerance: 0.315 }],
  compute: () => {
    const core = coreStiffness({ outer: 0.045, bore: 0.0381, modulus: 3e9, poisson: 0.3 })
    const winding = { ...illustrative, outerRadius: 0.2, core: 4.5e9 / core + 0.38, woundOn: () => 185 / 36e-6 }
    return [corePressure(winding) / 1e6]
  },
}

export const rollPracticeChecks: readonly Check[] = [forms, onTheMarket, met]
