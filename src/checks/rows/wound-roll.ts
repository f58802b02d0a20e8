/** Checks of the wound roll: linear closed forms, the nonlinear plateau and whole roll, laps by themselves, what happens later. */
import { lapByLap } from '../../roll/classical'
import { coreStiffness, boreStress } from '../../roll/core'
import { change } from '../../roll/later'
import type { Winding } from '../../roll/march'
import { wind, type Stress, type Wound } from '../../roll/stress'
import type { Check, CheckRow } from '../check'

const altmann = 'Altmann 1968, linear roll (from memory); own digits from its closed form'
const hakiel = 'Hakiel 1987, TAPPI J. 70(5) 113-117; own digits, two independent computations'

function wound(winding: Winding, shells?: number): Wound {
  const roll = wind(winding, shells)
  if ('softened' in roll) throw new Error('the stack has no stiffness left')
  return roll
}

/** Pressure at a radius: cubic through the four nodes about it, equal in ln r. */
function at({ radius, pressure }: Pick<Stress, 'radius' | 'pressure'>, r: number): number {
  const last = radius.length - 1
  const x = (last * Math.log(r / radius[0])) / Math.log(radius[last] / radius[0])
  const first = Math.min(Math.max(Math.floor(x) - 1, 0), last - 3)
  let sum = 0
  for (let j = 0; j < 4; j++) {
    let weight = 1
    for (let k = 0; k < 4; k++) if (k !== j) weight *= (x - first - k) / (j - k)
    sum += weight * pressure[first + j]
  }
  return sum
}

const rows = (what: (k: number) => string, expected: readonly number[], unit: string, relative: number): CheckRow[] =>
  expected.map((value, k) => ({ what: what(k), expected: value, unit, tolerance: Math.abs(value) * relative }))

/** g = sqrt(E_t/E_r), m = E_t/E_c + nu; unit core radius, unit modulus through the stack. */
function linear(g: number, m: number, out: number, woundOn: (r: number) => number = () => 1): Winding {
  const mean = (from: number, to: number) => woundOn((from + to) / 2)
  return { coreRadius: 1, outerRadius: out, along: g * g, through: [1, 0, 0, 0], core: m, woundOn: mean }
}

const psi = 6894.757293168
/** A single lap on a core that does not give, in two shells. */
const oneLap = (perWidth: number, radius: number, lap: number): number =>
  wound({ ...linear(1, 0, 1), coreRadius: radius, outerRadius: radius + lap, woundOn: () => perWidth / lap })
    .pressure[0]

const singleLap: Check = {
  id: '16',
  title: "One lap's pressure",
  kind: 'published',
  source: 'T. J. Walker, Paper, Film & Foil Converter, July 2001: tension per width over radius',
  inputs: 'One lap of 25 µm at 1 lb/in on a radius of 2 in, and at 175 N/m on 0.05 m.',
  rows: [
    { what: '1 lb/in on 2 in', expected: 0.5, unit: 'psi', tolerance: 0.001 },
    { what: '175 N/m on 0.05 m', expected: 3.5, unit: 'kPa', tolerance: 0.005 },
  ],
  compute: () => [oneLap(175.1268, 0.0508, 25e-6) / psi, oneLap(175, 0.05, 25e-6) / 1e3],
}

const thick = { outer: 0.25, bore: 0.2 }
const lame: Check = {
  id: '17',
  title: 'A thick tube under pressure inside and out',
  kind: 'published',
  source: 'Lame; worked textbook solution (second hand), re-checked',
  inputs: 'Outer diameter 0.5, bore 0.4 m, inner pressure 25 MPa, hoop stress at the bore 45 MPa: outer pressure.',
  rows: [{ what: 'outer pressure', expected: 12.4, unit: 'MPa', tolerance: 0.05 }],
  compute: () => {
    // hoop stress at the bore is linear in the outer pressure
    const [none, one] = [boreStress(thick, 25, 0), boreStress(thick, 25, 1)]
    return [(45 - none) / (one - none)]
  },
}

const core: Check = {
  id: '18',
  title: 'Stiffness of a steel core',
  kind: 'published equation, own digits',
  source: 'Lame: E/((b^2 + a^2)/(b^2 - a^2) - nu)',
  inputs: 'Tube 76.2/88.9 mm, E 200 GPa, nu 0.3.',
  rows: [{ what: 'E_c', expected: 32.0592, unit: 'GPa', tolerance: 5e-4 }],
  compute: () => [coreStiffness({ outer: 0.04445, bore: 0.0381, modulus: 200e9, poisson: 0.3 }) / 1e9],
}

const isotropicRoll = (coreModulus: number): Wound =>
  wound({
    ...{ coreRadius: 0.05, outerRadius: 0.2, along: 4e9, through: [4e9, 0, 0, 0] },
    ...{ core: 4e9 / coreModulus, woundOn: () => 5e6 },
  })

