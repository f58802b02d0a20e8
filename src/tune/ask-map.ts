/** A stability map, row by row, as a job of the pool. */
import { scenarioOf } from './ask'
import { mapper, type MapQuestion } from './map'
import type { Trouble } from './setup'

export interface MapCommon {
  readonly document: unknown
  readonly question: MapQuestion
}

/** One row: a value of the upright side, and the values across. SI. */
export interface MapRow {
  readonly up: number
  readonly across: readonly number[]
}

export interface MapRowAnswer {
  readonly ok: true
  /** the figure of each cell; NaN where there is none */
  readonly values: number[]
  /** why a cell has none: the first such */
  readonly say: string | undefined
}

export function askMap({ document, question }: MapCommon): (row: MapRow) => Generator<number, MapRowAnswer | Trouble> {
  const reading = scenarioOf(document)
  const cells = reading.ok ? mapper(reading.scenario, question) : reading
  return function* ({ up, across }) {
    if (!cells.ok) return cells
    const values: number[] = []
    let say: string | undefined
    for (const value of across) {
      const cell = cells.cell(value, up)
      values.push(cell.value)
      say ??= cell.say
      yield values.length / across.length
    }
    return { ok: true, values, say }
  }
}
