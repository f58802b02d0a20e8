/**
 * Linearisation of the line by central differences.
 *
 * Equations    A_ik = (f_i(y + d_k) - f_i(y - d_k))/(2 d_k), d_k = 1e-4 of what matters for state k
 * Neglected    switching: discrete states stay as they are
 * Source       numerical differentiation, textbook
 */
import { Matrix } from 'ml-matrix'
import type { Line } from './line'

const STEP = 1e-4

/** Matrix of d f_i/d y_k over the given states (indices), at time t (s). Leaves y as it was. */
export function jacobian(line: Line, t: number, y: number[], states: readonly number[], scales: Float64Array): Matrix {
  const a = new Matrix(states.length, states.length)
  states.forEach((k, column) => {
    const step = STEP * scales[k]
    const here = y[k]
    y[k] = here + step
    const ahead = line.rates(t, y).slice()
    y[k] = here - step
    const behind = line.rates(t, y)
    y[k] = here
    states.forEach((i, row) => a.set(row, column, (ahead[i] - behind[i]) / (2 * step)))
  })
  return a
}
