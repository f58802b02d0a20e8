/** Lines as people might build them, at random: sizes inside the usual ranges, ramps, splices. */
import fc from 'fast-check'
import type { Entry } from './rig'

/** In steps of a thousandth of the range, which keeps them ordinary. */
const number = (min: number, max: number) =>
  fc.integer({ min: 0, max: 1000 }).map((n) => min + ((max - min) * n) / 1000)
const text = (min: number, max: number, unit: string) => number(min, max).map((x) => `${x.toPrecision(4)} ${unit}`)

/** Rollers under way: mostly idlers, now and then a bar. */
const middle = fc.array(
  fc.record({
    bar: fc.integer({ min: 0, max: 5 }).map((n) => n === 0),
    ...{ diameter: text(0.06, 0.12, 'm'), wrap: text(0, 180, 'deg'), inertia: text(5e-4, 4e-3, 'kg m^2') },
    ...{ drag: fc.oneof(fc.constant('0 N m'), text(0.003, 0.02, 'N m')), span: text(0.2, 1.5, 'm') },
  }),
  { maxLength: 3 },
)

const feeding = fc.constantFrom('ideal', 'lag', 'servo', 'brake')
const winding = fc.constantFrom('ideal', 'lag', 'servo', 'torque')
const following = fc.constantFrom('ideal', 'lag', 'servo')

const section = fc.record({
  rollers: middle,
  ...{ dancer: fc.boolean(), mass: number(2, 8), damping: text(0, 100, 'N s/m'), friction: number(0, 0.04) },
  stores: fc.constantFrom('level', 'up', 'down'),
  ...{ stiffness: fc.oneof(fc.constant(0), number(50, 500)), span: text(0.3, 1.2, 'm'), trimGain: number(0.5, 2) },
})

const shape = fc.record({
  ...{ first: section, second: section, feeding, winding, following },
  ...{ draw: number(0, 4e-4), stress: number(4e6, 1e7), thickness: number(12e-6, 1e-4), width: number(0.3, 1) },
  ...{ modulus: number(2e9, 5e9), speed: fc.oneof(fc.constant(0), number(0.2, 2)), filmDamping: text(1, 3, 'ms') },
  ...{
    unwound: text(0.2, 0.6, 'm'),
    rewound: text(0.1, 0.5, 'm'),
    patch: text(0, 0.1, 'm'),
    mismatch: text(-0.3, 0.3, '%'),
  },
  ...{ to: number(0.2, 2), takes: number(0.3, 1), rounding: number(0, 0.5), splice: fc.integer({ min: 0, max: 2 }) },
  ...{ other: number(0.7, 1.5), spanChange: fc.oneof(fc.constant('0 mm'), text(-50, 100, 'mm')) },
})

type Shape = typeof shape extends fc.Arbitrary<infer T> ? T : never
type Section = Shape['first']

const drive = (kind: string, tension: number): Entry => ({
  kind,
  ...(kind === 'lag' ? { lag: '50 ms' } : {}),
  ...(kind === 'servo' ? { bandwidth: '25 rad/s', torqueLimit: '200 N m' } : {}),
  ...(kind === 'torque' ? { tension: `${tension} N`, torqueLimit: '500 N m' } : {}),
})

function parts(s: Section, tension: number, name: string, withDancer: boolean, filmDamping: string): Entry[] {
  const span = (length: string) => ({ part: 'span', length, filmDamping })
  const rollers = s.rollers.flatMap((r, k) => {
    const common = { name: `${name} ${k}`, diameter: r.diameter, wrap: r.wrap, turn: 'left' }
    const roller = r.bar ? { part: 'bar', ...common } : { part: 'idler', ...common, inertia: r.inertia, drag: r.drag }
    return [roller, span(r.span)]
  })
  if (!withDancer) return [span(s.span), ...rollers]
  const gravity = { level: 0, up: -9.80665, down: 9.80665 }[s.stores] ?? 0
  const dancer = {
    ...{ part: 'dancer', name: `${name} dancer`, diameter: '80 mm', wrap: '180 deg', turn: 'right' },
    ...{
      inertia: '0.0015 kg m^2',
      drag: '0.005 N m',
      mass: `${s.mass} kg`,
      stores: s.stores,
      stiffness: `${s.stiffness} N/m`,
      damping: s.damping,
    },
    ...{
      slidingFriction: `${s.friction * tension} N`,
      force: `${2 * tension - s.mass * gravity} N`,
      lowerStop: '-0.12 m',
      upperStop: '0.12 m',
    },
  }
  return [span(s.span), dancer, span('0.4 m'), ...rollers]
}

