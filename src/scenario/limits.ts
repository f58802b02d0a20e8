/** The one set of size limits for what comes from outside. */

/** characters of a file, or of all text in a document */
export const MOST_TEXT = 2_000_000
export const MOST_PARTS = 500
export const MOST_EVENTS = 1000
/** levels of lists and objects inside each other */
export const MOST_DEPTH = 32
/** single values of any type in a document; the largest line with the most events has about a fifth of it */
export const MOST_VALUES = 100_000
/** ticks of one run */
export const MOST_TICKS = 1_000_000
/** problems told of one file */
export const MOST_PROBLEMS = 100
