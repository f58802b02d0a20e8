/** The charts of the page, from top to bottom, and how each line in them is drawn. */
import type { Channel, ChannelGroup } from '../../run/record'
import type { Kind } from '../../units'
import { measureKinds, type Measure } from '../shown'
import { shareStep, type Palette } from './picture'

export interface Panel {
  readonly id: string
  readonly group: ChannelGroup
  readonly title: string
  readonly kind: Kind
  /** What its lines are called, for people. */
  readonly lines: string
  /** How far the picture can reach beyond the traces. */
  readonly reach?: string
}

const panel = (group: ChannelGroup, kind: Kind, title: string, lines: string, reach?: string): Panel => {
  return { id: `${group} ${kind}`, group, kind, title, lines, ...(reach === undefined ? {} : { reach }) }
}

/** Always there, where the run has such channels. */
export const panels: readonly Panel[] = [
  panel('tension', 'force', 'Tension', 'spans', 'To the limit'),
  panel('dancer', 'travel', 'Dancer position', 'dancers', 'To the stops'),
  panel('speed', 'speed', 'Surface speed', 'rollers'),
  panel('radius', 'diameter', 'Roll radius', 'rolls'),
]

/** Folded away until they are asked for. A trim corrects a speed or a speed ratio: two scales, two pictures. */
export const morePanels: readonly Panel[] = [
  panel('torque', 'torque', 'Drive torque', 'drives', 'To the limits'),
  panel('trim', 'speed', 'Trim output, speed', 'trims'),
  panel('trim', 'fraction', 'Trim output, ratio', 'trims'),
  panel('pressure', 'pressure', 'Cylinder pressure', 'cylinders'),
  panel('winding', 'force', 'Wound-on tension', 'rolls'),
]

/** What its figures are of: tension is read in the measure chosen. */
export function shownKind({ group, kind }: Panel, measure: Measure): Kind {
  return group === 'tension' ? measureKinds[measure] : kind
}

export function belongs(panel: Panel, channel: Channel): boolean {
  return channel.group === panel.group && channel.kind === panel.kind
}

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
