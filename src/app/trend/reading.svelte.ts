/** A file on its way to being laid over: read a little at a time, then asked what its columns are. */
import type { Channel } from '../../run/record'
import { readFile } from './file'
import type { Said } from './format'
import { guessChannel, recordingOf, type Assignment } from './recording'
import type { Recording } from './laid'
import type { Table } from './table'
import { guessTime, tellsUnit, timesOf, type TimeBase, type TimeUnit } from './times'

/** A column that is to be laid over a channel; unit and channel are empty until they are told. */
export interface Row {
  readonly column: number
  readonly channel: string
  readonly unit: string
}

/** What is said of the time; empty parts have to be asked. */
export interface Time {
  readonly column: number | 'step' | ''
  readonly unit: TimeUnit | ''
  /** s */
  readonly step: number
}

export type Stage = 'waits' | 'reads' | 'refused' | 'asks'

export class TrendReading {
  stage = $state.raw<Stage>('waits')
  name = $state.raw('')
  /** Share of the file read, and rows so far. */
  share = $state.raw(0)
  rows = $state.raw(0)
  refusal = $state.raw('')
  table = $state.raw<Table | null>(null)
  said = $state.raw<Said>({})
  time = $state.raw<Time>({ column: '', unit: '', step: 0.1 })
  lanes = $state.raw<readonly Row[]>([])
  #file: File | null = null
  #number = 0

  /** @param channels of the run in hand */
  constructor(private readonly channels: () => readonly Channel[]) {}

  /** @param said of the writing, where it was not found rightly */
  async read(file: File, said: Said = {}): Promise<void> {
    const number = ++this.#number
    this.#file = file
    this.name = file.name
    this.said = said
    this.stage = 'reads'
    this.share = this.rows = 0
    const progress = (share: number, rows: number) => {
      if (number !== this.#number) return false
      this.share = share
      this.rows = rows
      return true
    }
    const tabled = await readFile(file, { progress }, said).catch(() => unreadable)
    if (number !== this.#number || !tabled) return
    if (tabled.ok) this.#ask(tabled.table)
    else {
      this.refusal = tabled.say
      this.stage = 'refused'
    }
  }

  /** Reads the same file again in another writing. */
  again(said: Said): void {
    if (this.#file) void this.read(this.#file, { ...this.said, ...said })
  }

  stop(): void {
    this.#number++
    this.stage = 'waits'
    this.table = null
    this.#file = null
  }

  set(at: number, change: Partial<Row>): void {
    this.lanes = this.lanes.map((row, k) => (k === at ? { ...row, ...change } : row))
  }

  add(): void {
    const taken = new Set(this.lanes.map(({ column }) => column))
    const free = this.usable.find((column) => !taken.has(column)) ?? this.usable[0]
    if (free !== undefined) this.lanes = [...this.lanes, { column: free, channel: '', unit: '' }]
  }

  drop(at: number): void {
    this.lanes = this.lanes.filter((_, k) => k !== at)
  }

  /** Columns of numbers that do not tell the time. */
  get usable(): number[] {
    const columns = this.table?.columns ?? []
    return columns.flatMap(({ type }, k) => (type === 'number' && k !== this.time.column ? [k] : []))
  }

  get base(): TimeBase | undefined {
    const { column, unit, step } = this.time
    if (column === 'step') return step > 0 && Number.isFinite(step) ? { by: 'step', step } : undefined
    return column === '' || unit === '' ? undefined : { by: 'column', column, unit }
  }

  /** What has still to be told, in words; empty where it can be laid over. */
  get missing(): string {
    if (this.time.column === '') return 'Say which column tells the time.'
    if (!this.base) return this.time.column === 'step' ? 'Say how long a step is.' : 'Say which unit the time is in.'
    const rows = this.lanes.filter(({ column }) => column !== this.time.column)
    if (rows.length === 0) return 'Say which column belongs to what: add one at least.'
    if (rows.some(({ channel }) => channel === '')) return 'Say what each column belongs to, or take it out.'
    if (rows.some(({ unit }) => unit === '')) return 'Say which unit each column is in.'
    return new Set(rows.map(({ channel }) => channel)).size < rows.length ? 'Two columns belong to the same thing.' : ''
  }

  /** Rows whose time is not told or goes back. */
  get lost(): number {
    return this.table && this.base ? timesOf(this.table, this.base).lost : 0
  }

  /** What is to be laid over, as soon as all is told. */
  made(): Recording | undefined {
    const { table, base } = this
    if (!table || !base || this.missing !== '') return undefined
    const channels = new Map(this.channels().map((channel) => [channel.key, channel]))
    const assignments = this.lanes.flatMap(({ column, channel, unit }): Assignment[] => {
      const found = channels.get(channel)
      return found ? [{ column, channel: found, unit }] : []
    })
    return recordingOf(this.name, table, base, assignments)
  }

  #ask(table: Table): void {
    this.table = table
    const guess = guessTime(table)
    const column = guess?.by === 'column' ? guess.column : ''
    const head = column === '' ? undefined : table.columns[column]
    const unit = guess?.by === 'column' && head && tellsUnit(head) ? guess.unit : ''
    this.time = { column, unit, step: 0.1 }
    this.lanes = this.usable.flatMap((at): Row[] => {
      const head = table.columns[at]
      const channel = head && guessChannel(head.title, head.unit, this.channels())
      return channel ? [{ column: at, channel: channel.key, unit: head.unit }] : []
    })
    if (this.lanes.length === 0) this.add()
    this.stage = 'asks'
  }
}

const unreadable = { ok: false, say: 'The file could not be read. Is it still there?' } as const
