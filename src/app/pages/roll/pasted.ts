/** Points of a stack test as they are pasted: pressure and strain in columns, the unit of pressure chosen beside. */
import type { StackFit, TestPoint } from '../../../roll'
import type { StackSpec } from '../../../film/stack'
import { formatNumber, formatQuantity, fromUnit } from '../../../units'
import type { Json } from '../../state/document'

export const pressureUnits = ['kPa', 'MPa', 'psi', 'bar'] as const
export const strainUnits = ['%', 'share'] as const
export type PressureUnit = (typeof pressureUnits)[number]
export type StrainUnit = (typeof strainUnits)[number]

export interface Pasted {
  readonly points: readonly TestPoint[]
  /** lines that were no two numbers, by their number; a heading in the first is no mistake */
  readonly skipped: readonly number[]
  /** lines beyond those that are read */
  readonly cut: number
}

const MOST_POINTS = 2000

/** A decimal comma is read where points, tabs or semicolons part the columns. */
export function readPasted(text: string, pressure: PressureUnit, strain: StrainUnit): Pasted {
  const points: TestPoint[] = []
  const skipped: number[] = []
  const lines = text.trimEnd().split(/\r?\n/)
  lines.slice(0, MOST_POINTS).forEach((line, k) => {
    if (line.trim() === '') return
    const [p, e, more] = numbersIn(line)
    // a third number may be an index before the two, or a decimal comma taken for a column: never guessed
    if (p === undefined || e === undefined || more !== undefined) {
      if (k > 0 || p !== undefined) skipped.push(k + 1)
      return
    }
    points.push({ pressure: fromUnit(p, pressure), strain: strain === '%' ? e / 100 : e })
  })
  return { points, skipped, cut: Math.max(0, lines.length - MOST_POINTS) }
}

function numbersIn(line: string): number[] {
  const columns = /[;\t]/.test(line) ? line.split(/[;\t]/).map((cell) => cell.replace(',', '.')) : line.split(/[\s,]+/)
  const numbers = columns.map((cell) => cell.trim()).filter((cell) => cell !== '')
  return numbers.map(Number).every(Number.isFinite) ? numbers.map(Number) : []
}

/** The fitted stack as a scenario states it. */
export function stackText(stack: StackSpec): Json {
  const { law, basis } = stack
  if (law === 'constant') return { law, modulus: formatQuantity(stack.modulus, 'GPa', 5), basis }
  if (law === 'Pfeiffer') {
    return { law, pressure: formatQuantity(stack.pressure, 'MPa', 5), slope: Number(stack.slope.toPrecision(5)), basis }
  }
  return {
    ...{ law, basis, k0: formatQuantity(stack.k0, 'GPa', 5), k1: Number(stack.k1.toPrecision(5)) },
    ...{ k2: formatQuantity(stack.k2, '1/MPa', 5), k3: formatQuantity(stack.k3, '1/MPa²', 5) },
  }
}

const units: Readonly<Record<string, string>> = { modulus: 'MPa', K0: 'MPa', K2: '1/MPa', K3: '1/MPa²' }

/** Each factor with its standard error, in words. */
export function factorsText({ stack, parameters }: StackFit): string[] {
  return parameters.map(({ name, value, error }) => {
    const unit = stack.law === 'Pfeiffer' ? (name === 'K1' ? 'kPa' : '') : (units[name] ?? '')
    const say = (figure: number, digits: number) =>
      unit === '' ? formatNumber(figure, digits) : formatQuantity(figure, unit, digits)
    return `${name} ${say(value, 4)} ± ${say(error, 2)}`
  })
}
