/** A sweep, case by case: the scenario with some fields changed, run to its end, read by its figures. */
import type { RunPlan } from '../run/record'
import { setField } from '../scenario/path'
import { figuresOf, type Figure } from './figures'
import { limitOf, type FigureLimit } from './holding'
import { runDocument } from './run-document'
import type { Case } from './vary'

export interface SweepCommon {
  readonly document: unknown
  readonly paths: readonly string[]
}

/** A figure with what its own run holds it against: the field that is changed may move the limit too. */
export interface JudgedFigure extends Figure {
  readonly limit: FigureLimit | undefined
}

export type CaseResult =
  | { readonly outcome: 'finished'; readonly figures: readonly JudgedFigure[] }
  | { readonly outcome: 'refused' | 'failed'; readonly say: string }

/** Computes one case after another, in steps that tell the share of the case's line time. */
export function sweepCases({ document, paths }: SweepCommon): (values: Case) => Generator<number, CaseResult> {
  return function* (values) {
    const changed = withFields(document, paths, values)
    return typeof changed === 'string' ? { outcome: 'refused', say: changed } : yield* caseOf(changed.document)
  }
}

/** The figures of one document's run, or what kept them from being there. */
export function* caseOf(document: unknown): Generator<number, CaseResult> {
  const ended = yield* runDocument(document)
  switch (ended.outcome) {
    case 'finished':
      return { outcome: 'finished', figures: judged(figuresOf(ended.summary), ended.plan) }
    case 'refused':
      return { outcome: 'refused', say: ended.problems.map(({ say }) => say).join(' ') }
    case 'failed':
      return { outcome: 'failed', say: `Broke off at ${ended.at} s (${ended.state}): ${ended.say}` }
  }
}

const judged = (figures: readonly Figure[], plan: RunPlan): JudgedFigure[] =>
  figures.map((figure) => ({ ...figure, limit: limitOf(figure.key, plan) }))

/** The document with all fields changed, or what is wrong with a path. */
function withFields(
  document: unknown,
  paths: readonly string[],
  values: Case,
): { readonly document: unknown } | string {
  let changed = document
  for (const [i, path] of paths.entries()) {
    const setting = setField(changed, path, values[i] ?? '')
    if (!setting.ok) return setting.problem.say
    changed = setting.document
  }
  return { document: changed }
}
