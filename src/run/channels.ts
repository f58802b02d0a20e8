/** Which signals of a line are recorded, with name, unit and place. */
import { ATMOSPHERE } from '../line/cylinder'
import type { Line } from '../line/line'
import type { Channel } from './record'

export interface Source extends Channel {
  /** Value of the signal at the instant at which the line has been evaluated. */
  readonly read: (y: readonly number[]) => number
}

/** All channels of a line, tensions first, in the order of the film's path. */
export function channelsOf(line: Line): Source[] {
  return [
    ...tensions(line),
    ...limits(line),
    ...speeds(line),
    ...dancers(line),
    ...rolls(line),
    ...woundOn(line),
    ...pressures(line),
    ...torques(line),
    ...trims(line),
  ]
}

function tensions(line: Line): Source[] {
  const { spans, rollers } = line
  return spans.names.map((name, j) => ({
    key: `tension/${name}`,
    group: 'tension',
    name,
    kind: 'force',
    place: rollers.places[j],
    read: () => spans.force[j],
  }))
}

/** Tension at the elastic limit of the film in every span, where a splice may change it. */
function limits(line: Line): Source[] {
  const { spans, rollers } = line
  if (!line.spec.stage.some((e) => e.do === 'flying splice' || e.do === 'zero-speed splice')) return []
  return spans.names.map((name, j) => ({
    key: `limit/${name}`,
    group: 'limit',
    name,
    kind: 'force',
    place: rollers.places[j],
    read: () => spans.limitTension(j),
  }))
}

/** Wound-on tension, where a lay-on roller makes it differ from the tension of the last span. */
function woundOn(line: Line): Source[] {
  const { rollers } = line
  const roll = rollers.count - 1
  const spec = line.spec.line[rollers.places[roll]]
  if (spec.part !== 'rewind' || spec.layOn === undefined) return []
  const name = rollers.names[roll]
  const read = () => line.woundOnTension()
  return [
    {
      key: `winding/${name}`,
      group: 'winding',
      name: `wound on at ${name}`,
      kind: 'force',
      place: rollers.places[roll],
      read,
    },
  ]
}

function speeds(line: Line): Source[] {
  const { rollers } = line
  return rollers.names.map((name, i) => ({
    key: `speed/${name}`,
    group: 'speed',
    name,
    kind: 'speed',
    place: rollers.places[i],
    read: () => rollers.radius[i] * rollers.speed[i],
  }))
}

function dancers(line: Line): Source[] {
  return line.carriages.map((c) => ({
    key: `dancer/${c.name}`,
    group: 'dancer',
    name: c.name,
    kind: 'travel',
    place: c.setup.place,
    read: (y) => y[c.state],
  }))
}

/** Mean radius of both rolls, and what a diameter calculator takes it for. */
function rolls(line: Line): Source[] {
  const { rollers } = line
  return [line.unwindRoll, line.rewindRoll].flatMap((roll, k) => {
    const i = k === 0 ? 0 : rollers.count - 1
    const place = rollers.places[i]
    const radius = (key: string, name: string, read: () => number): Source => {
      return { key: `radius/${key}`, group: 'radius', name, kind: 'diameter', place, read }
    }
    const found = radius(roll.name, roll.name, () => roll.mean)
    if (roll.states.estimate === undefined) return [found]
    return [found, radius(`${roll.name} estimate`, `${roll.name}, as its drive takes it`, () => rollers.estimate[i])]
  })
}

/** Pressure above atmosphere in every cylinder. */
function pressures(line: Line): Source[] {
  return line.carriages.flatMap(({ name, cylinder, setup }): Source[] => {
    if (cylinder === undefined) return []
    const read = (y: readonly number[]) => y[cylinder.state] - ATMOSPHERE
    return [{ key: `pressure/${name}`, group: 'pressure', name, kind: 'pressure', place: setup.place, read }]
  })
}

function torques(line: Line): Source[] {
  const { rollers, drives } = line
  return drives.map((d) => ({
    key: `torque/${d.name}`,
    group: 'torque',
    name: d.name,
    kind: 'torque',
    place: rollers.places[d.roller],
    read: () => rollers.motor[d.roller],
  }))
}

function trims(line: Line): Source[] {
  return line.trims.map((t) => ({
    key: `trim/${t.spec.drives}`,
    group: 'trim',
    name: t.name,
    kind: t.spec.kind === 'speed' ? 'speed' : 'fraction',
    place: t.dancer.setup.place,
    read: () => t.output,
  }))
}
