/** Checks as plain data, which can be sent from worker to page: what each is about, and what became of it. */
import { checks, runCheck, type Check, type CheckResult } from './index'

export type CheckText = Pick<Check, 'id' | 'title' | 'kind' | 'source' | 'inputs'>

export type CheckTold = Pick<Check, 'id'> & Omit<CheckResult, 'check'>

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
    return problem === undefined ? { id, pass, rows } : { id, pass, rows, problem }
  }
