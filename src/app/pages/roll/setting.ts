/** Writes a taper into a scenario, field by field where it differs, in the units that are shown. */
import type { TaperSpec } from '../../../line/taper'
import { formatQuantity } from '../../../units'
import { unitOf, type System } from '../../shown'
import { at, type Json, type Path } from '../../state/document'

export interface Change {
  readonly path: Path
  readonly value: Json
}

const percentText = (share: number) => formatQuantity(share, '%', 4)

/** The fields to set so that the winder follows `taper` from now on; those that already say so are left alone. */
export function changesTo(document: Json, base: Path, taper: TaperSpec, was: TaperSpec, system: System): Change[] {
  const { law } = taper
  const wanted: [string, Json][] = [['law', law]]
  if (taper.tension !== was.tension) wanted.push(['tension', formatQuantity(taper.tension, unitOf('force', system), 4)])
  if (law === 'linear' || law === 'hyperbolic' || law === 'blend') wanted.push(['taper', percentText(taper.taper)])
  if (law === 'blend') wanted.push(['blend', percentText(taper.blend)])
  if (law === 'power') wanted.push(['exponent', Number(taper.exponent.toPrecision(4))])
  if (law === 'table') {
    const diameter = unitOf('diameter', system)
    const rows = (taper.table ?? []).map(([d, share]) => [
      formatQuantity(d, diameter, 6, 'diameter'),
      percentText(share),
    ])
    wanted.push(['table', rows])
  }
  return wanted
    .map(([key, value]) => ({ path: [...base, key], value }))
    .filter(({ path, value }) => JSON.stringify(at(document, path)) !== JSON.stringify(value))
}
