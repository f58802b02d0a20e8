/** Rolls from scenarios: slow time against full detail, rings, air, shells, findings, and input that makes no roll. */
import { readdirSync } from 'node:fs'
import * as fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { assess, ringOf, solveRoll, type RollInput, type RollResult } from '../../src/roll'
import { rollReport } from '../../src/roll/job'
import { shellsFor } from '../../src/roll/shells'
import { windingOf, woundOnOf } from '../../src/roll/input'
import { notesText } from '../../src/verdict/roll'
import { open } from '../run/lines'
import { at, inputOf, samplesOf, shippedRoll } from './rolls'

function solved(input: RollInput, options = {}): RollResult {
  const outcome = solveRoll(input, undefined, options)
  if (outcome.outcome !== 'finished') throw new Error(outcome.problems.map(({ say }) => say).join('\n'))
  return outcome
}

type Entry = Record<string, unknown>
const rewindOf = (document: Entry) => (document['line'] as Entry[]).find(({ part }) => part === 'rewind') as Entry
const filmOf = (document: Entry) => (document['films'] as Record<string, Entry>)['A']
const stop = 'roll-stop-in-the-middle.json'
const rolls = readdirSync('scenarios').filter((name) => name.startsWith('roll-'))

/** Core of 45 mm, 3 mm of build-up: short enough to be wound on the simulated line, every turn of it. */
test('a small roll wound in full on the line equals the one of slow time within 0.2 %', () => {
  const document = open(`scenarios/${stop}`)
  const rewind = rewindOf(document)
  rewind['diameter'] = '90 mm'
  delete rewind['ringAt']
  const drive = { ...(rewind['drive'] as Entry), fullDiameter: '96 mm' }
  rewind['drive'] = drive
  document['stage'] = []
  document['run'] = { for: '35.6 s', tick: '20 ms' }
  const { radius, tension } = samplesOf(document)
  expect(2 * radius[radius.length - 1]).toBeGreaterThan(0.096)
  const slow = rollReport({ document })
  const full = rollReport({ document, run: { radius, tension } })
  if ('outcome' in slow || 'outcome' in full) throw new Error('refused')
  expect(full.result.input.rings[0].radius.length).toBeGreaterThan(1500)
  for (const r of [0.045, 0.0455, 0.046, 0.047, 0.0475]) {
    const [one, other] = [slow, full].map(({ result }) => at(result.wound, r))
    expect(Math.abs(other / one - 1)).toBeLessThan(2e-3)
  }
})

describe.each(rolls)('%s', (file) => {
  const input = shippedRoll(file)

  test('the usual number of shells lies within 0.2 % of the limit, the compression within 1 %', () => {
    const usual = solved(input)
    const finer = solved(input, { shells: 3 * shellsFor(windingOf(input)) })
    const [r0, R] = [input.core.outer, input.fullRadius]
    const rings = input.rings.flatMap(({ radius: [first, ...rest] }) => [
      0.999 * first,
      (first + rest[rest.length - 1]) / 2,
    ])
    for (const r of [...[0, 0.02, 0.1, 0.3, 0.6, 0.9, 0.95].map((share) => r0 + share * (R - r0)), ...rings]) {
      expect(Math.abs(at(usual.wound, r) / at(finer.wound, r) - 1)).toBeLessThan(2e-3)
    }
    const starring = (result: RollResult) => assess(result).find(({ key }) => key === 'starring')?.value ?? 0
    expect(Math.abs(starring(usual) - starring(finer))).toBeLessThan(0.01 * starring(finer) + 1)
  })

  test('every finding has a figure, a place in the roll and something that it rests on', () => {
    for (const { value, limit, share, radius, rests } of assess(solved(input))) {
      expect([value, limit, share].every(Number.isFinite)).toBe(true)
      expect(radius).toBeGreaterThanOrEqual(input.core.outer * (1 - 1e-9))
      expect(radius).toBeLessThanOrEqual(input.fullRadius * (1 + 1e-9))
      expect(rests.length).toBeGreaterThan(1)
    }
  })
})

