/**
 * A film: what the scenario states of it, and the figures per metre of length that the moving line needs.
 *
 * Variables    none
 * Parameters   thickness h (m), width W (m), modulus E (Pa), density rho (kg/m³), elastic limit strain (1),
 *              fill factor (1): effective over nominal thickness in a roll; of other rooms: roughness (m), expansion (1/K)
 * Equations    stiffness EA = E h W (N);  mass per metre rho h W (kg/m);  thickness in a roll h_eff = h x fill factor
 * Neglected    creep and stress relaxation (film is elastic), change of modulus with temperature and rate
 * Source       linear elasticity; fill factor: ratio taken from published tables of rolls (1.07 to 1.08 on stretch film)
 */
import * as v from 'valibot'
import { plainNumber, quantity, freeText } from '../units'
import { inRollSchema } from './stack'

export const filmSchema = v.strictObject({
  name: v.optional(freeText({ meaning: 'What people call this film' }, 60)),
  thickness: quantity('thickness', { meaning: 'Nominal thickness', usual: ['12 µm', '125 µm'], above: 0, most: 0.01 }),
  width: quantity('width', { meaning: 'Width across the line', usual: ['300 mm', '1000 mm'], above: 0, most: 20 }),
  modulus: quantity('modulus', {
    meaning: 'Elastic modulus along the line',
    usual: ['2 GPa', '5 GPa'],
    why: 'Tension is strain times modulus times section: a stiff film turns a small speed error into a large tension.',
    above: 0,
    most: 1e12,
  }),
  density: quantity('density', {
    meaning: 'Density of the film',
    usual: ['900 kg/m³', '1450 kg/m³'],
    above: 0,
    most: 3e4,
  }),
  poisson: v.optional(plainNumber({ meaning: "Poisson's ratio", usual: ['0.3', '0.45'], least: 0, most: 0.499 }), 0.38),
  elasticLimit: quantity('fraction', {
    meaning: 'Strain up to which the film comes back',
    usual: ['0.3 %', '2 %'],
    why: 'The limit that every tension is held against.',
    above: 0,
    most: 5,
  }),
  fillFactor: v.optional(
    plainNumber({
      meaning: 'Thickness of a lap in the roll over nominal thickness',
      usual: ['1.0', '1.1'],
      least: 0.5,
      most: 3,
      illustrative: true,
    }),
    1.05,
  ),
  roughness: v.optional(
    quantity('thickness', {
      meaning: 'Roughness of the film, root mean square',
      usual: ['0.02 µm', '0.5 µm'],
      why: 'Smooth film rides up on the air that it carries into a roller, or that is wound in between laps, and grips no more.',
      above: 0,
      most: 0.001,
      illustrative: true,
    }),
    '0.1 µm',
  ),
  expansion: v.optional(
    quantity('perTemperature', {
      meaning: 'Expansion with temperature',
      usual: ['1e-5 1/K', '1e-4 1/K'],
      why: 'Film that is warmed while friction holds its width has nowhere to go but up, into a fold.',
      least: 0,
      most: 0.01,
      illustrative: true,
    }),
    '1.7e-5 1/K',
  ),
  inRoll: v.optional(inRollSchema),
})

export type FilmSpec = v.InferOutput<typeof filmSchema>

/** One material that may lie on the tape: a film, or the overlap of two where they are pasted. SI. */
export interface Material {
  readonly name: string
  /** the films it is made of, each with its share of the stiffness */
  readonly parts: readonly { readonly film: string; readonly share: number }[]
  /** whether this is the overlap of two films */
  readonly overlap: boolean
  /** N, force per unit strain */
  readonly stiffness: number
  /** kg/m */
  readonly massPerLength: number
  /** m, what one lap adds to a roll's radius */
  readonly lapThickness: number
  /** m */
  readonly width: number
  /** m, nominal */
  readonly thickness: number
  readonly elasticLimit: number
}

/** The material of a stated film. */
export function materialOf(name: string, film: FilmSpec): Material {
  return {
    name,
    parts: [{ film: name, share: 1 }],
    overlap: false,
    stiffness: film.modulus * film.thickness * film.width,
    massPerLength: film.density * film.thickness * film.width,
    lapThickness: film.thickness * film.fillFactor,
    width: film.width,
    thickness: film.thickness,
    elasticLimit: film.elasticLimit,
  }
}

/** The overlap of two pasted films: thickness, mass and stiffness add; the lesser of the limit strains holds. */
export function overlap(first: Material, second: Material): Material {
  const stiffness = first.stiffness + second.stiffness
  const partsOf = (m: Material) =>
    m.parts.map(({ film, share }) => ({ film, share: (share * m.stiffness) / stiffness }))
  return {
    name: `${second.name} on ${first.name}`,
    parts: [...partsOf(first), ...partsOf(second)],
    overlap: true,
    stiffness,
    massPerLength: first.massPerLength + second.massPerLength,
    lapThickness: first.lapThickness + second.lapThickness,
    width: Math.max(first.width, second.width),
    thickness: first.thickness + second.thickness,
    elasticLimit: Math.min(first.elasticLimit, second.elasticLimit),
  }
}
