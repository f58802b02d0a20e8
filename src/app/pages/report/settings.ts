/** Every setting of a scenario with its unit, part by part: what is written, and the main defaults that stand for the rest. */
import { scenarioSchema } from '../../../scenario/schema'
import { fieldGroups, fieldOf, type Field } from '../../fields/catalogue'
import { textIn } from '../../fields/entry'
import { fieldLabel, midSentence, upFirst } from '../../fields/words'
import type { System } from '../../shown'
import { at, listAt, pathText, type Json, type Path } from '../../state/document'

export interface Setting {
  readonly key: string
  readonly label: string
  readonly text: string
  readonly changed: boolean
  /** Nobody has stated it. */
  readonly isDefault: boolean
  /** Its usual figure only illustrates. */
  readonly illustrative: boolean
}

export interface SettingGroup {
  readonly key: string
  readonly title: string
  readonly settings: readonly Setting[]
}

interface Given {
  readonly document: Json
  readonly changed: ReadonlySet<string>
  readonly system: System
}

/** What names a thing stands in its title. */
const names = new Set(['name', 'part', 'control', 'do'])

export function settingGroups(given: Given): SettingGroup[] {
  const { document } = given
  const known = fieldGroups(document, scenarioSchema)
  return placesIn(document).flatMap(({ path, title }) => {
    const key = pathText(path)
    const group = known.find((one) => one.key === key)
    const fields = new Map((group?.fields ?? []).map((field) => [field.key, field]))
    const written = leavesOf(document, path).map((leaf) => settingOf(leaf, fields.get(pathText(leaf)), given))
    const seen = new Set(written.map((one) => one.key))
    const rest = [...fields.values()].filter((field) => !seen.has(field.key)).map((field) => fromField(field, given))
    const settings = [...written, ...rest]
    return settings.length === 0 ? [] : [{ key, title, settings }]
  })
}

interface Place {
  readonly path: Path
  readonly title: string
}

const word = (document: Json, path: Path): string => {
  const value = at(document, path)
  return typeof value === 'string' ? value : ''
}

function placesIn(document: Json): Place[] {
  const films = at(document, ['films'])
  const filmNames = typeof films === 'object' && films !== null && !Array.isArray(films) ? Object.keys(films) : []
  return [
    ...filmNames.map((name) => {
      const full = word(document, ['films', name, 'name'])
      return { path: ['films', name], title: full === '' ? `Film ${name}` : `Film ${name}, ${full}` }
    }),
    { path: ['speed'], title: 'Line speed' },
    ...listAt(document, 'line').map((_, k) => ({ path: ['line', k], title: partTitle(document, k) })),
    ...listAt(document, 'control').map((_, k) => ({ path: ['control', k], title: controlTitle(document, k) })),
    { path: ['limits'], title: 'Limits' },
    { path: ['run'], title: 'Run' },
  ]
}

function partTitle(document: Json, k: number): string {
  const [part, name] = [word(document, ['line', k, 'part']), word(document, ['line', k, 'name'])]
  const before = word(document, ['line', k - 1, 'name'])
  if (name === '') return before === '' ? upFirst(part) : `${upFirst(part)} after ${before}`
  return name === part ? upFirst(name) : `${upFirst(name)}, ${part}`
}

function controlTitle(document: Json, k: number): string {
  const [kind, measures] = [word(document, ['control', k, 'control']), word(document, ['control', k, 'measures'])]
  return `${upFirst(kind)}, ${measures} → ${word(document, ['control', k, 'drives'])}`
}

/** Paths of single values, and of lists as a whole. */
function leavesOf(document: Json, path: Path): Path[] {
  const value = at(document, path)
  if (value === undefined || value === null) return []
  if (typeof value !== 'object' || Array.isArray(value)) return [path]
  const keys = Object.keys(value).filter((key) => path.length > 2 || !names.has(key))
  return keys.flatMap((key) => leavesOf(document, [...path, key]))
}

function settingOf(path: Path, known: Field | undefined, given: Given): Setting {
  const field = known ?? fieldOf(given.document, scenarioSchema, path)[0]
  if (field) return fromField(field, given)
  const key = pathText(path)
  return {
    key,
    label: upFirst(fieldLabel(path)),
    text: plainText(at(given.document, path)),
    changed: given.changed.has(key),
    isDefault: false,
    illustrative: false,
  }
}

function fromField(field: Field, { changed, system }: Given): Setting {
  const { key, label, info, isDefault } = field
  const illustrative = info.notes.illustrative === true
  return { key, label, text: textIn(field, system), changed: changed.has(key), isDefault, illustrative }
}

function plainText(value: Json | undefined): string {
  if (Array.isArray(value)) return (value as readonly Json[]).map(plainText).join('; ')
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  return typeof value === 'object' ? JSON.stringify(value) : String(value)
}

export interface StagedEvent {
  readonly key: string
  readonly at: string
  readonly title: string
  readonly text: string
}

/** What is staged, in the order in which it stands. */
export function stagedEvents({ document, system }: Given): StagedEvent[] {
  const groups = fieldGroups(document, scenarioSchema).filter(({ key }) => key.startsWith('stage/'))
  return groups.map(({ key, title, note, fields }) => {
    const begins = fields.find(({ path }) => path.at(-1) === 'at')
    const others = fields.filter((field) => field !== begins)
    const of = note.startsWith('event ') ? '' : ` of ${note}`
    return {
      key,
      at: begins ? textIn(begins, system) : '',
      title: `${title}${of}`,
      text: others.map((field) => `${midSentence(field.label)} ${textIn(field, system)}`).join('; '),
    }
  })
}

export interface Illustrated {
  readonly what: string
  /** Where it stands, by name of the group. */
  readonly where: string
}

/** Settings whose usual figures only illustrate, the same ones together. */
export function illustrated(groups: readonly SettingGroup[]): Illustrated[] {
  const found = new Map<string, string[]>()
  for (const { title, settings } of groups) {
    for (const { illustrative, label, text, isDefault } of settings) {
      if (!illustrative) continue
      const what = `${label} ${text}${isDefault ? ', a default' : ''}`
      found.set(what, [...(found.get(what) ?? []), title.replace(/, (idler|dancer|driven|bar)$/, '')])
    }
  }
  return [...found].map(([what, where]) => ({ what, where: where.join(', ') }))
}
