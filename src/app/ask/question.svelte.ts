/** One number asked about: the line run with it at several values, and where a figure of those runs meets its limit. */
import { figuresOf, type Figure } from '../../tune/figures'
import { brackets, goodSide, limitOf, stretches, type FigureLimit, type Sample } from '../../tune/holding'
import type { Field } from '../fields/catalogue'
import { valueOf } from '../fields/entry'
import { fieldAt } from '../stage/fields'
import { Asked } from '../state/asked.svelte'
import type { Desk } from '../state/desk.svelte'
import { differences, pathText, withValue, type Json, type Path } from '../state/document'
import { extentOf, scaleOf, textOf, valuesIn, type Extent, type Scale } from './values'

/** Runs over the range. */
const runs = 11
/** After these the place of a limit is known to a few thousandths of the range. */
const halvings = 7

export interface Row extends Sample {
  /** why it could not be run; empty where it was, or is not yet known */
  readonly why: string
}

export class Question {
  readonly sweep = new Asked('sweep case')
  readonly search = new Asked('find limit')
  /** Chosen by hand; else as it is usual. */
  #extent = $state.raw<Extent | undefined>(undefined)
  #limit = $state.raw<{ readonly figure: string; readonly value: number } | undefined>(undefined)
  /** What was asked last: the values and the document, for what has come of it. */
  #asked = $state.raw<{ readonly values: readonly number[]; readonly document: Json }>({ values: [], document: null })
  /** The figure whose limit was searched for, and that limit. */
  #searched = $state.raw('')

  /** @param figure key of the figure that is looked at */
  constructor(
    readonly desk: Desk,
    readonly path: Path,
    private readonly figureKey: () => string,
  ) {}

  readonly field: Field | undefined = $derived.by(() => fieldAt(this.desk.work.document, this.path)[0])
  readonly scale: Scale = $derived.by(() =>
    this.field ? scaleOf(this.field, this.desk.look.system) : { kind: null, unit: '' },
  )
  readonly present: number | undefined = $derived.by(() => this.field && valueOf(this.field, String(this.field.value)))
  readonly extent: Extent | undefined = $derived.by(() => this.#extent ?? (this.field && extentOf(this.field)))
  /** Of the last finished run, which has the same ones. */
  readonly figures: readonly Figure[] = $derived.by(() => {
    const result = this.desk.run.result
    return result ? figuresOf(result.summary).filter(({ value }) => value !== null) : []
  })
  readonly figure: Figure | undefined = $derived.by(
    () => this.figures.find(({ key }) => key === this.figureKey()) ?? this.figures[0],
  )
  readonly limit: FigureLimit | undefined = $derived.by(() => {
    const { figure } = this
    if (!figure) return undefined
    if (this.#limit?.figure === figure.key) return { limit: this.#limit.value, holds: goodSide(figure.key) }
    const plan = this.desk.run.result?.plan
    return plan && limitOf(figure.key, plan)
  })

  readonly rows: readonly Row[] = $derived.by(() =>
    this.#asked.values.map((x, i) => {
      const result = this.sweep.results[i]
      if (!result) return { x, figure: null, why: '' }
      if (!result.ok) return { x, figure: null, why: result.say }
      if (result.value.outcome !== 'finished') return { x, figure: null, why: result.value.say }
      return { x, figure: result.value.figures.find(({ key }) => key === this.figure?.key)?.value ?? null, why: '' }
    }),
  )
  /** Something other than this number was changed since. */
  readonly stale: boolean = $derived.by(() => {
    const { values, document } = this.#asked
    const now = this.desk.work.document
    return values.length > 0 && differences(this.#without(document), this.#without(now)).length > 0
  })
  readonly brackets = $derived.by(() => (this.limit ? brackets(this.rows, this.limit) : []))
  /** Where the limit is met, SI; empty until it has been searched for. */
  readonly crossings: readonly number[] = $derived.by(() => {
    if (this.search.computing || this.#searched !== this.#aim) return []
    return this.search.results.flatMap((result) =>
      result?.ok && result.value.found === true ? [result.value.value] : [],
    )
  })
  readonly stretches = $derived.by(() =>
    this.limit && this.crossings.length === this.brackets.length
      ? stretches(this.rows, this.limit, this.crossings)
      : undefined,
  )
  /** Whether the search for this figure's limit has ended. */
  readonly found: boolean = $derived.by(() => !this.search.computing && this.#searched === this.#aim)

  readonly #aim: string = $derived.by(() => `${this.figure?.key} ${this.limit?.limit} ${this.#asked.values.join(' ')}`)

  #without(document: Json): Json {
    return withValue(document, this.path, undefined)
  }

  setExtent(extent: Extent): void {
    this.#extent = extent
    this.start()
  }

  setLimit(value: number): void {
    if (this.figure) this.#limit = { figure: this.figure.key, value }
  }

  /** Runs the line with each value; a question asked before is given up. */
  start(): void {
    const { extent, present, desk, scale } = this
    if (!extent) return
    this.search.stop()
    this.#searched = ''
    const values = valuesIn(extent, runs, present)
    const { document } = desk.work
    this.#asked = { values, document }
    this.sweep.results = []
    const inputs = values.map((value) => [textOf(value, scale, 10)])
    void this.sweep.ask(desk.pool, { document, paths: [pathText(this.path)] }, inputs)
  }

  /** Halves each stretch over which the limit is crossed until the place is known. */
  findLimit(): void {
    const { limit, figure, desk, scale } = this
    if (!limit || !figure) return
    this.#searched = this.#aim
    const { document } = this.#asked
    const common = { document, path: pathText(this.path), ...scale, figure: figure.key, limit: limit.limit, halvings }
    const inputs = this.brackets.map(({ low, high }) => ({ ...common, from: low, to: high }))
    void this.search.ask(desk.pool, undefined, inputs)
  }

  put(value: number): void {
    const text = textOf(value, this.scale, 6)
    this.desk.work.set(this.path, this.field?.info.type === 'number' ? Number(text) : text)
  }

  stop(): void {
    this.sweep.stop()
    this.search.stop()
  }
}
