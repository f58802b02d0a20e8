/**
 * A bounded search that can be taken step by step: scattered points over the box, then a simplex walk from the best.
 *
 * Equations    scatter: Halton's sequence; walk: Nelder and Mead's simplex, its points kept in the box
 * Source       Halton 1960; Nelder & Mead 1965 (both from memory)
 */

export interface Tried {
  /** shares 0..1 of each side of the box */
  readonly at: readonly number[]
  readonly value: number
}

const PRIMES = [2, 3, 5, 7, 11, 13]

/** Yields after every evaluation with the best so far; `first` is tried before all else. */
export function* search(
  sides: number,
  evaluate: (at: readonly number[]) => number,
  { first, scatter, walk }: { first: readonly number[]; scatter: number; walk: number },
): Generator<Tried, Tried[], undefined> {
  const tried: Tried[] = []
  const attempt = (at: readonly number[]): Tried => {
    const kept = at.map((x) => Math.min(1, Math.max(0, x)))
    const value = evaluate(kept)
    const one = { at: kept, value: Number.isNaN(value) ? Infinity : value }
    tried.push(one)
    return one
  }
  const best = () => tried.reduce((a, b) => (b.value < a.value ? b : a))
  attempt(first)
  yield best()
  for (let k = 1; k <= scatter; k++) {
    attempt(PRIMES.slice(0, sides).map((p) => halton(k, p)))
    yield best()
  }
  const corner = best().at
  const simplex = [
    best(),
    ...corner.map((x, i) => attempt(corner.map((y, j) => (i === j ? x + (x < 0.5 ? 0.15 : -0.15) : y)))),
  ]
  while (tried.length < 1 + scatter + walk) {
    stride(simplex, attempt)
    yield best()
  }
  return [...tried].sort((a, b) => a.value - b.value)
}

/** One step of the simplex: reflect, stretch, draw in, or shrink. */
function stride(simplex: Tried[], attempt: (at: readonly number[]) => Tried): void {
  simplex.sort((a, b) => a.value - b.value)
  const last = simplex.length - 1
  const worst = simplex[last]
  const middle = worst.at.map((_, i) => simplex.slice(0, last).reduce((sum, s) => sum + s.at[i] / last, 0))
  const toward = (share: number) => middle.map((m, i) => m + share * (worst.at[i] - m))
  const reflected = attempt(toward(-1))
  if (reflected.value < simplex[0].value) {
    const stretched = attempt(toward(-2))
    simplex[last] = stretched.value < reflected.value ? stretched : reflected
  } else if (reflected.value < simplex[last - 1].value) simplex[last] = reflected
  else {
    const drawn = attempt(toward(0.5))
    if (drawn.value < worst.value) simplex[last] = drawn
    else {
      for (let k = 1; k <= last; k++) {
        simplex[k] = attempt(simplex[k].at.map((x, i) => (x + simplex[0].at[i]) / 2))
      }
    }
  }
}

/** Term k of Halton's sequence in a base, 0..1. */
function halton(k: number, base: number): number {
  let [share, sum, rest] = [1, 0, k]
  while (rest > 0) {
    share /= base
    sum += share * (rest % base)
    rest = Math.floor(rest / base)
  }
  return sum
}
