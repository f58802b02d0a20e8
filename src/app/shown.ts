/** How figures are shown: unit by kind and system, and as many decimals as the figure can bear. */
import { kinds, toUnit, type Kind } from '../units'

export type System = 'metric' | 'inch'

export function unitOf(kind: Kind, system: System): string {
  return kinds[kind][system]
}

/** SI to shown unit, for kinds without an offset: everything that is charted. */
export function factorOf(kind: Kind, system: System): number {
  return toUnit(1, unitOf(kind, system), kind)
}

const decimals: Readonly<Record<string, number>> = {
  N: 1,
  lbf: 2,
  'm/min': 2,
  'ft/min': 1,
  mm: 1,
  in: 3,
  'N m': 2,
  'lbf in': 1,
  s: 2,
  'N/m': 1,
  'lbf/in': 3,
  psi: 1,
}

/** A number for people, with a true minus sign. */
export function numberText(number: number, places: number): string {
  if (!Number.isFinite(number)) return '—'
  const text = Math.abs(number).toFixed(places)
  return number < 0 && Number(text) !== 0 ? `−${text}` : text
}

/** The bare figure in the shown unit: for table cells whose heading names the unit. */
export function figure(value: number, kind: Kind, system: System): string {
  const unit = unitOf(kind, system)
  return numberText(toUnit(value, unit, kind), decimals[unit] ?? 2)
}

export function quantityText(value: number, kind: Kind, system: System): string {
  return `${figure(value, kind, system)} ${unitOf(kind, system)}`
}

/** How tension is read, and the kind that it then is of. */
export const measures = ['force', 'forcePerWidth', 'stress', 'strain'] as const
export type Measure = (typeof measures)[number]

export const measureKinds: Readonly<Record<Measure, Kind>> = {
  force: 'force',
  forcePerWidth: 'forcePerWidth',
  stress: 'stress',
  strain: 'fraction',
}

/** Strain is told in thousandths of a percent. */
export function measured(value: number, measure: Measure, system: System): string {
  const kind = measureKinds[measure]
  return measure === 'strain' ? numberText(value * 100, 3) : figure(value, kind, system)
}

export function measuredText(value: number, measure: Measure, system: System): string {
  return `${measured(value, measure, system)} ${unitOf(measureKinds[measure], system)}`
}

export function percent(share: number): string {
  if (!Number.isFinite(share)) return '—'
  const number = share * 100
  return `${numberText(number, Math.abs(number) < 9.95 && number !== 0 ? 1 : 0)} %`
}

export function seconds(time: number): string {
  return `${numberText(time, 2)} s`
}

/** A span's name breaks before its arrow, nowhere else. */
export function spanName(name: string): string {
  return name.replaceAll(' ', '\u00a0').replace('\u00a0→', ' →')
}

/** Lengths of film run from millimetres of scrap to kilometres. */
export function filmLength(value: number, system: System): string {
  const [unit, small] = system === 'metric' ? ['m', 'mm'] : ['ft', 'in']
  const isSmall = Math.abs(value) < 1 && value !== 0
  const chosen = isSmall ? small : unit
  return `${numberText(toUnit(value, chosen, 'length'), isSmall ? 1 : 2)} ${chosen}`
}
