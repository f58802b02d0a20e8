/** A span against its two limits: figures in closed form, what a knob must do, and that nothing ends in NaN. */
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { assess, criticalAgainst, type Setting } from '../../src/wrinkle'
import { principalCompression } from '../../src/wrinkle/assess'
import { cures } from '../../src/wrinkle/cures'
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
      expect(assess({ ...s, misalignment: span.critical.peak }).span.peakShare).toBeCloseTo(1, 6)
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

test('the film runs flat up to the least of what may begin, and not beyond', () => {
  fc.assert(
    fc.property(anySetting, (s) => {
      const { flatUpTo, span, roller, slackAt } = assess(s)
      expect(flatUpTo).toBe(Math.min(span.critical.peak, roller.critical.mean, slackAt))
      const outcome = (misalignment: number) => assess({ ...s, misalignment }).outcome
      expect(outcome(-1.0001 * flatUpTo - 1e-12)).not.toBe('flat')
      if (flatUpTo > 0) expect(outcome(0.9999 * flatUpTo)).toBe('flat')
    }),
  )
})

test('troughs lie along the greater principal stress', () => {
  const { stress, shear, angle, span } = assess({ ...starting, misalignment: 5e-3 })
  // an eigenvector of the stress tensor, of the greater eigenvalue
  const along = [Math.cos(angle), Math.sin(angle)]
  const pulled = [stress * along[0] + shear * along[1], shear * along[0]]
  expect(pulled[0] / ((stress + span.compression) * along[0])).toBeCloseTo(1, 9)
  expect(pulled[1] / ((stress + span.compression) * along[1])).toBeCloseTo(1, 9)
})

test('between peak and mean troughs may begin; beyond the slack edge nothing is called flat', () => {
  const { span, slackAt } = assess(starting)
  const at = (misalignment: number, changes: Partial<Setting> = {}) => assess({ ...starting, ...changes, misalignment })
  const { peak, mean } = span.critical
  expect(at(0.99 * peak).outcome).toBe('flat')
  expect(at(1.01 * peak)).toMatchObject({ outcome: 'troughs may begin', amplitude: 0 })
  expect(at(0.99 * mean).outcome).toBe('troughs may begin')
  expect(at(1.01 * mean).outcome).toBe('troughs')
  expect(mean).toBeLessThan(slackAt)
  // a long narrow span: an edge lets go first
  const narrow = { length: 2, width: 0.1, tension: 30 }
  const found = at(0, narrow)
  expect(found.slackAt).toBeLessThan(found.span.critical.peak)
  expect(at(1.01 * found.slackAt, narrow)).toMatchObject({ outcome: 'edge slack', edgeSlack: true })
})

test('what is told to cure troughs does, and a little less does not', () => {
  const troubled = assess({ ...starting, misalignment: 1.5e-3 })
  const { tension, length } = cures(troubled)
  for (const [knob, value] of [
    ['tension', tension],
    ['length', length],
  ] as const) {
    const outcome = (share: number) => assess({ ...troubled.setting, [knob]: share * (value ?? NaN) }).outcome
    expect([outcome(1), outcome(0.999)]).toEqual(['flat', 'troughs may begin'])
  }
  expect(cures(assess({ ...starting, misalignment: 0.05 }))).toEqual({ tension: null, length: null })
  // stretched to its elastic limit already
  expect(cures(assess({ ...troubled.setting, elasticLimit: 1e-3 })).tension).toBeNull()
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
  test('heat and lost tension press on the roller, by their closed forms', () => {
    const found = assess({ ...starting, heat: 2, fall: 50, misalignment: 0 })
    const by = (name: string) => found.causes.find((cause) => cause.name === name)
    expect(by('Heat across the width')?.compression).toBeCloseTo(4.5e9 * 1.7e-5 * 2, 6)
    expect(by('Tension lost on the roller')?.compression).toBeCloseTo((0.38 * 50) / 25e-6, 6)
    expect(by('Heat across the width')?.ofTroughs).toBeNull()
    expect(by('Heat across the width')?.ofFold).toBeCloseTo((4.5e9 * 1.7e-5 * 2) / found.roller.limit, 12)
    expect(found.span.compression).toBe(0)
    expect(found.roller.compression).toBeCloseTo(4.5e9 * 1.7e-5 * 2 + (0.38 * 50) / 25e-6, 5)
  })

  test('misalignment presses by mean shear, at mid width by 1.5 times as much shear; each of its own limit', () => {
    const found = assess({ ...starting, misalignment: 1.5e-3 })
    const { stress, shear, troughs, roller, span } = found
    const [mean, peak] = [1, 1.5].map((k) => Math.hypot(stress / 2, k * shear) - stress / 2)
    const by = (name: string) => found.causes.find((cause) => cause.name === `Misaligned roller, ${name}`)
    const whole = by('by mean shear')
    expect((whole?.compression ?? NaN) / mean).toBeCloseTo(1, 6)
    expect((whole?.ofTroughs ?? NaN) / (mean / troughs.limit)).toBeCloseTo(1, 6)
    expect((whole?.ofFold ?? NaN) / (mean / roller.limit)).toBeCloseTo(1, 6)
    const middle = by('at mid width')
    expect((middle?.compression ?? NaN) / peak).toBeCloseTo(1, 6)
    expect((middle?.ofTroughs ?? NaN) / (peak / troughs.limit)).toBeCloseTo(1, 6)
    expect(middle?.ofFold).toBeNull()
    // cause and outcome go by the same figures
    expect([whole?.compression, middle?.compression]).toEqual([span.compression, span.peakCompression])
  })

  test('film is narrower under tension, and that presses nothing', () => {
    const found = assess({ ...starting, misalignment: 0 })
    expect(found.narrowing).toBeCloseTo((0.38 * 130) / (25e-6 * 4.5e9), 12)
    expect([found.span.peakCompression, found.roller.compression]).toEqual([0, 0])
    expect(found.outcome).toBe('flat')
  })

  test('air is carried in by film and roller, each at the speed of the line', () => {
    const { grip } = assess({ ...starting, speed: 2, radius: 0.05, tension: 200 })
    expect(grip.airFilm).toBeCloseTo(0.643 * 0.05 * ((6 * 1.81e-5 * 4) / 200) ** (2 / 3), 12)
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
  expect(curves.begin[1]).toBeCloseTo(span.critical.peak, 12)
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
