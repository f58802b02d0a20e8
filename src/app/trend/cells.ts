/** Single cells of a recorded table: numbers with point or comma, clock times, and what means "nothing was measured". */

export type Decimal = '.' | ','

/** A line to its cells. A cell in quotes may hold the delimiter; a doubled quote in it is one. */
export function cellsOf(line: string, delimiter: string): string[] {
  if (!line.includes('"')) return line.split(delimiter)
  const cells: string[] = []
  let [cell, quoted] = ['', false]
  for (let i = 0; i < line.length; i++) {
    const letter = line.charAt(i)
    if (letter === '"') {
      if (quoted && line.charAt(i + 1) === '"') cell += line.charAt(++i)
      else quoted = !quoted
    } else if (letter === delimiter && !quoted) {
      cells.push(cell)
      cell = ''
    } else cell += letter
  }
  return [...cells, cell]
}

const patterns: Readonly<Record<Decimal, RegExp>> = {
  '.': /^[+-]?(?:\d{1,3}(?:[,'’ \u00a0\u202f]\d{3})+|\d+)?(?:\.\d*)?(?:[eE][+-]?\d{1,3})?$/,
  ',': /^[+-]?(?:\d{1,3}(?:[.'’ \u00a0\u202f]\d{3})+|\d+)?(?:,\d*)?(?:[eE][+-]?\d{1,3})?$/,
}
const grouping: Readonly<Record<Decimal, RegExp>> = { '.': /[,'’ \u00a0\u202f]/g, ',': /[.'’ \u00a0\u202f]/g }

const ordinary = /^-?\d+(?:\.\d+)?$/

/** NaN for anything that is no number of this writing. */
export function numberIn(cell: string, decimal: Decimal): number {
  // Most cells of most recordings.
  if (decimal === '.' && ordinary.test(cell)) return Number(cell)
  const text = cell.trim()
  if (!/\d/.test(text) || !patterns[decimal].test(text)) return NaN
  const number = Number(text.replace(grouping[decimal], '').replace(',', '.'))
  return Number.isFinite(number) ? number : NaN
}

/** Hour, minute, second and their fraction, alone or behind a date; behind them AM or PM, with or without points. */
const clock = /(?:^|[T\s])(\d{1,2}):(\d{2}):(\d{2})(?:[.,:](\d{1,9}))?(?:\s*([AP])\.?\s?M\b)?/i

/** s since midnight; NaN for what is no time of day. */
export function clockIn(cell: string): number {
  const [, hour = '', minute, second, fraction = '0', half] = clock.exec(cell.trim()) ?? []
  const hours = hourOf(hour, half?.toUpperCase())
  if (Number.isNaN(hours) || Number(minute) > 59 || Number(second) > 60) return NaN
  return hours * 3600 + Number(minute) * 60 + Number(second) + Number(`0.${fraction}`)
}

/** Of a clock that goes to twelve: 12 AM is midnight, 12 PM noon. Some write 13 PM all the same. */
function hourOf(text: string, half: string | undefined): number {
  const hour = text === '' ? NaN : Number(text)
  if (hour > 23 || (half === 'A' && hour > 12)) return NaN
  if (half === undefined || hour > 12) return hour
  return (hour % 12) + (half === 'P' ? 12 : 0)
}

const blanks = new Set(['', 'nan', '-', '--', '---', 'null', 'none', 'n/a', '#n/a', 'na', 'bad', 'inf', '-inf'])

/** Whether a cell says that nothing was measured. */
export const isBlank = (cell: string): boolean => blanks.has(cell.trim().toLowerCase())
