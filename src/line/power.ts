/**
 * The power balance of the line at one instant: signals that stand beside the integrated states and are never integrated.
 *
 * Equations    d/dt sum E_film + sum J w dw/dt + sum (M z' z'' + spring)
 *                = sum motor w + sum (P + M g_z) z' + film energy in - out - drag - dampers - friction
 *                  - film damping - sum q EA (e_in - e_out)^2/2
 *              E_film = F_el^2/2 sum m_k/(EA)_k per taut span; a roll counts with J w dw/dt, since its film takes its kinetic
 *              energy along; film damping loses (F - F_el) x rate of elongation;
 *              free strain that grows takes F_el sum m_k dtheta_k/dt; the last sum is the exact loss at a roller
 *              without slip, e: strain before and after it
 * Source       own derivation
 */
import type { Line } from './line'

export interface PowerBalance {
  /** W, rate at which film, rollers and carriages store energy */
  readonly stored: number
  /** W, what comes in less what goes out and is lost */
  readonly supplied: number
  /** W, sum of |power| over all terms: what the difference is measured against */
  readonly passing: number
}

/**
 * Both sides of the balance for state y at t. `filmStored` is d/dt of the film's strain energy (W), taken from outside so that
 * it need not come from the formulas it is to test (the tests differentiate the energy itself along the rates).
 */
export function powerBalance(line: Line, t: number, y: readonly number[], filmStored: number): PowerBalance {
  const dy = line.rates(t, y)
  const { rollers, spans } = line
  let stored = filmStored
  let supplied = 0
  let passing = Math.abs(filmStored)
  const take = (power: number) => {
    supplied += power
    passing += Math.abs(power)
  }
  for (let i = 0; i < rollers.count; i++) {
    stored += rollers.inertia[i] * rollers.speed[i] * rollers.acceleration[i]
    take(rollers.motor[i] * rollers.speed[i])
    take(-rollers.dragPower(i))
    take(-rollerLoss(line, i))
  }
  for (const c of line.carriages) {
    stored += c.storedPower(y, dy)
    take(c.suppliedPower(y))
  }
  for (let j = 0; j < spans.count; j++) {
    const elongation =
      spans.lengthRate[j] - rollers.radius[j] * rollers.speed[j] + rollers.radius[j + 1] * rollers.speed[j + 1]
    take(-(spans.force[j] - spans.pull[j]) * elongation)
    take(-spans.pull[j] * spans.growth[j])
    passing += Math.abs(spans.force[j] * rollers.radius[j] * rollers.speed[j])
  }
  take(filmEnergyIn(line))
  return { stored, supplied, passing }
}

function stiffnessAt(line: Line, i: number): number {
  return 1 / line.spans.give[i]
}

/** q EA (e_in - e_out)^2/2 at roller i, W; at the rolls the strain in which film lies wound is the other side. */
function rollerLoss(line: Line, i: number): number {
  const { rollers, spans } = line
  const last = rollers.count - 1
  const stiffness = stiffnessAt(line, i)
  const q = rollers.flux[i]
  if (i === 0 && q < 0) return 0
  if (i === last && q >= 0) return 0
  const upstream = i === 0 ? spans.woundIn - spans.free[0] : spans.pull[i - 1] / stiffness
  const downstream = i === last ? spans.woundOn - spans.free[last] : spans.pull[i] / stiffness
  return (Math.abs(q) * stiffness * (upstream - downstream) ** 2) / 2
}

/** Strain energy that film brings in at the unwind less what it takes out at the rewind, W. */
function filmEnergyIn(line: Line): number {
  const { rollers, spans } = line
  const last = rollers.count - 1
  const energy = (strain: number, i: number) => (stiffnessAt(line, i) * strain * strain) / 2
  const qIn = rollers.flux[0]
  const qOut = rollers.flux[last]
  const inStrain = qIn >= 0 ? spans.woundIn - spans.free[0] : spans.pull[0] / stiffnessAt(line, 0)
  const outStrain = qOut >= 0 ? spans.pull[last - 1] / stiffnessAt(line, last) : spans.woundOn - spans.free[last]
  return qIn * energy(inStrain, 0) - qOut * energy(outStrain, last)
}

/** Strain energy of the film in all spans for state y, J. The line must have been evaluated at y. */
export function filmEnergy(line: Line): number {
  let sum = 0
  for (let j = 0; j < line.spans.count; j++) sum += line.spans.energy(j)
  return sum
}
