/** What a wound roll says, in sentences: each limit with figure, place, margin, what it rests on and which way to turn. */
import type { Advice, Basis, Candidate, Finding, FindingKey, InputName, Knob, Turn } from '../roll'
import type { RollNote } from '../roll/job'
import { formatNumber, formatQuantity, kinds } from '../units'
import type { Severity, UnitSystem } from './verdict'

export interface RollSentence {
  readonly key: FindingKey
  readonly when: Finding['when']
  readonly severity: Severity
  readonly title: string
  /** figure and limit as text */
  readonly value: string
  readonly limit: string
  /** room left, or by how much it is broken */
  readonly margin: string
  /** where in the roll it is worst */
  readonly place: string
  readonly text: string
  /** which way to turn; empty where nothing helps or nothing needs to */
  readonly turn: string
  readonly rests: string
  readonly share: number
}

const WARN = 0.8
/** Beyond this a margin in percent says nothing. */
const MOST_MARGIN = 100

const titles: Readonly<Record<FindingKey, string>> = {
  'core pressure': 'Pressure on the core',
  bore: 'Bore of the core shrinks',
  blocking: 'Blocking: pressure between laps',
  'slip while winding': 'Slip between laps while winding',
  'slip at a start': 'Slip at a start of the full roll',
  'slip at a stop': 'Slip at a stop of the full roll',
  'slip while unwinding': 'Slip while unwinding',
  'axial slip': 'Telescoping: force along the axis that holds',
  starring: 'Starring: compression beyond the plateau',
  film: 'Strain of the film going on',
  contact: 'Laps come apart',
}

const troubles: Readonly<Record<FindingKey, string>> = {
  'core pressure': 'The core is pressed harder than it may be.',
  bore: 'The bore shrinks further than the shaft allows: the core will not come off.',
  blocking: 'Laps are pressed so hard that they may stick to each other.',
  'slip while winding': 'Laps slip on each other while the roll is wound.',
  'slip at a start': 'Laps slip when the full roll starts.',
  'slip at a stop': 'Laps slip when the full roll stops.',
  'slip while unwinding': 'Laps slip, and the roll tightens inward, when it is unwound.',
  'axial slip': 'Laps can be pushed out sideways: the roll telescopes.',
  starring: 'Laps are compressed along the film beyond what a plateau carries: they may buckle into a star.',
  film: 'The film goes on with more strain than it may keep.',
  contact: 'Pressure falls to nothing and laps come apart.',
}

const reserve: ReadonlySet<FindingKey> = new Set([
  ...(['slip while winding', 'slip at a start', 'slip at a stop', 'slip while unwinding', 'axial slip'] as const),
])

/** One sentence for each finding, worst first. `turns` belong to the findings in the same order. */
export function rollVerdict(
  findings: readonly Finding[],
  turns: readonly Turn[][],
  system: UnitSystem,
): RollSentence[] {
  return findings.map((finding, k) => sentenceOf(finding, turns[k] ?? [], system)).sort((a, b) => b.share - a.share)
}

function sentenceOf(finding: Finding, turns: readonly Turn[], system: UnitSystem): RollSentence {
  const { key, when, share } = finding
  const severity = share > 1 ? 'bad' : share > WARN ? 'warn' : 'ok'
  const title = when === 'later' ? `${titles[key]}, later` : titles[key]
  const value = figure(finding.value, finding, system)
  const limit =
    key === 'contact'
      ? 'nowhere'
      : `${reserve.has(key) ? 'at least' : 'at most'} ${figure(finding.limit, finding, system)}`
  const place = finding.value === 0 && !reserve.has(key) ? '' : placeOf(finding, system)
  const turn = severity === 'ok' ? '' : turnText(turns)
  const head = severity === 'bad' ? `${troubles[key]} ` : ''
  const rests = restsText(finding)
  return {
    ...{ key, when, severity, title, value, limit, place, turn, rests, share, margin: marginOf(finding) },
    text: `${head}${title}: ${value}, ${limit}${place === '' ? '' : ` (${place})`}.`,
  }
}

const restWords: Readonly<Record<InputName, string>> = {
  'stack modulus': 'stack modulus',
  friction: 'friction of film on film',
  core: 'stiffness of the core',
  air: 'air between the laps',
  limit: 'the limit itself',
  tension: 'winding tension',
  'fill factor': 'fill factor',
  film: 'the film',
}

function figure(value: number, { kind, key }: Finding, system: UnitSystem): string {
  if (kind === 'ratio')
    return `${value > MOST_MARGIN ? `over ${MOST_MARGIN}` : formatNumber(value, 3)} times the torque`
  const text = formatQuantity(value, kinds[kind][system], 3, kind)
  return key === 'film' ? `${text} of its elastic limit` : text
}

function placeOf({ radius, key }: Finding, system: UnitSystem): string {
  const where = `at a diameter of ${formatQuantity(2 * radius, kinds.diameter[system], 4, 'diameter')}`
  return key === 'core pressure' || key === 'bore' ? 'at the core' : where
}

function marginOf({ share, key }: Finding): string {
  if (key === 'contact') return share > 0 ? 'broken' : 'kept'
  if (share > 1) return reserve.has(key) ? `${percent(1 - 1 / share)} short` : `${percent(share - 1)} too much`
  return reserve.has(key) ? `${percent(1 / Math.max(share, 1e-9) - 1)} to spare` : `${percent(1 - share)} to spare`
}

