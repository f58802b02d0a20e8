/**
 * Transfer functions of a span, of two spans and of a dancer zone against closed forms. Exact mass balance linearised (own derivation):
 *   one span between driven rollers, v1 and v2:   L d(l)/dt = v2 l (l/l1) ..., so dF/d(draw of 2) = EA l/(1 + s L/v) with l the stretch
 *   two spans: what the first lets through is felt by the second with a lag more: EA l/((1 + s L1/v)(1 + s L2/v)) x s L2/v where the
 *   middle roller speeds up
 *   dancer of mass M with spring k on film held by two driven rollers: light roller, both strands as one spring
 */
import { describe, expect, test } from 'vitest'
import { Complex } from '../../src/tune/complex'
import { Responses } from '../../src/tune/response'
import type { Plant } from '../../src/tune/plant'
import { dancer, EA, idler, nip, rewind, span, unwind } from '../line/rig'
import { plantAt } from './rig'

const FREQUENCIES = [0.003, 0.02, 0.1, 0.4, 1, 3, 10]

function answer(plant: Plant, disturbance: string, output: string, w: number): Complex {
  const responses = new Responses(plant)
  const k = responses.disturbances.findIndex((d) => d.key === disturbance)
  const j = responses.outputs.findIndex((o) => o.key === output)
  expect([k, j]).not.toContain(-1)
  return responses.at(w, k)[j]
}

function expectClose(found: Complex, wanted: Complex, share: number): void {
  expect(found.less(wanted).size / wanted.size).toBeLessThan(share)
}

const speed = 1.5
/** s, transport time of a span of `length` (m) */
const tau = (length: number) => length / speed
const lag = (t: number, w: number) => new Complex(1, 0).over(new Complex(1, w * t))

describe('transfer functions against closed forms', () => {
  test('a span after a change of draw, of the radius of the unwind, and of line speed, which shows nothing', () => {
    const plant = plantAt({ line: [unwind(100), span(2), nip('nip'), span(3), rewind()], speed })
    const stretch = 1 + 100 / EA
    for (const w of FREQUENCIES) {
      const wanted = lag(tau(2), w).times(EA * stretch)
      expectClose(answer(plant, 'draw/nip', 'tension/unwind → nip', w), wanted, 1e-6)
      // a radius larger by a metre feeds w more: the same as so much less draw
      const radius = 0.2
      expectClose(answer(plant, 'radius/unwind', 'tension/unwind → nip', w), wanted.times(-1 / radius), 1e-6)
      expect(answer(plant, 'speed', 'tension/unwind → nip', w).size).toBeLessThan(1e-3)
    }
  })

  test('two spans: strain passes the driven roller between them with a lag more', () => {
    const plant = plantAt({ line: [unwind(100), span(2), nip('nip'), span(3), rewind()], speed })
    const stretch = 1 + 100 / EA
    for (const w of FREQUENCIES) {
      const first = lag(tau(2), w).times(EA * stretch)
      // downstream: what arrives is stretched more, what arrives is less: l2 (1/(1 + s t1) - 1)/(1 + s t2)
      const wanted = first.minus(EA * stretch).by(lag(tau(3), w))
      expectClose(answer(plant, 'draw/nip', 'tension/nip → rewind', w), wanted, 1e-6)
    }
  })

  test('an idler between two spans: draw reaches the first through the swing of the roller', () => {
    const plant = plantAt({
      line: [unwind(100), span(1), idler('idler'), span(1), nip('nip'), span(1), rewind()],
      speed,
    })
    const stretch = 1 + 100 / EA
    // m1' = q0 - q1, m2' = q1 - q2, J w' = R (F2 - F1): spans of one metre, R 50 mm, J 0.002 kg m^2, e strain of each
    for (const w of FREQUENCIES) {
      const s = new Complex(0, w)
      const v = speed
      // strains a, b and surface speed u of the idler, all small: a' = (u - v a)/L with what enters held, b' = (v (a - b) + (d - u))/L
      // with d the draw times v; (J/R^2) u' = EA (b - a); all speeds times the stretch
      const inertia = 0.002 / 0.05 ** 2
      const d = new Complex(v * stretch, 0)
      // from the last: b = a + inertia s u/EA; first: u = (s L + v) a; second: s L b = v a - v b + d - u
      const u = s.plus(v)
      const b = new Complex(1, 0).add(s.by(u).times(inertia / (EA * stretch)))
      const a = d.over(s.by(b).add(b.times(v)).minus(v).add(u))
      expectClose(answer(plant, 'draw/nip', 'tension/unwind → idler', w), a.times(EA), 2e-3)
    }
  })

  test('a dancer on film between driven rollers: force on it to its position and to tension', () => {
    const stiffness = 300
    const line = [
      ...[
        unwind(100),
        span(1),
        dancer('dancer', { stiffness: `${stiffness} N/m`, damping: '20 N s/m', inertia: '1e-7 kg m^2' }),
      ],
      ...[span(1), nip('nip'), span(1), rewind()],
    ]
    const still = plantAt({ line, speed: 1e-6 })
    // at hardly any speed film is held: both strands (1 m and half an arc each) are one spring (2^2 EA/(L1 + L2)) beside k
    const length = 1 + (Math.PI * 0.1) / 4
    const film = (4 * EA) / (2 * length)
    for (const w of [3, 10, 30, 100, 180]) {
      const z = new Complex(1, 0).over(new Complex(stiffness + film - 4 * w * w, 20 * w))
      expectClose(answer(still, 'force/dancer', 'dancer/dancer', w), z, 2e-3)
      expectClose(answer(still, 'force/dancer', 'tension/unwind → dancer', w), z.times(film / 2), 2e-3)
    }
  })
})
