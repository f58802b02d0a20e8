/** What is used of odex 2.0.4; its own types do not pass strict checks. */
export type Rates = (t: number, y: number[]) => number[]

export class Solver {
  constructor(states: number)
  absoluteTolerance: number | number[]
  relativeTolerance: number | number[]
  /** s; below 1e-4 it is ignored */
  initialStepSize: number
  /** s; 0: the whole interval */
  maxStepSize: number
  maxSteps: number
  denseOutput: boolean
  /** `seen` is called with (n, t before, t, y) at the start and after every step; false ends the integration there. */
  solve(
    rates: Rates,
    t: number,
    y: number[],
    end: number,
    seen?: (n: number, before: number, t: number, y: number[]) => boolean,
  ): { y: number[]; outcome: number; nStep: number; nEval: number }
}
