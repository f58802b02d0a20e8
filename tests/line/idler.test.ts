/** A roller that only the film turns. Newton, Coulomb friction, Euler-Eytelwein (textbook formulas, own digits). */
import { EigenvalueDecomposition } from 'ml-matrix'
import { describe, expect, test } from 'vitest'
import { jacobian } from '../../src/line/jacobian'
import { restOrGo } from '../../src/line/rollers'
import {
  EA,
  finish,
  idler,
  nip,
  pet,
  pointOf,
  rewind,
  runOf,
  span,
  timeOf,
  unwind,
  type Entry,
  type Setting,
} from './rig'

/** unwind, span, idler, span, rewind; wrap 0, so spans end at the idler. */
const one = (changes: Entry = {}, rest: Partial<Setting> = {}, before = 1, after = 1): Setting => ({
  line: [unwind(112.5), span(before), idler('idler', changes), span(after), rewind()],
  ...rest,
})

describe('on the film of its two spans', () => {
  test.each([
    [1, 1, 0.05, 0.01],
    [0.3, 1.4, 0.04, 0.0016],
    [2, 0.5, 0.1, 0.08],
  ])('%d m and %d m, R %d m, J %d kg m^2: w^2 = (EA R^2/J)(1/L1 + 1/L2)(1 + e)', (before, after, radius, inertia) => {
    const setting = one(
      { diameter: `${2 * radius} m`, inertia: `${inertia} kg m^2` },
      { speed: 0, threading: 112.5 },
      before,
      after,
    )
    const { line, y } = pointOf(setting)
    const states = y.map((_, k) => k)
    const { imaginaryEigenvalues } = new EigenvalueDecomposition(jacobian(line, 0, y, states, line.scales()))
    const expected = ((EA * radius ** 2) / inertia) * (1 / before + 1 / after) * (1 + 112.5 / EA)
    expect(Math.max(...imaginaryEigenvalues) ** 2 / expected).toBeCloseTo(1, 5)
  })
})

describe('in steady motion', () => {
  test('takes drag over radius from the tension that passes, the more the faster with viscous drag', () => {
    for (const speed of [0.2, 3]) {
      const drag = { drag: '0.02 N m', viscousDrag: '0.0005 N m s' }
      const { spans, rollers } = pointOf(one(drag, { speed })).line
      expect(spans.force[1] - spans.force[0]).toBeCloseTo((0.02 + 0.0005 * rollers.speed[1]) / 0.05, 7)
      expect(rollers.speed[1]).toBeCloseTo(speed / 0.05, 1)
    }
  })

  test('without drag leaves tension as it is', () => {
    const { force } = pointOf(one()).line.spans
    expect(force[1]).toBeCloseTo(force[0], 8)
  })
})

/** Film so stiff that every roller follows its ramp. */
const stiff = { A: { ...pet, modulus: '45 GPa' } }

test('in a ramp the film turns it faster: the tensions differ by drag and J a/R^2 more', () => {
  const change = (sign: 1 | -1) => {
    const ramp = { at: '0 s', do: 'speed', to: `${2 + sign} m/s`, in: '2 s' }
    const setting = {
      line: [
        ...[unwind(100), span(1, 0.001), idler('idler', { inertia: '0.004 kg m^2', drag: '0.02 N m' })],
        ...[span(1, 0.001), nip('nip'), span(1), rewind()],
      ],
      ...{ films: stiff, speed: 2, stage: [ramp], duration: 1 },
    }
    const run = runOf(setting)
    finish(run)
    return run.line.spans.force[1] - run.line.spans.force[0]
  }
  expect(change(1)).toBeCloseTo(0.4 + (0.004 * 0.5) / 0.05 ** 2, 3)
  expect(change(-1)).toBeCloseTo(0.4 - (0.004 * 0.5) / 0.05 ** 2, 3)
})

