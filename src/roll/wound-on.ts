/**
 * Tension at which each lap goes on, along the radius: the taper, what a lay-on roller adds, and simulated runs put in as rings.
 *
 * Variables    roll radius r (m), wound-on tension F_w (N)
 * Parameters   taper: taper.ts; lay-on roller mu_nip min(N, N_sat) (N)
 * Equations    F_w = F(r) + mu_nip min(N, N_sat), except in a ring, where it is as it was recorded
 *              a shell takes the mean over its thickness, so that no short dip is lost
 * Neglected    everything of minutes outside the rings: a whole wind-up is taken quasi-steady (slow time)
 *              surface winding, where the nip alone winds the film on (about mu_nip N): centre winding only is modelled
 * Source       centre winding with a lay-on roller: published (tension gained grows with load at the kinetic friction of film on film,
 *              then no more); its saturation is an input
 */
import { taperShare, type TaperSpec } from '../line/taper'

/** Wound-on tension (N) recorded over radius (m, rising). */
export interface Ring {
  readonly radius: readonly number[]
  readonly tension: readonly number[]
}

export class WoundOn {
  private readonly cumulated: readonly { radius: readonly number[]; sum: readonly number[] }[]

  constructor(
    readonly taper: TaperSpec,
    readonly coreRadius: number,
    readonly layOn: number,
    readonly rings: readonly Ring[],
  ) {
    this.cumulated = rings.map(({ radius, tension }) => {
      const sum = [0]
      const excess = radius.map((r, k) => tension[k] - this.law(r))
      for (let k = 1; k < radius.length; k++)
        sum.push(sum[k - 1] + ((excess[k] + excess[k - 1]) / 2) * (radius[k] - radius[k - 1]))
      return { radius, sum }
    })
  }

  /** N, tension of the film before it meets the roll. */
  film(r: number): number {
    return this.taper.tension * taperShare({ spec: this.taper, coreRadius: this.coreRadius }, this.taper.taper, r)
  }

  /** N, wound-on tension of the law alone. */
  law(r: number): number {
    return this.film(r) + this.layOn
  }

  /** N, mean wound-on tension between two radii. */
  mean(from: number, to: number): number {
    let tension = this.law((from + to) / 2)
    for (const ring of this.cumulated) tension += (sumAt(ring, to) - sumAt(ring, from)) / (to - from)
    return Math.max(0, tension)
  }
}

function sumAt({ radius, sum }: { radius: readonly number[]; sum: readonly number[] }, r: number): number {
  const last = radius.length - 1
  if (last < 1 || r <= radius[0]) return 0
  if (r >= radius[last]) return sum[last]
  let [low, high] = [0, last]
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if (radius[middle] > r) high = middle
    else low = middle
  }
  const share = (r - radius[low]) / (radius[high] - radius[low])
  return sum[low] + share * (sum[high] - sum[low])
}

/**
 * A ring of samples in the order of time: mean radius of the roll and wound-on tension. Film that came off again is forgotten. The ring
 * is moved to begin at `at` (m) where the roll has as much film as the run wound.
 */
export function ringOf(radius: ArrayLike<number>, tension: ArrayLike<number>, at: number | undefined): Ring {
  const [radii, tensions]: [number[], number[]] = [[], []]
  for (let k = 0; k < radius.length; k++) {
    while (radii.length > 0 && radii[radii.length - 1] >= radius[k]) {
      radii.pop()
      tensions.pop()
    }
    radii.push(radius[k])
    tensions.push(tension[k])
  }
  if (at === undefined || radii.length === 0) return { radius: radii, tension: tensions }
  // the same film makes a thinner ring further out: r^2 grows by the same amount
  const shift = at * at - radii[0] * radii[0]
  return { radius: radii.map((r) => Math.sqrt(r * r + shift)), tension: tensions }
}
