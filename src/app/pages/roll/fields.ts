/** Which numbers of a scenario stand on the Roll page, by what they belong to. */
import { fieldOf, type Field, type FieldGroup } from '../../fields/catalogue'
import { at, type Json, type Path } from '../../state/document'
import { usualBoreOf } from '../../../roll/input'
import { formatQuantity, parseQuantity, type AnySchema } from '../../../units'

/** Where the things of a roll stand in a document. */
export interface Places {
  readonly rewind: Path
  readonly film: Path
  /** the group that states the taper; undefined where the line's own tension winds */
  readonly taper: Path | undefined
}

const word = (document: Json, path: Path): string => {
  const value = at(document, path)
  return typeof value === 'string' ? value : ''
}

export function placesIn(document: Json): Places | undefined {
  const line = at(document, ['line'])
  if (!Array.isArray(line)) return undefined
  const place = line.findIndex((_, k) => word(document, ['line', k, 'part']) === 'rewind')
  const film = word(document, ['line', 0, 'film'])
  if (place < 0 || film === '') return undefined
  const rewind = ['line', place]
  return { rewind, film: ['films', film], taper: taperIn(document, rewind) }
}

function taperIn(document: Json, rewind: Path): Path | undefined {
  if (word(document, [...rewind, 'drive', 'kind']) === 'torque') return [...rewind, 'drive']
  const name = word(document, [...rewind, 'name'])
  const controls = at(document, ['control'])
  const count = Array.isArray(controls) ? controls.length : 0
  const holds = Array.from({ length: count }, (_, k) => k).find((k) => {
    const kind = word(document, ['control', k, 'control'])
    const [drives, measures] = [word(document, ['control', k, 'drives']), word(document, ['control', k, 'measures'])]
    return (kind === 'tension trim' && drives === name) || (kind === 'force taper' && measures === name)
  })
  return holds === undefined ? undefined : ['control', holds]
}

const later = ['shrinkAlong', 'shrinkThrough', 'filmWarmer', 'coreWarmer', 'airLeaves', 'unwindTension']
const limits = ['corePressure', 'boreChange', 'blockingPressure', 'hoopCompression', 'slipReserve', 'axialForce']
const ofLaw: Readonly<Record<string, readonly string[]>> = {
  linear: ['taper'],
  hyperbolic: ['taper'],
  blend: ['taper', 'blend'],
  power: ['exponent'],
}
const ofStack: Readonly<Record<string, readonly string[]>> = {
  Pfeiffer: ['pressure', 'slope'],
  cubic: ['k0', 'k1', 'k2', 'k3'],
  constant: ['modulus'],
}

/** The groups in reading order. */
export function rollGroups(document: Json, schema: AnySchema): FieldGroup[] {
  const places = placesIn(document)
  if (places === undefined) return []
  const { rewind, film, taper } = places
  const fields = (base: Path, names: readonly string[]): Field[] =>
    names.flatMap((name) => fieldOf(document, schema, [...base, name]))
  const law = taper === undefined ? '' : word(document, [...taper, 'law']) || 'constant'
  const stack = [...film, 'inRoll', 'stack']
  const group = (key: string, title: string, note: string, found: Field[]) => ({ key, title, note, fields: found })
  const groups: FieldGroup[] = [
    group('taper', 'Winding tension', law, [
      ...(taper === undefined ? [] : fields(taper, ['tension', 'law', ...(ofLaw[law] ?? []), 'fullDiameter'])),
      ...fields([...rewind, 'layOn'], has(document, [...rewind, 'layOn']) ? ['load', 'friction', 'saturation'] : []),
    ]),
    group('core', 'Core', '', [
      ...fields(rewind, ['core']),
      ...fields([...rewind, 'coreTube'], ['bore', 'modulus', 'poisson']),
    ]),
    group(
      'film',
      'Film',
      word(document, [...film, 'name']),
      fields(film, ['thickness', 'width', 'modulus', 'fillFactor', 'roughness']),
    ),
    group('stack', 'In the roll', word(document, [...stack, 'law']), [
      ...fields(stack, ofStack[word(document, [...stack, 'law'])] ?? []),
      ...fields([...film, 'inRoll'], ['friction']),
      ...fields(rewind, ['airKept', 'ringAt']),
    ]),
    group('later', 'After winding', '', fields([...rewind, 'later'], later)),
    group('limits', 'Limits', '', fields(['limits'], limits)),
    group('speed', 'Line', '', fields(['speed'], ['start', 'acceleration'])),
  ]
  return groups.filter((one) => one.fields.length > 0)
}

export const has = (document: Json, path: Path): boolean => at(document, path) !== undefined

/** Things that a scenario may leave out, with what to write to have them: the numbers are the illustrative ones. */
export interface Addition {
  readonly key: string
  readonly label: string
  readonly path: Path
  readonly value: Json
}

/** The bore that is taken where none is stated, for the core that is. */
function usualBore(document: Json, rewind: Path): string {
  const core = parseQuantity(word(document, [...rewind, 'core']), 'diameter')
  return core.ok ? formatQuantity(usualBoreOf(core.value), 'mm', 4) : '76.2 mm'
}

export function additionsTo(document: Json): Addition[] {
  const places = placesIn(document)
  if (places === undefined) return []
  const { rewind, film } = places
  const all: Addition[] = [
    {
      key: 'stack',
      label: 'State the stack modulus',
      path: [...film, 'inRoll', 'stack'],
      value: { law: 'Pfeiffer', pressure: '0.01 MPa', slope: 40 },
    },
    {
      key: 'core',
      label: 'State the core',
      path: [...rewind, 'coreTube'],
      value: { bore: usualBore(document, rewind), modulus: '3 GPa' },
    },
    { key: 'layOn', label: 'Fit a lay-on roller', path: [...rewind, 'layOn'], value: { load: '60 N' } },
    {
      key: 'ring',
      label: 'Put the run in as a ring',
      path: [...rewind, 'ringAt'],
      value: at(document, [...rewind, 'diameter']) ?? '200 mm',
    },
  ]
  return all.filter(({ path }) => !has(document, path))
}
