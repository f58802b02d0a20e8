import { expect, test } from 'vitest'
import { gasSpring } from '../../src/line/cylinder'
import { askRipple, cancelling, rippleAt, type RippleParts } from '../../src/tune/ripple'
import {
  boreFor,
  filmForHold,
  filmForMismatch,
  frictionShare,
  secondsOf,
  standOff,
  strandsOf,
  volumeFor,
} from '../../src/tune/sizing'
import { forceOf } from '../../src/line/cylinder'
import { shortLine } from '../headless/line'

const parts: RippleParts = {
  ok: true,
  mass: 5,
  stiffness: 0,
  damping: 0,
  friction: 0,
  gasSpring: 0,
  lag: 0,
  strands: 2,
  rollerMass: 0,
  drag: 0,
  tension: 60,
}
const hertz = 1
const w = 2 * Math.PI * hertz

test('a bare mass: M w^2 Z in all strands together, half in each of two', () => {
  const ripple = rippleAt(parts, 0.05, hertz)
  expect(ripple.total).toBeCloseTo(5 * w * w * 0.05, 12)
  expect(ripple.strand).toBeCloseTo(ripple.total / 2, 12)
})

test('a plain spring k = M w^2 cancels it at one frequency; below the spring rules, above the mass', () => {
  const { stiffness } = cancelling(parts, hertz)
  const sprung = { ...parts, stiffness }
  expect(rippleAt(sprung, 0.05, hertz).total).toBeCloseTo(0, 10)
  expect(rippleAt(sprung, 0.05, 0.1).total).toBeGreaterThan(0.9 * stiffness * 0.05)
  expect(rippleAt(sprung, 0.05, 10).total).toBeGreaterThan(0.9 * rippleAt(parts, 0.05, 10).total)
})

test('the best regulated cylinder leaves 1/sqrt(1 + (w T)^2) of the bare mass: 85 % at 0.1 s and 1 Hz', () => {
  const lag = 0.1
  const { regulated } = cancelling({ ...parts, lag }, hertz)
  expect(regulated).toBeCloseTo(0.8467, 4)
  const bare = rippleAt(parts, 0.05, hertz).total
  const left = (k: number) => rippleAt({ ...parts, lag, gasSpring: k }, 0.05, hertz).total / bare
  const best = 5 * w * w
  expect(left(best)).toBeCloseTo(regulated ?? 0, 12)
  // No other gas spring does better, and one that cancels the part in phase does worse than none.
  for (let share = 0.1; share < 4; share += 0.1) expect(left(share * best)).toBeGreaterThanOrEqual(left(best) - 1e-12)
  expect(left((best * (1 + (w * lag) ** 2)) / (w * lag) ** 2)).toBeGreaterThan(1)
})

test('the roller and drag add to one strand, friction to all', () => {
  const plain = rippleAt(parts, 0.05, hertz).strand
  const heavy = rippleAt({ ...parts, rollerMass: 2, friction: 3, drag: 0.4 }, 0.05, hertz).strand
  expect(heavy - plain).toBeCloseTo((2 * 2 * 0.05 * w * w) / 4 + 3 / 2 + 0.2, 12)
})

test('the pieces of a scenario are those that it states', () => {
  const found = askRipple(shortLine)({ point: {}, dancer: 'infeed dancer' })
  if (!found.ok) throw new Error(found.say)
  expect(found.mass).toBe(4)
  expect(found.damping).toBe(40)
  expect(found.strands).toBeCloseTo(2, 12)
  expect(found.rollerMass).toBeCloseTo(1, 12)
  expect(found.drag).toBeCloseTo(0.25, 12)
  // 120 N and the weight of 4 kg on two strands
  expect(found.tension).toBeCloseTo((120 + 4 * 9.80665) / 2, 2)
})

test('a dancer that is not there is told', () => {
  const found = askRipple(shortLine)({ point: {}, dancer: 'nobody' })
  expect(found).toMatchObject({ ok: false })
  expect(JSON.stringify(found)).toContain('nobody')
})

test('travel: a stop of 2 s with ramps of 1.5 s takes 3.5 s of film', () => {
  expect(filmForHold(0.2, 1.5, 2, 1.5)).toBeCloseTo(0.7, 12)
  expect(filmForMismatch(0.2, -0.01, 10)).toBeCloseTo(0.02, 12)
  expect(standOff(0.2, 0.01, 2)).toBeCloseTo(0.001, 12)
  expect(secondsOf(0.2, 2, 0.2)).toBeCloseTo(2, 12)
})

test('force: bore and pressure give the force back; half a turn of wrap makes two strands', () => {
  const bore = boreFor(120, 3e5, 2, 0.5)
  const spec = { bore, count: 2, lever: 0.5, pressure: 3e5, deadVolume: 1e-4, lag: 0.1, exponent: 1.4 }
  expect(forceOf(spec, 3e5)).toBeCloseTo(120, 9)
  expect(strandsOf(Math.PI)).toBeCloseTo(2, 12)
  expect(frictionShare(3, 2, 60)).toBeCloseTo(0.025, 12)
})

test('the volume found makes just the gas spring asked for', () => {
  const spec = { bore: 0.025, count: 1, lever: 1, pressure: 2e5, lag: 0.1, exponent: 1.4 }
  const deadVolume = volumeFor(spec, 200, 0.05)
  expect(gasSpring({ ...spec, deadVolume }, 101_325 + 2e5, 0.05)).toBeCloseTo(200, 9)
})
