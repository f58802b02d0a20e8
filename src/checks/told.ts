/** Checks as plain data, which can be sent from worker to page: what each is about, and what became of it. */
import { checks, runCheck, type Check, type CheckKind, type RowResult } from './index'

export interface CheckText {
  readonly id: string
  readonly title: string
  readonly kind: CheckKind
  readonly source: string
  readonly inputs: string
}

export interface CheckTold {
  readonly id: string
  readonly pass: boolean
  readonly rows: readonly RowResult[]
  /** why it could not be computed */
  readonly problem?: string
}

const textOf = ({ id, title, kind, source, inputs }: Check): CheckText => ({ id, title, kind, source, inputs })

/** A job: what all checks are about. */
export const listOfChecks = () => (): readonly CheckText[] => checks.map(textOf)

/** A job: the check of that id, computed now. */
export const toldCheck =
  () =>
  (id: string): CheckTold => {
    const check = checks.find((one) => one.id === id)
    if (!check) throw new Error(`There is no check "${id}".`)
    const { pass, rows, problem } = runCheck(check)
    return { id, pass, rows, ...(problem === undefined ? {} : { problem }) }
  }
