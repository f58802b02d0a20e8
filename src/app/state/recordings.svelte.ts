/** Recordings of the machine laid over runs: kept in this browser beside the work, and undone with it. */
import { newId } from '../keep/claims'
import type { Keeper } from '../keep/keeper.svelte'
import { readTrend, RECORD_VERSION } from '../keep/records'
import type { Recording } from '../trend/laid'
import type { Work } from './work.svelte'

const lost =
  'The recording that lay over this line is no longer kept in this browser. Open its file again under “Recording”.'
/** ms; one that nothing refers to may belong to a tab that has not yet been kept */
const patience = 24 * 3_600_000

export interface LaidRecording {
  readonly recording: Recording
  /** s, added to its times */
  readonly shift: number
}

export class Recordings {
  /** Whether the panel about them is unfolded. */
  open = $state.raw(false)
  /** A file to be looked at there. */
  file = $state.raw<File | null>(null)
  #known = $state.raw<ReadonlyMap<string, Recording>>(new Map())
  /** What lies over the run in hand. */
  readonly laid: LaidRecording | null = $derived.by(() => {
    const trend = this.work.held.trend
    const recording = trend && this.#known.get(trend.id)
    return trend && recording ? { recording, shift: trend.shift } : null
  })

  constructor(
    private readonly work: Work,
    private readonly keeper: Keeper,
    private readonly now: () => number = Date.now,
  ) {}

  /** Unfolds the panel and looks at a file there. */
  look(file: File): void {
    this.open = true
    this.file = file
  }

  lay(recording: Recording): void {
    const at = this.now()
    const id = `${at} ${newId()}`
    this.#known = new Map([...this.#known, [id, recording]])
    const record = { version: RECORD_VERSION, id, at, ...recording } as const
    void this.keeper.attempt(() => this.keeper.store?.put('trend', record) ?? Promise.resolve())
    this.work.lay({ id, shift: 0 }, `laying “${recording.name}” over`)
  }

  shift(shift: number): void {
    const { trend } = this.work.held
    if (trend && Number.isFinite(shift) && shift !== trend.shift) {
      this.work.lay({ ...trend, shift }, 'shifting the recording', 'trend shift')
    }
  }

  remove(): void {
    const { laid } = this
    if (laid) this.work.lay(undefined, `taking “${laid.recording.name}” away`)
  }

  /** Brings back what was kept, when work that it lies over is taken up again. */
  async fetch(): Promise<void> {
    const id = this.work.held.trend?.id
    const { store } = this.keeper
    if (id === undefined || !store || this.#known.has(id)) return
    const reading = readTrend(await store.get('trend', id))
    if (reading.kind === 'good') this.#known = new Map([...this.#known, [id, reading.record]])
    else this.keeper.say('recording', lost)
  }

  /**
   * Lets go of recordings that no work and no kept line refers to any more.
   * @param also what may yet be put back
   */
  async tidy(also: unknown = null): Promise<void> {
    const { store } = this.keeper
    if (!store) return
    const before = this.now() - patience
    const old = (await store.ids('trend')).filter((id) => Number.parseInt(id, 10) < before)
    if (old.length === 0) return
    const { held, history } = this.work
    const used = JSON.stringify([await store.all('work'), await store.all('own'), held, history, also])
    for (const id of old.filter((one) => !used.includes(one))) await store.remove('trend', id)
  }
}
