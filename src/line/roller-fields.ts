/** Fields that every part with a turning roller states. */
import * as v from 'valibot'
import { choice, nameText, plainNumber, quantity } from '../units'

export const nameField = nameText({ meaning: 'Name of the part, unlike any other on the line' })

export const dragFields = {
  drag: v.optional(
    quantity('torque', {
      meaning: 'Sliding drag of bearings and seals',
      usual: ['0.005 N m', '0.05 N m'],
      why: 'Every idler takes drag over radius from the tension that passes it; a stopped one keeps unequal tensions.',
      least: 0,
      most: 1e4,
      illustrative: true,
    }),
    '0 N m',
  ),
  breakaway: v.optional(
    quantity('torque', {
      meaning: 'Torque that it takes to set it going; left out, that of sliding drag',
      usual: ['0.01 N m', '0.2 N m'],
      why: 'Above sliding drag it makes rollers stick and slip, and leaves unequal tensions after a stop.',
      least: 0,
      most: 1e4,
      illustrative: true,
    }),
  ),
  viscousDrag: v.optional(
    quantity('viscousTorque', {
      meaning: 'Drag that grows with turn rate',
      usual: ['0 N m s', '0.002 N m s'],
      least: 0,
      most: 1e4,
    }),
    '0 N m s',
  ),
}

export const rollerFields = {
  name: nameField,
  diameter: quantity('diameter', { meaning: 'Diameter of the roller', usual: ['60 mm', '200 mm'], above: 0, most: 5 }),
  wrap: quantity('angle', {
    meaning: 'Angle over which the film lies on the roller',
    usual: ['20 deg', '180 deg'],
    least: 0,
    most: 2 * Math.PI,
  }),
  turn: choice(['left', 'right'], { meaning: 'Which way the film turns, seen along its path' }),
  inertia: quantity('inertia', {
    meaning: 'Moment of inertia about its axis',
    usual: ['0.5e-3 kg m²', '0.02 kg m²'],
    why: 'The film must speed it up and slow it down: a heavy idler costs tension in every ramp.',
    above: 0,
    most: 1e5,
  }),
  ...dragFields,
  friction: v.optional(
    plainNumber({
      meaning: 'Friction of film on the roller',
      usual: ['0.2', '0.45'],
      above: 0,
      most: 5,
      illustrative: true,
    }),
    0.3,
  ),
  roughness: v.optional(
    quantity('thickness', {
      meaning: 'Roughness of the surface, root mean square',
      usual: ['0.4 µm', '6 µm'],
      why: 'A rough roller keeps its grip at speeds at which film floats on a smooth one.',
      above: 0,
      most: 0.01,
      illustrative: true,
    }),
    '1.6 µm',
  ),
}
