/** What the tuning room offers: the one door for workers, page and command line. */
export { formsOf, fromIdeal, fromRelative, integralTimeOf } from './forms'
export type { ControllerForms, FormBase, LoopSpec } from './forms'
export { modesOf } from './modes'
export type { DancerFrequencies, Mode, ModeKind, Modes, Participant } from './modes'
export { standAt, type Point, type Standing, type Trouble } from './setup'
export { plantOf, type Input, type OpenLoop, type Output, type Plant } from './plant'
