/** What is being worked on while a line is drawn up. Every act is one step that can be taken back. */
import { readDocument } from '../../../scenario/read'
import type { Problem } from '../../../units'
import { filmFields } from '../../build/films'
import { ofKind, type Addition, type FormGroup } from '../../build/form'
import {
  added,
  canMove,
  copied,
  entriesOf,
  isHolder,
  moved,
  removed,
  whyStays,
  wordAt,
  type Entry,
} from '../../build/line'
import { missingIn, type Finding, type Mend } from '../../build/missing'
import { referencesTo, renamedFilm, renamedPart, withoutReferences } from '../../build/references'
import { suited, type Offer } from '../../build/starting'
import { genericFilms, type GenericFilm } from '../../../film/catalogue'
import { controlTitle } from '../../build/controls'
import { Board } from '../../stage/board.svelte'
import { at, listAt, withValue, type Json, type Path } from '../../state/document'
import type { Desk } from '../../state/desk.svelte'
import { filmsOf } from '../../stage/names'

/** What the form is about. */
export type Chosen =
  | { readonly what: 'line' | 'stage' | 'speed' | 'limits' | 'add control' }
  | { readonly what: 'film'; readonly name: string }
  | { readonly what: 'part' | 'control' | 'add part'; readonly place: number }

export class Builder {
  readonly board: Board
  #chosen = $state.raw<Chosen>({ what: 'line' })
  /** Said of the last act, such as why it cannot be. */
  told = $state.raw('')

  constructor(readonly desk: Desk) {
    this.board = new Board(desk.work)
  }

  readonly document: Json = $derived.by(() => this.desk.work.document)
  readonly entries: readonly Entry[] = $derived.by(() => entriesOf(this.document))
  readonly films: readonly string[] = $derived.by(() => filmsOf(this.document))
  readonly controls: readonly Json[] = $derived.by(() => listAt(this.document, 'control'))
  readonly findings: readonly Finding[] = $derived.by(() => missingIn(this.document))
  readonly problems: readonly Problem[] = $derived.by(() => {
    const reading = readDocument(this.document)
    return reading.ok ? [] : reading.problems
  })

  /** What was chosen, or the line where that is no more. */
  get chosen(): Chosen {
    const chosen = this.#chosen
    const isThere =
      chosen.what === 'film'
        ? this.films.includes(chosen.name)
        : chosen.what === 'control'
          ? chosen.place < this.controls.length
          : chosen.what === 'part' || chosen.what === 'add part'
            ? this.entryAt(chosen.place) !== undefined
            : true
    return isThere ? chosen : { what: 'line' }
  }

  choose(chosen: Chosen): void {
    this.#chosen = chosen
    this.told = ''
    if (chosen.what !== 'stage') this.board.open = null
  }

  entryAt(place: number): Entry | undefined {
    return this.entries.find((entry) => entry.place === place)
  }

  /** The place behind which a part would be added: that of the part in hand, or of the last roller. */
  get behind(): number {
    const { chosen } = this
    const last = this.entries.at(-2)?.place ?? 0
    return chosen.what === 'part' || chosen.what === 'add part' ? Math.min(chosen.place, last) : last
  }

  addPart({ part }: Offer, behind: number): void {
    const { document, place } = added(this.document, behind, suited(part, this.#surroundings(behind)))
    this.#replace(document, 'adding', place)
  }

  copy(place: number): void {
    const entry = this.entryAt(place)
    if (entry?.part === 'unwind' || entry?.part === 'rewind') {
      this.told = 'A line has one unwind and one rewind: rollers, dancers and bars can be copied.'
      return
    }
    const edit = copied(this.document, place)
    this.#replace(edit.document, 'copying to', edit.place)
  }

  move(place: number, by: -1 | 1): void {
    const name = this.entryAt(place)?.name ?? ''
    if (!canMove(this.document, place, by)) {
      const end = by < 0 ? 'The film comes off the unwind first' : 'The film goes onto the rewind last'
      const isRoll = ['unwind', 'rewind'].includes(this.entryAt(place)?.part ?? '')
      this.told = isRoll ? 'The rolls stand at the ends of the line.' : `${end}: ${name} can go no further that way.`
      return
    }
    const edit = moved(this.document, place, by)
    this.desk.work.replace(edit.document, `moving ${name} ${by < 0 ? 'up' : 'down'}`)
    this.choose({ what: 'part', place: edit.place })
  }

  /** With all that refers to it, which the form tells beforehand. */
  removePart(place: number): void {
    const entry = this.entryAt(place)
    if (!entry) return
    const why = whyStays(this.document, place)
    if (why !== '') {
      this.told = why
      return
    }
    const bare = withoutReferences(this.document, entry.name)
    this.desk.work.replace(removed(bare, place), `taking out ${entry.name}`)
    this.choose({ what: 'part', place: Math.max(0, place - 2) })
    this.told = `${entry.name} is taken out; the film goes straight on over the length of both spans.`
  }

  referring(place: number): readonly string[] {
    const name = this.entryAt(place)?.name ?? ''
    return [...new Set(referencesTo(this.document, 'part', name).map(({ owner }) => owner))]
  }

  /** @returns what is wrong with the name; empty where it was taken */
  renamePart(place: number, name: string): string {
    const former = this.entryAt(place)?.name
    if (name === former) return ''
    if (this.entries.some((entry) => entry.name === name))
      return `another part is called "${name}"; expected a name that no part has.`
    return this.#ifReads(renamedPart(this.document, place, name), `line/${place}/name`, `calling ${former} ${name}`)
  }

  renameFilm(former: string, name: string): string {
    if (name === former) return ''
    if (this.films.includes(name)) return `another film is called "${name}"; expected a name that no film has.`
    const said = this.#ifReads(
      renamedFilm(this.document, former, name),
      `films/${name}`,
      `calling film ${former} ${name}`,
    )
    if (said === '') this.choose({ what: 'film', name })
    return said
  }

  /** Takes a document unless it is refused at a path. */
  #ifReads(document: Json, path: string, words: string): string {
    const reading = readDocument(document)
    const problem = reading.ok ? undefined : reading.problems.find((one) => one.path === path)
    if (problem) return problem.say.replace(`${problem.field}: `, '')
    this.desk.work.replace(document, words)
    return ''
  }

