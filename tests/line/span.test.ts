/**
 * The film in a span: its closed forms (exact conservation of film, Whitworth & Harrison 1983, Shelton 1986, attribution from
 * memory; own digits), slack and take-up, several films at once, and every rate against the slope of what it is the rate of.
 */
import { describe, expect, test } from 'vitest'
import { dancer, EA, evaluate, finish, idler, nip, pet, pointOf, rewind, runOf, slacken, span, stepOf } from './rig'
import { timeOf, unwind, type Entry, type Setting } from './rig'
import type { Run } from '../../src/run/run'

const draw = (share: number): Entry => ({ draw: `${100 * share} %` })

/** Span 1, of `length` m, lies between two nips; everything after it keeps the second one's speed. */
const zone = (tension: number, share: number, rest: Partial<Setting> = {}, length = 2): Setting => ({
  line: [unwind(tension), span(1), nip('nip 1'), span(length), nip('nip 2', draw(share)), span(1), rewind(draw(share))],
  ...rest,
})

describe('a step of draw', () => {
  test.each([
    [0.001, 2, 150],
    [0.02, 0.7, 150],
    [-0.0006, 5, 150],
    [0.005, 0.3, 4000],
  ])('of %d on %d m at %d N: the film held goes exponentially to its end', (share, length, tension) => {
    const tick = length / 20
    const run = stepOf(zone(tension, 0, {}, length), zone(tension, share, { duration: 5 * length, tick }, length))
    const start = run.y[1]
    const end = length / ((1 + tension / EA) * (1 + share))
    let largest = 0
    finish(run, ({ time, y }) => {
      const expected = end + (start - end) * Math.exp((-(1 + share) * time) / length)
      largest = Math.max(largest, Math.abs(y[1] - expected))
    })
    expect(largest).toBeLessThan(1e-9 * length)
    expect(Math.abs(end - start)).toBeGreaterThan(1e-4 * length)
  })
})

test('strain multiplies from span to span: a driven roller does not cut the film off from what comes in', () => {
  const line = (tension: number) => [
    ...[unwind(tension), span(1), nip('nip 1', draw(0.001)), span(2), nip('nip 2', draw(0.003)), span(1)],
    rewind(draw(0.004)),
  ]
  for (const tension of [10, 500]) {
    const { spans } = pointOf({ line: line(tension) }).line
    const stretch = 1 + tension / EA
    const expected = [0.001, 0.003, 0.004].map((d) => EA * (stretch * (1 + d) - 1))
    Array.from(spans.force).forEach((force, j) => expect(force).toBeCloseTo(expected[j], 6))
  }
})

describe('slack', () => {
  test('comes when the film held has reached the length of the span, and then the span passes on what it gets', () => {
    const share = -0.001
    const setting = zone(112.5, share, { duration: 8, tick: 0.01 })
    const run = stepOf(zone(112.5, 0), setting)
    const [start, stretch] = [run.y[1], 1.0005]
    const end = 2 / (stretch * (1 + share))
    const expected = (2 / (1 + share)) * Math.log((end - start) / (end - 2))
    const { spans } = finish(run, ({ time, line, y }) => {
      expect(line.spans.force[1]).toBeGreaterThanOrEqual(0)
      if (time < expected) return
      expect(line.spans.force[1]).toBe(0)
      // from 1/1.0005 m/s coming, 0.999 m/s going at its free length
      expect(y[1]).toBeCloseTo(2 + (1 / stretch - 0.999) * (time - expected), 6)
    })
    expect(timeOf(run, 'slack', 'nip 1 → nip 2')).toBeCloseTo(expected, 5)
    expect(spans[1].slackSeconds).toBeCloseTo(8 - expected, 5)
    expect(spans[1].tension.min).toBe(0)
  })

  test('is taken up when as much has gone out as hung too long; before that nothing pulls', () => {
    const surplus = 0.004
    const run = runOf(zone(112.5, 0.01, { duration: 1, tick: 0.01 }), ({ line, y }) => {
      y[1] = line.spans.length[1] + surplus
    })
    const expected = surplus / (1.01 - 1 / 1.0005)
    finish(run, ({ time, line }) => {
      if (time < expected) expect(line.spans.force[1]).toBe(0)
      if (time > expected + 0.01) expect(line.spans.force[1]).toBeGreaterThan(0)
    })
    expect(timeOf(run, 'slack')).toBe(0)
    expect(timeOf(run, 'taut')).toBeCloseTo(expected, 6)
  })

  test('pulls on no roller', () => {
    const { line, y } = pointOf({
      line: [unwind(100), span(1), idler('idler'), span(1), nip('nip'), span(1), rewind()],
    })
    y[1] = 1.01
    line.spans.taut[1] = 0
    line.rates(0, y)
    expect(line.spans.force[1]).toBe(0)
    expect(line.rollers.filmTorque(1, line.spans.force)).toBeCloseTo(-0.05 * line.spans.force[0], 12)
  })
})

