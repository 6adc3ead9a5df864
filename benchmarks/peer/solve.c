#include "solve.h"
#include <cvode/cvode.h>
#include <math.h>
#include <nvector/nvector_serial.h>
#include <stdlib.h>
#include <string.h>
#include <sunlinsol/sunlinsol_band.h>
#include <sunlinsol/sunlinsol_klu.h>
#include <sunlinsol/sunlinsol_spgmr.h>
#include <sunmatrix/sunmatrix_band.h>
#include <sunmatrix/sunmatrix_sparse.h>
#include <time.h>

typedef struct {
	Body *body;
	double stop;                    /* state of the centre that ends the run */
	double gamma, *pivot;           /* incomplete factors of 1 - gamma J; reciprocal pivots */
} Run;

static int rate(realtype t, N_Vector y, N_Vector dy, void *user)
{
	(void)t;
	body_rate(((Run *)user)->body, N_VGetArrayPointer(y), N_VGetArrayPointer(dy));
	return 0;
}

static int centre_hot(realtype t, N_Vector y, realtype *g, void *user)
{
	(void)t;
	g[0] = N_VGetArrayPointer(y)[0] - ((Run *)user)->stop;
	return 0;
}

static int fill_band(realtype t, N_Vector y, N_Vector fy, SUNMatrix J, void *user, N_Vector a, N_Vector b, N_Vector c)
{
	(void)t, (void)fy, (void)a, (void)b, (void)c;
	Body *body = ((Run *)user)->body;
	body_derivative(body, N_VGetArrayPointer(y));
	for (int j = 0; j < body->n; j++) {
		realtype *column = SM_COLUMN_B(J, j);
		SM_COLUMN_ELEMENT_B(column, j, j) = body->diag[j];
		for (int d = 0; d < body->c->dims; d++) {
			int s = body->stride[d];
			if (j >= s) SM_COLUMN_ELEMENT_B(column, j - s, j) = body->up[d][j - s];
			if (j + s < body->n) SM_COLUMN_ELEMENT_B(column, j + s, j) = body->lo[d][j];
		}
	}
	return 0;
}

static int fill_sparse(realtype t, N_Vector y, N_Vector fy, SUNMatrix J, void *user, N_Vector a, N_Vector b, N_Vector c)
{
	(void)t, (void)fy, (void)a, (void)b, (void)c;
	Body *body = ((Run *)user)->body;
	sunindextype *start = SM_INDEXPTRS_S(J), *row = SM_INDEXVALS_S(J), at = 0;
	realtype *value = SM_DATA_S(J);
	body_derivative(body, N_VGetArrayPointer(y));
	for (int j = 0; j < body->n; j++) {
		start[j] = at;
		for (int d = body->c->dims - 1; d >= 0; d--)
			if (j >= body->stride[d]) { row[at] = j - body->stride[d]; value[at++] = body->up[d][j - body->stride[d]]; }
		row[at] = j; value[at++] = body->diag[j];
		for (int d = 0; d < body->c->dims; d++)
			if (j + body->stride[d] < body->n) { row[at] = j + body->stride[d]; value[at++] = body->lo[d][j]; }
	}
	start[body->n] = at;
	return 0;
}

/* J v from the derivative kept since the last set-up, as the direct solvers do. */
static int times(N_Vector v, N_Vector Jv, realtype t, N_Vector y, N_Vector fy, void *user, N_Vector tmp)
{
	(void)t, (void)y, (void)fy, (void)tmp;
	Body *b = ((Run *)user)->body;
	const double *restrict x = N_VGetArrayPointer(v);
	double *restrict r = N_VGetArrayPointer(Jv);
	for (int i = 0; i < b->n; i++) r[i] = b->diag[i] * x[i];
	for (int d = 0; d < b->c->dims; d++) {
		int s = b->stride[d], n = b->n - s;
		const double *restrict up = b->up[d], *restrict lo = b->lo[d];
		for (int i = 0; i < n; i++) r[i] += up[i] * x[i + s];
		for (int i = 0; i < n; i++) r[i + s] += lo[i] * x[i];
	}
	return 0;
}

