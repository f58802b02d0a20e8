import { afterAll, expect, test, vi } from 'vitest'
import { Frames } from '../../src/app/charts/frames'
import { Outline, Outlines } from '../../src/app/charts/outline'

/** Remembers its points, strokes apart. */
class Points {
  readonly strokes: [number, number][][] = []
  moveTo(x: number, y: number): void {
    this.strokes.push([[x, y]])
  }
  lineTo(x: number, y: number): void {
    this.strokes.at(-1)?.push([x, y])
  }
}
vi.stubGlobal('Path2D', Points)
afterAll(() => vi.unstubAllGlobals())

const strokesOf = (outline: Outline) => (outline.path as unknown as Points).strokes
const stroke = {
  time: Float64Array.of(0, 1, 2, 3, 4),
  values: Float64Array.of(5, 6, 7, 8, 9),
  lifts: [3],
}
const across = { start: 100, slope: 10 }

test('an outline grows by what is new, and is the same as one drawn at once', () => {
  const [grown, whole] = [new Outline(), new Outline()]
  grown.reach(stroke, 0, 1, across)
  const { path } = grown
  for (const to of [1, 3, 4]) grown.reach(stroke, 0, to, across)
  whole.reach(stroke, 0, 4, across)
  expect(grown.path).toBe(path)
  expect(strokesOf(grown)).toEqual(strokesOf(whole))
  expect(strokesOf(whole)).toEqual([
    [
      [100, 5],
      [110, 6],
      [120, 7],
    ],
    [
      [130, 8],
      [140, 9],
    ],
  ])
})

test('another stretch of time begins it anew, and so does a shorter one', () => {
  const outline = new Outline()
  outline.reach(stroke, 0, 4, across)
  outline.reach(stroke, 0, 4, { start: 100, slope: 20 })
  expect(strokesOf(outline).at(-1)?.at(-1)).toEqual([180, 9])
  outline.reach(stroke, 1, 2, { start: 100, slope: 20 })
  expect(strokesOf(outline)).toEqual([
    [
      [120, 6],
      [140, 7],
    ],
  ])
  outline.reach(stroke, 1, 1, { start: 100, slope: 20 })
  expect(strokesOf(outline)).toEqual([[[120, 6]]])
})

test('each column of each run has one outline', () => {
  const outlines = new Outlines()
  const [run, other] = [{}, {}]
  expect(outlines.of(run, 3)).toBe(outlines.of(run, 3))
  expect(outlines.of(run, 3)).not.toBe(outlines.of(run, 4))
  expect(outlines.of(run, 3)).not.toBe(outlines.of(other, 3))
})

/** A screen whose frames come when the test says, and a clock that only drawing moves. */
function screen() {
  const asked: (() => void)[] = []
  let now = 0
  const drawn: string[] = []
  const frames = new Frames(
    (draw) => asked.push(draw),
    () => now,
  )
  const picture = (name: string, takes: number) => () => {
    drawn.push(name)
    now += takes
  }
  return { frames, drawn, picture, asked, frame: () => asked.shift()?.() }
}

test('a frame that has used its time leaves the rest to the next one, in turn', () => {
  const { frames, drawn, picture, asked, frame } = screen()
  const [a, b, c] = [picture('a', 10), picture('b', 10), picture('c', 1)]
  for (const draw of [a, b, c]) frames.ask(draw)
  frame()
  expect(drawn).toEqual(['a', 'b'])
  frames.ask(a)
  frame()
  expect(drawn).toEqual(['a', 'b', 'c', 'a'])
  expect(asked).toEqual([])
})

test('asking twice draws once; what is forgotten is not drawn', () => {
  const { frames, drawn, picture, frame } = screen()
  const [a, b] = [picture('a', 1), picture('b', 1)]
  for (const draw of [a, b, a]) frames.ask(draw)
  frames.forget(b)
  frame()
  expect(drawn).toEqual(['a'])
})
