/** Checks of troughs, folds, misalignment, air and grip. */
import { airFilm, combinedRoughness, frictionOverAir } from '../../film/air'
import { genericFilms } from '../../film/catalogue'
import { fromUnit } from '../../units'
import { assess, type Setting } from '../../wrinkle'
import { compliance, misalignmentOf } from '../../wrinkle/beam'
import { troughs } from '../../wrinkle/plate'
import { foldLimit } from '../../wrinkle/shell'
import { gripRatio } from '../../wrinkle/traction'
import type { Check } from '../check'

/** PET of 25 µm at 7 MPa: the example that all of this room is held against. */
const example: Setting = {
  ...{ thickness: 25e-6, width: 0.3, length: 0.5, tension: 175, modulus: 4.5e9, poisson: 0.3, elasticLimit: 0.01 },
  ...{ radius: 0.05, misalignment: 1e-3, heat: 0, expansion: 1.7e-5, fall: 0, speed: 0.5, friction: 0.3 },
  ...{ filmRoughness: 0.05e-6, rollerRoughness: 1.6e-6, nip: false },
}

const capstan: Check = {
  id: '15',
  title: 'What friction round a roller can hold',
  kind: 'published equation, own digits',
  source: 'Euler-Eytelwein, textbook formula; digits own',
  inputs: 'Wrap 180 deg; friction 0.35 and 0.45.',
  rows: [
    { what: 'higher less lower tension over lower, 0.35', expected: 2.0028, unit: '1', tolerance: 5e-5 },
    { what: 'higher less lower tension over lower, 0.45', expected: 3.1112, unit: '1', tolerance: 5e-5 },
  ],
  compute: () => [gripRatio(Math.PI, 0.35), gripRatio(Math.PI, 0.45)],
}

/** H'' far upstream of H''' = (1 - H)/H^3, marched upstream (Runge-Kutta) from H = 1 along the one way that leads away. */
function foilConstant(): number {
  const rates = ([h, slope, bend]: readonly number[]) => [slope, bend, (h - 1) / h ** 3]
  const moved = (y: readonly number[], by: readonly number[], step: number) => y.map((value, k) => value + step * by[k])
  let y: readonly number[] = [1 + 1e-7, 1e-7, 1e-7]
  // far out the bend changes as 1/H^2, so the step may grow with H
  while (y[0] < 1e9) {
    const step = 2e-3 * Math.sqrt(y[0])
    const k1 = rates(y)
    const k2 = rates(moved(y, k1, step / 2))
    const k3 = rates(moved(y, k2, step / 2))
    const k4 = rates(moved(y, k3, step))
    y = y.map((value, k) => value + (step / 6) * (k1[k] + 2 * k2[k] + 2 * k3[k] + k4[k]))
  }
  return y[2]
}

const foil: Check = {
  id: '29',
  title: 'Height of the air that film carries round a roller',
  kind: 'published equation, own digits',
  source: "Foil bearing: Eshel & Elrod 1965 (year from memory); its constant by own integration of H''' = (1 - H)/H^3",
  inputs: 'Radius 0.05 m, film and roller at 5 m/s each, 200 N/m, air of 1.81e-5 Pa s.',
  rows: [
    { what: 'height', expected: 9.932, unit: 'µm', tolerance: 0.001 },
    { what: 'constant, integrated anew', expected: 0.6430399, unit: '1', tolerance: 1e-6 },
  ],
  compute: () => [1e6 * airFilm(0.05, 10, 200), foilConstant()],
}

const rough: Check = {
  id: '30',
  title: 'Air against roughness: where grip begins to go, and where it is gone',
  kind: 'published',
  source:
    '"Rough enough", Paper, Film & Foil Converter, February 2006; Ducotey & Good, J. Tribology 121 (1999), abstract: it begins ' +
    'to matter at the combined roughness and is gone at three times that',
  inputs:
    'Film of 3 µm, roller of 4 µm roughness, so 5 µm together; friction 0.3; air of 4.9, 5.5, 10, 14.5 and 15 µm.',
  rows: [
    { what: 'friction at 0.98 of the roughness', expected: 0.3, unit: '1', tolerance: 1e-12 },
    { what: 'friction at 1.1 of it', expected: 0.285, unit: '1', tolerance: 1e-9 },
    { what: 'friction at twice it', expected: 0.15, unit: '1', tolerance: 1e-9 },
    { what: 'friction at 2.9 of it', expected: 0.015, unit: '1', tolerance: 1e-9 },
    { what: 'friction at three times it', expected: 0, unit: '1', tolerance: 1e-9 },
  ],
  compute: () =>
    [4.9e-6, 5.5e-6, 10e-6, 14.5e-6, 15e-6].map((h) => frictionOverAir(0.3, h, combinedRoughness(3e-6, 4e-6))),
}

