/** A map as a picture: its boundary where the figure passes the level, what has no figure, and readings between cells. */
import { describe, expect, test } from 'vitest'
import { inPicture, layersOf, readGrid, stepOf, type Grid, type Step } from '../../src/app/pages/dancer/map-picture'

function grid(f: (x: number, y: number) => number, n: number): Grid {
  const values = Array.from({ length: n * n }, (_, k) => f((k % n) / (n - 1), Math.floor(k / n) / (n - 1)))
  return { columns: n, rows: n, values }
}

const steps: readonly Step[] = [
  { from: -Infinity, name: 'below' },
  { from: 0.3, name: 'above' },
]

/** Points of the rings of the one layer, across and up. */
function rings(of: Grid): [number, number][][] {
  const path = layersOf(of, steps)[0]?.path ?? ''
  return path
    .split('M')
    .filter((ring) => ring !== '')
    .map((ring) =>
      ring
        .replace('Z', '')
        .split('L')
        .map((pair): [number, number] => {
          const [x = NaN, y = NaN] = pair.split(' ').map(Number)
          return [x, 1 - y]
        }),
    )
}

const inside = ([x, y]: [number, number]) => x > 0.02 && x < 0.98 && y > 0.02 && y < 0.98

describe('the boundary', () => {
  test('of a slope is the straight line that it is', () => {
    const points = rings(grid((x, y) => x + y - 0.4, 21))
      .flat()
      .filter(inside)
    expect(points.length).toBeGreaterThan(5)
    for (const [x, y] of points) expect(x + y).toBeCloseTo(0.7, 3)
  })

  test('of a hill is a circle with its area, up being up', () => {
    const [ring = []] = rings(grid((x, y) => 0.5 - Math.hypot(x - 0.5, y - 0.6), 61))
    const area = ring.reduce((sum, [x, y], k) => {
      const [nextX, nextY] = ring[(k + 1) % ring.length] ?? [x, y]
      return sum + (x * nextY - nextX * y) / 2
    }, 0)
    expect(Math.abs(area)).toBeCloseTo(Math.PI * 0.2 ** 2, 3)
    expect(ring.reduce((sum, [, y]) => sum + y / ring.length, 0)).toBeCloseTo(0.6, 2)
  })

  test('what has no figure lies on the side that does not settle', () => {
    const points = rings(grid((x) => (x < 0.5 ? NaN : 1), 11)).flat()
    for (const [x] of points) expect(x).toBeGreaterThan(0.35)
  })
})

describe('readings', () => {
  test('lie evenly between four cells, and end at the edge: nothing is known of what lies outside', () => {
    const slope = grid((x, y) => 2 * x - 3 * y, 5)
    expect(readGrid(slope, 0.33, 0.71)).toBeCloseTo(2 * 0.33 - 3 * 0.71, 12)
    expect(readGrid(slope, 1 + 1e-15, 0)).toBeCloseTo(2, 12)
    for (const [x, y] of [
      [1.4, 0.5],
      [0.5, -0.01],
      [-Infinity, 0.5],
      [0.5, NaN],
    ]) {
      expect(readGrid(slope, x ?? 0, y ?? 0)).toBeNaN()
      expect(inPicture(x ?? 0, y ?? 0)).toBe(false)
    }
    expect(inPicture(0, 1)).toBe(true)
    expect(readGrid({ ...slope, values: slope.values.map(() => NaN) }, 0.5, 0.5)).toBeNaN()
  })

  test('fall into the step that they have reached', () => {
    expect(stepOf(0.29, steps)?.name).toBe('below')
    expect(stepOf(0.3, steps)?.name).toBe('above')
    expect(stepOf(NaN, steps)).toBeUndefined()
  })
})
