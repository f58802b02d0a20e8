/** A short line and surroundings without files, for the tests of the command line. */
import type { RunCommand } from '../../src/headless/arguments'
import type { Surroundings } from '../../src/headless/run'

export const shortLine = {
  spanwright: 1,
  title: 'Tag base from roll to roll',
  films: {
    A: {
      thickness: '36 µm',
      width: '420 mm',
      modulus: '4.5 GPa',
      density: '1390 kg/m^3',
      poisson: 0.38,
      elasticLimit: '1 %',
    },
  },
  line: [
    {
      part: 'unwind',
      name: 'unwind',
      film: 'A',
      diameter: '300 mm',
      core: '90 mm',
      coreInertia: '0.01 kg m^2',
      woundTension: '70 N',
      drag: '0.2 N m',
      drive: { kind: 'servo', bandwidth: '15 rad/s', damping: 1, torqueLimit: '40 N m' },
    },
    { part: 'span', length: '700 mm' },
    {
      part: 'idler',
      name: 'idler 1',
      diameter: '80 mm',
      wrap: '90 deg',
      turn: 'left',
      inertia: '1.6e-3 kg m^2',
      drag: '0.01 N m',
    },
    { part: 'span', length: '400 mm' },
    {
      part: 'dancer',
      name: 'infeed dancer',
      diameter: '80 mm',
      wrap: '180 deg',
      turn: 'right',
      inertia: '1.6e-3 kg m^2',
      drag: '0.01 N m',
      mass: '4 kg',
      stiffness: '0 N/m',
      damping: '40 N s/m',
      force: '120 N',
      stores: 'down',
      lowerStop: '-90 mm',
      upperStop: '90 mm',
      setPoint: '0 mm',
    },
    { part: 'span', length: '400 mm' },
    {
      part: 'rewind',
      name: 'rewind',
      diameter: '120 mm',
      core: '90 mm',
      coreInertia: '0.01 kg m^2',
      drag: '0.2 N m',
      drive: { kind: 'servo', bandwidth: '15 rad/s', damping: 1, torqueLimit: '40 N m' },
    },
  ],
  control: [
    {
      control: 'position trim',
      measures: 'infeed dancer',
      drives: 'unwind',
      kind: 'speed',
      gain: '1.2 1/s',
      integral: '0.4 1/s^2',
      limit: '5 m/min',
    },
  ],
  speed: { start: '20 m/min', acceleration: '0.2 m/s^2', rounding: '25 %', threadingTension: '40 N' },
  stage: [{ at: '0.1 s', do: 'speed', to: '22 m/min', in: '0.3 s' }],
  limits: { shareOfElastic: '40 %', leastTension: '20 N' },
  run: { for: '0.5 s', tick: '10 ms' },
}

export const plainRun: RunCommand = {
  command: 'run',
  file: 'line.json',
  json: false,
  csv: undefined,
  sets: [],
  strict: false,
  timing: false,
}

export class FakeSurroundings implements Surroundings {
  readonly printed: string[] = []
  readonly complaints: string[] = []
  readonly closed: string[] = []
  readonly files: Map<string, string>
  private time = 0

  constructor(text = JSON.stringify(shortLine)) {
    this.files = new Map([['line.json', text]])
  }

  read = (file: string) => {
    const text = this.files.get(file)
    if (text === undefined) throw new Error('no such file')
    return text
  }

  write = (file: string) => {
    this.files.set(file, '')
    return {
      append: (text: string) => void this.files.set(file, (this.files.get(file) ?? '') + text),
      close: () => void this.closed.push(file),
    }
  }

  print = (line: string) => void this.printed.push(line)
  complain = (line: string) => void this.complaints.push(line)
  now = () => (this.time += 12.34)
}
