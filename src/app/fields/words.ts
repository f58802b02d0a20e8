/** Field names in words. */

const exceptions: Readonly<Record<string, string>> = {
  'speed/start': 'line speed',
  'speed/threadingTension': 'threading tension',
  'run/for': 'run length',
  'run/tick': 'recording interval',
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
