/** Tension in other measures, where the film stays and where another follows it. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { filmsOf, gaugeOf } from '../../src/app/charts/gauge'
import { filmLimits } from '../../src/app/charts/limits'
import { measured, measuredText } from '../../src/app/shown'
import { Trace } from '../../src/app/state/trace'
import type { Channel, RunPlan } from '../../src/run/record'

const document = JSON.parse(readFileSync(join(import.meta.dirname, '../../scenarios/thick-to-thin.json'), 'utf8')) as {
  films: Record<string, { thickness: string; width: string; modulus: string; elasticLimit: string }>
}

// The scenario's films, by hand: what it states, in SI
const [thick, thin] = ['A', 'B'].map((key) => {
  const film = document.films[key]
  const number = (text: string | undefined) => Number.parseFloat(text ?? '')
  const [h, w] = [number(film?.thickness) * 1e-6, number(film?.width) * 1e-3]
  const [e, limit] = [number(film?.modulus) * 1e9, number(film?.elasticLimit) * 1e-2]
  return { h, w, e, limit, force: e * h * w * limit }
})

const channel = (group: 'tension' | 'limit'): Channel => {
  return { key: `${group}/a → b`, group, name: 'a → b', kind: 'force', place: 0 }
}

function traceOf(limits: boolean): Trace {
  const first = thick?.force ?? 0
  const plan: RunPlan = {
    title: 'thin after thick',
    duration: 4,
    tick: 1,
    channels: [channel('tension'), ...(limits ? [channel('limit')] : [])],
    spans: [{ name: 'a → b', elasticTension: first, most: first * 0.4, least: 20 }],
    dancers: [],
    pace: { fastestMode: 1, fastestDecay: 1 },
    events: [],
    feeds: [],
  }
  const trace = new Trace(plan, document)
  const columns = [
    [0, 1, 2, 3],
    [90, 91, 80, 70],
    ...(limits ? [[first, first, thin?.force ?? 0, thin?.force ?? 0]] : []),
  ]
  trace.append({ from: 0, count: 4, data: Float64Array.from(columns.flat()), lifts: [], happenings: [] })
  return trace
}

const exact = { min: 69, max: 92, atMin: 3.2, atMax: 0.6 }

describe('one film all the time', () => {
  const trace = traceOf(false)
  test.each([
    ['forcePerWidth', 90 / (thick?.w ?? NaN)],
    ['stress', 90 / ((thick?.w ?? NaN) * (thick?.h ?? NaN))],
    ['strain', 90 / ((thick?.w ?? NaN) * (thick?.h ?? NaN) * (thick?.e ?? NaN))],
  ] as const)('%s follows from its section and modulus', (measure, expected) => {
    const gauge = gaugeOf(trace, measure)
    expect(gauge.column(0).values[0]).toBeCloseTo(expected, 9)
    expect(gauge.start('a → b', 90)).toBeCloseTo(expected, 9)
    expect(gauge.changes('a → b')).toBe(false)
    const extreme = gauge.extreme(0, exact)
    expect((extreme?.max ?? NaN) / expected).toBeCloseTo(92 / 90, 9)
    expect(extreme?.atMax).toBe(0.6)
  })

  test('the limit in strain is the film’s elastic limit, the band its share', () => {
    const limits = filmLimits(trace, 'a → b', 1, 'strain')
    expect(limits?.elastic[0]?.value).toBeCloseTo(thick?.limit ?? NaN, 12)
    expect(limits?.most[0]?.value).toBeCloseTo(0.4 * (thick?.limit ?? NaN), 12)
    expect(limits?.least[0]?.value).toBeCloseTo((20 / (thick?.force ?? NaN)) * (thick?.limit ?? NaN), 12)
  })
})

describe('another film follows', () => {
  const trace = traceOf(true)

  test('each sample is read by the film that lies there just then', () => {
    const gauge = gaugeOf(trace, 'stress')
    const { values, extreme, lifts } = gauge.column(0)
    expect(lifts).toEqual([2])
    expect(values[1]).toBeCloseTo(91 / ((thick?.w ?? NaN) * (thick?.h ?? NaN)), 6)
    expect(values[2]).toBeCloseTo(80 / ((thin?.w ?? NaN) * (thin?.h ?? NaN)), 6)
    // Less force, but more stress in the thin film: the extreme is another than that of the force.
    expect(extreme?.atMax).toBe(2)
    expect(gauge.extreme(0, exact)).toEqual(extreme)
  })

  test('in newtons nothing is converted, and the least tension stays what it is', () => {
    const gauge = gaugeOf(trace, 'force')
    expect([...gauge.column(0).values]).toEqual([90, 91, 80, 70])
    expect(filmLimits(trace, 'a → b', 1)?.least.map(({ value }) => value)).toEqual([20])
  })

  test('a trace that grows is read on, not anew', () => {
    const growing = traceOf(true)
    const before = gaugeOf(growing, 'forcePerWidth').column(0).values.slice()
    const more = [[4], [60], [thin?.force ?? 0]]
    growing.append({ from: 4, count: 1, data: Float64Array.from(more.flat()), lifts: [], happenings: [] })
    const after = gaugeOf(growing, 'forcePerWidth').column(0).values
    expect(after.slice(0, 4)).toEqual(before)
    expect(after[4]).toBeCloseTo(60 / (thin?.w ?? NaN), 9)
  })

  test('the overlap of both is among what can lie there', () => {
    const limits = filmsOf(document).map(({ limit }) => limit)
    expect(limits).toHaveLength(3)
    const stiffness = (film: typeof thick) => (film?.force ?? NaN) / (film?.limit ?? NaN)
    const pasted = (stiffness(thick) + stiffness(thin)) * Math.min(thick?.limit ?? NaN, thin?.limit ?? NaN)
    expect(limits[1]).toBeCloseTo(pasted, 6)
  })
})

test('each measure is told with its unit, strain in thousandths of a percent', () => {
  expect(measuredText(60, 'force', 'metric')).toBe('60.0 N')
  expect(measuredText(143, 'forcePerWidth', 'metric')).toBe('143.0 N/m')
  expect(measuredText(4e6, 'stress', 'metric')).toBe('4.00 MPa')
  expect(measured(0.00091, 'strain', 'inch')).toBe('0.091')
})
