/** Whether the staged events can follow each other, and find the line as they need it. */
import { isSplice, type SpliceEvent, type StageEvent } from '../line/stage'
import { formatQuantity } from '../units'
import { checkCourse } from './check-course'
import { checkFilm, checkRoll, meant, namesOf, namesWanted } from './check-line'
import type { Report } from './report'
import type { Scenario } from './schema'

export function checkStage(scenario: Scenario, report: Report): void {
  const { stage, run } = scenario
  const end = formatQuantity(run.for, 's')
  stage.forEach((event, at) => {
    if (event.at >= run.for) report.say(['stage', at, 'at'], `a time before the end of the run, ${end}`)
    const before = stage[at - 1]
    if (before && event.at < before.at) {
      const time = formatQuantity(before.at, 's')
      report.say(
        ['stage', at, 'at'],
        `a time no earlier than that of the event before it, ${time}`,
        'list events in time order',
      )
    }
    if (isSplice(event)) checkSplice(event, at, scenario, report)
    else checkSetting(event, at, scenario, report)
  })
  if (report.problems.length === 0) checkCourse(scenario, report)
}

function checkSplice(event: SpliceEvent, at: number, scenario: Scenario, report: Report): void {
  checkFilm(event.film, scenario, ['stage', at, 'film'], report)
  checkRoll(event.roll, ['stage', at, 'roll'], report)
  checkPreset(event.roll.preset, scenario.line[0], at, report)
  const [unwind, span] = scenario.line
  if (span?.part === 'span' && span.length + event.roll.spanChange <= 0) {
    const length = formatQuantity(span.length, 'mm')
    report.say(['stage', at, 'roll', 'spanChange'], `a change that leaves something of the first span, ${length} long`)
  }
  const drive = unwind?.part === 'unwind' ? unwind.drive.kind : undefined
  if (event.do === 'zero-speed splice' && (drive === 'brake' || drive === 'torque')) {
    const why = drive === 'brake' ? 'a brake cannot' : 'a torque drive follows tension, it does not'
    const hint = `${why} stop and start the roll on command: use a flying splice, or another drive`
    report.say(['stage', at, 'do'], 'an unwind whose drive follows speed for a zero-speed splice', hint)
  }
}

/** Events that change one part: does it exist, and can it change so? */
function checkSetting(event: StageEvent, at: number, scenario: Scenario, report: Report): void {
  const { line, control } = scenario
  const wants = (field: string, name: string, what: string, names: string[]) => {
    if (!names.includes(name)) report.say(['stage', at, field], namesWanted(what, names), meant(name, names))
  }
  if (event.do === 'changeover') {
    const indexing = line.flatMap((p) => (p.part === 'driven' && p.index !== undefined ? [p.name] : []))
    if (!indexing.includes(event.roller)) {
      const hint = meant(event.roller, indexing) ?? 'a driven roller with an "index" feed can change over'
      report.say(['stage', at, 'roller'], namesWanted('indexing roller', indexing), hint)
    }
  }
  if (event.do === 'draw') {
    const winders = line.flatMap((p) => (p.part === 'rewind' && p.drive.kind !== 'torque' ? [p.name] : []))
    wants('roller', event.roller, 'driven roller', [...namesOf(line, 'driven'), ...winders])
  }
  if (event.do === 'dancer force' || event.do === 'set point' || event.do === 'dancer pressure') {
    wants('dancer', event.dancer, 'dancer', namesOf(line, 'dancer'))
    checkNewSetPoint(event, at, scenario, report)
    checkNewForce(event, at, scenario, report)
    checkPush(event, at, scenario, report)
  }
  if (event.do === 'free strain') checkFilm(event.film, scenario, ['stage', at, 'film'], report)
  if (event.do === 'winding tension') {
    const winders = line.flatMap((p) => ('drive' in p && p.drive.kind === 'torque' ? [p.name] : []))
    const tapered = control.flatMap((c) =>
      c.control === 'tension trim' || c.control === 'force taper' ? [c.drives] : [],
    )
    wants('roller', event.roller, 'tapered part', [...new Set([...winders, ...tapered])])
  }
  if (event.do === 'rewind change') {
    if (event.roll.diameter < event.roll.core) {
      const core = formatQuantity(event.roll.core, 'mm')
      report.say(['stage', at, 'roll', 'diameter'], `a roll no smaller than its core, which is ${core}`)
    }
    checkPreset(event.roll.preset, line.at(-1), at, report)
  }
}

/** A force can be led where one is stated, a pressure where there is a cylinder. */
function checkPush(event: StageEvent, at: number, { line }: Scenario, report: Report): void {
  if (event.do !== 'dancer force' && event.do !== 'dancer pressure') return
  const dancer = line.find((p) => p.part === 'dancer' && p.name === event.dancer)
  if (dancer?.part !== 'dancer' || (dancer.cylinder !== undefined) === (event.do === 'dancer pressure')) return
  const wanted =
    dancer.cylinder === undefined
      ? '"dancer force", since it has no cylinder'
      : '"dancer pressure", since it has a cylinder'
  report.say(['stage', at, 'do'], wanted)
}

function checkNewSetPoint(event: StageEvent, at: number, { line, control }: Scenario, report: Report): void {
  if (event.do !== 'set point') return
  const trimmed = control.flatMap((c) => (c.control === 'position trim' ? [c.measures] : []))
  if (namesOf(line, 'dancer').includes(event.dancer) && !trimmed.includes(event.dancer)) {
    const hint = `no trim keeps ${event.dancer} at its set point, so moving that would do nothing`
    report.say(['stage', at, 'dancer'], namesWanted('dancer with a position trim', trimmed), hint)
  }
  const dancer = line.find((p) => p.part === 'dancer' && p.name === event.dancer)
  if (dancer?.part !== 'dancer' || (event.to >= dancer.lowerStop && event.to <= dancer.upperStop)) return
  const stops = `${formatQuantity(dancer.lowerStop, 'mm')} to ${formatQuantity(dancer.upperStop, 'mm')}`
  report.say(['stage', at, 'to'], `a position between the stops of ${event.dancer}, ${stops}`)
}

/** A taper that sets the force would undo it at once. */
function checkNewForce(event: StageEvent, at: number, { control }: Scenario, report: Report): void {
  if (event.do !== 'dancer force') return
  if (!control.some((c) => c.control === 'force taper' && c.drives === event.dancer)) return
  const hint = `a "force taper" sets that of ${event.dancer}: use "winding tension"`
  report.say(['stage', at, 'dancer'], 'a dancer whose force is its own', hint)
}

function checkPreset(
  preset: number | undefined,
  part: Scenario['line'][number] | undefined,
  at: number,
  report: Report,
): void {
  if (preset === undefined || (part?.part !== 'unwind' && part?.part !== 'rewind') || part.calculator !== undefined)
    return
  const hint = 'without one the drive knows the true diameter: give it a "calculator", or leave the preset out'
  report.say(['stage', at, 'roll', 'preset'], 'a preset only where the drive finds its diameter itself', hint)
}
