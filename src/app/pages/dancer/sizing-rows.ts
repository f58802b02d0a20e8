/** The sizing calculators of the page: what goes in, what comes out, and the limit it is held against. */
import type { FeedSpec } from '../../../line/feed'
import {
  boreFor,
  forceForTension,
  frictionShare,
  pressureForTension,
  storage,
  tensionForPressure,
  travelForHold,
  travelForIndexing,
  travelForMismatch,
  volumeForStiffness,
} from '../../../tune/sizing'
import type { Scenario } from '../../../scenario/schema'
import type { Kind } from '../../../units'
import type { DancerSpec } from './study.svelte'

/** What the calculators start from; SI. */
export interface Basis {
  readonly scenario: Scenario
  readonly dancer: DancerSpec
  /** m/s */
  readonly speed: number
  readonly strands: number
  /** N in one strand */
  readonly tension: number
  /** 1/s; a gain of kind ratio times line speed; 0 without a trim */
  readonly gain: number
}

export interface Input {
  readonly key: string
  readonly label: string
  readonly kind: Kind
  readonly value: (basis: Basis) => number
}

export interface Result {
  readonly label: string
  readonly kind: Kind
  readonly value: number
  /** in words, with what it is held against */
  readonly limit: string
  readonly fits: boolean | undefined
}

export interface Calculator {
  readonly key: string
  readonly title: string
  readonly inputs: readonly Input[]
  readonly results: (given: Readonly<Record<string, number>>, basis: Basis) => Result[]
}

const travelOf = ({ lowerStop, upperStop }: DancerSpec) => upperStop - lowerStop
const input = (key: string, label: string, kind: Kind, value: Input['value']): Input => ({ key, label, kind, value })
const speed = input('speed', 'Line speed', 'speed', (basis) => basis.speed)
const strands = ({ strands }: Basis) => strands

/** Travel held against what the dancer has. */
function travel(value: number, { dancer }: Basis, label = 'Travel needed'): Result {
  const has = travelOf(dancer)
  return { label, kind: 'travel', value, limit: `of the travel of ${dancer.name}`, fits: value <= has }
}

const splice = ({ scenario }: Basis) =>
  scenario.stage.flatMap((event) => (event.do === 'zero-speed splice' ? [event] : []))[0]
const feedOf = ({ scenario }: Basis): FeedSpec | undefined =>
  scenario.line.flatMap((part) => (part.part === 'driven' && part.index ? [part.index] : []))[0]
/** s; of patterns without one a fifth of the move */
const rampOf = (feed: FeedSpec | undefined): number =>
  feed?.pattern === 'trapezoid' ? feed.ramp : (feed?.move ?? 1) / 5
const film = (value: number): Result => ({ label: 'Film stored', kind: 'length', value, limit: '', fits: undefined })

