/** A setting as text with units, for the knobs. */
import { formatQuantity, kinds, type Kind } from '../../../units'
import type { Setting, SettingDocument } from '../../../wrinkle'

const text = (value: number, kind: Kind) => formatQuantity(value, kinds[kind].metric, 4, kind)

/** @param misalignment stays as the user has set it: a line does not tell */
export function documentOf(s: Setting, misalignment: string): SettingDocument {
  return {
    thickness: text(s.thickness, 'thickness'),
    width: text(s.width, 'width'),
    length: text(s.length, 'length'),
    tension: text(s.tension, 'forcePerWidth'),
    modulus: text(s.modulus, 'modulus'),
    poisson: s.poisson,
    elasticLimit: text(s.elasticLimit, 'fraction'),
    radius: text(s.radius, 'diameter'),
    misalignment,
    heat: text(s.heat, 'temperatureDifference'),
    expansion: text(s.expansion, 'perTemperature'),
    fall: text(s.fall, 'forcePerWidth'),
    speed: text(s.speed, 'speed'),
    friction: s.friction,
    filmRoughness: text(s.filmRoughness, 'thickness'),
    rollerRoughness: text(s.rollerRoughness, 'thickness'),
    nip: s.nip,
  }
}
