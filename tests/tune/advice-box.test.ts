/** The box that advice searches: what is, and nothing at all, are points of it; its ends are named; another spring keeps the tension. */
import { describe, expect, test } from 'vitest'
import { dancer, nip, rewind, scenarioOf, span, trim, unwind } from '../line/rig'
import type { RunScenario } from '../../src/run/run'
import {
  changedTo,
  edgesOf,
  presentShares,
  sharesAt,
  sidesOf,
  subjectOf,
  valuesAt,
  type Side,
  type Subject,
} from '../../src/tune/advice-box'
import { thinned } from '../../src/tune/advice-desk'
import { whyEach } from '../../src/tune/advice-words'
import { standAt } from '../../src/tune/setup'

interface Given {
  readonly dancer?: Record<string, unknown>
  readonly control?: readonly Record<string, unknown>[]
  readonly stage?: readonly Record<string, unknown>[]
}

const loop = (settings: Record<string, unknown>) => trim('dancer', 'unwind', settings)
const taper = { control: 'force taper', measures: 'rewind', drives: 'dancer', tension: '100 N' }

function rigged({
  dancer: own = {},
  control = [loop({ gain: '1 1/s', integral: '0 1/s^2' })],
  stage = [],
}: Given = {}) {
  const line = [
    ...[unwind(100, { drive: { kind: 'lag', lag: '100 ms' } }), span(0.5, 1e-3), dancer('dancer', own)],
    ...[span(0.5, 1e-3), nip('nip'), span(0.5, 1e-3), rewind()],
  ]
  const scenario = scenarioOf({ line, control: [...control], stage: [...stage], speed: 0.5 })
  const subject = subjectOf(scenario, 'dancer')
  if (subject === undefined) throw new Error('no dancer')
  return { scenario, subject, sides: sidesOf(subject) }
}

/** N, of the strands at rest. */
function strands(scenario: RunScenario): number[] {
  const standing = standAt(scenario, {})
  if (!standing.ok) throw new Error(standing.say)
  const { line, y } = standing
  line.rates(0, y)
  return (line.carriages[0]?.strands.spans ?? []).map((span) => line.spans.force[span])
}

const valueOf = (sides: readonly Side[], values: readonly number[], name: string) =>
  values[sides.findIndex((side) => side.name === name)]

function withSpring(scenario: RunScenario, subject: Subject, sides: readonly Side[], stiffness: number) {
  const values = sides.map(({ name, old }) => (name === 'stiffness' ? stiffness : old))
  return changedTo(scenario, subject, sides, values)
}

describe('points of the box', () => {
  test('what is: without damping, without an integral part, and with both', () => {
    for (const [damping, integral] of [
      [0, 0],
      [50, 0.3],
      [1e3, 9],
    ]) {
      const { sides } = rigged({
        dancer: { damping: `${damping} N s/m`, stiffness: '150 N/m' },
        control: [loop({ gain: '1 1/s', integral: `${integral} 1/s^2` })],
      })
      const values = valuesAt(sides, presentShares(sides))
      sides.forEach(({ old }, k) => expect(Math.abs(values[k] - old)).toBeLessThanOrEqual(1e-9 * Math.abs(old)))
    }
  })

  test('no damping, no spring and no integral part at the lower ends; shares and values are there and back', () => {
    const { sides } = rigged({ dancer: { damping: '50 N s/m', stiffness: '150 N/m' } })
    const lowest = valuesAt(
      sides,
      sides.map(() => 0),
    )
    for (const name of ['damping', 'stiffness', 'integral gain']) expect(valueOf(sides, lowest, name)).toBe(0)
    const shares = sides.map((_, k) => 0.2 + 0.15 * k)
    sharesAt(sides, valuesAt(sides, shares)).forEach((share, k) => expect(share).toBeCloseTo(shares[k], 9))
  })

  test('within 1 % of a side its end is named with a reason, elsewhere not', () => {
    const { sides } = rigged({ dancer: { damping: '50 N s/m', stiffness: '150 N/m' } })
    const at = (share: number) =>
      edgesOf(
        sides,
        valuesAt(
          sides,
          sides.map(() => share),
        ),
      )
    expect(at(0.5).size).toBe(0)
    expect(at(0.02).size).toBe(0)
    expect(at(0.005).size).toBe(sides.length)
    expect([...at(0.995).values()].join(' ')).toMatch(/200 N s\/m.*4 Hz.*ten times.*0\.3 s/)
    expect([...at(0).values()].join(' ')).toMatch(/none below.*thirtieth/)
  })
})

