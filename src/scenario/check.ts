/** What the schema cannot see: whether the fields of a scenario go together. Each problem names the field to change. */
import { formatQuantity, type Problem } from '../units'
import { checkLine, meant, namesOf, namesWanted } from './check-line'
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

function checkControl({ control, line }: Scenario, report: Report): void {
  const dancers = namesOf(line, 'dancer')
  const drivable = namesOf(line, 'unwind', 'driven', 'rewind')
  const trimmed = new Map<string, number>()
  control.forEach((trim, at) => {
    if (!dancers.includes(trim.measures)) {
      report.say(['control', at, 'measures'], namesWanted('dancer', dancers), meant(trim.measures, dancers))
    }
    const place = ['control', at, 'drives']
    const part = line.find((one) => one.part !== 'span' && one.name === trim.drives)
    const drive = part && 'drive' in part ? part.drive.kind : undefined
    const other = trimmed.get(trim.drives)
    if (drive === undefined) {
      report.say(place, namesWanted('driven part', drivable), meant(trim.drives, drivable))
    } else if (drive === 'brake' || drive === 'torque') {
      const hint = `its drive is of kind "${drive}": give it "ideal", "lag" or "servo"`
      report.say(place, 'a part whose drive follows speed', hint)
    } else if (other !== undefined) {
      report.say(place, 'a part that no other trim drives', `control/${other} drives it too`)
    }
    trimmed.set(trim.drives, at)
  })
}

function checkRun({ run }: Scenario, report: Report): void {
  if (run.for / run.tick <= MOST_TICKS) return
  const shortest = formatQuantity(run.for / MOST_TICKS, 'ms', 4)
  const expected = `at least ${shortest} for a run of this length`
  const hint = `a run has at most ${MOST_TICKS} ticks: take a longer tick or a shorter run`
  report.say(['run', 'tick'], expected, hint, formatQuantity(run.tick, 'ms', 4))
}
