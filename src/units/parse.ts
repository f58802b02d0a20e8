/** A quantity written as text, read for one kind of field; a refusal says what is wrong and what to write instead. */
import { fromScale, kindsTaking, scaleFor, type Scale } from './convert'
import { aliases, cleanText, readUnit, type Unit } from './expression'
import { kinds, type Kind } from './kinds'
import { nearest } from './nearest'

export type Parsed =
  | { readonly ok: true; readonly value: number; readonly unit: string; readonly number: number }
  | { readonly ok: false; readonly found: string; readonly expected: string; readonly hint?: string }

/** Nothing on a line is larger in SI; beyond it a number is a slip of the keyboard. */
const largest = 1e15

const numberPattern = /^([+-]?(?:\d+(?:\.\d+)?|\.\d+)(?:[eE][+-]?\d+)?) ?(.*)$/

/** A number without a unit, by the same rules; undefined for anything else. */
export function parseNumber(text: string): number | undefined {
  const [, digits = '', rest = ''] = numberPattern.exec(text.length > 200 ? '' : cleanText(text)) ?? []
  const number = Number(digits)
  return digits === '' || rest !== '' || Math.abs(number) > largest ? undefined : number
}

export function parseQuantity(text: string, kind: Kind): Parsed {
  const clean = text.length > 200 ? '' : cleanText(text)
  const parts = numberPattern.exec(clean)
  if (!parts) return refusal(text, kind, numberHint(clean, kind))
  const [, digits = '', unitText = ''] = parts
  const broken = brokenNumberHint(clean, digits, unitText)
  if (broken) return refusal(text, kind, broken)
  if (unitText === '') return refusal(text, kind, bareHint(digits, kind))
  const unit = readUnit(unitText)
  const scale = unit && scaleFor(unit, kind)
  if (!scale) return refusal(text, kind, unitHint(digits, unitText, unit, kind))
  return sized(text, digits, scale, kind)
}

function sized(text: string, digits: string, scale: Scale, kind: Kind): Parsed {
  const number = Number(digits)
  const value = fromScale(number, scale)
  if (!(Math.abs(value) <= largest)) return refusal(text, kind, 'the number is too large')
  const vanished = value === 0 && /^[^eE]*[1-9]/.test(digits) && scale.offset === 0
  if (vanished) return refusal(text, kind, 'the number is too small to be told from zero')
  if (kind === 'temperature' && value < 0) return refusal(text, kind, 'this is below absolute zero, -273.15 °C')
  return { ok: true, value: value === 0 ? 0 : value, unit: scale.name, number: number === 0 ? 0 : number }
}

function refusal(text: string, kind: Kind, hint: string | undefined): Parsed {
  const { name, example } = kinds[kind]
  const refused = { ok: false, found: text, expected: `${name} with a unit, such as "${example}"` } as const
  return hint === undefined ? refused : { ...refused, hint }
}

function numberHint(clean: string, kind: Kind): string | undefined {
  const sign = clean.replace(/^[+-]/, '')
  if (/^(nan|inf|infinity|∞)/i.test(sign)) return 'it has to be an ordinary, finite number'
  const unit = readUnit(clean)
  if (unit && scaleFor(unit, kind)) return `the number before "${clean}" is missing`
  return clean === '' ? undefined : 'begin with a number in decimal digits'
}

/** The number went on, but not in a way that is read here. */
function brokenNumberHint(clean: string, digits: string, rest: string): string | undefined {
  if (/^,\d/.test(rest)) return commaHint(clean)
  if (/^[ _'’]?\d{3}/.test(rest)) return 'write the number without separators between thousands'
  if (/^[xX][0-9a-fA-F]/.test(rest)) return 'write the number in ordinary decimal digits'
  if (/^\.(\d|$| |[^\d])/.test(rest)) {
    return rest.length > 1 && /\d/.test(rest)
      ? 'write the number with one decimal point'
      : `write "${`${digits} ${rest.slice(1).trim()}`.trim()}"`
  }
  return undefined
}

function commaHint(clean: string): string {
  const decimal = /^([+-]?\d+),(\d+)([eE][+-]?\d+)? ?([^\d.,].*)?$/.exec(clean)
  if (!decimal) return 'write the number without separators between thousands, and with a decimal point'
  const [, whole = '', fraction = '', power = '', unit = ''] = decimal
  const text = (number: string) => `${number}${power} ${unit}`.trim()
  const point = `write "${text(`${whole}.${fraction}`)}" with a decimal point`
  const thousands = fraction.length === 3 && !/^[+-]?0/.test(whole)
  return thousands ? `${point}, or "${text(whole + fraction)}" if thousands were meant` : point
}

function bareHint(digits: string, kind: Kind): string {
  const units = kinds[kind].units
  if (units.length === 1) return `write "${digits} ${units[0]}"`
  return `write "${digits} ${units[0]}", or with another of its units: ${units.slice(1).join(', ')}`
}

function unitHint(digits: string, unitText: string, unit: Unit | undefined, kind: Kind): string {
  const weight = weightHint(digits, unitText, kind)
  if (weight) return weight
  const measured = unit && kindsTaking(unit)[0]
  if (measured) return `"${unitText}" measures ${kinds[measured].name}`
  const units = kinds[kind].units
  const meant = nearest(unitText, [...units.map(cleanText), ...aliases.keys()])
  const spelling = meant === undefined ? undefined : readUnit(meant)
  const scale = spelling && scaleFor(spelling, kind)
  if (meant && scale) return `did you mean "${digits} ${aliases.has(meant) ? meant : scale.name}"?`
  return `"${unitText}" is not a unit it takes; it takes ${units.join(', ')}`
}

const weights = [
  ['kg', 'kgf'],
  ['lb', 'lbf'],
  ['g', 'kgf'],
] as const

/** A mass written where a force is wanted: offers the weight of that mass when the field takes it. */
function weightHint(digits: string, unitText: string, kind: Kind): string | undefined {
  for (const [mass, weight] of weights) {
    const swapped = unitText.replace(new RegExp(`(?<![A-Za-zµ])${mass}(?![A-Za-zµ])`), weight)
    const unit = swapped === unitText ? undefined : readUnit(swapped)
    if (!unit || !scaleFor(unit, kind)) continue
    const offer = mass === 'g' ? 'write a force' : `write "${digits} ${swapped}", or a force`
    return `"${mass}" is a mass, not a force; ${offer} in one of ${kinds[kind].units.join(', ')}`
  }
  return undefined
}
