import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { alongLine, aroundPoint, firstFree } from '../../src/app/charts/labels'
import { gathered, laidOut } from '../../src/app/charts/moments'
import {
  dancerRange,
  extremes,
  limitFits,
  padded,
  speedRange,
  tensionRange,
  timeRange,
  type Range,
} from '../../src/app/charts/ranges'
import { drawStroke, evenPlace, samplesUntil, visible } from '../../src/app/charts/strokes'
import { afterKey, shifted, spanned, zoomed } from '../../src/app/charts/window'

const number = fc.double({ min: -1e6, max: 1e6, noNaN: true })
const data = fc.option(
  fc.tuple(number, number).map(([a, b]): Range => ({ min: Math.min(a, b), max: Math.max(a, b) })),
  { nil: undefined },
)
const sound = ({ min, max }: Range) => Number.isFinite(min) && Number.isFinite(max) && max > min
const limits = { least: 20, most: 136, elastic: 340 }

describe('axis ranges', () => {
  test('are finite, not empty, and hold the data, whatever comes in', () => {
    fc.assert(
      fc.property(data, fc.boolean(), (range, whole) => {
        const ranges = [
          padded(range, 1),
          tensionRange(range, limits, whole),
          tensionRange(range, undefined, whole),
          speedRange(range, 0.1),
          dancerRange(range, { min: -90, max: 90 }, 0.5),
        ]
        for (const found of ranges) {
          expect(sound(found)).toBe(true)
          if (range) expect(found.min <= range.min && found.max >= range.max).toBe(true)
        }
      }),
    )
  })

  test('a flat signal stands in the middle of a range that means something', () => {
    expect(padded({ min: 150, max: 150 }, 1)).toEqual({ min: 149.42, max: 150.58 })
    expect(speedRange({ min: 6, max: 6 }, 0.1).max).toBeLessThan(6.2)
    expect(speedRange({ min: 0, max: 0 }, 0.1).min).toBeLessThan(0)
  })

  test('the elastic limit comes into the picture as long as the traces stay readable, or when asked for', () => {
    expect(limitFits({ min: 0, max: 97 }, limits)).toBe(true)
    expect(limitFits({ min: 0, max: 60 }, limits)).toBe(false)
    expect(tensionRange({ min: 40, max: 60 }, limits, true).max).toBeGreaterThan(340)
    expect(tensionRange({ min: 40, max: 60 }, limits, false).max).toBeLessThan(136)
  })

  test('time never leaves the run', () => {
    fc.assert(
      fc.property(number, number, (from, to) => {
        const range = timeRange(from, to, 20)
        expect(sound(range) && range.min >= 0 && range.max <= 20).toBe(true)
      }),
    )
    expect(timeRange(3, 3, 20)).toEqual({ min: 0, max: 20 })
  })

  test('extremes are those of the samples asked for', () => {
    const columns = [Float64Array.of(5, 1, 2, 9), Float64Array.of(0, 3, 4, 0)]
    expect(extremes(columns, 1, 2)).toEqual({ min: 1, max: 4 })
    expect(extremes(columns, 3, 1)).toBeUndefined()
    expect(extremes([], 0, 3)).toBeUndefined()
  })
})

/** A pen that remembers its strokes. */
function pen() {
  const strokes: [number, number][][] = []
  return {
    strokes,
    moveTo: (x: number, y: number) => void strokes.push([[x, y]]),
    lineTo: (x: number, y: number) => void strokes.at(-1)?.push([x, y]),
  }
}
const same = (value: number) => value

describe('strokes', () => {
  test('the pen lifts where a new stroke begins, also between two samples at one instant', () => {
    const drawn = pen()
    const stroke = { time: Float64Array.of(0, 10, 10, 20), values: Float64Array.of(1, 2, 7, 8), lifts: [2] }
    drawStroke(drawn, stroke, 0, 3, same, same)
    expect(drawn.strokes).toEqual([
      [
        [0, 1],
        [10, 2],
      ],
      [
        [10, 7],
        [20, 8],
      ],
    ])
  })

  test('a stroke goes on where it was left, unless the pen lifts there', () => {
    const stroke = { time: Float64Array.of(0, 10, 20), values: Float64Array.of(1, 2, 3), lifts: [] }
    const drawn = pen()
    drawStroke(drawn, stroke, 0, 1, same, same)
    drawStroke(drawn, stroke, 2, 2, same, same, true)
    expect(drawn.strokes).toEqual([
      [
        [0, 1],
        [10, 2],
        [20, 3],
      ],
    ])
    drawStroke(drawn, { ...stroke, lifts: [2] }, 2, 2, same, same, true)
    expect(drawn.strokes).toHaveLength(2)
  })

  test('a lift before the part in view does not cut it, one at its first sample neither', () => {
    for (const from of [2, 3]) {
      const drawn = pen()
      const stroke = { time: Float64Array.of(0, 10, 20, 30, 40), values: new Float64Array(5), lifts: [2] }
      drawStroke(drawn, stroke, from, 4, same, same)
      expect(drawn.strokes).toHaveLength(1)
    }
  })

  test('however many samples share a pixel, its lowest and highest are drawn', () => {
    fc.assert(
      fc.property(
        fc.array(number, { minLength: 1, maxLength: 60 }),
        fc.integer({ min: 1, max: 20 }),
        (list, perPixel) => {
          const drawn = pen()
          const values = Float64Array.from(list)
          const time = values.map((_, i) => i)
          const pixel = (t: number) => Math.floor(t / perPixel)
          drawStroke(drawn, { time, values, lifts: [] }, 0, list.length - 1, pixel, same)
          const points = drawn.strokes.flat()
          for (let column = 0; column <= pixel(list.length - 1); column++) {
            const there = points.filter(([x]) => x === column).map(([, y]) => y)
            const samples = list.slice(column * perPixel, (column + 1) * perPixel)
            expect([Math.min(...there), Math.max(...there)]).toEqual([Math.min(...samples), Math.max(...samples)])
            expect([there[0], there.at(-1)]).toEqual([samples[0], samples.at(-1)])
          }
        },
      ),
    )
  })

  test('what is in view reaches one sample beyond either end', () => {
    const time = Float64Array.of(0, 1, 2, 3, 4, 5)
    expect(samplesUntil(time, 6, 2)).toBe(3)
    expect(visible(time, 6, 1.5, 3.5)).toEqual({ from: 1, to: 4 })
    expect(visible(time, 6, 0, 5)).toEqual({ from: 0, to: 5 })
    expect(visible(new Float64Array(), 0, 0, 5)).toEqual({ from: 0, to: -1 })
  })

  test('an even place agrees with the one it was made from', () => {
    const place = (value: number) => 40 + value * -3
    expect(evenPlace(place, 10, 70)(35)).toBeCloseTo(place(35), 12)
  })
})

