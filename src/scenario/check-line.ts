/** Whether the parts make a line: their order, their names, and the fields of one part against each other. */
import type { PartSpec } from '../line/parts'
import { feedLength, type FeedSpec } from '../line/feed'
import { isRamp } from '../line/stage'
import { formatQuantity, listed, nearest } from '../units'
import { checkTaper } from './check-control'
import type { Report } from './report'
import type { Scenario } from './schema'

type Dancer = Extract<PartSpec, { part: 'dancer' }>
type Rewind = Extract<PartSpec, { part: 'rewind' }>

export function checkLine(scenario: Scenario, report: Report): void {
  checkNames(scenario.line, report)
  checkEnds(scenario.line, report)
  checkOrder(scenario.line, report)
  scenario.line.forEach((part, at) => {
    if (part.part === 'unwind') checkFilm(part.film, scenario, ['line', at, 'film'], report)
    if (part.part === 'unwind') checkRoll(part, ['line', at], report)
    if (part.part === 'unwind' && part.drive.kind === 'torque')
      checkTaper(part.drive, part.core, ['line', at, 'drive'], report)
    if (part.part === 'rewind') checkRewind(part, at, report)
    if (part.part === 'dancer') checkDancer(part, at, report)
    if (part.part === 'dancer') checkDancerForce(part, at, report)
    if ('drag' in part) checkBreakaway(part, at, report)
    if (part.part === 'driven' && part.index) checkFeed(part.index, scenario, ['line', at, 'index'], report)
    if (part.part === 'idler') checkRides(part.rides, scenario.line, at, report)
  })
  if (report.problems.length === 0) checkLengths(scenario.line, report)
}

export function checkFilm(film: string, scenario: Scenario, place: (string | number)[], report: Report): void {
  const known = Object.keys(scenario.films)
  if (known.includes(film)) return
  const list = known.length === 0 ? 'a film listed under "films"' : `one of the films ${listed(known)}`
  report.say(place, list, meant(film, known))
}

/** A roll that film comes off must have some. */
export function checkRoll(roll: { diameter: number; core: number }, place: (string | number)[], report: Report): void {
  if (roll.diameter > roll.core) return
  report.say([...place, 'diameter'], `a roll larger than its core, which is ${formatQuantity(roll.core, 'mm')}`)
}

function checkNames(line: readonly PartSpec[], report: Report): void {
  const first = new Map<string, number>()
  line.forEach((part, at) => {
    if (part.part === 'span') return
    const other = first.get(part.name)
    if (other === undefined) first.set(part.name, at)
    else report.say(['line', at, 'name'], 'a name that no other part has', `the part at line/${other} is called so too`)
  })
}

function checkEnds(line: readonly PartSpec[], report: Report): void {
  const last = line.length - 1
  if (line[0]?.part !== 'unwind') report.tell(['line'], startOf(line[0]), 'a line that begins with an "unwind"')
  if (line[last]?.part !== 'rewind') report.tell(['line'], startOf(line[last]), 'a line that ends with a "rewind"')
  line.forEach(({ part }, at) => {
    if (part === 'unwind' && at > 0) report.say(['line', at, 'part'], 'an unwind at the beginning of the line only')
    if (part === 'rewind' && at < last) report.say(['line', at, 'part'], 'a rewind at the end of the line only')
  })
  const rollers = line.filter(({ part }) => part === 'idler' || part === 'driven' || part === 'dancer')
  if (rollers.length > 0) return
  report.tell(['line'], 'no rollers', 'at least one roller between unwind and rewind', 'an idler will do')
}

const startOf = (part: PartSpec | undefined) => (part === undefined ? 'an empty list' : `"${part.part}" there`)

/** A roll, a roller or a bar, then one span, then the next. */
function checkOrder(line: readonly PartSpec[], report: Report): void {
  for (let at = 1; at < line.length; at++) {
    const [before, here] = [line[at - 1]?.part === 'span', line[at]?.part === 'span']
    if (before && here) {
      report.say(['line', at, 'part'], 'exactly one span between two rollers', 'put the lengths together in one span')
    } else if (!before && !here) {
      report.say(['line', at, 'part'], 'a span before it', 'between two rollers, or a roller and a bar, lies one span')
    }
  }
}

