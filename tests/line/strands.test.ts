/** How a carriage's position lengthens its strands: against coordinate geometry and finite differences. Own derivation. */
import { describe, expect, test } from 'vitest'
import { Strands } from '../../src/line/strands'
import { dancer, evaluate, finish, idler, pointOf, powerGap, rewind, runOf, span, trim, unwind } from './rig'

const radians = (degrees: number) => (degrees * Math.PI) / 180

function strandsOf(arm: number | undefined, wrap: number, free: readonly [number, number]): Strands {
  const strands = new Strands(arm)
  strands.add(3, wrap, free)
  return strands
}

/** Lengths of both strands when the arm, pivoted at (0, -arm), has turned its roller by an arc of z: by coordinates. */
function byCoordinates(arm: number, wrap: number, free: readonly [number, number], z: number): number[] {
  const phi = z / arm
  const roller = [arm * Math.sin(phi), -arm + arm * Math.cos(phi)]
  return [1, -1].map((side, k) => {
    const end = [-free[k] * Math.sin(wrap / 2), -side * free[k] * Math.cos(wrap / 2)]
    return Math.hypot(roller[0] - end[0], roller[1] - end[1]) - free[k]
  })
}

const arms = [
  [0.4, 180, 0.5, 0.5],
  [0.3, 120, 0.4, 0.9],
  [0.25, 60, 0.3, 0.6],
  [0.6, 220, 0.5, 0.8],
] as const

describe.each(arms)('a swing arm of %d m, wrap %d deg, strands of %d and %d m', (arm, degrees, before, after) => {
  const wrap = radians(degrees)
  const strands = strandsOf(arm, wrap, [before, after])

  test.each([-0.15, -0.04, 0, 0.07, 0.2])('at %d m: lengths by coordinates, shares by difference', (z) => {
    const step = 1e-6
    const at = (where: number) => {
      strands.place(where)
      return [...strands.longer]
    }
    const [low, high] = [at(z - step), at(z + step)]
    const expected = byCoordinates(arm, wrap, [before, after], z)
    const found = at(z)
    expect(strands.spans).toEqual([3, 4])
    for (const k of [0, 1]) {
      expect(found[k]).toBeCloseTo(expected[k], 13)
      expect(strands.shares[k]).toBeCloseTo((high[k] - low[k]) / (2 * step), 8)
    }
    expect(strands.total()).toBeCloseTo(strands.shares[0] + strands.shares[1], 14)
  })

  test('in its middle it pulls like a straight guide', () => {
    strands.place(0)
    for (const share of strands.shares) expect(share).toBeCloseTo(Math.sin(wrap / 2), 14)
  })
})

test('on a straight guide shares stay, and a span between two rollers of one carriage is lengthened by both', () => {
  const strands = new Strands(undefined)
  strands.add(1, Math.PI, [1, 1])
  strands.add(2, radians(90), [1, 1])
  strands.place(0.04)
  expect(strands.spans).toEqual([1, 2, 3])
  const diagonal = Math.SQRT1_2
  strands.shares.forEach((share, k) => expect(share).toBeCloseTo([1, 1 + diagonal, diagonal][k], 14))
  strands.longer.forEach((longer, k) => expect(longer).toBeCloseTo(0.04 * [1, 1 + diagonal, diagonal][k], 14))
})

const arm = (setPoint: number, changes = {}) => [
  ...[unwind(100), span(0.5, 1e-3), idler('before'), span(0.5, 1e-3)],
  dancer('dancer', { arm: '0.3 m', setPoint: `${setPoint} m`, ...changes }),
  ...[span(0.5, 1e-3), rewind()],
]

describe('tension over the swing of the arm', () => {
  const tension = (z: number, wrap: number) => {
    const line = arm(z, { wrap: `${wrap} deg`, force: `${200 * Math.sin(radians(wrap) / 2)} N` })
    return evaluate(runOf({ line, speed: 0 })).spans.force[2]
  }

  test('strands square to the arm: constant to second order', () => {
    const off = (z: number) => tension(z, 180) / 100 - 1
    expect(Math.abs(off(0))).toBeLessThan(1e-9)
    for (const z of [0.03, -0.03]) {
      expect(Math.abs(off(z))).toBeLessThan(0.01)
      expect(off(2 * z) / off(z)).toBeGreaterThan(3.5)
      expect(off(2 * z) / off(z)).toBeLessThan(4.5)
    }
  })

  test('strands at a right angle to each other: falls by cos^2/(sin L) for every metre, 1/L of both 0.5 m strands', () => {
    const slope = (tension(0.001, 90) - tension(-0.001, 90)) / 0.002 / 100
    expect(slope).toBeCloseTo(-(Math.cos(Math.PI / 4) ** 2) / Math.sin(Math.PI / 4) / 0.5, 3)
  })

  test('its weight turns with it', () => {
    const line = arm(0.1, { stores: 'down', force: '100 N' })
    const { carriages } = pointOf({ line, speed: 0 }).line
    expect(carriages[0].drivingForce(0.1)).toBeCloseTo(100 + 4 * 9.80665 * Math.cos(0.1 / 0.3), 12)
  })
})

test('power balance of a running line whose arm swings by 20 deg', () => {
  const line = arm(0, { stiffness: '100 N/m', damping: '20 N s/m', stores: 'down', force: '150 N' })
  const control = [trim('dancer', 'unwind', { gain: '3 1/s', integral: '1 1/s^2' })]
  const stage = [{ at: '0.1 s', do: 'set point', dancer: 'dancer', to: '110 mm', in: '0.3 s' }]
  const run = runOf({ line, control, stage, duration: 2.5 })
  let [largest, swing] = [0, 0]
  finish(run, (now) => {
    const { gap, passing } = powerGap(now)
    largest = Math.max(largest, gap / passing)
    swing = Math.max(swing, now.y[now.line.carriages[0].state])
  })
  expect(swing).toBeGreaterThan(0.1)
  expect(largest).toBeLessThan(1e-6)
})
