/** A complex number. */
export class Complex {
  constructor(
    readonly re: number,
    readonly im: number,
  ) {}

  /** exp(j angle) */
  static turned(angle: number): Complex {
    return new Complex(Math.cos(angle), Math.sin(angle))
  }

  get size(): number {
    return Math.hypot(this.re, this.im)
  }

  /** rad, -pi..pi */
  get angle(): number {
    return Math.atan2(this.im, this.re)
  }

  plus(real: number): Complex {
    return new Complex(this.re + real, this.im)
  }

  minus(real: number): Complex {
    return new Complex(this.re - real, this.im)
  }

  times(real: number): Complex {
    return new Complex(this.re * real, this.im * real)
  }

  add(other: Complex): Complex {
    return new Complex(this.re + other.re, this.im + other.im)
  }

  less(other: Complex): Complex {
    return new Complex(this.re - other.re, this.im - other.im)
  }

  by(other: Complex): Complex {
    return new Complex(this.re * other.re - this.im * other.im, this.re * other.im + this.im * other.re)
  }

  over(other: Complex): Complex {
    const square = other.re * other.re + other.im * other.im
    return new Complex(
      (this.re * other.re + this.im * other.im) / square,
      (this.im * other.re - this.re * other.im) / square,
    )
  }
}
