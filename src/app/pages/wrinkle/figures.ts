/** The present figures for the places of the equations. */
import { formatNumber } from '../../../units'
import { plateStiffness, type Assessment, type Say } from '../../../wrinkle'

export function figuresOf(found: Assessment, say: Say): Readonly<Record<string, string>> {
  const { setting: s, troughs, span, roller, grip } = found
  const [p, q2] = [(Math.PI / s.length) ** 2, ((2 * Math.PI) / troughs.wavelength) ** 2]
  const plain = (value: number, unit: string) => `${formatNumber(value, 3)} ${unit}`
  return {
    D: plain(plateStiffness(s), 'N m'),
    p: plain(p, '1/m²'),
    q2: plain(q2, '1/m²'),
    h: say(s.thickness, 'thickness'),
    limit: say(troughs.limit, 'stress'),
    approximation: say(troughs.approximation, 'stress'),
    wavelength: say(troughs.wavelength, 'travel'),
    E: say(s.modulus, 'modulus'),
    R: say(s.radius, 'diameter'),
    root: formatNumber(Math.sqrt(3 * (1 - s.poisson ** 2)), 3),
    fold: say(roller.limit, 'stress'),
    KL: formatNumber(found.slenderness, 3),
    shear: say(found.shear, 'stress'),
    stress: say(found.stress, 'stress'),
    critical: say(span.critical.mean, 'slope'),
    air: say(grip.airFilm, 'thickness'),
    roughness: say(grip.roughness, 'thickness'),
    needed: formatNumber(grip.needed, 2),
    friction: formatNumber(grip.friction, 2),
  }
}
