/** The span in hand on the Wrinkle page: its knobs as text, and all that follows from them. */
import { genericFilms, type GenericFilm } from '../../../film/catalogue'
import { fieldInfo, formatQuantity, kinds, type Kind } from '../../../units'
import {
  assess,
  readSetting,
  settingSchema,
  startingDocument,
  type Assessment,
  type Knob,
  type SettingDocument,
} from '../../../wrinkle'
import type { Field } from '../../fields/catalogue'
import type { System } from '../../shown'
import { labels } from './labels'

const shelf = 'wrinkle'

/** What was in hand when the page was last left; a browser may refuse storage, and the text may be of an older version. */
function remembered(): SettingDocument {
  try {
    const text = localStorage.getItem(shelf)
    const stored: unknown = text === null ? undefined : JSON.parse(text)
    if (stored === null || typeof stored !== 'object') return startingDocument
    // a knob that there is no more must not cost the others
    const document = Object.fromEntries(Object.entries(stored).filter(([key]) => key in settingSchema.entries))
    return readSetting(document).ok ? (document as SettingDocument) : startingDocument
  } catch {
    return startingDocument
  }
}

function remember(document: SettingDocument): void {
  try {
    localStorage.setItem(shelf, JSON.stringify(document))
  } catch {
    return
  }
}

/** What a film brings along, and the knob that it goes to. */
const broughtBy = {
  modulus: 'modulus',
  poisson: 'poisson',
  elasticLimit: 'elasticLimit',
  expansion: 'expansion',
  runningStress: 'tension',
  roughness: 'filmRoughness',
  friction: 'friction',
} as const satisfies Partial<Record<keyof GenericFilm, Knob>>

type Brought = keyof typeof broughtBy

function textsOf(film: GenericFilm, thickness: number): Pick<SettingDocument, (typeof broughtBy)[Brought]> {
  const text = (value: number, kind: Kind) => formatQuantity(value, kinds[kind].metric, 4, kind)
  return {
    tension: text(film.runningStress.value * thickness, 'forcePerWidth'),
    modulus: text(film.modulus.value, 'modulus'),
    poisson: film.poisson.value,
    elasticLimit: text(film.elasticLimit.value, 'fraction'),
    expansion: text(film.expansion.value, 'perTemperature'),
    friction: film.friction.value,
    filmRoughness: text(film.roughness.value, 'thickness'),
  }
}

export class Bench {
  document = $state.raw<SettingDocument>(remembered())
  /** The film that was last taken from the catalogue; none once other figures have been put in its place. */
  #film = $state.raw<GenericFilm>()
  /** The knob that the chart runs over. */
  against = $state.raw<Knob>('tension')
  /** For a projector. */
  large = $state.raw(false)
  readonly reading = $derived.by(() => readSetting(this.document))
  readonly found: Assessment | null = $derived(this.reading.ok ? assess(this.reading.setting) : null)

  /** The film whose figures the knobs have, and where those figures are from that are still as it brought them. */
  readonly taken = $derived.by(() => {
    const film = this.#film
    if (film === undefined || !this.reading.ok) return undefined
    const texts = textsOf(film, this.reading.setting.thickness)
    const kept = (Object.keys(broughtBy) as Brought[]).filter(
      (key) => this.document[broughtBy[key]] === texts[broughtBy[key]],
    )
    const sources = kept.map((key) => ({ label: labels[broughtBy[key]], source: film[key].source }))
    return sources.length === 0 ? undefined : { key: film.key, sources }
  })

  readonly #fields = new Map<Knob, Field>()

  /** A knob's field; the same one as long as its text is the same, so that only the one moved is drawn anew. */
  field(knob: Knob): Field {
    const value = this.document[knob]
    const before = this.#fields.get(knob)
    if (before?.value === value) return before
    const schema = settingSchema.entries[knob]
    const info = fieldInfo(schema)
    if (info === undefined) throw new RangeError(`no field ${knob}`)
    const field: Field = { path: [knob], key: knob, label: labels[knob], info, schema, value, isDefault: false }
    this.#fields.set(knob, field)
    return field
  }

  changed(knob: Knob): boolean {
    return this.document[knob] !== startingDocument[knob]
  }

  set(changes: Partial<SettingDocument>): void {
    this.document = { ...this.document, ...changes }
    remember(this.document)
  }

  apply(knob: Knob, value: string | number): void {
    this.set({ [knob]: value })
  }

  restore(knob: Knob): void {
    this.set({ [knob]: startingDocument[knob] })
  }

  /** All knobs anew: no figure is from the catalogue any more. */
  replace(document: SettingDocument): void {
    this.#film = undefined
    this.set(document)
  }

  reset(): void {
    this.replace(startingDocument)
  }

  /** Takes what a generic film of this key brings along. */
  use(key: string): void {
    const film = genericFilms.find((one) => one.key === key)
    if (film === undefined) return
    const [thin, thick] = film.usual
    const thickness = this.reading.ok ? Math.min(thick, Math.max(thin, this.reading.setting.thickness)) : thin
    this.#film = film
    this.set({
      thickness: formatQuantity(thickness, kinds.thickness.metric, 4, 'thickness'),
      ...textsOf(film, thickness),
    })
  }
}

/** One for as long as the page is open, whichever page is looked at. */
export const bench = new Bench()

/** Three digits in the reader's unit. The stresses here run from a foil's gigapascals down to what bends thin film. */
export const sayIn =
  (system: System) =>
  (value: number, kind: Kind): string => {
    const small = kind === 'stress' && system === 'metric' && Math.abs(value) < 1e6
    return formatQuantity(value, small ? 'kPa' : kinds[kind][system], 3, kind)
  }
