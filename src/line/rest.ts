/**
 * The state a run starts from: the steady state of the same equations, or a line standing threaded.
 *
 * Variables    all states but the film totals; roll radii are held
 * Equations    running: f(y) = 0 by Newton's method, least squares where the equations leave something free;
 *              a dancer that nothing brings back (no spring, no trim) stands at its set point, and the film that gathers there
 *              is left to the run
 *              standing: w = 0, every zone between drives at one tension: that of its dancer, of its winder, or the threading
 *              tension; servos hold, everything with dry friction sticks
 * Source       own derivation
 */
import { LuDecomposition, Matrix, pseudoInverse } from 'ml-matrix'
import { ServoDrive } from './drive'
import { jacobian } from './jacobian'
import type { Line } from './line'
import { TensionTrim } from './tension-trim'
import { TorqueDrive } from './torque-drive'
import { START_ANGLE } from './roll'

export type Start = { ok: true; y: number[] } | { ok: false; state: string; say: string }

const MOST_PASSES = 60

/** Finds the start of the line's scenario. */
export function operatingPoint(line: Line): Start {
  const y = threaded(line)
  if (line.spec.speed.start === 0) return standing(line, y)
  return running(line, y)
}

/** Every span at the tension of its zone, dancers at their set points, rollers turning with line speed. */
function threaded(line: Line): number[] {
  const y = new Array<number>(line.size).fill(0)
  const { rollers, spans } = line
  for (const c of line.carriages) {
    y[c.state] = c.setup.setPoint
    if (c.cylinder !== undefined) y[c.cylinder.state] = c.cylinder.target(0)
  }
  for (const { states, mean } of [line.unwindRoll, line.rewindRoll]) {
    if (states.angle !== undefined) y[states.angle] = START_ANGLE
    if (states.estimate !== undefined) y[states.estimate] = mean
  }
  // twice: a taper may ask another pressure of a cylinder
  line.place(0, y)
  for (const { cylinder } of line.carriages) if (cylinder !== undefined) y[cylinder.state] = cylinder.target(0)
  line.place(0, y)
  const tension = zoneTensions(line)
  for (let j = 0; j < spans.count; j++) {
    y[j] = spans.length[j]
    spans.hold(j, tension[j], y, line.unwoundState)
  }
  for (let i = 0; i < rollers.count; i++) {
    if (rollers.state[i] >= 0) y[rollers.state[i]] = line.spec.speed.start / rollers.radius[i]
  }
  return y
}

/** Tension of every span from the zone it lies in, N. Zones end at rollers with a drive. */
function zoneTensions(line: Line): number[] {
  const { spans, spec, drives } = line
  const tension = new Array<number>(spans.count).fill(spec.speed.threadingTension)
  const driven = new Set(drives.map((d) => d.roller))
  let from = 0
  for (let j = 0; j < spans.count; j++) {
    if (!driven.has(j + 1)) continue
    const value = zoneTension(line, from, j)
    if (value !== undefined) tension.fill(value, from, j + 1)
    from = j + 1
  }
  return tension
}

function zoneTension(line: Line, first: number, last: number): number | undefined {
  const carriage = line.carriages.find((c) => c.strands.spans.some((j) => j >= first && j <= last))
  if (carriage !== undefined) {
    return carriage.drivingForce(carriage.setup.setPoint) / carriage.strands.total()
  }
  const winder = line.drives.find((d) => d instanceof TorqueDrive && (d.roller === last + 1 || d.roller === first))
  if (!(winder instanceof TorqueDrive)) return undefined
  return winder.course.at(0, line.rollers.estimate[winder.roller])
}

function standing(line: Line, y: number[]): Start {
  const { rollers, spans, carriages, drives } = line
  for (let i = 0; i < rollers.count; i++) {
    if (rollers.state[i] >= 0) y[rollers.state[i]] = 0
    if (rollers.breakaway[i] > 0) rollers.mode[i] = 0
  }
  for (const c of carriages) {
    if (c.breakaway > 0) c.on = 'stuck'
  }
  line.rates(0, y)
  for (const drive of drives) {
    if (drive instanceof ServoDrive) y[drive.state] = -rollers.filmTorque(drive.roller, spans.force)
  }
  for (const c of line.corrections) if (c instanceof TensionTrim) y[c.state] = c.reading()
  return checkStart(line, y)
}

