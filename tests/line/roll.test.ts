/** A roll of film as geometry: what is wound has an area, a mass and an inertia, added up ring by ring. */
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Material } from '../../src/film/film'
import { Profile } from '../../src/line/profile'
import { Roll, START_ANGLE, type RollSetup } from '../../src/line/roll'
import { Rollers } from '../../src/line/rollers'

const LAP = 52e-6
const MASS = 0.0695

const film = (changes: Partial<Material> = {}): Material => ({
  ...{
    name: 'A',
    parts: [{ film: 'A', share: 1 }],
    overlap: false,
    stiffness: 225e3,
    massPerLength: MASS,
    lapThickness: LAP,
    width: 1,
  },
  ...{ thickness: 50e-6, elasticLimit: 0.01, ...changes },
})

const setup = (changes: Partial<RollSetup> = {}): RollSetup => ({
  ...{ radius: 0.2, coreRadius: 0.045, coreInertia: 0.01, material: film(), unevenness: undefined },
  ...{ calculator: undefined, ...changes },
})

interface Built {
  readonly rollers: Rollers
  readonly roll: Roll
  /** film moved (m), roll angle (rad), estimate (m) */
  readonly y: number[]
  /** Puts the roll where `moved` m of film have moved and it stands at `angle`. */
  readonly place: (moved: number, angle?: number) => void
}

function rollOf(sign: -1 | 1, changes: Partial<RollSetup> = {}, speed = 1): Built {
  const mechanics = {
    radius: 1,
    inertia: 1,
    drag: 0,
    viscousDrag: 0,
    wrap: 0,
    friction: 1,
    nip: true,
    prescribed: false,
  }
  const rollers = new Rollers([{ name: 'roll', place: 0, ...mechanics }], 0)
  const finds = changes.calculator === undefined ? undefined : 2
  const states = { moved: 0, angle: changes.unevenness === undefined ? undefined : 1, estimate: finds }
  const roll = new Roll('roll', rollers, 0, sign, setup(changes), states, new Profile(speed))
  const y = [0, START_ANGLE, setup(changes).radius]
  const place = (moved: number, angle = START_ANGLE) => {
    y[0] = moved
    y[1] = angle
    roll.place(0, y)
  }
  return { rollers, roll, y, place }
}

/** Inertia of rings of film between two radii, by the midpoint rule. */
function ringInertia(from: number, to: number): number {
  const rings = 2000
  const width = (to - from) / rings
  let sum = 0
  for (let k = 0; k < rings; k++) {
    const r = from + (k + 0.5) * width
    sum += ((2 * Math.PI * r * width) / LAP) * MASS * r * r
  }
  return sum
}

describe('inertia', () => {
  test('is that of the core and of every ring of film', () => {
    expect(rollOf(-1).rollers.inertia[0]).toBeCloseTo(0.01 + ringInertia(0.045, 0.2), 6)
  })

  test('grows by mass times radius squared with every metre wound', () => {
    const { rollers, place } = rollOf(1, { radius: 0.1 })
    for (const s of [0, 100, 1500]) {
      place(s - 0.5)
      const before = rollers.inertia[0]
      place(s + 0.5)
      const gained = rollers.inertia[0] - before
      place(s)
      expect(gained / (MASS * rollers.radius[0] ** 2)).toBeCloseTo(1, 9)
    }
  })

  test('of a bare core is that of the core', () => {
    expect(rollOf(1, { radius: 0.045 }).rollers.inertia[0]).toBe(0.01)
  })
})

describe('radius', () => {
  test('what is wound or unwound has the area of its length times its lap', () => {
    fc.assert(
      fc.property(fc.constantFrom<-1 | 1>(-1, 1), fc.double({ min: -500, max: 2000, noNaN: true }), (sign, moved) => {
        const { rollers, place } = rollOf(sign)
        place(moved)
        const area = Math.PI * (rollers.radius[0] ** 2 - 0.2 ** 2)
        const core = Math.PI * (0.045 ** 2 - 0.2 ** 2)
        expect(area).toBeCloseTo(Math.max(sign * LAP * moved, core), 12)
      }),
      { seed: 1 },
    )
  })

  test('its rate is the slope of the radius against the film that moves', () => {
    for (const sign of [-1, 1] as const) {
      const { rollers, roll, y, place } = rollOf(sign)
      const flux = 3
      const step = 1e-3
      place(100 + flux * step)
      const ahead = rollers.radius[0]
      place(100 - flux * step)
      const slope = (ahead - rollers.radius[0]) / (2 * step)
      place(100)
      rollers.flux[0] = flux
      roll.act(0, y, [0, 0, 0])
      expect(rollers.estimateRate[0] / slope).toBeCloseTo(1, 6)
      expect(Math.sign(slope)).toBe(sign)
    }
  })
})

describe('the end of a roll', () => {
  test('the core is bare when the film on it has gone', () => {
    const { rollers, roll, place } = rollOf(-1)
    const length = (Math.PI * (0.2 ** 2 - 0.045 ** 2)) / LAP
    expect(roll.emptiness(length - 0.01)).toBeLessThan(0)
    expect(roll.emptiness(length + 0.01)).toBeGreaterThan(0)
    place(length + 10)
    expect(rollers.radius[0]).toBe(0.045)
    expect(rollers.inertia[0]).toBeCloseTo(0.01, 12)
  })

  test('a roll one lap above its core still lets go of one turn of film', () => {
    const { roll } = rollOf(-1, { radius: 0.045 + LAP })
    const turn = 2 * Math.PI * (0.045 + LAP / 2)
    expect(roll.emptiness(turn * 0.999)).toBeLessThan(0)
    expect(roll.emptiness(turn * 1.001)).toBeGreaterThan(0)
  })
})