describe('wound-on tension', () => {
  test('the lay-on roller adds its share of load up to saturation', () => {
    const at80 = inputOf('taper-wind-up.json')
    expect(at80.layOn).toBeCloseTo(0.2 * 80, 12)
    const beyond = inputOf('taper-wind-up.json', (document) => {
      rewindOf(document)['layOn'] = { load: '500 N', friction: '20 %', saturation: '150 N' }
    })
    expect(beyond.layOn).toBeCloseTo(0.2 * 150, 12)
    expect(woundOnOf(at80).law(0.045)).toBeCloseTo(76, 9)
  })

  test('a ring keeps its impulse whatever the shells, and the law stands outside it', () => {
    const ring = { radius: [0.1, 0.1001, 0.1002, 0.1003], tension: [60, 10, 10, 60] }
    const input = { ...inputOf(stop), rings: [ring] }
    const woundOn = woundOnOf(input)
    const whole = (n: number) => {
      let sum = 0
      for (let k = 0; k < n; k++) sum += (woundOn.mean(0.09 + (0.02 * k) / n, 0.09 + (0.02 * (k + 1)) / n) * 0.02) / n
      return sum
    }
    expect(whole(7)).toBeCloseTo(whole(911), 4)
    expect(woundOn.mean(0.12, 0.121)).toBeCloseTo(woundOn.law(0.1205), 12)
    expect(woundOn.mean(0.1001, 0.1002)).toBeCloseTo(10, 1)
  })

  test('film that came off again is no part of a ring; moved outward the same film makes a thinner one', () => {
    expect(ringOf([1, 2, 3, 2.5, 2.7], [10, 20, 30, 40, 50], undefined)).toEqual({
      radius: [1, 2, 2.5, 2.7],
      tension: [10, 20, 40, 50],
    })
    const { radius } = ringOf([1, 2], [1, 1], 4)
    expect(radius[0]).toBe(4)
    expect(radius[1] ** 2 - radius[0] ** 2).toBeCloseTo(3, 12)
  })

  test('a stop lies in the roll as a ring: the pressure differs about it and not at the core', () => {
    const plain = inputOf(stop)
    const r = 0.13
    const dip = { radius: [r, r + 2e-4, r + 4e-4], tension: [20, 20, 20] }
    // the same shells, so that their own error cancels
    const [without, having] = [[], [dip]].map((rings) => solved({ ...plain, rings }, { shells: 2400 }).wound)
    expect(at(having, r + 2e-4) / at(without, r + 2e-4)).toBeLessThan(0.97)
    expect(at(having, 0.045) / at(without, 0.045)).toBeCloseTo(1, 4)
  })
})

test('air: the more of it stays, the less friction, and the more pressure is lost when it leaves', () => {
  const input = inputOf('roll-too-little-taper.json')
  const findings = (airKept: number) => {
    const result = solved({ ...input, airKept })
    const held = assess(result).find(({ key }) => key === 'axial slip')
    return { held: held?.value ?? 0, left: result.later?.pressure[200] ?? 0 }
  }
  const [little, much] = [findings(0.01), findings(0.08)]
  expect(much.held).toBeLessThan(little.held)
  expect(much.left).toBeLessThan(little.left)
})

describe('what to know before the figures are read', () => {
  const document = open(`scenarios/${stop}`)
  const samples = { radius: [0.13, 0.1302, 0.1304], tension: [150, 60, 150] }
  const notes = (question: Parameters<typeof rollReport>[0]) => {
    const report = rollReport(question)
    return 'outcome' in report ? ['refused'] : report.notes
  }

  test('a ring whose run is missing, broke off, or winds beyond the full roll', () => {
    expect(notes({ document })).toEqual(['no run'])
    expect(notes({ document, run: { ...samples, whole: true } })).toEqual([])
    expect(notes({ document, run: { ...samples, whole: false } })).toEqual(['run broken off'])
    const whole = open(`scenarios/${stop}`)
    rewindOf(whole)['ringAt'] = '399.9 mm'
    expect(notes({ document: whole, run: samples })).toEqual(['run beyond'])
    expect(notesText(['no run'])[0]).toMatch(/without a ring/)
  })

  test('a film so thin and stiff that it gets fewer shells than it needs', () => {
    const foil = open('scenarios/roll-foil.json')
    Object.assign(filmOf(foil), { inRoll: { stack: { law: 'Pfeiffer', pressure: '0.0003 MPa', slope: 20 } } })
    expect(notes({ document: foil })).toEqual(['few shells'])
    expect(notes({ document: open('scenarios/roll-foil.json') })).toEqual([])
  })
})

