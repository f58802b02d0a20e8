/*
 * The line's equations once more, in C, integrated with SUNDIALS CVODE (BDF, dense difference-quotient Jacobian), from
 * tick to tick. Equations: line_rates.h. Input: line_text.h, written by bench_lines.py.
 *
 * Usage: cvode_line RTOL ATOL_FILE REPEATS < line.txt
 * Prints JSON: best wall time of REPEATS (integration only), work counters, the final state and the states every 0.1 s;
 * "tight" is the same at rtol 1e-11, absolute tolerances reduced alike.
 *
 * Source of the solver: Hindmarsh et al., ACM TOMS 31 (2005) 363-396 (from memory).
 */
#define _POSIX_C_SOURCE 199309L
#include <cvode/cvode.h>
#include <math.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>
#include <time.h>

#include "line_rates.h"

enum { TICKS_PER_SAMPLE = 10 };
static const double TIGHT = 1e-11;

static int rates(sunrealtype t, N_Vector state, N_Vector rate, void *data) {
  line_rates(data, t, N_VGetArrayPointer(state), N_VGetArrayPointer(rate));
  return 0;
}

typedef struct {
  double wall_ms;
  long steps, rhs, jacobians, factorings, rhs_for_jacobians, error_test_fails;
  double *samples; /* all states every TICKS_PER_SAMPLE ticks, the start included */
} Work;

static int tick_count(const Line *l) { return (int)lround(l->duration / l->tick); }

static void checked(int flag, const char *call) {
  if (flag < 0) fail(call);
}

static double now_ms(void) {
  struct timespec t;
  clock_gettime(CLOCK_MONOTONIC, &t);
  return (double)t.tv_sec * 1e3 + (double)t.tv_nsec * 1e-6;
}

static double run_once(void *cvode, const Line *l, N_Vector y, double *sample) {
  int ticks = tick_count(l);
  size_t size = sizeof(double) * (size_t)l->states;
  sunrealtype t;
  memcpy(N_VGetArrayPointer(y), l->start, size);
  memcpy(sample, l->start, size);
  checked(CVodeReInit(cvode, 0, y), "CVodeReInit");
  double before = now_ms();
  for (int k = 1; k <= ticks; k++) {
    checked(CVodeSetStopTime(cvode, k * l->tick), "CVodeSetStopTime");
    checked(CVode(cvode, k * l->tick, y, &t, CV_NORMAL), "CVode");
    if (k % TICKS_PER_SAMPLE == 0) memcpy(sample += l->states, N_VGetArrayPointer(y), size);
  }
  return now_ms() - before;
}

/* share: by how much the absolute tolerances are reduced. */
static Work integrate(Line *l, double rtol, const double *atol, double share, int repeats, N_Vector y,
                      SUNContext context) {
  N_Vector floor = N_VNew_Serial(l->states, context);
  for (int k = 0; k < l->states; k++) N_VGetArrayPointer(floor)[k] = atol[k] * share;
  SUNMatrix matrix = SUNDenseMatrix(l->states, l->states, context);
  SUNLinearSolver solver = SUNLinSol_Dense(y, matrix, context);
  void *cvode = CVodeCreate(CV_BDF, context);
  memcpy(N_VGetArrayPointer(y), l->start, sizeof(double) * (size_t)l->states);
  checked(CVodeInit(cvode, rates, 0, y), "CVodeInit");
  checked(CVodeSVtolerances(cvode, rtol, floor), "CVodeSVtolerances");
  checked(CVodeSetUserData(cvode, l), "CVodeSetUserData");
  checked(CVodeSetMaxNumSteps(cvode, 1000000), "CVodeSetMaxNumSteps");
  checked(CVodeSetLinearSolver(cvode, solver, matrix), "CVodeSetLinearSolver");
  Work work = {.wall_ms = INFINITY};
  work.samples = malloc(sizeof(double) * (size_t)l->states * (size_t)(tick_count(l) / TICKS_PER_SAMPLE + 1));
  if (work.samples == NULL) fail("no memory");
  for (int k = 0; k < repeats; k++) work.wall_ms = fmin(work.wall_ms, run_once(cvode, l, y, work.samples));
  CVodeGetNumSteps(cvode, &work.steps);
  CVodeGetNumRhsEvals(cvode, &work.rhs);
  CVodeGetNumJacEvals(cvode, &work.jacobians);
  CVodeGetNumLinSolvSetups(cvode, &work.factorings);
  CVodeGetNumLinRhsEvals(cvode, &work.rhs_for_jacobians);
  CVodeGetNumErrTestFails(cvode, &work.error_test_fails);
  CVodeFree(&cvode);
  SUNLinSolFree(solver);
  SUNMatDestroy(matrix);
  N_VDestroy(floor);
  return work;
}

/* The first n states are told as film held, m. */
static void print_state(const Line *l, const double *y) {
  for (int k = 0; k < l->states; k++)
    printf("%s%.16g", k ? ", " : "[", k < l->n ? l->spans[k].length + y[k] : y[k]);
  printf("]");
}

static void print_result(const Line *l, double rtol, const Work *work) {
  int last = tick_count(l) / TICKS_PER_SAMPLE;
  printf("\"rtol\": %g, \"wallMs\": %.4f, \"steps\": %ld, \"rhs\": %ld, ", rtol, work->wall_ms, work->steps,
         work->rhs + work->rhs_for_jacobians);
  printf("\"rhsForJacobians\": %ld, \"jacobians\": %ld, ", work->rhs_for_jacobians, work->jacobians);
  printf("\"factorings\": %ld, \"errorTestFails\": %ld, \"final\": ", work->factorings, work->error_test_fails);
  print_state(l, work->samples + last * l->states);
  printf(", \"samples\": [");
  for (int k = 0; k <= last; k++) {
    if (k) printf(", ");
    print_state(l, work->samples + k * l->states);
  }
  printf("]");
}

int main(int argc, char **argv) {
  static Line line;
  if (argc != 4) fail("usage: cvode_line RTOL ATOL_FILE REPEATS < line.txt");
  double rtol = atof(argv[1]);
  int repeats = atoi(argv[3]);
  if (rtol <= 0 || repeats < 1) fail("RTOL must be above 0, REPEATS at least 1");
  read_line(&line);
  double *atol = malloc(sizeof(double) * (size_t)line.states);
  FILE *file = fopen(argv[2], "r");
  if (atol == NULL || file == NULL) fail("cannot open ATOL_FILE");
  for (int k = 0; k < line.states; k++)
    if (fscanf(file, "%lf", &atol[k]) != 1) fail("ATOL_FILE must hold one number per state");
  fclose(file);
  SUNContext context;
  if (SUNContext_Create(NULL, &context) != 0) fail("SUNContext_Create");
  N_Vector y = N_VNew_Serial(line.states, context);
  Work work = integrate(&line, rtol, atol, 1, repeats, y, context);
  printf("{\"states\": %d, \"spans\": %d, \"sampleEvery\": %g, ", line.states, line.n, TICKS_PER_SAMPLE * line.tick);
  print_result(&line, rtol, &work);
  free(work.samples);
  work = integrate(&line, TIGHT, atol, TIGHT / rtol, 1, y, context);
  printf(", \"tight\": {");
  print_result(&line, TIGHT, &work);
  printf("}}\n");
  N_VDestroy(y);
  SUNContext_Free(&context);
  free(work.samples);
  free(atol);
  free(line.start);
  return 0;
}
