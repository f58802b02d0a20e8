/** Check of the taper laws, through the tension that a winder holds and the torque that it turns with. */
import type { Check } from '../check'
import { nip, pointOf, rewind, scenarioOf, span, unwind } from './rig'

const CORE = 0.1
const TENSION = 200

/** Tension in the last span (share of that at the core) and motor torque (N m) at a roll of `build` core diameters. */
function winder(law: string, taper: number, build: number): { share: number; torque: number } {
  const drive = {
    ...{ kind: 'torque', tension: `${TENSION} N`, law, taper: `${taper * 100} %` },
    ...{ fullDiameter: `${CORE * Math.max(build, 2)} m`, torqueLimit: '1000 N m' },
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

export const taperChecks: readonly Check[] = [taperLaws]
