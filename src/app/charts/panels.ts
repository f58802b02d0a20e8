/** The charts of the page, from top to bottom, and how each line in them is drawn. */
import type { ChannelGroup } from '../../run/record'
import type { Kind } from '../../units'
import { shareStep, type Palette } from './picture'

export interface Panel {
  readonly group: ChannelGroup
  readonly title: string
  readonly kind: Kind
  /** What its lines are called, for people. */
  readonly lines: string
  /** How far the picture can reach beyond the traces. */
  readonly reach?: string
}

export const panels: readonly Panel[] = [
  { group: 'tension', title: 'Tension', kind: 'force', lines: 'spans', reach: 'Up to the elastic limit' },
  { group: 'dancer', title: 'Dancer position', kind: 'travel', lines: 'dancers', reach: 'Up to the stops' },
  { group: 'speed', title: 'Surface speed', kind: 'speed', lines: 'rollers' },
  { group: 'radius', title: 'Roll radius', kind: 'diameter', lines: 'rolls' },
]

export interface LineStyle {
  readonly colour: string
  readonly width: number
  readonly dash: readonly number[]
  /** Steps of the legend's colour class: a share of the limit, or the order in the chart. */
  readonly tone: string
}

const dashes: readonly (readonly number[])[] = [[], [7, 4], [2, 3], [10, 3, 2, 3]]

/** Where many lines run together the one meant stands out; where few do, each has its own colour and dash. */
export function lineStyle(panel: Panel, order: number, strong: boolean, share: number, palette: Palette): LineStyle {
  if (panel.group === 'tension') {
    const step = shareStep(share)
    return { colour: palette.share[step] ?? palette.ink, width: strong ? 2.4 : 1, dash: [], tone: `share-${step}` }
  }
  if (panel.group === 'speed') {
    return {
      colour: strong ? palette.go : palette.steel,
      width: strong ? 2.2 : 1,
      dash: [],
      tone: strong ? 'go' : 'steel',
    }
  }
  const tones = ['go', 'warn', 'good', 'ink'] as const
  const tone = tones[order % tones.length] ?? 'ink'
  return { colour: palette[tone], width: 2, dash: dashes[order % dashes.length] ?? [], tone }
}