function running(line: Line, y: number[]): Start {
  const scales = line.scales()
  const { unknowns, equations } = system(line)
  for (let pass = 0; pass < MOST_PASSES; pass++) {
    const step = newtonStep(line, y, unknowns, equations, scales)
    let largest = 0
    unknowns.forEach((k, n) => {
      y[k] = y[k] + step[n]
      largest = Math.max(largest, Math.abs(step[n]) / scales[k])
    })
    if (!(largest < 1e12)) break
    if (largest < 1e-9) return settle(line, y, equations, scales)
  }
  return unsteady(line, y, equations, scales)
}

/** Unknown states and the rates that must vanish; as many of either. */
function system(line: Line): { unknowns: number[]; equations: number[] } {
  const skip = new Set(line.drifting)
  const unknowns: number[] = []
  for (let k = 0; k < line.size; k++) if (!skip.has(k)) unknowns.push(k)
  const neutral = line.carriages.filter((c) => c.setup.stiffness === 0 && !line.trims.some((t) => t.dancer === c))
  const pinned = new Set(neutral.map((c) => c.state))
  const gathering = new Set(neutral.map((c) => c.strands.spans[0]))
  return { unknowns: unknowns.filter((k) => !pinned.has(k)), equations: unknowns.filter((k) => !gathering.has(k)) }
}

function newtonStep(line: Line, y: number[], unknowns: number[], equations: number[], scales: Float64Array): number[] {
  const all = [...new Set([...unknowns, ...equations])].sort((a, b) => a - b)
  const full = jacobian(line, 0, y, all, scales)
  const rates = line.rates(0, y)
  const rows = equations.map((i) => all.indexOf(i))
  const columns = unknowns.map((k) => all.indexOf(k))
  const a = new Matrix(equations.length, unknowns.length)
  const b = new Matrix(equations.length, 1)
  equations.forEach((i, row) => {
    b.set(row, 0, -rates[i] / scales[i])
    unknowns.forEach((k, column) => {
      a.set(row, column, (full.get(rows[row], columns[column]) * scales[k]) / scales[i])
    })
  })
  const lu = new LuDecomposition(a)
  const x = lu.isSingular() || !wellPosed(lu) ? pseudoInverse(a).mmul(b) : lu.solve(b)
  return unknowns.map((k, n) => x.get(n, 0) * scales[k])
}

/** False when the pivots differ so much that something is left free by the equations. */
function wellPosed(lu: LuDecomposition): boolean {
  const pivots = lu.upperTriangularMatrix.diagonal().map(Math.abs)
  return Math.min(...pivots) > 1e-12 * Math.max(...pivots)
}

function settle(line: Line, y: number[], equations: number[], scales: Float64Array): Start {
  const rates = line.rates(0, y)
  if (equations.some((k) => Math.abs(rates[k]) > 1e-5 * scales[k])) return unsteady(line, y, equations, scales)
  for (const c of line.carriages) {
    y[c.state + 1] = 0
    if (c.breakaway > 0) c.on = 'stuck'
  }
  return checkStart(line, y)
}

function unsteady(line: Line, y: number[], equations: number[], scales: Float64Array): Start {
  const rates = line.rates(0, y)
  const size = (k: number) => (Number.isFinite(rates[k]) ? Math.abs(rates[k]) / scales[k] : Infinity)
  const worst = equations.reduce((a, b) => (size(b) > size(a) ? b : a))
  const state = line.stateNames[worst]
  const say =
    `The line has no steady state to start from: the ${state} keeps changing. ` +
    'Look for two drives that both prescribe how much film runs (trim one of them), a torque limit below what the tension needs, ' +
    'or a dancer force out of reach; or start at speed 0.'
  return { ok: false, state, say }
}

function checkStart(line: Line, y: number[]): Start {
  line.rates(0, y)
  for (const c of line.carriages) {
    const z = y[c.state]
    if (z >= c.setup.lowerStop && z <= c.setup.upperStop) continue
    const say =
      `${c.name} would have to stand at ${(z * 1000).toFixed(0)} mm, outside its stops. ` +
      'Give it a position trim with an integral part, or match its force and the speeds on either side.'
    return { ok: false, state: `position of ${c.name}`, say }
  }
  const slack = line.spans.elastic.findIndex((f) => f <= 0)
  if (slack < 0) return { ok: true, y }
  const name = line.spans.names[slack]
  const say = `The film ${name} would be slack at the start. Raise the tension or the draw before it, or lower the drag.`
  return { ok: false, state: `film held ${name}`, say }
}
