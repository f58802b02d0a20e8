/**
 * A stack test: pressure against compression of a pile of film, and the stack modulus that fits it.
 *
 * Variables    pressure P (Pa), strain through the stack e (1)
 * Parameters   seating strain e0 and those of the law: constant E; Pfeiffer K1, K2; cubic K0 .. K3
 * Equations    e = e0 + integral of dP/E_r(P): P/E | ln(1 + P/K1)/K2 | by Gauss-Legendre panels for the cubic
 *              least squares in e (Levenberg and Marquardt); covariance s^2 (J'J)^-1, s^2 = sum of squares/(points - parameters)
 *              band of E_r(P): root of g' C g, g the slopes of E_r by the parameters
 * Neglected    error of the pressures, creep during the test
 * Source       least squares, textbook statistics; laws: stack.ts
 */
import { levenbergMarquardt } from 'ml-levenberg-marquardt'
import { inverse, Matrix } from 'ml-matrix'
import { modulusAt, softensAt, stackModulus, type StackModulus, type StackSpec } from '../film/stack'

export interface TestPoint {
  /** Pa */
  readonly pressure: number
  readonly strain: number
}

export type StackLaw = StackSpec['law']

export interface StackFit {
  readonly ok: true
  readonly stack: StackSpec
  readonly modulus: StackModulus
  readonly parameters: readonly { readonly name: string; readonly value: number; readonly error: number }[]
  readonly seating: number
  /** root mean square of strain */
  readonly residual: number
  /** strain that the fitted law gives at a pressure, and the error (one standard deviation) of its modulus there */
  readonly strainAt: (pressure: number) => number
  readonly errorAt: (pressure: number) => number
}

export type StackFitting = StackFit | { readonly ok: false; readonly say: string }

const UNFITTED =
  'These points do not lie on a curve of this law: look for a slip of units or a wrong column, or take another law.'

/** MPa inside the fit: numbers of ordinary size. */
const UNIT = 1e6

interface Model {
  readonly names: readonly string[]
  readonly start: (points: readonly TestPoint[]) => number[]
  readonly least: readonly number[]
  /** SI over the units of the fit */
  readonly units: readonly number[]
  /** coefficients of E_r in MPa */
  readonly modulus: (parameters: readonly number[]) => StackModulus
  readonly strain: (parameters: readonly number[], p: number) => number
  readonly spec: (parameters: readonly number[]) => StackSpec
}

const steepness = (points: readonly TestPoint[]): number => {
  const [first, last] = [points[0], points[points.length - 1]]
  return (last.pressure - first.pressure) / UNIT / Math.max(last.strain - first.strain, 1e-9)
}

const models: Readonly<Record<StackLaw, Model>> = {
  constant: {
    names: ['modulus'],
    start: (points) => [steepness(points)],
    least: [1e-9],
    units: [UNIT],
    modulus: ([e]) => [e, 0, 0, 0],
    strain: ([e], p) => p / e,
    spec: ([e]) => ({ law: 'constant', modulus: e * UNIT, basis: 'measured' }),
  },
  Pfeiffer: {
    names: ['K1', 'K2'],
    start: (points) => [
      points[points.length - 1].pressure / UNIT / 20,
      (3 * steepness(points)) / (points[points.length - 1].pressure / UNIT),
    ],
    least: [1e-9, 1e-9],
    units: [UNIT, 1],
    modulus: ([k1, k2]) => [k1 * k2, k2, 0, 0],
    strain: ([k1, k2], p) => Math.log1p(p / k1) / k2,
    spec: ([k1, k2]) => ({ law: 'Pfeiffer', pressure: k1 * UNIT, slope: k2, basis: 'measured' }),
  },
  cubic: {
    names: ['K0', 'K1', 'K2', 'K3'],
    start: (points) => [
      steepness(points) / 3,
      (2 * steepness(points)) / (points[points.length - 1].pressure / UNIT),
      0,
      0,
    ],
    least: [1e-9, -Infinity, -Infinity, -Infinity],
    units: [UNIT, 1, 1 / UNIT, 1 / UNIT ** 2],
    modulus: ([k0, k1, k2, k3]) => [k0, k1, k2, k3],
    strain: ([k0, k1, k2, k3], p) => strainOf([k0, k1, k2, k3], p),
    spec: ([k0, k1, k2, k3]) => ({
      law: 'cubic',
      k0: k0 * UNIT,
      k1,
      k2: k2 / UNIT,
      k3: k3 / UNIT ** 2,
      basis: 'measured',
    }),
  },
}

/** Nodes and weights of Gauss and Legendre on 0..1, five points. */
const GAUSS = [-0.906179845938664, -0.5384693101056831, 0, 0.5384693101056831, 0.906179845938664].map(
  (x) => (1 + x) / 2,
)
const WEIGHTS = [
  0.2369268850561891, 0.4786286704993665, 0.5688888888888889, 0.4786286704993665, 0.2369268850561891,
].map((w) => w / 2)

/** Integral of dP/E_r from 0 to p, in panels that get longer outward. */
function strainOf(modulus: StackModulus, p: number): number {
  const panels = 8
  let sum = 0
  for (let k = 0; k < panels; k++) {
    const [from, to] = [p * (k / panels) ** 2, p * ((k + 1) / panels) ** 2]
    for (let j = 0; j < GAUSS.length; j++) {
      const e = modulusAt(modulus, from + (to - from) * GAUSS[j])
      // a law without stiffness is no law: far off, so that the search turns back
      sum += (WEIGHTS[j] * (to - from)) / Math.max(e, 1e-6)
    }
  }
  return sum
}

