/** What the schema cannot see: whether the fields of a scenario go together. Each problem names the field to change. */
import { formatQuantity, type Problem } from '../units'
import { checkControl } from './check-control'
import { checkLine } from './check-line'
import { checkStage } from './check-stage'
import { MOST_TICKS } from './limits'
import { Report } from './report'
import type { Scenario } from './schema'

/** `document` is what the scenario was read from: problems show what is written there. */
export function check(scenario: Scenario, document: unknown): Problem[] {
  const reports = [checkLine, checkControl, checkStage, checkRun].map((look) => {
    const report = new Report(document)
    look(scenario, report)
    return report
  })
  return reports.flatMap(({ problems }) => problems)
}

function checkRun({ run }: Scenario, report: Report): void {
  if (run.for / run.tick <= MOST_TICKS) return
  const shortest = formatQuantity(run.for / MOST_TICKS, 'ms', 4)
  const expected = `at least ${shortest} for a run of this length`
  const hint = `a run has at most ${MOST_TICKS} ticks: take a longer tick or a shorter run`
  report.say(['run', 'tick'], expected, hint, formatQuantity(run.tick, 'ms', 4))
}
