/** Text in columns: the first column to the left, the others, figures, to the right. */

export function table(head: readonly string[], rows: readonly (readonly string[])[]): string[] {
  const widths = head.map((title, column) => Math.max(title.length, ...rows.map((row) => row[column].length)))
  const line = (cells: readonly string[]) =>
    cells.map((cell, c) => (c === 0 ? cell.padEnd(widths[c]) : cell.padStart(widths[c]))).join('  ')
  return [head, ...rows].map((cells) => line(cells).trimEnd())
}
