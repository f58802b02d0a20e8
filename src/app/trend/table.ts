/**
 * A recorded table, read as it arrives: text in pieces of any length goes in, columns of numbers come out. What a file may
 * hold is counted on the way, so that a file that is too large is refused before it fills the memory.
 */
import { cellsOf, clockIn, isBlank, numberIn } from './cells'
import { formatOf, type ColumnHead, type Format, type Said } from './format'

export interface Column extends ColumnHead {
  /** One for each row; NaN where nothing was measured. Of a clock: s since midnight. */
  readonly values: Float64Array
  /** cells with something in them that could not be read */
  readonly unread: number
}

export interface Table {
  readonly format: Format
  readonly columns: readonly Column[]
  readonly rows: number
  /** lines passed over because their number of cells is not that of the others */
  readonly passedOver: number
}

export type Tabled = { readonly ok: true; readonly table: Table } | { readonly ok: false; readonly say: string }

export const limits = {
  rows: 2_000_000,
  columns: 100,
  /** numbers, 160 MB */
  values: 20_000_000,
  /** characters of one line */
  line: 20_000,
}

/** Lines that the writing is found from. */
const head = 200

/** Too much, or nothing of the sort: said to people. */
class Refusal extends Error {}

export class TableReader {
  #rest = ''
  #first: string[] = []
  #format: Format | undefined
  #columns: Growing[] = []
  #rows = 0
  #passedOver = 0
  #refusal: string | undefined

  constructor(private readonly said: Said = {}) {}

  /** Takes in a piece of the file; false once nothing more is wanted. */
  feed(text: string): boolean {
    if (this.#refusal !== undefined) return false
    try {
      const lines = (this.#rest + text).split(/\r\n|\n|\r(?!$)/)
      this.#rest = lines.pop() ?? ''
      if (this.#rest.length > limits.line) throw new Refusal('It has lines without end: it does not look like a table.')
      for (const line of lines) this.#line(line)
    } catch (error) {
      if (!(error instanceof Refusal)) throw error
      this.#refusal = error.message
    }
    return this.#refusal === undefined
  }

  end(): Tabled {
    this.feed('\n')
    try {
      if (this.#refusal === undefined && !this.#format) this.#begin()
    } catch (error) {
      if (!(error instanceof Refusal)) throw error
      this.#refusal = error.message
    }
    const format = this.#format
    if (this.#refusal !== undefined || !format)
      return { ok: false, say: this.#refusal ?? 'It holds no rows of values.' }
    const columns = this.#columns.map((column) => column.finished(this.#rows))
    return { ok: true, table: { format, columns, rows: this.#rows, passedOver: this.#passedOver } }
  }

  get rows(): number {
    return this.#rows
  }

  #line(line: string): void {
    if (line.length > limits.line) throw new Refusal('It has lines without end: it does not look like a table.')
    if (this.#format) {
      this.#row(line)
      return
    }
    this.#first.push(line)
    if (this.#first.length >= head) this.#begin()
  }

  #begin(): void {
    const format = formatOf(this.#first, this.said)
    if (!format) throw new Refusal('It holds no rows of values: expected a table with a line for each instant.')
    const width = format.columns.length
    if (width > limits.columns) {
      throw new Refusal(`It has ${width} columns, at most ${limits.columns} are read. Export fewer channels.`)
    }
    this.#format = format
    this.#columns = format.columns.map((column) => new Growing(column, format))
    for (const line of this.#first.slice(format.skip)) this.#row(line)
    this.#first = []
  }

  #row(line: string): void {
    const format = this.#format
    if (!format || line.trim() === '') return
    const cells = cellsOf(line, format.delimiter)
    // Some machines end each line with a delimiter.
    if (cells.length < format.columns.length || cells.length > format.columns.length + 1) {
      this.#passedOver++
      return
    }
    if (this.#rows >= limits.rows) throw new Refusal(tooLong(`${limits.rows / 1e6} million rows`))
    if (this.#rows * cells.length >= limits.values) throw new Refusal(tooLong(`${limits.values / 1e6} million values`))
    for (let c = 0; c < this.#columns.length; c++) this.#columns[c]?.add(cells[c] ?? '', this.#rows)
    this.#rows++
  }
}

const tooLong = (most: string) =>
  `It holds more than ${most}, which is more than is read. Export a shorter stretch, fewer channels, or fewer samples a second.`

/** A column that doubles its room when it is full. */
class Growing {
  #values = new Float64Array(1024)
  #unread = 0

  constructor(
    private readonly column: ColumnHead,
    private readonly format: Format,
  ) {}

  add(cell: string, row: number): void {
    const { type } = this.column
    if (type === 'text') return
    if (row >= this.#values.length) {
      const larger = new Float64Array(this.#values.length * 2)
      larger.set(this.#values)
      this.#values = larger
    }
    const value = type === 'clock' ? clockIn(cell) : numberIn(cell, this.format.decimal)
    if (Number.isNaN(value) && !isBlank(cell)) this.#unread++
    this.#values[row] = value
  }

  finished(rows: number): Column {
    const values = this.column.type === 'text' ? new Float64Array(0) : this.#values.slice(0, rows)
    return { ...this.column, values, unread: this.#unread }
  }
}
