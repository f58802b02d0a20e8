/**
 * Which way to turn what: the roll computed again with each setting turned a little.
 *
 * Equations    change of a finding's share of its limit, for tension up by 5 %, taper up by 5 % of the core tension, lay-on up by as much,
 *              a core a quarter stiffer, a fifth more air; fewer shells than the roll itself, the same for both, so that their errors cancel
 * Source       finite differences
 */
import { assess, type Finding } from './assess'
import type { RollInput } from './input'
import { solveRoll } from './solve'

export type Knob = 'tension' | 'taper' | 'lay-on load' | 'core stiffness' | 'air'

export interface Turn {
  readonly knob: Knob
  /** which way the finding gets better */
  readonly way: 'more' | 'less'
  /** share of the limit that a small turn takes off, relative to the share it is at */
  readonly gain: number
}

const SHELLS = 320
const STAGES = 8
const SMALL = 0.05
/** A turn that changes less than this share is no advice. */
const WORTH = 0.004
const FLOATING = 1e6

/** A coarse roll and what it is held against; undefined where it cannot be computed. */
export function quickFindings(input: RollInput): Finding[] | undefined {
  const outcome = solveRoll(input, undefined, { shells: SHELLS, stages: STAGES })
  return outcome.outcome === 'finished' ? assess(outcome) : undefined
}

/** For every finding, in the order of `assess`, the turns that help it, best first. */
export function turnsOf(input: RollInput): Turn[][] {
  const base = quickFindings(input) ?? []
  const turned = knobs(input).flatMap(({ knob, input: other }) => {
    const findings = quickFindings(other)
    return findings === undefined ? [] : [{ knob, findings }]
  })
  return base.map((finding) =>
    turned.flatMap(({ knob, findings }) => helps(finding, findings, knob)).sort((a, b) => b.gain - a.gain),
  )
}

function helps(finding: Finding, others: readonly Finding[], knob: Knob): Turn[] {
  const other = others.find(({ key, when }) => key === finding.key && when === finding.when)
  if (other === undefined || !(finding.share > 0)) return []
  // laps that float on air hold nothing however the rest is turned
  if (finding.share > FLOATING) return knob === 'air' ? [{ knob, way: 'less', gain: 1 }] : []
  const rise = (other.share - finding.share) / finding.share
  return Math.abs(rise) < WORTH ? [] : [{ knob, way: rise > 0 ? 'less' : 'more', gain: Math.abs(rise) }]
}

function knobs(input: RollInput): { knob: Knob; input: RollInput }[] {
  const { taper, layOn, core, airKept } = input
  const steeper = taperedMore(input)
  return [
    { knob: 'tension', input: { ...input, taper: { ...taper, tension: taper.tension * (1 + SMALL) } } },
    ...(steeper === undefined ? [] : [{ knob: 'taper' as const, input: { ...input, taper: steeper } }]),
    { knob: 'lay-on load', input: { ...input, layOn: layOn + SMALL * taper.tension } },
    { knob: 'core stiffness', input: { ...input, core: { ...core, modulus: core.modulus * 1.25 } } },
    ...(airKept > 0 ? [{ knob: 'air' as const, input: { ...input, airKept: airKept * 1.2 } }] : []),
  ]
}

/** The law with a little more taper; a constant one begins to fall, a table has nothing to turn. */
function taperedMore({ taper }: RollInput): RollInput['taper'] | undefined {
  if (taper.law === 'table') return undefined
  if (taper.law === 'power') return { ...taper, exponent: taper.exponent + SMALL }
  if (taper.law === 'constant') return { ...taper, law: 'linear', taper: SMALL }
  return { ...taper, taper: taper.taper + SMALL }
}