/* Incomplete LU without fill of 1 - gamma J: for a star of neighbours only the pivots change. */
static int factor(realtype t, N_Vector y, N_Vector fy, booleantype jok, booleantype *fresh, realtype gamma, void *user)
{
	(void)t, (void)fy;
	Run *r = user;
	Body *b = r->body;
	if (!jok) body_derivative(b, N_VGetArrayPointer(y));
	*fresh = !jok;
	r->gamma = gamma;
	for (int i = 0; i < b->n; i++) {
		double p = 1 - gamma * b->diag[i];
		for (int d = 0; d < b->c->dims; d++) {
			int j = i - b->stride[d];
			if (j >= 0) p -= gamma * gamma * b->lo[d][j] * b->up[d][j] * r->pivot[j];
		}
		r->pivot[i] = 1 / p;
	}
	return 0;
}

/* One stretch of nodes that have all neighbours in the first `dims` directions. */
static void sweep_up(const Run *r, const double *in, double *x, int from, int to, int dims)
{
	const Body *b = r->body;
	const double g = r->gamma, *pivot = r->pivot;
	int s1 = b->stride[1], s2 = b->stride[2];
	for (int i = from; i < to; i++) {
		double sum = 0;
		if (dims > 2) sum += b->lo[2][i - s2] * x[i - s2];
		if (dims > 1) sum += b->lo[1][i - s1] * x[i - s1];
		if (dims > 0) sum += b->lo[0][i - 1] * x[i - 1];
		x[i] = (in[i] + g * sum) * pivot[i];
	}
}

static void sweep_down(const Run *r, double *x, int from, int to, int dims)
{
	const Body *b = r->body;
	const double g = r->gamma, *pivot = r->pivot;
	int s1 = b->stride[1], s2 = b->stride[2];
	for (int i = from - 1; i >= to; i--) {
		double sum = 0;
		if (dims > 2) sum += b->up[2][i] * x[i + s2];
		if (dims > 1) sum += b->up[1][i] * x[i + s1];
		if (dims > 0) sum += b->up[0][i] * x[i + 1];
		x[i] += g * sum * pivot[i];
	}
}

static int sweep(realtype t, N_Vector y, N_Vector fy, N_Vector rhs, N_Vector z, realtype gamma, realtype delta, int side,
	void *user)
{
	(void)t, (void)y, (void)fy, (void)gamma, (void)delta, (void)side;
	Run *r = user;
	double *x = N_VGetArrayPointer(z);
	int dims = r->body->c->dims, n = r->body->n, at = 0;
	for (int d = 0; d <= dims; d++) {
		int end = d < dims ? r->body->stride[d] : n;
		sweep_up(r, N_VGetArrayPointer(rhs), x, at, end, d);
		at = end;
	}
	for (int d = 0; d <= dims; d++) {
		int end = d < dims ? n - r->body->stride[d] : 0;
		sweep_down(r, x, at, end, d);
		at = end;
	}
	return 0;
}

/* The vector operations the integrator needs most; Debian's build of the library does not vectorise them. */
__attribute__((optimize("fast-math"))) static realtype dot(N_Vector x, N_Vector y)
{
	const double *a = N_VGetArrayPointer(x), *b = N_VGetArrayPointer(y);
	double sum = 0;
	for (int i = 0, n = N_VGetLength(x); i < n; i++) sum += a[i] * b[i];
	return sum;
}

__attribute__((optimize("fast-math"))) static realtype norm(N_Vector x, N_Vector w)
{
	const double *a = N_VGetArrayPointer(x), *b = N_VGetArrayPointer(w);
	double sum = 0;
	int n = N_VGetLength(x);
	for (int i = 0; i < n; i++) sum += a[i] * b[i] * a[i] * b[i];
	return sqrt(sum / n);
}

static void linear_sum(realtype a, N_Vector x, realtype b, N_Vector y, N_Vector z)
{
	const double *from = N_VGetArrayPointer(x), *with = N_VGetArrayPointer(y);
	double *to = N_VGetArrayPointer(z); /* may be x or y */
	for (int i = 0, n = N_VGetLength(x); i < n; i++) to[i] = a * from[i] + b * with[i];
}

static void scale(realtype a, N_Vector x, N_Vector z)
{
	const double *from = N_VGetArrayPointer(x);
	double *to = N_VGetArrayPointer(z);
	for (int i = 0, n = N_VGetLength(x); i < n; i++) to[i] = a * from[i];
}

typedef struct { SUNMatrix A; SUNLinearSolver ls; } Linear;

