/** What came of each value that was asked about: the figure of its run, and the limit which that run is held to. */
import type { JobResult } from '../../../workers/client'
import { keeps, type FigureLimit, type Sample } from '../../tune/holding'
import type { CaseResult } from '../../tune/sweep'

export interface Row extends Sample {
  readonly figure: number | null
  /** SI; null where the verdict knows none */
  readonly limit: number | null
  /** why there is no figure; empty where there is, or where it is not yet known */
  readonly why: string
}

export type Came = JobResult<CaseResult> | undefined

/** @param stated limit for all values; left out, each is held to that of its own run */
export function rowOf(x: number, came: Came, key: string | undefined, stated: FigureLimit | undefined): Row {
  const without = (why: string): Row => ({ x, figure: null, limit: null, kept: null, why })
  if (!came) return without('')
  if (!came.ok) return without(`cannot be run: ${came.say}`)
  if (came.value.outcome !== 'finished') return without(`cannot be run: ${came.value.say}`)
  const found = came.value.figures.find((figure) => figure.key === key)
  if (!found || found.value === null) return without('this run has no such figure')
  const limit = stated ?? found.limit
  const kept = limit ? keeps(found.value, limit) : null
  return { x, figure: found.value, limit: limit?.limit ?? null, kept, why: '' }
}

/** Whether it is still to come. */
export const isOpen = ({ figure, why }: Row): boolean => figure === null && why === ''

/** The least and the greatest of the limits of the runs; undefined where all have the same. */
export function limitsOf(rows: readonly Row[]): readonly [number, number] | undefined {
  const limits = rows.flatMap(({ limit }) => limit ?? [])
  const [least, greatest] = [Math.min(...limits), Math.max(...limits)]
  return greatest - least > 1e-6 * Math.abs(greatest) ? [least, greatest] : undefined
}
