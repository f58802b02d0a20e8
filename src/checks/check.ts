/** One check of the simulator against a figure from outside it, and the one runner for tests, page and command line. */

export type CheckKind =
  'published' | 'published equation, own digits' | 'own derivation' | 'common practice, no source' | 'from memory'

export interface CheckRow {
  readonly what: string
  readonly expected: number
  readonly unit: string
  /** absolute, in the unit */
  readonly tolerance: number
}

export interface Check {
  readonly id: string
  readonly title: string
  readonly kind: CheckKind
  readonly source: string
  readonly inputs: string
  readonly rows: readonly CheckRow[]
  /** one number for each row, in its unit */
  readonly compute: () => readonly number[]
}

export interface RowResult extends CheckRow {
  /** NaN where nothing was computed */
  readonly computed: number
  readonly pass: boolean
}

export interface CheckResult {
  readonly check: Check
  readonly pass: boolean
  readonly rows: readonly RowResult[]
  /** why it could not be computed */
  readonly problem?: string
}

/** Never throws: a check that cannot be computed has failed. */
export function runCheck(check: Check): CheckResult {
  let computed: readonly number[] = []
  let problem: string | undefined
  try {
    computed = check.compute()
    if (computed.length !== check.rows.length) {
      problem = `computed ${computed.length} figures for ${check.rows.length} rows`
    } else if (computed.length === 0) problem = 'there is nothing to compare'
  } catch (error) {
    problem = error instanceof Error ? error.message : String(error)
  }
  const rows = check.rows.map((row, index) => compare(row, computed[index] ?? Number.NaN))
  const pass = problem === undefined && rows.every((row) => row.pass)
  return { check, pass, rows, ...(problem === undefined ? {} : { problem }) }
}

function compare(row: CheckRow, computed: number): RowResult {
  return { ...row, computed, pass: Math.abs(computed - row.expected) <= row.tolerance }
}
