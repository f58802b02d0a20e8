/** A map of cells as a picture: filled steps, their boundary, and readings. Knows no screen. */
import { contours } from 'd3-contour'

/** A step of the figure, from `from` on, by which cells are filled. */
export interface Step {
  readonly from: number
  readonly name: string
}

/** Of least damping, 1; of phase margin, degrees. The first step is what does not settle. */
export const dampingSteps: readonly Step[] = [
  { from: -Infinity, name: 'does not settle' },
  { from: 0, name: '0 to 5 %' },
  { from: 0.05, name: '5 to 15 %' },
  { from: 0.15, name: '15 to 40 %' },
  { from: 0.4, name: '40 to 70 %' },
  { from: 0.7, name: '70 % and more' },
]

export const marginSteps: readonly Step[] = [
  { from: -Infinity, name: 'does not settle' },
  { from: 0, name: '0 to 15°' },
  { from: 15, name: '15 to 30°' },
  { from: 30, name: '30 to 45°' },
  { from: 45, name: '45 to 60°' },
  { from: 60, name: '60° and more' },
]

export interface Grid {
  readonly columns: number
  readonly rows: number
  /** row by row, the lowest first; NaN where there is no figure */
  readonly values: readonly number[]
}

export interface Layer {
  readonly step: Step
  /** SVG path of everything from this step on, in shares of the picture: 0..1 across, 0..1 down */
  readonly path: string
}

/** Filled from the lowest step up: each layer covers what lies in higher steps too. */
export function layersOf(grid: Grid, steps: readonly Step[]): Layer[] {
  const { columns, rows, values } = grid
  const low = steps[1] ? steps[1].from - 1 : -1
  // What has no figure counts as not settling: nobody should set a line there.
  const filled = values.map((value) => (Number.isFinite(value) ? value : low))
  return steps.slice(1).map((step) => {
    const { coordinates } = contours().size([columns, rows]).smooth(true).contour(filled, step.from)
    const path = coordinates
      .flatMap((polygon) => polygon.map((ring) => ring.map(([x, y]) => place(grid, x ?? 0, y ?? 0)).join('L')))
      .map((ring) => `M${ring}Z`)
      .join('')
    return { step, path }
  })
}

/** d3 puts the middle of cell (0, 0) at (0.5, 0.5); here the first station is the edge of the picture. */
function place({ columns, rows }: Grid, x: number, y: number): string {
  const across = Math.min(1, Math.max(0, (x - 0.5) / (columns - 1)))
  const down = 1 - Math.min(1, Math.max(0, (y - 0.5) / (rows - 1)))
  return `${across.toFixed(4)} ${down.toFixed(4)}`
}

/** Rounding on the way to a share and back leaves a point of the edge within this of it. */
const ROUNDING = 1e-9

/** Whether shares 0..1 across and up lie on the picture. */
export const inPicture = (...shares: readonly number[]): boolean =>
  shares.every((share) => share >= -ROUNDING && share <= 1 + ROUNDING)

/** The figure at shares 0..1 across and up: that of the four cells around, evenly between them; NaN where one has none, and outside. */
export function readGrid({ columns, rows, values }: Grid, across: number, up: number): number {
  if (!inPicture(across, up)) return NaN
  const [x, y] = [clamp(across) * (columns - 1), clamp(up) * (rows - 1)]
  const [i, k] = [Math.min(columns - 2, Math.floor(x)), Math.min(rows - 2, Math.floor(y))]
  const at = (column: number, row: number) => values[row * columns + column] ?? NaN
  const [fx, fy] = [x - i, y - k]
  const lower = at(i, k) * (1 - fx) + at(i + 1, k) * fx
  const upper = at(i, k + 1) * (1 - fx) + at(i + 1, k + 1) * fx
  return lower * (1 - fy) + upper * fy
}

const clamp = (share: number) => Math.min(1, Math.max(0, share))

export function stepOf(value: number, steps: readonly Step[]): Step | undefined {
  return steps.findLast(({ from }) => value >= from)
}
