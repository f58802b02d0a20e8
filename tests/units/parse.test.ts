/**
 * Text with a unit to SI and back. Sources of the figures: the international inch and pound of 1959, standard gravity
 * 9.80665 m/s^2, mechanical horsepower of 550 ft lbf/s; the compound figures are worked out from these by hand.
 */
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { formatQuantity, fromUnit, kindNames, kinds, parseQuantity, toUnit, type Kind } from '../../src/units'

function si(text: string, kind: Kind): number {
  const parsed = parseQuantity(text, kind)
  if (!parsed.ok) throw new Error(`${text}: ${parsed.expected} ${parsed.hint ?? ''}`)
  return parsed.value
}

function refusal(text: string, kind: Kind): string {
  const parsed = parseQuantity(text, kind)
  return parsed.ok ? `taken as ${parsed.value}` : [parsed.expected, parsed.hint].join(' | ')
}

describe('values that a definition fixes', () => {
  test.each<[string, Kind, number]>([
    ['36 µm', 'thickness', 3.6e-5],
    ['1.2 mil', 'thickness', 3.048e-5],
    ['142 gauge', 'thickness', 3.6068e-5],
    ['80 mm', 'diameter', 0.08],
    ['3 cm', 'length', 0.03],
    ['1 in', 'length', 0.0254],
    ['10 ft', 'length', 3.048],
    ['1 lbf', 'force', 4.4482216152605],
    ['1 kgf', 'force', 9.80665],
    ['2 kN', 'force', 2000],
    ['1 N/cm', 'forcePerWidth', 100],
    ['1 kN/m', 'forcePerWidth', 1000],
    ['25 m/min', 'speed', 25 / 60],
    ['60 ft/min', 'speed', 0.3048],
    ['1 m/min/s', 'acceleration', 1 / 60],
    ['1 ft/s^2', 'acceleration', 0.3048],
    ['1 Hz', 'angularSpeed', 2 * Math.PI],
    ['1 mbar', 'pressure', 100],
    ['1 bar', 'pressure', 1e5],
    ['4.5 GPa', 'modulus', 4.5e9],
    ['20 °C', 'temperature', 293.15],
    ['0 K', 'temperature', 0],
    ['1 °C', 'temperatureDifference', 1],
    ['9 °F', 'temperatureDifference', 5],
    ['5 1/°F', 'perTemperature', 9],
    ['1 lb', 'mass', 0.45359237],
    ['50 g/m^2', 'arealDensity', 0.05],
    ['1.39 g/cm^3', 'density', 1390],
    ['7 mN m', 'torque', 0.007],
    ['3 N/mm', 'stiffness', 3000],
    ['1 kW', 'power', 1000],
    ['12.5 %', 'fraction', 0.125],
    ['180 deg', 'angle', Math.PI],
    ['2 mm/m', 'slope', 0.002],
    ['12 mil/ft', 'slope', 0.001],
    ['250 ms', 'time', 0.25],
    ['1.5 min', 'time', 90],
    ['4 1/mm', 'trimGainRatio', 4000],
    ['2 %/mm', 'trimGainRatio', 20],
    ['2 %/(mm s)', 'trimIntegralRatio', 20],
  ])('%s as %s', (text, kind, value) => {
    expect(si(text, kind)).toBe(value)
  })

  test.each<[string, Kind, number]>([
    ['1 psi', 'pressure', 6894.757293168361],
    ['1 ksi', 'modulus', 6894757.293168361],
    ['1 lbf/in', 'stiffness', 175.12683524647636],
    ['1 PLI', 'forcePerWidth', 175.12683524647636],
    ['1 lbf in', 'torque', 0.1129848290276167],
    ['1 lbf ft', 'torque', 1.3558179483314004],
    ['1 lb in^2', 'inertia', 2.926396534292e-4],
    ['1 lb ft^2', 'inertia', 0.0421401100938048],
    ['1 lb/ft^3', 'density', 16.018463373960142],
    ['1 lbf s/in', 'damping', 175.12683524647636],
    ['1 lbf in s', 'viscousTorque', 0.1129848290276167],
    ['30 rpm', 'angularSpeed', Math.PI],
    ['1 hp', 'power', 745.6998715822702],
    ['68 °F', 'temperature', 293.15],
    ['-459.67 °F', 'temperature', 0],
    ['1 %/in', 'trimGainRatio', 0.01 / 0.0254],
  ])('%s as %s, to the last bits', (text, kind, value) => {
    expect(Math.abs(si(text, kind) - value)).toBeLessThanOrEqual(4e-16 * Math.max(Math.abs(value), 1))
  })
})