describe('another spring that is not at rest at the set point', () => {
  const spring = { stiffness: '300 N/m', springZero: '100 mm' }
  /** N: the trim lets the dancer stand about 0.1 mm off its set point, where a spring of another stiffness pulls by so much else */
  const OFF_PLACE = 0.05

  test('keeps the tension by the pressure of a cylinder', () => {
    const cylinder = { bore: '40 mm', pressure: '0.75 bar', deadVolume: '60 cm^3' }
    const { scenario, subject, sides } = rigged({ dancer: { ...spring, force: undefined, cylinder } })
    const before = strands(scenario)
    const { scenario: softer, changes } = withSpring(scenario, subject, sides, 100)
    expect(changes.map(({ name }) => name)).toContain('pressure')
    strands(softer).forEach((force, k) => expect(Math.abs(force - before[k])).toBeLessThan(OFF_PLACE))
  })

  test('keeps it by the force where there is no cylinder', () => {
    const { scenario, subject, sides } = rigged({ dancer: { ...spring, force: '150 N' } })
    const before = strands(scenario)
    const { scenario: other, changes } = withSpring(scenario, subject, sides, 900)
    expect(changes.at(-1)).toMatchObject({ name: 'force', old: 150, new: 150 - 60 })
    strands(other).forEach((one, k) => expect(Math.abs(one - before[k])).toBeLessThan(OFF_PLACE))
  })

  test('goes no further than pressure can make up for', () => {
    const cylinder = { bore: '40 mm', pressure: '0.1 bar', deadVolume: '60 cm^3' }
    const { scenario, subject, sides } = rigged({ dancer: { ...spring, force: undefined, cylinder } })
    const side = sides.find(({ name }) => name === 'stiffness')
    // the spring pushes by 30 N with its 100 mm; 0.1 bar on 12.57 cm^2 are 12.57 N that a stiffer one may push in their place
    expect(side?.most).toBeCloseTo(300 + 125.66, 1)
    expect(
      edgesOf(
        sides,
        valuesAt(
          sides,
          sides.map(() => 1),
        ),
      ).get(side?.path ?? ''),
    ).toContain('pressure')
    const { changes } = withSpring(scenario, subject, sides, side?.most ?? 0)
    expect(changes.find(({ name }) => name === 'pressure')?.new).toBeCloseTo(0, 6)
  })

  test('is not looked for where a taper sets the force', () => {
    const { sides } = rigged({ dancer: spring, control: [loop({ gain: '1 1/s' }), taper] })
    expect(sides.map(({ name }) => name)).toEqual(['damping', 'gain', 'integral gain'])
    const { sides: resting } = rigged({ dancer: { stiffness: '300 N/m' }, control: [loop({ gain: '1 1/s' }), taper] })
    expect(resting.map(({ name }) => name)).toContain('stiffness')
  })
})

describe('changes that do not matter', () => {
  const { sides } = rigged({ dancer: { damping: '50 N s/m', stiffness: '0 N/m' } })
  const values = sides.map(({ name, old }) => (name === 'stiffness' ? 0.018 : name === 'gain' ? 3 : old))

  test('are set back, those that do are not', () => {
    const cost = (at: readonly number[]) => 1 / valueOf(sides, at, 'gain') + 1e-4 * valueOf(sides, at, 'stiffness')
    const [best, ...others] = thinned({ sides }, values, cost)
    expect(others).toEqual([])
    expect(valueOf(sides, best ?? [], 'stiffness')).toBe(0)
    expect(valueOf(sides, best ?? [], 'gain')).toBe(3)
  })

  test('count together: what is set back first leaves less for the next', () => {
    const cost = (at: readonly number[]) =>
      1 + 0.007 * Number(valueOf(sides, at, 'stiffness') === 0) + 0.007 * Number(valueOf(sides, at, 'gain') !== 3)
    const found = thinned({ sides }, values, cost)
    expect(found.map((at) => valueOf(sides, at, 'gain'))).toEqual([3])
  })

  test('are not told where the line cannot be used', () => {
    expect(thinned({ sides }, values, () => 12)).toEqual([])
  })
})

describe('reasons', () => {
  const { scenario, subject, sides } = rigged({ control: [loop({ gain: '1 1/s', integral: '0.3 1/s^2' })] })
  const measures = { deviation: 0.1, zoneDeviation: 0.1, newtons: 5, span: 'span', travelShare: 0.3, stopSeconds: 0 }
  const linear = { ...measures, phaseMargin: 1, marginAt: {}, leastDamping: 0.3 }
  const found = {
    ...{ scenario, dancer: subject.dancer, aims: { band: 0.1, phaseMargin: 0.7, travelShare: 0.6 } },
    ...{ before: measures, after: measures, linearBefore: { ...linear, phaseMargin: 0.5 }, linear, edges: new Map() },
  }
  const reasons = (integral: number) => {
    const values = sides.map(({ name, old }) => (name === 'gain' ? 3 : name === 'integral gain' ? integral : old))
    const { changes } = changedTo(scenario, subject, sides, values)
    const told = whyEach(changes, { ...found, edges: edgesOf(sides, values) })
    return (name: string) => told.find((change) => change.name === name)?.why ?? ''
  }

  test('speak of the same integral part only where it is the same', () => {
    expect(reasons(0.3)('gain')).toContain('the same integral part')
    expect(reasons(0.31)('gain')).toContain('the same integral part')
    expect(reasons(2.92)('gain')).not.toContain('the same integral part')
    expect(reasons(2.92)('integral gain')).toContain('larger')
    expect(reasons(0.1)('integral gain')).toContain('smaller')
    expect(reasons(0)('integral gain')).toMatch(
      /Without an integral part.*edge of what was searched: there is none below/,
    )
  })

  test('do not promise the tension beyond the next force that the stage sets', () => {
    const stage = [{ do: 'dancer force', at: '0.5 s', dancer: 'dancer', to: '210 N', in: '0.2 s' }]
    const given = { dancer: { stiffness: '300 N/m', springZero: '50 mm' } }
    const whyForce = (rig: ReturnType<typeof rigged>) =>
      whyEach(withSpring(rig.scenario, rig.subject, rig.sides, 100).changes, {
        ...found,
        scenario: rig.scenario,
        dancer: rig.subject.dancer,
      }).find(({ name }) => name === 'force')?.why
    expect(whyForce(rigged(given))).toBe('Keeps the tension what it was, now that the spring has changed.')
    expect(whyForce(rigged({ ...given, stage }))).toContain('at the start')
  })
})
