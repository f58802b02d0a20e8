/** Field names in words. */

const exceptions: Readonly<Record<string, string>> = {
  'speed/start': 'line speed',
  'speed/threadingTension': 'threading tension',
  'run/for': 'run length',
  'run/tick': 'recording interval',
  'limits/shareOfElastic': 'most, of elastic limit',
  'limits/leastTension': 'least tension',
}

/** `slidingFriction` to "sliding friction"; the first path word decides a few that read better otherwise. */
export function fieldLabel(path: readonly (string | number)[]): string {
  const last = String(path.at(-1))
  const plain = exceptions[`${path[0]}/${last}`]
  return plain ?? last.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)
}

export const upFirst = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)