function checkRewind(rewind: Rewind, at: number, report: Report): void {
  if (rewind.diameter < rewind.core) {
    const core = formatQuantity(rewind.core, 'mm')
    report.say(['line', at, 'diameter'], `a roll no smaller than its core, which is ${core}`)
  }
  if (rewind.drive.kind === 'torque') checkTaper(rewind.drive, rewind.core, ['line', at, 'drive'], report)
  const place = ['line', at, 'drive', 'fullDiameter']
  if (rewind.drive.kind !== 'torque' || (rewind.drive.law !== 'linear' && !report.has(place))) return
  const { fullDiameter } = rewind.drive
  const size = formatQuantity(Math.max(rewind.diameter, rewind.core), 'mm')
  if (fullDiameter > rewind.core && fullDiameter < rewind.diameter) {
    const expected = `a full roll larger than the roll at the start, ${size}`
    report.say(place, expected, undefined, formatQuantity(fullDiameter, 'mm'))
  }
}

/** A move must fit into its ramps, and a table must rise in time and feed something. */
function checkFeed(feed: FeedSpec, scenario: Scenario, place: (string | number)[], report: Report): void {
  const move = formatQuantity(feed.move, 's')
  if (feed.pattern === 'trapezoid' && 2 * feed.ramp > feed.move) {
    report.say([...place, 'ramp'], `at most half of the move, ${move}`)
  }
  if (feed.pattern === 'table') {
    feed.table.forEach(([time], k) => {
      const before = feed.table[k - 1]
      if (before === undefined || time >= before[0]) return
      report.say(
        [...place, 'table', k, 0],
        `a time no earlier than the one before it, ${before[0]}`,
        'list the table in order',
      )
    })
    if (feedLength(feed) <= 0) report.tell([...place, 'table'], 'no speed anywhere', 'a table in which the film moves')
  }
  const speed = scenario.speed.start
  // where the stage changes line speed first, the changeover itself is checked
  if (scenario.stage.some(isRamp)) return
  if (speed > 0 && feed.pitch / speed < feed.move) {
    const cycle = formatQuantity(feed.pitch / speed, 's', 3)
    report.say([...place, 'move'], `a move within its cycle, which at the line's speed is ${cycle}`)
  }
}

function checkDancer(dancer: Dancer, at: number, report: Report): void {
  const { lowerStop, upperStop, setPoint, springZero, stiffness, wrap } = dancer
  const [lower, upper] = [formatQuantity(lowerStop, 'mm'), formatQuantity(upperStop, 'mm')]
  if (lowerStop >= upperStop) {
    report.say(['line', at, 'lowerStop'], `a stop below the upper one, ${upper}`)
    return
  }
  const within = `a position between the stops, ${lower} to ${upper}`
  if (setPoint < lowerStop || setPoint > upperStop) {
    report.say(['line', at, 'setPoint'], within, undefined, formatQuantity(setPoint, 'mm'))
  }
  if (stiffness > 0 && (springZero < lowerStop || springZero > upperStop)) {
    const hint = 'what a spring pushes beyond that belongs into "force"'
    report.say(['line', at, 'springZero'], within, hint, formatQuantity(springZero, 'mm'))
  }
  if (Math.sin(wrap / 2) < 1e-6) {
    report.say(
      ['line', at, 'wrap'],
      'a wrap above 0 deg and below 360 deg',
      'without it the film cannot move the dancer',
    )
  }
}

