/** Film as drawn: one SVG path for each span, from the middle of one roller's wrap to the middle of the next one's. */
import { toPixels, type Frame } from './fit'
import { between, leftOf, plus, touching, turned, type Circle, type Point, type Straight } from './geometry'
import { strung } from './layout'

export interface Span {
  readonly name: string
  /** Numbers of the wheels from the roller that it leaves to the one that it comes to; bars between. */
  readonly wheels: readonly number[]
}

/** Spans as the run names them: film round a bar is one span. */
export function spansOf(wheels: readonly { kind: string; name: string }[]): Span[] {
  const rollers = wheels.flatMap((wheel, i) => (wheel.kind === 'bar' ? [] : [i]))
  return rollers.slice(1).flatMap((to, k) => {
    const from = rollers[k] ?? 0
    const name = `${wheels[from]?.name ?? ''} → ${wheels[to]?.name ?? ''}`
    return [{ name, wheels: Array.from({ length: to - from + 1 }, (_, i) => from + i) }]
  })
}

export interface Strung {
  readonly circles: readonly Circle[]
  readonly straights: readonly Straight[]
  /** rad, film on each circle */
  readonly wraps: readonly number[]
}

export function film(circles: readonly Circle[]): Strung {
  const straights = strung(circles)
  const wraps = circles.map((circle, i) => {
    const [arrives, leaves] = [straights[i - 1]?.heading, straights[i]?.heading]
    return arrives === undefined || leaves === undefined ? 0 : turned(circle, arrives, leaves)
  })
  return { circles, straights, wraps }
}

/** Heading of the film halfway round a circle. */
export function middleHeading({ circles, straights, wraps }: Strung, i: number): number {
  const arrives = straights[i - 1]?.heading ?? straights[i]?.heading ?? 0
  return arrives + ((circles[i]?.side ?? 1) * (wraps[i] ?? 0)) / 2
}

/** The roller that presses film onto a driven one: on the far side of the film. */
export function counterOf(strung: Strung, i: number): (Point & { readonly radius: number }) | undefined {
  const circle = strung.circles[i]
  if (!circle) return undefined
  const radius = circle.radius * 0.7
  const outward = leftOf(middleHeading(strung, i))
  return { ...plus(circle, outward, -circle.side * (circle.radius + radius)), radius }
}

const written = ({ x, y }: Point): string => `${x.toFixed(2)} ${y.toFixed(2)}`

/** How far slack film hangs, as a share of the straight: how long it is, nobody records. */
const hang = 0.14

export class FilmPath {
  constructor(
    private readonly strung: Strung,
    private readonly frame: Frame,
    private readonly falls: Point,
  ) {}

  /** @param slack whether it hangs */
  of({ wheels }: Span, slack: boolean): string {
    const first = wheels[0] ?? 0
    const start = this.#onto(first, middleHeading(this.strung, first))
    const pieces = wheels.slice(1).map((to, k) => {
      const from = wheels[k] ?? 0
      const straight = this.strung.straights[from]
      if (!straight) return ''
      const leaves = k === 0 ? this.#arc(from, 0.5, straight.from) : ''
      const arrives = this.#arcTo(to, k === wheels.length - 2)
      return leaves + this.#line(straight, slack) + arrives
    })
    return `M${start}${pieces.join('')}`
  }

  #onto(i: number, heading: number): string {
    const circle = this.strung.circles[i]
    return circle ? written(toPixels(this.frame, touching(circle, heading))) : '0 0'
  }

  /** Round circle i: to the middle of its wrap, or all the way. */
  #arcTo(i: number, half: boolean): string {
    const circle = this.strung.circles[i]
    if (!circle) return ''
    const leaves = half ? middleHeading(this.strung, i) : (this.strung.straights[i]?.heading ?? 0)
    return this.#arc(i, half ? 0.5 : 1, touching(circle, leaves))
  }

  #arc(i: number, share: number, to: Point): string {
    const [circle, wrap] = [this.strung.circles[i], (this.strung.wraps[i] ?? 0) * share]
    if (!circle || wrap === 0) return ''
    const radius = (circle.radius * this.frame.scale).toFixed(3)
    // Anticlockwise by a left turn, on the screen too.
    const flags = `${wrap > Math.PI ? 1 : 0} ${circle.side > 0 ? 0 : 1}`
    return `A${radius} ${radius} 0 ${flags} ${written(toPixels(this.frame, to))}`
  }

  #line({ from, to, heading, length }: Straight, slack: boolean): string {
    const end = written(toPixels(this.frame, to))
    if (!slack) return `L${end}`
    const left = leftOf(heading)
    const below = left.x * this.falls.x + left.y * this.falls.y >= 0 ? 1 : -1
    const bow = plus(between(from, to, 0.5), left, below * 2 * hang * length)
    return `Q${written(toPixels(this.frame, bow))} ${end}`
  }
}
