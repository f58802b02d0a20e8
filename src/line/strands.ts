/**
 * The strands of a dancer: how the carriage's position lengthens the spans on either side of its rollers.
 *
 * Variables    carriage position z (m; on a swing arm the arc travelled by its roller), length change dL_j (m), share g_j = dL_j/dz
 * Parameters   wrap of the roller (rad), free length L0 of the span (m), arm length a (m)
 * Equations    carriage on a straight guide: dL = g z, g = sin(wrap/2)
 *              swing arm, arm square to the bisector of the wrap at z = 0, phi = z/a: the roller moves by (a sin phi, a (cos phi - 1)),
 *              the far end of a strand lies at L0 (-sin(wrap/2), -+cos(wrap/2)): dL = distance - L0
 * Neglected    change of wrap and of the tangent points with position; the neighbours of a strand stay
 * Source       geometry
 */
interface Strand {
  readonly span: number
  readonly along: number
  readonly across: number
  readonly free: number
}

export class Strands {
  /** the spans that are lengthened, each once */
  readonly spans: number[] = []
  /** dL/dz of each of them at the position placed last */
  readonly shares: number[] = []
  /** m, by which each is longer than at z = 0 */
  readonly longer: number[] = []
  private readonly strands: Strand[] = []

  /** @param arm m, undefined for a straight guide */
  constructor(private readonly arm: number | undefined) {}

  /** Adds a roller of the carriage: `upstream` is the span before it, `free` the free lengths before and after it (m). */
  add(upstream: number, wrap: number, free: readonly [number, number]): void {
    const along = Math.sin(wrap / 2)
    const across = Math.cos(wrap / 2)
    this.strands.push({ span: upstream, along, across, free: free[0] })
    this.strands.push({ span: upstream + 1, along, across: -across, free: free[1] })
    for (const j of [upstream, upstream + 1]) {
      if (this.spans.includes(j)) continue
      this.spans.push(j)
      this.shares.push(0)
      this.longer.push(0)
    }
    this.place(0)
  }

  /** Writes shares and lengths for position z (m). */
  place(z: number): void {
    const { spans, shares, longer, strands, arm } = this
    for (let k = 0; k < spans.length; k++) {
      shares[k] = 0
      longer[k] = 0
      for (let n = 0; n < strands.length; n++) {
        const s = strands[n]
        if (s.span !== spans[k]) continue
        if (arm === undefined) {
          shares[k] += s.along
          longer[k] += s.along * z
        } else {
          const phi = z / arm
          const x = s.free * s.along + arm * Math.sin(phi)
          const y = s.free * s.across + arm * (Math.cos(phi) - 1)
          const length = Math.sqrt(x * x + y * y)
          shares[k] += (x * Math.cos(phi) - y * Math.sin(phi)) / length
          longer[k] += length - s.free
        }
      }
    }
  }

  /** Sum of the shares at the position placed last. */
  total(): number {
    let sum = 0
    for (let k = 0; k < this.shares.length; k++) sum += this.shares[k]
    return sum
  }
}
