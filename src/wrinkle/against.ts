/** Critical misalignment against one knob, all else as it stands: the curves that the present point is drawn on. */
import { assess } from './assess'
import type { Knob, Setting } from './setting'

export interface Curves {
  /** the knob's figure, SI */
  readonly at: Float64Array
  /** rad; troughs may begin by the peak of shear, are across the film by its mean, as the fold; the edge that goes slack bounds the model */
  readonly begin: Float64Array
  readonly troughs: Float64Array
  readonly fold: Float64Array
  readonly slack: Float64Array
  /** 1 where the strain limit is kept, 0 beyond it */
  readonly withinStrain: Uint8Array
}

/** `count` points from `low` to `high`: even in ratio where both are positive and far apart, else even in steps. */
export function criticalAgainst(setting: Setting, knob: Knob, low: number, high: number, count: number): Curves {
  const ratio = low > 0 && high / low > 20
  const curves: Curves = {
    at: new Float64Array(count),
    begin: new Float64Array(count),
    troughs: new Float64Array(count),
    fold: new Float64Array(count),
    slack: new Float64Array(count),
    withinStrain: new Uint8Array(count),
  }
  for (let i = 0; i < count; i++) {
    const share = count > 1 ? i / (count - 1) : 0
    curves.at[i] = ratio ? low * (high / low) ** share : low + share * (high - low)
    const found = assess({ ...setting, [knob]: curves.at[i] })
    curves.begin[i] = found.span.critical.peak
    curves.troughs[i] = found.span.critical.mean
    curves.fold[i] = found.roller.critical.mean
    curves.slack[i] = found.slackAt
    curves.withinStrain[i] = found.strainShare <= 1 ? 1 : 0
  }
  return curves
}
