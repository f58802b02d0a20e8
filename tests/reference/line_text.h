/* The line as cvode_line knows it, and its reading from the text that bench_lines.py writes (one order, no options). */
#ifndef LINE_TEXT_H
#define LINE_TEXT_H

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_ROLLERS = 200, MOST_RAMPS = 16 };

typedef enum { FREE, SERVO, TORQUE, LAG, IDEAL } Kind;
typedef enum { CONSTANT, LINEAR, HYPERBOLIC } Law;

typedef struct { double length, film_damping, per_travel; } Span;
typedef struct {
  Kind kind;
  double radius, estimate, inertia, drag, viscous_drag, draw, bandwidth, damping, lag, torque_limit;
} Roller;
typedef struct { double radius, core_radius, core_inertia; } Roll;
typedef struct { double at, duration, before, after, rounding; } Ramp;

typedef struct {
  double stiffness, effective_thickness, roll_density, width, wound_stretch;
  double start_speed;
  int ramp_count;
  Ramp ramps[MOST_RAMPS];
  int n; /* spans; rollers are 0..n */
  Span spans[MOST_ROLLERS];
  Roller rollers[MOST_ROLLERS + 1];
  Roll unwind, rewind;
  double taper_tension, taper, full_radius;
  Law law;
  double dancer_mass, dancer_stiffness, dancer_damping, dancer_push, spring_zero, set_point;
  int trim_drives, trim_is_ratio;
  double trim_gain, trim_integral, trim_limit, trim_sign;
  double duration, tick;
  int states;
  double *start;
} Line;

static void fail(const char *what) {
  fprintf(stderr, "cvode_line: %s\n", what);
  exit(1);
}

static double number(void) {
  double value;
  if (scanf("%lf", &value) != 1) fail("expected a number");
  return value;
}

static void word(const char *expected) {
  char found[32];
  if (scanf("%31s", found) != 1 || strcmp(found, expected) != 0) {
    fprintf(stderr, "cvode_line: expected the word %s\n", expected);
    exit(1);
  }
}

static int count_up_to(int most) {
  double value = number();
  if (value < 0 || value > most) fail("a count is out of range");
  return (int)value;
}

static Roll read_roll(const char *name) {
  word(name);
  Roll roll = {number(), 0, 0};
  roll.core_radius = number();
  roll.core_inertia = number();
  return roll;
}

static void read_roller(Roller *r) {
  r->kind = (Kind)count_up_to(IDEAL);
  r->radius = number(), r->estimate = number(), r->inertia = number();
  r->drag = number(), r->viscous_drag = number(), r->draw = number();
  r->bandwidth = number(), r->damping = number(), r->lag = number(), r->torque_limit = number();
}

static void read_film_and_speed(Line *l) {
  word("film");
  l->stiffness = number(), l->effective_thickness = number(), l->roll_density = number(), l->width = number();
  l->wound_stretch = number();
  word("speed");
  l->start_speed = number();
  l->ramp_count = count_up_to(MOST_RAMPS);
  for (int k = 0; k < l->ramp_count; k++) {
    Ramp *r = &l->ramps[k];
    r->at = number(), r->duration = number(), r->before = number(), r->after = number(), r->rounding = number();
  }
}

static void read_control(Line *l) {
  word("taper");
  l->law = (Law)count_up_to(HYPERBOLIC);
  l->taper_tension = number(), l->taper = number(), l->full_radius = number();
  word("dancer");
  l->dancer_mass = number(), l->dancer_stiffness = number(), l->dancer_damping = number();
  l->dancer_push = number(), l->spring_zero = number(), l->set_point = number();
  word("trim");
  l->trim_drives = count_up_to(l->n), l->trim_is_ratio = count_up_to(1);
  l->trim_gain = number(), l->trim_integral = number(), l->trim_limit = number(), l->trim_sign = number();
}

static void read_line(Line *l) {
  read_film_and_speed(l);
  word("spans");
  l->n = count_up_to(MOST_ROLLERS);
  for (int j = 0; j < l->n; j++)
    l->spans[j].length = number(), l->spans[j].film_damping = number(), l->spans[j].per_travel = number();
  word("rollers");
  for (int i = 0; i <= l->n; i++) read_roller(&l->rollers[i]);
  l->unwind = read_roll("unwind");
  l->rewind = read_roll("rewind");
  read_control(l);
  word("run");
  l->duration = number(), l->tick = number();
  word("state");
  l->states = count_up_to(4 * MOST_ROLLERS);
  l->start = malloc(sizeof(double) * (size_t)l->states);
  if (l->start == NULL) fail("no memory");
  for (int k = 0; k < l->states; k++) l->start[k] = number();
}

#endif
