/** What is said of a regulated cylinder agrees with the ripple that is counted with one. */
import { describe, expect, test } from 'vitest'
import { inPhaseShare, inPhaseWords, whyNone } from '../../src/app/pages/dancer/gas-words'
import { cancelling, rippleAt, type RippleDancer } from '../../src/tune/ripple'

const dancer = (changes: Partial<RippleDancer>): RippleDancer => ({
  ...{ mass: 4, stiffness: 0, damping: 0, friction: 0, strands: 2 },
  ...{ gasStiffness: 0, lag: Infinity, rollerMass: 0, rollerDrag: 0, ...changes },
})

describe('a gas spring that cancels only the part in phase', () => {
  test('leaves what the ripple with it is, over that with none', () => {
    for (const [w, lag, damping, stiffness] of [
      [6.28, 0.1, 0, 0],
      [6.28, 0.5, 0, 40],
      [12, 0.1, 5, 100],
      [20, 0.05, 60, 0],
    ]) {
      const d = dancer({ damping, stiffness })
      const inPhase = (w * lag) ** 2 / (1 + (w * lag) ** 2)
      const gasStiffness = (d.mass * w * w - d.stiffness) / inPhase
      const [one, none] = [rippleAt({ ...d, gasStiffness, lag }, w, 0.01), rippleAt(d, w, 0.01)]
      expect(one.total.re).toBeCloseTo(0, 9)
      expect(inPhaseShare(d, w, lag)).toBeCloseTo(one.total.size / none.total.size, 9)
    }
  })

  test('is worse than none only below w T = 1, and never better than the best', () => {
    const w = 6.28
    expect(inPhaseShare(dancer({}), w, 0.1)).toBeCloseTo(1 / 0.628, 9)
    expect(inPhaseWords(inPhaseShare(dancer({}), w, 0.1))).toContain('worse than none')
    expect(inPhaseWords(inPhaseShare(dancer({}), w, 1 / w))).toContain('no better than none')
    const share = inPhaseShare(dancer({}), w, 0.5)
    expect(inPhaseWords(share)).toContain('less than none')
    expect(share).toBeGreaterThan(cancelling(dancer({}), w, 0.01, 0.5).gasShare)
  })
})

test('where no gas spring helps, the spring is said to carry the mass only if it does', () => {
  const [w, lag] = [6.28, 0.1]
  const stiff = dancer({ stiffness: 200 })
  expect(cancelling(stiff, w, 0.01, lag).gas).toBe(0)
  expect(whyNone(stiff, w)).toContain('the spring carries the mass already')
  // c between T(M w^2 - k) and M w: damping weighs less than the mass, and no spring is there
  const damped = dancer({ damping: 20 })
  expect(cancelling(damped, w, 0.01, lag).gas).toBe(0)
  expect(whyNone(damped, w)).toContain('damping')
  expect(whyNone(damped, w)).not.toContain('carries the mass')
})
