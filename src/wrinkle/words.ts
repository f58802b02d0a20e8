/** An assessment in sentences, in the units of the reader: what the picture shows, and where the figures stop being true. */
import type { Kind } from '../units'
import type { Assessment } from './assess'
import { cures, LONGEST } from './cures'
import { APPROXIMATION_TOLERANCE } from './plate'

export type Say = (value: number, kind: Kind) => string

export interface Told {
  readonly severity: 'bad' | 'warn' | 'ok'
  readonly text: string
}

export const percentText = (share: number): string => {
  if (!Number.isFinite(share)) return 'without limit'
  const number = 100 * share
  return `${number >= 99.5 || number === 0 ? String(Math.round(number)) : String(Number(number.toPrecision(2)))} %`
}

const timesText = (ratio: number): string => `${Number(ratio.toPrecision(ratio >= 100 ? 3 : 2))} times`

/** What happens, first; then what bounds the answer. */
export function wordsOf(a: Assessment, say: Say): Told[] {
  return [happening(a, say), ...cure(a, say), limits(a, say), ...bounds(a, say)]
}

function happening(a: Assessment, say: Say): Told {
  const { span, roller, troughs, grip } = a
  const deep = `troughs ${say(troughs.wavelength, 'travel')} apart, ${say(2 * a.amplitude, 'thickness')} from crest to valley`
  const across = `at ${say(a.angle, 'angle')} to the line`
  switch (a.outcome) {
    case 'flat':
      return {
        severity: 'ok',
        text: `The film runs flat. At mid width, where shear has its peak, it carries ${percentText(span.peakShare)} of the compression at which troughs form in the span, and ${percentText(roller.share)} of that at which it folds on the roller.`,
      }
    case 'edge slack':
      return {
        severity: 'warn',
        text: `One edge of the film hangs slack at the roller behind, since the misalignment is beyond ${say(a.slackAt, 'slope')}. Whether the rest runs flat is more than this model can tell.`,
      }
    case 'troughs may begin':
      return {
        severity: 'warn',
        text: `Troughs may begin at mid width: shear has its peak there and passes their limit (${percentText(span.peakShare)}), while mean shear keeps it (${percentText(span.share)}). The roller is at ${percentText(roller.share)} of its own limit, the fold.`,
      }
    case 'troughs':
      return {
        severity: 'warn',
        text: `The span has ${deep}, ${across}. The roller flattens them: it is at ${percentText(roller.share)} of its own limit, the fold.`,
      }
    case 'fold': {
      const inSpan = span.share >= 1 ? `The span has ${deep}, and they` : 'The span is flat, but on the roller the film'
      return {
        severity: 'bad',
        text: `${inSpan} ${span.share >= 1 ? 'fold' : 'folds'} on the roller: its limit is exceeded (${percentText(roller.share)}), and ${a.setting.nip ? 'the nip holds the fold' : `friction holds the fold (${percentText(grip.friction / grip.needed)} of what that takes)`}. A crease is pressed in.`,
      }
    }
    case 'fold not held':
      return {
        severity: 'warn',
        text: `The fold limit on the roller is exceeded (${percentText(roller.share)}), but friction is too little to hold a fold together: ${grip.friction.toPrecision(2)} is left of it and ${grip.needed.toPrecision(2)} is needed. ${grip.friction === 0 ? 'The film slides flat, and the roller steers and drives it no more.' : 'The film slides flat; what friction there is still steers and drives it.'}`,
      }
  }
}

