/** The views of the Dancer page, in the order of its own row of links. */
import type { Component } from 'svelte'
import AdviceView from './AdviceView.svelte'
import LoopView from './LoopView.svelte'
import ModesView from './ModesView.svelte'
import MapView from './MapView.svelte'
import ResponseView from './ResponseView.svelte'
import RippleView from './RippleView.svelte'
import SheetView from './SheetView.svelte'
import SizingView from './SizingView.svelte'
import type { Study } from './study.svelte'
import ToleranceView from './ToleranceView.svelte'

export interface View {
  /** its address behind the page's */
  readonly key: string
  readonly label: string
  readonly title: string
  readonly about: string
  readonly component: Component<{ study: Study }>
}

export const views: readonly View[] = [
  {
    key: 'modes',
    label: 'Modes',
    title: 'How the line swings by itself',
    about:
      'Every way in which the line swings or dies away after a knock, with the parts that take part. The dancer has two of its own that are easily mixed up: slow on its spring with the film going along, and fast on film that is held.',
    component: ModesView,
  },
  {
    key: 'loop',
    label: 'Loop',
    title: 'How far the loop stands from swinging up',
    about:
      'Margins of the trim with its filter, sampling and computing time, from core to full roll and over line speed. Phase margin: the lag that may still come; gain margin: the factor by which the gain may still rise.',
    component: LoopView,
  },
  {
    key: 'response',
    label: 'Response',
    title: 'What a disturbance does to tension and dancer',
    about:
      'How much of a lasting swing of one thing shows in another, at every frequency, with all loops at work. Upright lines are what shakes the line by its own turning, and the modes that would answer.',
    component: ResponseView,
  },
  {
    key: 'map',
    label: 'Map',
    title: 'Where the line settles',
    about:
      'Two numbers at a time. Hatched: it swings up. Click, use the arrow keys, or type to move the point; the line itself changes only when you put the numbers into it.',
    component: MapView,
  },
  {
    key: 'ripple',
    label: 'Ripple',
    title: 'What the dancer adds to tension',
    about:
      'Film is far stiffer than the dancer, so the dancer goes where film length sends it. What that costs in tension is made of spring, air, mass, damping and friction, each at its own frequency.',
    component: RippleView,
  },
  {
    key: 'sizing',
    label: 'Sizing',
    title: 'How large the dancer has to be',
    about: 'Travel for what it must store, force and air for the tension wanted, friction as a share of it.',
    component: SizingView,
  },
  {
    key: 'advice',
    label: 'Advice',
    title: 'Numbers that hold tension better',
    about:
      "Searches spring, damping and gains on the linear line for the least deviation that keeps your aims, then tries the best on the scenario's own stage in time: what the run says counts. The line changes only when you put the numbers into it.",
    component: AdviceView,
  },
  {
    key: 'tolerance',
    label: 'Tolerance',
    title: 'Does it still hold when the figures are not quite so',
    about:
      'Every combination of the ends of these ranges is run in time. Friction and film are seldom known better; measure them before you narrow a range.',
    component: ToleranceView,
  },
  {
    key: 'sheet',
    label: 'Sheet',
    title: 'Settings sheet',
    about: 'One page to carry to the panel.',
    component: SheetView,
  },
]
