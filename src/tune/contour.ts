/**
 * The line on a map where its figure passes a level: straight pieces through the squares of the grid.
 *
 * Equations    crossing of a side by straight interpolation; a square with four crossings is cut by its mean
 * Neglected    squares with a corner that has no figure: no line is drawn there
 * Source       marching squares, textbook
 */

/** Shares 0..1 across and up. */
export type Place = readonly [across: number, up: number]

/** Pieces of the line; `values` row by row from below, `across` in a row. */
export function contourOf(values: ArrayLike<number>, across: number, up: number, level: number): [Place, Place][] {
  const pieces: [Place, Place][] = []
  for (let j = 0; j + 1 < up; j++) {
    for (let i = 0; i + 1 < across; i++) {
      const at = (di: number, dj: number) => values[(j + dj) * across + i + di] - level
      const corners = [at(0, 0), at(1, 0), at(1, 1), at(0, 1)]
      if (corners.some(Number.isNaN)) continue
      for (const [one, two] of piecesOf(corners)) {
        const place = ([x, y]: Place): Place => [(i + x) / (across - 1), (j + y) / (up - 1)]
        pieces.push([place(one), place(two)])
      }
    }
  }
  return pieces
}

/** Within one square, from its corners in turn: below left, below right, above right, above left. */
function piecesOf(corners: readonly number[]): [Place, Place][] {
  const found: Place[] = []
  for (let k = 0; k < 4; k++) {
    const [from, to] = [corners[k], corners[(k + 1) % 4]]
    if (from > 0 === to > 0) continue
    const s = from / (from - to)
    found.push(
      (
        [
          [s, 0],
          [1, s],
          [1 - s, 1],
          [0, 1 - s],
        ] as const
      )[k],
    )
  }
  if (found.length === 2) return [[found[0], found[1]]]
  if (found.length < 4) return []
  const mean = corners.reduce((sum, c) => sum + c / 4, 0)
  // sides in turn: below, right, above, left; the pieces cut off the two corners that lie across from the middle
  const first = mean > 0 === corners[0] > 0
  return first
    ? [
        [found[0], found[1]],
        [found[2], found[3]],
      ]
    : [
        [found[3], found[0]],
        [found[1], found[2]],
      ]
}
