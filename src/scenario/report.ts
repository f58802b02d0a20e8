/** Gathers the problems that the cross checks find. */
import { own, problemAt, show, type Place, type Problem } from '../units'

export class Report {
  readonly problems: Problem[] = []

  constructor(readonly document: unknown) {}

  /**
   * The field at `place` does not go with the rest of the file. What was found is what stands there, in its own unit; where
   * nothing does, the default.
   */
  say(place: Place, expected: string, hint?: string, standing?: string): void {
    const found = standing === undefined || this.has(place) ? this.written(place) : `nothing, which means ${standing}`
    this.tell(place, found, expected, hint)
  }

  /** The same for what is not a single value. */
  tell(place: Place, found: string, expected: string, hint?: string): void {
    this.problems.push(problemAt(place, this.document, found, expected, hint))
  }

  private written(place: Place): string {
    return show(this.valueAt(place))
  }

  has(place: Place): boolean {
    return this.valueAt(place) !== undefined
  }

  private valueAt(place: Place): unknown {
    return place.reduce(own, this.document)
  }
}
