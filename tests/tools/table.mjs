/** The table of measurements. */

/**
 * `within`: whether the budget is kept; null where there is none.
 * @typedef {{ what: string, budget: string, measured: string, within: boolean | null, note?: string }} Row
 */

/**
 * One aligned line a row, under a heading.
 * @param {readonly Row[]} rows
 * @returns {string[]}
 */
export function table(rows) {
  const cells = [
    ['what', 'budget', 'measured', 'kept', 'note'],
    ...rows.map(({ what, budget, measured, within, note }) => [
      what,
      budget,
      measured,
      within === null ? '-' : within ? 'yes' : 'NO',
      note ?? '',
    ]),
  ]
  const widths = cells[0].map((_, column) => Math.max(...cells.map((row) => row[column].length)))
  const lines = cells.map((row) =>
    row
      .map((cell, column) => cell.padEnd(widths[column]))
      .join('  ')
      .trimEnd(),
  )
  return [lines[0], widths.map((width) => '-'.repeat(width)).join('  '), ...lines.slice(1)]
}
