/** A map as it comes in: a coarse one first, so that there is something to see at once, then a fine one over it, row by row. */
import { stations, type MapQuestion } from '../../../tune/map'
import { Asked, type Starter } from '../../state/asked.svelte'
import { readGrid, type Grid } from './map-picture'

const coarse = 13
const fine = 61

export class MapStudy {
  readonly asked = new Asked('map')
  #count = $state.raw(coarse)
  #factor = $state.raw(1)
  /** The last whole grid: under what is still to come. */
  #under = $state.raw<Grid | undefined>(undefined)
  #number = 0

  readonly #rows = $derived(
    this.asked.results.map((result) => (result?.ok && result.value.ok ? result.value : undefined)),
  )
  readonly grid: Grid | undefined = $derived.by(() => {
    const count = this.#count
    // Rows of another question are not of this size.
    const rows = this.#rows.length === count ? this.#rows : []
    const under = this.#under
    if (!rows.some((row) => row !== undefined)) return under
    if (!under && rows.some((row) => row === undefined)) return undefined
    const values = Array.from({ length: count * count }, (_, k) => {
      const [i, j] = [k % count, Math.floor(k / count)]
      const row = rows[j]
      return row
        ? (row.values[i] ?? NaN) * this.#factor
        : under
          ? readGrid(under, i / (count - 1), j / (count - 1))
          : NaN
    })
    return { columns: count, rows: count, values }
  })
  /** Why some cell has no figure. */
  readonly say: string = $derived(this.#rows.flatMap((row) => row?.say ?? [])[0] ?? '')
  /** Why there is no map at all. */
  readonly refused: string = $derived(
    this.asked.results.flatMap((result) => (result?.ok && !result.value.ok ? [result.value.say] : []))[0] ?? '',
  )

  /** @param factor from the figure to what the picture counts in */
  async ask(pool: Starter, document: unknown, question: MapQuestion, factor: number): Promise<void> {
    const number = ++this.#number
    this.#under = undefined
    this.#factor = factor
    for (const count of [coarse, fine]) {
      const whole = this.grid
      this.#count = count
      this.#under = count === coarse ? undefined : whole
      const across = stations(question.across, count)
      await this.asked.ask(
        pool,
        { document, question },
        stations(question.up, count).map((up) => ({ up, across })),
      )
      if (number !== this.#number || this.refused !== '') return
    }
  }

  stop(): void {
    this.#number++
    this.asked.stop()
  }
}
