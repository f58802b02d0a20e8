/**
 * Taper: the tension that a winder is asked for as the roll grows.
 *
 * Variables    roll radius r (m), tension F (N)
 * Parameters   tension at the core F0 (N), taper k (1), core radius r0 (m), full radius r_max (m), share a of the linear law in a
 *              blend, exponent n, table of diameter against share of F0
 * Equations    constant F0;  linear F0 (1 - k (r - r0)/(r_max - r0));  hyperbolic F0 (1 - k (1 - r0/r)) (k = 1: constant torque)
 *              blend a x linear + (1 - a) x hyperbolic;  power F0 (r/r0)^-n;  table: straight lines between its points
 *              below r0 and beyond r_max the laws stay as they are there
 * Neglected    nothing: these are definitions
 * Source       definitions in general trade use
 */
import * as v from 'valibot'
import { choice, plainNumber, quantity } from '../units'
import type { Courses } from './courses'
import type { Profile } from './profile'
import { lookUp } from './table'

export const taperLaws = ['constant', 'linear', 'hyperbolic', 'blend', 'power', 'table'] as const

/** What everything that tapers states. */
export const taperFields = {
  tension: quantity('force', {
    meaning: 'Tension asked for at the core',
    usual: ['20 N', '150 N'],
    above: 0,
    most: 1e6,
  }),
  law: v.optional(choice(taperLaws, { meaning: 'How tension falls as the roll grows' }), 'constant'),
  taper: v.optional(
    quantity('fraction', {
      meaning:
        'Share of the tension given up: at the full diameter (linear), or against core over roll diameter (hyperbolic)',
      usual: ['0 %', '50 %'],
      why: 'The same figure means different final tensions in different laws.',
      least: 0,
      most: 1,
    }),
    '0 %',
  ),
  fullDiameter: v.optional(
    quantity('diameter', { meaning: 'Diameter of the full roll', usual: ['300 mm', '600 mm'], above: 0, most: 5 }),
    '400 mm',
  ),
  blend: v.optional(
    quantity('fraction', { meaning: 'Share of the linear law in a blend', usual: ['0 %', '100 %'], least: 0, most: 1 }),
    '50 %',
  ),
  exponent: v.optional(
    plainNumber({ meaning: 'Exponent of the power law', usual: ['0.1', '1'], least: 0, most: 3 }),
    0.3,
  ),
  table: v.optional(
    v.pipe(
      v.array(
        v.strictTuple([
          quantity('diameter', { meaning: 'Roll diameter', usual: ['90 mm', '600 mm'], above: 0, most: 5 }),
          quantity('fraction', {
            meaning: 'Share of the tension at the core',
            usual: ['40 %', '100 %'],
            least: 0,
            most: 2,
          }),
        ]),
      ),
      v.minLength(2),
      v.maxLength(200),
    ),
  ),
}

const taperObject = v.object(taperFields)
export type TaperSpec = v.InferOutput<typeof taperObject>

export interface Taper {
  readonly spec: TaperSpec
  /** m */
  readonly coreRadius: number
}

/** Share of the core tension asked for at roll radius r (m), with the taper `k` of the moment. */
export function taperShare({ spec, coreRadius }: Taper, k: number, r: number): number {
  const full = spec.fullDiameter / 2
  const at = Math.min(Math.max(r, coreRadius), full)
  switch (spec.law) {
    case 'constant':
      return 1
    case 'linear':
      return linear(k, at, coreRadius, full)
    case 'hyperbolic':
      return hyperbolic(k, at, coreRadius)
    case 'blend':
      return spec.blend * linear(k, at, coreRadius, full) + (1 - spec.blend) * hyperbolic(k, at, coreRadius)
    case 'power':
      return (at / coreRadius) ** -spec.exponent
    case 'table':
      return spec.table === undefined ? 1 : lookUp(spec.table, 2 * r)
  }
}

const linear = (k: number, r: number, core: number, full: number) => 1 - (k * (r - core)) / (full - core)
const hyperbolic = (k: number, r: number, core: number) => 1 - k * (1 - core / r)

/** The tension that a taper asks for in a run, with what the stage changes of it. */
export class TaperCourse {
  private readonly tension: Profile
  private readonly share: Profile

  constructor(
    readonly taper: Taper,
    courses: Courses,
    part: string,
  ) {
    this.tension = courses.setting('winding tension', part, taper.spec.tension)
    this.share = courses.setting('taper', part, taper.spec.taper)
  }

  /** Tension asked for at time t and roll radius r (m), N. */
  at(t: number, r: number): number {
    return this.tension.value(t) * taperShare(this.taper, this.share.value(t), r)
  }
}
