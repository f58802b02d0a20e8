/** One field taken through a row of values, and all the combinations of several. */
import { getField, setField, type Field } from '../scenario/path'
import { readDocument } from '../scenario/read'
import { bare, fieldInfo, formatQuantity, parseNumber, parseQuantity, type Kind } from '../units'

export interface Variation {
  /** of a single field, as on the command line */
  readonly path: string
  /** as they are written into the field */
  readonly values: readonly string[]
}

export type Varying =
  { readonly ok: true; readonly variation: Variation } | { readonly ok: false; readonly say: string }

export interface Ends {
  readonly path: string
  readonly from: string
  readonly to: string
  readonly count: number
}

/** Most cases of one sweep: beyond it a slip of the keyboard is more likely than a wish. */
export const MOST_CASES = 10_000

/** Digits in which a value is written: far finer than any tolerance, and 0.3 stays 0.3. */
const DIGITS = 10

/**
 * The field at a path in `count` even steps from one end to the other. Each value by itself has to make a scenario that
 * can be read; what is wrong with one names the path.
 */
export function variationOf(document: unknown, ends: Ends): Varying {
  const finding = getField(document, ends.path)
  if (!finding.ok) return refuse(ends.path, finding.problem.say)
  const values = valuesOf(finding.field, ends)
  if (typeof values === 'string') return refuse(ends.path, values)
  for (const value of values) {
    const trouble = troubleWith(document, ends.path, value)
    if (trouble !== undefined) return refuse(ends.path, `with ${value}: ${trouble}`)
  }
  return { ok: true, variation: { path: ends.path, values } }
}

const refuse = (path: string, say: string): Varying => ({ ok: false, say: `${path}: ${say}` })

/** What the document would be refused for with this text in the field; undefined when it can be read. */
function troubleWith(document: unknown, path: string, text: string): string | undefined {
  const setting = setField(document, path, text)
  if (!setting.ok) return setting.problem.say
  const reading = readDocument(setting.document)
  return reading.ok ? undefined : reading.problems[0]?.say
}

/** The texts of the values, or what is wrong with the ends. */
function valuesOf({ schema }: Field, { from, to, count }: Ends): readonly string[] | string {
  const type = bare(schema).type
  const kind = fieldInfo(schema)?.kind
  if (kind !== undefined) return quantities(kind, from, to, count)
  if (type !== 'number') return 'this field takes words; only quantities and numbers can be swept.'
  const [first, last] = [parseNumber(from), parseNumber(to)]
  if (first === undefined || last === undefined) {
    return `found "${from}..${to}", expected two numbers without a unit, such as 0.2..0.4.`
  }
  return steps(first, last, count).map(numberText)
}

function quantities(kind: Kind, from: string, to: string, count: number): readonly string[] | string {
  const last = parseQuantity(to, kind)
  if (!last.ok) return `found "${to}", expected ${last.expected}.${hintOf(last)}`
  // "2..10 N" means what it looks like.
  const bare = parseNumber(from)
  const first = parseQuantity(bare === undefined ? from : `${from} ${last.unit}`, kind)
  if (!first.ok) return `found "${from}", expected ${first.expected}.${hintOf(first)}`
  return steps(first.value, last.value, count).map((value) => formatQuantity(value, first.unit, DIGITS, kind))
}

const hintOf = ({ hint }: { readonly hint?: string }) => (hint === undefined ? '' : ` ${hint}.`)
const numberText = (value: number) => String(Number(value.toPrecision(DIGITS)))

function steps(from: number, to: number, count: number): number[] {
  if (count === 1) return [from]
  return Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1))
}

/** One case: a value for each variation, in their order. */
export type Case = readonly string[]

/** All combinations; the last variation changes fastest. */
export function casesOf(variations: readonly Variation[]): Case[] {
  return variations.reduce<Case[]>(
    (cases, { values }) => cases.flatMap((before) => values.map((value) => [...before, value])),
    [[]],
  )
}
