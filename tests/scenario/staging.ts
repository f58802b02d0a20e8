/** What the tests of staged events stage. */
import { sample, spoilt, type Json } from './sample'

export type Case = [title: string, changes: Record<string, Json | undefined>, sentence: string]

export const changed = (changes: Record<string, Json | undefined>): Json =>
  Object.entries(changes).reduce<Json>((document, [path, value]) => spoilt(path, value, document), sample())

export const feed = { pattern: 'trapezoid', pitch: '200 mm', move: '0.5 s', ramp: '0.1 s' }
export const table = (...points: [number, number][]): Json => ({
  pattern: 'table',
  pitch: '200 mm',
  move: '0.5 s',
  table: points,
})
/** 20 m/min: a pitch of 200 mm takes 0.6 s */
export const indexed = { 'line/8/index': feed }
export const change = (at: string, to: string, roller = 'nip 1'): Json => ({
  at,
  do: 'changeover',
  roller,
  to,
  in: '0.2 s',
})
export const ramp = (at: string, to: string): Json => ({ at, do: 'speed', to, in: '2 s' })
export const event = (what: string, more: Record<string, Json>): Json => ({ at: '1 s', do: what, ...more })
export const position = (sample()['control'] as Json[])[0] ?? null
const tension = { control: 'tension trim', measures: 'idler 1', tension: '60 N' }
export const byTorque = { ...tension, drives: 'rewind', kind: 'torque', gain: '20 %' }
export const bySpeed = { ...tension, drives: 'unwind', kind: 'speed', gain: '0.01 m/min/N' }
export const forceTaper = { control: 'force taper', measures: 'rewind', drives: 'infeed dancer', tension: '60 N' }
export const core = { diameter: '100 mm', core: '90 mm' }
