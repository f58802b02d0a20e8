/** A roll of film as geometry: what is wound has an area, a mass and an inertia, added up ring by ring. */
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Material } from '../../src/film/film'
import { Roll, type RollSetup } from '../../src/line/roll'
import { Rollers } from '../../src/line/rollers'

const LAP = 52e-6
const MASS = 0.0695

const film = (changes: Partial<Material> = {}): Material => ({
  ...{ name: 'A', overlap: false, stiffness: 225e3, massPerLength: MASS, lapThickness: LAP, width: 1 },
  ...{ thickness: 50e-6, elasticLimit: 0.01, ...changes },
})

const setup = (changes: Partial<RollSetup> = {}): RollSetup => ({
  ...{ radius: 0.2, coreRadius: 0.045, coreInertia: 0.01, material: film(), ...changes },
})

function rollOf(sign: -1 | 1, changes: Partial<RollSetup> = {}): { rollers: Rollers; roll: Roll } {
  const rollers = new Rollers(
    [
      {
        ...{ name: 'roll', place: 0, radius: 1, inertia: 1, drag: 0, viscousDrag: 0, wrap: 0, friction: 1, nip: true },
        prescribed: false,
      },
    ],
    0,
  )
  return { rollers, roll: new Roll(rollers, 0, sign, setup(changes)) }
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
    const { rollers, roll } = rollOf(1, { radius: 0.1 })
    for (const s of [0, 100, 1500]) {
      roll.place(s - 0.5)
      const before = rollers.inertia[0]
      roll.place(s + 0.5)
      const gained = rollers.inertia[0] - before
      roll.place(s)
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
        const { rollers, roll } = rollOf(sign)
        roll.place(moved)
        const area = Math.PI * (rollers.radius[0] ** 2 - 0.2 ** 2)
        const core = Math.PI * (0.045 ** 2 - 0.2 ** 2)
        expect(area).toBeCloseTo(Math.max(sign * LAP * moved, core), 12)
      }),
    )
  })

  test('its rate is the slope of the radius against the film that moves', () => {
    for (const sign of [-1, 1] as const) {
      const { rollers, roll } = rollOf(sign)
      const flux = 3
      const step = 1e-3
      roll.place(100 + flux * step)
      const ahead = rollers.radius[0]
      roll.place(100 - flux * step)
      const slope = (ahead - rollers.radius[0]) / (2 * step)
      roll.place(100)
      rollers.flux[0] = flux
      roll.grow()
      expect(rollers.radiusRate[0] / slope).toBeCloseTo(1, 6)
      expect(Math.sign(slope)).toBe(sign)
    }
  })
})

describe('the end of a roll', () => {
  test('the core is bare when the film on it has gone', () => {
    const { rollers, roll } = rollOf(-1)
    const length = (Math.PI * (0.2 ** 2 - 0.045 ** 2)) / LAP
    expect(roll.emptiness(length - 0.01)).toBeLessThan(0)
    expect(roll.emptiness(length + 0.01)).toBeGreaterThan(0)
    roll.place(length + 10)
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
    const { rollers, roll } = rollOf(1, { radius: 0.1 })
    roll.place(400)
    const [radius, inertia] = [rollers.radius[0], rollers.inertia[0]]
    roll.layerChanges(thick, 400)
    roll.place(400)
    expect(rollers.radius[0]).toBeCloseTo(radius, 14)
    expect(rollers.inertia[0]).toBeCloseTo(inertia, 14)
    roll.place(401)
    expect(Math.PI * (rollers.radius[0] ** 2 - radius ** 2)).toBeCloseTo(3 * LAP, 12)
    const mean = (rollers.radius[0] ** 2 + radius ** 2) / 2
    expect(rollers.inertia[0] - inertia).toBeCloseTo(5 * MASS * mean, 10)
  })

  test('and unwinds the laps of the first again when it turns back', () => {
    const { rollers, roll } = rollOf(1, { radius: 0.1 })
    roll.place(400)
    roll.layerChanges(thick, 400)
    roll.place(450)
    roll.layerChanges(film(), 450)
    roll.place(470)
    const grown = 400 * LAP + 50 * 3 * LAP + 20 * LAP
    expect(rollers.radius[0] ** 2 - 0.1 ** 2).toBeCloseTo(grown / Math.PI, 12)
  })
})

test('another roll is put on: radius and inertia are its own, and film counts from there', () => {
  const { rollers, roll } = rollOf(-1)
  roll.place(300)
  roll.replace(setup({ radius: 0.25, coreRadius: 0.08, coreInertia: 0.03 }), 300)
  expect(rollers.radius[0]).toBe(0.25)
  expect(rollers.inertia[0]).toBeCloseTo(0.03 + ringInertia(0.08, 0.25), 5)
  roll.place(310)
  expect(0.25 ** 2 - rollers.radius[0] ** 2).toBeCloseTo((10 * LAP) / Math.PI, 12)
})
