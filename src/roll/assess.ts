/**
 * A roll against its limits: figures, places and margins; words are for the verdict.
 *
 * Variables    pressure P(r), hoop stress T(r) (Pa) as wound and later
 * Parameters   friction mu, width W (m), limits of the scenario
 * Equations    torque a lap can hold 2 pi r^2 W mu P;  axial force 2 pi r W mu P;  mu less what the air layer takes
 *              torque that must pass at r: winding F_w R; start F_w R + J alpha; stop |F_w R - J alpha|; unwinding F_u R + J alpha;
 *              J = (pi/2) rho_eff W (R^4 - r^4) of the film outside r, alpha = a/R
 *              compression beyond the plateau: -T - P = r P' where it is positive (on a plateau P' = 0 and T = -P)
 * Neglected    the outermost laps, where P goes to 0 and the lap's own wrap holds it; drag of the film's own bending
 * Source       friction between flat surfaces; force balance; limits: the scenario's
 */
import type { LimitsSpec } from '../scenario/settings'
import type { Kind } from '../units'
import { boreShrinks } from './core'
import { combinedRoughness, frictionOverAir } from '../film/air'
import { recompressed } from './air'
import { bases, lapOf, type Basis, type InputName, type RollInput } from './input'
import type { RollResult } from './solve'

export type FindingKey =
  | 'core pressure'
  | 'bore'
  | 'blocking'
  | 'slip while winding'
  | 'slip at a start'
  | 'slip at a stop'
  | 'slip while unwinding'
  | 'axial slip'
  | 'starring'
  | 'film'
  | 'contact'

export interface Finding {
  readonly key: FindingKey
  readonly when: 'wound' | 'later'
  readonly value: number
  readonly limit: number
  readonly kind: Kind | 'ratio'
  /** 1 at the limit, more is broken */
  readonly share: number
  /** m, where it is worst */
  readonly radius: number
  /** the inputs that it rests on, those of the weakest basis first */
  readonly rests: readonly Rest[]
}

export interface Rest {
  readonly name: InputName
  readonly basis: Basis
}

/** What a roll is held against, as wound and, where something happens to it, later. */
export function assess(result: RollResult): Finding[] {
  const all = everything(result)
  const before = all.filter(({ when }) => when === 'wound')
  return all.filter((finding) => finding.when === 'wound' || finding.key === 'contact' || differs(finding, before))
}

/** The same with what is later as it was before. */
export function everything(result: RollResult): Finding[] {
  const wound = stateOf(result, 'wound')
  const found = [...pressures(wound), ...slips(wound), filmItself(result)]
  if (result.later === undefined) return found
  const later = stateOf(result, 'later')
  return [
    ...found.filter(({ key }) => key !== 'slip while unwinding'),
    ...pressures(later),
    ...slips(later),
    ...contact(result),
  ]
}

/** What is later as it was before is not told twice; unwinding is of the later roll alone. */
function differs({ key, share }: Finding, before: readonly Finding[]): boolean {
  const then = before.find((one) => one.key === key)
  return then === undefined || key === 'slip while unwinding' || Math.abs(share - then.share) > 0.01 * then.share
}

interface State {
  readonly input: RollInput
  readonly result: RollResult
  readonly when: 'wound' | 'later'
  readonly radius: Float64Array
  readonly pressure: Float64Array
  readonly hoop: Float64Array
  readonly air: Float64Array
}

function stateOf(result: RollResult, when: 'wound' | 'later'): State {
  const { radius, pressure, hoop } = when === 'later' && result.later ? result.later : result.wound
  const air = when === 'later' ? result.airLater : result.air
  return { input: result.input, result, when, radius, pressure, hoop, air }
}

function pressures(state: State): Finding[] {
  const { input, radius, pressure, hoop } = state
  const { corePressure, boreChange, blockingPressure, hoopCompression } = input.limits
  const last = radius.length - 1
  const shrinks = Math.max(0, boreShrinks(input.core, pressure[0]))
  const peak = worstOf(0, last, (i) => pressure[i])
  const beyond = worstOf(0, last - 1, (i) => -hoop[i] - pressure[i])
  const excess = -hoop[beyond] - pressure[beyond]
  // a plateau is one to rounding only
  const compression = excess > 1e-4 * pressure[peak] ? excess : 0
  const most = finding(state, 'stack modulus', 'tension', 'fill factor')
  return [
    most('core pressure', pressure[0], corePressure, 'stress', 0, 'corePressure', ['core']),
    most('bore', shrinks, boreChange, 'travel', 0, 'boreChange', ['core']),
    most('blocking', pressure[peak], blockingPressure, 'stress', peak, 'blockingPressure', []),
    most('starring', compression, hoopCompression, 'stress', beyond, 'hoopCompression', []),
  ]
}

/** Node i of a roll that reaches out to `outer` (m). */
interface Standing {
  readonly input: RollInput
  readonly radius: Float64Array
  readonly pressure: Float64Array
  readonly air: (i: number) => number
  readonly outer: number
}

function slips(state: State): Finding[] {
  const { input, result, when, radius } = state
  const { taper, later, limits, acceleration } = input
  const outer = radius[radius.length - 1]
  const film = result.tension[radius.length - 1] - input.layOn
  const standing: Standing = { ...state, outer, air: (i) => state.air[i] }
  const least = finding(state, 'stack modulus', 'friction', 'air', 'tension', 'fill factor')
  const torque = (key: FindingKey, tension: number, ramp: number) => {
    const { at, ratio } = leastGrip(standing, tension, ramp)
    return least(key, ratio, limits.slipReserve, 'ratio', at, 'slipReserve', [])
  }
  const axial = worstOf(0, heldFrom(standing), (i) => -capacity(standing, i) / radius[i])
  const force = capacity(standing, axial) / radius[axial]
  const always = [
    torque('slip while unwinding', later.unwindTension ?? taper.tension, acceleration),
    least('axial slip', force, limits.axialForce, 'force', axial, 'axialForce', []),
  ]
  if (when === 'later') return always
  const winding = whileWinding(state, film)
  return [
    least('slip while winding', winding.ratio, limits.slipReserve, 'ratio', winding.at, 'slipReserve', []),
    torque('slip at a start', film, acceleration),
    torque('slip at a stop', film, -acceleration),
    ...always,
  ]
}

