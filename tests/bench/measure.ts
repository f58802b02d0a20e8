/** Times for benchmarks. */

/** Shortest of several times, ms: what else the machine does can only lengthen it. What `prepare` does is not counted. */
export function bestOf<T>(repeats: number, prepare: () => T, act: (prepared: T) => void): number {
  let best = Infinity
  for (let k = 0; k < repeats; k++) {
    const prepared = prepare()
    const began = performance.now()
    act(prepared)
    best = Math.min(best, performance.now() - began)
  }
  return best
}
