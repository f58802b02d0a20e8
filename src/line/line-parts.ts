/**
 * Makes the parts that need the whole line. State indices are handed out in this order: rolls (angle, estimate), carriages (z, z', pressure),
 * position trims (integral), tension trims (measured tension, integral), servos (torque integral).
 */
import type { Assembly } from './assembly'
import { Carriage } from './carriage'
import { Cylinder } from './cylinder'
import type { Drive } from './drive'
import { ForceTaper } from './force-taper'
import type { Line } from './line'
import type { Actor } from './part'
import { TorqueDrive } from './torque-drive'
import { Roll, type RollSetup } from './roll'
import { TaperCourse, type TaperSpec } from './taper'
import { TensionTrim, type TensionTrimSpec } from './tension-trim'
import { Trim, type TrimSpec } from './trim'

export interface MadeParts {
  readonly unwindRoll: Roll
  readonly rewindRoll: Roll
  readonly carriages: Carriage[]
  readonly trims: Trim[]
  readonly controls: Actor[]
  readonly drives: Drive[]
  readonly corrections: (Trim | TensionTrim)[]
}

/** What of the line stands already when its parts are made. */
type Frame = Pick<Line, 'spec' | 'courses' | 'rollers' | 'spans' | 'unwoundState' | 'woundState'>
type NewState = (name: string) => number

export function makeParts(assembly: Assembly, line: Frame, state: NewState): MadeParts {
  const { unwound, rewound } = assembly
  if (unwound === undefined || rewound === undefined) throw new RangeError('a line needs an unwind and a rewind')
  const last = line.rollers.count - 1
  const unwindRoll = makeRoll(line, state, 0, unwound.setup)
  const rewindRoll = makeRoll(line, state, last, { ...rewound.setup, material: unwound.setup.material })
  const carriages = makeCarriages(assembly, line, state)
  const trims = line.spec.control
    .filter((c) => c.control === 'position trim')
    .map((spec) => makeTrim(spec, line, carriages, state))
  const drives = assembly.makers.map((make) => make(line.rollers, line.courses, state))
  const others = line.spec.control.flatMap((spec): Actor[] => {
    if (spec.control === 'tension trim') return [makeTensionTrim(spec, line, drives, state)]
    if (spec.control !== 'force taper') return []
    const dancer = called(carriages, spec.drives)
    const roller = line.rollers.names.indexOf(spec.measures)
    return [new ForceTaper(spec, dancer, roller, line.rollers, taperCourse(spec, line, roller, spec.drives))]
  })
  const corrections = [...trims, ...others.filter((c) => c instanceof TensionTrim)]
  for (const drive of drives) {
    const trim = corrections.find((t) => t.spec.drives === drive.name)
    if (drive.reference !== undefined) drive.reference.trim = trim
    if (drive instanceof TorqueDrive && trim instanceof TensionTrim) drive.trim = trim
  }
  return { unwindRoll, rewindRoll, carriages, trims, controls: [...trims, ...others], drives, corrections }
}

/** The part of that name. The scenario's checks have made sure that it exists. */
function called<T extends { readonly name: string }>(list: readonly T[], name: string): T {
  const found = list.find((item) => item.name === name)
  if (found === undefined) throw new RangeError(`no part named ${name}`)
  return found
}

function makeRoll(line: Frame, state: NewState, index: number, setup: RollSetup): Roll {
  const name = line.rollers.names[index]
  const states = {
    moved: index === 0 ? line.unwoundState : line.woundState,
    angle: setup.unevenness === undefined ? undefined : state(`angle of ${name}`),
    estimate: setup.calculator === undefined ? undefined : state(`diameter estimate of ${name}`),
  }
  return new Roll(name, line.rollers, index, index === 0 ? -1 : 1, setup, states, line.courses.line)
}

function makeCarriages(assembly: Assembly, line: Frame, state: NewState): Carriage[] {
  const carriages = assembly.carriages.map((setup) => {
    const { name, cylinder, lowerStop } = setup
    const position = state(`position of ${name}`)
    state(`speed of ${name}`)
    if (cylinder === undefined) return new Carriage(setup, position, line.spans, line.courses)
    const pressure = state(`pressure in the cylinder of ${name}`)
    const air = new Cylinder(name, cylinder, pressure, position, lowerStop, line.courses)
    return new Carriage(setup, position, line.spans, line.courses, air)
  })
  for (const { dancer, roller, wrap } of assembly.riders) {
    const free = [assembly.spans[roller - 1].free, assembly.spans[roller].free] as const
    called(carriages, dancer).strands.add(roller - 1, wrap, free)
  }
  return carriages
}

function makeTrim(spec: TrimSpec, line: Frame, carriages: Carriage[], state: NewState): Trim {
  const dancer = called(carriages, spec.measures)
  const upstream = line.rollers.names.indexOf(spec.drives) <= Math.min(...dancer.strands.spans)
  const driven = line.rollers.names.indexOf(spec.drives)
  const integral = state(`integral of the trim of ${spec.drives}`)
  return new Trim(spec, dancer, upstream ? -1 : 1, integral, () => 2 * line.rollers.estimate[driven])
}

function makeTensionTrim(spec: TensionTrimSpec, line: Frame, drives: Drive[], state: NewState): TensionTrim {
  const { rollers, spans } = line
  const cell = rollers.names.indexOf(spec.measures)
  const driven = called(drives, spec.drives).roller
  const winder = driven === 0 ? 0 : rollers.count - 1
  const measured = state(`tension measured at ${spec.measures}`)
  state(`integral of the tension trim of ${spec.drives}`)
  const course = taperCourse(spec, line, winder, spec.drives)
  // a torque is asked for as tension, on either side of the load cell; a speed takes tension away where it feeds
  const sign = spec.kind === 'speed' && driven < cell ? 1 : -1
  return new TensionTrim(spec, cell, winder, sign, measured, rollers, spans, course)
}

function taperCourse(spec: TaperSpec, line: Frame, winder: number, part: string): TaperCourse {
  const roll = line.spec.line[line.rollers.places[winder]]
  const core = roll.part === 'unwind' || roll.part === 'rewind' ? roll.core : spec.fullDiameter
  return new TaperCourse({ spec, coreRadius: core / 2 }, line.courses, part)
}
