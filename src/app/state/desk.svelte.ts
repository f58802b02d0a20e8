/** What all pages share: the scenario in hand, its run, what is pinned and kept, and how things are looked at. */
import { createPool, createRunner, type JobPool } from '../../../workers/client'
import { verdict, type Verdict } from '../../verdict/verdict'
import { paletteOf } from '../charts/picture'
import { mostPins, pinRefusal, Pins, type Pin, type PinnedRun } from '../compare/pins.svelte'
import { newId, openClaims } from '../keep/claims'
import { placeWords } from '../fields/words'
import { openDatabase } from '../keep/database'
import { Keeper, type Beginning, type Subject } from '../keep/keeper.svelte'
import { freeName, OwnLines } from '../keep/own.svelte'
import { tabMemory } from '../keep/session'
import type { WorkRecord } from '../keep/records'
import { at } from './document'
import { takeLeft } from './left'
import { Look } from './look.svelte'
import { Playback } from './playback.svelte'
import { Recordings } from './recordings.svelte'
import type { Route } from './route.svelte'
import { RunState } from './run.svelte'
import { firstScenario, type Scenario } from './scenario'
import { Work, type Laid } from './work.svelte'

/** A part of the page that is fetched when it is wanted. */
const unreachable = 'A part of this page could not be loaded. Is the connection there?'

const noRoom = `Of what was left, these pinned runs did not come along, since ${mostPins} are pinned. Unpin some, and open it again.`

const isTable = ({ name, type }: File) => /\.(csv|tsv|tab|txt|dat|asc|log)$/i.test(name) || type === 'text/csv'

export class Desk {
  readonly run: RunState
  readonly work: Work
  readonly look = new Look()
  readonly playback: Playback
  readonly pins = new Pins(createRunner)
  readonly keeper: Keeper
  readonly own: OwnLines
  readonly recordings: Recordings
  /** Colours for what is painted by script, as the theme has them. */
  palette = $state.raw(paletteOf(document.documentElement))
  readonly verdict: Verdict | null = $derived.by(
    () => this.run.result && verdict(this.run.result.summary, this.run.result.plan, this.look.system),
  )
  /** The finished run of the document in hand. */
  readonly finished: PinnedRun | null = $derived.by(() => {
    const { phase, trace, result } = this.run
    return phase === 'finished' && trace && result ? { trace, result } : null
  })
  /** Why the run in hand cannot be pinned; empty where it can. */
  readonly pinRefusal: string = $derived(pinRefusal(this.pins.list, this.finished))

  readonly #runner = createRunner()
  #pool: JobPool | undefined

  /** @param browse opens the gallery of questions */
  constructor(
    readonly route: Route,
    readonly browse: () => void,
  ) {
    this.run = new RunState(this.#runner)
    this.work = new Work(this.run)
    this.playback = new Playback(this.look, this.run)
    this.keeper = new Keeper(openDatabase, openClaims(), tabMemory, this.#subject())
    this.own = new OwnLines(this.keeper)
    this.recordings = new Recordings(this.work, this.keeper)
  }

  /** Workers for what is computed beside the run; made when the first job is asked for. */
  get pool(): JobPool {
    this.#pool ??= createPool()
    return this.#pool
  }

  /** Brings back what was kept; a newcomer gets a line that runs. */
  async begin(): Promise<Beginning> {
    const beginning = await this.keeper.begin()
    if (!this.work.chosen) this.work.begin(firstScenario)
    return beginning
  }

  /**
   * Opens a scenario as a copy, on the page that it is about.
   * @param isFirst by somebody who has not yet had anything in hand
   * @param trend the recording that it was kept with
   */
  open(scenario: Scenario, isFirst = false, trend?: Laid): void {
    this.#onOtherLine(() => (isFirst ? this.work.begin(scenario, trend) : this.work.choose(scenario, trend)))
    this.route.go(scenario.page ?? '')
  }

  /** Goes on with what a tab has left that closed. */
  openLeft(record: WorkRecord): void {
    this.keeper.dismiss('pins')
    this.#onOtherLine(() => {
      const missing = takeLeft(record, this.work, this.pins)
      if (missing.length > 0) this.keeper.say('pins', noRoom, { list: missing })
    })
    this.look.restore(record.look)
    this.route.go(record.page)
  }

