/**
 * Phase margin of a loop for maps and searches, where thousands are wanted and a tenth of a degree does.
 *
 * Variables    eigenvalues p of the line with this loop cut behind its law, c of the line with all loops closed
 * Equations    1 + L(s) = product of (s - c) / product of (s - p), s = j w or exp(j w T): closing the loop changes the matrix by a product
 *              of one column and one row, so its characteristic polynomial by the factor 1 + L (matrix determinant lemma)
 *              margin as in margins.ts: 180 deg + angle of L where |L| = 1, the worst of all crossings
 * Neglected    crossings that come in pairs between two of the frequencies looked at; those round light modes are among these
 * Source       matrix determinant lemma, textbook; else as loops.ts and margins.ts
 */
import { closedLine, type ClosedLine } from './closed'
import { eigenvaluesOf, type Eigenvalues } from './eigenvalues'
import { frequenciesUpTo, highest, livelyAmong, loopGain, restful } from './loops'
import type { OpenLoop, Plant } from './plant'

const PER_DECADE = 12
/** rad/s */
const LOWEST = 1e-3
const HALVINGS = 12

interface QuickMargin {
  /** rad; negative where the line does not settle; pi where its gain never passes 1; NaN where there is none */
  readonly value: number
  readonly say?: string
}

/** Worst phase margin of trim `k`. */
export function quickMargin(plant: Plant, k: number): QuickMargin {
  const open = plant.loops[k]
  if (open === undefined || open.saturated) return wholeMargin(plant, k)
  const [closed, cut] = [closedLine(plant), closedLine(cutAt(plant, open))]
  const sample = open.law.program?.sample
  // Where loops sample unlike one another, one period holds several samples of this one.
  if (!closed.ok || !cut.ok || closed.period !== sample) return wholeMargin(plant, k)
  const [ends, starts] = [eigenvaluesIn(closed), eigenvaluesIn(cut)]
  const gain = new Ratio(ends, starts, sample)
  const top = sample === undefined ? highest(plant) : Math.PI / sample
  const frequencies = frequenciesUpTo(top, livelyAmong(starts, sample), LOWEST, PER_DECADE)
  let worst = Math.PI
  let before = gain.sizeAt(LOWEST) > 1
  for (let i = 1; i < frequencies.length; i++) {
    const beyond = gain.sizeAt(frequencies[i]) > 1
    if (beyond === before) continue
    before = beyond
    gain.sizeAt(crossing(frequencies[i - 1], frequencies[i], gain))
    const margin = aboveTurn(Math.atan2(gain.im, gain.re))
    if (Math.abs(margin) < Math.abs(worst)) worst = margin
  }
  // One that passes 1 nowhere may measure nothing at all.
  if (worst === Math.PI) return wholeMargin(plant, k)
  // An unstable line has no margin, however its last crossing looks.
  return { value: restful(ends, sample) ? worst : -Math.abs(worst) }
}

/** The same line with one law at work on nothing. */
function cutAt(plant: Plant, open: OpenLoop): Plant {
  const none = { ...open, law: { ...open.law, strength: 0 } }
  return { ...plant, loops: plant.loops.map((loop) => (loop === open ? none : loop)) }
}

const eigenvaluesIn = ({ matrix, n }: ClosedLine) => eigenvaluesOf(matrix, n)

function wholeMargin(plant: Plant, k: number): QuickMargin {
  const loop = loopGain(plant, k)
  if (!loop.ok) return { value: Number.NaN, say: loop.say }
  const value = loop.margins.phaseMargin?.value ?? Math.PI
  return { value: loop.stable ? value : -Math.abs(value) }
}

/** Loop gain from what closing the loop does to the eigenvalues. */
class Ratio {
  /** at the frequency last asked for */
  re = 0
  im = 0
  private readonly closed: Eigenvalues
  private readonly cut: Eigenvalues

  constructor(
    closed: Eigenvalues,
    cut: Eigenvalues,
    private readonly sample: number | undefined,
  ) {
    // Side by side in size, so that no partial product grows out of bounds.
    this.closed = bySize(closed)
    this.cut = bySize(cut)
  }

  sizeAt(w: number): number {
    const { closed, cut, sample } = this
    const x = sample === undefined ? 0 : Math.cos(w * sample)
    const y = sample === undefined ? w : Math.sin(w * sample)
    let [re, im] = [1, 0]
    for (let k = 0; k < closed.re.length; k++) {
      const [a, b] = [x - closed.re[k], y - closed.im[k]]
      const [c, d] = [x - cut.re[k], y - cut.im[k]]
      const square = c * c + d * d
      const [qRe, qIm] = [(a * c + b * d) / square, (b * c - a * d) / square]
      const next = re * qRe - im * qIm
      im = re * qIm + im * qRe
      re = next
    }
    this.re = re - 1
    this.im = im
    return Math.hypot(this.re, im)
  }
}

function bySize({ re, im }: Eigenvalues): Eigenvalues {
  const order = Array.from(re, (_, k) => k).sort((a, b) => Math.hypot(re[a], im[a]) - Math.hypot(re[b], im[b]))
  return { re: Float64Array.from(order, (k) => re[k]), im: Float64Array.from(order, (k) => im[k]) }
}

/** Where the gain passes 1, by halving in the logarithm. */
function crossing(low: number, high: number, gain: Ratio): number {
  let [from, to] = [low, high]
  const rises = gain.sizeAt(to) > 1
  for (let k = 0; k < HALVINGS; k++) {
    const middle = Math.sqrt(from * to)
    if (gain.sizeAt(middle) > 1 === rises) to = middle
    else from = middle
  }
  return Math.sqrt(from * to)
}

const aboveTurn = (angle: number) => (angle > 0 ? angle - Math.PI : angle + Math.PI)
