/** What is drawn of a run's channels: as recorded, or a tension in another measure. */
import type { Measure } from '../shown'
import type { Trace } from '../state/trace'
import { gaugeOf, type Recorded } from './gauge'
import type { Panel } from './panels'
import type { Signal } from './picture'

export type Columns = (trace: Trace, index: number) => Recorded & { readonly run: object }

export function columnsOf({ group }: Panel, measure: Measure): Columns {
  if (group !== 'tension' || measure === 'force') {
    return (trace, index) => ({
      run: trace,
      values: trace.values(index),
      extreme: trace.extremes[index],
      lifts: trace.lifts,
    })
  }
  return (trace, index) => {
    const gauge = gaugeOf(trace, measure)
    return { run: gauge, ...gauge.column(index) }
  }
}

export type SignalOf = (trace: Trace, index: number) => Signal

/** Signals in shown units. */
export function signalsOf(column: Columns, factor: number): SignalOf {
  return (trace, index) => {
    const { run, values, lifts } = column(trace, index)
    return { run, index, factor, time: trace.time, values, lifts }
  }
}
