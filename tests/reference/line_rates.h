/*
 * Rates of the line's states; film taut and speeds positive, so nothing switches.
 *
 * State: x_j = m_j - L_j per span (m unstretched film held, L length at z = 0; the difference, so that a relative
 * tolerance means strain), w per roller free to turn, film unwound, film wound, z, z' of the dancer, torque integral
 * per servo, integral of the trim.
 *
 *   dm_j/dt = q_j - q_{j+1}, q = R w/lambda(arriving), F_el = EA (L - m)/m, F = F_el + filmDamping dF_el/dt
 *   J dw/dt = R (F_downstream - F_upstream) - drag - viscousDrag w + motor
 *   M z'' = push - sum g F - damping z' - stiffness (z - springZero)
 *
 * Sources: mass balance of a span, Whitworth & Harrison 1983 and Shelton 1986 (years from memory); the form exact at
 * any strain and the layout are own derivation.
 */
#ifndef LINE_RATES_H
#define LINE_RATES_H

#include <math.h>

#include "line_text.h"

static const double PI = 3.14159265358979323846;

static double clamp(double value, double limit) { return value > limit ? limit : value < -limit ? -limit : value; }

static double sign_of(double value) { return value > 0 ? 1 : value < 0 ? -1 : 0; }

/* Speed and acceleration within one ramp: trapezoid of acceleration, ends of constant jerk. */
static void within_ramp(const Ramp *r, double since, double *v, double *a) {
  double full = (r->after - r->before) / (r->duration * (1 - r->rounding)), end = r->rounding * r->duration;
  double left = r->duration - since;
  if (since < end) {
    *a = full * since / end;
    *v = r->before + *a * since / 2;
  } else if (left > end) {
    *a = full;
    *v = r->before + full * (since - end / 2);
  } else {
    *a = full * left / end;
    *v = r->after - *a * left / 2;
  }
}

static void line_speed(const Line *l, double t, double *v, double *a) {
  *v = l->start_speed, *a = 0;
  for (int k = 0; k < l->ramp_count && t >= l->ramps[k].at; k++) {
    const Ramp *r = &l->ramps[k];
    if (t < r->at + r->duration) {
      within_ramp(r, t - r->at, v, a);
      return;
    }
    *v = r->after;
  }
}

static void roll_now(const Line *l, const Roll *roll, double film, double *radius, double *inertia) {
  double square = roll->radius * roll->radius + l->effective_thickness * film / PI;
  double core = roll->core_radius * roll->core_radius;
  *radius = sqrt(square);
  *inertia = roll->core_inertia + PI / 2 * l->roll_density * l->width * (square * square - core * core);
}

static double taper_force(const Line *l, double radius) {
  double core = l->rewind.core_radius;
  if (l->law == LINEAR) return l->taper_tension * (1 - l->taper * (radius - core) / (l->full_radius - core));
  if (l->law == HYPERBOLIC) return l->taper_tension * (1 - l->taper * (1 - core / radius));
  return l->taper_tension;
}

typedef struct {
  double v, a, z, z_rate, trim, trim_raw;
  double w[MOST_ROLLERS + 1], radius[MOST_ROLLERS + 1], inertia[MOST_ROLLERS + 1], target[MOST_ROLLERS + 1];
  double force[MOST_ROLLERS];
} Now;

static void speeds(const Line *l, double t, const double *y, Now *s, const double **rest) {
  line_speed(l, t, &s->v, &s->a);
  const double *w = y + l->n;
  for (int i = 0; i <= l->n; i++) s->w[i] = l->rollers[i].kind == IDEAL ? 0 : *w++;
  double film = w[0], wound = w[1];
  s->z = w[2], s->z_rate = w[3];
  *rest = w + 4;
  s->trim_raw = l->trim_sign * (l->trim_gain * (s->z - l->set_point) + l->trim_integral * y[l->states - 1]);
  s->trim = clamp(s->trim_raw, l->trim_limit);
  for (int i = 0; i <= l->n; i++) s->radius[i] = l->rollers[i].radius, s->inertia[i] = l->rollers[i].inertia;
  roll_now(l, &l->unwind, -film, &s->radius[0], &s->inertia[0]);
  roll_now(l, &l->rewind, wound, &s->radius[l->n], &s->inertia[l->n]);
  for (int i = 0; i <= l->n; i++) {
    const Roller *r = &l->rollers[i];
    double estimate = i == 0 || i == l->n ? s->radius[i] : r->estimate, ratio = 1 + r->draw, extra = 0;
    if (i == l->trim_drives && l->trim_is_ratio) ratio += s->trim;
    if (i == l->trim_drives && !l->trim_is_ratio) extra = s->trim;
    s->target[i] = (s->v * ratio + extra) / estimate;
    if (r->kind == IDEAL) s->w[i] = s->target[i];
  }
}