const isotropic: Check = {
  id: '19',
  title: 'A roll as stiff through the stack as along it',
  kind: 'published equation, own digits',
  source: altmann,
  inputs: 'E 4 GPa, wound at 5 MPa from 0.05 to 0.20 m, nu 0; cores of 4 GPa, without give, of 1000 and of 1 GPa.',
  rows: [
    { what: 'core of the same stiffness: at the core', expected: 6.9315, unit: 'MPa', tolerance: 2e-4 },
    { what: 'the same at 0.125 m', expected: 2.35, unit: 'MPa', tolerance: 1e-4 },
    { what: 'core without give', expected: 10.7003, unit: 'MPa', tolerance: 3e-4 },
    { what: 'core of 1000 GPa', expected: 10.675, unit: 'MPa', tolerance: 1e-3 },
    { what: 'core of 1 GPa', expected: 3.6507, unit: 'MPa', tolerance: 2e-4 },
  ],
  compute: () => {
    const same = isotropicRoll(4e9)
    const cores = [Infinity, 1000e9, 1e9].map((e) => isotropicRoll(e).pressure[0])
    return [same.pressure[0], at(same, 0.125), ...cores].map((p) => p / 1e6)
  },
}

/** r/R at which the hoop stress passes 0, on a matched core. */
function crossing(g: number): number {
  const { radius, hoop } = wound(linear(g, g, 4), 2000)
  let i = hoop.length - 1
  while (hoop[i - 1] > 0) i--
  return (radius[i - 1] + ((radius[i] - radius[i - 1]) * hoop[i - 1]) / (hoop[i - 1] - hoop[i])) / 4
}

const stiffnesses = [3, 5, 10]
const hoopZero: Check = {
  id: '20',
  title: 'Where the hoop stress passes from tension to compression',
  kind: 'published equation, own digits',
  source: `${altmann}: r/R = g^(-1/(g-1))`,
  inputs: 'Linear roll on a core as stiff as the roll, constant tension, g = sqrt(E_t/E_r) of 3, 5 and 10.',
  rows: rows((k) => `g ${stiffnesses[k]}`, [0.57735, 0.66874, 0.774264], '1', 2e-5),
  compute: () => stiffnesses.map(crossing),
}

const places = [1, 1.25, 1.5, 2, 2.5, 2.9]
const linearAt = (m: number) => places.map((r) => at(wound(linear(5, m, 3)), r))
const shareAt = (k: number) => `P/sigma_w at ${places[k]} core radii`

const rigid: Check = {
  id: '21',
  title: 'Linear roll on a core without give',
  kind: 'published equation, own digits',
  source: altmann,
  inputs: 'g 5, nu 0.3, outer over core radius 3; then lap by lap with laps of a thousandth of the core radius.',
  rows: [
    ...rows(shareAt, [0.384988, 0.258491, 0.236874, 0.200729, 0.129443, 0.031703], '1', 2e-5),
    { what: 'at the core, classical, lap by lap', expected: 0.385483, unit: '1', tolerance: 1e-6 },
  ],
  compute: () => [...linearAt(0.3), lapByLap(linear(5, 0.3, 3), 2000)[0]],
}

const softCore: Check = {
  id: '22',
  title: 'Linear roll on a soft core',
  kind: 'published equation, own digits',
  source: altmann,
  inputs: 'As check 21, core with m = E_t/E_c + nu = 50.',
  rows: rows(shareAt, [0.069791, 0.227201, 0.232057, 0.200514, 0.129431, 0.031703], '1', 2e-4),
  compute: () => linearAt(50),
}

const tapers: readonly (readonly [string, (r: number) => number, readonly number[]])[] = [
  ['linear', (r) => 1 - 0.3 * ((r - 1) / 2), [0.235802, 0.203906, 0.16034, 0.09619, 0.022437]],
  ['hyperbolic', (r) => 1 - 0.3 * (1 - 1 / r), [0.232593, 0.202812, 0.166481, 0.104961, 0.025418]],
  ['constant torque', (r) => 1 / r, [0.199177, 0.129167, 0.086831, 0.04785, 0.010753]],
]
const taperPlaces = [1, 1.5, 2, 2.5, 2.9]

const tapered: Check = {
  id: '23',
  title: 'Taper and the pressure in a linear roll',
  kind: 'published equation, own digits',
  source: altmann,
  inputs: 'g 5, core as stiff as the roll, outer over core radius 3; 30 % linear, 30 % hyperbolic, constant torque.',
  rows: tapers.flatMap(([law, , expected]) =>
    rows((k) => `${law}, P/sigma_0 at ${taperPlaces[k]}`, expected, '1', 5e-5),
  ),
  compute: () =>
    tapers.flatMap(([, law]) => {
      const roll = wound(linear(5, 5, 3, law))
      return taperPlaces.map((r) => at(roll, r))
    }),
}

const nonlinear = (woundOn: number, change: Partial<Winding> = {}): Winding => ({
  ...{ coreRadius: 0.045, outerRadius: 0.135, along: 4.5e9, through: [40 * 10e3, 40, 0, 0] },
  ...{ core: 4.5 / 3 + 0.01, woundOn: () => woundOn, ...change },
})