const percent = (share: number) =>
  share * 100 > 10 * MOST_MARGIN ? `over ${10 * MOST_MARGIN} %` : `${formatNumber(share * 100, 2)} %`

const knobWords: Readonly<Record<Knob, readonly [more: string, less: string]>> = {
  tension: ['more tension', 'less tension'],
  taper: ['more taper', 'less taper'],
  'lay-on load': ['more lay-on load', 'less lay-on load'],
  'lay-on roller': ['a lay-on roller', 'no lay-on roller'],
  'core stiffness': ['a stiffer core', 'a softer core'],
  air: ['more air between the laps', 'less air between the laps'],
}

/** The best few turns; those that do hardly anything beside the best are left out. */
function turnText(turns: readonly Turn[]): string {
  const best = turns[0]
  if (best === undefined) return 'None of tension, taper, lay-on load, core and air changes this much.'
  const said = turns
    .filter(({ gain }) => gain > best.gain / 12)
    .map(({ knob, way }) => knobWords[knob][way === 'more' ? 0 : 1])
  const list = said.length === 1 ? said[0] : `${said.slice(0, -1).join(', ')} or ${said[said.length - 1]}`
  return `${list.charAt(0).toUpperCase()}${list.slice(1)} helps.`
}

/** What is advised, and what it trades against the present setting. */
export function adviceText({ present, best, tried, rule }: Advice, system: UnitSystem): string[] {
  const setting = settingText(best.taper, system)
  if (best === present) {
    const end = rule === 'flattest' ? 'none is flatter within the limits' : 'none breaks the limits less'
    return [`The present setting stands: of ${tried} settings tried ${end}.`]
  }
  const head =
    rule === 'flattest'
      ? `Flattest pressure within the limits: ${setting}.`
      : `No setting tried meets every limit; nearest comes ${setting}.`
  const broken = present.worst > 1 ? ' The present setting breaks a limit.' : ''
  const flat = `The pressure then varies by ${percent(best.flatness)} of its mean instead of ${percent(present.flatness)}.`
  const trades = present.findings.flatMap((before) => {
    const after = best.findings.find(({ key, when }) => key === before.key && when === before.when)
    if (after === undefined || Math.max(after.share, before.share) < 0.1) return []
    if (Math.abs(after.share - before.share) < 0.02 * before.share) return []
    const name = before.when === 'later' ? `${titles[before.key]}, later` : titles[before.key]
    return [`${name}: ${figure(before.value, before, system)} becomes ${figure(after.value, after, system)}.`]
  })
  return [`${head}${broken} ${flat}`, ...trades]
}

/** A taper in words. */
export function settingText(taper: Candidate['taper'], system: UnitSystem): string {
  const tension = `${formatQuantity(taper.tension, kinds.force[system], 4)} at the core`
  const k = `${formatNumber(taper.taper * 100, 3)} %`
  switch (taper.law) {
    case 'constant':
      return `constant, ${tension}`
    case 'power':
      return `power law of exponent ${formatNumber(taper.exponent, 3)}, ${tension}`
    case 'table':
      return `the table, ${tension}`
    case 'blend':
      return `blend (${formatNumber(taper.blend * 100, 3)} % linear), taper ${k}, ${tension}`
    default:
      return `${taper.law}, taper ${k}, ${tension}`
  }
}

/** The inputs of the weakest basis that a finding rests on. */
function restsText({ rests }: Finding): string {
  const [weakest] = rests
  if (weakest === undefined) return ''
  const names = rests.flatMap(({ name, basis }) => (basis === weakest.basis ? [restWords[name]] : []))
  return `${names.join(', ')}: ${weakest.basis}`
}

const basisWords: readonly (readonly [Basis, string])[] = [
  ['illustrative', 'illustrative figures'],
  ['from memory', 'figures from memory'],
  ['published', 'published figures'],
]

/** What the verdict as a whole rests on, from the weakest basis up. */
export function weakestOfRoll(findings: readonly Finding[]): string {
  const rests = findings.flatMap((finding) => finding.rests)
  const said = basisWords.flatMap(([basis, words]) => {
    const names = new Set(rests.flatMap((rest) => (rest.basis === basis ? [restWords[rest.name]] : [])))
    return names.size === 0 ? [] : [`${words} (${[...names].join(', ')})`]
  })
  if (said.length === 0) return 'Rests on figures that were stated or measured.'
  return `Rests on ${said.join(' and ')}: measure them before you rely on it.`
}

const noteWords: Readonly<Record<RollNote, string>> = {
  'no run':
    'The run that should lie in this roll as a ring did not come to its end: the roll is computed without a ring.',
  'run broken off':
    'The run that lies in this roll as a ring broke off: the ring holds only what was wound until then.',
  'run beyond': 'The run winds film beyond the full roll: what lies outside it is left out.',
  'tension assumed':
    'The line does not hold a tension of its own when it starts: the roll is wound with the threading tension.',
  'few shells':
    'So stiff a film on so soft a stack needs more shells than a roll is given here: pressures near the core are told a little high.',
}

/** What to know before the figures are read. */
export const notesText = (notes: readonly RollNote[]): string[] => notes.map((note) => noteWords[note])
