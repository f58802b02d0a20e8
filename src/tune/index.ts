/** What checks and the command line take of the tuning room. */
export { loopGain, type LoopGain } from './loops'
export { marginCourse, trimsOf, worstOf, type MarginPoint } from './margin-course'
export { modesOf, type Modes } from './modes'
export { plantOf } from './plant'
export { Responses } from './response'
export { cancelling, rippleAt, type RippleDancer } from './ripple'
export { standAt, type Trouble } from './setup'
export { storage } from './sizing'
