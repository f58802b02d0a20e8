/** Whether the controls of a line measure and drive what they can. */
import type { ControlSpec } from '../line/control'
import { formatQuantity } from '../units'
import { meant, namesOf, namesWanted } from './check-line'
import type { Report } from './report'
import type { Scenario } from './schema'

type Place = (string | number)[]

export function checkControl(scenario: Scenario, report: Report): void {
  const taken = new Map<string, number>()
  scenario.control.forEach((control, at) => {
    const place = ['control', at]
    checkMeasures(control, scenario, place, report)
    if (control.control === 'force taper') checkTaperedDancer(control.drives, scenario, place, report)
    else checkDriven(control, scenario, place, report)
    if (control.control !== 'position trim') checkTaper(control, coreOf(control, scenario), place, report)
    if (control.control !== 'force taper' && control.program) checkProgram(control, scenario, place, report)
    const other = taken.get(control.drives)
    if (other !== undefined) {
      report.say([...place, 'drives'], 'a part that no other control drives', `control/${other} drives it too`)
    }
    taken.set(control.drives, at)
  })
}

function checkProgram(
  control: Exclude<ControlSpec, { control: 'force taper' }>,
  { line, run }: Scenario,
  place: Place,
  report: Report,
): void {
  const { program } = control
  if (program === undefined) return
  const ticks = program.sample / run.tick
  const tick = formatQuantity(run.tick, 'ms')
  if (ticks < 0.999 || Math.abs(ticks - Math.round(ticks)) > 1e-6) {
    report.say([...place, 'program', 'sample'], `a whole multiple of the recording interval, ${tick}`)
  }
  program.schedule?.forEach(([diameter], k) => {
    const before = program.schedule?.[k - 1]
    if (before === undefined || diameter > before[0]) return
    const least = formatQuantity(before[0], 'mm')
    report.say([...place, 'program', 'schedule', k, 0], `a diameter above the one before it, ${least}`)
  })
  const rolls = namesOf(line, 'unwind', 'rewind')
  if (program.schedule === undefined || rolls.includes(control.drives)) return
  report.say([...place, 'program', 'schedule'], 'no schedule on diameter, since what it drives is no roll')
}

function checkMeasures(control: ControlSpec, { line }: Scenario, place: Place, report: Report): void {
  const measured = { 'position trim': 'dancer', 'tension trim': 'idler', 'force taper': 'rewind' } as const
  const what = measured[control.control]
  const names = what === 'rewind' ? namesOf(line, 'rewind', 'unwind') : namesOf(line, what)
  if (names.includes(control.measures)) return
  const wanted = what === 'rewind' ? 'roll' : what
  report.say([...place, 'measures'], namesWanted(wanted, names), meant(control.measures, names))
}

function checkTaperedDancer(name: string, { line }: Scenario, place: Place, report: Report): void {
  const dancers = namesOf(line, 'dancer')
  if (!dancers.includes(name)) report.say([...place, 'drives'], namesWanted('dancer', dancers), meant(name, dancers))
}

function checkDriven(
  control: Exclude<ControlSpec, { control: 'force taper' }>,
  { line }: Scenario,
  place: Place,
  report: Report,
): void {
  const drivable = namesOf(line, 'unwind', 'driven', 'rewind')
  const part = line.find((one) => one.part !== 'span' && one.name === control.drives)
  const drive = part && 'drive' in part ? part.drive.kind : undefined
  const field = [...place, 'drives']
  if (drive === undefined) {
    report.say(field, namesWanted('driven part', drivable), meant(control.drives, drivable))
  } else if (control.control === 'tension trim' && control.kind === 'torque') {
    if (drive !== 'torque')
      report.say(field, 'a winder whose drive is of kind "torque"', `its drive is of kind "${drive}"`)
  } else if (drive === 'brake' || drive === 'torque') {
    const hint = `its drive is of kind "${drive}": give it "ideal", "lag" or "servo"`
    report.say(field, 'a part whose drive follows speed', hint)
  }
}

interface TaperFields {
  readonly law: string
  readonly fullDiameter: number
  readonly table?: readonly (readonly [number, number])[] | undefined
}

/** The core of the roll whose diameter a control counts, m. */
function coreOf(control: ControlSpec, { line }: Scenario): number {
  const roll = line.find((one) => one.part !== 'span' && one.name === control.measures)
  const end = roll?.part === 'unwind' || roll?.part === 'rewind' ? roll : line.at(-1)
  return end?.part === 'unwind' || end?.part === 'rewind' ? end.core : 0
}

/** A taper's own fields against each other. `core` is a diameter, m. */
export function checkTaper(taper: TaperFields, core: number, place: Place, report: Report): void {
  const uses = taper.law === 'linear' || taper.law === 'hyperbolic' || taper.law === 'blend' || taper.law === 'power'
  if (uses && taper.fullDiameter <= core) {
    const expected = `a full roll larger than its core, ${formatQuantity(core, 'mm')}`
    report.say([...place, 'fullDiameter'], expected, undefined, formatQuantity(taper.fullDiameter, 'mm'))
  }
  if (taper.law !== 'table') return
  if (taper.table === undefined) {
    report.tell(
      [...place, 'table'],
      'nothing',
      'a table of diameters and shares of the tension, since the law is "table"',
    )
    return
  }
  taper.table.forEach(([diameter], k) => {
    const before = taper.table?.[k - 1]
    if (before === undefined || diameter > before[0]) return
    const least = formatQuantity(before[0], 'mm')
    report.say([...place, 'table', k, 0], `a diameter above the one before it, ${least}`, 'list the table in order')
  })
}
