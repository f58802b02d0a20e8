/** Wrinkles: troughs in the span, folds on the roller, the grip that holds them, and what presses the film together. */
export { assess, type Against, type Assessment, type Grip, type Outcome } from './assess'
export { criticalAgainst, type Curves } from './against'
export { notModelled, type Cause } from './causes'
export { lineSpans, needed, type LineSpan, type SpanTension } from './line-spans'
export { plateStiffness } from './plate'
export { readSetting, settingSchema, startingDocument } from './setting'
export { type Knob, type Setting, type SettingDocument, type SettingReading } from './setting'
export { marginText, percentText, wordsOf, type Say, type Told } from './words'
