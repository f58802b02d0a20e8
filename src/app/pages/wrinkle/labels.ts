/** The knobs' names and their order. */
import type { Knob } from '../../../wrinkle'

export const labels: Readonly<Record<Knob, string>> = {
  thickness: 'Thickness',
  width: 'Width',
  length: 'Span length',
  tension: 'Tension per width',
  modulus: 'Modulus',
  poisson: "Poisson's ratio",
  elasticLimit: 'Elastic limit',
  radius: 'Roller radius',
  misalignment: 'Misalignment',
  heat: 'Heat across the width',
  expansion: 'Expansion',
  fall: 'Tension lost on roller',
  speed: 'Speed',
  friction: 'Friction',
  filmRoughness: 'Film roughness',
  rollerRoughness: 'Roller roughness',
}

export const knobGroups: readonly { readonly title: string; readonly knobs: readonly Knob[] }[] = [
  { title: 'Film and span', knobs: ['thickness', 'width', 'length', 'tension', 'modulus'] },
  { title: 'Roller', knobs: ['radius', 'misalignment', 'speed', 'friction', 'rollerRoughness'] },
  { title: 'What else presses', knobs: ['heat', 'fall'] },
  { title: 'More of the film', knobs: ['poisson', 'elasticLimit', 'expansion', 'filmRoughness'] },
]

/** Those that the critical misalignment is shown against. */
export const chartKnobs: readonly Knob[] = [
  'thickness',
  'width',
  'length',
  'tension',
  'modulus',
  'poisson',
  'radius',
  'heat',
  'fall',
]
