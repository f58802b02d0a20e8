/** CSS pixels that charts and the strip of happenings share, so that their times stand one above the other. */
export const gutter = 58
export const rightEdge = 26
