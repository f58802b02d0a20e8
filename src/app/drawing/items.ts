/** What can be pointed at, in the order of the film's path, and what is told of it. */
import { percent, quantityText, type System } from '../shown'
import type { Span } from './film'
import type { Wheel } from './line'
import type { Readings } from './readings'

export type Item =
  | { readonly what: 'wheel'; readonly index: number; readonly name: string; readonly wheel: Wheel }
  | { readonly what: 'span'; readonly index: number; readonly name: string; readonly span: Span }

/** A roller, the span after it, bars within, the next roller, and so on. */
export function itemsOf(wheels: readonly Wheel[], spans: readonly Span[]): Item[] {
  return wheels.flatMap((wheel, index): Item[] => {
    const own: Item = { what: 'wheel', index, name: wheel.name, wheel }
    const after = spans.findIndex(({ wheels: [first] }) => first === index)
    const span = spans[after]
    return span ? [own, { what: 'span', index: after, name: span.name, span }] : [own]
  })
}

/** Channel key by which the charts know it; none for what is not recorded. */
export function keyOf(item: Item): string | null {
  if (item.what === 'span') return `tension/${item.name}`
  return item.wheel.kind === 'bar' ? null : `speed/${item.name}`
}

const kinds: Readonly<Record<Wheel['kind'], string>> = {
  unwind: 'unwind roll',
  idler: 'idler',
  bar: 'bar that film floats over',
  dancer: 'dancer',
  driven: 'driven roller',
  rewind: 'rewind roll',
}

export function kindOf(item: Item): string {
  if (item.what === 'span') return 'span'
  const { kind, nip, carriage } = item.wheel
  if (kind === 'driven' && nip) return 'driven nip'
  return kind === 'idler' && carriage !== undefined ? `idler on ${carriage}` : kinds[kind]
}

export interface Fact {
  /** Empty where the text says it all. */
  readonly name: string
  readonly text: string
}

export function factsOf(item: Item, readings: Readings, system: System): Fact[] {
  return item.what === 'span' ? spanFacts(item.name, readings, system) : wheelFacts(item, readings, system)
}

function spanFacts(name: string, readings: Readings, system: System): Fact[] {
  const span = readings.spans.find((one) => one.name === name)
  if (!span || Number.isNaN(span.tension)) return []
  const tension = { name: 'tension', text: quantityText(span.tension, 'force', system) }
  const share = { name: 'of elastic limit', text: percent(span.share) }
  return [tension, share, { name: '', text: standsAt(span) }]
}

function standsAt({ slack, share, tension, least, most }: Readings['spans'][number]): string {
  if (slack) return 'slack'
  if (share >= 1) return 'past the limit'
  if (tension > most) return 'above the band'
  return tension < least ? 'below the band' : 'in the band'
}

type WheelItem = Extract<Item, { what: 'wheel' }>

function wheelFacts({ wheel, name }: WheelItem, readings: Readings, system: System): Fact[] {
  const { value } = readings
  const listed = [
    ['position', value(`dancer/${wheel.carriage ?? ''}`), 'travel'],
    ['radius', value(`radius/${name}`), 'diameter'],
    ['surface speed', value(`speed/${name}`), 'speed'],
    ['torque', value(`torque/${name}`), 'torque'],
  ] as const
  const own = listed.flatMap(([fact, found, kind]) =>
    found === undefined ? [] : [{ name: fact, text: quantityText(found, kind, system) }],
  )
  return [...own, ...tensionsAt(name, readings, system)]
}

/** On either side of a roller; at a roll there is but one. */
function tensionsAt(name: string, { spans }: Readings, system: System): Fact[] {
  const sides = spans.filter((span) => span.name.endsWith(`→ ${name}`) || span.name.startsWith(`${name} →`))
  const texts = sides
    .filter(({ tension }) => !Number.isNaN(tension))
    .map(({ tension }) => quantityText(tension, 'force', system))
  return texts.length === 0 ? [] : [{ name: 'tension', text: texts.join(' → ') }]
}
