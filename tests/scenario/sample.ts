/** A small line that reads well, and ways to spoil it. */
import { readDocument, type Reading } from '../../src/scenario/read'
import type { Problem } from '../../src/units'

export type Json = null | boolean | number | string | Json[] | { [key: string]: Json }

const roll = { diameter: '400 mm', core: '90 mm', coreInertia: '0.01 kg m^2', woundTension: '70 N' }

const idler = (name: string) => ({
  part: 'idler',
  name,
  diameter: '80 mm',
  wrap: '90 deg',
  turn: 'left',
  inertia: '1.6e-3 kg m^2',
})

/** Parts: 0 unwind, 2 idler 1, 4 infeed dancer, 6 air bar, 8 nip 1, 10 rewind; spans between. */
export function sample(): Record<string, Json> {
  return {
    spanwright: 1,
    title: 'Five rollers',
    films: {
      A: {
        ...{ thickness: '36 µm', width: '420 mm', modulus: '4.5 GPa', density: '1390 kg/m^3', elasticLimit: '1 %' },
      },
    },
    line: [
      { part: 'unwind', name: 'unwind', film: 'A', ...roll, drive: { kind: 'ideal' } },
      { part: 'span', length: '700 mm' },
      idler('idler 1'),
      { part: 'span', length: '500 mm' },
      {
        ...{ ...idler('infeed dancer'), part: 'dancer', wrap: '180 deg', mass: '4 kg', force: '120 N' },
        ...{ lowerStop: '-90 mm', upperStop: '90 mm' },
      },
      { part: 'span', length: '400 mm' },
      { part: 'bar', name: 'air bar', diameter: '60 mm', wrap: '30 deg', turn: 'right' },
      { part: 'span', length: '300 mm' },
      { ...idler('nip 1'), part: 'driven', nip: true, drive: { kind: 'ideal' } },
      { part: 'span', length: '900 mm' },
      { part: 'rewind', name: 'rewind', diameter: '120 mm', drive: { kind: 'torque', tension: '60 N' } },
    ],
    control: [
      { control: 'position trim', measures: 'infeed dancer', drives: 'unwind', kind: 'speed', gain: '1.2 1/s' },
    ],
    speed: { start: '20 m/min', threadingTension: '40 N' },
    stage: [
      { at: '1 s', do: 'speed', to: '25 m/min', in: '2 s' },
      {
        ...{ at: '5 s', do: 'zero-speed splice', film: 'A', rampDown: '1 s', hold: '1 s', rampUp: '1 s', roll },
      },
    ],
    run: { for: '30 s' },
  }
}

/** The document with another value at a path such as `line/2/diameter`; undefined takes the key away. */
export function spoilt(path: string, value: Json | undefined, document: Json = sample()): Json {
  const [key = '', ...rest] = path.split('/')
  if (Array.isArray(document)) {
    return document.map((item, index) => (String(index) === key ? deeper(rest, value, item) : item))
  }
  if (typeof document !== 'object' || document === null) throw new Error(`nothing to spoil at ${path}`)
  const entries = Object.entries(document).filter(([name]) => name !== key)
  if (rest.length === 0 && value === undefined) return Object.fromEntries(entries)
  const inner = deeper(rest, value, document[key] ?? {})
  if (Object.hasOwn(document, key)) {
    return Object.fromEntries(Object.entries(document).map(([name, item]) => [name, name === key ? inner : item]))
  }
  return Object.fromEntries([...entries, [key, inner]])
}

function deeper(rest: string[], value: Json | undefined, inside: Json): Json {
  return rest.length === 0 ? (value ?? null) : spoilt(rest.join('/'), value, inside)
}

export function problemsIn(reading: Reading): readonly Problem[] {
  return reading.ok ? [] : reading.problems
}

/** All that is said of a document, a sentence each. */
export const said = (document: unknown): string[] => problemsIn(readDocument(document)).map(({ say }) => say)
