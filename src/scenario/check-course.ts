/** Goes through the events in time, with the speeds and feeds that they find, up to the first that does not fit. */
import { Profile } from '../line/profile'
import { isRamp, isSplice, rampDuration, spliceTimes, type RampEvent, type StageEvent } from '../line/stage'
import { formatQuantity } from '../units'
import type { Report } from './report'
import type { Scenario } from './schema'

/** What the events so far have left behind. Times in s. */
interface Course {
  readonly line: Profile
  rampEnds: number
  spliceEnds: number
  /** when each roller has changed over, and to what */
  readonly feeds: Map<string, { until: number; indexing: boolean }>
  /** when each setting that is being led arrives */
  readonly settings: Map<string, number>
}

export function checkCourse(scenario: Scenario, report: Report): void {
  const course: Course = {
    line: new Profile(scenario.speed.start),
    rampEnds: -Infinity,
    spliceEnds: -Infinity,
    feeds: new Map(),
    settings: new Map(),
  }
  for (const [at, event] of scenario.stage.entries()) {
    const free = freeFrom(event, course)
    if (event.at < free) {
      const earliest = formatQuantity(free, 's')
      report.say(['stage', at, 'at'], `a time from ${earliest} on, when the event before it is over`)
    } else checkFound(event, at, course, scenario, report)
    if (report.problems.length > 0) return
    follow(event, course, scenario)
  }
}

/** From when on an event may begin: most need the line to themselves, a new roll may be pasted on the fly during a ramp. */
function freeFrom(event: StageEvent, course: Course): number {
  if (isRamp(event) || event.do === 'zero-speed splice') {
    const feeds = [...course.feeds.values()].map((f) => f.until)
    return Math.max(course.rampEnds, course.spliceEnds, ...feeds)
  }
  if (event.do === 'flying splice') return course.spliceEnds
  if (event.do === 'changeover') return Math.max(course.rampEnds, course.feeds.get(event.roller)?.until ?? -Infinity)
  return course.settings.get(settingOf(event)) ?? -Infinity
}

function settingOf(event: StageEvent): string {
  const part = 'dancer' in event ? event.dancer : 'roller' in event ? event.roller : 'film' in event ? event.film : ''
  return `${event.do} of ${part}`
}

function checkFound(event: StageEvent, at: number, course: Course, scenario: Scenario, report: Report): void {
  if (event.do === 'changeover') checkChangeover(event, at, course, scenario, report)
  else checkSpeedFor(event, at, course, report)
}

function checkChangeover(
  event: Extract<StageEvent, { do: 'changeover' }>,
  at: number,
  course: Course,
  scenario: Scenario,
  report: Report,
): void {
  const indexing = course.feeds.get(event.roller)?.indexing ?? false
  if (indexing === (event.to === 'indexing')) {
    report.say(['stage', at, 'to'], `the other feed: ${event.roller} feeds so already`)
    return
  }
  const speed = course.line.speedAt(event.at)
  if (speed === 0) {
    report.say(['stage', at, 'do'], 'a running line, but it stands then', 'change over while it runs')
    return
  }
  const part = scenario.line.find((p) => p.part === 'driven' && p.name === event.roller)
  if (event.to !== 'indexing' || part?.part !== 'driven' || part.index === undefined) return
  const cycle = part.index.pitch / speed
  if (part.index.move <= cycle) return
  const [takes, has] = [formatQuantity(part.index.move, 's', 3), formatQuantity(cycle, 's', 3)]
  const hint = 'lower the line speed, shorten the move, or lengthen the pitch'
  report.say(['stage', at, 'do'], `a cycle of at least the move, ${takes}, but at this line speed it is ${has}`, hint)
}

function checkSpeedFor(event: StageEvent, at: number, course: Course, report: Report): void {
  const speed = course.line.speedAt(event.at)
  const place = ['stage', at, 'do']
  const indexing = [...course.feeds].find(([, feed]) => feed.indexing)
  if (isRamp(event) && indexing !== undefined) {
    const hint = `${indexing[0]} indexes then: change it over to continuous first`
    report.say(place, 'a line that feeds continuously while its speed changes', hint)
    return
  }
  if (event.do === 'start' && speed > 0) {
    const now = formatQuantity(speed, 'm/min', 4)
    report.say(place, `a line at rest, but it runs at ${now} then`, 'to change the speed of a running line use "speed"')
  }
  if (speed > 0 || event.do === 'start') return
  if (event.do === 'stop') report.say(place, 'a running line, but it stands then', 'take the event out')
  if (event.do === 'speed') report.say(place, 'a running line, but it stands then', 'to set it going use "start"')
  if (isSplice(event) || event.do === 'rewind change') {
    report.say(place, 'a running line, but it stands then', 'put it at a time at which the line runs')
  }
}

function follow(event: StageEvent, course: Course, scenario: Scenario): void {
  if (isRamp(event)) course.rampEnds = event.at + addRamp(event, course.line, scenario)
  else if (event.do === 'zero-speed splice') course.spliceEnds = event.at + spliceTimes(event).end
  else if (event.do === 'changeover') {
    course.feeds.set(event.roller, { until: event.at + event.in, indexing: event.to === 'indexing' })
  } else if ('in' in event) course.settings.set(settingOf(event), event.at + event.in)
}

/** Returns how long the ramp takes, s. */
function addRamp(event: RampEvent, line: Profile, { speed }: Scenario): number {
  const to = event.do === 'stop' ? 0 : event.to
  const takes = rampDuration({ in: event.in, to }, line.speedAt(event.at), speed)
  line.ramp(event.at, to, takes, event.rounding ?? speed.rounding)
  return takes
}