/* Fluxes into dm, tensions into s->force; returns what the film pulls on the dancer's carriage. */
static double film(const Line *l, const double *y, Now *s, double *dm, double *unwound, double *wound) {
  double stretch_before = l->wound_stretch, pull = 0;
  double flux = s->radius[0] * s->w[0] / stretch_before;
  *unwound = flux;
  for (int j = 0; j < l->n; j++) {
    const Span *span = &l->spans[j];
    double held = span->length + y[j];
    double elastic = l->stiffness * (span->per_travel * s->z - y[j]) / held;
    double stretch = 1 + (elastic > 0 ? elastic / l->stiffness : 0);
    double leaving = s->radius[j + 1] * s->w[j + 1] / stretch;
    dm[j] = flux - leaving;
    double rate = (span->per_travel * s->z_rate - stretch * dm[j]) * l->stiffness / held;
    double force = elastic + span->film_damping * rate;
    s->force[j] = elastic > 0 && force > 0 ? force : 0;
    pull += span->per_travel * s->force[j];
    flux = leaving;
  }
  *wound = flux;
  return pull;
}

/* Motor torque of roller i; a servo also steps on through its integrals and their rates. */
static double motor(const Line *l, const Now *s, int i, const double **integral, double **integral_rate) {
  const Roller *r = &l->rollers[i];
  if (r->kind == SERVO) {
    double miss = s->target[i] - s->w[i], raw = 2 * r->damping * r->bandwidth * s->inertia[i] * miss + *(*integral)++;
    double torque = clamp(raw, r->torque_limit);
    *(*integral_rate)++ =
        r->bandwidth * r->bandwidth * s->inertia[i] * miss + (torque - raw) * r->bandwidth / (2 * r->damping);
    return torque;
  }
  if (r->kind != TORQUE) return 0;
  double drag = r->drag * sign_of(s->v) + r->viscous_drag * s->w[i];
  double force = taper_force(l, s->radius[i]);
  return clamp(force * s->radius[i] + drag + s->inertia[i] * s->a / s->radius[i], r->torque_limit);
}

static void line_rates(const Line *l, double t, const double *y, double *dy) {
  const double *integral;
  double unwound, wound;
  Now s;
  speeds(l, t, y, &s, &integral);
  double *dw = dy + l->n, *integral_rate = dy + (integral - y);
  double pull = film(l, y, &s, dy, &unwound, &wound);
  for (int i = 0; i <= l->n; i++) {
    const Roller *r = &l->rollers[i];
    if (r->kind == IDEAL) continue;
    if (r->kind == LAG) {
      *dw++ = (s.target[i] - s.w[i]) / r->lag;
      continue;
    }
    double force = (i < l->n ? s.force[i] : 0) - (i > 0 ? s.force[i - 1] : 0);
    double drag = r->drag * sign_of(s.w[i]) + r->viscous_drag * s.w[i];
    *dw++ = (s.radius[i] * force - drag + motor(l, &s, i, &integral, &integral_rate)) / s.inertia[i];
  }
  *dw++ = unwound, *dw++ = wound, *dw++ = s.z_rate;
  double spring = l->dancer_stiffness * (s.z - l->spring_zero);
  *dw = (l->dancer_push - pull - l->dancer_damping * s.z_rate - spring) / l->dancer_mass;
  *integral_rate = s.z - l->set_point + (s.trim - s.trim_raw) * l->trim_sign / l->trim_gain;
}

#endif
