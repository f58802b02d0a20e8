/** Straight lines between the points of a table, and its end values beyond them. `table` rises in its first column. */
export function lookUp(table: readonly (readonly [number, number])[], x: number): number {
  let k = 0
  while (k < table.length && table[k][0] < x) k++
  if (k === 0) return table[0][1]
  if (k === table.length) return table[k - 1][1]
  const [from, a] = table[k - 1]
  const [to, b] = table[k]
  return a + ((b - a) * (x - from)) / (to - from)
}
