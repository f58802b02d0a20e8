/** The taper as a table to type into a drive, in shown units. The report prints the same rows. */
import { driveTable, type RollInput } from '../../../roll'
import { formatNumber, toUnit, type Kind } from '../../../units'
import { unitOf, type System } from '../../shown'

export interface TextTable {
  readonly head: readonly string[]
  readonly rows: readonly (readonly string[])[]
}

/** Diameter, tension, share, torque, turn rate, length, laps, mass and time in even steps of diameter. */
export function taperTable(input: RollInput, steps: number, system: System): TextTable {
  const unit = (kind: Kind) => unitOf(kind, system)
  const text = (value: number, kind: Kind, digits = 4) => formatNumber(toUnit(value, unit(kind), kind), digits)
  const long = system === 'metric' ? 'm' : 'ft'
  return {
    head: [
      ...[`Diameter, ${unit('diameter')}`, `Tension, ${unit('force')}`, 'Share, %', `Torque, ${unit('torque')}`],
      ...['Turn rate, rpm', `Power, ${unit('power')}`, `Length, ${long}`, 'Laps', `Mass, ${unit('mass')}`, 'Time, min'],
    ],
    rows: driveTable(input, steps).map((row) => [
      text(row.diameter, 'diameter'),
      text(row.tension, 'force'),
      text(row.share, 'fraction'),
      text(row.torque, 'torque'),
      formatNumber(toUnit(row.turnRate, 'rpm'), 4),
      text(row.power, 'power', 3),
      formatNumber(toUnit(row.length, long), 5),
      formatNumber(Math.round(row.laps), 7),
      text(row.mass, 'mass', 3),
      row.time === undefined ? '—' : formatNumber(row.time / 60, 4),
    ]),
  }
}
