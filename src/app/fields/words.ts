/** Field names in words. */

const exceptions: Readonly<Record<string, string>> = {
  'speed/start': 'line speed',
  'speed/threadingTension': 'threading tension',
  'run/for': 'run length',
  'run/tick': 'recording interval',
  'stage/at': 'begins at',
  'stage/in': 'takes',
  'limits/shareOfElastic': 'most, of elastic limit',
  'limits/leastTension': 'least tension',
}

const holders: Readonly<Record<string, string>> = { drive: '', unevenness: '', roll: 'new roll', layOn: 'lay-on' }

const inWords = (name: string): string => name.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)

/** `slidingFriction` to "sliding friction"; inside something of a part, such as its calculator, that is named first. */
export function fieldLabel(path: readonly (string | number)[]): string {
  const last = String(path.at(-1))
  const plain = exceptions[`${path[0]}/${last}`]
  if (plain !== undefined) return plain
  // A list, a place in it, the holder, the field.
  const holder = path.length > 3 ? String(path.at(-2)) : ''
  return `${holders[holder] ?? inWords(holder)} ${inWords(last)}`.trim()
}

export const upFirst = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)