/** mrad of the shear at which troughs of this limit begin: whole, without tension in the beam, and from bending alone. */
function criticals(limit: number): [shear: number, whole: number, slackString: number, bending: number] {
  const { width, thickness, length, modulus } = example
  const beam = { ...example, tension: example.tension * width }
  const stress = example.tension / thickness
  const shear = Math.sqrt(limit * (limit + stress))
  const force = shear * width * thickness
  const bending = (length ** 2 / 2 / ((modulus * thickness * width ** 3) / 12)) * force
  return [shear, 1e3 * misalignmentOf(beam, shear), 1e3 * (bending + compliance(beam).shear * force), 1e3 * bending]
}

const trough: Check = {
  id: '31',
  title: 'Troughs in a span and the misalignment that makes them',
  kind: 'published equation, own digits',
  source:
    'Tensioned plate strip: Timoshenko; wavelength: Cerda & Mahadevan, PRL 90, 074302 (2003); principal stress: Good, Kedl & ' +
    'Shelton 1997 (years and attribution from memory). Shear and misalignments are those of the approximate stress',
  inputs: 'Thickness 25 µm, span 0.5 m, width 0.3 m, 4.5 GPa, 7 MPa, Poisson 0.3; mean shear.',
  rows: [
    { what: 'compression for troughs, approximation', expected: 16873, unit: 'Pa', tolerance: 0.5 },
    { what: 'compression for troughs, exact minimum', expected: 16893, unit: 'Pa', tolerance: 0.5 },
    { what: 'wavelength', expected: 34.716, unit: 'mm', tolerance: 0.0005 },
    { what: 'critical shear', expected: 344087, unit: 'Pa', tolerance: 0.5 },
    { what: 'critical misalignment', expected: 1.486, unit: 'mrad', tolerance: 0.0005 },
    { what: 'the same without tension in the beam', expected: 1.513, unit: 'mrad', tolerance: 0.0005 },
    { what: 'the same from bending alone', expected: 1.274, unit: 'mrad', tolerance: 0.0005 },
    { what: 'critical misalignment, exact minimum', expected: 1.4869, unit: 'mrad', tolerance: 0.00005 },
  ],
  compute: () => {
    const { limit, approximation, wavelength } = troughs(example, 7e6)
    const exact = assess(example).span.critical.mean
    return [approximation, limit, 1e3 * wavelength, ...criticals(approximation), 1e3 * exact]
  },
}

const fold: Check = {
  id: '32',
  title: 'Compression that folds film on a roller',
  kind: 'published equation, own digits',
  source: 'Classical shell buckling; NACA TN 1343 (1947) gives 0.608 at Poisson 0.316',
  inputs:
    'Thickness 25 µm, 4.5 GPa, Poisson 0.3, radius 50 mm; then the coefficient of E h/R at Poisson 0.3 and 0.316.',
  rows: [
    { what: 'compression', expected: 1.3618, unit: 'MPa', tolerance: 5e-5 },
    { what: 'coefficient, Poisson 0.3', expected: 0.60523, unit: '1', tolerance: 5e-6 },
    { what: 'coefficient, Poisson 0.316', expected: 0.608, unit: '1', tolerance: 0.001 },
  ],
  compute: () => [foldLimit(25e-6, 0.05, 4.5e9, 0.3) / 1e6, foldLimit(1, 1, 1, 0.3), foldLimit(1, 1, 1, 0.316)],
}

