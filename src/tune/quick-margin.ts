/**
 * Phase margin of a loop for a map, where thousands are wanted and a tenth of a degree does.
 *
 * Equations    as in margins.ts: 180 deg + angle of L where |L| = 1, the worst of all crossings
 * Neglected    crossings that come in pairs between two of the frequencies looked at; those round light modes are among these
 * Source       as loops.ts and margins.ts
 */
import { loopGain, loopOf, settles } from './loops'
import type { Plant } from './plant'

const PER_DECADE = 12
/** rad/s */
const LOWEST = 1e-3
/** Below this at every frequency a loop measures nothing of what it drives. */
const DEAF = 1e-6
const HALVINGS = 12

export interface QuickMargin {
  /** rad; negative where the line does not settle; NaN where there is none */
  readonly value: number
  readonly say?: string
}

/** Worst phase margin of trim `k`; pi where its gain never passes 1. */
export function quickMargin(plant: Plant, k: number): QuickMargin {
  const open = plant.loops[k]
  if (open === undefined || open.saturated) return refusedBy(plant, k)
  const loop = loopOf(plant, open)
  const sizeAt = (w: number) => loop.at(w).size
  const frequencies = gridOf(loop.top, loop.lively)
  const sizes = frequencies.map(sizeAt)
  if (!sizes.some((size) => size > DEAF)) return refusedBy(plant, k)
  let worst = Math.PI
  for (let i = 1; i < sizes.length; i++) {
    if (sizes[i - 1] > 1 === sizes[i] > 1) continue
    const margin = aboveTurn(loop.at(crossing(frequencies[i - 1], frequencies[i], sizeAt)).angle)
    if (Math.abs(margin) < Math.abs(worst)) worst = margin
  }
  // An unstable line has no margin, however its last crossing looks.
  return { value: settles(plant) ? worst : -Math.abs(worst) }
}

function refusedBy(plant: Plant, k: number): QuickMargin {
  const loop = loopGain(plant, k)
  return loop.ok ? { value: NaN } : { value: NaN, say: loop.say }
}

function gridOf(top: number, lively: readonly number[]): number[] {
  const count = Math.ceil(PER_DECADE * Math.log10(top / LOWEST))
  const even = Array.from({ length: count + 1 }, (_, k) => LOWEST * (top / LOWEST) ** (k / count))
  return [...even, ...lively.filter((w) => w > LOWEST && w < top)].sort((a, b) => a - b)
}

/** Where the gain passes 1, by halving in the logarithm. */
function crossing(low: number, high: number, sizeAt: (w: number) => number): number {
  let [from, to] = [low, high]
  const rises = sizeAt(to) > 1
  for (let k = 0; k < HALVINGS; k++) {
    const middle = Math.sqrt(from * to)
    if (sizeAt(middle) > 1 === rises) to = middle
    else from = middle
  }
  return Math.sqrt(from * to)
}

const aboveTurn = (angle: number) => (angle > 0 ? angle - Math.PI : angle + Math.PI)
