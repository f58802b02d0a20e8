/**
 * How fast the line is: its fastest lively oscillation and its fastest decay, from the eigenvalues at the start.
 *
 * Equations    oscillation: |lambda| of the fastest pair with damping ratio below 0.5; decay: greatest -Re lambda
 * Neglected    change of the modes with film, speed and roll radius
 * Source       linear systems, textbook
 */
import { EigenvalueDecomposition } from 'ml-matrix'
import { jacobian } from '../line/jacobian'
import type { Line } from '../line/line'

export interface Pace {
  /** rad/s; 0 when nothing oscillates */
  readonly fastestMode: number
  /** 1/s */
  readonly fastestDecay: number
}

const LIVELY = 0.5

/** Pace of the line about state y at time t (s), with every roller free to turn. */
export function paceOf(line: Line, t: number, y: number[]): Pace {
  const modes = line.rollers.mode.slice()
  const held = line.carriages.map((c) => c.on)
  line.rollers.mode.fill(1)
  for (const c of line.carriages) c.on = 'free'
  const states = line.stateNames.map((_, k) => k)
  const { realEigenvalues, imaginaryEigenvalues } = new EigenvalueDecomposition(
    jacobian(line, t, y, states, line.scales()),
  )
  line.rollers.mode.set(modes)
  line.carriages.forEach((c, k) => (c.on = held[k]))
  line.rates(t, y)
  let fastestMode = 0
  let fastestDecay = 0
  realEigenvalues.forEach((real, k) => {
    const size = Math.hypot(real, imaginaryEigenvalues[k])
    fastestDecay = Math.max(fastestDecay, -real)
    if (imaginaryEigenvalues[k] !== 0 && -real < LIVELY * size) fastestMode = Math.max(fastestMode, size)
  })
  return { fastestMode, fastestDecay }
}
