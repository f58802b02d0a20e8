/** A generic film as fields of a scenario. What is known of it is in the film catalogue, each value with its origin. */
import type { GenericFilm, Origin } from '../../film/catalogue'
import { formatQuantity } from '../../units'
import type { Json } from '../state/document'

/** m, the middle of the thicknesses that it is usually sold in, by ratio, in whole micrometres */
const usualThickness = ({ usual: [thin, thick] }: GenericFilm) => Math.round(Math.sqrt(thin * thick) * 1e6) * 1e-6

const round = (value: number, unit: string) => formatQuantity(value, unit, 3)

/** The film's own fields; width is the line's, and stays where one is stated. */
export function filmFields(film: GenericFilm, width = '420 mm'): { readonly [key: string]: Json } {
  return {
    name: film.name,
    thickness: round(usualThickness(film), 'µm'),
    width,
    modulus: round(film.modulus.value, 'GPa'),
    density: round(film.density.value, 'kg/m³'),
    poisson: film.poisson.value,
    elasticLimit: round(film.elasticLimit.value, '%'),
    roughness: round(film.roughness.value, 'µm'),
    expansion: round(film.expansion.value, '1/K'),
  }
}

export interface Told {
  readonly label: string
  readonly value: string
  readonly origin: Origin
  readonly source: string
}

/** What the catalogue knows, with where it is from; for people. */
export function toldOf(film: GenericFilm): Told[] {
  const row = (
    label: string,
    key: 'modulus' | 'density' | 'elasticLimit' | 'expansion' | 'roughness',
    unit: string,
  ) => {
    const { value, origin, source } = film[key]
    return { label, value: round(value, unit), origin, source }
  }
  const plain = (label: string, key: 'poisson' | 'friction') => {
    const { value, origin, source } = film[key]
    return { label, value: String(value), origin, source }
  }
  return [
    row('Modulus along the line', 'modulus', 'GPa'),
    row('Density', 'density', 'kg/m³'),
    plain("Poisson's ratio", 'poisson'),
    row('Elastic limit', 'elasticLimit', '%'),
    row('Expansion with temperature', 'expansion', '1/K'),
    row('Roughness', 'roughness', 'µm'),
    plain('Friction on a roller', 'friction'),
  ]
}

/** N, the usual running tension at a thickness and width in m. */
export const runningTension = (film: GenericFilm, thickness: number, width: number): number =>
  film.runningStress.value * thickness * width
