/** Advice as a job of the pool: a share for each step, and an answer of plain data. */
import { advise, type Advice, type Aims } from './advice'
import { scenarioOf } from './ask'
import type { Trouble } from './setup'

export interface AdviceQuestion {
  readonly dancer: string
  readonly aims: Aims
}

/** The scenario as advised is left out: whoever asked makes it of the changes. */
export type AdviceAnswer = Omit<Advice, 'scenario'>

export function askAdvice(document: unknown): (question: AdviceQuestion) => Generator<number, AdviceAnswer | Trouble> {
  const reading = scenarioOf(document)
  return function* ({ dancer, aims }) {
    if (!reading.ok) return reading
    const work = advise(reading.scenario, dancer, aims)
    let step = work.next()
    for (; step.done !== true; step = work.next()) yield step.value.done
    if (!step.value.ok) return step.value
    return withoutScenario(step.value)
  }
}

function withoutScenario(advice: Advice): AdviceAnswer {
  const { ok, dancer, aims, before, after, linearBefore, linearAfter, gain, changes, met, limits, evaluations } = advice
  return { ok, dancer, aims, before, after, linearBefore, linearAfter, gain, changes, met, limits, evaluations }
}
