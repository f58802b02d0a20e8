/** Why advice sets what it sets, and what stands in the way of more. */
import type { DancerSpec } from '../line/dancer'
import type { PartSpec } from '../line/parts'
import type { RunScenario } from '../run/run'
import { storedSwing } from '../line/feed'
import { formatNumber, formatQuantity, kinds } from '../units'
import type { Change } from './advice-box'
import type { Aims } from './advice'
import { closedLine } from './closed'
import { linearMeasures, referenceSpeed, type LinearMeasures, type Measures } from './measures'
import { plantOf } from './plant'
import { mainCause } from './predict'
import { standAt } from './setup'
import { leftOut } from './stage-course'

interface Found {
  readonly scenario: RunScenario
  readonly dancer: DancerSpec
  readonly aims: Aims
  readonly before: Measures
  readonly after: Measures
  readonly linearBefore: LinearMeasures
  readonly linear: LinearMeasures
  /** by path: why the search ends where that number stands */
  readonly edges: ReadonlyMap<string, string>
}

const percent = (share: number) => `${formatNumber(100 * share, 3)} %`
const newtons = (force: number) => `${formatNumber(force, 3)} N`

export function whyEach(changes: readonly Change[], found: Found): (Change & { why: string })[] {
  return changes.map((change) => ({ ...change, why: `${why(change, changes, found)}${edge(change, found)}` }))
}

/** Where the search itself ended, people are told: more might lie beyond. */
function edge({ path, kind, new: now }: Change, { edges }: Found): string {
  const reason = edges.get(path)
  if (reason === undefined) return ''
  return ` ${formatQuantity(now, kinds[kind].metric, 3, kind)} is the edge of what was searched: ${reason}.`
}

function why(change: Change, changes: readonly Change[], found: Found): string {
  const { name, old, new: now } = change
  const more = now > old
  switch (name) {
    case 'damping':
      return more
        ? 'More damping calms the dancer on the film; it costs tension in proportion to the speed at which it moves.'
        : 'Damping costs tension in proportion to the speed at which the dancer moves: less of it, less pull.'
    case 'stiffness':
      return more
        ? `A spring takes the inertia of the moving mass off the film near ${formatNumber(Math.sqrt(now / found.dancer.mass) / (2 * Math.PI), 3)} Hz, where k = M w^2; below that tension follows the position.`
        : 'A softer spring makes tension depend less on where the dancer stands.'
    case 'gain':
      return whyGain(more, changes, found)
    case 'integral gain':
      return whyIntegral(change, found)
    default:
      return whyForce(found)
  }
}

/** Whether the loop has more phase than before, by more than rounding. */
const isSteadier = ({ linearBefore, linear }: Found) =>
  (linear.phaseMargin ?? Math.PI) > (linearBefore.phaseMargin ?? Math.PI) + 0.02

/** What the figures found bear out, and nothing else. */
function whyGain(more: boolean, changes: readonly Change[], found: Found): string {
  const { before, after } = found
  if (more && after.travelShare < before.travelShare - 0.01) {
    return 'A higher gain brings the dancer back sooner, so that it uses less travel.'
  }
  if (more) {
    const alone = changes.every(
      ({ name, old, new: now }) => name !== 'integral gain' || Math.abs(now - old) <= 0.05 * old,
    )
    if (!isSteadier(found)) return 'A higher gain brings the dancer back sooner.'
    return alone
      ? 'A higher gain against the same integral part gives the loop more phase: the dancer swings less about its place.'
      : 'A higher gain brings the dancer back sooner; with the other changes the loop has more phase than before.'
  }
  return isSteadier(found)
    ? 'A lower gain asks less acceleration of the drive, and leaves more phase.'
    : 'A lower gain asks less acceleration of the drive.'
}

function whyIntegral({ old, new: now }: Change, found: Found): string {
  if (now > old)
    return 'A larger integral part brings the dancer home sooner; it takes phase, and the gain must leave room for it.'
  const less = isSteadier(found) ? 'leaves the loop more phase' : 'winds up less while the dancer is away'
  return now === 0
    ? 'Without an integral part the loop keeps its phase; where two speeds differ lastingly the dancer stays off its place.'
    : `A smaller integral part ${less}; the dancer comes home later.`
}

/** The stage may set another force later: that is not made up for. */
function whyForce({ scenario, dancer }: Found): string {
  const later = scenario.stage.some(
    (event) => (event.do === 'dancer force' || event.do === 'dancer pressure') && event.dancer === dancer.name,
  )
  const said = 'Keeps the tension what it was, now that the spring has changed.'
  return later
    ? `${said} That is at the start: what the stage sets later counts as the stage has it, and needs as much of its own.`
    : said
}

/** In sentences, the weightiest first. */
export function whyNot(found: Found): string[] {
  const { after, aims } = found
  const said = [
    ...ofFriction(found),
    ...ofTravel(found),
    ...ofMargin(found),
    ...ofParts(found),
    ...ofCause(found),
    ...ofZone(found),
  ]
  if (after.deviation <= aims.band && said.length === 0) {
    return ['Tension keeps within its band already; there was little to gain.']
  }
  return said
}

function strandsOf({ dancer }: Found): number {
  return 2 * Math.sin(dancer.wrap / 2)
}