static Linear attach(void *cv, const Setup *s, const Body *b, N_Vector y, SUNContext ctx)
{
	Linear l = {0};
	int wide = b->stride[b->c->dims - 1];
	switch (s->solver) {
	case BAND:
		l.A = SUNBandMatrix(b->n, wide, wide, ctx);
		l.ls = SUNLinSol_Band(y, l.A, ctx);
		CVodeSetLinearSolver(cv, l.ls, l.A);
		CVodeSetJacFn(cv, fill_band);
		break;
	case KLU:
		l.A = SUNSparseMatrix(b->n, b->n, (sunindextype)b->n * (2 * b->c->dims + 1), CSC_MAT, ctx);
		l.ls = SUNLinSol_KLU(y, l.A, ctx);
		SUNLinSol_KLUSetOrdering(l.ls, 0);
		CVodeSetLinearSolver(cv, l.ls, l.A);
		CVodeSetJacFn(cv, fill_sparse);
		break;
	default:
		l.ls = SUNLinSol_SPGMR(y, SUN_PREC_RIGHT, 10, ctx);
		CVodeSetLinearSolver(cv, l.ls, NULL);
		CVodeSetPreconditioner(cv, factor, sweep);
		CVodeSetJacTimes(cv, NULL, times);
		CVodeSetEpsLin(cv, s->linear);
	}
	return l;
}

static void read_probes(const Body *b, const double *y, double *first, int apart)
{
	for (int p = 0; p < PROBES; p++)
		if (b->probe[p] >= 0) first[p * apart] = body_temperature(b, y[b->probe[p]]);
}

static double now(clockid_t clock)
{
	struct timespec ts;
	clock_gettime(clock, &ts);
	return ts.tv_sec + 1e-9 * ts.tv_nsec;
}

static void march(void *cv, const Body *b, N_Vector y, double deadline, History *h)
{
	realtype t = 0;
	double *at = N_VGetArrayPointer(y);
	read_probes(b, at, &h->at[0][h->samples++], MAX_SAMPLES);
	while (h->samples < MAX_SAMPLES && now(CLOCK_MONOTONIC) < deadline) {
		int flag = CVode(cv, h->samples * b->c->every, y, &t, CV_NORMAL);
		if (flag < 0) return;
		if (flag == CV_ROOT_RETURN) {
			h->end = t;
			h->ok = 1;
			read_probes(b, at, h->last, 1);
			return;
		}
		read_probes(b, at, &h->at[0][h->samples++], MAX_SAMPLES);
	}
}

static void quiet(int code, const char *module, const char *function, char *text, void *user)
{
	(void)code, (void)module, (void)function, (void)text, (void)user; /* a failed run is seen by its flag */
}

void solve(const Case *c, const Steel *steel, const Setup *s, History *h)
{
	double began = now(CLOCK_MONOTONIC), worked = now(CLOCK_THREAD_CPUTIME_ID);
	SUNContext ctx;
	SUNContext_Create(NULL, &ctx);
	Run run = {.body = body_make(c, &s->cut, steel)};
	Body *b = run.body;
	run.stop = body_state(b, c->stop);
	run.pivot = malloc(b->n * sizeof(double));
	N_Vector y = N_VNew_Serial(b->n, ctx);
	N_VEnableFusedOps_Serial(y, 1);
	y->ops->nvdotprod = dot;
	y->ops->nvlinearsum = linear_sum;
	y->ops->nvscale = scale;
	y->ops->nvwrmsnorm = norm;
	y->ops->nvdotprodmulti = NULL;
	N_VConst(body_state(b, c->start), y);
	memset(h, 0, sizeof *h);
	h->nodes = b->n;
	for (int p = 0; p < PROBES; p++) h->has[p] = b->probe[p] >= 0;

	void *cv = CVodeCreate(CV_BDF, ctx);
	CVodeSetErrHandlerFn(cv, quiet, NULL);
	CVodeInit(cv, rate, 0, y);
	CVodeSStolerances(cv, s->rtol, s->atol);
	CVodeSetUserData(cv, &run);
	CVodeSetMaxOrd(cv, s->order);
	CVodeSetMaxNumSteps(cv, 1000000);
	CVodeRootInit(cv, 1, centre_hot);
	Linear l = attach(cv, s, b, y, ctx);
	march(cv, b, y, s->limit > 0 ? began + s->limit : HUGE_VAL, h);
	CVodeGetNumSteps(cv, &h->steps);

	CVodeFree(&cv);
	SUNLinSolFree(l.ls);
	if (l.A) SUNMatDestroy(l.A);
	N_VDestroy(y);
	free(run.pivot);
	body_free(b);
	SUNContext_Free(&ctx);
	h->seconds = now(CLOCK_MONOTONIC) - began;
	h->work = now(CLOCK_THREAD_CPUTIME_ID) - worked;
}
