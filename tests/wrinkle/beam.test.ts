/** The misaligned span against its limits and against the beam's own equation, marched. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { compliance, meanShear, misalignmentOf, slackEdge, slenderness, type Beam } from '../../src/wrinkle/beam'
import { ratio } from './setting'

const anyBeam: fc.Arbitrary<Beam> = fc.record({
  thickness: ratio(1e-6, 3e-4),
  width: ratio(0.01, 5),
  length: ratio(0.01, 100),
  modulus: ratio(1e7, 1e12),
  poisson: ratio(0.01, 0.49),
  tension: ratio(1e-3, 1e5),
})

const beam: Beam = { thickness: 25e-6, width: 0.3, length: 0.5, modulus: 4.5e9, poisson: 0.3, tension: 52.5 }
const bendingStiffness = (b: Beam) => (b.modulus * b.thickness * b.width ** 3) / 12

test('KL to nothing: a cantilever, L^2/(2 E I), and shear 0.4 (1 + nu) (W/L)^2 of it', () => {
  const slack = { ...beam, tension: 1e-9 }
  expect(slenderness(slack)).toBeLessThan(1e-5)
  const { bending, shear } = compliance(slack)
  expect(bending / (beam.length ** 2 / 2 / bendingStiffness(beam))).toBeCloseTo(1, 8)
  expect(shear / bending).toBeCloseTo(0.4 * 1.3 * (0.3 / 0.5) ** 2, 8)
})

test('half of it is shear at L = 0.72 W', () => {
  const { bending, shear } = compliance({ ...beam, tension: 1e-9, length: Math.sqrt(0.52) * beam.width })
  expect(shear / bending).toBeCloseTo(1, 8)
  expect(Math.sqrt(0.52)).toBeCloseTo(0.72, 2)
})

test('KL large: a string, 1/F; nothing overflows', () => {
  const string = { ...beam, length: 1e6 }
  expect(slenderness(string)).toBeGreaterThan(1e3)
  expect(compliance(string).bending).toBeCloseTo(1 / beam.tension, 14)
  expect(Number.isFinite(slackEdge(string))).toBe(true)
})

test.each([0.02, 0.3, 1, 4])("KL = %s: the beam's equation, marched by Runge-Kutta, gives slope and moment", (kl) => {
  const ei = bendingStiffness(beam)
  const tension = (kl / beam.length) ** 2 * ei
  // moment m(x): E I y'' = m, dm/dx = F y' - V; from slope 0 and m(0) = -(what slackEdge takes for the arm) m must end at 0
  const force = 1
  const march = (m0: number): [slope: number, moment: number] => {
    const n = 4000
    const step = beam.length / n
    let [slope, moment] = [0, m0]
    for (let i = 0; i < n; i++) {
      const f = (s: number, m: number) => [m / ei, tension * s - force] as const
      const [a, b] = f(slope, moment)
      const [c, d] = f(slope + (step / 2) * a, moment + (step / 2) * b)
      const [e, g] = f(slope + (step / 2) * c, moment + (step / 2) * d)
      const [h, k] = f(slope + step * e, moment + step * g)
      slope += (step / 6) * (a + 2 * c + 2 * e + h)
      moment += (step / 6) * (b + 2 * d + 2 * g + k)
    }
    return [slope, moment]
  }
  // the end moment is linear in the one at the start
  const [low, high] = [march(0)[1], march(1)[1]]
  const m0 = -low / (high - low)
  const taut = { ...beam, tension }
  const { bending, shear } = compliance(taut)
  expect(march(m0)[0] / bending).toBeCloseTo(1, 8)
  // the edge goes slack where 6 M/(h W^2) equals the mean stress
  const slackForce = (tension * beam.width) / 6 / m0
  expect((slackForce * (bending + shear)) / slackEdge(taut)).toBeCloseTo(1, 8)
})

test('shear and misalignment are each other turned round, whatever the sign and the beam', () => {
  fc.assert(
    fc.property(anyBeam, ratio(1e-6, 0.1), (b, phi) => {
      const tau = meanShear(b, -phi)
      expect(tau).toBeGreaterThan(0)
      expect(misalignmentOf(b, tau) / phi).toBeCloseTo(1, 9)
      expect(slackEdge(b)).toBeGreaterThan(0)
    }),
  )
})

test('very wide and very long spans: shear rules the one, bending the other', () => {
  const wide = compliance({ ...beam, length: 0.003 })
  expect(wide.bending / wide.shear).toBeLessThan(1e-3)
  const long = compliance({ ...beam, length: 30 })
  expect(long.shear / long.bending).toBeLessThan(1e-2)
})