describe('input that makes no roll is refused by field', () => {
  const refusal = (change: (document: Entry) => void) => {
    const document = open(`scenarios/${stop}`)
    change(document)
    const report = rollReport({ document })
    return 'outcome' in report ? report.problems.map(({ say }) => say).join(' ') : 'a roll'
  }
  const drive = (document: Entry, change: Entry) => {
    rewindOf(document)['drive'] = { ...(rewindOf(document)['drive'] as Entry), ...change }
  }
  const stack = (document: Entry, stated: Entry) => {
    filmOf(document)['inRoll'] = { stack: stated }
  }

  test('outer below core, for laws that check it and for the constant one', () => {
    expect(refusal((d) => drive(d, { fullDiameter: '80 mm' }))).toMatch(/fullDiameter.*larger than its core, 90 mm/)
    expect(refusal((d) => drive(d, { law: 'constant', fullDiameter: '80 mm' }))).toMatch(/fullDiameter.*90 mm/)
  })

  test('negative tension, a bore as wide as the core', () => {
    expect(refusal((d) => drive(d, { tension: '-5 N' }))).toMatch(/tension.*above 0 N/)
    expect(refusal((d) => (rewindOf(d)['coreTube'] = { bore: '90 mm', modulus: '3 GPa' }))).toMatch(
      /bore.*smaller than the core/,
    )
  })

  test('a ring below the core, or where the full roll ends', () => {
    for (const at of ['80 mm', '400 mm', '500 mm'])
      expect(refusal((d) => (rewindOf(d)['ringAt'] = at))).toMatch(
        /ringAt.*from its core, 90 mm, to below the full 400 mm/,
      )
    expect(refusal((d) => (rewindOf(d)['ringAt'] = '90 mm'))).toBe('a roll')
  })

  test('a stack modulus of nothing at no pressure, or one that turns negative on the way', () => {
    expect(refusal((d) => stack(d, { law: 'cubic', k0: '0 GPa' }))).toMatch(/k0.*above 0/)
    expect(refusal((d) => stack(d, { law: 'cubic', k0: '0.0004 GPa', k1: 40, k2: '-400 1/MPa' }))).toMatch(
      /films\/A.*stack modulus.*no longer above 0 at .*kPa/,
    )
  })

  test('anything a scenario can state gives a roll or a refusal, never NaN', () => {
    const whole = (min: number, max: number) => fc.integer({ min, max })
    const change = fc.record({
      k0: whole(1, 5000),
      k1: whole(-50, 200),
      k2: whole(-300, 300),
      tension: whole(1, 400),
      full: whole(91, 900),
      shrink: whole(-50, 50),
      warm: whole(-200, 300),
      friction: whole(0, 1),
      axial: whole(0, 1),
      kept: whole(0, 3),
    })
    fc.assert(
      fc.property(change, ({ k0, k1, k2, tension, full, shrink, warm, friction, axial, kept }) => {
        const document = open(`scenarios/${stop}`)
        stack(document, { law: 'cubic', k0: `${k0 / 1e6} GPa`, k1, k2: `${k2} 1/MPa` })
        Object.assign(filmOf(document)['inRoll'] as Entry, { friction: 0.3 * friction })
        document['limits'] = { axialForce: `${300 * axial} N` }
        Object.assign(rewindOf(document), { airKept: `${5 * kept} %` })
        delete rewindOf(document)['ringAt']
        drive(document, { tension: `${tension} N`, fullDiameter: `${full} mm` })
        rewindOf(document)['later'] = { shrinkAlong: `${shrink / 10} %`, filmWarmer: `${warm} K`, airLeaves: '100 %' }
        const report = rollReport({ document })
        if ('outcome' in report) return
        const { wound, later } = report.result
        for (const array of [wound.pressure, wound.hoop, later?.pressure ?? [], later?.hoop ?? []])
          expect(array.every(Number.isFinite)).toBe(true)
        expect(Math.min(...(later?.pressure ?? [0]))).toBeGreaterThanOrEqual(0)
        expect(report.findings.every(({ value, share }) => Number.isFinite(value) && Number.isFinite(share))).toBe(true)
      }),
      { numRuns: 25 },
    )
  })
})
