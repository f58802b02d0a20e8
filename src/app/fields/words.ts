/** Field names in words. */
import { at, type Json, type Path } from '../state/document'

const exceptions: Readonly<Record<string, string>> = {
  'speed/start': 'line speed',
  'speed/threadingTension': 'threading tension',
  'run/for': 'run length',
  'run/tick': 'recording interval',
  'stage/at': 'begins at',
  'stage/in': 'takes',
  'limits/shareOfElastic': 'most, of elastic limit',
  'limits/leastTension': 'least tension',
  'limits/boreChange': 'most change of the bore',
  'limits/corePressure': 'most pressure on the core',
  'limits/blockingPressure': 'blocking pressure',
  'limits/hoopCompression': 'most compression',
  'limits/slipReserve': 'least grip over torque',
  'limits/axialForce': 'least force along the axis',
}

const holders: Readonly<Record<string, string>> = {
  drive: '',
  unevenness: '',
  roll: 'new roll',
  layOn: 'lay-on',
  inRoll: '',
  coreTube: 'core',
  later: '',
}

/** What the trade says where the file's word is shorter. */
const spelled: Readonly<Record<string, string>> = {
  poisson: "Poisson's ratio",
  integral: 'integral gain',
}

const inWords = (name: string): string =>
  spelled[name] ?? name.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)

/** `slidingFriction` to "sliding friction"; inside something of a part, such as its calculator, that is named first. */
export function fieldLabel(path: readonly (string | number)[]): string {
  const last = String(path.at(-1))
  const plain = exceptions[`${path[0]}/${last}`]
  if (plain !== undefined) return plain
  // A list, a place in it, the holder, the field.
  const holder = path.length > 3 ? String(path.at(-2)) : ''
  return `${holders[holder] ?? inWords(holder)} ${inWords(last)}`.trim()
}

/** A label in the midst of a sentence; a man's name keeps its capital. */
export const midSentence = (label: string): string =>
  label.startsWith('Poisson') ? label : `${label.charAt(0).toLowerCase()}${label.slice(1)}`

export const upFirst = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

/** A place of a document in words: "film A thickness", "infeed dancer sliding friction", "zero-speed splice hold". */
export function placeWords(document: Json, path: Path): string {
  const [list, item, ...fields] = path
  if (list === undefined) return 'all of it'
  const rest = fields.length === 0 ? '' : ` ${fieldLabel(path)}`
  if (item === undefined) return inWords(String(list))
  if (list === 'films') return `film ${item}${rest}`
  if (typeof item === 'number') return `${itemWords(document, String(list), item)}${rest}`
  const label = fieldLabel(path)
  return label.startsWith(String(list)) || `${list}/${item}` in exceptions ? label : `${inWords(String(list))} ${label}`
}

/** What people call an item of a list: a part by its name, a span by what it runs between, an event by what it does. */
function itemWords(document: Json, list: string, item: number): string {
  const word = (place: number, key: string): string => {
    const value = at(document, [list, place, key])
    return typeof value === 'string' ? value : ''
  }
  const name = word(item, 'name')
  if (name !== '') return name
  if (list === 'stage') return word(item, 'do') === 'speed' ? 'change of speed' : word(item, 'do')
  if (list === 'control') return `${word(item, 'control')} of ${word(item, 'measures')}`
  const [before, after] = [word(item - 1, 'name'), word(item + 1, 'name')]
  return before !== '' && after !== '' ? `span ${before} → ${after}` : `${inWords(list)} ${item + 1}`
}
