/** What is made of a roll: every finding of an invented roll against its closed form, worked out here anew. */
import { describe, expect, test } from 'vitest'
import { assess, solveRoll, type FindingKey, type RollInput, type RollResult } from '../../src/roll'
import { change } from '../../src/roll/later'
import { windingOf } from '../../src/roll/input'
import { inputOf } from './rolls'

const [core, full, width, thickness, fill, density] = [0.05, 0.1, 0.4, 50e-6, 1.1, 1400]
const [friction, acceleration, tension, layOn, P] = [0.3, 2, 80, 15, 2e5]
const base = inputOf('roll-tag-stock-small-core.json')

const input: RollInput = {
  ...base,
  film: {
    ...base.film,
    width,
    thickness,
    density,
    fillFactor: fill,
    modulus: 4e9,
    elasticLimit: 0.01,
    roughness: 1e-6,
  },
  inRoll: { ...base.inRoll, friction },
  core: { ...base.core, outer: core, bore: 0.04, modulus: 2e9, poisson: 0.3 },
  ...{ acceleration, layOn, airKept: 0, fullRadius: full },
  taper: { ...base.taper, law: 'constant', tension, fullDiameter: 2 * full },
  later: { ...base.later, unwindTension: 50 },
}

const N = 200
const radius = Float64Array.from({ length: N + 1 }, (_, i) => core + ((full - core) * i) / N)

/** A roll with these pressures; hoop stress by the force balance, its slope given. */
function invented(pressure: (r: number) => number, slope: (r: number) => number, air = 0): RollResult {
  const nodes = radius.map(pressure)
  return {
    ...{ outcome: 'finished', input, later: undefined },
    tension: radius.map(() => tension + layOn),
    air: radius.map(() => air),
    airLater: radius.map(() => air),
    wound: {
      ...{ radius, pressure: nodes, stages: [], shells: N },
      hoop: radius.map((r, i) => -nodes[i] - r * slope(r)),
    },
  }
}

const even = invented(
  () => P,
  () => 0,
)

function found(result: RollResult, key: FindingKey) {
  const finding = assess(result).find((one) => one.key === key)
  if (finding === undefined) throw new Error(`no ${key}`)
  return finding
}

const is = (value: number, expected: number) => {
  expect(value / expected).toBeCloseTo(1, 9)
}

describe('a roll of the same pressure everywhere', () => {
  const [b, a] = [core, 0.04]
  const grip = 2 * Math.PI * core * core * width * friction * P
  // film outside the core, turned from standstill at the line's acceleration
  const ramp = ((Math.PI / 2) * (density / fill) * width * (full ** 4 - core ** 4) * acceleration) / full

  test('pressure on the core, the bore by a tube pressed from outside', () => {
    is(found(even, 'core pressure').value, P)
    is(found(even, 'bore').value, (4 * P * a * b * b) / (2e9 * (b * b - a * a)))
  })

  test('torque held over torque that must pass: winding, start, stop, unwinding', () => {
    is(found(even, 'slip while winding').value, grip / (tension * full))
    is(found(even, 'slip at a start').value, grip / (tension * full + ramp))
    is(found(even, 'slip at a stop').value, grip / Math.abs(tension * full - ramp))
    is(found(even, 'slip while unwinding').value, grip / (50 * full + ramp))
    expect(found(even, 'slip at a stop').radius).toBe(core)
  })

  test('force along the axis, and no compression beyond the plateau', () => {
    is(found(even, 'axial slip').value, 2 * Math.PI * core * width * friction * P)
    expect(found(even, 'starring').value).toBe(0)
  })

  test('strain of the film going on, lay-on and all, of its elastic limit', () => {
    is(found(even, 'film').value, (tension + layOn) / (4e9 * width * thickness) / 0.01)
  })
})

