/**
 * The film as a tape: which material lies at which tape coordinate.
 *
 * Variables    tape coordinate S (m of unstretched film from a fixed point); film yet to be unwound has the larger S
 * Parameters   the stretches: material k lies between edge k-1 and edge k; the first and the last have no outer edge
 * Neglected    changes across the width
 * Source       own derivation (book-keeping of a material coordinate)
 *
 * A double holds a kilometre to 1e-13 m, so coordinates are kept as they are; the solver's weights are absolute.
 */
import type { Material } from './film'

export class Tape {
  readonly materials: Material[]
  /** edges[k]: the larger end of stretch k (m); one fewer than there are materials. */
  readonly edges: number[] = []
  /** free strain of each stretch, by heat, moisture or shrinkage, and how it changes (1/s) */
  readonly freeStrain: number[] = [0]
  readonly freeStrainRate: number[] = [0]

  constructor(first: Material) {
    this.materials = [first]
  }

  /** The tape coordinate where stretch k ends towards the unwind; infinite for the last. */
  upperEdge(k: number): number {
    return k < this.edges.length ? this.edges[k] : Infinity
  }

  /** The tape coordinate where stretch k ends towards the rewind; infinite for the first. */
  lowerEdge(k: number): number {
    return k > 0 ? this.edges[k - 1] : -Infinity
  }

  /**
   * Continues the tape from coordinate `at` (m): an overlap of `length` m, then `next`. Returns the index of the overlap
   * (of `next` itself when the length is 0). Anything that lay beyond `at` is cut off.
   */
  paste(at: number, length: number, patch: Material, next: Material): number {
    const k = this.stretchAt(at)
    this.materials.length = k + 1
    this.edges.length = k
    this.edges.push(at)
    if (length > 0) {
      this.materials.push(patch)
      this.edges.push(at + length)
    }
    this.materials.push(next)
    this.freeStrain.length = this.freeStrainRate.length = this.materials.length
    this.freeStrain.fill(0, k + 1)
    this.freeStrainRate.fill(0, k + 1)
    return k + 1
  }

  /** Index of the stretch that holds coordinate S; at an edge the one towards the rewind. */
  stretchAt(S: number): number {
    let k = 0
    while (k < this.edges.length && S > this.edges[k]) k++
    return k
  }
}
