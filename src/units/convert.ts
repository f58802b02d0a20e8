/** Numbers in a unit to SI and back, and a quantity as text. */
import { cleanText, readUnit, type Unit } from './expression'
import { kindNames, kinds, type Kind } from './kinds'

/** The two scales that do not start at absolute zero: SI = (number + offset) x by / per. */
const scaleOffsets: ReadonlyMap<string, number> = new Map([
  ['°C^1', 273.15],
  ['°F^1', 459.67],
])

export interface Scale extends Unit {
  /** as it is shown */
  readonly name: string
  /** only for a temperature on a scale of its own */
  readonly offset: number
}

const shownByKind: ReadonlyMap<Kind, ReadonlyMap<string, Scale>> = new Map(
  kindNames.map((kind) => [kind, new Map(kinds[kind].units.map((name) => scaleOf(name, kind)))]),
)

function scaleOf(name: string, kind: Kind): [string, Scale] {
  const unit = readUnit(cleanText(name))
  if (!unit) throw new Error(`The table of kinds lists "${name}", which is no unit.`)
  const offset = kind === 'temperature' ? (scaleOffsets.get(unit.key) ?? 0) : 0
  return [unit.key, { ...unit, name, offset }]
}

/** How a field of this kind reads a unit; undefined when it does not take it. */
export function scaleFor(unit: Unit, kind: Kind): Scale | undefined {
  return shownByKind.get(kind)?.get(unit.key)
}

/** All kinds that take this unit. */
export function kindsTaking(unit: Unit): Kind[] {
  return kindNames.filter((kind) => scaleFor(unit, kind) !== undefined)
}

const known = new Map<string, Scale>()

/**
 * The scale of a unit named in code. Without a kind, °C and °F alone are taken as temperatures, not as differences.
 */
function namedScale(name: string, kind: Kind | undefined): Scale {
  const label = kind === undefined ? name : `${name} ${kind}`
  const found = known.get(label)
  if (found) return found
  const unit = readUnit(cleanText(name))
  if (!unit) throw new Error(`"${name}" is no unit that is known here.`)
  const offset = kind === undefined || kind === 'temperature' ? (scaleOffsets.get(unit.key) ?? 0) : 0
  const scale = { ...unit, name, offset }
  known.set(label, scale)
  return scale
}

export function fromScale(number: number, scale: Scale): number {
  if (scale.offset === 0) return (number * scale.by) / scale.per
  return scale.by === scale.per ? number + scale.offset : ((number + scale.offset) * scale.by) / scale.per
}

/** SI to a number in the unit; the unit "1" is a plain ratio. */
export function toUnit(value: number, unit: string, kind?: Kind): number {
  const scale = namedScale(unit, kind)
  return (value * scale.per) / scale.by - scale.offset
}

/** A number in the unit to SI. */
export function fromUnit(number: number, unit: string, kind?: Kind): number {
  return fromScale(number, namedScale(unit, kind))
}

/** A number as people write it: no trailing zeros, a power of ten only where zeros would have to be counted. */
export function formatNumber(number: number, significantDigits = 6): string {
  if (!Number.isFinite(number)) return '—'
  const rounded = Number(number.toPrecision(significantDigits))
  const size = Math.abs(rounded)
  if (rounded === 0) return '0'
  if (size >= 1e-3 && size < 1e7) return String(rounded)
  const [mantissa = '0', exponent = '0'] = rounded.toExponential().split('e')
  return `${mantissa}e${Number(exponent)}`
}

/** A quantity as text that reads back to the last digit shown, for instance "36 µm". */
export function formatQuantity(value: number, unit: string, significantDigits = 6, kind?: Kind): string {
  return `${formatNumber(toUnit(value, unit, kind), significantDigits)} ${unit}`
}
