/** Lessons are data (lessons.json): a question, a prediction, moves, and why. Each is on one page and is opened by an address. */
import type { EquationKey } from '../equations/tree'
import type { SettingDocument } from '../../wrinkle'
import list from './lessons.json'

/** Texts for fields of the scenario by path, as on the command line. */
export type Texts = Readonly<Record<string, string>>

export interface Move {
  readonly say: string
  /** on the Wrinkle page: knobs that differ from the start of the lesson */
  readonly knobs?: Partial<SettingDocument>
  /** on other pages: fields that differ from the start of the lesson */
  readonly set?: Texts
}

/** What a test holds the lesson to, after so many moves: a figure, its ratio to that at the start, or a word. */
export interface Claim {
  readonly after: number
  readonly figure: string
  readonly ratio?: readonly number[]
  readonly between?: readonly number[]
  readonly is?: string
}

export interface Lesson {
  readonly key: string
  readonly page: string
  readonly title: string
  readonly question: string
  readonly choices: readonly string[]
  readonly right: number
  /** choice by choice, what would have to be so for it to be the right one: a test holds that only one is */
  readonly trueIf: readonly (readonly Claim[])[]
  readonly start: {
    readonly knobs?: Partial<SettingDocument>
    readonly scenario?: string
    readonly set?: Texts
  }
  readonly moves: readonly Move[]
  readonly why: readonly string[]
  readonly equation: EquationKey
  readonly source: string
  readonly claims: readonly Claim[]
}

// keys of equations are words to the compiler here; a test holds each against the equations there are
export const lessons = list as readonly Omit<Lesson, 'equation'>[] as readonly Lesson[]

/** Steps of a lesson: the prediction, each move, and why. */
export const stepsOf = (lesson: Lesson): number => lesson.moves.length + 2

export const addressOf = (lesson: Lesson, step: number): string => `#${lesson.page}/lesson/${lesson.key}/${step}`

export type Place =
  | { readonly at: 'list' }
  | { readonly at: 'lesson'; readonly lesson: Lesson; readonly step: number }
  | { readonly at: 'unknown'; readonly key: string }

/** What an address behind `#page/lesson` opens; a step beyond the ends opens the nearest. */
export function placeOf([key, step]: readonly string[]): Place {
  if (key === undefined || key === '') return { at: 'list' }
  const lesson = lessons.find((one) => one.key === key)
  if (lesson === undefined) return { at: 'unknown', key }
  const wanted = Math.round(Number(step ?? 1))
  return { at: 'lesson', lesson, step: Math.min(stepsOf(lesson), Math.max(1, Number.isFinite(wanted) ? wanted : 1)) }
}
