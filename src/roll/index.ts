/** The wound roll: taper, wound-on tension, pressure and stress, what happens to it later, and what it is held against. */
export { assess, type Finding, type FindingKey } from './assess'
export { buildAt, driveTable, fillFactorFrom, type DriveRow } from './build'
export { bases, rollInput, type Basis, type InputName, type RollInput } from './input'
export { convert, finalTension, tensionAt, type Aim, type Law } from './laws'
export { solveRoll, type RollOutcome, type RollResult } from './solve'
export { fitStack, type StackFit, type StackLaw, type TestPoint } from './stack-test'
export { ringOf, type Ring } from './wound-on'
