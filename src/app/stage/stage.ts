/** The stage as it is loaded after the first picture: it brings the scenario's checks along, which the run itself has in its worker. */
export { Board } from './board.svelte'
export { default as StagePanel } from './StagePanel.svelte'
export { default as StageStrip } from './StageStrip.svelte'
