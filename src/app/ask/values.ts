/** The values that a field is asked about: a range to begin with, values in it, and each as text. */
import {
  formatNumber,
  formatQuantity,
  fromUnit,
  kinds,
  parseNumber,
  parseQuantity,
  toUnit,
  type Kind,
} from '../../units'
import type { Field } from '../fields/catalogue'
import { textIn, usualRange, valueOf } from '../fields/entry'
import type { System } from '../shown'

export interface Extent {
  readonly low: number
  readonly high: number
}

/** The kind and unit in which the field's values are told; a plain number has neither. */
export interface Scale {
  readonly kind: Kind | null
  readonly unit: string
}

export function scaleOf(field: Field, system: System): Scale {
  const { kind } = field.info
  if (!kind) return { kind: null, unit: '' }
  const parsed = parseQuantity(textIn(field, system), kind)
  return { kind, unit: parsed.ok ? parsed.unit : kinds[kind][system] }
}

/** SI to what is shown, and back. */
export const shown = (value: number, { kind, unit }: Scale): number => (kind ? toUnit(value, unit, kind) : value)
export const stored = (value: number, { kind, unit }: Scale): number => (kind ? fromUnit(value, unit, kind) : value)

export const textOf = (value: number, { kind, unit }: Scale, digits = 4): string =>
  kind ? formatQuantity(value, unit, digits, kind) : formatNumber(value, digits)

/** Typed text in SI; a bare number is one in the unit that is shown. */
export function readValue(text: string, { kind, unit }: Scale): number | undefined {
  const bare = parseNumber(text)
  if (!kind) return bare
  const parsed = parseQuantity(bare === undefined ? text : `${text} ${unit}`, kind)
  return parsed.ok ? parsed.value : undefined
}

/** The usual range, widened to the present value; without one, from half to twice of that. */
export function extentOf(field: Field): Extent | undefined {
  const present = valueOf(field, String(field.value))
  const usual = usualRange(field)
  const here = present === undefined || !Number.isFinite(present) ? [] : [present]
  if (usual) return within(field, Math.min(usual.low, ...here), Math.max(usual.high, ...here))
  if (!present) return undefined
  return within(field, Math.min(present / 2, present * 2), Math.max(present / 2, present * 2))
}

/** As far as the field takes it. */
function within({ info }: Field, low: number, high: number): Extent | undefined {
  const { above, least = -Infinity, most = Infinity } = info
  const from = Math.max(low, least)
  const bottom = above !== undefined && from <= above ? above + (high - above) / 50 : from
  const top = Math.min(high, most)
  return bottom < top ? { low: bottom, high: top } : undefined
}

/** A wide range is walked in ratios, as its slider is. */
export const isWide = ({ low, high }: Extent): boolean => low > 0 && high / low > 20

/** So many values over a range, rising, with the present one among them where it lies within. */
export function valuesIn(extent: Extent, count: number, present: number | undefined): number[] {
  const { low, high } = extent
  const at = (share: number) => (isWide(extent) ? low * (high / low) ** share : low + (high - low) * share)
  const even = Array.from({ length: count }, (_, i) => (i === count - 1 ? high : at(i / (count - 1))))
  const isInside = present !== undefined && present > low && present < high
  const near = (value: number) => isInside && Math.abs(value - present) <= 1e-9 * Math.abs(high - low)
  return isInside ? [...even.filter((value) => !near(value)), present].sort((a, b) => a - b) : even
}

/** To few digits, on the side of a limit on which it still holds; in the shown unit. */
export function onGoodSide(value: number, up: boolean, scale: Scale, digits = 3): number {
  const number = shown(value, scale)
  if (number === 0 || !Number.isFinite(number)) return value
  const step = 10 ** (Math.floor(Math.log10(Math.abs(number))) - digits + 1)
  const steps = up ? Math.ceil(number / step - 1e-9) : Math.floor(number / step + 1e-9)
  return stored(Number((steps * step).toPrecision(12)), scale)
}

/** Where a limit is crossed: the last two values run on either side of it, and the sample from which the good one was sought. */
export interface Crossing {
  readonly value: number
  readonly beyond: number
  readonly from: number
}

export interface Offer {
  readonly value: number
  readonly word: 'smallest' | 'largest'
  /** No other value of three digits lies closer to the limit. */
  readonly toThreeDigits: boolean
}

/** Digits of the tidiest offer, and of one where the range is so narrow that no tidier value lies in it. */
const [fewest, most] = [3, 10]

/** A tidy value at a crossing, on the side that keeps the limit and not beyond what is known to keep it. */
export function offerAt({ value, beyond, from }: Crossing, scale: Scale): Offer {
  const up = value > beyond
  const word = up ? 'smallest' : 'largest'
  for (let digits = fewest; digits <= most; digits++) {
    const tidy = onGoodSide(value, up, scale, digits)
    if (up ? tidy > from : tidy < from) continue
    // Just short of the value that breaks the limit, lest that itself counts as one that might keep it.
    const last = beyond + (value - beyond) * 1e-6
    const toThreeDigits = digits === fewest && onGoodSide(last, up, scale) === tidy
    return { value: tidy, word, toThreeDigits }
  }
  return { value, word, toThreeDigits: false }
}