/** Fits a law to points of a stack test. */
export function fitStack(given: readonly TestPoint[], law: StackLaw): StackFitting {
  const points = [...given].sort((a, b) => a.pressure - b.pressure)
  const model = models[law]
  const count = model.names.length + 1
  const wrong = unfit(points, count)
  if (wrong !== undefined) return { ok: false, say: wrong }
  const x = points.map(({ pressure }) => pressure / UNIT)
  const y = points.map(({ strain }) => strain)
  // all strains between 0 and 1 in the search, so that damping treats them alike
  const scale = Math.max(...y.map(Math.abs))
  const curve = (parameters: readonly number[]) => (p: number) =>
    parameters[count - 1] + model.strain(parameters, p) / scale
  const begin = [...model.start(points), 0]
  try {
    const { parameterValues } = levenbergMarquardt({ x, y: y.map((e) => e / scale) }, curve, {
      initialValues: begin,
      minValues: [...model.least, -10],
      maxValues: begin.map(() => Infinity),
      damping: 1e-2,
      gradientDifference: begin.map((value) => 1e-6 * Math.max(Math.abs(value), 1e-3)),
      centralDifference: true,
      maxIterations: 400,
      errorTolerance: 1e-16,
      improvementThreshold: 1e-12,
    })
    return told(model, parameterValues, points, scale)
  } catch {
    return { ok: false, say: UNFITTED }
  }
}

function unfit(points: readonly TestPoint[], parameters: number): string | undefined {
  if (points.some(({ pressure, strain }) => !Number.isFinite(pressure) || !Number.isFinite(strain)))
    return 'Some of the points are no numbers.'
  if (points.some(({ pressure }) => pressure < 0))
    return 'A pressure is below 0: pressures count from the unloaded stack.'
  const different = new Set(points.map(({ pressure }) => pressure)).size
  if (different <= parameters)
    return `Found ${different} different pressures; this law needs at least ${parameters + 1}.`
  if (points[points.length - 1].strain <= points[0].strain)
    return 'The strain does not grow with pressure: the first column is pressure, the second is strain of the stack, compression positive.'
  return undefined
}

function told(model: Model, found: readonly number[], points: readonly TestPoint[], scale: number): StackFitting {
  const [own, seating] = [found.slice(0, -1), found[found.length - 1] * scale]
  const most = points[points.length - 1].pressure
  const spec = model.spec(own)
  const soft = own.every(Number.isFinite) ? softensAt(stackModulus(spec), most) : 0
  if (soft !== undefined)
    return { ok: false, say: 'The fitted modulus falls to nothing within the test: take a law with fewer factors.' }
  const all = [...own, seating]
  const strain = (parameters: readonly number[], p: number) =>
    parameters[own.length] + model.strain(parameters, p / UNIT)
  const squares = points.reduce((sum, { pressure, strain: e }) => sum + (e - strain(all, pressure)) ** 2, 0)
  const covariance = covarianceOf(
    points.map(({ pressure }) => slopes((p) => strain(p, pressure), all)),
    squares,
  )
  if (covariance === undefined)
    return { ok: false, say: 'The points cannot tell the factors of this law apart: take a law with fewer.' }
  const errorAt = (pressure: number) => {
    const g = Matrix.columnVector([...slopes((p) => modulusAt(model.modulus(p), pressure / UNIT) * UNIT, own), 0])
    return Math.sqrt(Math.max(0, g.transpose().mmul(covariance).mmul(g).get(0, 0)))
  }
  const parameters = model.names.map((name, k) => {
    const error = Math.sqrt(Math.max(0, covariance.get(k, k)))
    return { name, value: own[k] * model.units[k], error: error * model.units[k] }
  })
  return {
    ...{ ok: true, stack: spec, modulus: stackModulus(spec), parameters, seating, errorAt },
    residual: Math.sqrt(squares / points.length),
    strainAt: (pressure) => strain(all, pressure),
  }
}

function slopes(figure: (parameters: readonly number[]) => number, at: readonly number[]): number[] {
  return at.map((value, k) => {
    const h = 1e-5 * Math.max(Math.abs(value), 1e-4)
    const moved = (by: number) => figure(at.map((other, j) => (j === k ? other + by : other)))
    return (moved(h) - moved(-h)) / (2 * h)
  })
}

/** s^2 (J'J)^-1 with columns brought to one size first; undefined when the points do not determine all parameters. */
function covarianceOf(rows: readonly (readonly number[])[], squares: number): Matrix | undefined {
  const count = rows[0].length
  const size = Array.from({ length: count }, (_, k) => Math.hypot(...rows.map((row) => row[k])))
  if (size.some((s) => !(s > 0))) return undefined
  const jacobian = new Matrix(rows.map((row) => row.map((value, k) => value / size[k])))
  const normal = jacobian.transpose().mmul(jacobian)
  try {
    const scaled = inverse(normal).mul(squares / (rows.length - count))
    const covariance = new Matrix(count, count)
    for (let i = 0; i < count; i++)
      for (let k = 0; k < count; k++) covariance.set(i, k, scaled.get(i, k) / (size[i] * size[k]))
    return covariance.to1DArray().every(Number.isFinite) ? covariance : undefined
  } catch {
    return undefined
  }
}
