/** Sets page or line as a lesson has it after so many of its moves. */
import { getField } from '../../scenario/path'
import { startingDocument } from '../../wrinkle'
import { bench } from '../pages/wrinkle/bench.svelte'
import type { Desk } from '../state/desk.svelte'
import { at, type Json } from '../state/document'
import { gallery } from '../state/gallery'
import type { Lesson, Texts } from './lessons'

/** @param done number of the move that is made; 0 sets the start */
export function setLesson(lesson: Lesson, done: number, desk: Desk): void {
  const move = lesson.moves[done - 1]
  if (lesson.start.scenario === undefined) {
    bench.replace({ ...startingDocument, ...lesson.start.knobs, ...move?.knobs })
    return
  }
  setLine(lesson, { ...lesson.start.set, ...move?.set }, done === 0, desk)
}

/** The line is opened anew for the start; moves change it where it stands, so that the run before stays in grey behind the next. */
function setLine(lesson: Lesson, wanted: Texts, anew: boolean, { work, look }: Desk): void {
  const scenario = gallery.find(({ key }) => key === lesson.start.scenario)
  if (scenario === undefined) return
  if (anew || work.chosen?.key !== scenario.key) {
    look.forget()
    work.choose(scenario)
  }
  const texts = [lesson.start.set, ...lesson.moves.map(({ set }) => set)]
  for (const path of new Set(texts.flatMap((set) => Object.keys(set ?? {})))) {
    const finding = getField(scenario.document, path)
    if (!finding.ok) continue
    const { place, value } = finding.field
    const text = wanted[path]
    if (text === undefined) {
      if (at(work.document, place) !== at(scenario.document, place)) work.restore(place)
    } else {
      const like = likeness(value, text)
      if (at(work.document, place) !== like) work.set(place, like)
    }
  }
}

/** A number where the scenario has a number. */
const likeness = (present: unknown, text: string): Json => (typeof present === 'number' ? Number(text) : text)