describe('one unit, many spellings', () => {
  test.each<[Kind, string, readonly string[]]>([
    ['thickness', '36 µm', ['36µm', '36 um', '36 μm', '36\u00a0µm', '36\u202fµm', '+36 µm', '3.6e1 µm', ' 36  µm ']],
    ['travel', '-5 mm', ['\u22125 mm', '-5mm', '-.5e1 mm', '-0.5E+1 mm', '\u2212500e\u22122 mm']],
    ['inertia', '2 kg m^2', ['2 kg m²', '2 kg·m²', '2 kg⋅m^2', '2 kg*m^2', '2 m^2 kg', '2 (kg m^2)']],
    ['heatTransfer', '60 W/(m^2 K)', ['60 W/(m²·K)', '60 W/m²/K', '60 W m^-2 K^-1', '60 W m⁻² K⁻¹', '60 W/m^2/K']],
    ['specificHeat', '900 J/(kg K)', ['900 J/kg/K', '900 J/(kg·K)', '900J/(kg K)']],
    ['torque', '3 N m', ['3 Nm', '3 N·m', '3 m N', '3 N*m']],
    ['torque', '3 mN m', ['3 mNm', '3 mN·m']],
    ['torque', '3 lbf ft', ['3 ft lbf', '3 ft·lbf']],
    ['speed', '60 ft/min', ['60 fpm', '60 ft/min']],
    ['forcePerWidth', '3 lbf/in', ['3 PLI', '3 pli', '3 lbf / in']],
    ['angle', '90 deg', ['90°', '90 °', '90deg']],
    ['fraction', '5 %', ['5%', '5\u00a0%']],
    ['trimGainSpeed', '2 1/s', ['2 s^-1', '2 s⁻¹', '2 1 / s']],
    ['trimIntegralRatio', '3 1/(m s)', ['3 1/m/s', '3 1/(m·s)']],
    ['acceleration', '3 m/s^2', ['3 m/s²', '3 m/s/s']],
    ['density', '3 lb/ft^3', ['3 lb/ft³']],
  ])('%s: %s', (kind, plain, others) => {
    for (const other of others) expect(si(other, kind), other).toBe(si(plain, kind))
  })

  test('a unit is told in the spelling that is shown', () => {
    expect(parseQuantity('3 um', 'thickness')).toEqual({ ok: true, value: 3e-6, unit: 'µm', number: 3 })
    expect(parseQuantity('3 pli', 'forcePerWidth')).toMatchObject({ unit: 'lbf/in' })
  })

  test('minus zero is zero', () => {
    expect(Object.is(si('-0 mm', 'travel'), 0)).toBe(true)
  })
})

describe('every unit of every kind', () => {
  const pairs = kindNames.flatMap((kind) => kinds[kind].units.map((unit) => [kind, unit] as const))

  test.each(pairs)('%s in %s reads back what was written, to the last digit', (kind, unit) => {
    const numbers = fc.tuple(fc.integer({ min: -999999, max: 999999 }), fc.integer({ min: -9, max: 3 }))
    fc.assert(
      fc.property(numbers, fc.integer({ min: 3, max: 9 }), ([mantissa, power], digits) => {
        const value = fromUnit(mantissa * 10 ** power, unit, kind)
        fc.pre(Math.abs(value) < 1e14 && (kind !== 'temperature' || value >= 0))
        const text = formatQuantity(value, unit, digits, kind)
        fc.pre(!(kind === 'temperature' && fromUnit(parseFloat(text), unit, kind) < 0))
        const parsed = parseQuantity(text, kind)
        expect(parsed).toMatchObject({ ok: true, unit })
        if (parsed.ok) expect(formatQuantity(parsed.value, unit, digits, kind)).toBe(text)
      }),
    )
  })

  test.each(pairs)('%s in %s: to SI and back is the same number', (kind, unit) => {
    fc.assert(
      fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), (number) => {
        const back = toUnit(fromUnit(number, unit, kind), unit, kind)
        expect(Math.abs(back - number)).toBeLessThanOrEqual(1e-15 * Math.max(Math.abs(number), 1000))
      }),
    )
  })

  test.each(kindNames)('%s takes its own example, and a metric and an inch unit', (kind) => {
    const { example, metric, inch, si: standard } = kinds[kind]
    expect(refusal(example, kind)).toMatch(/^taken as/)
    expect(kinds[kind].units).toEqual(expect.arrayContaining([metric, inch]))
    if (standard !== '1') expect(parseQuantity(`7 ${standard}`, kind)).toMatchObject({ value: 7 })
  })

  test('never throws, whatever the text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), fc.constantFrom(...kindNames), (text, kind) => {
        expect(typeof parseQuantity(text, kind).ok).toBe('boolean')
      }),
      { numRuns: 2000 },
    )
  })
})