const tensions = [5, 10, 15]
const plateau: Check = {
  id: '24',
  title: 'The plateau of a nonlinear roll',
  kind: 'published equation, own digits',
  source: `${hakiel.split(';')[0]}; own digits from the travelling wave w dw/dp = 2 w - p + F(p) + P_inf - F(P_inf)`,
  inputs:
    'E_t 4.5 GPa, E_r 40 (10 kPa + P), wound at 5, 10 and 15 MPa, a roll of eight core radii. Stack figures illustrative.',
  rows: tensions.flatMap((t, k) => [
    ...rows(() => `plateau at ${t} MPa`, [[144.194, 525.109, 1186.03][k]], 'kPa', 2e-3),
    ...rows(() => `P at r/R 0.95, ${t} MPa`, [[111.68, 294.59, 505.12][k]], 'kPa', 4e-3),
    ...rows(() => `hoop stress over -P on the plateau, ${t} MPa`, [1], '1', 0.02),
  ]),
  compute: () =>
    tensions.flatMap((t) => {
      const roll = wound(nonlinear(t * 1e6, { outerRadius: 0.36, core: 20 }))
      const middle = roll.radius.findIndex((r) => r >= 0.14)
      const hoop = roll.hoop[middle] / -roll.pressure[middle]
      return [at(roll, 0.14) / 1e3, at(roll, 0.36 * 0.95) / 1e3, hoop]
    }),
}

const ratios = [1, 1.02, 1.05, 1.1, 1.25, 1.5, 2, 2.5, 2.8, 2.9]
const limits = [835.3, 701.51, 606.37, 549.28, 526.01, 525.08, 523.33, 488.49, 347.18, 225.5]
const classical = [850.3, 716.1, 620.1, 561.7, 536.3, 533.6, 529.6, 492.8, 349.6, 226.9]

const whole: Check = {
  id: '25',
  title: 'A whole nonlinear roll',
  kind: 'published equation, own digits',
  source: hakiel,
  inputs:
    'From 45 to 135 mm at 10 MPa, E_t 4.5 GPa, E_c 3 GPa, nu 0.01, E_r 40 (10 kPa + P): limit of thin laps within 0.5 %; and the ' +
    'classical scheme with laps of 50 µm, which lies up to 2 % higher.',
  rows: [
    ...rows((k) => `limit, ${ratios[k]} core radii`, limits, 'kPa', 5e-3),
    ...rows((k) => `classical, ${ratios[k]} core radii`, classical, 'kPa', 3e-4),
  ],
  compute: () => {
    const roll = wound(nonlinear(10e6))
    const laps = lapByLap(nonlinear(10e6), 1800)
    const boundary = (r: number) => (0.045 * (r - 1)) / 50e-6
    const between = (x: number) => {
      const k = Math.min(Math.floor(x + 1e-9), 1799)
      return laps[k] + (laps[k + 1] - laps[k]) * (x - k)
    }
    return [...ratios.map((r) => at(roll, 0.045 * r) / 1e3), ...ratios.map((r) => between(boundary(r)) / 1e3)]
  },
}

const forced = { along: 4.5e9, through: [4.5e9 / 25, 0, 0, 0] as const, core: 0.3 }

/** A linear roll under so much pressure that nothing comes apart, and what a free strain of its film changes. */
function changed(along: number, through: number): readonly number[] {
  const roll = wound({ coreRadius: 1, outerRadius: 3, ...forced, woundOn: () => 100e6 }, 1200)
  const strains = { along, through: new Float64Array(roll.radius.length).fill(through), core: 0 }
  const after = change({ coreRadius: 1, outerRadius: 3, ...forced, woundOn: () => 0 }, roll, strains)
  return [1, 1.5].map((r) => (at(after, r) - at(roll, r)) / 1e3)
}

const shrinking: Check = {
  id: '42',
  title: 'A roll whose film shrinks on a core that does not',
  kind: 'own derivation',
  source: 'Own derivation from equilibrium and compatibility, confirmed by a displacement formulation',
  inputs:
    'Linear roll, g 5, nu 0.3, core without give, outer over core radius 3, E_t 4.5 GPa; shrinks 1e-3 along and through.',
  rows: [
    { what: 'change of pressure at the core', expected: 849.03, unit: 'kPa', tolerance: 0.2 },
    { what: 'at 1.5 core radii', expected: 74.466, unit: 'kPa', tolerance: 0.1 },
  ],
  compute: () => changed(-1e-3, -1e-3),
}

const airLeaves: Check = {
  id: '43',
  title: 'Air leaving a roll',
  kind: 'own derivation',
  source: 'As check 42; a real roll would have come apart before: then it is reported',
  inputs:
    'As check 42, strain of -1 % through the stack alone, in a roll under so much pressure that it stays together.',
  rows: [
    { what: 'change of pressure at the core', expected: -2078.96, unit: 'kPa', tolerance: 0.3 },
    { what: 'at 1.5 core radii', expected: -1777.73, unit: 'kPa', tolerance: 0.3 },
  ],
  compute: () => changed(0, -0.01),
}

export const woundRollChecks: readonly Check[] = [
  ...[singleLap, lame, core, isotropic, hoopZero, rigid, softCore, tapered, plateau, whole, shrinking, airLeaves],
]