export const calculators: readonly Calculator[] = [
  {
    key: 'hold',
    title: 'A stop of the feed, as at a splice',
    inputs: [
      speed,
      input('down', 'Ramp down', 'time', (basis) => splice(basis)?.rampDown ?? 1.5),
      input('hold', 'Hold', 'time', (basis) => splice(basis)?.hold ?? 2),
      input('up', 'Ramp up', 'time', (basis) => splice(basis)?.rampUp ?? 1.5),
    ],
    results: ({ speed = 0, down = 0, hold = 0, up = 0 }, basis) => {
      const needed = travelForHold({ rampDown: down, hold, rampUp: up }, speed, strands(basis))
      return [film(needed * strands(basis)), travel(needed, basis)]
    },
  },
  {
    key: 'index',
    title: 'An index cycle against even feed',
    inputs: [
      input('pitch', 'Feed of a cycle', 'length', (basis) => feedOf(basis)?.pitch ?? 0.15),
      input('cycle', 'Cycle', 'time', (basis) => (feedOf(basis)?.pitch ?? 0.15) / Math.max(basis.speed, 1e-3)),
      input('move', 'Move', 'time', (basis) => feedOf(basis)?.move ?? 0.7),
      input('ramp', 'Ramp of the move', 'time', (basis) => rampOf(feedOf(basis))),
    ],
    results: ({ pitch = 0, cycle = 0, move = 0, ramp = 0 }, basis) => {
      if (move > cycle || 2 * ramp > move) {
        const limit = 'the move must be no longer than the cycle, and its two ramps no longer than the move'
        return [{ label: 'Film stored', kind: 'length', value: NaN, limit, fits: false }]
      }
      const needed = travelForIndexing({ pattern: 'trapezoid', pitch, move, ramp }, pitch / cycle, strands(basis))
      return [film(needed * strands(basis)), travel(needed, basis)]
    },
  },
  {
    key: 'mismatch',
    title: 'Two speeds that differ',
    inputs: [
      speed,
      input('share', 'They differ by', 'fraction', () => 0.005),
      input('time', 'for', 'time', () => 5),
      input('gain', 'Gain of the trim', 'trimGainSpeed', (basis) => basis.gain),
    ],
    results: ({ speed = 0, share = 0, time = 0, gain = 0 }, basis) => [
      travel(travelForMismatch(share, time, speed, strands(basis)), basis, 'Travel without a trim'),
      gain > 0
        ? travel((Math.abs(share) * speed) / gain, basis, 'Stands off, with this gain and no integral')
        : { label: 'Stands off', kind: 'travel', value: NaN, limit: 'no trim brings it back', fits: false },
    ],
  },
  {
    key: 'storage',
    title: 'Seconds of storage',
    inputs: [speed, input('travel', 'Usable travel', 'travel', ({ dancer }) => travelOf(dancer))],
    results: ({ speed = 0, travel = 0 }, basis) => {
      const { seconds, verdict, say } = storage(travel, strands(basis), speed)
      return [
        {
          label: 'Storage lasts',
          kind: 'time',
          value: seconds ?? NaN,
          limit: verdict === 'stands' ? say : 'at line speed; half a second to a second or more seldom gives trouble',
          fits: verdict !== 'little' && verdict !== 'stands',
        },
      ]
    },
  },
  {
    key: 'cylinder',
    title: 'Cylinder for a tension',
    inputs: [
      input('tension', 'Tension of a strand', 'force', ({ tension }) => tension),
      input('pressure', 'Pressure above atmosphere', 'pressure', ({ dancer }) => dancer.cylinder?.pressure ?? 2e5),
      input('bore', 'Bore', 'diameter', ({ dancer }) => dancer.cylinder?.bore ?? 0.025),
    ],
    results: ({ tension = 0, pressure = 0, bore = 0 }, basis) => {
      const { count = 1, lever = 1 } = basis.dancer.cylinder ?? {}
      const [n, cylinder] = [strands(basis), { bore, count, lever }]
      const usual = { limit: 'usual 0.5 to 4 bar', fits: undefined }
      return [
        {
          label: 'Force on the carriage, weight and spring not counted',
          kind: 'force',
          value: forceForTension(tension, n),
          limit: '',
          fits: undefined,
        },
        {
          label: 'Bore for this pressure',
          kind: 'diameter',
          value: boreFor(tension, n, pressure, cylinder),
          limit: 'usual 16 to 40 mm',
          fits: undefined,
        },
        {
          label: 'Pressure for this bore',
          kind: 'pressure',
          value: pressureForTension(tension, n, cylinder),
          ...usual,
        },
        {
          label: 'Tension from this pressure and bore',
          kind: 'force',
          value: tensionForPressure(pressure, n, cylinder),
          limit: '',
          fits: undefined,
        },
      ]
    },
  },
  {
    key: 'volume',
    title: 'Air volume for a gas spring',
    inputs: [
      input('stiffness', 'Gas spring wanted', 'stiffness', ({ dancer }) => dancer.stiffness || 200),
      input('bore', 'Bore', 'diameter', ({ dancer }) => dancer.cylinder?.bore ?? 0.025),
      input('pressure', 'Pressure above atmosphere', 'pressure', ({ dancer }) => dancer.cylinder?.pressure ?? 2e5),
    ],
    results: ({ stiffness = 1, bore = 0, pressure = 0 }, { dancer }) => {
      const { count = 1, lever = 1, exponent = 1.4 } = dancer.cylinder ?? {}
      const value = volumeForStiffness(stiffness, pressure, { bore, count, lever, exponent })
      const limit = 'behind each piston where the dancer stands, reservoir included'
      return [{ label: 'Air volume', kind: 'volume', value, limit, fits: undefined }]
    },
  },
  {
    key: 'friction',
    title: 'Dry friction',
    inputs: [
      input('friction', 'Friction of seals and guides', 'force', ({ dancer }) => dancer.slidingFriction),
      input('tension', 'Tension of a strand', 'force', ({ tension }) => tension),
    ],
    results: ({ friction = 0, tension = 1 }, basis) => {
      const share = frictionShare(friction, strands(basis), tension)
      const limit = 'of the tension, to either side; 1 to 5 % is usual, less is better'
      return [{ label: 'Tension wanders by', kind: 'fraction', value: share, limit, fits: share <= 0.05 }]
    },
  },
]
