/** What a person types into a field: reading, stepping, and saying it in the other system's unit. */
import * as v from 'valibot'
import {
  exampleOf,
  formatNumber,
  formatQuantity,
  fromUnit,
  kinds,
  parseQuantity,
  problemsOf,
  toUnit,
  type Kind,
  type Problem,
} from '../../units'
import type { System } from '../shown'
import type { Field } from './catalogue'

export type Entry =
  { readonly ok: true; readonly value: string | number | undefined } | { readonly ok: false; readonly say: string }

const sentence = (label: string, found: string, expected: string): string =>
  `${label}: found ${found}, expected ${expected}.`

const isPlain = (field: Field) => field.info.type === 'number' || field.info.type === 'whole'

/**
 * Text to a value for the document; a refusal says what was found and what was expected. No text leaves out a field that can
 * be left out.
 */
export function readEntry(field: Field, text: string): Entry {
  const trimmed = text.trim()
  if (trimmed === '' && field.info.optional) return { ok: true, value: undefined }
  const value = isPlain(field) && trimmed !== '' ? Number(trimmed) : trimmed
  if (typeof value === 'number' && Number.isNaN(value)) {
    return { ok: false, say: sentence(field.label, `"${trimmed}"`, `a plain number, such as ${exampleOf(field.info)}`) }
  }
  const result = v.safeParse(field.schema, value)
  if (result.success) return { ok: true, value }
  const [problem] = problemsOf(result.issues, value)
  if (!problem) return { ok: false, say: sentence(field.label, `"${trimmed}"`, exampleOf(field.info)) }
  return { ok: false, say: tellAt(field, problem) }
}

/** A problem told below its field: there the place is called by the field's own label. */
export function tellAt(field: Field, problem: Problem): string {
  const prefix = `${problem.field}: `
  return `${field.label}: ${problem.say.startsWith(prefix) ? problem.say.slice(prefix.length) : problem.say}`
}

/** A number as text with its sign, digits, power of ten, and whatever follows. */
const numberText = /^(\s*[+-]?)(\d*)(?:\.(\d*))?((?:[eE][+-]?\d+)?)([\s\S]*)$/

/** The text with its last shown digit moved by `steps`; undefined when it does not begin with a number. */
export function stepped(text: string, steps: number): string | undefined {
  const parts = numberText.exec(text)
  const [, sign = '', whole = '', fraction = '', power = '', rest = ''] = parts ?? []
  if (!parts || whole + fraction === '') return undefined
  const digits = BigInt(whole + fraction) * (sign.trim() === '-' ? -1n : 1n) + BigInt(steps)
  const size = (digits < 0n ? -digits : digits).toString().padStart(fraction.length + 1, '0')
  const point = size.length - fraction.length
  const number = fraction === '' ? size : `${size.slice(0, point)}.${size.slice(point)}`
  return `${digits < 0n ? '-' : ''}${number}${power}${rest}`
}

const inchUnit = /(^|[^a-zA-Z])(in|ft|mil|gauge|lb|lbf|psi|ksi|hp|°F)($|[^a-zA-Z])/

/** Whether a unit belongs to a system. A kind whose other unit is no inch unit (%, rad/s) is the same in both. */
function fits(unit: string, kind: Kind, system: System): boolean {
  return !inchUnit.test(kinds[kind].inch) || inchUnit.test(unit) === (system === 'inch')
}

/** The document's text, said in the wanted system; it is left alone when its unit is already of that system. */
export function textIn(field: Field, system: System): string {
  const { kind } = field.info
  const text = String(field.value)
  if (!kind || typeof field.value !== 'string') return text
  const parsed = parseQuantity(text, kind)
  if (!parsed.ok || fits(parsed.unit, kind, system)) return text
  return formatQuantity(parsed.value, kinds[kind][system], 4, kind)
}

/** The usual range in SI, where both ends read as quantities or numbers. */
export function usualRange(field: Field): { low: number; high: number } | undefined {
  const [low, high] = (field.info.notes.usual ?? []).map((text) => valueOf(field, text))
  return low !== undefined && high !== undefined && high > low ? { low, high } : undefined
}

/** SI value of a text, or the bare number where the field takes no unit. */
export function valueOf(field: Field, text: string): number | undefined {
  const { kind } = field.info
  if (!kind) {
    const number = Number(text)
    return Number.isFinite(number) ? number : undefined
  }
  const parsed = parseQuantity(text, kind)
  return parsed.ok ? parsed.value : undefined
}

/** The usual range in the unit of the text that stands in the field: "2 to 8 kg". */
export function usualText(field: Field, text: string): string {
  const { kind, notes } = field.info
  const [low, high] = notes.usual ?? []
  if (low === undefined || high === undefined) return ''
  const range = usualRange(field)
  const parsed = kind && parseQuantity(text, kind)
  if (!kind || !range || !parsed?.ok) return `${low} to ${high}`
  const number = (si: number) => formatNumber(toUnit(si, parsed.unit, kind), 3)
  return `${number(range.low)} to ${number(range.high)} ${parsed.unit}`
}

/** A wide range is walked in ratios, a narrow one or one with zero in steps. */
const isWide = (low: number, high: number) => low > 0 && high / low > 20

/** Where a value lies in its usual range, 0..1. */
export function placeIn(range: { low: number; high: number }, value: number): number {
  const { low, high } = range
  const share = isWide(low, high)
    ? Math.log(Math.max(value, low) / low) / Math.log(high / low)
    : (value - low) / (high - low)
  return Math.min(1, Math.max(0, share))
}

/** The value at a place of the usual range, as text in the unit of the text it replaces. */
export function textAtPlace(field: Field, range: { low: number; high: number }, share: number, text: string): string {
  const { low, high } = range
  const value = isWide(low, high) ? low * (high / low) ** share : low + share * (high - low)
  const { kind } = field.info
  if (!kind) return String(Number(value.toPrecision(3)))
  const parsed = parseQuantity(text, kind)
  const unit = parsed.ok ? parsed.unit : kinds[kind].metric
  return formatQuantity(fromUnit(tidy(toUnit(value, unit, kind), toUnit(high, unit, kind)), unit, kind), unit, 6, kind)
}

/** Two digits of the range's size: a knob's detents. */
function tidy(number: number, high: number): number {
  const size = Math.abs(number) > Math.abs(high) / 20 ? Math.abs(high) : Math.abs(number) || Math.abs(high) / 100
  const step = 10 ** (Math.floor(Math.log10(size)) - 1)
  return Number((Math.round(number / step) * step).toPrecision(6))
}
