/**
 * Which way to turn what: the roll computed again with each setting turned a little.
 *
 * Equations    change of a finding's share of its limit, for tension up by 5 %, taper up by 5 % of the core tension, lay-on up by as much,
 *              a core a quarter stiffer, a fifth more air; fewer shells than the roll itself, the same for both, so that their errors cancel
 *              laps that float hold nothing however little is turned: then each setting is turned far, both ways, and what makes them
 *              hold again is named, best first
 * Neglected    that more lay-on load lets less air in
 * Source       finite differences
 */
import type { TaperSpec } from '../line/taper'
import { everything, type Finding } from './assess'
import { windingOf, type RollInput } from './input'
import { shellsFor } from './shells'
import { solveRoll } from './solve'

export type Knob = 'tension' | 'taper' | 'lay-on load' | 'lay-on roller' | 'core stiffness' | 'air'

export interface Turn {
  readonly knob: Knob
  /** which way the finding gets better */
  readonly way: 'more' | 'less'
  /** share of the limit that a small turn takes off, relative to the share it is at */
  readonly gain: number
}

interface Setting {
  readonly knob: Knob
  readonly input: RollInput
}

interface Turned {
  readonly knob: Knob
  readonly findings: readonly Finding[]
  /** the ways that are left to turn it */
  readonly ways: readonly Turn['way'][]
}

const COARSE = 1 / 3
const STAGES = 8
const SMALL = 0.05
/** A turn that changes less than this share is no advice. */
const WORTH = 0.004
const FLOATING = 1e6

/** For every finding, in the same order, the turns that help it, best first. */
export function turnsOf(input: RollInput, findings: readonly Finding[]): Turn[][] {
  const shells = shellsFor(windingOf(input), COARSE)
  const coarse = (one: RollInput): Finding[] => {
    const outcome = solveRoll(one, undefined, { shells, stages: STAGES })
    return outcome.outcome === 'finished' ? everything(outcome) : []
  }
  const base = coarse(input)
  const small = turnedALittle(input).map(({ input: other, ...rest }): Turned => ({ ...rest, findings: coarse(other) }))
  const floats = findings.some(({ share }) => share > FLOATING)
  const far = floats ? turnedFar(input).map(({ input: other, ...rest }) => ({ ...rest, findings: coarse(other) })) : []
  return findings.map((finding) => {
    const turns = finding.share > FLOATING ? holdsAgain(finding, far) : helps(alike(finding, base), small)
    return turns.sort((a, b) => b.gain - a.gain)
  })
}

const alike = (finding: Finding, others: readonly Finding[]): Finding | undefined =>
  others.find(({ key, when }) => key === finding.key && when === finding.when)

function helps(finding: Finding | undefined, turned: readonly Turned[]): Turn[] {
  if (finding === undefined || !(finding.share > 0)) return []
  return turned.flatMap(({ knob, findings, ways }): Turn[] => {
    const other = alike(finding, findings)
    const rise = other === undefined ? 0 : (other.share - finding.share) / finding.share
    const way = rise > 0 ? 'less' : 'more'
    return Math.abs(rise) < WORTH || !ways.includes(way) ? [] : [{ knob, way, gain: Math.abs(rise) }]
  })
}

/** What makes laps hold again that float; the less of the limit is then used, the better. */
function holdsAgain(finding: Finding, turned: readonly Turned[]): Turn[] {
  return turned.flatMap(({ knob, findings, ways }) => {
    const share = alike(finding, findings)?.share ?? Infinity
    return share > FLOATING ? [] : ways.map((way): Turn => ({ knob, way, gain: 1 / (1 + share) }))
  })
}

type Turning = Setting & Pick<Turned, 'ways'>

const bothWays = ['more', 'less'] as const

function turnedALittle(input: RollInput): Turning[] {
  const { taper, layOn, layOnRoom, core, airKept } = input
  const pressed = (knob: Knob, by: number, ways: Turned['ways']): Turning[] =>
    by > 0 ? [{ knob, ways, input: { ...input, layOn: layOn + by } }] : []
  const step = SMALL * taper.tension
  const steeper = taperBy(taper, SMALL)
  return [
    { knob: 'tension', ways: bothWays, input: { ...input, taper: { ...taper, tension: taper.tension * (1 + SMALL) } } },
    ...(steeper === undefined
      ? []
      : [
          {
            knob: 'taper' as const,
            ways: falls(taper) ? bothWays : (['more'] as const),
            input: { ...input, taper: steeper },
          },
        ]),
    ...(layOnRoom === undefined
      ? pressed('lay-on roller', step, ['more'])
      : pressed('lay-on load', Math.min(step, layOnRoom), layOn > 0 ? bothWays : ['more'])),
    { knob: 'core stiffness', ways: bothWays, input: { ...input, core: { ...core, modulus: core.modulus * 1.25 } } },
    ...(airKept > 0 ? [{ knob: 'air' as const, ways: bothWays, input: { ...input, airKept: airKept * 1.2 } }] : []),
  ]
}

const FAR = 0.5
const MOST_OF_THE_AIR = 0.8

function turnedFar(input: RollInput): Turning[] {
  const { taper, layOn, layOnRoom, airKept } = input
  const { tension } = taper
  const to = (knob: Knob, way: Turn['way'], change: Partial<RollInput>): Turning[] => [
    { knob, ways: [way], input: { ...input, ...change } },
  ]
  const tapered = (way: Turn['way'], by: number) => {
    const turned = taperBy(taper, by)
    return turned === undefined ? [] : to('taper', way, { taper: turned })
  }
  return [
    ...to('tension', 'more', { taper: { ...taper, tension: tension * (1 + FAR) } }),
    ...to('tension', 'less', { taper: { ...taper, tension: tension * (1 - FAR) } }),
    ...tapered('more', FAR / 2),
    ...(falls(taper) ? tapered('less', -1) : []),
    ...(layOnRoom === undefined ? to('lay-on roller', 'more', { layOn: FAR * tension }) : []),
    ...(layOnRoom !== undefined && layOnRoom > 0
      ? to('lay-on load', 'more', { layOn: layOn + Math.min(layOnRoom, FAR * tension) })
      : []),
    ...(airKept > 0 ? to('air', 'less', { airKept: airKept * (1 - MOST_OF_THE_AIR) }) : []),
  ]
}

/** Whether there is taper to take away. */
const falls = ({ law, taper, exponent }: TaperSpec): boolean =>
  law === 'power' ? exponent > 0 : law !== 'constant' && taper > 0

/** The law with more or less taper, never below none; a constant one begins to fall, a table has nothing to turn. */
function taperBy(taper: TaperSpec, by: number): TaperSpec | undefined {
  if (taper.law === 'table') return undefined
  if (taper.law === 'power') return { ...taper, exponent: Math.max(0, taper.exponent + by) }
  if (taper.law === 'constant') return { ...taper, law: 'linear', taper: Math.max(0, by) }
  return { ...taper, taper: Math.min(1, Math.max(0, taper.taper + by)) }
}
