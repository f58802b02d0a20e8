import { readdirSync, readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { film, FilmPath, spansOf } from '../../src/app/drawing/film'
import { boundsOf, elevation, frameOf, toPixels } from '../../src/app/drawing/fit'
import { distance, dot, leftOf, tangent, turned, type Circle } from '../../src/app/drawing/geometry'
import { circlesAt, laidOut, strung, turnedBy, walk } from '../../src/app/drawing/layout'
import { lineOf, type DrawnLine, type Wheel } from '../../src/app/drawing/line'

const wheel = (name: string, more: Partial<Wheel> = {}): Wheel => ({
  kind: 'idler',
  name,
  radius: 0.04,
  core: 0,
  largest: 0.04,
  wrap: Math.PI / 2,
  side: 1,
  free: 0.5,
  carriage: undefined,
  travel: undefined,
  nip: false,
  ...more,
})

const roll = (kind: 'unwind' | 'rewind', free: number): Wheel =>
  wheel(kind, { kind, radius: 0.2, largest: 0.2, core: 0.045, wrap: 0, side: undefined, free })

const travel = { lower: -0.1, upper: 0.1, setPoint: 0, stores: 'down', arm: undefined } as const

const sides = fc.constantFrom<1 | -1>(1, -1)
const wheels = fc.array(
  fc.record({
    radius: fc.double({ min: 0.02, max: 0.1, noNaN: true }),
    wrap: fc.double({ min: 0, max: 3.4, noNaN: true }),
    side: sides,
    free: fc.double({ min: 0.05, max: 3, noNaN: true }),
  }),
  { minLength: 1, maxLength: 8 },
)
const lineWith = (list: readonly Partial<Wheel>[]): DrawnLine => ({
  wheels: [
    roll('unwind', 0.7),
    ...list.map((one, i) => wheel(`idler ${i}`, { largest: one.radius ?? 0.04, ...one })),
    roll('rewind', 0),
  ],
})

/** Distance of a circle's centre from the straight's line, on the left of the film. */
const offLine = (circle: Circle, from: { x: number; y: number }, heading: number): number =>
  dot({ x: circle.x - from.x, y: circle.y - from.y }, leftOf(heading))

describe('a line laid out', () => {
  test('has the stated free lengths and wraps, whatever they are', () => {
    fc.assert(
      fc.property(wheels, (list) => {
        const line = lineWith(list)
        const strings = film(laidOut(line).map(({ circle }) => circle))
        strings.straights.forEach(({ length }, j) => expect(length).toBeCloseTo(line.wheels[j]?.free ?? NaN, 6))
        strings.wraps.forEach((wrap, i) => expect(wrap).toBeCloseTo(line.wheels[i]?.wrap ?? NaN, 6))
      }),
    )
  })

  test('turns left round a roller whose centre is on the left of the film', () => {
    const [, left] = walk([roll('unwind', 1), wheel('a', { side: 1, free: 1 }), roll('rewind', 0)], 0)
    expect(left?.circle).toMatchObject({ x: expect.closeTo(1, 9) as number, y: expect.closeTo(0.04, 9) as number })
    const [, , rewind] = walk([roll('unwind', 1), wheel('a', { side: 1, free: 1 }), roll('rewind', 0)], 0)
    // Film that ran to the right leaves upward, and meets a roll whose centre lies left of it.
    expect(rewind?.circle.x).toBeCloseTo(1.04 - 0.2, 9)
    expect(rewind?.circle.y).toBeCloseTo(1.04, 9)
  })

  test('turned as a whole it keeps its lengths', () => {
    const flat = laidOut(lineWith([{ wrap: 1, side: -1 }, { wrap: 2 }]))
    const lengths = (layout: typeof flat) => strung(layout.map(({ circle }) => circle)).map(({ length }) => length)
    lengths(turnedBy(flat, 1.1)).forEach((length, j) => expect(length).toBeCloseTo(lengths(flat)[j] ?? NaN, 9))
  })
})

describe('film between circles', () => {
  test('touches both, on the side that each turns it to', () => {
    const place = fc.double({ min: -2, max: 2, noNaN: true })
    const circle = fc.record({
      x: place,
      y: place,
      radius: fc.double({ min: 0.01, max: 0.3, noNaN: true }),
      side: sides,
      wrap: fc.constant(1),
    })
    fc.assert(
      fc.property(circle, circle, (a, b) => {
        fc.pre(distance(a, b) > a.radius + b.radius + 1e-3)
        const { from, to, heading, length } = tangent(a, b)
        expect(distance(from, to)).toBeCloseTo(length, 9)
        for (const [at, { side, radius, ...centre }] of [
          [from, a],
          [to, b],
        ] as const) {
          expect(distance(at, centre)).toBeCloseTo(radius, 9)
          expect(offLine({ ...centre, side, radius }, from, heading)).toBeCloseTo(side * radius, 9)
        }
      }),
    )
  })

  test('between circles that overlap has no length, and a place all the same', () => {
    const circle: Circle = { x: 0, y: 0, radius: 0.3, side: 1, wrap: 1 }
    const { length, heading, from } = tangent(circle, { ...circle, x: 0.1, side: -1 })
    expect(length).toBe(0)
    expect([heading, from.x, from.y].every(Number.isFinite)).toBe(true)
  })

  test('a wrap a rounding below none is none, and one of a whole turn is whole', () => {
    const circle = { x: 0, y: 0, radius: 1, side: 1 } as const
    expect(turned({ ...circle, wrap: 0 }, 0, -1e-12)).toBe(0)
    expect(turned({ ...circle, wrap: 2 * Math.PI }, 0, -1e-12)).toBeCloseTo(2 * Math.PI, 9)
    expect(turned({ ...circle, side: -1, wrap: 1 }, 0, -1.1)).toBeCloseTo(1.1, 9)
  })
})

/** Film from the first roll to the last, arcs included. */
function filmLength(circles: readonly Circle[]): number {
  const { straights, wraps } = film(circles)
  const arcs = circles.map(({ radius }, i) => radius * (wraps[i] ?? 0))
  return [...straights.map(({ length }) => length), ...arcs].reduce((sum, length) => sum + length, 0)
}

describe('a dancer', () => {
  const dancer = (wrap: number, arm?: number) => {
    const moving = wheel('dancer', { kind: 'dancer', wrap, side: -1, carriage: 'dancer', travel: { ...travel, arm } })
    return laidOut({
      wheels: [roll('unwind', 0.8), wheel('a'), moving, wheel('b'), roll('rewind', 0)],
    })
  }
  const at = (layout: ReturnType<typeof dancer>, z: number) =>
    circlesAt(layout, { positions: new Map([['dancer', z]]), radii: new Map() })

  test.each([Math.PI, 2, 1, 0.3])('moved by z takes 2 sin(wrap/2) z more film, wrap %f', (wrap) => {
    for (const arm of [undefined, 0.4]) {
      const layout = dancer(wrap, arm)
      const [before, after] = [-1e-5, 1e-5].map((z) => filmLength(at(layout, z)))
      expect(((after ?? NaN) - (before ?? NaN)) / 2e-5).toBeCloseTo(2 * Math.sin(wrap / 2), 5)
    }
  })

  test('on a swing arm stays at the arm from its pivot', () => {
    const layout = dancer(2, 0.4)
    const [rest, moved] = [0, 0.2].map((z) => at(layout, z)[2])
    const chord = 2 * 0.4 * Math.sin(0.2 / 0.4 / 2)
    expect(rest && moved && distance(rest, moved)).toBeCloseTo(chord, 9)
  })

  test('takes along the idlers that ride on it, and nothing else', () => {
    const rider = { carriage: 'dancer', travel, wrap: Math.PI } as const
    const line: DrawnLine = {
      wheels: [
        roll('unwind', 1),
        wheel('dancer', { kind: 'dancer', ...rider, side: -1 }),
        wheel('top', { wrap: Math.PI }),
        wheel('second', { ...rider, side: -1 }),
        roll('rewind', 0),
      ],
    }
    const layout = laidOut(line)
    const moved = at(layout, 0.1).map((circle, i) => distance(circle, layout[i]?.circle ?? circle))
    ;[0, 0.1, 0, 0.1, 0].forEach((by, i) => expect(moved[i]).toBeCloseTo(by, 9))
  })
})

test('a roll grows about its centre, and film stays tangent to it', () => {
  const layout = laidOut(lineWith([{}]))
  const circles = circlesAt(layout, { positions: new Map(), radii: new Map([['rewind', 0.3]]) })
  const [before, after] = [layout.at(-1)?.circle, circles.at(-1)]
  expect([after?.x, after?.y, after?.radius]).toEqual([before?.x, before?.y, 0.3])
  const last = strung(circles).at(-1)
  expect(last && after && Math.abs(offLine(after, last.from, last.heading))).toBeCloseTo(0.3, 9)
})

const folder = 'scenarios'
const shipped = readdirSync(folder).filter((name) => name.endsWith('.json'))
const read = (name: string): DrawnLine => {
  const line = lineOf(JSON.parse(readFileSync(`${folder}/${name}`, 'utf8')))
  if (!line) throw new Error(`${name} cannot be drawn.`)
  return line
}

describe.each(shipped)('%s', (name) => {
  const box = { width: 640, height: 240 }

  test('lies within its box, dancers at either stop and rolls at their largest', () => {
    const { layout, frame } = elevation(read(name), box)
    const { low, high } = boundsOf(layout)
    for (const corner of [low, high]) {
      const { x, y } = toPixels(frame, corner)
      expect(x >= 0 && x <= box.width && y >= 0 && y <= box.height).toBe(true)
    }
    expect(frame).toEqual(frameOf({ low, high }, box))
  })

  test('has its stated lengths, and a path for each span, tight or hanging', () => {
    const line = read(name)
    const { layout, frame, falls } = elevation(line, box)
    const strings = film(circlesAt(layout, { positions: zeroes(line), radii: new Map() }))
    strings.straights.forEach(({ length }, j) => expect(length).toBeCloseTo(line.wheels[j]?.free ?? NaN, 9))
    const path = new FilmPath(strings, frame, falls)
    const spans = spansOf(line.wheels)
    expect(spans.length).toBe(line.wheels.filter(({ kind }) => kind !== 'bar').length - 1)
    for (const span of spans) {
      expect(path.of(span, false)).toMatch(/^M[-\d. ]+([LA][-\d. ]+)+$/)
      expect(path.of(span, true)).toMatch(/^M[-\d. ]+([QA][-\d. ]+)+$/)
    }
  })

  test('has a dancer that moves the way it is said to, and none that moves the opposite way', () => {
    const { layout, falls } = elevation(read(name), box)
    const dancers = layout.flatMap(({ wheel, storing }) => {
      if (wheel.kind !== 'dancer') return []
      const falling = dot(storing, falls)
      return [{ level: 1 - Math.abs(falling), down: falling, up: -falling }[wheel.travel?.stores ?? 'level']]
    })
    if (dancers.length > 0) expect(Math.max(...dancers)).toBeCloseTo(1, 6)
    for (const right of dancers) expect(right).toBeGreaterThan(0)
  })
})

test('a line of level dancers is laid on its side where that shows more of it, and says where things fall', () => {
  const tall = read('loop-too-slow.json')
  expect(elevation(tall, { width: 640, height: 240 }).falls.y).toBeCloseTo(0, 9)
  expect(elevation(tall, { width: 240, height: 640 }).falls).toEqual({ x: 0, y: -1 })
  expect(elevation(read('zero-speed-splice.json'), { width: 240, height: 640 }).falls).toEqual({ x: 0, y: -1 })
})

const zeroes = ({ wheels: list }: DrawnLine) => new Map(list.map(({ name }) => [name, 0]))

test('what cannot be run is not drawn', () => {
  expect(lineOf(null)).toBeUndefined()
  expect(lineOf({ spanwright: 1, line: [] })).toBeUndefined()
})