describe('labels', () => {
  const frame = { left: 0, top: 0, width: 300, height: 100 }

  test('the first place that is free and inside is taken', () => {
    const taken = [{ left: 107, top: 20, width: 50, height: 15 }]
    expect(firstFree(aroundPoint(100, 42, 50, 15, 7), [], frame)).toMatchObject({ left: 107, top: 20 })
    expect(firstFree(aroundPoint(100, 42, 50, 15, 7), taken, frame)).toMatchObject({ left: 43, top: 20 })
    expect(firstFree(aroundPoint(290, 42, 50, 15, 7), [], frame)).toMatchObject({ left: 233 })
  })

  test('where there is no room there is no label', () => {
    expect(firstFree(alongLine([40], 400, 15, frame), [], frame)).toBeUndefined()
    expect(firstFree(alongLine([40], 60, 15, frame), [frame], frame)).toBeUndefined()
  })

  test('names on the time axis do not cover each other, and none beyond the axis', () => {
    const place = (time: number) => time * 10
    const laid = laidOut(
      [0, 1, 2, 3, 20, 99].map((at) => ({ at, label: 'splice passes' })),
      place,
      400,
      2,
    )
    expect(laid.map(({ row }) => row)).toEqual([0, 1, -1, -1, 0])
    for (const row of [0, 1]) {
      const boxes = laid.filter((label) => label.row === row)
      boxes
        .slice(1)
        .forEach((box, i) => expect(box.left).toBeGreaterThanOrEqual((boxes[i]?.left ?? 0) + (boxes[i]?.width ?? 0)))
    }
  })
})

describe('moments', () => {
  const often = [1, 2, 3, 12, 13].map((at) => ({ at, label: 'idler: slack' }))

  test('repeats in a row are told once, with their number, whatever lies between', () => {
    const all = [...often, { at: 2.5, label: 'dancer: stop touched' }].sort((a, b) => a.at - b.at)
    expect(gathered(all, { min: 0, max: 20 }).map(({ at, label }) => [at, label])).toEqual([
      [1, 'idler: slack, 3 times'],
      [2.5, 'dancer: stop touched'],
      [12, 'idler: slack, 2 times'],
    ])
  })

  test('the closer one looks the fewer are put together, and those out of sight do not count', () => {
    expect(gathered(often, { min: 0, max: 5 }).map(({ label }) => label)).toEqual(Array(3).fill('idler: slack'))
  })
})

describe('the window of time', () => {
  const run = { duration: 20, tick: 0.01 }
  const whole = { min: 0, max: 20 }

  test('zooming keeps the instant in its place and stays within the run', () => {
    expect(zoomed(whole, 5, 0.5, 20, 0.01)).toEqual({ min: 2.5, max: 12.5 })
    expect(zoomed({ min: 2.5, max: 12.5 }, 5, 4, 20, 0.01)).toEqual(whole)
    const closest = zoomed({ min: 5, max: 5.05 }, 5.02, 0.5, 20, 0.01)
    expect(closest.max - closest.min).toBeCloseTo(0.05, 9)
  })

  test('moving stops at the ends', () => {
    expect(shifted({ min: 2, max: 6 }, -5, 20)).toEqual({ min: 0, max: 4 })
    expect(shifted({ min: 2, max: 6 }, 50, 20)).toEqual({ min: 16, max: 20 })
  })

  test('a stretch chosen by hand has a least length; all of it is no zoom', () => {
    expect(spanned(5, 8, 20, 0.01)).toEqual({ min: 5, max: 8 })
    expect(spanned(-1, 30, 20, 0.01)).toBeNull()
    const least = spanned(5, 5, 20, 0.01)
    expect((least?.max ?? 0) - (least?.min ?? 0)).toBeCloseTo(0.05, 9)
  })

  test('keys move the cursor within the run, and the window with it', () => {
    const view = { cursor: 5, window: { min: 4, max: 6 } }
    expect(afterKey('ArrowRight', false, view, run)?.cursor).toBeCloseTo(5.02, 9)
    expect(afterKey('ArrowRight', true, view, run)?.cursor).toBeCloseTo(5.2, 9)
    expect(afterKey('End', false, view, run)).toEqual({ cursor: 20, window: { min: 18, max: 20 } })
    expect(afterKey('Home', false, view, run)).toEqual({ cursor: 0, window: { min: 0, max: 2 } })
    expect(afterKey('ArrowLeft', false, { cursor: 0, window: whole }, run)?.cursor).toBe(0)
    expect(afterKey('0', false, view, run)).toEqual({ cursor: 5, window: whole })
    expect(afterKey('x', false, view, run)).toBeUndefined()
  })
})
