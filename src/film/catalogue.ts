/**
 * Generic films to start from: no maker's product, and no substitute for a measurement of the film in hand.
 *
 * Each value says where it is from. `published`: public data sheets of several makers, as ranges; the value taken is named.
 * `memory`: from memory, to be checked. `illustrative`: a starting value for what depends on the surface and has to be measured.
 */

export type Origin = 'published' | 'memory' | 'illustrative'

export interface Stated {
  /** SI */
  readonly value: number
  readonly origin: Origin
  readonly source: string
}

export interface GenericFilm {
  readonly key: string
  readonly name: string
  /** m, thicknesses that it is usually sold in */
  readonly usual: readonly [thin: number, thick: number]
  /** Pa, along the line */
  readonly modulus: Stated
  /** kg/m³ */
  readonly density: Stated
  readonly poisson: Stated
  /** strain up to which it comes back */
  readonly elasticLimit: Stated
  /** 1/K */
  readonly expansion: Stated
  /** Pa, stress of a usual running tension */
  readonly runningStress: Stated
  /** m, root mean square */
  readonly roughness: Stated
  /** of the film on a metal roller */
  readonly friction: Stated
}

const sheet = (value: number, source: string): Stated => ({ value, origin: 'published', source })
const memory = (value: number, source = 'from memory'): Stated => ({ value, origin: 'memory', source })
const illustrative = (value: number): Stated => ({ value, origin: 'illustrative', source: 'illustrative: measure it' })

/** Pa of one lbf/in per mil: (4.4482216152605 N/0.0254 m)/25.4e-6 m */
const PLI_PER_MIL = 4.4482216152605 / 0.0254 / 25.4e-6

const tensions =
  'public tables of typical running tensions, lbf/in per mil (dfe.com; for PET and foil a second one agrees)'
const running = (pliPerMil: number): Stated => sheet(pliPerMil * PLI_PER_MIL, `${pliPerMil} in ${tensions}`)
/** Where no table tells: a quarter of the strain limit. */
const quarter = (modulus: number, limit: number): Stated => ({
  value: (modulus * limit) / 4,
  origin: 'illustrative',
  source: 'illustrative: a quarter of the elastic limit',
})

const sheets = "manufacturers' public data sheets"

export const genericFilms: readonly GenericFilm[] = [
  {
    ...{ key: 'pet', name: 'PET, biaxially drawn', usual: [12e-6, 125e-6] },
    modulus: sheet(4.5e9, `${sheets}: 4.5 to 4.8 GPa`),
    density: sheet(1390, sheets),
    poisson: sheet(0.38, sheets),
    elasticLimit: memory(0.01, 'from memory; the sheets tell 98 to 100 MPa at 5 % strain'),
    expansion: sheet(17e-6, sheets),
    runningStress: running(0.75),
    ...{ roughness: illustrative(0.05e-6), friction: illustrative(0.3) },
  },
  {
    ...{ key: 'bopp', name: 'BOPP', usual: [15e-6, 60e-6] },
    modulus: sheet(2.5e9, `${sheets}: 2.5 GPa along, 4.5 GPa across`),
    density: memory(905),
    poisson: memory(0.4),
    elasticLimit: memory(0.01),
    expansion: memory(100e-6),
    runningStress: running(0.25),
    ...{ roughness: illustrative(0.1e-6), friction: illustrative(0.25) },
  },
  {
    ...{ key: 'pen', name: 'PEN, biaxially drawn', usual: [12e-6, 125e-6] },
    modulus: sheet(5.5e9, `${sheets}: 5.0 to 6.2 GPa`),
    density: memory(1360),
    poisson: memory(0.35),
    elasticLimit: memory(0.01),
    expansion: sheet(20e-6, sheets),
    runningStress: quarter(5.5e9, 0.01),
    ...{ roughness: illustrative(0.05e-6), friction: illustrative(0.3) },
  },
  {
    ...{ key: 'pi', name: 'PI, polyimide', usual: [12e-6, 125e-6] },
    modulus: sheet(2.5e9, `${sheets}: 2.5 GPa at 23 °C, 2.0 GPa at 200 °C`),
    density: sheet(1420, sheets),
    poisson: sheet(0.34, sheets),
    elasticLimit: memory(0.01, 'from memory; the sheets tell 69 MPa at 3 % strain'),
    expansion: sheet(20e-6, sheets),
    runningStress: quarter(2.5e9, 0.01),
    ...{ roughness: illustrative(0.05e-6), friction: illustrative(0.35) },
  },
  {
    ...{ key: 'pc', name: 'PC, polycarbonate', usual: [50e-6, 250e-6] },
    modulus: sheet(2.5e9, `${sheets}, as an ordinary value`),
    density: memory(1200),
    poisson: memory(0.37),
    elasticLimit: memory(0.01, 'from memory; the sheets tell yield at 62 MPa'),
    expansion: memory(70e-6),
    runningStress: quarter(2.5e9, 0.01),
    ...{ roughness: illustrative(0.1e-6), friction: illustrative(0.3) },
  },
  {
    ...{ key: 'hdpe', name: 'PE, stiff (high density)', usual: [15e-6, 100e-6] },
    modulus: memory(0.8e9),
    density: memory(950),
    poisson: memory(0.4),
    elasticLimit: memory(0.015),
    expansion: memory(150e-6),
    runningStress: running(0.25),
    ...{ roughness: illustrative(0.3e-6), friction: illustrative(0.25) },
  },
  {
    ...{ key: 'ldpe', name: 'PE, soft (low density)', usual: [20e-6, 100e-6] },
    modulus: memory(0.2e9),
    density: memory(920),
    poisson: memory(0.45),
    elasticLimit: memory(0.03),
    expansion: memory(180e-6),
    runningStress: running(0.25),
    ...{ roughness: illustrative(0.3e-6), friction: illustrative(0.35) },
  },
  {
    ...{ key: 'copper', name: 'Copper foil', usual: [6e-6, 70e-6] },
    modulus: sheet(70e9, `${sheets}: 50 GPa rolled to 70 GPa electrolytic`),
    density: memory(8960, 'textbook value of copper, from memory'),
    poisson: memory(0.34),
    elasticLimit: memory(0.001),
    expansion: memory(16.5e-6, 'textbook value of copper, from memory'),
    runningStress: quarter(70e9, 0.001),
    ...{ roughness: illustrative(0.3e-6), friction: illustrative(0.25) },
  },
  {
    ...{ key: 'aluminium', name: 'Aluminium foil', usual: [6e-6, 70e-6] },
    modulus: memory(69e9, 'textbook value of aluminium, from memory'),
    density: memory(2700, 'textbook value of aluminium, from memory'),
    poisson: memory(0.33),
    elasticLimit: memory(0.0005),
    expansion: memory(23e-6, 'textbook value of aluminium, from memory'),
    runningStress: running(1),
    ...{ roughness: illustrative(0.3e-6), friction: illustrative(0.25) },
  },
  {
    ...{ key: 'paper', name: 'Paper', usual: [50e-6, 150e-6] },
    modulus: memory(4e9),
    density: memory(800),
    poisson: memory(0.3),
    elasticLimit: memory(0.005),
    expansion: memory(8e-6, 'from memory; moisture moves paper far more than heat'),
    runningStress: quarter(4e9, 0.005),
    ...{ roughness: illustrative(3e-6), friction: illustrative(0.3) },
  },
]
