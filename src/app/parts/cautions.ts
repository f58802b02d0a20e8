/** What can hurt people at a part or by an event, in a sentence beside its numbers; the whole is in the Caution dialog. */
import { at, type Json, type Path } from '../state/document'

const rules = 'Local codes and licensed practice decide.'

const nip = `Nips draw in hands, hair and sleeves: guarded, threaded slowly, by the machine's own rules. ${rules}`
const roll = `A roll at speed goes on turning when its drive is off, and a heavy one falls: stop, block and lift by rule. ${rules}`
const loaded = `Stored energy: a loaded dancer moves when the film breaks or lets go. Release and block it before reaching in. ${rules}`
const air = `Stored energy: shut off and bleed the air, and block the dancer, before anyone reaches in. ${rules}`
const tension = `Film under tension cuts, and whips back when it breaks. ${rules}`
const start = `Before a line starts or speeds up nobody is at nips and rolls, and all are warned. ${rules}`
const heat = `Heat burns and dries solvent into vapour that can catch fire: extraction and hot parts by rule. ${rules}`

const word = (document: Json, path: Path): string => {
  const found = at(document, path)
  return typeof found === 'string' ? found : ''
}

const byEvent: Readonly<Record<string, string>> = {
  start,
  stop: roll,
  speed: start,
  'zero-speed splice': roll,
  'flying splice': roll,
  changeover: nip,
  draw: tension,
  'dancer force': loaded,
  'dancer pressure': air,
  'set point': loaded,
  'winding tension': tension,
  'free strain': heat,
  'rewind change': roll,
}

/** For the numbers that stand at a path of the scenario: a part, an event, speed or limits; empty where there is none. */
export function cautionAt(document: Json, path: Path): string {
  const [list] = path
  if (list === 'stage') return byEvent[word(document, [...path, 'do'])] ?? ''
  if (list === 'speed') return start
  if (list === 'limits') return tension
  if (list === 'control') return loopCaution(document, path)
  return list === 'line' ? partCaution(document, path) : ''
}

function partCaution(document: Json, path: Path): string {
  const part = word(document, [...path, 'part'])
  if (part === 'unwind' || part === 'rewind') return at(document, [...path, 'layOn']) === undefined ? roll : nip
  if (part === 'dancer') return at(document, [...path, 'cylinder']) === undefined ? loaded : air
  return part === 'driven' && at(document, [...path, 'nip']) === true ? nip : ''
}

const loopCaution = (document: Json, path: Path): string =>
  word(document, [...path, 'control']) === 'tension trim' ? tension : loaded