describe('what is refused, and what is said', () => {
  test.each<[string, Kind, RegExp]>([
    ['80', 'diameter', /a diameter with a unit, such as "80 mm" \| write "80 mm", or with another of its units: in, m/],
    ['0,5 mm', 'length', /write "0.5 mm" with a decimal point/],
    ['0,500 mm', 'length', /write "0.500 mm" with a decimal point$/],
    ['1,250 mm', 'length', /write "1.250 mm" with a decimal point, or "1250 mm" if thousands were meant/],
    ['1,250,000 mm', 'length', /without separators between thousands/],
    ['1.250,5 mm', 'length', /without separators between thousands/],
    ['1 250 mm', 'length', /without separators between thousands/],
    ["1'250 mm", 'length', /without separators between thousands/],
    ['1_250 mm', 'length', /without separators between thousands/],
    ['5. mm', 'length', /write "5 mm"/],
    ['1.2.3 mm', 'length', /one decimal point/],
    ['0x10 mm', 'length', /ordinary decimal digits/],
    ['NaN mm', 'length', /ordinary, finite number/],
    ['Infinity mm', 'length', /ordinary, finite number/],
    ['-Infinity mm', 'length', /ordinary, finite number/],
    ['1e308 mm', 'length', /too large/],
    ['1e999 mm', 'length', /too large/],
    ['2e15 m', 'length', /too large/],
    ['1e-400 mm', 'length', /too small/],
    ['mm', 'length', /the number before "mm" is missing/],
    ['', 'length', /a length with a unit, such as "700 mm"/],
    ['wide', 'width', /begin with a number/],
    ['3 kg', 'force', /"kg" is a mass, not a force; write "3 kgf", or a force in one of N, lbf/],
    ['3 lb', 'force', /write "3 lbf"/],
    ['300 g', 'force', /"g" is a mass, not a force; write a force in one of N, lbf/],
    ['3 lb/in', 'forcePerWidth', /write "3 lbf\/in"/],
    ['3 lb in', 'torque', /write "3 lbf in"/],
    ['80 N', 'diameter', /"N" measures a force/],
    ['3 kgf', 'mass', /"kgf" measures a force/],
    ['80 MM', 'diameter', /did you mean "80 mm"\?/],
    ['20 m/mn', 'speed', /did you mean "20 m\/min"\?/],
    ['60 W/m^2 K', 'heatTransfer', /did you mean "60 W\/\(m² K\)"\?/],
    ['3 furlong', 'length', /"furlong" is not a unit it takes; it takes mm, in, m, cm/],
    ['3 ppm', 'fraction', /not a unit it takes; it takes %/],
    ['0.5', 'fraction', /write "0.5 %"/],
    ['-300 °C', 'temperature', /below absolute zero/],
    ['3 m^9^9', 'length', /not a unit/],
    ['3 (((m', 'length', /not a unit|did you mean/],
    ['3 __proto__', 'length', /not a unit/],
    ['3 constructor', 'length', /not a unit/],
  ])('%s as %s', (text, kind, message) => {
    expect(refusal(text, kind)).toMatch(message)
  })

  test('a text of any length is refused in time', () => {
    expect(refusal('1'.repeat(1_000_000), 'length')).toMatch(/a length with a unit/)
    expect(refusal(`1 ${'m('.repeat(100)}`, 'length')).toMatch(/a length with a unit/)
  })

  test('a unit that code names wrongly is an error of the program', () => {
    expect(() => toUnit(1, 'furlong')).toThrow('furlong')
  })
})

describe('numbers as text', () => {
  test.each<[number, string, number, string]>([
    [3.6e-5, 'µm', 6, '36 µm'],
    [25 / 60, 'm/min', 6, '25 m/min'],
    [1.6e-3, 'kg m^2', 4, '0.0016 kg m^2'],
    [1.7e-5, '1/K', 4, '1.7e-5 1/K'],
    [-0.09, 'mm', 4, '-90 mm'],
    [0, 'N', 4, '0 N'],
    [123456789, 'Pa', 4, '1.235e8 Pa'],
    [0.125, '%', 2, '13 %'],
    [Number.NaN, 'N', 4, '— N'],
  ])('%d in %s with %d digits', (value, unit, digits, text) => {
    expect(formatQuantity(value, unit, digits)).toBe(text)
  })
})
