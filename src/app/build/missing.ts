/** What a line lacks or has too much of before it can run well, with what would mend it. */
import { listAt, withValue, type Json } from '../state/document'
import { removed, wordAt, type Entry } from './line'
import { withoutReferences } from './references'
import { servo, trimOf } from './starting'
import { followsSpeed, zonesOf, type Holder, type Zone } from './zones'

export interface Mend {
  /** a verb, for a button */
  readonly label: string
  /** what is done, to be read after "Undo:" */
  readonly words: string
  readonly document: Json
}

export interface Finding {
  readonly key: string
  /** the parts that it is about */
  readonly about: readonly string[]
  readonly say: string
  readonly mends: readonly Mend[]
}

export function missingIn(document: Json): Finding[] {
  return zonesOf(document).flatMap((zone) => [...tooMany(document, zone), ...untrimmed(document, zone)])
}

const between = ({ from, to }: Zone) => `Between ${from.name} and ${to.name}`

const holderWords = ({ what, name }: Holder) =>
  what === 'load cell' ? `the load cell at ${name}` : what === 'drive' ? `the drive of ${name}` : name

function tooMany(document: Json, zone: Zone): Finding[] {
  const { holders } = zone
  if (holders.length < 2) return []
  const dancer = holders.findLast(({ what }) => what === 'dancer')
  const names = holders.map(holderWords).join(' and ')
  const say = `${between(zone)} ${names} each hold the tension: they pull against each other, and the run finds no state to start from. Leave one of them.`
  const others = dancer
    ? holders.filter((holder) => holder !== dancer).flatMap((h) => inPlaceOf(document, h, dancer))
    : []
  const taken = dancer ? [takenOut(document, dancer.name)] : []
  return [{ key: `many ${names}`, about: holders.map(({ name }) => name), say, mends: [...others, ...taken] }]
}

/** What gives the tension into the hands of the dancer alone. */
function inPlaceOf(document: Json, holder: Holder, dancer: Holder): Mend[] {
  if (holder.what === 'dancer') return [takenOut(document, holder.name)]
  if (holder.what === 'load cell') {
    const drives = wordAt(listAt(document, 'control')[holder.control], 'drives')
    const label = `Let ${dancer.name} trim ${drives} instead of the load cell`
    const trim = trimOf(dancer.name, drives)
    return [
      {
        label,
        words: `trimming ${drives} by ${dancer.name}`,
        document: withValue(document, ['control', holder.control], trim),
      },
    ]
  }
  return servoTrimmed(document, holder.name, dancer.name)
}

/** A drive that is told a torque is told a speed, which the dancer trims. */
function servoTrimmed(document: Json, drives: string, dancer: string): Mend[] {
  const place = listAt(document, 'line').findIndex((part) => wordAt(part, 'name') === drives)
  const controls = listAt(document, 'control').filter((control) => wordAt(control, 'drives') !== drives)
  const isTrimmed = controls.some((control) => measuresPosition(control, dancer))
  const trims = isTrimmed ? controls : [...controls, trimOf(dancer, drives)]
  const changed = withValue(withValue(document, ['line', place, 'drive'], servo), ['control'], trims)
  const label = `Give ${drives} a servo drive${isTrimmed ? '' : `, trimmed by ${dancer}`}`
  return [{ label, words: `a servo drive for ${drives}`, document: changed }]
}

function takenOut(document: Json, name: string): Mend {
  const bare = withoutReferences(document, name)
  const place = listAt(bare, 'line').findIndex((part) => wordAt(part, 'name') === name)
  return { label: `Take out ${name}`, words: `taking out ${name}`, document: removed(bare, place) }
}

const measuresPosition = (control: Json, dancer: string) =>
  wordAt(control, 'control') === 'position trim' && wordAt(control, 'measures') === dancer

function untrimmed(document: Json, zone: Zone): Finding[] {
  const controls = listAt(document, 'control')
  return zone.parts.flatMap(({ part, name }) => {
    if (part !== 'dancer' || controls.some((control) => measuresPosition(control, name))) return []
    const mends = trimsFor(document, zone, name)
    const way =
      mends.length > 0
        ? 'Let it trim a drive beside it.'
        : `${zone.from.name} and ${zone.to.name} cannot be trimmed by it: each is trimmed by something else, or follows torque. Give one of them a drive that follows speed, or take its trim away.`
    const say = `${name} has no trim: nothing brings it back, and it drifts to a stop as soon as the speeds beside it differ a little. ${way}`
    return [{ key: `trim ${name}`, about: [name], say, mends }]
  })
}

/** A trim of each drive beside the dancer that is free; the roll's own first, since the line's speed is set in its middle. */
function trimsFor(document: Json, { from, to, holders }: Zone, dancer: string): Mend[] {
  const taken = new Set(listAt(document, 'control').map((control) => wordAt(control, 'drives')))
  const inTurn: readonly Entry[] = from.part === 'unwind' ? [from, to] : [to, from]
  const free = inTurn.filter((entry) => followsSpeed(document, entry) && !taken.has(entry.name))
  const ends = holders.filter(({ what }) => what === 'drive')
  // A brake or a winder on torque that pulls against the dancer is told of already, with what mends both.
  if (free.length === 0 && ends.length > 0) return ends.flatMap(({ name }) => servoTrimmed(document, name, dancer))
  return free.map(({ name }) => ({
    label: `Let it trim ${name}`,
    words: `trimming ${name} by ${dancer}`,
    document: withValue(document, ['control'], [...listAt(document, 'control'), trimOf(dancer, name)]),
  }))
}
