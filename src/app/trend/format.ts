/** How a recorded table is written: found from its first lines. */
import { kindNames, kinds, type Kind } from '../../units'
import { cellsOf, clockIn, isBlank, numberIn, type Decimal } from './cells'

type ColumnType = 'number' | 'clock' | 'text'

export interface ColumnHead {
  readonly title: string
  /** as it stands in the head, empty where none does */
  readonly unit: string
  readonly type: ColumnType
}

export interface Format {
  readonly delimiter: string
  readonly decimal: Decimal
  /** lines before the first row of values */
  readonly skip: number
  readonly columns: readonly ColumnHead[]
}

/** What can part cells, the rarest in texts first: a comma may be a decimal comma. */
export const delimiters = ['\t', ';', '|', ','] as const

/** Share of the lines that must agree. */
const most = 0.6

/** What a person has said of the writing; what is left out is found. */
export interface Said {
  readonly delimiter?: string | undefined
  readonly decimal?: Decimal | undefined
}

/** Of the lines at the head of a file, the last one whole; undefined when they hold no row of values. */
export function formatOf(lines: readonly string[], said: Said = {}): Format | undefined {
  const filled = lines.filter((line) => line.trim() !== '')
  const delimiter = said.delimiter ?? delimiters.find((one) => agrees(filled, one)) ?? ','
  const rows = lines.map((line) => cellsOf(line, delimiter))
  const decimal = said.decimal ?? decimalOf(rows)
  const width = widthOf(rows.filter((cells) => cells.length > 1 || delimiter === ',').map(({ length }) => length))
  const skip = rows.findIndex((cells) => cells.length >= width && isValues(cells, decimal))
  if (skip < 0) return undefined
  const body = rows.slice(skip).filter((cells) => cells.length >= width)
  return { delimiter, decimal, skip, columns: headsOf(rows.slice(0, skip), body, width, decimal) }
}

/** Most lines have the same number of cells, more than one; some machines end each line with a delimiter. */
function agrees(lines: readonly string[], delimiter: string): boolean {
  const counts = lines.map((line) => cellsOf(line, delimiter).length)
  const width = widthOf(counts)
  return width > 1 && counts.filter((count) => count === width || count === width + 1).length >= lines.length * most
}

/** The commonest number of cells. */
function widthOf(counts: readonly number[]): number {
  const seen = new Map<number, number>()
  for (const count of counts) seen.set(count, (seen.get(count) ?? 0) + 1)
  return [...seen].reduce((best, one) => (one[1] > best[1] ? one : best), [1, 0])[0]
}

function decimalOf(rows: readonly (readonly string[])[]): Decimal {
  const cells = rows.flat()
  const written = (pattern: RegExp) => cells.filter((cell) => pattern.test(cell.trim())).length
  return written(/^[+-]?\d+,\d+$/) > written(/^[+-]?\d+\.\d+$/) ? ',' : '.'
}

const isValue = (cell: string, decimal: Decimal) =>
  !Number.isNaN(numberIn(cell, decimal)) || !Number.isNaN(clockIn(cell))

/** A row of values has one at least, and hardly any words. */
function isValues(cells: readonly string[], decimal: Decimal): boolean {
  const filled = cells.filter((cell) => !isBlank(cell))
  const values = filled.filter((cell) => isValue(cell, decimal))
  return values.length > 0 && values.length >= filled.length / 2
}

function headsOf(
  before: readonly (readonly string[])[],
  body: readonly (readonly string[])[],
  width: number,
  decimal: Decimal,
): ColumnHead[] {
  const heads = before.filter((cells) => cells.length >= width && cells.some((cell) => cell.trim() !== ''))
  const [last = [], above] = [heads.at(-1), heads.at(-2)]
  const isUnits = above !== undefined && last.every((cell) => cell.trim() === '' || unitIn(cell) !== '' || isDash(cell))
  const titles = isUnits ? above : last
  return Array.from({ length: width }, (_, c) => {
    const title = (titles[c] ?? '').trim()
    const named = splitTitle(title)
    const type = typeOf(body, c, decimal)
    return {
      title: named.title === '' ? `column ${c + 1}` : named.title,
      unit: isUnits ? unitIn(last[c] ?? '') : named.unit,
      type,
    }
  })
}

const isDash = (cell: string) => /^[[(]?[-–]?[\])]?$/.test(cell.trim())

function typeOf(body: readonly (readonly string[])[], c: number, decimal: Decimal): ColumnType {
  const cells = body.map((row) => row[c] ?? '').filter((cell) => !isBlank(cell))
  const share = (fits: (cell: string) => boolean) => cells.filter(fits).length >= cells.length * most
  if (cells.length > 0 && share((cell) => !Number.isNaN(clockIn(cell)))) return 'clock'
  return share((cell) => !Number.isNaN(numberIn(cell, decimal))) ? 'number' : 'text'
}

const unitWords: ReadonlyMap<string, string> = new Map([
  ...kindNames.flatMap((kind) => kinds[kind].units).map((unit): [string, string] => [plain(unit), unit]),
  ...(
    [
      ['sec', 's'],
      ['seconds', 's'],
      ['msec', 'ms'],
      ['minutes', 'min'],
      ['nm', 'N m'],
      ['fpm', 'ft/min'],
      ['lb', 'lbf'],
      ['um', 'µm'],
    ] as const
  ).map(([word, unit]): [string, string] => [word, unit]),
])

function plain(unit: string): string {
  return unit
    .toLowerCase()
    .replaceAll(/[\s·*]/g, '')
    .replaceAll('μ', 'µ')
    .replaceAll('²', '^2')
}

/** A unit as we write it, out of a cell such as "[N]"; empty where it is none. */
function unitIn(text: string): string {
  const bare = text.trim().replace(/^[[(]\s*|\s*[\])]$/g, '')
  return unitWords.get(plain(bare)) ?? ''
}

/** "Tension 1 [N]", "speed (m/min)", "zeit_ms", "force in N", "pos/mm" to title and unit. */
function splitTitle(text: string): { title: string; unit: string } {
  const tries = [/^(.*?)\s*[[(]([^\])]*)[\])]\s*$/, /^(.+?)\s+in\s+(\S+)$/, /^(.+?)\s*\/\s*(.+)$/, /^(.+)_(\w+)$/]
  for (const pattern of tries) {
    const [, title = '', found = ''] = pattern.exec(text) ?? []
    const unit = found === '' ? '' : unitIn(found)
    if (unit !== '') return { title: title.trim(), unit }
  }
  return { title: text, unit: '' }
}

/** The kinds of quantity that take a unit. */
export const kindsOfUnit = (unit: string): Kind[] => kindNames.filter((kind) => kinds[kind].units.includes(unit))
