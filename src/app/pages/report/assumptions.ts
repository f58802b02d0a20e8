/** What is not in the figures of a report, so that nobody looks for it there. The same list stands in README.md. */
export const notModelled: readonly string[] = [
  'Film slipping on a roller: the traction left is reported, the slip itself is not computed.',
  'Heat and moisture in a dryer: only a stated free strain of a whole film can be staged.',
  'Creep: the film is elastic, with a damping that a span may state, and goes slack rather than carry compression.',
  'Edge guiding, and across the width everything but what the Wrinkle page computes for one span.',
  'How fast air leaves a wound roll, creep in it, and pressure that differs across its width.',
  'Register of print from one unit to the next.',
  'Vibration of frames, backlash, and the current loops of drives.',
]
