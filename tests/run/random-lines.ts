/** Lines and stages as people might build them, at random: every kind of part, drive, control and event. */
import fc from 'fast-check'
import type { Document } from './lines'

type Entry = Readonly<Record<string, unknown>>

/** In steps of a thousandth of the range, which keeps them ordinary. */
const number = (min: number, max: number) =>
  fc.integer({ min: 0, max: 1000 }).map((n) => min + ((max - min) * n) / 1000)
const text = (min: number, max: number, unit: string) => number(min, max).map((x) => `${x.toPrecision(4)} ${unit}`)
const sometimes = <T>(one: fc.Arbitrary<T>) => fc.option(one, { nil: undefined })

const idler = fc.record({
  kind: fc.constantFrom('idler', 'idler', 'idler', 'bar', 'rider'),
  ...{ diameter: text(0.06, 0.12, 'm'), wrap: text(10, 180, 'deg'), inertia: text(5e-4, 4e-3, 'kg m^2') },
  ...{ drag: fc.oneof(fc.constant('0 N m'), text(0.003, 0.02, 'N m')), length: text(0.3, 1.2, 'm') },
})
const feed = fc.oneof(
  fc.record({
    pattern: fc.constant('trapezoid'),
    pitch: text(0.25, 0.4, 'm'),
    move: text(0.15, 0.3, 's'),
    ramp: text(0.04, 0.075, 's'),
  }),
  fc.record({ pattern: fc.constant('cycloidal'), pitch: text(0.25, 0.4, 'm'), move: text(0.15, 0.3, 's') }),
  fc.record({
    pattern: fc.constant('table'),
    pitch: text(0.25, 0.4, 'm'),
    move: text(0.15, 0.3, 's'),
    table: fc.constant([
      [0, 0],
      [0.3, 1],
      [0.5, 0.4],
      [0.9, 0],
    ]),
  }),
)
const section = fc.record({
  ...{
    rollers: fc.array(idler, { maxLength: 2 }),
    dancer: fc.integer({ min: 0, max: 3 }).map((n) => n > 0),
    length: text(0.4, 1, 'm'),
  },
  ...{ mass: text(2, 6, 'kg'), damping: text(20, 120, 'N s/m'), friction: fc.oneof(fc.constant(0), number(0, 0.03)) },
  ...{ stiffness: fc.oneof(fc.constant(0), number(50, 400)), arm: sometimes(text(0.3, 0.6, 'm')), air: fc.boolean() },
  ...{
    trim: fc.constantFrom('speed', 'ratio', 'none'),
    program: sometimes(fc.constantFrom('10 ms', '20 ms')),
    gain: number(0.5, 2),
  },
})
const uneven = fc.record({ runout: text(0, 1, 'mm'), flat: text(0, 0.5, 'mm'), flatArc: text(20, 90, 'deg') })
const roll = fc.record({ unevenness: sometimes(uneven), calculator: sometimes(fc.record({ time: text(0.2, 2, 's') })) })
const taper = fc.record({
  law: fc.constantFrom('constant', 'linear', 'hyperbolic', 'blend', 'power'),
  ...{ taper: text(0, 60, '%'), fullDiameter: fc.constant('0.8 m') },
})
const settings = ['draw', 'push', 'set point', 'winding tension', 'free strain'] as const
const others = ['rewind change', 'flying splice', 'zero-speed splice', 'changeover', 'changeover', 'speed'] as const
const event = fc.record({
  what: fc.constantFrom(...settings, ...others),
  ...{ after: number(0, 0.3), takes: number(0.05, 0.3), which: fc.nat({ max: 5 }), size: number(-1, 1) },
})
const following = fc.constantFrom('ideal', 'lag', 'servo')

const shape = fc.record({
  sections: fc.array(section, { minLength: 2, maxLength: 3 }),
  ...{
    feeding: fc.constantFrom('ideal', 'lag', 'servo', 'brake', 'torque'),
    winding: fc.constantFrom('ideal', 'lag', 'servo', 'torque'),
  },
  ...{
    following,
    feed,
    unwind: roll,
    rewind: roll,
    taper,
    layOn: fc.boolean(),
    control: fc.constantFrom('none', 'tension', 'force'),
  },
  ...{
    thickness: number(2e-5, 1e-4),
    width: number(0.3, 0.8),
    stress: number(4e6, 9e6),
    draw: number(0, 3e-4),
    other: number(0.7, 1.5),
  },
  ...{ speed: fc.oneof({ weight: 1, arbitrary: fc.constant(0) }, { weight: 6, arbitrary: number(0.2, 0.8) }) },
  events: fc.array(event, { minLength: 1, maxLength: 5 }),
})
type Shape = typeof shape extends fc.Arbitrary<infer T> ? T : never
type Section = Shape['sections'][number]