test('compression beyond the plateau is r P prime where pressure grows outward, none where it falls', () => {
  const k = 2e7
  const rising = invented(
    (r) => k * r * r,
    (r) => 2 * k * r,
  )
  const r = radius[N - 1]
  is(found(rising, 'starring').value, 2 * k * r * r)
  is(found(rising, 'starring').radius, r)
  is(found(rising, 'blocking').radius, full)
  const falling = invented(
    (s) => k * (1 - s * s),
    (s) => -2 * k * s,
  )
  expect(found(falling, 'starring').value).toBe(0)
})

test('on the way to the full roll air takes more room under less pressure, and holds less', () => {
  const together = Math.hypot(1e-6, 1e-6)
  const layer = 1.2 * together
  const result = invented(
    () => P,
    () => 0,
    layer,
  )
  const [pressure, size] = [0.5 * P, N / 2]
  const stage = { outerRadius: radius[size], pressure: new Float64Array(size + 1).fill(pressure) }
  const wider = (layer * (101325 + P)) / (101325 + pressure)
  const left = friction * ((3 * together - wider) / (2 * together))
  const grown = found({ ...result, wound: { ...result.wound, stages: [stage] } }, 'slip while winding')
  is(grown.value, (2 * Math.PI * core * core * width * left * pressure) / (tension * radius[size]))
  expect(grown.value).toBeLessThan(found(result, 'slip while winding').value)
})

test('a limit of nothing is kept, without friction too', () => {
  const nothing = { ...input, inRoll: { ...input.inRoll, friction: 0 }, limits: { ...input.limits, axialForce: 0 } }
  expect(found({ ...even, input: nothing }, 'axial slip')).toMatchObject({ value: 0, share: 0 })
})

describe('what the stress model is given', () => {
  test('stack along the film, core of a thick tube with the ratio of the film, stress over lap pitch', () => {
    const winding = windingOf(input)
    const [b, a] = [core * core, 0.04 * 0.04]
    const stiffness = 2e9 / ((b + a) / (b - a) - 0.3)
    is(winding.along, 4e9 / fill)
    is(winding.core, 4e9 / fill / stiffness + input.film.poisson)
    is(winding.woundOn(0.06, 0.061), (tension + layOn) / (width * thickness * fill))
  })

  test('warmer film, warmer core, shrinkage and air leaving are the free strains that they should be', () => {
    const [filmWarmer, coreWarmer, shrinkAlong, shrinkThrough] = [20, 30, 1e-4, 2e-4]
    const warm: RollInput = {
      ...{ ...input, airKept: 0 },
      film: { ...input.film, expansion: 2e-5 },
      inRoll: { ...input.inRoll, expansionThrough: 6e-5 },
      core: { ...input.core, expansion: 1.2e-5 },
      later: { filmWarmer, coreWarmer, shrinkAlong, shrinkThrough, airLeaves: 0 },
    }
    const outcome = solveRoll(warm, undefined, { shells: 480 })
    if (outcome.outcome !== 'finished' || outcome.later === undefined) throw new Error('nothing later')
    const strains = { along: 2e-5 * filmWarmer - shrinkAlong, core: 1.2e-5 * coreWarmer }
    const through = outcome.wound.radius.map(() => 6e-5 * filmWarmer - shrinkThrough)
    const byHand = change(windingOf(warm), outcome.wound, { ...strains, through })
    expect([...outcome.later.pressure]).toEqual([...byHand.pressure])
  })

  test('a warmer core presses outward, a film that shrinks along inward', () => {
    const at = (later: Partial<RollInput['later']>) => {
      const none = { filmWarmer: 0, coreWarmer: 0, shrinkAlong: 0, shrinkThrough: 0, airLeaves: 0 }
      const outcome = solveRoll({ ...input, later: { ...none, ...later } }, undefined, { shells: 480 })
      if (outcome.outcome !== 'finished') throw new Error('refused')
      return (outcome.later?.pressure[0] ?? 0) - outcome.wound.pressure[0]
    }
    expect(at({ coreWarmer: 20 })).toBeGreaterThan(0)
    expect(at({ coreWarmer: -20 })).toBeLessThan(0)
    expect(at({ shrinkAlong: 1e-4 })).toBeGreaterThan(0)
  })
})