describe('dry friction', () => {
  const rough = { drag: '0.15 N m' }
  const start = { at: '0 s', do: 'start', to: '1 m/s', in: '1000 s' }

  test('holds it until the film pulls more than the drag, and not a moment longer', () => {
    const run = runOf(one(rough, { speed: 0, threading: 112.5, stage: [start], duration: 1, tick: 0.005 }))
    // both ends run alike: what winds up is missing after the idler and hangs before it; s m of unstretched film
    const difference = (s: number, stretch: number) => {
      const [m0, m1] = [1 / stretch + s, 1 / stretch - s]
      return EA * ((1 - m1) / m1 - (1 - m0) / m0)
    }
    const stretch = 1.0005
    let [low, high] = [0, 1]
    for (let k = 0; k < 60; k++) {
      const middle = (low + high) / 2
      if (difference(middle, stretch) < 0.15 / 0.05) low = middle
      else high = middle
    }
    // surface speed is t/1000; the film that comes has the stretch of the roll, the film that goes that of its span
    const expected = Math.sqrt(2 * low * stretch * 1000)
    finish(run)
    expect(timeOf(run, 'turns', 'idler')).toBeCloseTo(expected, 4)
    expect(expected).toBeGreaterThan(0.1)
  })

  test('a stopped line keeps unequal tensions within what the drag can hold', () => {
    const stop = { at: '0.5 s', do: 'stop', in: '1 s' }
    const line = [unwind(112.5), span(1, 0.003), idler('idler', rough), span(1, 0.003), rewind()]
    const run = runOf({ line, stage: [stop], duration: 3 })
    const late: number[] = []
    finish(run, ({ time, line: { spans } }) => {
      if (time > 2.5) late.push(spans.force[1] - spans.force[0])
    })
    timeOf(run, 'sticks', 'idler')
    expect(run.line.rollers.mode[1]).toBe(0)
    expect(Math.abs(late[0])).toBeLessThanOrEqual(0.15 / 0.05 + 1e-9)
    expect(Math.abs(late[0])).toBeGreaterThan(0.1)
    for (const difference of late) expect(difference).toBeCloseTo(late[0], 8)
  })

  test('of nothing lets it swing on: it never sticks', () => {
    const stop = { at: '0.1 s', do: 'stop', in: '0.5 s' }
    const run = runOf(one({ drag: '0 N m' }, { stage: [stop], duration: 2 }))
    finish(run)
    expect(run.happenings.filter((h) => h.what === 'sticks')).toEqual([])
    expect(run.line.rollers.mode[1]).toBe(1)
  })

  test('lets go towards the greater pull, and holds what it can', () => {
    expect([-3, -2, -1, 0, 1, 2, 3].map((net) => restOrGo(net, 2))).toEqual([-1, 0, 0, 0, 0, 0, 1])
    expect([-1, 0, 1].map((net) => restOrGo(net, 0))).toEqual([-1, 0, 1])
  })

  test('works against the motion when it turns backward too', () => {
    const { line, y } = pointOf(one(rough, { speed: 0, threading: 112.5 }))
    for (const sign of [-1, 1] as const) {
      line.rollers.mode[1] = sign
      y[2] = sign * 5
      const rates = line.rates(0, y)
      const film = line.rollers.filmTorque(1, line.spans.force)
      expect(rates[2]).toBeCloseTo((film - sign * 0.15) / 0.002, 8)
      expect(line.rollers.dragPower(1)).toBeCloseTo(0.75, 12)
    }
  })
})

describe('grip', () => {
  const { rollers } = pointOf(one({ wrap: '90 deg', friction: 0.3 })).line
  const whole = Math.exp((0.3 * Math.PI) / 2)

  test('margin: all with equal tensions, none at exp(mu beta), negative beyond, never below -1', () => {
    expect(rollers.tractionMargin(1, 1)).toBe(1)
    expect(rollers.tractionMargin(1, whole)).toBeCloseTo(0, 12)
    expect(rollers.tractionMargin(1, Math.sqrt(whole))).toBeCloseTo(0.5, 12)
    expect(rollers.tractionMargin(1, whole ** 1.5)).toBeCloseTo(-0.5, 12)
    expect(rollers.tractionMargin(1, Infinity)).toBe(-1)
  })

  test('where nothing is wrapped there is nothing to slip', () => {
    expect(pointOf(one()).line.rollers.tractionMargin(1, 5)).toBe(1)
  })
})
