/** One number asked about: the line run with it at several values, and where a figure of those runs meets its limit. */
import { figuresOf, type Figure } from '../../tune/figures'
import { brackets, filmChanges, goodSide, limitOf, stretches, type FigureLimit } from '../../tune/holding'
import type { Field } from '../fields/catalogue'
import { valueOf } from '../fields/entry'
import { fieldAt } from '../stage/fields'
import { Asked, type Starter } from '../state/asked.svelte'
import { differences, pathText, withValue, type Json, type Path } from '../state/document'
import type { Look } from '../state/look.svelte'
import type { RunState } from '../state/run.svelte'
import type { Work } from '../state/work.svelte'
import { isOpen, limitsOf, rowOf, type Row } from './rows'
import { extentOf, offerAt, scaleOf, textOf, valuesIn, type Crossing, type Extent, type Scale } from './values'
import { troubleOf } from './words'

/** Runs over the range. */
const runs = 11
/** After these the place of a limit is known to a few thousandths of the range. */
const halvings = 7

/** What of the desk is needed here. */
export interface AskDesk {
  readonly run: Pick<RunState, 'result'>
  readonly look: Pick<Look, 'system'>
  readonly work: Pick<Work, 'document' | 'set'>
  readonly pool: Starter
}

export class Question {
  readonly sweep = new Asked('sweep case')
  readonly search = new Asked('find limit')
  /** Chosen by hand; else as it is usual. */
  #ends = $state.raw<Partial<Extent> | undefined>(undefined)
  #stated = $state.raw<{ readonly figure: string; readonly value: number } | undefined>(undefined)
  /** What was asked last: the values and the document, for what has come of it. */
  #asked = $state.raw<{ readonly values: readonly number[]; readonly document: Json }>({ values: [], document: null })
  /** What was searched for: the figure, its limit, and the values between which; empty where there is no search to tell of. */
  #searched = $state.raw('')

  /** @param figure key of the figure that is looked at */
  constructor(
    readonly desk: AskDesk,
    readonly path: Path,
    private readonly figureKey: () => string,
  ) {}