describe('film damping', () => {
  const damped = { line: [unwind(100), span(1, 0.01), nip('nip'), span(1, 0.01), rewind()] }

  test('adds its time constant times the rate of tension', () => {
    const { line, y } = pointOf(damped)
    y[0] -= 1e-4
    y[1] += 2e-4
    line.rates(0, y)
    const { elastic, elasticRate, force } = line.spans
    for (const j of [0, 1]) expect(force[j]).toBeCloseTo(elastic[j] + 0.01 * elasticRate[j], 10)
    expect(Math.abs(force[0] - elastic[0])).toBeGreaterThan(0.1)
  })

  test('never makes film push', () => {
    const { line, y } = pointOf({ line: [unwind(100), span(1, 1), idler('idler'), span(1, 1), rewind()] })
    y[0] = line.spans.length[0] * (1 - 1e-6)
    y[2] = 0
    line.rates(0, y)
    expect(line.spans.elastic[0]).toBeGreaterThan(0)
    expect(line.spans.elasticRate[0]).toBeLessThan(-100)
    expect(line.spans.force[0]).toBe(0)
  })
})

const spliced: Setting = {
  line: [
    ...[unwind(90), span(0.9, 0.002), idler('idler 1', { wrap: '90 deg' }), span(0.5, 0.002)],
    ...[dancer('dancer', { force: '180 N' }), span(0.7, 0.002), nip('nip'), span(1.2, 0.002), rewind(draw(0.0002))],
  ],
  films: { B: { ...pet, thickness: '75 µm', modulus: '3 GPa' } },
  stage: [
    {
      ...{ at: '0.1 s', do: 'flying splice', film: 'B', patch: '400 mm', mismatch: '0.05 %' },
      roll: { diameter: '380 mm', woundTension: '150 N' },
    },
  ],
  duration: 3.5,
}

/** Tension in every span from the tape itself: length too little over what each piece gives. */
function tensions({ line, y }: Run): number[] {
  let top = y[line.unwoundState]
  return Array.from(line.spans.length, (length, j) => {
    const bottom = top - y[j]
    let give = 0
    line.tape.materials.forEach((m, k) => {
      const piece = Math.min(top, line.tape.upperEdge(k)) - Math.max(bottom, line.tape.lowerEdge(k))
      give += Math.max(0, piece) / m.stiffness
    })
    top = bottom
    return (length - y[j]) / give
  })
}

describe('several films in a span', () => {
  test('pull alike: the elongation is shared by what each piece gives', () => {
    let mixed = 0
    finish(runOf(spliced), (run) => {
      const { spans, rollers } = evaluate(run)
      tensions(run).forEach((expected, j) => {
        expect(Math.abs(spans.elastic[j] - expected)).toBeLessThan(1e-6 * (1 + Math.abs(expected)))
        if (rollers.material[j] !== rollers.material[j + 1]) mixed++
      })
    })
    expect(mixed).toBeGreaterThan(100)
  })

  test('film arrives at a roller with the stretch of the piece that arrives', () => {
    finish(runOf(spliced), (run) => {
      const { spans, rollers, tape } = evaluate(run)
      for (let i = 1; i < rollers.count; i++) {
        const material = tape.materials[rollers.material[i]]
        const stretch = 1 + spans.pull[i - 1] / material.stiffness
        expect(rollers.flux[i] * stretch).toBeCloseTo(rollers.radius[i] * rollers.speed[i], 12)
      }
    })
  })
})

test('the rate of tension is its slope along the motion: moving lengths, splices, several films', () => {
  const step = 1e-5
  let largest = 0
  finish(runOf(spliced), (run) => {
    const { line, y, time } = run
    const rates = line.rates(time, y).slice()
    const expected = Array.from(line.spans.elasticRate)
    const at = (s: number) => {
      line.rates(
        time,
        y.map((value, k) => value + s * rates[k]),
      )
      return Array.from(line.spans.elastic)
    }
    const [now, once, twice] = [at(0), at(step), at(2 * step)]
    expected.forEach((rate, j) => {
      const slope = (4 * once[j] - 3 * now[j] - twice[j]) / (2 * step)
      largest = Math.max(largest, Math.abs(slope - rate) / (1 + Math.abs(rate)))
    })
  })
  expect(largest).toBeLessThan(1e-4)
})

test('film is held by the span that it is in: half of the film on a wrapped roller counts to either side', () => {
  const { line } = pointOf({
    line: [unwind(100), span(1), idler('idler', { wrap: '90 deg', diameter: '80 mm' }), span(0.5), rewind()],
  })
  const halfArc = (Math.PI / 4) * 0.04
  expect(line.spans.length[0]).toBeCloseTo(1 + halfArc, 14)
  expect(line.spans.length[1]).toBeCloseTo(0.5 + halfArc, 14)
})

test('film damping is what the span states, whatever arcs of film lie beside it', () => {
  const wrapped = { wrap: '180 deg' }
  const line = [
    ...[unwind(100), span(0.3, 0.002), idler('idler 1', wrapped), span(0.4, 0.003), idler('idler 2', wrapped)],
    ...[span(0.5, 0.004), rewind()],
  ]
  expect(Array.from(pointOf({ line }).line.spans.damping)).toEqual([0.002, 0.003, 0.004])
})

test('a line that is slack everywhere hangs still and turns nothing', () => {
  const run = runOf({ line: [unwind(50), span(1), idler('idler'), span(1), rewind()], speed: 0, threading: 50 }, (p) =>
    slacken(p, 0.01),
  )
  const before = run.y.slice()
  finish(run)
  expect(run.y).toEqual(before)
})
