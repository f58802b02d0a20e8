/**
 * One span held against its two limits, which are never mixed: troughs in the span, a fold on the roller.
 *
 * Variables    lateral compression S (Pa) that the film would carry if it stayed flat, in the span and on the roller
 * Parameters   a setting (setting.ts)
 * Equations    stresses sigma_x (tension), tau (shear of the misalignment), c (lateral compression of the other causes)
 *              S = c + tau^2/(a + sqrt(a^2 + tau^2)), a = (sigma_x + c)/2        (smaller principal stress, sign turned)
 *              S reaches a limit s where tau^2 = (s - c)(s + sigma_x): the critical misalignment
 *              angle of the troughs to the line: half the angle whose tangent is 2 tau/sigma_x
 *              span: c is 0; roller: c is that of heat and of lost tension
 *              shear at mid width is 1.5 times its mean: the span counts as flat while the peak keeps the limit, and as full of
 *              troughs when the mean passes it; between the two troughs may begin at mid width. A fold goes by the mean.
 *              narrower under tension by nu sigma_x/E, a figure that presses nothing
 * Neglected    what troughs relieve before a fold forms (so a fold comes later than told), imperfections of film and roller
 *              (so it may come sooner); neck-in as a cause (causes.ts)
 * Source       principal stress as criterion of shear wrinkling: Good, Kedl & Shelton 1997 (attribution from memory); which shear
 *              counts for what: own choice, on the safe side for "flat"; narrowing: Converting Quarterly, article on Poisson's ratio
 */
import { airFilm, combinedRoughness, frictionOverAir } from '../film/air'
import { compliance, meanShear, misalignmentOf, PEAK_SHEAR, slackEdge, slenderness, type Beam } from './beam'
import { causesOf, type Cause } from './causes'
import { troughAmplitude, troughs, type Troughs } from './plate'
import type { Setting } from './setting'
import { foldLimit, heldCompression } from './shell'

/** rad: by mean shear, and by the peak shear at mid width, which is reached first. */
export interface Critical {
  readonly mean: number
  readonly peak: number
}

export interface Against {
  /** Pa, that flat film would carry, by mean shear */
  readonly compression: number
  /** Pa */
  readonly limit: number
  readonly share: number
  readonly critical: Critical
}

export interface InSpan extends Against {
  /** Pa, the same at mid width, where shear has its peak */
  readonly peakCompression: number
  readonly peakShare: number
}

export interface Grip {
  /** m */
  readonly airFilm: number
  readonly roughness: number
  /** what the air leaves of friction, and what a fold needs */
  readonly friction: number
  readonly needed: number
  /** Pa, compression that friction can hold; infinite in a nip */
  readonly held: number
}

export type Outcome = 'flat' | 'edge slack' | 'troughs may begin' | 'troughs' | 'fold' | 'fold not held'

export interface Assessment {
  readonly setting: Setting
  /** Pa */
  readonly stress: number
  readonly strain: number
  /** of the elastic limit */
  readonly strainShare: number
  /** of the width, by which tension makes the film narrower */
  readonly narrowing: number
  readonly troughs: Troughs
  readonly span: InSpan
  readonly roller: Against
  readonly grip: Grip
  readonly outcome: Outcome
  /** m, from the middle to a crest */
  readonly amplitude: number
  /** rad, of the troughs to the line */
  readonly angle: number
  /** Pa, mean */
  readonly shear: number
  readonly slenderness: number
  readonly shearToBending: number
  /** rad, misalignment at which an edge goes slack */
  readonly slackAt: number
  readonly edgeSlack: boolean
  /** rad, misalignment up to which the film runs flat: neither troughs nor a fold may begin, nor an edge go slack */
  readonly flatUpTo: number
  readonly causes: readonly Cause[]
}

const beamOf = (s: Setting): Beam => ({ ...s, tension: s.tension * s.width })

/** Pa, smaller principal stress with its sign turned. */
export function principalCompression(stress: number, lateral: number, shear: number): number {
  const a = (stress + lateral) / 2
  return lateral + (shear === 0 ? 0 : shear ** 2 / (a + Math.hypot(a, shear)))
}

function against(beam: Beam, limit: number, stress: number, lateral: number, shear: number): Against {
  const compression = principalCompression(stress, lateral, shear)
  const criticalShear = Math.sqrt(Math.max(0, limit - lateral) * (limit + stress))
  const mean = misalignmentOf(beam, criticalShear)
  return { compression, limit, share: compression / limit, critical: { mean, peak: mean / PEAK_SHEAR } }
}

function gripOf(s: Setting, fold: number): Grip {
  const film = airFilm(s.radius, 2 * s.speed, s.tension)
  const roughness = combinedRoughness(s.filmRoughness, s.rollerRoughness)
  const friction = frictionOverAir(s.friction, film, roughness)
  const held = (mu: number) => heldCompression(mu, s.tension, s.radius, s.width, s.thickness)
  return { airFilm: film, roughness, friction, needed: fold / held(1), held: s.nip ? Infinity : held(friction) }
}

/** The setting's figures must be positive where its schema says so. */
export function assess(s: Setting): Assessment {
  const beam = beamOf(s)
  const stress = s.tension / s.thickness
  const strain = stress / s.modulus
  const shear = meanShear(beam, s.misalignment)
  const limits = { troughs: troughs(s, stress), fold: foldLimit(s.thickness, s.radius, s.modulus, s.poisson) }
  const pressing = {
    peak: principalCompression(stress, 0, PEAK_SHEAR * shear),
    mean: principalCompression(stress, 0, shear),
  }
  const causes = causesOf(s, pressing, limits.troughs.limit, limits.fold)
  const onRoller = causes.filter(({ place }) => place === 'roller').reduce((sum, cause) => sum + cause.compression, 0)
  const span: InSpan = {
    ...against(beam, limits.troughs.limit, stress, 0, shear),
    ...{ peakCompression: pressing.peak, peakShare: pressing.peak / limits.troughs.limit },
  }
  const roller = against(beam, limits.fold, stress, onRoller, shear)
  const grip = gripOf(s, limits.fold)
  const { bending, shear: inShear } = compliance(beam)
  const slackAt = slackEdge(beam)
  const edgeSlack = Math.abs(s.misalignment) > slackAt
  return {
    ...{
      setting: s,
      stress,
      strain,
      strainShare: strain / s.elasticLimit,
      narrowing: s.poisson * strain,
      troughs: limits.troughs,
      span,
      roller,
      grip,
    },
    outcome: outcomeOf(span, roller, grip, edgeSlack),
    amplitude: troughAmplitude(limits.troughs, span.compression, s.modulus),
    angle: Math.atan2(2 * shear, stress) / 2,
    ...{ shear, slenderness: slenderness(beam), shearToBending: inShear / bending },
    ...{ slackAt, edgeSlack, flatUpTo: Math.min(span.critical.peak, roller.critical.mean, slackAt), causes },
  }
}

function outcomeOf(span: InSpan, roller: Against, grip: Grip, edgeSlack: boolean): Outcome {
  if (roller.share >= 1) return grip.held >= roller.limit ? 'fold' : 'fold not held'
  if (span.share >= 1) return 'troughs'
  if (span.peakShare >= 1) return 'troughs may begin'
  return edgeSlack ? 'edge slack' : 'flat'
}
