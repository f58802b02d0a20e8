/**
 * The film in all spans of the line.
 *
 * Variables    m_j, unstretched film held in span j (m, state); s_j = s_0 - sum of m before it, tape coordinate at roller j
 * Parameters   length L_j (m) and dL_j/dt from the dancers, stiffness (EA)_k (N) and free strain theta_k of each stretch of tape,
 *              film damping tau_f (s)
 * Equations    F_el = (L - sum m_k (1 + theta_k))/sum(m_k/(EA)_k);  lambda_k = 1 + theta_k + max(0, F_el)/(EA)_k, in the
 *              fluxes too
 *              q_i = R_i w_i/lambda of the film arriving at roller i;  dm_j/dt = q_j - q_{j+1}
 *              dF_el/dt = (dL/dt - sum lambda_k dm_k/dt - sum m_k dtheta_k/dt)/sum(m_k/(EA)_k)
 *              taut: F = max(0, F_el + tau_f dF_el/dt);  slack (F_el <= 0): F = 0, it hangs and passes on at its free length
 * Neglected    weight and sag, bending, width effects, temperature, creep
 * Source       conservation of film in a span: Whitworth & Harrison 1983, Shelton 1986 (attribution from memory);
 *              several films in one span and film damping: own derivation
 */
import type { Tape } from '../film/tape'
import type { Guard, Notice } from './part'
import type { Rollers } from './rollers'

export interface SpanSetup {
  readonly name: string
  /** m, at the dancers' zero position, half arcs included */
  readonly length: number
  /** m, without arcs */
  readonly free: number
  /** s */
  readonly damping: number
}

/** How far past an edge the film must run before another stretch counts as arriving: keeps a splice resting on a roller quiet, m. */
const EDGE_HYSTERESIS = 1e-9

export class Spans {
  readonly count: number
  readonly names: readonly string[]
  readonly restLength: Float64Array
  readonly length: Float64Array
  readonly lengthRate: Float64Array
  readonly damping: Float64Array
  readonly compliance: Float64Array
  readonly elastic: Float64Array
  readonly elasticRate: Float64Array
  readonly force: Float64Array
  readonly pull: Float64Array
  readonly coordinate: Float64Array
  readonly taut: Uint8Array
  /** stretch 1 + strain of the film that lies wound on the unwind and on the rewind, where it would come off next */
  woundIn = 1
  woundOn = 1
  private readonly tape: Tape
  private readonly rollers: Rollers
  /** strain per newton of the film on each roller, 1/N */
  readonly give: Float64Array
  /** stretch 1 + free strain of the film on each roller, and how it changes (1/s) */
  readonly free: Float64Array
  readonly freeRate: Float64Array
  /** unstretched film of each span at its free stretch (m), and how much longer it grows by itself (m/s) */
  private readonly freeLength: Float64Array
  readonly growth: Float64Array

  constructor(setups: readonly SpanSetup[], tape: Tape, rollers: Rollers) {
    const n = (this.count = setups.length)
    this.names = setups.map((s) => s.name)
    this.restLength = Float64Array.from(setups, (s) => s.length)
    this.length = this.restLength.slice()
    this.lengthRate = new Float64Array(n)
    this.damping = Float64Array.from(setups, (s) => s.damping)
    this.compliance = new Float64Array(n)
    this.elastic = new Float64Array(n)
    this.elasticRate = new Float64Array(n)
    this.force = new Float64Array(n)
    this.pull = new Float64Array(n)
    this.coordinate = new Float64Array(n + 1)
    this.taut = new Uint8Array(n).fill(1)
    this.tape = tape
    this.rollers = rollers
    this.give = new Float64Array(n + 1).fill(1 / tape.materials[0].stiffness)
    this.free = new Float64Array(n + 1).fill(1)
    this.freeRate = new Float64Array(n + 1)
    this.freeLength = new Float64Array(n)
    this.growth = new Float64Array(n)
  }

  /** From now on stretch k of the tape lies on roller i. */
  lay(i: number, k: number): void {
    this.rollers.material[i] = k
    this.give[i] = 1 / this.tape.materials[k].stiffness
    this.free[i] = 1 + this.tape.freeStrain[k]
    this.freeRate[i] = this.tape.freeStrainRate[k]
  }

  /**
   * From states and turn rates to fluxes, tensions and dm/dt. `s0` is the state index of the film unwound.
   * Allocates nothing.
   */
  flow(y: readonly number[], s0: number, dy: number[]): void {
    if (this.tape.edges.length > 0) this.locate(y, s0)
    this.stretchFilm(y)
    this.carryFilm()
    this.pullFilm(dy)
  }

  /** Tape coordinate at every roller. */
  locate(y: readonly number[], s0: number): void {
    const { count, coordinate } = this
    let s = (coordinate[0] = y[s0])
    for (let j = 0; j < count; j++) coordinate[j + 1] = s -= y[j]
  }

  private stretchFilm(y: readonly number[]): void {
    const { count, compliance, elastic, pull, length, give, free, freeRate, freeLength, growth } = this
    const material = this.rollers.material
    for (let j = 0; j < count; j++) {
      if (material[j] === material[j + 1]) {
        const m = y[j]
        compliance[j] = m * give[j]
        freeLength[j] = m * free[j]
        growth[j] = m * freeRate[j]
      } else this.mix(j, y[j])
      const f = (length[j] - freeLength[j]) / compliance[j]
      elastic[j] = f
      pull[j] = f > 0 ? f : 0
    }
  }

