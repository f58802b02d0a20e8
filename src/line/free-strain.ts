/**
 * Free strain of the films: what they grow or shrink by without tension, led by the stage.
 *
 * Variables    free strain theta of every stretch of the tape (1), its rate (1/s)
 * Parameters   course of every film's free strain
 * Equations    theta of a film follows its course wherever it lies between the rolls; of an overlap: the mean of its two films,
 *              weighted by stiffness. Film in the rolls keeps its length there, and its tension gives way
 * Neglected    where the strain comes from (heat, moisture), and that it comes to one place before another
 * Source       linear elasticity with free strain, textbook
 */
import type { Tape } from '../film/tape'
import type { Courses } from './courses'
import type { Actor } from './part'
import type { Profile } from './profile'
import type { Rollers } from './rollers'
import type { Spans } from './spans'

export class FreeStrain implements Actor {
  readonly name = 'free strain'
  private readonly courses = new Map<string, Profile>()

  constructor(
    films: readonly string[],
    courses: Courses,
    private readonly tape: Tape,
    private readonly rollers: Rollers,
    private readonly spans: Spans,
  ) {
    for (const film of films) this.courses.set(film, courses.setting('free strain', film, 0))
  }

  place(t: number): void {
    const { tape, rollers, spans } = this
    for (let k = 0; k < tape.materials.length; k++) {
      const { parts } = tape.materials[k]
      tape.freeStrain[k] = 0
      tape.freeStrainRate[k] = 0
      for (let p = 0; p < parts.length; p++) {
        const course = this.courses.get(parts[p].film)
        if (course === undefined) continue
        tape.freeStrain[k] += parts[p].share * course.value(t)
        tape.freeStrainRate[k] += parts[p].share * course.rate(t)
      }
    }
    for (let i = 0; i < rollers.count; i++) {
      spans.free[i] = 1 + tape.freeStrain[rollers.material[i]]
      spans.freeRate[i] = tape.freeStrainRate[rollers.material[i]]
    }
  }
}
