/**
 * The stretch at which film lies in a roll, as it was when it went on.
 *
 * Variables    wound length s (m of unstretched film on the roll, from where the record begins)
 * Equations    stretch(s): linear between records; below the first record the stretch the roll was delivered with
 * Neglected    what later laps and time do to the tension of earlier ones (that is the roll's stress, another model)
 * Source       own derivation
 */
export class WoundRecord {
  readonly length: number[] = []
  readonly stretch: number[] = []
  /** N, wound-on tension: that of the last span and what a lay-on roller adds */
  readonly tension: number[] = []
  private base: number

  /** @param base stretch (1 + strain) of film that lay on the roll before the record begins */
  constructor(base: number) {
    this.base = base
  }

  /** Notes that film lying at wound length `s` (m) went on at `stretch` under `tension` (N). What lay above `s` came off. */
  note(s: number, stretch: number, tension: number): void {
    this.comeOff(s)
    this.length.push(s)
    this.stretch.push(stretch)
    this.tension.push(tension)
  }

  /** Forgets what lay above wound length `s`. */
  comeOff(s: number): void {
    const { length, stretch } = this
    while (length.length > 0 && length[length.length - 1] >= s) {
      length.pop()
      stretch.pop()
      this.tension.pop()
    }
  }

  /** A new roll takes the place of the old one. */
  replace(base: number): void {
    this.base = base
    this.length.length = 0
    this.stretch.length = 0
    this.tension.length = 0
  }

  /** The stretch of the film at wound length `s`. Records are few near the outside, where it is asked: looked up from there. */
  at(s: number): number {
    const { length, stretch } = this
    let k = length.length - 1
    if (k < 0) return this.base
    if (s >= length[k]) return stretch[k]
    while (k > 0 && length[k - 1] > s) k--
    if (k === 0) return this.base
    const share = (s - length[k - 1]) / (length[k] - length[k - 1])
    return stretch[k - 1] + share * (stretch[k] - stretch[k - 1])
  }
}
