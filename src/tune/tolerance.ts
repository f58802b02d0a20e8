/**
 * Does it still hold when friction, diameter, film and mass are not what was stated: the corners of the user's ranges, each a run of the
 * simulator on the scenario's own stage.
 *
 * Parameters   factors on the dancer's friction, on the modulus of all films, on the dancer's moving mass; diameter of the roll on the
 *              unwind (m); low and high of each: up to 16 corners
 * Neglected    what lies between the corners: a worst case inside the ranges is possible, though unlikely where figures only rise or fall
 * Source       common practice, no source
 */
import { begin } from '../run/run'
import type { Scenario } from '../scenario/schema'
import { scenarioOf } from './ask'
import { measuresOf, type Measures } from './measures'
import type { Trouble } from './setup'

export interface Corner {
  readonly friction: number
  readonly modulus: number
  readonly mass: number
  /** m */
  readonly diameter: number
}

export type Ranges = { readonly [key in keyof Corner]: readonly [low: number, high: number] }

export interface CornerAnswer extends Measures {
  readonly ok: true
  /** greatest, of the elastic limit, and what is allowed of it */
  readonly limitShare: number
  readonly allowedShare: number
  /** N, least of all spans, and what is wanted */
  readonly leastTension: number
  readonly wantedTension: number
  /** s, after which the roll ran out; undefined where it lasted */
  readonly ranOutAt: number | undefined
}

/** All combinations of the ends; a range without width counts once. */
export function cornersOf(ranges: Ranges): Corner[] {
  const ends = ([low, high]: readonly [number, number]) => (low === high ? [low] : [low, high])
  return ends(ranges.friction).flatMap((friction) =>
    ends(ranges.modulus).flatMap((modulus) =>
      ends(ranges.mass).flatMap((mass) =>
        ends(ranges.diameter).map((diameter) => ({ friction, modulus, mass, diameter })),
      ),
    ),
  )
}

export interface ToleranceCommon {
  readonly document: unknown
  readonly dancer: string
}

/** Runs one corner after another, in steps that tell the share of the run's time. */
export function toleranceCorners({
  document,
  dancer,
}: ToleranceCommon): (corner: Corner) => Generator<number, CornerAnswer | Trouble> {
  const reading = scenarioOf(document)
  return function* (corner) {
    if (!reading.ok) return reading
    const { limits } = reading.scenario
    const run = begin(atCorner(reading.scenario, dancer, corner))
    if (!('step' in run)) return { ok: false, say: run.say, field: run.state }
    for (;;) {
      const outcome = run.step()
      if (outcome?.outcome === 'failed') return { ok: false, say: outcome.say, field: outcome.state }
      if (outcome?.outcome === 'finished') {
        const { summary } = outcome
        return {
          ok: true,
          ...measuresOf(run.line, summary, dancer),
          limitShare: Math.max(...summary.spans.map((span) => span.limitShare)),
          allowedShare: limits.shareOfElastic,
          leastTension: Math.min(...summary.spans.map(({ tension }) => tension.min)),
          wantedTension: limits.leastTension,
          ranOutAt: summary.happenings.find(({ what }) => what === 'runs out')?.at,
        }
      }
      run.takeBlock()
      yield run.time / run.plan.duration
    }
  }
}

/** The scenario at a corner. */
export function atCorner(scenario: Scenario, dancer: string, { friction, modulus, mass, diameter }: Corner): Scenario {
  const films = Object.fromEntries(
    Object.entries(scenario.films).map(([name, film]) => [name, { ...film, modulus: film.modulus * modulus }]),
  )
  const line = scenario.line.map((part) => {
    if (part.part === 'unwind') return { ...part, diameter }
    if (part.part !== 'dancer' || part.name !== dancer) return part
    const { slidingFriction, frictionAtRest } = part
    return {
      ...part,
      mass: part.mass * mass,
      slidingFriction: slidingFriction * friction,
      ...(frictionAtRest === undefined ? {} : { frictionAtRest: frictionAtRest * friction }),
    }
  })
  return { ...scenario, films, line }
}

/** The corner in which a figure is worst; undefined before any is known. */
export function worstCorner<T>(
  answers: readonly (T | undefined)[],
  badness: (answer: T) => number,
): number | undefined {
  let worst: number | undefined
  let most = -Infinity
  answers.forEach((answer, k) => {
    const bad = answer === undefined ? -Infinity : badness(answer)
    if (bad > most) [worst, most] = [k, bad]
  })
  return worst
}