  /** Opens a scenario file as a copy, or tells why it cannot be. A table is laid over the line in hand. */
  async receive(file: File): Promise<void> {
    if (isTable(file)) {
      if (this.route.page !== 'line') this.route.go('line')
      this.recordings.look(file)
      return
    }
    const opening = await import('../keep/open').then(
      ({ openFile }) => openFile(file),
      () => ({ ok: false, name: file.name, says: [unreachable] }) as const,
    )
    this.keeper.dismiss('file')
    if (opening.ok) this.open(opening.scenario)
    else
      this.keeper.say('file', `“${opening.name}” was not opened. What is in hand stays as it is.`, {
        list: opening.says,
      })
  }

  /** Opens the line in a link as a copy, or tells why it cannot be. Neither a reload nor the way back opens it again. */
  async follow(hash: string, isFirst: boolean): Promise<void> {
    history.replaceState(null, '', location.href.replace(/#.*$/, '#line'))
    this.route.read(location.hash)
    const following = await import('../share/open').then(
      ({ followed }) => followed(hash),
      () => ({ ok: false, say: unreachable }) as const,
    )
    this.keeper.dismiss('link')
    if (following.ok) this.open(following.scenario, isFirst)
    else this.keeper.say('link', `${following.say} What is in hand stays as it is.`)
  }

  /** Keeps the line in hand under a name of its own, which is returned where that was possible. */
  async keepCopy(): Promise<string | undefined> {
    await this.own.read()
    return this.own.add(this.work.title || 'Line', this.work.document, this.work.held.trend)
  }

  /** What other tabs have kept or left meanwhile. */
  async lookAround(): Promise<void> {
    await this.own.read()
    await this.keeper.look()
    await this.recordings.tidy(this.own.deleted)
  }

  undo(): void {
    this.#onOtherLine(() => this.work.undo())
  }

  redo(): void {
    this.#onOtherLine(() => this.work.redo())
  }

  /** Holds the run in hand, to be compared with those that follow. */
  pin(): void {
    const { finished, work, pins } = this
    if (!finished || this.pinRefusal !== '') return
    const taken = pins.list.map(({ name }) => name)
    pins.add(newId(), freeName(this.#wording(), taken), work.held, finished)
  }

  /** Takes up again what was in hand when a run was pinned. */
  takeUp({ name, held }: Pin): void {
    this.#onOtherLine(() => this.work.take(held, `taking up “${name}”`))
  }

  /** Reading this is following everything that is kept, but for a cursor that moves by itself. */
  watch(): void {
    const { work, look, pins, route, playback } = this
    const followed = [work.held, work.history, work.entries, pins.list, route.page]
    const looks = [
      look.window,
      look.hidden,
      look.span,
      look.part,
      look.more,
      look.reach,
      !playback.playing && look.cursor,
    ]
    if (followed.length + looks.length > 0) this.keeper.changed()
  }

  repaint(): void {
    this.palette = paletteOf(document.documentElement)
  }

  dispose(): void {
    this.#runner.dispose()
    this.#pool?.dispose()
  }

  /** A line that comes in place of another is looked at afresh. */
  #onOtherLine(act: () => void): void {
    const before = this.work.chosen
    act()
    if (this.work.chosen !== before) this.look.forget()
  }

  /** What a run is told apart by: the one number that is changed, or the one changed last. */
  #wording(): string {
    const { work } = this
    const [path, ...others] = work.changed.values()
    if (!path) return 'as it came'
    if (others.length > 0) return work.undoes || 'changed'
    const value = at(work.document, path)
    return typeof value === 'object' ? placeWords(work.document, path) : `${placeWords(work.document, path)} ${value}`
  }

  #subject(): Subject {
    return {
      capture: () => ({
        page: this.route.page,
        held: this.work.held,
        history: this.work.history,
        pins: this.pins.records,
        look: this.look.record,
        entries: [...this.work.entries],
      }),
      restore: ({ held, history, pins, look, entries, page }) => {
        this.look.restore(look)
        this.pins.restore(pins)
        this.work.resume(held, history, new Map(entries))
        if (location.hash === '') this.route.go(page)
      },
    }
  }
}