  /** sum m_k/(EA)_k, sum m_k (1 + theta_k) and its growth in a span in which several stretches of the tape lie. */
  private mix(j: number, held: number): void {
    const { rollers, tape, coordinate } = this
    const upper = rollers.material[j]
    const lower = rollers.material[j + 1]
    let compliance = 0
    // from the film held, not from the pieces: while an edge is being located it may lie beyond its roller
    let free = held
    let growth = 0
    for (let k = lower; k <= upper; k++) {
      const top = k === upper ? coordinate[j] : tape.upperEdge(k)
      const bottom = k === lower ? coordinate[j + 1] : tape.lowerEdge(k)
      const m = Math.max(0, top - bottom)
      compliance += m / tape.materials[k].stiffness
      free += m * tape.freeStrain[k]
      growth += m * tape.freeStrainRate[k]
    }
    this.compliance[j] = compliance
    this.freeLength[j] = free
    this.growth[j] = growth
  }

  private carryFilm(): void {
    const { count, pull, give, free } = this
    const { radius, speed, flux } = this.rollers
    for (let i = 0; i <= count; i++) {
      const surface = radius[i] * speed[i]
      const span = surface >= 0 ? i - 1 : i
      let stretch: number
      if (span < 0) stretch = this.woundIn
      else if (span >= count) stretch = this.woundOn
      else stretch = free[i] + pull[span] * give[i]
      flux[i] = surface / stretch
    }
  }

  private pullFilm(dy: number[]): void {
    const { count, compliance, elastic, elasticRate, force, lengthRate, damping, taut, give, free, growth } = this
    const flux = this.rollers.flux
    for (let j = 0; j < count; j++) {
      const f = elastic[j]
      const gain = (free[j] + f * give[j]) * flux[j]
      const loss = (free[j + 1] + f * give[j + 1]) * flux[j + 1]
      const rate = (lengthRate[j] - growth[j] - gain + loss) / compliance[j]
      elasticRate[j] = rate
      const total = f + damping[j] * rate
      force[j] = taut[j] === 1 && total > 0 ? total : 0
      dy[j] = flux[j] - flux[j + 1]
    }
  }

  /** Strain energy of span j, J. */
  energy(j: number): number {
    return 0.5 * this.pull[j] * this.pull[j] * this.compliance[j]
  }

  /** Least tension at which a stretch of film in span j reaches its elastic limit strain, N. */
  limitTension(j: number): number {
    const { materials } = this.tape
    let least = Infinity
    for (let k = this.rollers.material[j + 1]; k <= this.rollers.material[j]; k++) {
      least = Math.min(least, materials[k].stiffness * materials[k].elasticLimit)
    }
    return least
  }

  /** Sets m_j so that the span carries the elastic tension `force` at its present length and with the present stretches. */
  hold(j: number, force: number, y: number[], s0: number): void {
    for (let pass = 0; pass < 50; pass++) {
      this.locate(y, s0)
      this.stretchFilm(y)
      const next = y[j] + this.length[j] - this.freeLength[j] - force * this.compliance[j]
      const moved = Math.abs(next - y[j])
      y[j] = next
      if (moved < 1e-16) return
    }
  }

  /** Going slack and taking up again of span j. */
  slackGuard(j: number): Guard {
    return {
      name: this.names[j],
      value: () => (this.taut[j] === 1 ? -this.elastic[j] : this.elastic[j]),
      cross: () => {
        this.taut[j] = 1 - this.taut[j]
        return this.taut[j] === 1
          ? { what: 'taut', say: `The film ${this.names[j]} is taut again.` }
          : { what: 'slack', say: `The film ${this.names[j]} goes slack.` }
      },
    }
  }

  /** A change of film on the tape crossing roller i. `arrived` hears which stretch lies there now. */
  edgeGuard(i: number, arrived: (stretch: number, y: number[]) => void): Guard {
    const { tape, rollers, coordinate } = this
    const beyond = () => coordinate[i] - tape.upperEdge(rollers.material[i]) - EDGE_HYSTERESIS
    const behind = () => tape.lowerEdge(rollers.material[i]) - coordinate[i] - EDGE_HYSTERESIS
    return {
      name: rollers.names[i],
      value: () => (tape.edges.length === 0 ? -1 : Math.max(beyond(), behind())),
      cross: (_t, y) => {
        const before = rollers.material[i]
        this.lay(i, before + (beyond() > 0 ? 1 : -1))
        arrived(rollers.material[i], y)
        return this.passing(i, before)
      },
    }
  }

  /** What to tell when another stretch of the tape arrives at roller i: a splice once, at its first edge, and not where it was made. */
  private passing(i: number, before: number): Notice | undefined {
    const { materials } = this.tape
    const now = materials[this.rollers.material[i]]
    if (i === 0 || materials[before].overlap) return undefined
    const what = now.overlap ? `The splice ${now.name}` : now.name
    return { what: 'splice passes', say: `${what} reaches ${this.rollers.names[i]}.` }
  }
}
