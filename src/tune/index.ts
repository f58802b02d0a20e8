/** What the tuning room offers: the one door for workers, page and command line. */
export { formsOf, fromIdeal, fromRelative, integralTimeOf } from './forms'
export type { ControllerForms, FormBase, LoopSpec } from './forms'