/** mil/ft, critical misalignment by the peak of shear: 1 mil, 1 lbf/in, 60 in wide, 24 in long. */
function wideSpan(key: string): number {
  const film = genericFilms.find((one) => one.key === key)
  if (film === undefined) throw new Error(`no film ${key}`)
  const { span } = assess({
    ...{ ...example, thickness: fromUnit(1, 'mil'), tension: fromUnit(1, 'lbf/in'), width: fromUnit(60, 'in') },
    ...{ length: fromUnit(24, 'in'), modulus: film.modulus.value, poisson: film.poisson.value },
  })
  return span.critical.peak / fromUnit(1, 'mil/ft')
}

const wide: Check = {
  id: '33',
  title: 'Misalignment that wrinkles common films, as an order of magnitude',
  kind: 'published',
  source:
    'T. J. Walker, Paper, Film & Foil Converter, February 2009: PET 2, PE 5, aluminium foil under 1 mil/ft (its moduli are not ' +
    'stated; our soft PE of 0.2 GPa would give 17)',
  inputs:
    '1 mil, 1 lbf/in, 60 in wide, span of 24 in; catalogue values, PE of 0.8 GPa; peak of shear. Decimal logarithms.',
  rows: [
    { what: 'PET, log of computed over 2 mil/ft', expected: 0, unit: '1', tolerance: 0.5 },
    { what: 'PE, log of computed over 5 mil/ft', expected: 0, unit: '1', tolerance: 0.5 },
    { what: 'aluminium foil, log of computed over 0.5 mil/ft', expected: 0, unit: '1', tolerance: 0.3 },
  ],
  compute: () => [
    Math.log10(wideSpan('pet') / 2),
    Math.log10(wideSpan('hdpe') / 5),
    Math.log10(wideSpan('aluminium') / 0.5),
  ],
}

const neckIn: Check = {
  id: '34',
  title: 'How much narrower film gets under tension',
  kind: 'published',
  source: "Converting Quarterly, article on Poisson's ratio",
  inputs: '3 lbf/in, 3 mil, 1e6 psi, Poisson 0.3.',
  rows: [
    { what: 'stress', expected: 1000, unit: 'psi', tolerance: 1e-6 },
    { what: 'longer by', expected: 0.1, unit: '%', tolerance: 1e-9 },
    { what: 'narrower by', expected: 0.03, unit: '%', tolerance: 1e-9 },
  ],
  compute: () => {
    const tension = fromUnit(3, 'lbf/in')
    const modulus = fromUnit(1e6, 'psi')
    const found = assess({ ...example, thickness: fromUnit(3, 'mil'), tension, modulus })
    return [found.stress / fromUnit(1, 'psi'), 100 * found.strain, 100 * found.narrowing]
  },
}

const usual: Check = {
  id: '38',
  title: 'Usual running tensions',
  kind: 'published',
  source: 'Public tables of typical running tensions (dfe.com; a second table agrees for PET and foil)',
  inputs:
    'Catalogue of generic films; expected stress is the published figure in lbf/in per mil (PET 0.75, PE and PP 0.25, aluminium ' +
    'foil 1) times the published 6.895 MPa. PET of 36 µm by hand: 0.75 x 4.4482 N x 36 µm/(25.4 mm x 25.4 µm).',
  rows: [
    { what: 'PET', expected: 0.75 * 6.895, unit: 'MPa', tolerance: 0.0005 },
    { what: 'BOPP', expected: 0.25 * 6.895, unit: 'MPa', tolerance: 0.0005 },
    { what: 'PE, stiff', expected: 0.25 * 6.895, unit: 'MPa', tolerance: 0.0005 },
    { what: 'PE, soft', expected: 0.25 * 6.895, unit: 'MPa', tolerance: 0.0005 },
    { what: 'aluminium foil', expected: 6.895, unit: 'MPa', tolerance: 0.0005 },
    { what: 'PET of 36 µm', expected: 186.2, unit: 'N/m', tolerance: 0.05 },
  ],
  compute: () => {
    const stress = (key: string) => genericFilms.find((one) => one.key === key)?.runningStress.value ?? NaN
    return [...['pet', 'bopp', 'hdpe', 'ldpe', 'aluminium'].map((key) => stress(key) / 1e6), 36e-6 * stress('pet')]
  },
}

export const wrinkleChecks: readonly Check[] = [capstan, foil, rough, trough, fold, wide, neckIn, usual]
