/** The taper as a table to type into a drive, in shown units. The report prints the same rows. */
import { driveTable, type DriveRow, type RollInput } from '../../../roll'
import { toUnit, type Kind } from '../../../units'
import { numberText, unitOf, type System } from '../../shown'

export interface TextTable {
  readonly head: readonly string[]
  readonly rows: readonly (readonly string[])[]
}

interface Column {
  readonly head: string
  readonly of: (row: DriveRow) => number
}

/** Digits that the largest figure of a column has; all others have as many decimals. */
const DIGITS = 4

/** Diameter, tension, share, torque, turn rate, power, length, laps, mass and time in even steps of diameter. */
export function taperTable(input: RollInput, steps: number, system: System): TextTable {
  const rows = driveTable(input, steps)
  const columns = columnsIn(system)
  const texts = columns.map(({ of }) => {
    const values = rows.map(of)
    const places = placesFor(Math.max(...values.filter(Number.isFinite), 0))
    return values.map((value) => numberText(value, places))
  })
  return { head: columns.map(({ head }) => head), rows: rows.map((_, k) => texts.map((column) => column[k] ?? '')) }
}

function columnsIn(system: System): Column[] {
  const column = (name: string, kind: Kind, of: (row: DriveRow) => number): Column => {
    const unit = unitOf(kind, system)
    return { head: `${name}, ${unit}`, of: (row) => toUnit(of(row), unit, kind) }
  }
  const long = system === 'metric' ? 'm' : 'ft'
  return [
    column('Diameter', 'diameter', ({ diameter }) => diameter),
    column('Tension', 'force', ({ tension }) => tension),
    column('Share', 'fraction', ({ share }) => share),
    column('Torque', 'torque', ({ torque }) => torque),
    { head: 'Turn rate, rpm', of: ({ turnRate }) => toUnit(turnRate, 'rpm') },
    column('Power', 'power', ({ power }) => power),
    { head: `Length, ${long}`, of: ({ length }) => toUnit(length, long) },
    { head: 'Laps', of: ({ laps }) => Math.round(laps) },
    column('Mass', 'mass', ({ mass }) => mass),
    { head: 'Time, min', of: ({ time }) => (time ?? NaN) / 60 },
  ]
}

const placesFor = (most: number): number =>
  most > 0 ? Math.min(6, Math.max(0, DIGITS - 1 - Math.floor(Math.log10(most)))) : 0
