/** Where along a field a limit is kept: brackets, stretches, and what the verdict holds a figure against. */
import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { prepare } from '../../src/run/prepare'
import { figuresOf } from '../../src/tune/figures'
import { brackets, filmChanges, keeps, limitOf, stretches, type FigureLimit, type Sample } from '../../src/tune/holding'
import { shortLine } from '../headless/line'

const most = (limit: number): FigureLimit => ({ limit, holds: 'up to' })
const held = (limit: FigureLimit, ...figures: readonly (number | null)[]): Sample[] =>
  figures.map((figure, x) => ({ x, kept: figure === null ? null : keeps(figure, limit) }))

test('a rising figure: kept from the lower end up to the limit', () => {
  const rising = held(most(2.5), 1, 2, 3, 4)
  expect(brackets(rising)).toEqual([{ low: 1, high: 2 }])
  expect(stretches(rising, [1.5])).toEqual([{ from: 0, to: 1.5, begins: 'end', ends: 'limit' }])
})

test('a figure that must not fall below its limit: kept from there on', () => {
  const limit: FigureLimit = { limit: 2.5, holds: 'from' }
  expect(stretches(held(limit, 1, 2, 3, 4), [1.5])).toEqual([{ from: 1.5, to: 3, begins: 'limit', ends: 'end' }])
})

test('a valley: kept between two places', () => {
  const valley = held(most(2), 5, 1, 1, 5)
  expect(brackets(valley).length).toBe(2)
  expect(stretches(valley, [0.6, 2.3])).toEqual([{ from: 0.6, to: 2.3, begins: 'limit', ends: 'limit' }])
})

test('everywhere, nowhere, and where the line cannot be run', () => {
  expect(stretches(held(most(2), 1, 1), [])).toEqual([{ from: 0, to: 1, begins: 'end', ends: 'end' }])
  expect(stretches(held(most(2), 3, 3), [])).toEqual([])
  expect(brackets(held(most(2), 1, null, 3))).toEqual([])
  expect(stretches(held(most(2), null, 1, null), [])).toEqual([{ from: 1, to: 1, begins: 'no run', ends: 'no run' }])
})

test('every sample lies in a stretch just when it keeps the limit', () => {
  const figure = fc.oneof(
    fc.integer({ min: 0, max: 10 }).map((n) => n / 2),
    fc.constant(null),
  )
  fc.assert(
    fc.property(fc.array(figure, { minLength: 1, maxLength: 20 }), fc.boolean(), (figures, up) => {
      const limit: FigureLimit = { limit: 2.25, holds: up ? 'up to' : 'from' }
      const all = held(limit, ...figures)
      const crossings = brackets(all).map(({ low, high }) => (low + high) / 2)
      const found = stretches(all, crossings)
      for (const { x, kept } of all) {
        const isIn = found.some(({ from, to }) => from <= x && x <= to)
        expect(isIn).toBe(kept === true)
      }
    }),
  )
})

test('limits are those of the verdict, and every key they are known by is a figure of a run', () => {
  const run = prepare(shortLine)
  if (!('step' in run)) throw new Error('refused')
  let outcome = run.step()
  while (!outcome) outcome = run.step()
  if (outcome.outcome !== 'finished') throw new Error('broke off')
  const limits = new Map(figuresOf(outcome.summary).map(({ key }) => [key, limitOf(key, run.plan)]))
  const [span] = run.plan.spans
  if (!span) throw new Error('no span')
  expect(limits.get(`greatest tension/${span.name}`)).toEqual({ limit: span.most, holds: 'up to' })
  expect(limits.get(`least tension/${span.name}`)).toEqual({ limit: span.least, holds: 'from' })
  expect(limits.get('share of elastic limit')?.limit).toBeCloseTo(span.most / span.elasticTension, 12)
  expect(limits.get('least grip left')).toEqual({ limit: 0, holds: 'from' })
  expect(limits.get('share of torque limit')).toEqual({ limit: 1, holds: 'up to' })
  expect([...limits].flatMap(([key, limit]) => (limit ? [] : [key.split('/')[0]]))).toEqual(
    expect.arrayContaining(['travel used', 'ripple', 'swing of tension']),
  )
  expect([...limits.keys()].filter((key) => key.startsWith('time on a stop')).length).toBeGreaterThan(0)
})

test('no one tension is the limit where a splice may bring another film; the share of the elastic limit holds for both', () => {
  const run = prepare(JSON.parse(readFileSync('scenarios/thick-to-thin.json', 'utf8')))
  if (!('step' in run)) throw new Error('refused')
  const { plan } = run
  expect(filmChanges(plan)).toBe(true)
  expect(limitOf('greatest tension', plan)).toBeUndefined()
  expect(plan.spans.map(({ name }) => limitOf(`greatest tension/${name}`, plan)).every((one) => !one)).toBe(true)
  expect(limitOf('share of elastic limit', plan)?.limit).toBeCloseTo(0.4, 12)
  expect(limitOf('least tension', plan)).toEqual({ limit: 25, holds: 'from' })
})