  readonly field: Field | undefined = $derived.by(() => fieldAt(this.desk.work.document, this.path)[0])
  readonly scale: Scale = $derived.by(() =>
    this.field ? scaleOf(this.field, this.desk.look.system) : { kind: null, unit: '' },
  )
  readonly present: number | undefined = $derived.by(() => this.field && valueOf(this.field, String(this.field.value)))
  /** From where to where, as far as it is known: a field without a usual range waits until both ends are stated. */
  readonly ends: Partial<Extent> = $derived.by(() => this.#ends ?? (this.field && extentOf(this.field)) ?? {})
  readonly extent: Extent | undefined = $derived.by(() => {
    const { low, high } = this.ends
    return low === undefined || high === undefined ? undefined : { low, high }
  })
  /** Of the last finished run, which has the same ones. */
  readonly figures: readonly Figure[] = $derived.by(() => {
    const result = this.desk.run.result
    return result ? figuresOf(result.summary).filter(({ value }) => value !== null) : []
  })
  readonly figure: Figure | undefined = $derived.by(
    () => this.figures.find(({ key }) => key === this.figureKey()) ?? this.figures[0],
  )
  /** As it was typed: then all values are held to it. */
  readonly stated: FigureLimit | undefined = $derived.by(() => {
    const { figure } = this
    if (!figure || this.#stated?.figure !== figure.key) return undefined
    return { limit: this.#stated.value, holds: goodSide(figure.key) }
  })
  /** Of the present run. The value asked about may move it: every other run is held to its own. */
  readonly limit: FigureLimit | undefined = $derived.by(() => {
    const plan = this.desk.run.result?.plan
    return this.stated ?? (plan && this.figure && limitOf(this.figure.key, plan))
  })
  readonly filmChanges: boolean = $derived.by(() => {
    const plan = this.desk.run.result?.plan
    return plan !== undefined && filmChanges(plan)
  })

  readonly rows: readonly Row[] = $derived.by(() =>
    this.#asked.values.map((x, i) => rowOf(x, this.sweep.results[i], this.figure?.key, this.stated)),
  )
  /** Least and greatest limit, where the runs differ in it. */
  readonly limits = $derived.by(() => limitsOf(this.rows))
  readonly isStopped: boolean = $derived.by(() => !this.sweep.computing && !this.sweep.broken && this.rows.some(isOpen))
  readonly canFind: boolean = $derived.by(
    () => this.limit !== undefined && this.rows.length > 0 && !this.sweep.computing && !this.rows.some(isOpen),
  )
  /** Something other than this number was changed since. */
  readonly stale: boolean = $derived.by(() => {
    const { values, document } = this.#asked
    const now = this.desk.work.document
    return values.length > 0 && differences(this.#without(document), this.#without(now)).length > 0
  })
  readonly brackets = $derived.by(() => brackets(this.rows))
  /** Whether the search for this figure's limit has come to its end. */
  readonly #ended: boolean = $derived.by(
    () => this.#searched === this.#aim && !this.search.computing && this.search.broken === '',
  )
  /** Why the limit was not found; empty where it was, or was not sought. */
  readonly trouble: string = $derived.by(() => {
    const say = (result: (typeof this.search.results)[number]) =>
      troubleOf(result, (value) => textOf(value, this.scale, 4))
    return this.#ended ? (this.search.results.map(say).find((said) => said !== '') ?? '') : ''
  })
  /** Whether it is known where this figure meets its limit. */
  readonly found: boolean = $derived.by(() => this.#ended && this.trouble === '')
  /** Where that is; empty until it has been searched for. */
  readonly crossings: readonly Crossing[] = $derived.by(() => {
    if (!this.found) return []
    return this.search.results.flatMap((result, i) => {
      const bracket = this.brackets[i]
      if (!bracket || !result?.ok || result.value.found !== true) return []
      const { value, beyond } = result.value
      return [{ value, beyond, from: value < beyond ? bracket.low : bracket.high }]
    })
  })
  /** The outermost values that keep the limit: the largest where it is kept below, the smallest where above. */
  readonly offers = $derived.by(() => this.crossings.map((crossing) => offerAt(crossing, this.scale)))
  readonly stretches = $derived.by(() =>
    this.found
      ? stretches(
          this.rows,
          this.offers.map(({ value }) => value),
        )
      : undefined,
  )

  readonly #aim: string = $derived.by(() => `${this.figure?.key} ${this.stated?.limit} ${this.#asked.values.join(' ')}`)

  #without(document: Json): Json {
    return withValue(document, this.path, undefined)
  }

  /** Takes one end of the range, or says what is wrong with it; the line is run when both are known. */
  setEnd(end: keyof Extent, value: number): string {
    const next = { ...this.ends, [end]: value }
    const { low, high } = next
    if (low !== undefined && high !== undefined && low >= high) return 'expected the lower end below the upper one.'
    this.#ends = next
    this.start()
    return ''
  }

  /** @param value left out, every run is held to its own again */
  setLimit(value?: number): void {
    if (this.figure) this.#stated = value === undefined ? undefined : { figure: this.figure.key, value }
  }

  /** Runs the line with each value; a question asked before is given up. */
  start(): void {
    const { extent, present, desk, scale } = this
    if (!extent) return
    this.#forgetSearch()
    const values = valuesIn(extent, runs, present)
    const { document } = desk.work
    this.#asked = { values, document }
    this.sweep.results = []
    const inputs = values.map((value) => [textOf(value, scale, 10)])
    void this.sweep.ask(desk.pool, { document, paths: [pathText(this.path)] }, inputs)
  }

  /** Halves each stretch over which the limit is crossed until the place is known. */
  findLimit(): void {
    const { figure, stated, desk, scale } = this
    if (!this.canFind || !figure) return
    this.#forgetSearch()
    this.#searched = this.#aim
    const { document } = this.#asked
    const limit = stated?.limit ?? null
    const common = { document, path: pathText(this.path), ...scale, figure: figure.key, limit, halvings }
    const inputs = this.brackets.map(({ low, high }) => ({ ...common, from: low, to: high }))
    void this.search.ask(desk.pool, undefined, inputs)
  }

  put(value: number, digits = 6): void {
    const text = textOf(value, this.scale, digits)
    this.desk.work.set(this.path, this.field?.info.type === 'number' ? Number(text) : text)
  }

  stop(): void {
    this.sweep.stop()
    this.#forgetSearch()
  }

  /** What was found so far answers nothing yet, and what was found before answers another question. */
  #forgetSearch(): void {
    this.search.stop()
    this.search.results = []
    this.#searched = ''
  }
}
