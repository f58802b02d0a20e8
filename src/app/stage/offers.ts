/** What can be staged on a line: each kind of event with figures to begin with, or why the line cannot have it. */
import { eventSchemas } from '../../line/stage'
import { formatQuantity, fromUnit, parseQuantity, wordsOf, type Kind } from '../../units'
import { at, withValue, type Json, type Path } from '../state/document'
import { actTitle, eventsOf } from './events'
import { driveKind, filmsOf, partsFor, partsOf, word, type Part } from './names'

export interface Offer {
  readonly act: string
  readonly title: string
  /** Without its time; undefined where the line cannot have it. */
  readonly event: { readonly [key: string]: Json } | undefined
  /** Why the line cannot have it; else empty. */
  readonly why: string
}

type Fields = { readonly [key: string]: Json }
/** Figures to begin with, or the sentence that says why there are none. */
type Make = (document: Json, parts: readonly Part[]) => Fields | string

const acts = eventSchemas.map((schema) => wordsOf(schema.entries.do)[0] ?? '')

export function offersOf(document: Json): Offer[] {
  return acts.map((act) => {
    const made = makers[act]?.(document, partsFor(document, act)) ?? 'It is not known here.'
    const isWhy = typeof made === 'string'
    return { act, title: actTitle(act), event: isWhy ? undefined : { do: act, ...made }, why: isWhy ? made : '' }
  })
}

const makers: Readonly<Record<string, Make>> = {
  start: (document) => ({ to: runningSpeed(document, 1) }),
  stop: () => ({}),
  speed: (document) => ({ to: runningSpeed(document, 0.8) }),
  'zero-speed splice': zeroSpeedSplice,
  'flying splice': (document) => splice(document) ?? noUnwind,
  changeover: (document, [part]) => {
    if (!part) return 'No driven roller of this line has an index feed.'
    const earlier = eventsOf(document).filter((e) => word(e, ['do']) === 'changeover')
    const isIndexing = earlier.length > 0 && word(earlier.at(-1) ?? null, ['to']) === 'indexing'
    return { roller: part.name, to: isIndexing ? 'continuous' : 'indexing' }
  },
  draw: (document, [part]) =>
    part
      ? { roller: part.name, to: more(document, ['line', part.place, 'draw'], 'fraction', 1, 0.05, '%') }
      : 'No roller of this line is driven at a speed of its own.',
  'dancer force': (document, [part]) =>
    part
      ? { dancer: part.name, to: more(document, ['line', part.place, 'force'], 'force', 1.1, 0, 'N') }
      : 'No dancer of this line has a force of its own: a cylinder or a taper sets it.',
  'dancer pressure': (document, [part]) =>
    part
      ? {
          dancer: part.name,
          to: more(document, ['line', part.place, 'cylinder', 'pressure'], 'pressure', 1.1, 0, 'bar'),
        }
      : 'No dancer of this line has a cylinder.',
  'set point': setPoint,
  'winding tension': windingTension,
  'free strain': (document) => {
    const [film] = filmsOf(document)
    return film === undefined ? 'The scenario lists no film.' : { film, to: '0.02 %' }
  },
  'rewind change': (document) => {
    const rewind = partsOf(document).find(({ part }) => part === 'rewind')
    if (!rewind) return 'This line has no rewind.'
    const roll = copied(document, ['line', rewind.place], ['core', 'coreInertia'])
    return { roll: { diameter: word(document, ['line', rewind.place, 'core']) || '90 mm', ...roll } }
  },
}

const noUnwind = 'This line has no unwind with a film on it.'

function zeroSpeedSplice(document: Json): Fields | string {
  const unwind = partsOf(document).find(({ part }) => part === 'unwind')
  const kind = unwind ? driveKind(document, unwind) : ''
  if (kind === 'brake') return 'The unwind has a brake, which cannot stop and start the roll on command.'
  if (kind === 'torque') return 'The unwind follows tension, not speed: it cannot stop and start the roll on command.'
  const given = splice(document)
  return given ? { ...given, rampDown: '1 s', hold: '1 s', rampUp: '1 s' } : noUnwind
}

/** The second film, or the same once more, on a roll such as the one before. */
function splice(document: Json): Fields | undefined {
  const unwind = partsOf(document).find(({ part }) => part === 'unwind')
  const films = filmsOf(document)
  if (!unwind || films.length === 0) return undefined
  const present = word(document, ['line', unwind.place, 'film'])
  const last = eventsOf(document).findLast((event) => at(event, ['roll', 'woundTension']) !== undefined)
  const own = copied(document, ['line', unwind.place], ['core', 'coreInertia', 'woundTension'])
  const roll = last === undefined ? { diameter: '400 mm', ...own } : (at(last, ['roll']) ?? {})
  return { film: films.find((name) => name !== present) ?? present, roll }
}

const copied = (document: Json, base: Path, keys: readonly string[]): Fields =>
  Object.fromEntries(
    keys.flatMap((key) => {
      const value = at(document, [...base, key])
      return value === undefined ? [] : [[key, value]]
    }),
  )

/** What stands at a path, times a factor, and so much more in its unit; in the unit that is given where nothing stands. */
function more(document: Json, path: Path, kind: Kind, factor: number, add: number, unit: string): string {
  const parsed = parseQuantity(word(document, path), kind)
  const found = parsed.ok ? parsed : { value: 0, unit }
  return formatQuantity(found.value * factor + fromUnit(add, found.unit, kind), found.unit, 3, kind)
}

/** A share of the speed that the line starts with, or a usual one where it starts at rest. */
function runningSpeed(document: Json, share: number): string {
  const parsed = parseQuantity(word(document, ['speed', 'start']), 'speed')
  if (!parsed.ok || parsed.value === 0) return '10 m/min'
  return formatQuantity(parsed.value * share, parsed.unit, 3, 'speed')
}

/** A fifth of the way from the set point to the upper stop. */
function setPoint(document: Json, [part]: readonly Part[]): Fields | string {
  if (!part) return 'This line has no dancer.'
  const value = (key: string) => {
    const parsed = parseQuantity(word(document, ['line', part.place, key]), 'travel')
    return parsed.ok ? parsed.value : 0
  }
  const to = value('setPoint') + (value('upperStop') - value('setPoint')) / 5
  return { dancer: part.name, to: formatQuantity(to, 'mm', 3) }
}

/** Nine tenths of what is asked for now. */
function windingTension(document: Json, [part]: readonly Part[]): Fields | string {
  if (!part) return 'Nothing on this line winds by a tension that is asked for.'
  const control = at(document, ['control'])
  const controls = Array.isArray(control) ? (control as readonly Json[]) : []
  const place = controls.findIndex(
    (item) => word(item, ['drives']) === part.name && at(item, ['tension']) !== undefined,
  )
  const path = place < 0 ? ['line', part.place, 'drive', 'tension'] : ['control', place, 'tension']
  return { roller: part.name, to: more(document, path, 'force', 0.9, 0, 'N') }
}

/** The offer's event at a time, as text. */
export const eventAt = (event: Fields, time: string): Json => withValue(event, ['at'], time)
