/** What a field can measure: which units it takes, which it is shown in, and what to say when the text does not fit. */

export type Kind =
  | 'length'
  | 'thickness'
  | 'width'
  | 'diameter'
  | 'travel'
  | 'force'
  | 'forcePerWidth'
  | 'speed'
  | 'acceleration'
  | 'angularSpeed'
  | 'pressure'
  | 'stress'
  | 'modulus'
  | 'temperature'
  | 'temperatureDifference'
  | 'perTemperature'
  | 'mass'
  | 'arealDensity'
  | 'density'
  | 'inertia'
  | 'torque'
  | 'viscousTorque'
  | 'stiffness'
  | 'damping'
  | 'heatTransfer'
  | 'specificHeat'
  | 'power'
  | 'fraction'
  | 'angle'
  | 'slope'
  | 'time'
  | 'trimGainSpeed'
  | 'trimIntegralSpeed'
  | 'trimGainRatio'
  | 'trimIntegralRatio'
  | 'speedPerForce'
  | 'speedPerForceTime'
  | 'rate'
  | 'volume'
  | 'perPressure'
  | 'perPressureSquared'

export interface KindInfo {
  readonly kind: Kind
  /** for people: "a length" */
  readonly name: string
  /** "1" for a plain ratio */
  readonly si: string
  /** all accepted, preferred first, each in the spelling shown */
  readonly units: readonly string[]
  readonly metric: string
  readonly inch: string
  /** a usual value as it would be written */
  readonly example: string
}

type Row = readonly [name: string, example: string, si: string, metric: string, inch: string, others: string]

const lengths = 'mm, cm, m, µm, in, ft, mil, gauge'
const pressures = 'Pa, kPa, MPa, GPa, bar, mbar, psi, ksi'

const rows: Readonly<Record<Kind, Row>> = {
  length: ['a length', '700 mm', 'm', 'mm', 'in', lengths],
  thickness: ['a thickness', '36 µm', 'm', 'µm', 'mil', lengths],
  width: ['a width', '420 mm', 'm', 'mm', 'in', lengths],
  diameter: ['a diameter', '80 mm', 'm', 'mm', 'in', lengths],
  travel: ['a distance', '90 mm', 'm', 'mm', 'in', lengths],
  force: ['a force', '60 N', 'N', 'N', 'lbf', 'kN, kgf'],
  forcePerWidth: ['a force per width', '185 N/m', 'N/m', 'N/m', 'lbf/in', 'N/cm, kN/m'],
  speed: ['a speed', '25 m/min', 'm/s', 'm/min', 'ft/min', 'mm/s, in/s'],
  acceleration: ['an acceleration', '0.2 m/s²', 'm/s²', 'm/s²', 'ft/s²', 'm/min/s'],
  angularSpeed: ['an angular speed or bandwidth', '60 rad/s', 'rad/s', 'rad/s', 'rpm', 'Hz'],
  pressure: ['a pressure', '4 bar', 'Pa', 'bar', 'psi', pressures],
  stress: ['a stress', '2 MPa', 'Pa', 'MPa', 'psi', pressures],
  modulus: ['a modulus', '4.5 GPa', 'Pa', 'GPa', 'ksi', pressures],
  temperature: ['a temperature', '20 °C', 'K', '°C', '°F', ''],
  temperatureDifference: ['a temperature difference', '40 K', 'K', 'K', '°F', '°C'],
  perTemperature: ['a change per degree', '1.7e-5 1/K', '1/K', '1/K', '1/°F', '1/°C'],
  mass: ['a mass', '4 kg', 'kg', 'kg', 'lb', 'g'],
  arealDensity: ['a mass per area', '50 g/m²', 'kg/m²', 'g/m²', 'g/m²', ''],
  density: ['a density', '1390 kg/m³', 'kg/m³', 'kg/m³', 'lb/ft³', 'g/cm³'],
  inertia: ['a moment of inertia', '1.6e-3 kg m²', 'kg m²', 'kg m²', 'lb in²', 'lb ft²'],
  torque: ['a torque', '0.2 N m', 'N m', 'N m', 'lbf in', 'mN m, lbf ft'],
  viscousTorque: ['a torque per angular speed', '0.01 N m s', 'N m s', 'N m s', 'lbf in s', 'mN m s'],
  stiffness: ['a stiffness', '160 N/m', 'N/m', 'N/m', 'lbf/in', 'N/mm'],
  damping: ['a damping', '40 N s/m', 'N s/m', 'N s/m', 'lbf s/in', ''],
  heatTransfer: ['a heat transfer coefficient', '60 W/(m² K)', 'W/(m² K)', 'W/(m² K)', 'W/(m² K)', ''],
  specificHeat: ['a specific heat', '1200 J/(kg K)', 'J/(kg K)', 'J/(kg K)', 'J/(kg K)', ''],
  power: ['a power', '2 kW', 'W', 'kW', 'hp', ''],
  fraction: ['a percentage', '1 %', '1', '%', '%', ''],
  angle: ['an angle', '90 deg', 'rad', 'deg', 'deg', ''],
  slope: ['a slope', '0.5 mm/m', '1', 'mm/m', 'mil/ft', ''],
  time: ['a time', '2 s', 's', 's', 's', 'ms, min'],
  trimGainSpeed: ['a gain (speed per distance)', '1.2 1/s', '1/s', '1/s', '1/s', ''],
  trimIntegralSpeed: ['an integral gain (speed per distance and time)', '0.4 1/s²', '1/s²', '1/s²', '1/s²', ''],
  trimGainRatio: ['a gain (ratio per distance)', '2 1/m', '1/m', '1/m', '%/in', '1/mm, %/mm'],
  trimIntegralRatio: [
    'an integral gain (ratio per distance and time)',
    '0.5 1/(m s)',
    '1/(m s)',
    '1/(m s)',
    '%/(in s)',
    '%/(mm s)',
  ],
  speedPerForce: ['a gain (speed per force)', '0.02 m/min/N', 'm/(s N)', 'm/min/N', 'ft/min/lbf', ''],
  speedPerForceTime: [
    'an integral gain (speed per force and time)',
    '0.05 m/min/(N s)',
    'm/(s² N)',
    'm/min/(N s)',
    'ft/min/(lbf s)',
    '',
  ],
  volume: ['a volume', '200 cm³', 'm³', 'cm³', 'in³', 'l'],
  perPressure: ['a change per pressure', '-4 1/MPa', '1/Pa', '1/MPa', '1/psi', '1/kPa'],
  perPressureSquared: ['a change per pressure squared', '2 1/MPa²', '1/Pa²', '1/MPa²', '1/psi²', '1/kPa²'],
  rate: ['a rate', '0.5 1/s', '1/s', '1/s', '1/s', ''],
}

function infoOf(kind: Kind): KindInfo {
  const [name, example, si, metric, inch, others] = rows[kind]
  const listed = [metric, inch, si, ...others.split(', ')].filter((unit) => unit !== '' && unit !== '1')
  return { kind, name, si, units: [...new Set(listed)], metric, inch, example }
}

export const kindNames = Object.keys(rows) as Kind[]

export const kinds = Object.fromEntries(kindNames.map((kind) => [kind, infoOf(kind)])) as Readonly<
  Record<Kind, KindInfo>
>
