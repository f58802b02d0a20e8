/** Which numbers of a scenario stand on the panel, grouped by part, with what the schema knows of each. */
import { fieldInfo, schemaAt, type AnySchema, type FieldInfo } from '../../units'
import { at, listAt, pathText, type Json, type Path } from '../state/document'
import { fieldLabel, upFirst } from './words'

export interface Field {
  readonly path: Path
  /** Path as text: what a problem names. */
  readonly key: string
  readonly label: string
  readonly info: FieldInfo
  readonly schema: AnySchema
  /** As it stands in the document, or the default that stands for it. */
  readonly value: string | number
  readonly isDefault: boolean
}

export interface FieldGroup {
  readonly key: string
  readonly title: string
  /** What kind of part it is, where the title does not say. */
  readonly note: string
  readonly fields: readonly Field[]
}

const driveFields = ['bandwidth', 'lag', 'torque', 'tension', 'law', 'taper', 'torqueLimit']

/** The main numbers of a part, in reading order; those of its drive follow. */
const mainFields: Readonly<Record<string, readonly string[]>> = {
  unwind: ['diameter', 'woundTension'],
  dancer: ['mass', 'stiffness', 'damping', 'slidingFriction', 'force'],
  driven: ['draw', 'feedError'],
  rewind: ['diameter'],
}

/** Holders of what belongs to the Roll page alone. */
const ofRoll = ['coreTube', 'later']

/** Of a new roll; core and shaft are seldom what is asked about. */
const rollFields = ['diameter', 'preset', 'woundTension']

/** The main numbers of an event, in reading order; whatever else is written follows. */
const stageFields: Readonly<Record<string, readonly string[]>> = {
  speed: ['to', 'in'],
  stop: ['in'],
  start: ['to', 'in'],
  'zero-speed splice': ['rampDown', 'hold', 'rampUp', 'refill'],
  'flying splice': ['mismatch'],
}

const isObject = (value: Json | undefined): value is { readonly [key: string]: Json } =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

const word = (document: Json, path: Path): string => {
  const value = at(document, path)
  return typeof value === 'string' ? value : ''
}

/** What stands on the panel: a name and a text are changed where the line is made. */
export const shownTypes: ReadonlySet<FieldInfo['type']> = new Set(['quantity', 'number', 'whole', 'choice'])

/** The keys wanted first, then all others that are written. */
function written(document: Json, path: Path, first: readonly string[]): string[] {
  const value = at(document, path)
  return [...new Set([...first, ...(isObject(value) ? Object.keys(value) : [])])]
}

/** One field, if the schema knows it here and it has a value to show. */
export function fieldOf(document: Json, schema: AnySchema, path: Path): Field[] {
  const own = schemaAt(schema, document, path)
  const info = own && fieldInfo(own)
  if (!own || !info || !shownTypes.has(info.type)) return []
  const stated = at(document, path)
  const value = stated ?? info.fallback
  if (typeof value !== 'string' && typeof value !== 'number') return []
  const label = upFirst(fieldLabel(path))
  return [{ path, key: pathText(path), label, info, schema: own, value, isDefault: stated === undefined }]
}

/** None without a line: defaults alone are not a scenario. */
export function fieldGroups(document: Json, schema: AnySchema): FieldGroup[] {
  if (listAt(document, 'line').length === 0) return []
  const fields = (base: Path, names: readonly string[]) =>
    names.flatMap((name) => fieldOf(document, schema, [...base, name]))
  const groups: FieldGroup[] = [
    ...filmGroups(document, fields),
    group('speed', 'Line speed', '', fields(['speed'], ['start', 'acceleration', 'threadingTension'])),
    ...listAt(document, 'line').map((_, i) => partGroup(document, i, fields)),
    ...listAt(document, 'control').map((_, i) => trimGroup(document, i, fields)),
    ...listAt(document, 'stage').map((_, i) => stageGroup(document, i, fields)),
    group('limits', 'Limits', '', fields(['limits'], ['leastTension', 'shareOfElastic'])),
    group('run', 'Run', '', fields(['run'], ['for'])),
  ]
  return groups.filter((entry) => entry.fields.length > 0)
}

type Fields = (base: Path, names: readonly string[]) => Field[]

/** Something of its own inside a part, such as how a roller indexes: all that is written of it stands on the panel. */
function besideIn(document: Json, path: Path, but: readonly string[], fields: Fields): Field[] {
  const holders = written(document, path, []).filter(
    (key) => !but.includes(key) && isObject(at(document, [...path, key])),
  )
  return holders.flatMap((key) => fields([...path, key], written(document, [...path, key], [])))
}

const group = (key: string, title: string, note: string, fields: Field[]): FieldGroup => ({ key, title, note, fields })

function filmGroups(document: Json, fields: Fields): FieldGroup[] {
  const films = at(document, ['films'])
  return Object.keys(isObject(films) ? films : {}).map((key) => {
    const note = word(document, ['films', key, 'name'])
    return group(
      `films/${key}`,
      `Film ${key}`,
      note,
      fields(['films', key], ['thickness', 'width', 'modulus', 'elasticLimit']),
    )
  })
}

function partGroup(document: Json, place: number, fields: Fields): FieldGroup {
  const base = ['line', place]
  const part = word(document, [...base, 'part'])
  const name = word(document, [...base, 'name'])
  const own = fields(base, mainFields[part] ?? [])
  const drive = fields([...base, 'drive'], driveFields)
  const beside = besideIn(document, base, ['drive', ...ofRoll], fields)
  const kind = word(document, [...base, 'drive', 'kind'])
  const note = [part === name ? '' : part, kind === '' ? '' : `${kind} drive`].filter((text) => text !== '').join(', ')
  return group(pathText(base), upFirst(name), note, [...own, ...drive, ...beside])
}

function trimGroup(document: Json, place: number, fields: Fields): FieldGroup {
  const base = ['control', place]
  const [measured, driven] = [word(document, [...base, 'measures']), word(document, [...base, 'drives'])]
  const title = upFirst(word(document, [...base, 'control']))
  const own = fields(base, written(document, base, ['gain', 'integral', 'limit']))
  return group(pathText(base), title, `${measured} → ${driven}`, [...own, ...besideIn(document, base, [], fields)])
}

function stageGroup(document: Json, place: number, fields: Fields): FieldGroup {
  const base = ['stage', place]
  const act = word(document, [...base, 'do'])
  const title = act === 'speed' ? 'Change of speed' : upFirst(act)
  const own = fields(base, written(document, base, ['at', ...(stageFields[act] ?? [])]))
  const of = word(document, [...base, 'roller']) || word(document, [...base, 'dancer'])
  return group(pathText(base), title, of || `event ${place + 1}`, [
    ...own,
    ...fields([...base, 'roll'], rollFields),
    ...besideIn(document, base, ['roll'], fields),
  ])
}