function ofFriction(found: Found): string[] {
  const { slidingFriction, frictionAtRest = slidingFriction } = found.dancer
  const floor = Math.max(slidingFriction, frictionAtRest) / strandsOf(found)
  if (floor < 0.35 * found.after.newtons) return []
  return [
    `Dry friction of ${found.dancer.name} alone holds back ${newtons(floor)} in each strand, of ${newtons(found.after.newtons)} that are left: no spring and no gain takes that away. Better seals or guides do.`,
  ]
}

function ofTravel({ dancer, after, aims, scenario }: Found): string[] {
  if (after.stopSeconds === 0 && after.travelShare <= aims.travelShare) return []
  const has = dancer.upperStop - dancer.lowerStop
  const swings = scenario.line.flatMap((p) => {
    if (p.part !== 'driven' || p.index === undefined) return []
    return [storedSwing(p.index, p.index.pitch / referenceSpeed(scenario)) / (2 * Math.sin(dancer.wrap / 2))]
  })
  const needs = Math.max(0, ...swings)
  const cycle = needs > 0.5 * has ? ` One index cycle alone takes ${formatNumber(1000 * needs, 3)} mm of it.` : ''
  const stop = after.stopSeconds > 0 ? `, and it lies on a stop for ${formatNumber(after.stopSeconds, 3)} s` : ''
  return [
    `${dancer.name} uses ${percent(after.travelShare)} of its ${formatNumber(1000 * has, 3)} mm${stop}.${cycle} Tuning cannot make travel: give it more, more strands, or less to store.`,
  ]
}

function ofMargin({ linear, aims }: Found): string[] {
  if (linear.phaseMargin === null || linear.phaseMargin >= aims.phaseMargin) return []
  const degrees = (angle: number) => `${formatNumber((180 / Math.PI) * angle, 3)} deg`
  return [
    `The loop has ${degrees(linear.phaseMargin)} of phase margin at its worst diameter, ${degrees(aims.phaseMargin)} are wanted: a quicker drive, a shorter sample time or less filtering would give more.`,
  ]
}

/** What the linear line would make of lighter parts and quicker drives: parts that no setting changes. */
function ofParts({ scenario, dancer, linear, after }: Found): string[] {
  if (!Number.isFinite(linear.newtons) || after.stopSeconds > 0) return []
  const found = PARTS.map(({ name, change }) => {
    const changed = { ...scenario, line: scenario.line.map((part) => change(part, dancer.name)) }
    const measures = linearMeasures(changed, dancer.name, [], -Infinity)
    return { name, newtons: 'ok' in measures ? Infinity : measures.newtons }
  })
  const best = found.reduce((a, b) => (b.newtons < a.newtons ? b : a))
  if (!(best.newtons < 0.85 * linear.newtons)) return []
  return [
    `With ${best.name} the linear line would come from ${newtons(linear.newtons)} to ${newtons(best.newtons)} with the same settings: that is where the rest is to be had.`,
  ]
}

const PARTS: readonly { name: string; change: (part: PartSpec, dancer: string) => PartSpec }[] = [
  {
    name: 'half the moving mass of the dancer',
    change: (part, dancer) =>
      part.part === 'dancer' && part.name === dancer ? { ...part, mass: part.mass / 2 } : part,
  },
  {
    name: 'half the inertia of its rollers',
    change: (part) => (part.part === 'dancer' || part.part === 'idler' ? { ...part, inertia: part.inertia / 2 } : part),
  },
  {
    name: 'drives of twice the bandwidth',
    change: (part) => {
      if (part.part !== 'driven' && part.part !== 'unwind' && part.part !== 'rewind') return part
      const { drive } = part
      if (drive.kind === 'servo') return { ...part, drive: { ...drive, bandwidth: 2 * drive.bandwidth } }
      return drive.kind === 'lag' ? { ...part, drive: { ...drive, lag: drive.lag / 2 } } : part
    },
  },
]

/** The input that alone moves the worst strand most. */
function ofCause(found: Found): string[] {
  const { scenario, after } = found
  // on a stop the film sees no dancer, and no cause beside that
  if (after.stopSeconds > 0) return []
  const standing = standAt(scenario, { speed: referenceSpeed(scenario) })
  if (!standing.ok) return []
  const plant = plantOf(standing)
  const closed = closedLine(plant)
  const output = plant.outputs.find((o) => o.key === `tension/${after.span}`)
  if (!closed.ok || output === undefined) return []
  const cause = mainCause(scenario, plant, closed, output)
  const beyond = leftOut(scenario)
  const also =
    beyond.length === 0 ? '' : ` The linear line does not follow ${beyond.join(' nor ')}; the figures of the run do.`
  if (cause === undefined || cause.moves < 0.05 * after.newtons) {
    return [
      `Little of the ${newtons(after.newtons)} that are left comes from what spring, damping and gains answer to.${also}`,
    ]
  }
  return [
    `Of what is left, the ${cause.name} does most: by itself ${newtons(cause.moves)} of ${newtons(after.newtons)}.${also}`,
  ]
}

function ofZone({ after }: Found): string[] {
  if (after.zoneDeviation < 1.3 * after.deviation) return []
  return [
    `Further along the zone tension swings by ${percent(after.zoneDeviation)}: there the inertia and drag of the rollers come on top, which no dancer evens out.`,
  ]
}
