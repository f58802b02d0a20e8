/** Lessons are data: each is whole, opens by its address, and what it claims is what page and line compute. */
import { describe, expect, test } from 'vitest'
import {
  addressOf,
  lessons,
  placeOf,
  stepsOf,
  type Claim,
  type Lesson,
  type Texts,
} from '../../src/app/lessons/lessons'
import { equationKeys } from '../../src/app/equations/tree'
import { gallery } from '../../src/app/state/gallery'
import { prepare } from '../../src/run/prepare'
import { getField, setField } from '../../src/scenario/path'
import { assess, readSetting, startingDocument } from '../../src/wrinkle'

const each = lessons.map((lesson) => [lesson.key, lesson] as const)

test('there are eight or more, each once, on both pages', () => {
  expect(lessons.length).toBeGreaterThanOrEqual(8)
  expect(new Set(lessons.map(({ key }) => key)).size).toBe(lessons.length)
  expect(new Set(lessons.map(({ page }) => page))).toEqual(new Set(['wrinkle', 'line']))
})

describe.each(each)('%s', (_, lesson) => {
  test('is whole: a question, choices of which one is right, moves, why, equation, source, claims', () => {
    expect(lesson.question).toMatch(/\?$/)
    expect(lesson.choices.length).toBeGreaterThanOrEqual(3)
    expect(lesson.choices[lesson.right]).toBeDefined()
    expect(lesson.moves.length).toBeGreaterThan(0)
    expect(lesson.why.length).toBeGreaterThan(0)
    expect(equationKeys).toContain(lesson.equation)
    expect(lesson.source.length).toBeGreaterThan(10)
    expect(lesson.claims.map(({ after }) => after)).toContain(lesson.moves.length)
  })

  test('opens by its address at each step, and at the nearest beyond the ends', () => {
    for (let step = 1; step <= stepsOf(lesson); step++) {
      const [page, word, ...rest] = addressOf(lesson, step).slice(1).split('/')
      expect([page, word]).toEqual([lesson.page, 'lesson'])
      expect(placeOf(rest)).toEqual({ at: 'lesson', lesson, step })
    }
    expect(placeOf([lesson.key, '99'])).toMatchObject({ step: stepsOf(lesson) })
    expect(placeOf([lesson.key, '0'])).toMatchObject({ step: 1 })
    expect(placeOf([lesson.key, 'x'])).toMatchObject({ step: 1 })
  })

  test('what it claims is so', () => {
    const figures = [0, ...lesson.moves.map((__, i) => i + 1)].map((done) => figuresAfter(lesson, done))
    for (const claim of lesson.claims)
      expect(told(claim, figures), JSON.stringify(claim)).toMatchObject({ holds: true })
    // of the choices only the right one is what page or line compute
    expect(lesson.trueIf).toHaveLength(lesson.choices.length)
    for (const claims of lesson.trueIf) expect(claims.length).toBeGreaterThan(0)
    const right = lesson.trueIf.map((claims) => claims.every((claim) => told(claim, figures).holds))
    expect(right).toEqual(lesson.choices.map((__, i) => i === lesson.right))
  })
})

test('an address without a lesson opens the list, one that is unknown says so', () => {
  expect(placeOf([])).toEqual({ at: 'list' })
  expect(placeOf(['none'])).toEqual({ at: 'unknown', key: 'none' })
})

/** Whether a claim holds, and the figure that it is about. */
function told(claim: Claim, figures: readonly unknown[]): { holds: boolean; found: unknown } {
  const found = figureOf(figures[claim.after], claim.figure)
  if (claim.is !== undefined) return { holds: found === claim.is, found }
  const number = Number(found) / (claim.ratio ? Number(figureOf(figures[0], claim.figure)) : 1)
  const [low, high] = claim.ratio ?? claim.between ?? []
  return { holds: number >= low && number <= high, found: number }
}

/** A figure by path; in a list an item is named. */
function figureOf(holder: unknown, path: string): unknown {
  return path.split('/').reduce<unknown>((here, word) => {
    if (Array.isArray(here)) return here.find((item: { name?: string }) => item.name === word) as unknown
    return (here as Readonly<Record<string, unknown>> | undefined)?.[word]
  }, holder)
}

function figuresAfter(lesson: Lesson, done: number): unknown {
  const move = lesson.moves[done - 1]
  if (lesson.start.scenario === undefined) {
    const reading = readSetting({ ...startingDocument, ...lesson.start.knobs, ...move?.knobs })
    if (!reading.ok) throw new Error(reading.problems.map(({ say }) => say).join(' '))
    return assess(reading.setting)
  }
  const scenario = gallery.find(({ key }) => key === lesson.start.scenario)
  if (scenario === undefined) throw new Error(`no scenario ${lesson.start.scenario}`)
  return runOf(changed(scenario.document, { ...lesson.start.set, ...move?.set }))
}

function changed(document: unknown, texts: Texts): unknown {
  return Object.entries(texts).reduce((here, [path, text]) => {
    expect(getField(here, path), path).toMatchObject({ ok: true })
    const setting = setField(here, path, text)
    if (!setting.ok) throw new Error(setting.problem.say)
    return setting.document
  }, document)
}

function runOf(document: unknown): unknown {
  const run = prepare(document)
  if (!('step' in run)) throw new Error(JSON.stringify(run))
  for (;;) {
    const outcome = run.step()
    run.takeBlock()
    if (outcome === undefined) continue
    if (outcome.outcome !== 'finished') throw new Error(JSON.stringify(outcome))
    return outcome.summary
  }
}
