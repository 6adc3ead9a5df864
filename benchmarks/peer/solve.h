/* The method of lines on CVODE: one run of one case on one grid. */
#ifndef SOLVE_H
#define SOLVE_H
#include "body.h"

enum { BAND, KLU, GMRES, SOLVERS };
enum { MAX_SAMPLES = 400 };

typedef struct {
	Cut cut;
	int solver;
	double rtol, atol;      /* of enthalpy over C0; atol in K */
	int order;              /* highest BDF order */
	double limit;           /* s of wall time after which the run is given up; 0: none */
	double linear;          /* GMRES: share of the Newton tolerance left to the linear solver */
} Setup;

typedef struct {
	int ok, samples;        /* samples 0, every, 2 every, ... up to the end */
	int has[PROBES];
	double at[PROBES][MAX_SAMPLES]; /* C */
	double end;             /* s, centre at c->stop */
	double last[PROBES];    /* C, then */
	int nodes;
	long steps;
	double seconds, work;   /* s, wall and processor time of the run, set-up of grid and integrator included */
} History;

void solve(const Case *c, const Steel *steel, const Setup *s, History *h);
#endif
