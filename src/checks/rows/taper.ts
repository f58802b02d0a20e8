/** Check of the taper laws, through the tension that a winder holds and the torque that it turns with. */
import type { Check } from '../check'
import { nip, pointOf, rewind, scenarioOf, span, unwind, type Entry } from './rig'

const CORE = 0.1
const TENSION = 200

/** Tension in the last span (share of that at the core) and motor torque (N m) at a roll of `build` core diameters. */
function winder(law: string, taper: number, build: number, changes: Entry = {}): { share: number; torque: number } {
  const drive = {
    ...{ kind: 'torque', tension: `${TENSION} N`, law, taper: `${taper * 100} %` },
    ...{ fullDiameter: `${CORE * Math.max(build, 2)} m`, torqueLimit: '1000 N m', ...changes },
  }
  const roll = { core: `${CORE} m`, diameter: `${CORE * build} m`, drive }
  const { line } = pointOf(scenarioOf({ line: [unwind(100), span(1), nip('nip'), span(1), rewind(0, roll)], speed: 1 }))
  return { share: (100 * line.spans.force[1]) / TENSION, torque: line.rollers.motor[2] }
}

const builds = [2, 3, 5, 8]

const taperLaws: Check = {
  id: '27',
  title: 'What 50 % taper means in each law',
  kind: 'common practice, no source',
  source:
    'Definitions in general trade use; own digits: hyperbolic 1 - k (1 - r0/r), linear 1 - k (r - r0)/(r_full - r0)',
  inputs:
    'Winder on torque, taper 50 %, rolls of 2, 3, 5 and 8 core diameters, each the full roll. Then 100 % hyperbolic.',
  rows: [
    ...[75, 200 / 3, 60, 56.25].map((expected, k) => ({
      ...{ what: `hyperbolic, ${builds[k]} core diameters`, expected, unit: '%', tolerance: 1e-6 },
    })),
    ...builds.map((b) => ({ what: `linear, ${b} core diameters`, expected: 50, unit: '%', tolerance: 1e-6 })),
    { what: 'constant, 8 core diameters', expected: 100, unit: '%', tolerance: 1e-6 },
    {
      what: 'hyperbolic 100 %: torque at 8 core diameters over that at the core',
      expected: 1,
      unit: '1',
      tolerance: 1e-9,
    },
  ],
  compute: () => [
    ...builds.map((b) => winder('hyperbolic', 0.5, b).share),
    ...builds.map((b) => winder('linear', 0.5, b).share),
    winder('constant', 0.5, 8).share,
    winder('hyperbolic', 1, 8).torque / winder('hyperbolic', 1, 1).torque,
  ],
}

/** Rolls on the way to a full one of five core diameters, and a table that knows 1, 3 and 5 core diameters. */
const under = [1, 2, 3.5, 5]
const FULL = { fullDiameter: `${5 * CORE} m` }
const TABLE = [1, 3, 5].map((b, k) => [`${b * CORE} m`, ['100 %', '90 %', '60 %'][k]])

/** Each law with its fields, and its share of the core tension (%) at those four diameters. */
const everyLaw: readonly (readonly [law: string, changes: Entry, shares: readonly number[]])[] = [
  ['constant', {}, [100, 100, 100, 100]],
  ['linear', {}, [100, 87.5, 68.75, 50]],
  ['hyperbolic', {}, [100, 75, 450 / 7, 60]],
  ['blend', { blend: '30 %' }, [100, 78.75, 45 + 20.625, 57]],
  ['power', { exponent: 0.5 }, [100, 100 / Math.SQRT2, 100 / Math.sqrt(3.5), 100 / Math.sqrt(5)]],
  ['table', { table: TABLE }, [100, 95, 82.5, 60]],
]

const everyTaper: Check = {
  id: '27, every law',
  title: 'Every taper law on the way to the full roll',
  kind: 'common practice, no source',
  source:
    'Definitions in general trade use; own digits. Linear, hyperbolic as above; blend a x linear + (1 - a) x hyperbolic; power (r0/r)^n; table: straight lines',
  inputs:
    'Winder on torque, full roll of 5 core diameters, taper 50 %; blend 30 % linear; power 0.5; table 100, 90, 60 % at 1, 3, 5 core diameters.',
  rows: everyLaw.flatMap(([law, , shares]) => [
    ...shares.map((expected, k) => ({
      ...{ what: `${law}, ${under[k]} core diameters`, expected, unit: '%', tolerance: 1e-6 },
    })),
    {
      ...{ what: `${law}, torque at 3.5 core diameters`, unit: 'N m', tolerance: 1e-6 },
      expected: (shares[2] / 100) * TENSION * 3.5 * (CORE / 2),
    },
  ]),
  compute: () =>
    everyLaw.flatMap(([law, changes]) => {
      const at = under.map((build) => winder(law, 0.5, build, { ...FULL, ...changes }))
      return [...at.map(({ share }) => share), at[2].torque]
    }),
}

export const taperChecks: readonly Check[] = [taperLaws, everyTaper]
