/** Whether the staged events can follow each other, and find the line as they need it. */
import { rampDuration, spliceTimes, type SpliceEvent, type StageEvent } from '../line/stage'
import { Profile } from '../line/profile'
import { formatQuantity } from '../units'
import { checkFilm, checkRoll } from './check-line'
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
  })
  if (report.problems.length === 0) checkCourse(scenario, report)
}

const isSplice = (event: StageEvent): event is SpliceEvent =>
  event.do === 'zero-speed splice' || event.do === 'flying splice'

function checkSplice(event: SpliceEvent, at: number, scenario: Scenario, report: Report): void {
  checkFilm(event.film, scenario, ['stage', at, 'film'], report)
  checkRoll(event.roll, ['stage', at, 'roll'], report)
  const [unwind, span] = scenario.line
  if (span?.part === 'span' && span.length + event.roll.spanChange <= 0) {
    const length = formatQuantity(span.length, 'mm')
    report.say(['stage', at, 'roll', 'spanChange'], `a change that leaves something of the first span, ${length} long`)
  }
  if (event.do === 'zero-speed splice' && unwind?.part === 'unwind' && unwind.drive.kind === 'brake') {
    const hint = 'a brake cannot stop and start the roll on command: use a flying splice, or another drive'
    report.say(['stage', at, 'do'], 'an unwind whose drive follows speed for a zero-speed splice', hint)
  }
}

/** Goes through the events with the speeds that they find, up to the first that does not fit. */
function checkCourse(scenario: Scenario, report: Report): void {
  const line = new Profile(scenario.speed.start)
  const busy = { ramp: -Infinity, splice: -Infinity }
  for (const [at, event] of scenario.stage.entries()) {
    // A new roll may be pasted on the fly while line speed changes; everything else needs the line to itself.
    const until = event.do === 'flying splice' ? busy.splice : Math.max(busy.ramp, busy.splice)
    if (event.at < until) {
      const earliest = formatQuantity(until, 's')
      report.say(['stage', at, 'at'], `a time from ${earliest} on, when the event before it is over`)
    } else checkSpeedFor(event, at, line, report)
    if (report.problems.length > 0) return
    if (event.do === 'zero-speed splice') busy.splice = event.at + spliceTimes(event).end
    else if (event.do !== 'flying splice') busy.ramp = event.at + addRamp(event, line, scenario)
  }
}

/** Returns how long the ramp takes, s. */
function addRamp(event: Exclude<StageEvent, SpliceEvent>, line: Profile, { speed }: Scenario): number {
  const to = event.do === 'stop' ? 0 : event.to
  const takes = rampDuration({ in: event.in, to }, line.speedAt(event.at), speed)
  line.ramp(event.at, to, takes, event.rounding ?? speed.rounding)
  return takes
}

function checkSpeedFor(event: StageEvent, at: number, line: Profile, report: Report): void {
  const speed = line.speedAt(event.at)
  const place = ['stage', at, 'do']
  if (event.do === 'start' && speed > 0) {
    const now = formatQuantity(speed, 'm/min', 4)
    report.say(place, `a line at rest, but it runs at ${now} then`, 'to change the speed of a running line use "speed"')
  }
  if (speed > 0 || event.do === 'start') return
  if (event.do === 'stop') report.say(place, 'a running line, but it stands then', 'take the event out')
  if (event.do === 'speed') report.say(place, 'a running line, but it stands then', 'to set it going use "start"')
  if (isSplice(event))
    report.say(place, 'a running line, but it stands then', 'put the splice at a time at which it runs')
}
