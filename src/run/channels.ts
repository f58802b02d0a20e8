/** Which signals of a line are recorded, with name, unit and place. */
import type { Line } from '../line/line'
import type { Channel } from './record'

export interface Source extends Channel {
  /** Value of the signal at the instant at which the line has been evaluated. */
  readonly read: (y: readonly number[]) => number
}

/** All channels of a line, tensions first, in the order of the film's path. */
export function channelsOf(line: Line): Source[] {
  return [...tensions(line), ...speeds(line), ...dancers(line), ...rolls(line), ...torques(line), ...trims(line)]
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

function rolls(line: Line): Source[] {
  const { rollers } = line
  return [0, rollers.count - 1].map((i) => ({
    key: `radius/${rollers.names[i]}`,
    group: 'radius',
    name: rollers.names[i],
    kind: 'diameter',
    place: rollers.places[i],
    read: () => rollers.radius[i],
  }))
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