const drive = (kind: string, tension: number, more: Entry = {}): Entry => ({
  kind,
  ...(kind === 'lag' ? { lag: '50 ms' } : {}),
  ...(kind === 'servo' ? { bandwidth: '25 rad/s', torqueLimit: '200 N m' } : {}),
  ...(kind === 'brake' ? { torque: `${tension * 0.2} N m` } : {}),
  ...(kind === 'torque' ? { tension: `${tension} N`, torqueLimit: '500 N m', ...more } : {}),
})

/** Bar of 30 mm bore that pulls `force` (N). */
const air = (force: number) => ({ bore: '30 mm', pressure: `${force / (Math.PI * 2.25e-4)} Pa`, deadVolume: '1 l' })

function dancerPart(s: Section, k: number, tension: number): Entry {
  const force = 2 * tension
  return {
    ...{ part: 'dancer', name: `dancer ${k}`, diameter: '80 mm', wrap: '180 deg', turn: 'right', drag: '0.004 N m' },
    ...{ inertia: '0.0015 kg m^2', mass: s.mass, stiffness: `${s.stiffness} N/m`, damping: s.damping },
    ...{ slidingFriction: `${s.friction * tension} N`, lowerStop: '-0.12 m', upperStop: '0.12 m' },
    ...(s.arm === undefined ? {} : { arm: s.arm }),
    ...(s.air ? { cylinder: air(force) } : { force: `${force} N` }),
  }
}

function sectionParts(s: Section, k: number, tension: number): Entry[] {
  const span = (length: string) => ({ part: 'span', length, filmDamping: '2 ms' })
  const rollers = s.rollers.flatMap((r, n) => {
    const { kind, diameter, wrap, inertia, drag, length } = r
    const common = { name: `idler ${k}${n}`, diameter, wrap, turn: 'left' }
    if (kind === 'bar') return [{ part: 'bar', ...common }, span(length)]
    const rides = kind === 'rider' && s.dancer && s.arm === undefined ? { rides: `dancer ${k}` } : {}
    return [{ part: 'idler', ...common, inertia, drag, ...rides }, span(length)]
  })
  if (!s.dancer) return [span(s.length), ...rollers]
  const riders = s.rollers.filter((r) => r.kind === 'rider' && s.arm === undefined)
  const strands = 2 + riders.reduce((sum, r) => sum + 2 * Math.sin((Number.parseFloat(r.wrap) * Math.PI) / 360), 0)
  return [span(s.length), dancerPart(s, k, (tension * strands) / 2), span('0.5 m'), ...rollers]
}

/** Every dancer is trimmed by the drive before or behind it, unless that is said to be none or it follows no speed. */
function controls(s: Shape, tension: number): Entry[] {
  const drives = ['unwind', ...s.sections.slice(1).map((_, k) => `nip ${k + 1}`), 'rewind']
  const free = new Set(
    drives.filter(
      (_, k) =>
        !(k === 0 && 'brake torque'.includes(s.feeding)) && !(k === s.sections.length && s.winding === 'torque'),
    ),
  )
  const found: Entry[] = s.sections.flatMap((one, k) => {
    const by = [drives[k], drives[k + 1]].find((d) => free.has(d) && d !== 'nip 1')
    if (!one.dancer || one.trim === 'none' || by === undefined) return []
    free.delete(by)
    const [gain, integral, limit] =
      one.trim === 'speed' ? [`${one.gain} 1/s`, '0.3 1/s^2', '0.3 m/s'] : [`${one.gain} 1/m`, '0.3 1/(m s)', '30 %']
    const program = one.program === undefined ? {} : { program: { sample: one.program } }
    return [
      {
        control: 'position trim',
        measures: `dancer ${k}`,
        drives: by,
        kind: one.trim,
        gain,
        integral,
        limit,
        ...program,
      },
    ]
  })
  const last = s.sections.length - 1
  if (s.control === 'force' && s.sections[last].dancer) {
    found.push({
      control: 'force taper',
      measures: 'rewind',
      drives: `dancer ${last}`,
      tension: `${tension} N`,
      ...s.taper,
    })
  }
  const cell = s.sections[last].rollers.findIndex((r) => r.kind === 'idler')
  if (s.control === 'tension' && s.winding === 'torque' && cell >= 0) {
    found.push({
      control: 'tension trim',
      measures: `idler ${last}${cell}`,
      drives: 'rewind',
      kind: 'torque',
      tension: `${tension} N`,
      gain: '30 %',
      integral: '1 1/s',
      ...s.taper,
    })
  }
  return found
}

/** Where the stage stands: what the next event finds. */
interface Found {
  at: number
  running: boolean
  indexing: boolean
}

