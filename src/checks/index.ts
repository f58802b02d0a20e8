/** All checks, in the order in which they are shown. A file of rows is one line here. */
import { runCheck, type Check, type CheckResult } from './check'
import { airChecks } from './rows/air'
import { drawChecks } from './rows/draw'
import { energyChecks } from './rows/energy'
import { frictionChecks } from './rows/friction'
import { heatChecks } from './rows/heat'
import { indexingChecks } from './rows/indexing'
import { loopChecks } from './rows/loops'
import { modeChecks } from './rows/modes'
import { rollChecks } from './rows/roll'
import { rollPracticeChecks } from './rows/roll-practice'
import { taperChecks } from './rows/taper'
import { tuningChecks } from './rows/tuning'
import { woundRollChecks } from './rows/wound-roll'
import { wrinkleChecks } from './rows/wrinkle'

export { runCheck, type Check, type CheckKind, type CheckResult, type CheckRow, type RowResult } from './check'

export const checks: readonly Check[] = [
  ...drawChecks,
  ...energyChecks,
  ...modeChecks,
  ...rollChecks,
  ...taperChecks,
  ...woundRollChecks,
  ...rollPracticeChecks,
  ...indexingChecks,
  ...airChecks,
  ...loopChecks,
  ...frictionChecks,
  ...heatChecks,
  ...wrinkleChecks,
  ...tuningChecks,
]

export function runChecks(): CheckResult[] {
  return checks.map(runCheck)
}
