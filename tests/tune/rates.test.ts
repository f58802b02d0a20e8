/** Film does not care how often a trim samples: modes, map and advice must see its swings where they are without programs. */
import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { leastDampingOf } from '../../src/tune/map'
import { modesOf, type Mode, type Modes } from '../../src/tune/modes'
import { plantOf } from '../../src/tune/plant'
import { sampledRates } from '../../src/tune/rates'
import { standAt } from '../../src/tune/setup'
import { readScenario } from '../../src/scenario/read'
import type { Scenario } from '../../src/scenario/schema'

function shipped(name: string): Scenario {
  const reading = readScenario(readFileSync(`scenarios/${name}.json`, 'utf8'))
  if (!reading.ok) throw new Error(name)
  return reading.scenario
}

/** All its trims as programs with this sample time (s), or continuous. */
function sampling(scenario: Scenario, sample: number | undefined): Scenario {
  const plain = { deadBand: 0, filter: 0, derivativeTime: 0, derivativeFilter: 0, delayed: false }
  const program = sample === undefined ? undefined : { sample, ...plain }
  return { ...scenario, control: scenario.control.map((c) => ('integral' in c ? { ...c, program } : c)) }
}

function modes(scenario: Scenario): Modes {
  const found = modesOf(scenario)
  if (!found.ok) throw new Error(found.say)
  return found
}

function damping(scenario: Scenario): number {
  const standing = standAt(scenario)
  if (!standing.ok) throw new Error(standing.say)
  return leastDampingOf(plantOf(standing, false)).value
}

/** Hz, above which no trim of these lines has a say. */
const FILM = 15
const ofFilm = ({ modes: found }: Modes): Mode[] =>
  found.filter((m) => m.frequency > FILM).sort((a, b) => a.frequency - b.frequency)

describe('rates of a line with programs', () => {
  test.each(['taper-wind-up', 'loop-too-slow', 'start-stop', 'continuous-to-indexing'])(
    '%s: frequencies and dampings of the film are those without programs, from 4 to 100 ms; so is the least damping',
    (name) => {
      const scenario = shipped(name)
      const continuous = modes(sampling(scenario, undefined))
      const wanted = ofFilm(continuous)
      expect(wanted.length).toBeGreaterThan(4)
      for (const ms of [4, 8, 10, 20, 25, 50, 64, 100]) {
        const found = modes(sampling(scenario, ms / 1000))
        const film = ofFilm(found)
        expect(film).toHaveLength(wanted.length)
        film.forEach((mode, k) => {
          expect(mode.frequency / wanted[k].frequency).toBeCloseTo(1, 1.7)
          expect(mode.damping / wanted[k].damping).toBeCloseTo(1, 1.3)
        })
        expect((found.leastDamping ?? 0) / (continuous.leastDamping ?? 1)).toBeCloseTo(1, 1.3)
        expect(damping(sampling(scenario, ms / 1000))).toBeCloseTo(found.leastDamping ?? 0, 6)
      }
    },
  )

  test('a swing beyond half the sampling rate, moved a little by the loop, keeps its turns; a loop near the same place keeps none', () => {
    const period = 0.02
    const of = (list: readonly (readonly [number, number])[]) => {
      const both = list.flatMap(([re, im]) =>
        im === 0
          ? [{ re, im }]
          : [
              { re, im },
              { re, im: -im },
            ],
      )
      return { re: Float64Array.from(both, ({ re }) => re), im: Float64Array.from(both, ({ im }) => im) }
    }
    const powers = ({ re, im }: ReturnType<typeof of>) => ({
      re: re.map((r, k) => Math.exp(r * period) * Math.cos(im[k] * period)),
      im: im.map((i, k) => Math.exp(re[k] * period) * Math.sin(i * period)),
    })
    // 50.3 Hz shows as 0.3 Hz; the integrator that the loop closes is a pair near 0.3 Hz
    const between = of([
      [-8, 2 * Math.PI * 50.3],
      [-300, 2 * Math.PI * 90],
      [0, 0],
    ])
    const line = of([
      [-8.4, 2 * Math.PI * 50.25],
      [-1, 2 * Math.PI * 0.3],
      [-300, 2 * Math.PI * 90],
      [-40, 0],
    ])
    const found = sampledRates(powers(line), between, period).filter(({ im }) => im > 0)
    const hertz = found.map(({ im }) => im / (2 * Math.PI)).sort((a, b) => a - b)
    ;[0.3, 50.25, 90].forEach((wanted, k) => expect(hertz[k]).toBeCloseTo(wanted, 9))
    expect(hertz).toHaveLength(3)
    expect(found.find(({ from }) => from === 'between')?.re).toBe(-300)
  })
})
