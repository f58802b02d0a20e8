/** Field names in words. */

const exceptions: Readonly<Record<string, string>> = {
  'speed/start': 'line speed',
  'speed/threadingTension': 'threading tension',
  'run/for': 'run length',
  'run/tick': 'recording interval',
  'limits/shareOfElastic': 'most, of elastic limit',
  'limits/leastTension': 'least tension',
}

/** Where a field lies inside another, its name alone would not say what it is of. */
const holders: Readonly<Record<string, string>> = {
  roll: 'new roll ',
  index: 'index ',
  calculator: 'calculator ',
  layOn: 'lay-on ',
}

/** `slidingFriction` to "sliding friction"; the first path word decides a few that read better otherwise. */
export function fieldLabel(path: readonly (string | number)[]): string {
  const last = String(path.at(-1))
  const plain = exceptions[`${path[0]}/${last}`]
  const holder = holders[String(path.at(-2))] ?? ''
  return plain ?? holder + last.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)
}

export const upFirst = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)