function stageOf(s: Shape, splices: boolean): Entry[] {
  const { to, takes, rounding } = s
  const ramp = { at: '0.1 s', in: `${takes} s`, to: `${to} m/s`, rounding: `${100 * rounding} %` }
  const { patch, mismatch, spanChange } = s
  const roll = { diameter: s.unwound, core: '90 mm', woundTension: '50 N', spanChange }
  const flying = { at: '0.6 s', do: 'flying splice', film: 'B', patch, mismatch, roll }
  const standing = {
    ...{ at: `${0.15 + takes} s`, do: 'zero-speed splice', film: 'B', patch, roll },
    ...{ rampDown: '0.1 s', hold: '0.05 s', rampUp: '0.1 s', refill: '50 %' },
  }
  const change = [{ ...ramp, do: s.speed === 0 ? 'start' : 'speed' }]
  if (s.splice === 1 && s.speed > 0) return [...change, flying]
  if (s.splice === 2 && splices) return [...change, standing]
  const { to: _, ...stop } = ramp
  return [...change, { ...stop, do: 'stop', at: `${0.3 + takes} s` }]
}

export const randomDocument = shape.map((s): Entry => {
  const tension = s.stress * s.thickness * s.width
  const trimmed = [s.first.dancer && s.feeding !== 'brake', s.second.dancer && s.winding !== 'torque']
  const brake = { kind: 'brake', torque: `${(tension * Number.parseFloat(s.unwound)) / 2} N m` }
  const film = {
    ...{ thickness: `${s.thickness} m`, width: `${s.width} m`, modulus: `${s.modulus} Pa` },
    ...{ density: '1390 kg/m^3', elasticLimit: '2 %' },
  }
  const draw = `${100 * s.draw} %`
  const trim = (name: string, drives: string, gain: number) => ({
    ...{ control: 'position trim', measures: `${name} dancer`, drives, kind: 'speed', gain: `${gain} 1/s` },
    ...{ integral: '0.4 1/s^2', limit: '0.2 m/s' },
  })
  return {
    spanwright: 1,
    title: 'Random line',
    films: { A: film, B: { ...film, thickness: `${s.thickness * s.other} m` } },
    line: [
      {
        ...{ part: 'unwind', name: 'unwind', film: 'A', diameter: s.unwound, core: '90 mm', drag: '0.1 N m' },
        ...{ woundTension: `${tension} N`, drive: s.feeding === 'brake' ? brake : drive(s.feeding, tension) },
      },
      ...parts(s.first, tension, 'first', trimmed[0], s.filmDamping),
      {
        ...{ part: 'driven', name: 'nip', diameter: '0.12 m', wrap: '0 deg', turn: 'left', inertia: '0.02 kg m^2' },
        ...{ drag: '0.05 N m', nip: true, draw, drive: drive(s.following, tension) },
      },
      ...parts(s.second, tension, 'second', trimmed[1], s.filmDamping),
      {
        ...{ part: 'rewind', name: 'rewind', diameter: s.rewound, core: '90 mm', drag: '0.1 N m' },
        ...{ draw, drive: drive(s.winding, tension) },
      },
    ],
    control: [
      ...(trimmed[0] ? [trim('first', 'unwind', s.first.trimGain)] : []),
      ...(trimmed[1] ? [trim('second', 'rewind', s.second.trimGain)] : []),
    ],
    speed: { start: `${s.speed} m/s`, rounding: `${100 * s.rounding} %`, threadingTension: `${tension} N` },
    stage: stageOf(s, trimmed[0]),
    run: { for: '2 s', tick: '10 ms', tolerance: 1e-6 },
  }
})
