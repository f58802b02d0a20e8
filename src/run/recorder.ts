/** Keeps samples and happenings until they are fetched as a block of one whole buffer. */
import type { Source } from './channels'
import type { Block, Happening } from './record'

export class Recorder {
  readonly happenings: Happening[] = []
  private readonly sources: readonly Source[]
  private columns: number[][]
  private lifts: number[] = []
  private told = 0
  private from = 0

  constructor(sources: readonly Source[]) {
    this.sources = sources
    this.columns = this.emptyColumns()
  }

  private emptyColumns(): number[][] {
    return Array.from({ length: this.sources.length + 1 }, () => [])
  }

  /** Samples every channel at t (s). The line has been evaluated at (t, y). `lift`: the states jumped since the last sample. */
  sample(t: number, y: readonly number[], lift = false): void {
    const { columns, sources } = this
    if (lift) this.lifts.push(this.from + columns[0].length)
    columns[0].push(t)
    for (let k = 0; k < sources.length; k++) columns[k + 1].push(sources[k].read(y))
  }

  tell(happening: Happening): void {
    this.happenings.push(happening)
  }

  /** What came since the last call; undefined when nothing did. */
  takeBlock(): Block | undefined {
    const count = this.columns[0].length
    if (count === 0) return undefined
    const data = new Float64Array(count * this.columns.length)
    this.columns.forEach((column, c) => data.set(column, c * count))
    const block = { from: this.from, count, data, lifts: this.lifts, happenings: this.happenings.slice(this.told) }
    this.told = this.happenings.length
    this.from += count
    this.columns = this.emptyColumns()
    this.lifts = []
    return block
  }
}
