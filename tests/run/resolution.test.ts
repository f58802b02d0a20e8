/** Peaks belong to the line, not to the way it is computed: recording interval and tolerance do not move them. */
import { describe, expect, test } from 'vitest'
import { finish, open, ready, shipped, withRun, type Document } from './lines'

function peaks(document: Document): number[] {
  const { summary } = finish(ready(document))
  return summary.spans.flatMap((s) => [s.tension.min, s.tension.max, s.limitShare])
}

function expectSame(a: number[], b: number[]): void {
  a.forEach((value, k) => expect(Math.abs(b[k] / value - 1)).toBeLessThan(1e-3))
}

describe.each(shipped)('%s', (file) => {
  const document = open(`scenarios/${file}`)
  const usual = peaks(document)

  test('half the recording interval moves no peak by 0.1 %', () => {
    const tick = (document['run'] as { tick: string }).tick
    expectSame(usual, peaks(withRun(document, { tick: `${Number.parseFloat(tick) / 2} ms` })))
  })

  test('a tenth of the tolerance moves no peak by 0.1 %', () => {
    expectSame(usual, peaks(withRun(document, { tolerance: 1e-7 })))
  })

  test('equal runs give equal figures to the last bit', () => {
    expect(peaks(document)).toEqual(usual)
  })
})
