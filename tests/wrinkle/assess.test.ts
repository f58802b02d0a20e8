/** A span against its two limits: figures in closed form, what a knob must do, and that nothing ends in NaN. */
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { assess, criticalAgainst, type Setting } from '../../src/wrinkle'
import { principalCompression } from '../../src/wrinkle/assess'
import { anySetting, starting } from './setting'

test('principal compression is the smaller eigenvalue of the stress tensor', () => {
  fc.assert(
    fc.property(anySetting, (s) => {
      const stress = s.tension / s.thickness
      const [lateral, shear] = [1e3 * s.heat, 1e7 * Math.abs(s.misalignment)]
      const found = principalCompression(stress, lateral, shear)
      // (stress - x)(-lateral - x) = shear^2 at x = -found
      const scale = (stress + found) * (found + lateral) + shear ** 2 + 1
      expect(((stress + found) * (found - lateral) - shear ** 2) / scale).toBeCloseTo(0, 9)
      expect(found).toBeGreaterThanOrEqual(lateral)
    }),
  )
})

test('at its critical misalignment a span is at its limit; at the peak one at 1.5 times the shear', () => {
  fc.assert(
    fc.property(anySetting, (s) => {
      const { span, roller } = assess(s)
      for (const [place, found] of [
        ['span', span],
        ['roller', roller],
      ] as const) {
        const { mean, peak } = found.critical
        expect(mean / 1.5).toBeCloseTo(peak, 12)
        if (mean > 1e-9) expect(assess({ ...s, misalignment: mean })[place].share).toBeCloseTo(1, 6)
      }
    }),
  )
})

test('every figure of any setting is a number; only a nip holds without bound', () => {
  const numbers = (value: unknown): number[] =>
    typeof value === 'number'
      ? [value]
      : value !== null && typeof value === 'object'
        ? Object.values(value).flatMap(numbers)
        : []
  fc.assert(
    fc.property(anySetting, (s) => {
      const found = assess(s)
      expect(numbers(found).filter(Number.isNaN)).toEqual([])
      expect(numbers(found).filter((n) => !Number.isFinite(n))).toHaveLength(s.nip ? 1 : 0)
      expect(found.outcome === 'fold').toBe(found.roller.share >= 1 && found.grip.held >= found.roller.limit)
    }),
  )
})

const critical = (changes: Partial<Setting>) => assess({ ...starting, ...changes }).span.critical.mean

describe('what a knob must do', () => {
  test('half the thickness at the same stress: half the trough limit, half the fold limit', () => {
    const [whole, half] = [
      starting,
      { ...starting, thickness: starting.thickness / 2, tension: starting.tension / 2 },
    ].map(assess)
    expect(half.troughs.limit / whole.troughs.limit).toBeCloseTo(0.5, 2)
    expect(half.roller.limit / whole.roller.limit).toBeCloseTo(0.5, 12)
  })

  test('more tension, a longer span: more misalignment is forgiven', () => {
    expect(critical({ tension: 2 * starting.tension })).toBeGreaterThan(1.2 * critical({}))
    expect(critical({ length: 2 * starting.length })).toBeGreaterThan(1.2 * critical({}))
  })

  test('span to nothing: shear alone, so the critical misalignment grows no smaller than its strain', () => {
    const short = { ...starting, length: 1e-3 }
    const { span, stress } = assess(short)
    const shear = Math.sqrt(span.limit * (span.limit + stress))
    const modulus = starting.modulus / (2 * (1 + starting.poisson))
    expect(span.critical.mean / ((1.2 * shear) / modulus)).toBeCloseTo(1, 3)
  })

  test('faster: first the fold is let go, then the film floats', () => {
    const folding = { ...starting, heat: 60, rollerRoughness: 2e-6, radius: 0.1 }
    expect(assess({ ...folding, speed: 0 }).outcome).toBe('fold')
    const fast = assess({ ...folding, speed: 10 })
    expect(fast.outcome).toBe('fold not held')
    expect(fast.grip.friction).toBe(0)
    expect(assess({ ...folding, speed: 10, nip: true }).outcome).toBe('fold')
  })

  test('friction that a fold needs is at least what builds up its limit', () => {
    const { grip, roller } = assess(starting)
    const least = assess({ ...starting, speed: 0, friction: grip.needed })
    expect(least.grip.held / roller.limit).toBeCloseTo(1, 9)
  })
})

describe('causes', () => {
  test('heat, lost tension and neck-in press where they act, by their closed forms', () => {
    const found = assess({ ...starting, heat: 2, fall: 50, rise: 20, misalignment: 0 })
    const by = (name: string) => found.causes.find((cause) => cause.name === name)
    expect(by('Heat across the width')?.compression).toBeCloseTo(4.5e9 * 1.7e-5 * 2, 6)
    expect(by('Tension lost on the roller')?.compression).toBeCloseTo((0.38 * 50) / 25e-6, 6)
    expect(by('Neck-in')?.compression).toBeCloseTo((0.38 * 20) / 25e-6, 6)
    expect(by('Heat across the width')?.ofTroughs).toBeNull()
    expect(by('Neck-in')?.ofFold).toBeNull()
    expect(found.span.compression).toBeCloseTo((0.38 * 20) / 25e-6, 6)
    expect(found.roller.compression).toBeCloseTo(4.5e9 * 1.7e-5 * 2 + (0.38 * 50) / 25e-6, 5)
  })

  test('what presses already takes from the misalignment that is left', () => {
    const limit = assess(starting).roller.limit
    const dT = limit / (starting.modulus * starting.expansion)
    expect(assess({ ...starting, heat: dT / 2 }).roller.critical.mean).toBeLessThan(
      assess(starting).roller.critical.mean,
    )
    expect(assess({ ...starting, heat: 1.01 * dT }).roller.critical.mean).toBe(0)
  })
})

test('the curve against a knob goes through the present point and tells where strain is past its limit', () => {
  const curves = criticalAgainst(starting, 'tension', 0.5 * starting.tension, 1.5 * starting.tension, 3)
  expect(curves.at[1]).toBeCloseTo(starting.tension, 9)
  const { span, roller, slackAt } = assess(starting)
  expect(curves.troughs[1]).toBeCloseTo(span.critical.mean, 12)
  expect(curves.fold[1]).toBeCloseTo(roller.critical.mean, 12)
  expect(curves.slack[1]).toBeCloseTo(slackAt, 12)
  const far = criticalAgainst(starting, 'tension', 10, 5000, 50)
  const limit = starting.elasticLimit * starting.modulus * starting.thickness
  far.at.forEach((tension, i) => {
    expect(far.withinStrain[i]).toBe(tension <= limit ? 1 : 0)
  })
  expect(far.at[1] / far.at[0]).toBeCloseTo(far.at[49] / far.at[48], 9)
})