/** The knobs that take troughs away, each by itself. */
function cure(a: Assessment, say: Say): Told[] {
  if (a.outcome !== 'troughs' && a.outcome !== 'troughs may begin') return []
  const { tension, length } = cures(a)
  const { thickness, modulus, elasticLimit } = a.setting
  const ways = [
    `align the roller to ${say(a.flatUpTo, 'slope')} or better`,
    tension === null
      ? 'no tension within the elastic limit is enough'
      : `raise the tension to about ${say(tension, 'forcePerWidth')} (${percentText(tension / thickness / modulus / elasticLimit)} of the elastic limit)`,
    length === null
      ? `no span up to ${LONGEST} times as long is enough`
      : `lengthen the span to about ${say(length, 'length')}`,
  ]
  return [{ severity: 'ok', text: `What would have it flat, each by itself: ${ways.join('; ')}.` }]
}

function limits({ span, roller, slackAt }: Assessment, say: Say): Told {
  const { mean, peak } = span.critical
  const beyond = (critical: number) =>
    critical > slackAt ? ', which lies beyond the slack edge and so beyond this model' : ''
  const outlook = peak > slackAt ? '; both lie beyond the slack edge and so beyond this model' : beyond(mean)
  const troughs = `Troughs may begin at a misalignment of ${say(peak, 'slope')}, by the peak of shear at mid width, and cross the film at ${say(mean, 'slope')}, by mean shear${outlook}`
  const fold =
    roller.critical.mean === 0
      ? 'the compression for a fold is there without any'
      : `a fold at ${say(roller.critical.mean, 'slope')} by mean shear${beyond(roller.critical.mean)}`
  return { severity: 'ok', text: `${troughs}; ${fold}. One edge goes slack at ${say(slackAt, 'slope')}.` }
}

function bounds(a: Assessment, say: Say): Told[] {
  const { setting: s, troughs, grip } = a
  const told: Told[] = []
  const add = (applies: boolean, severity: Told['severity'], text: string) => {
    if (applies) told.push({ severity, text })
  }
  const strain = `${percentText(a.strainShare)} of its elastic limit (${say(a.strain, 'fraction')} of ${say(s.elasticLimit, 'fraction')})`
  add(
    a.strainShare > 1,
    'bad',
    `The film is stretched to ${strain}: it will not come back, and no tension helps any more.`,
  )
  add(a.strainShare <= 1, 'ok', `The film is stretched to ${strain}.`)
  add(
    true,
    'ok',
    `Tension makes it narrower by ${say(a.narrowing, 'fraction')}, that is ${say(a.narrowing * s.width, 'travel')}. What such neck-in presses together is not modelled.`,
  )
  add(
    a.edgeSlack,
    'warn',
    `One edge hangs slack at the roller behind: the beam model ends at ${say(a.slackAt, 'slope')}, and figures for this misalignment are an outlook, not an answer.`,
  )
  add(
    s.width < troughs.wavelength,
    'warn',
    `The film (${say(s.width, 'width')}) is narrower than one trough (${say(troughs.wavelength, 'travel')}): troughs as computed do not fit across it. It will rather curl or lift an edge.`,
  )
  add(
    troughs.approximationError > APPROXIMATION_TOLERANCE,
    'warn',
    `The short formula for troughs is ${percentText(troughs.approximationError)} too low here, since tension is small against bending; the exact minimum is used.`,
  )
  add(
    !s.nip && grip.friction === 0,
    'warn',
    `The film floats: ${say(grip.airFilm, 'thickness')} of air against a roughness of ${say(grip.roughness, 'thickness')} leaves no grip, so the roller neither folds nor guides it.`,
  )
  add(
    s.thickness / (2 * s.radius) + a.strain > s.elasticLimit,
    'warn',
    `Bent round a radius of ${say(s.radius, 'diameter')}, the film's outside is stretched by a further ${say(s.thickness / (2 * s.radius), 'fraction')}: with tension that is past its elastic limit.`,
  )
  return told
}

/** How far a share of a limit is from it, in words: "reached 3.4 times over" or "room for 2.1 times as much". */
export function marginText(share: number): string {
  if (share === 0) return 'nothing presses'
  return share >= 1 ? `${timesText(share)} the limit` : `room for ${timesText(1 / share)} as much`
}
