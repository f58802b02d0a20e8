/**
 * Steps that can be taken back and done again. Each holds a whole state, but states share whatever did not change between
 * them, so that a hundred of them weigh little more than one.
 */

/** Steps held; older ones are let go. */
export const mostSteps = 100

/** ms: a control that is dragged, or a number stepped again and again, makes one step as long as no pause is longer. */
export const pauseWithin = 1000

export interface Step<T> {
  /** What was done, to be read after "Undo:". */
  readonly words: string
  /** Changes of one and the same thing have the same key; an empty one is never joined with another. */
  readonly key: string
  /** ms, when it was done last */
  readonly at: number
  /** The state on the other side of the step. */
  readonly state: T
}

export interface History<T> {
  /** The newest is the last. */
  readonly past: readonly Step<T>[]
  /** The one to be done again first is the last. */
  readonly future: readonly Step<T>[]
}

export const noHistory: History<never> = { past: [], future: [] }

/** After a change; `step.state` is what was before it. */
export function recorded<T>(history: History<T>, step: Step<T>): History<T> {
  const last = history.past.at(-1)
  const pause = step.at - (last?.at ?? -Infinity)
  const goesOn = step.key !== '' && last?.key === step.key && history.future.length === 0
  if (last && goesOn && pause >= 0 && pause <= pauseWithin) {
    return { past: [...history.past.slice(0, -1), { ...last, at: step.at, words: step.words }], future: [] }
  }
  return { past: [...history.past, step].slice(-mostSteps), future: [] }
}

export interface Turn<T> {
  readonly history: History<T>
  readonly state: T
}

/** One step back; `present` is kept for doing it again. */
export function undone<T>({ past, future }: History<T>, present: T): Turn<T> | undefined {
  const step = past.at(-1)
  if (!step) return undefined
  return {
    history: { past: past.slice(0, -1), future: [...future, { ...step, state: present }] },
    state: step.state,
  }
}

export function redone<T>({ past, future }: History<T>, present: T): Turn<T> | undefined {
  const step = future.at(-1)
  if (!step) return undefined
  return { history: { past: [...past, { ...step, state: present }], future: future.slice(0, -1) }, state: step.state }
}
