/**
 * What a run leaves behind: channels sampled at ticks, extremes of the continuous solution, and happenings.
 * Everything is SI. A block is what travels from worker to page: one whole buffer, column by column.
 */
import type { Kind } from '../units'
import type { Notice } from '../line/part'

export type ChannelGroup =
  'tension' | 'speed' | 'dancer' | 'radius' | 'torque' | 'trim' | 'winding' | 'pressure' | 'limit'

export interface Channel {
  /** Unique within a run, e.g. `tension/idler 1 → idler 2`. */
  readonly key: string
  readonly group: ChannelGroup
  /** For people: the part or span this belongs to. */
  readonly name: string
  readonly kind: Kind
  /** Index of the part in the scenario's `line` list that this is measured at (spans: the upstream roller). */
  readonly place: number
}

/** What is known before the first sample: enough to draw empty axes with their limits. */
export interface RunPlan {
  readonly title: string
  /** s */
  readonly duration: number
  /** s, recording interval */
  readonly tick: number
  readonly channels: readonly Channel[]
  readonly spans: readonly SpanLimits[]
  readonly dancers: readonly { name: string; lowerStop: number; upperStop: number; setPoint: number }[]
  /** rad/s, fastest oscillation of the line at its start, and 1/s, its fastest decay */
  readonly pace: { readonly fastestMode: number; readonly fastestDecay: number }
  readonly events: readonly { at: number; name: string }[]
  readonly feeds: readonly FeedPlan[]
}

/** An index feed: how much film its cycle stores and gives back (m), and the dancer travel (m) needed for that and there. */
export interface FeedPlan {
  readonly name: string
  readonly swing: number
  readonly dancers: readonly { readonly name: string; readonly needs: number; readonly has: number }[]
}

export interface SpanLimits {
  readonly name: string
  /** N, tension at the film's elastic limit strain, for the film that lies in the span at the start */
  readonly elasticTension: number
  /** N, working band from the scenario's limits */
  readonly most: number
  readonly least: number
}

/** Samples `from .. from + count - 1`. Column 0 is time, column k + 1 is channel k; value of sample i in column c: data[c * count + i]. */
export interface Block {
  readonly from: number
  readonly count: number
  readonly data: Float64Array
  /** Sample numbers (of the whole run) that begin a new stroke: the pen lifts between the sample before and this one. */
  readonly lifts: readonly number[]
  readonly happenings: readonly Happening[]
}

export interface Happening {
  /** s */
  readonly at: number
  /** Part or span it happened to. */
  readonly part: string
  readonly what: Notice['what']
  /** One plain sentence without the time. */
  readonly say: string
}

export interface Extreme {
  min: number
  max: number
  /** s */
  atMin: number
  atMax: number
}