/** Mostly events that the line can take; now and then one that it must refuse. */
function eventOf(s: Shape, tension: number, found: Found, e: Shape['events'][number]): Entry {
  const { takes, which, size } = e
  found.at += e.after
  const dancers = s.sections.flatMap((one, k) => (one.dancer ? [k] : []))
  const k = dancers[which % Math.max(1, dancers.length)] ?? 0
  const tapered = s.control === 'force' ? `dancer ${s.sections.length - 1}` : 'rewind'
  const span = `${takes} s`
  const begins = { at: `${found.at.toFixed(3)} s` }
  const roll = (diameter: string, preset: string, calculator: unknown) => ({
    ...{ diameter, core: '90 mm' },
    ...(calculator !== undefined && which > 2 ? { preset } : {}),
  })
  const paste = {
    ...{ film: 'AB'[which % 2], patch: `${30 * (1 + size)} mm` },
    roll: {
      ...roll('0.4 m', '0.41 m', s.unwind.calculator),
      woundTension: `${tension} N`,
      spanChange: `${50 * size} mm`,
    },
  }
  const force = 2 * tension * (1 + 0.2 * size)
  switch (e.what) {
    case 'push':
      if (s.sections[k].air)
        return { ...begins, do: 'dancer pressure', dancer: `dancer ${k}`, to: air(force).pressure, in: span }
      return { ...begins, do: 'dancer force', dancer: `dancer ${k}`, to: `${force} N`, in: span }
    case 'set point':
      return { ...begins, do: e.what, dancer: `dancer ${k}`, to: `${40 * size} mm`, in: span }
    case 'winding tension': {
      const more = which > 2 ? { taper: '20 %' } : {}
      return { ...begins, do: e.what, roller: tapered, to: `${tension * (1 + 0.2 * size)} N`, ...more, in: span }
    }
    case 'free strain':
      return { ...begins, do: e.what, film: 'AB'[which % 2], to: `${0.02 * size} %`, in: span }
    case 'draw':
      return { ...begins, do: e.what, roller: 'nip 1', to: `${0.03 * size} %`, in: span }
    case 'rewind change':
      return { ...begins, do: e.what, roll: roll('0.1 m', '0.11 m', s.rewind.calculator), mismatch: `${size} %` }
    case 'flying splice':
      return { ...begins, do: e.what, ...paste, mismatch: `${0.3 * size} %` }
    case 'zero-speed splice':
      found.at += 0.35
      return { ...begins, do: e.what, ...paste, rampDown: '0.1 s', hold: '0.05 s', rampUp: '0.1 s', refill: '100 %' }
    default:
      found.at += takes + 1e-3
      return speedEvent(e, found, begins, span)
  }
}

/** Changes over, or goes to another speed, as the line stands then. */
function speedEvent({ what, which, size }: Shape['events'][number], found: Found, begins: Entry, span: string): Entry {
  if (found.running && (what === 'changeover' || found.indexing)) {
    found.indexing = !found.indexing
    const to = found.indexing ? 'indexing' : 'continuous'
    return { ...begins, do: 'changeover', roller: 'nip 1', to, phase: `${50 * (1 + size)} %`, in: span }
  }
  const turn = !found.running ? 'start' : which > 2 ? 'stop' : 'speed'
  found.running = turn !== 'stop'
  return { ...begins, do: turn, ...(found.running ? { to: `${0.5 + 0.3 * size} m/s` } : {}), in: span }
}

export const randomDocument: fc.Arbitrary<Document> = shape.map((s) => {
  const tension = s.stress * s.thickness * s.width
  const found = { at: 0.05, running: s.speed > 0, indexing: false }
  const film = {
    ...{ thickness: `${s.thickness} m`, width: `${s.width} m`, modulus: '4.5 GPa', density: '1390 kg/m^3' },
    elasticLimit: '2 %',
  }
  const nip = (k: number) => ({
    ...{ part: 'driven', name: `nip ${k}`, diameter: '0.12 m', wrap: '0 deg', turn: 'left', inertia: '0.02 kg m^2' },
    ...{ drag: '0.05 N m', nip: true, draw: `${100 * s.draw * k} %`, drive: drive(s.following, tension) },
    ...(k === 1 ? { index: s.feed } : {}),
  })
  const middle = s.sections.flatMap((one, k) => [...(k > 0 ? [nip(k)] : []), ...sectionParts(one, k, tension)])
  return {
    ...{ spanwright: 1, title: 'Random line' },
    films: { A: film, B: { ...film, thickness: `${s.thickness * s.other} m`, width: `${s.width * 0.9} m` } },
    line: [
      {
        part: 'unwind',
        name: 'unwind',
        film: 'A',
        diameter: '0.4 m',
        woundTension: `${tension} N`,
        drag: '0.1 N m',
        drive: drive(s.feeding, tension),
        ...s.unwind,
      },
      ...middle,
      {
        part: 'rewind',
        name: 'rewind',
        diameter: '0.2 m',
        drag: '0.1 N m',
        draw: `${100 * s.draw * s.sections.length} %`,
        drive: drive(s.winding, tension, s.taper),
        ...s.rewind,
        ...(s.layOn ? { layOn: { load: '150 N' } } : {}),
      },
    ],
    control: controls(s, tension),
    speed: { start: `${s.speed} m/s`, rounding: '20 %', threadingTension: `${tension} N` },
    stage: s.events.map((e) => eventOf(s, tension, found, e)),
    run: { for: '1.5 s', tick: '10 ms', tolerance: 1e-6 },
  }
})
