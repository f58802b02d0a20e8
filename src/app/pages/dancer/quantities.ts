/** What a map can have along its sides: the point of the line, and the numbers of the dancer and the loop in hand. */
import type { Axis } from '../../../tune/map'
import { quantityAt } from '../../../tune/map'
import type { Scenario } from '../../../scenario/schema'
import type { Kind } from '../../../units'
import { diametersOf, type DancerSpec, type LoopName } from './study.svelte'

export interface Side {
  /** as the map takes it */
  readonly path: string
  readonly name: string
  readonly kind: Kind
  /** SI; the present value */
  readonly value: number
  /** the way it is laid out when nobody says otherwise */
  readonly axis: Axis
}

interface Wish {
  readonly path: string
  readonly name: string
  /** SI, range where the present value is none to build one round */
  readonly usual: readonly [number, number]
}

/** How far to either side of the present value a side reaches. */
const reach = 20

export function sidesOf(scenario: Scenario, dancer: DancerSpec | undefined, loop: LoopName | undefined): Side[] {
  const speed = scenario.speed.start
  const [unwind, rewind] = [diametersOf(scenario, 'unwind'), diametersOf(scenario, 'rewind')]
  const fixed = [
    sideOf(scenario, 'speed', 'Line speed', { path: 'speed', from: speed / 8, to: speed * 8, scale: 'log' }),
    sideOf(scenario, 'unwind diameter', 'Unwind diameter', linear('unwind diameter', unwind)),
    sideOf(scenario, 'rewind diameter', 'Rewind diameter', linear('rewind diameter', rewind)),
  ]
  const wishes: Wish[] = [...dancerWishes(dancer), ...loopWishes(scenario, loop), ...filmWishes(scenario)]
  return [
    ...(speed > 0 ? fixed : fixed.slice(1)).flatMap((side) => side ?? []),
    ...wishes.flatMap(({ path, name, usual }) => {
      const quantity = quantityAt(scenario, path)
      const value = quantity.ok ? quantity.value : undefined
      const axis = round(path, value, usual)
      return sideOf(scenario, path, name, axis) ?? []
    }),
  ]
}

const linear = (path: string, { core, full }: { core: number; full: number }): Axis => ({
  path,
  from: core,
  to: full,
  scale: 'linear',
})

function round(path: string, value: number | undefined, [low, high]: readonly [number, number]): Axis {
  if (value === undefined || value <= 0) return { path, from: low, to: high, scale: low > 0 ? 'log' : 'linear' }
  return { path, from: value / reach, to: value * reach, scale: 'log' }
}

function sideOf(scenario: Scenario, path: string, name: string, axis: Axis): Side | undefined {
  const quantity = quantityAt(scenario, path)
  if (!quantity.ok || quantity.kind === undefined) return undefined
  const from = Math.max(axis.from, quantity.least)
  const to = Math.min(axis.to, quantity.most)
  return { path, name, kind: quantity.kind, value: quantity.value ?? 0, axis: { ...axis, from, to } }
}

function dancerWishes(dancer: DancerSpec | undefined): Wish[] {
  if (!dancer) return []
  const base = `line/${dancer.name}`
  return [
    { path: `${base}/mass`, name: 'Moving mass', usual: [1, 20] },
    { path: `${base}/stiffness`, name: 'Stiffness', usual: [10, 2000] },
    { path: `${base}/damping`, name: 'Damping', usual: [1, 500] },
  ]
}

function loopWishes({ control }: Scenario, loop: LoopName | undefined): Wish[] {
  const own = loop && control[loop.control]
  if (!own || own.control === 'force taper') return []
  const base = `control/${loop.control}`
  const sampled: Wish[] =
    own.program === undefined
      ? []
      : [
          { path: `${base}/program/sample`, name: 'Sample time', usual: [0.004, 0.02] },
          { path: `${base}/program/filter`, name: 'Filter time', usual: [0.005, 0.5] },
        ]
  return [
    { path: `${base}/gain`, name: 'Gain', usual: [0.1, 10] },
    { path: `${base}/integral`, name: 'Integral gain', usual: [0.01, 10] },
    ...sampled,
  ]
}

function filmWishes({ films }: Scenario): Wish[] {
  const [first] = Object.keys(films)
  return first === undefined
    ? []
    : [
        { path: `films/${first}/modulus`, name: `Modulus of film ${first}`, usual: [1e9, 6e9] },
        { path: `films/${first}/thickness`, name: `Thickness of film ${first}`, usual: [12e-6, 125e-6] },
      ]
}
