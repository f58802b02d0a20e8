/**
 * What a part, a control or a group of fields begins with when it is added. Figures are usual ones by common practice and
 * from memory, without a source: they make a line that runs, and are to be replaced by one's own.
 */
import {
  bare,
  fieldInfo,
  formatQuantity,
  isObjectSchema,
  isVariantSchema,
  kinds,
  parseQuantity,
  wordsOf,
  type AnySchema,
} from '../../units'
import type { Json } from '../state/document'
import { wordAt } from './line'

type Holder = { readonly [key: string]: Json }

export interface Offer {
  readonly label: string
  /** what it is for, a sentence */
  readonly about: string
  readonly part: Holder
}

const roller = { diameter: '80 mm', wrap: '90 deg', turn: 'left', inertia: '1.6e-3 kg m²', drag: '0.012 N m' }
export const servo = { kind: 'servo', bandwidth: '60 rad/s', damping: 1, torqueLimit: '25 N m' }
const dancer = {
  ...roller,
  wrap: '180 deg',
  mass: '4 kg',
  damping: '60 N s/m',
  slidingFriction: '1.5 N',
  force: '80 N',
}
const stops = { lowerStop: '-120 mm', upperStop: '120 mm' }

/** Parts that can be added anywhere between the rolls. */
export const partsToAdd: readonly Offer[] = [
  {
    label: 'Idler',
    about: 'Guides the film, and is turned by it alone.',
    part: { part: 'idler', name: 'idler', ...roller },
  },
  {
    label: 'Dancer',
    about: 'A roller that hangs in the film under a steady force: it holds the tension beside it and stores film.',
    part: { part: 'dancer', name: 'dancer', ...dancer, stores: 'down', ...stops },
  },
  {
    label: 'Dancer on a swing arm',
    about: 'The same on an arm, which turns the strands as it swings.',
    part: { part: 'dancer', name: 'arm dancer', ...dancer, arm: '400 mm', stores: 'level', ...stops },
  },
  {
    label: 'Driven nip',
    about: 'Pulls at a speed of its own, the film pressed on: tensions on its two sides are apart.',
    part: {
      ...{ part: 'driven', name: 'nip', ...roller, diameter: '140 mm', wrap: '0 deg' },
      ...{ inertia: '0.03 kg m²', drag: '0.1 N m', nip: true, drive: servo },
    },
  },
  {
    label: 'Driven roller',
    about: 'Pulls at a speed of its own by wrap and friction; where they do not suffice the film slips.',
    part: {
      ...{ part: 'driven', name: 'driven roller', ...roller, diameter: '140 mm', wrap: '180 deg' },
      ...{ inertia: '0.03 kg m²', drag: '0.1 N m', drive: servo },
    },
  },
  {
    label: 'Bar on an air cushion',
    about: 'Turns the film without touching it: no drag, no inertia.',
    part: { part: 'bar', name: 'bar', diameter: '60 mm', wrap: '90 deg', turn: 'right' },
  },
]

interface Surroundings {
  /** N, of the film there; undefined where it is not known */
  readonly tension: number | undefined
  readonly turn: 'left' | 'right'
}

/** m/s² */
const gravity = 9.80665

/** A part as it fits where it is put: a dancer carries the tension that the film has there, by two strands. */
export function suited(part: Holder, { tension, turn }: Surroundings): Holder {
  const turned = 'turn' in part ? { ...part, turn } : part
  if (part['part'] !== 'dancer' || tension === undefined) return turned
  const mass = parseQuantity(wordAt(part, 'mass'), 'mass')
  const weight = part['stores'] === 'down' && mass.ok ? mass.value * gravity : 0
  return { ...turned, force: formatQuantity(2 * tension - weight, 'N', 3) }
}

/** A trim for a dancer that has none. */
export const trimOf = (measures: string, drives: string): Holder => ({
  ...{ control: 'position trim', measures, drives, kind: 'speed' },
  ...{ gain: '1 1/s', integral: '0.25 1/s²', limit: '5 m/min' },
})

/** What usual ranges cannot tell, since fields of a group have to go together. */
const known: ReadonlyMap<string, Json> = new Map<string, Json>([
  ['servo', servo],
  ['torque', { kind: 'torque', tension: '55 N', law: 'constant' }],
  ['brake', { kind: 'brake', torque: '3 N m' }],
  ['trapezoid', { pattern: 'trapezoid', pitch: '200 mm', move: '0.8 s', ramp: '0.2 s' }],
  ['cycloidal', { pattern: 'cycloidal', pitch: '200 mm', move: '0.8 s' }],
])

/** The least that a schema takes: its required fields, each at the low end of its usual range. */
export function startingOf(schema: AnySchema): Json {
  const plain = bare(schema)
  if (isVariantSchema(plain)) return startingOf(plain.options[0] ?? plain)
  if (!isObjectSchema(plain)) return single(schema)
  const words = ['kind', 'pattern'].flatMap((key) => (plain.entries[key] ? wordsOf(plain.entries[key]) : []))
  const made = words.map((word) => known.get(word)).find((found) => found !== undefined)
  if (made !== undefined) return made
  const required = Object.entries(plain.entries).filter(([, entry]) => entry.type !== 'optional')
  return Object.fromEntries(required.map(([key, entry]) => [key, startingOf(entry)]))
}

function single(schema: AnySchema): Json {
  const info = fieldInfo(schema)
  if (!info) return wordsOf(schema)[0] ?? []
  if (info.type === 'quantity' && info.kind) return info.notes.usual?.[0] ?? kinds[info.kind].example
  if (info.type === 'number' || info.type === 'whole') return Number(info.notes.usual?.[0] ?? info.least ?? 1)
  if (info.type === 'flag') return false
  return info.type === 'choice' ? (info.options?.[0] ?? '') : ''
}
