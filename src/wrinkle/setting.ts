/** What is asked of one span: film, span, roller and what is wrong with them. One schema for the page, the lessons and links. */
import * as v from 'valibot'
import { flag, plainNumber, problemsOf, quantity, type Problem } from '../units'

export const settingSchema = v.strictObject({
  thickness: quantity('thickness', {
    meaning: 'Thickness of the film',
    usual: ['12 µm', '125 µm'],
    why: 'Both limits fall with it: half as thick folds at half the compression.',
    above: 0,
    most: 0.01,
  }),
  width: quantity('width', { meaning: 'Width of the film', usual: ['200 mm', '1500 mm'], above: 0, most: 20 }),
  length: quantity('length', {
    meaning: 'Free length of the span before the roller',
    usual: ['200 mm', '2000 mm'],
    why: 'A long span bends more easily, so it forgives more misalignment, though its troughs begin sooner.',
    above: 0,
    most: 1000,
  }),
  tension: quantity('forcePerWidth', {
    meaning: 'Tension per width',
    usual: ['50 N/m', '600 N/m'],
    why: 'Tension holds the film flat, until the strain limit is reached.',
    above: 0,
    most: 1e6,
  }),
  modulus: quantity('modulus', { meaning: 'Elastic modulus', usual: ['0.2 GPa', '70 GPa'], above: 0, most: 1e12 }),
  poisson: plainNumber({ meaning: "Poisson's ratio", usual: ['0.3', '0.45'], least: 0, most: 0.499 }),
  elasticLimit: quantity('fraction', {
    meaning: 'Strain up to which the film comes back',
    usual: ['0.3 %', '2 %'],
    above: 0,
    most: 5,
  }),
  radius: quantity('diameter', {
    meaning: 'Radius of the roller that the span meets',
    usual: ['20 mm', '150 mm'],
    why: 'Film bent round a small roller is a stiffer shell: it folds later.',
    above: 0,
    most: 5,
  }),
  misalignment: quantity('slope', {
    meaning: 'How far the roller is out of square, in the plane of the film',
    usual: ['0 mm/m', '5 mm/m'],
    why: 'The film steers until it meets the roller square, and is bent and sheared for it.',
    least: -0.1,
    most: 0.1,
  }),
  heat: quantity('temperatureDifference', {
    meaning: 'By how much the film is warmed while the roller holds its width',
    usual: ['0 K', '40 K'],
    least: 0,
    most: 500,
  }),
  expansion: quantity('perTemperature', {
    meaning: 'Expansion of the film with temperature',
    usual: ['1e-5 1/K', '2e-4 1/K'],
    least: 0,
    most: 0.01,
    illustrative: true,
  }),
  fall: quantity('forcePerWidth', {
    meaning: 'Tension that is lost over the roller',
    usual: ['0 N/m', '100 N/m'],
    why: 'Film that loses tension while it lies on the roller wants to be wider than friction lets it be.',
    least: 0,
    most: 1e6,
  }),
  speed: quantity('speed', {
    meaning: 'Speed of film and roller',
    usual: ['0 m/min', '400 m/min'],
    why: 'Fast film carries air under it: first it cannot hold a fold, then it cannot hold anything.',
    least: 0,
    most: 50,
  }),
  friction: plainNumber({
    meaning: 'Friction of film on the roller',
    usual: ['0.1', '0.5'],
    above: 0,
    most: 5,
    illustrative: true,
  }),
  filmRoughness: quantity('thickness', {
    meaning: 'Roughness of the film, root mean square',
    usual: ['0.02 µm', '0.5 µm'],
    above: 0,
    most: 0.001,
    illustrative: true,
  }),
  rollerRoughness: quantity('thickness', {
    meaning: 'Roughness of the roller, root mean square',
    usual: ['0.4 µm', '6 µm'],
    above: 0,
    most: 0.01,
    illustrative: true,
  }),
  nip: flag({ meaning: 'Whether a nip presses the film on: it holds a fold whatever the friction' }),
})

/** SI; tension in N per metre of width. */
export type Setting = v.InferOutput<typeof settingSchema>

/** As it is written: text with units. */
export type SettingDocument = v.InferInput<typeof settingSchema>

/** A knob: a figure of the setting, not a switch. */
export type Knob = Exclude<keyof Setting, 'nip'>

export type SettingReading =
  { readonly ok: true; readonly setting: Setting } | { readonly ok: false; readonly problems: readonly Problem[] }

/** Text with units to SI, or what is wrong with it, by field. */
export function readSetting(document: unknown): SettingReading {
  const result = v.safeParse(settingSchema, document)
  if (result.success) return { ok: true, setting: result.output }
  return { ok: false, problems: problemsOf(result.issues, document, settingSchema) }
}

/** PET of 25 µm before an idler that is out of square by too much: what the page starts from and lessons change. */
export const startingDocument: SettingDocument = {
  ...{ thickness: '25 µm', width: '400 mm', length: '600 mm', tension: '130 N/m', modulus: '4.5 GPa' },
  ...{ poisson: 0.38, elasticLimit: '1 %', radius: '40 mm', misalignment: '2 mm/m', heat: '0 K' },
  ...{ expansion: '1.7e-5 1/K', fall: '0 N/m', speed: '20 m/min', friction: 0.3 },
  ...{ filmRoughness: '0.05 µm', rollerRoughness: '1.6 µm', nip: false },
}