/** A dancer is pushed by a stated force or by a cylinder. */
function checkDancerForce(dancer: Dancer, at: number, report: Report): void {
  const { force, cylinder, arm, lowerStop, upperStop, slidingFriction, frictionAtRest } = dancer
  if (force === undefined && cylinder === undefined) {
    report.tell(['line', at, 'force'], 'nothing', 'a force, or a "cylinder" in its place', 'write "force": "100 N"')
  }
  if (force !== undefined && cylinder !== undefined) {
    report.say(['line', at, 'force'], 'no force beside a "cylinder", whose pressure makes it')
  }
  if (cylinder?.deadVolume === 0) {
    const hint = 'at the lower stop the piston would have no air behind it'
    report.say(['line', at, 'cylinder', 'deadVolume'], 'a volume above 0 cm³', hint)
  }
  if (frictionAtRest !== undefined && frictionAtRest < slidingFriction) {
    report.say(['line', at, 'frictionAtRest'], `no less than sliding friction, ${formatQuantity(slidingFriction, 'N')}`)
  }
  if (arm === undefined) return
  const most = (arm * Math.PI) / 3
  for (const stop of ['lowerStop', 'upperStop'] as const) {
    if (Math.abs(stop === 'lowerStop' ? lowerStop : upperStop) <= most) continue
    report.say(['line', at, stop], `a stop within 60 deg of the arm's middle, ${formatQuantity(most, 'mm', 4)}`)
  }
}

function checkBreakaway(part: Extract<PartSpec, { drag: number }>, at: number, report: Report): void {
  if (part.breakaway === undefined || part.breakaway >= part.drag) return
  report.say(['line', at, 'breakaway'], `no less than sliding drag, ${formatQuantity(part.drag, 'N m')}`)
}

function checkRides(rides: string | undefined, line: readonly PartSpec[], at: number, report: Report): void {
  if (rides === undefined) return
  const dancers = namesOf(line, 'dancer')
  if (dancers.includes(rides)) return
  report.say(['line', at, 'rides'], namesWanted('dancer', dancers), meant(rides, dancers))
}

export function namesOf(line: readonly PartSpec[], ...kinds: readonly PartSpec['part'][]): string[] {
  return line.flatMap((part) => (part.part !== 'span' && kinds.includes(part.part) ? [part.name] : []))
}

export function meant(name: string, known: readonly string[]): string | undefined {
  const near = nearest(name, known)
  return near === undefined ? undefined : `did you mean "${near}"?`
}

export function namesWanted(what: string, names: readonly string[]): string {
  return names.length === 0
    ? `the name of ${/^[aeiou]/.test(what) ? 'an' : 'a'} ${what}, of which the line has none`
    : `one of the ${what}s ${listed(names)}`
}

/** A dancer at its stops must leave some film in the spans beside the rollers on its carriage. */
function checkLengths(line: readonly PartSpec[], report: Report): void {
  const dancers = new Map(
    line.flatMap((part, at) => (part.part === 'dancer' ? [[part.name, { part, at }] as const] : [])),
  )
  let [length, place] = [0, 0]
  let shares = new Map<string, number>()
  line.forEach((part, at) => {
    if (part.part === 'span') {
      length += part.length
      place = at
    }
    if (part.part === 'span' || part.part === 'bar') return
    const rider = riderOf(part)
    if (rider) shares.set(rider.dancer, (shares.get(rider.dancer) ?? 0) + rider.share)
    for (const [name, share] of shares) tooShort(dancers.get(name), length, share, place, report)
    length = 0
    shares = new Map(rider ? [[rider.dancer, rider.share]] : [])
  })
}

function riderOf(part: PartSpec): { dancer: string; share: number } | undefined {
  if (part.part === 'dancer') return { dancer: part.name, share: Math.sin(part.wrap / 2) }
  if (part.part !== 'idler' || part.rides === undefined) return undefined
  return { dancer: part.rides, share: Math.sin(part.wrap / 2) }
}

function tooShort(
  dancer: { part: Dancer; at: number } | undefined,
  length: number,
  share: number,
  place: number,
  report: Report,
): void {
  if (!dancer || length === 0) return
  for (const stop of ['lowerStop', 'upperStop'] as const) {
    if (length + share * dancer.part[stop] > 0) continue
    const most = formatQuantity(-length / share, 'mm', 4)
    report.say(['line', dancer.at, stop], `a stop above ${most}`, `the span at line/${place} would be used up there`)
    return
  }
}