describe('another film', () => {
  const thick = film({ lapThickness: 3 * LAP, massPerLength: 5 * MASS })

  test('winds on without a jump, from then on with its own laps and mass', () => {
    const { rollers, roll, y, place } = rollOf(1, { radius: 0.1 })
    place(400)
    const [radius, inertia] = [rollers.radius[0], rollers.inertia[0]]
    roll.layerChanges(thick, y)
    place(400)
    expect(rollers.radius[0]).toBeCloseTo(radius, 14)
    expect(rollers.inertia[0]).toBeCloseTo(inertia, 14)
    place(401)
    expect(Math.PI * (rollers.radius[0] ** 2 - radius ** 2)).toBeCloseTo(3 * LAP, 12)
    const mean = (rollers.radius[0] ** 2 + radius ** 2) / 2
    expect(rollers.inertia[0] - inertia).toBeCloseTo(5 * MASS * mean, 10)
  })

  test('and unwinds the laps of the first again when it turns back', () => {
    const { rollers, roll, y, place } = rollOf(1, { radius: 0.1 })
    place(400)
    roll.layerChanges(thick, y)
    place(450)
    roll.layerChanges(film(), y)
    place(470)
    const grown = 400 * LAP + 50 * 3 * LAP + 20 * LAP
    expect(rollers.radius[0] ** 2 - 0.1 ** 2).toBeCloseTo(grown / Math.PI, 12)
  })
})

test('another roll is put on: radius and inertia are its own, and film counts from there', () => {
  const { rollers, roll, y, place } = rollOf(-1)
  place(300)
  roll.replace(setup({ radius: 0.25, coreRadius: 0.08, coreInertia: 0.03 }), 0.5, y)
  expect(rollers.radius[0]).toBe(0.25)
  expect(rollers.inertia[0]).toBeCloseTo(0.03 + ringInertia(0.08, 0.25), 5)
  place(310)
  expect(0.25 ** 2 - rollers.radius[0] ** 2).toBeCloseTo((10 * LAP) / Math.PI, 12)
})

describe('out of round', () => {
  const flatArc = Math.PI / 3
  const uneven = { unevenness: { runout: 2e-3, flat: 3e-3, flatArc } }

  test('the lever arm swings once a turn by the runout, and dips by the flat where it lies', () => {
    const { rollers, place } = rollOf(-1, uneven)
    const arm = (angle: number) => {
      place(0, angle)
      return rollers.radius[0] - 0.2
    }
    expect(arm(Math.PI / 2)).toBeCloseTo(0, 14)
    expect(arm(Math.PI)).toBeCloseTo(-2e-3, 14)
    expect(arm(0)).toBeCloseTo(2e-3 - 3e-3, 14)
    expect(arm(flatArc / 4)).toBeCloseTo(2e-3 * Math.cos(flatArc / 4) - 1.5e-3, 14)
    expect(arm(0.51 * flatArc)).toBeCloseTo(2e-3 * Math.cos(0.51 * flatArc), 14)
    for (const angle of [0.1, 1, 4]) expect(arm(angle + 20 * Math.PI)).toBeCloseTo(arm(angle), 12)
  })

  test('turns with its roller; a round one has no angle', () => {
    const { rollers, roll, y } = rollOf(-1, uneven)
    rollers.speed[0] = 7
    const dy = [0, 0, 0]
    roll.act(0, y, dy)
    expect(dy).toEqual([0, 7, 0])
  })
})

describe('a diameter calculator', () => {
  const finds = { calculator: { time: 2, above: 0.1 } }

  test('closes on the lever arm with its filter time', () => {
    const { rollers, roll, y, place } = rollOf(-1, finds)
    y[2] = 0.25
    place(0)
    const dy = [0, 0, 0]
    roll.act(0, y, dy)
    expect(dy[2]).toBeCloseTo((0.2 - 0.25) / 2, 14)
    expect(rollers.estimate[0]).toBe(0.25)
    expect(rollers.estimateRate[0]).toBe(dy[2])
  })

  test('holds below its speed, and takes the preset of a new roll', () => {
    const { rollers, roll, y } = rollOf(-1, finds, 0.05)
    y[2] = 0.25
    const dy = [0, 0, 0]
    roll.act(0, y, dy)
    expect(dy[2]).toBe(0)
    roll.replace(setup({ ...finds, radius: 0.3 }), 0.7, y)
    expect(rollers.estimate[0]).toBe(0.35)
    expect(rollers.radius[0]).toBe(0.3)
  })

  test('without one the drive knows the mean radius', () => {
    const { rollers, place } = rollOf(-1, { unevenness: { runout: 5e-3, flat: 0, flatArc: 1 } })
    place(100, 0)
    expect(rollers.radius[0] - rollers.estimate[0]).toBeCloseTo(5e-3, 14)
  })
})