  addFilm(): void {
    const letters = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ'.split('')
    const name = letters.find((letter) => !this.films.includes(letter)) ?? `film ${this.films.length + 1}`
    const [generic] = genericFilms
    if (!generic) return
    this.desk.work.replace(withValue(this.document, ['films', name], filmFields(generic)), `adding film ${name}`)
    this.choose({ what: 'film', name })
  }

  takeGeneric(name: string, generic: GenericFilm): void {
    const width = wordAt(at(this.document, ['films', name]), 'width')
    const fields = filmFields(generic, width === '' ? undefined : width)
    this.desk.work.replace(withValue(this.document, ['films', name], fields), `taking ${generic.name} for film ${name}`)
  }

  removeFilm(name: string): void {
    const users = referencesTo(this.document, 'film', name).map(({ owner }) => owner)
    if (users.length > 0) {
      this.told = `${users.join(', ')} ${users.length === 1 ? 'carries' : 'carry'} film ${name}: give another film there first.`
      return
    }
    this.desk.work.replace(withValue(this.document, ['films', name], undefined), `taking out film ${name}`)
    this.choose({ what: 'line' })
  }

  addControl(control: Json): void {
    const words = `adding a ${wordAt(control, 'control')}`
    this.desk.work.replace(withValue(this.document, ['control'], [...this.controls, control]), words)
    this.choose({ what: 'control', place: this.controls.length - 1 })
  }

  removeControl(place: number): void {
    const words = `taking out the ${controlTitle(this.controls[place] ?? null)}`
    this.desk.work.replace(
      withValue(
        this.document,
        ['control'],
        this.controls.filter((_, k) => k !== place),
      ),
      words,
    )
    this.choose({ what: 'line' })
  }

  mend({ document, words }: Mend): void {
    this.desk.work.replace(document, words)
  }

  set(path: Path, value: Json | undefined): void {
    this.desk.work.set(path, value)
  }

  makeOfKind({ path, title }: FormGroup, word: string): void {
    const value = ofKind(this.document, path, word)
    if (value === undefined) return
    this.desk.work.replace(withValue(this.document, path, value), `${title.toLowerCase()} of kind ${word}`)
  }

  state({ path, value, title }: Addition): void {
    const changed = withValue(this.document, path, value)
    // A cylinder's pressure takes the place of a force.
    const force = path.at(-1) === 'cylinder' ? [...path.slice(0, -1), 'force'] : undefined
    this.desk.work.replace(force ? withValue(changed, force, undefined) : changed, `adding ${title.toLowerCase()}`)
  }

  leaveOut({ path, title }: FormGroup): void {
    const changed = withValue(this.document, path, undefined)
    const force = path.at(-1) === 'cylinder' ? [...path.slice(0, -1), 'force'] : undefined
    this.desk.work.replace(force ? withValue(changed, force, '80 N') : changed, `taking out ${title.toLowerCase()}`)
  }

  #replace(document: Json, act: string, place: number): void {
    const name = wordAt(listAt(document, 'line')[place], 'name')
    this.desk.work.replace(document, `${act} ${name}`)
    this.choose({ what: 'part', place })
  }

  /** What a part comes to stand in: turned against the roller before it, in the tension that the last run found there. */
  #surroundings(behind: number) {
    const before = at(this.document, ['line', behind])
    const turn = isHolder(before) && before['turn'] === 'left' ? ('right' as const) : ('left' as const)
    const name = wordAt(before, 'name')
    const spans = this.desk.finished?.result.summary.spans ?? []
    return { turn, tension: spans.find((span) => span.name.startsWith(`${name} → `))?.tension.start }
  }
}
