/** The pages, in the order of the header. All but the first are loaded when they are first opened. */
import type { Component } from 'svelte'
import type { Desk } from '../state/desk.svelte'
import LinePage from './line/LinePage.svelte'

export type PageComponent = Component<{ desk: Desk }>

export interface PageEntry {
  /** its address behind the `#` */
  readonly key: string
  readonly label: string
  /** Reached from elsewhere than the header. */
  readonly aside?: true
  readonly load: () => Promise<{ readonly default: PageComponent }>
}

export const pages: readonly PageEntry[] = [
  { key: 'line', label: 'Line', load: () => Promise.resolve({ default: LinePage }) },
  { key: 'build', label: 'Build', load: () => import('./build/BuildPage.svelte') },
  { key: 'dancer', label: 'Dancer', load: () => import('./dancer/DancerPage.svelte') },
  { key: 'roll', label: 'Roll', load: () => import('./roll/RollPage.svelte') },
  { key: 'wrinkle', label: 'Wrinkle', load: () => import('./wrinkle/WrinklePage.svelte') },
  { key: 'checks', label: 'Checks', load: () => import('./checks/ChecksPage.svelte') },
  { key: 'report', label: 'Report', aside: true, load: () => import('./report/ReportPage.svelte') },
]