interface Grip {
  readonly at: number
  readonly ratio: number
}

/** Where a lap holds least of the torque that must pass it, under a film tension (N) and a change of line speed (m/s²). */
function leastGrip(standing: Standing, tension: number, acceleration: number): Grip {
  const { input, radius, outer } = standing
  const passing = (i: number) =>
    Math.abs(tension * outer + (acceleration / outer) * inertiaOutside(input, radius[i], outer))
  const ratio = (i: number) => capacity(standing, i) / Math.max(passing(i), 1e-9)
  const at = worstOf(0, heldFrom(standing), (i) => -ratio(i))
  return { at, ratio: ratio(at) }
}

/** The least grip at any size of the roll on the way to the full one. */
function whileWinding({ input, result }: State, film: number): Grip {
  const { wound, tension } = result
  const { radius } = wound
  let worst = leastGrip(
    { input, radius, pressure: wound.pressure, air: (i) => result.air[i], outer: radius[radius.length - 1] },
    film,
    0,
  )
  for (const { pressure, outerRadius } of wound.stages) {
    // the same air under less pressure takes more room
    const air = (i: number) => recompressed(result.air[i], wound.pressure[i], pressure[i])
    const grip = leastGrip(
      { input, radius, pressure, air, outer: outerRadius },
      tension[pressure.length - 1] - input.layOn,
      0,
    )
    if (grip.ratio < worst.ratio) worst = grip
  }
  return worst
}

/** N m, torque that the laps at node i can hold. */
function capacity({ input, radius, pressure, air }: Standing, i: number): number {
  const { film, inRoll } = input
  const friction = frictionOverAir(inRoll.friction, air(i), combinedRoughness(film.roughness, film.roughness))
  const r = radius[i]
  return 2 * Math.PI * r * r * film.width * friction * pressure[i]
}

/** kg m², of the film outside radius r. */
function inertiaOutside({ film }: RollInput, r: number, outer: number): number {
  return ((Math.PI * film.density * film.width) / (2 * film.fillFactor)) * (outer ** 4 - r ** 4)
}

const OUTERMOST_LAPS = 10
const OUTERMOST_SHARE = 0.05

/** The last node that counts for slip: the outermost laps are held by their own wrap. */
function heldFrom({ input, radius, pressure, outer }: Standing): number {
  const left = Math.max(OUTERMOST_LAPS * lapOf(input), OUTERMOST_SHARE * (outer - radius[0]))
  let last = pressure.length - 1
  while (last > 0 && radius[last] > outer - left) last--
  return last
}

function filmItself(result: RollResult): Finding {
  const { input, tension, wound } = result
  const { film, limits } = input
  const at = worstOf(0, tension.length - 1, (i) => tension[i])
  const strain = tension[at] / (film.modulus * film.width * film.thickness)
  const most = finding(stateOf(result, 'wound'), 'tension', 'film')
  return most(
    'film',
    strain / film.elasticLimit,
    limits.shareOfElastic,
    'fraction',
    Math.min(at, wound.shells),
    'shareOfElastic',
    [],
  )
}

/** How much of the build-up has come apart; none may. */
function contact(result: RollResult): Finding[] {
  const { later, input } = result
  if (later === undefined) return []
  const { apart, radius } = later
  const last = radius.length - 1
  const extent = apart.reduce((sum, is, i) => sum + (is && i < last ? radius[i + 1] - radius[i] : 0), 0)
  const at = Math.max(0, apart.indexOf(true))
  const rests = restsOf(input, ['stack modulus', 'air', 'tension', 'fill factor'])
  const share = extent > 0 ? 1 + extent / (radius[last] - radius[0]) : 0
  return [{ key: 'contact', when: 'later', value: extent, limit: 0, kind: 'travel', share, radius: radius[at], rests }]
}

/** The index from `from` to `to` where a figure is greatest. */
function worstOf(from: number, to: number, figure: (i: number) => number): number {
  let worst = from
  for (let i = from + 1; i <= to; i++) if (figure(i) > figure(worst)) worst = i
  return worst
}

type Limit = keyof LimitsSpec

/** Makes findings that rest on some inputs; what is a least value is told by its limit. */
function finding({ input, when, radius }: State, ...rests: InputName[]) {
  return (
    key: FindingKey,
    value: number,
    limit: number,
    kind: Finding['kind'],
    at: number,
    stated: Limit,
    more: readonly InputName[],
  ): Finding => {
    const least = stated === 'slipReserve' || stated === 'axialForce'
    // a limit of nothing to hold is always kept
    const share = !least ? value / limit : limit > 0 ? limit / Math.max(value, 1e-9 * limit) : 0
    const names: InputName[] = [...rests, ...more, ...(input.statedLimits.has(stated) ? [] : (['limit'] as const))]
    return { key, when, value, limit, kind, share, radius: radius[at], rests: restsOf(input, names) }
  }
}

function restsOf({ basis }: RollInput, names: readonly InputName[]): Rest[] {
  const rank = (name: InputName) => bases.indexOf(basis[name])
  return [...names].sort((a, b) => rank(a) - rank(b)).map((name) => ({ name, basis: basis[name] }))
}
