/* A hot steel body for the peer: properties, mirror-symmetric grid, heat balance and its derivative.
 *
 * Vertex-centred finite volumes on one half (slab), quarter (section) or eighth (brick) of the body.
 * Nodes lie on the mirror planes, on the faces and, twice, on the joint, so every probe is a node.
 * The state of a node is its enthalpy over C0, so heat is conserved through the heat-capacity peak.
 * SI units; temperatures in degrees Celsius but for the fourth powers. */
#ifndef BODY_H
#define BODY_H

enum { Z, Y, X };                                        /* directions; z is the fastest index */
enum { CENTRE, TOP, SIDE, END, CORNER, J_LO, J_HI, PROBES };

typedef struct {
	int constant;          /* 0: carbon steel of EN 1993-1-2:2005 3.4.1; 1: k and cp below */
	double k, cp, rho;     /* W/mK, J/kgK, kg/m3 */
} Material;

typedef struct {
	const char *name;
	int dims;              /* 1 slab (z), 2 section (z, y), 3 brick (z, y, x) */
	double half[3];        /* m, half sizes in z, y, x */
	double core;           /* m, half thickness of the core layer; 0: solid */
	double joint;          /* W/m2K, contact conductance of the joint */
	Material mat;
	double start;          /* C */
	double eps, fire;      /* emissivity; C, of what the faces see */
	double film, gas;      /* W/m2K; C */
	double stop;           /* C, centre temperature that ends the run */
	double every;          /* s between samples */
} Case;

/* How the body is cut: cells from the middle outwards; spacing shrinks by exp(grade) towards the face. */
typedef struct {
	int cells[3];          /* in z (in the jacket where there is a joint), y, x */
	int core_cells;        /* in the core half, if there is a joint */
	double grade[3];
} Cut;

/* Piecewise linear table: value and rise to the next entry, side by side. */
typedef struct { double lo, step; int n; double (*at)[2]; } Table;

typedef struct {
	Table temperature;     /* C over e = enthalpy/C0 (K, from 20 C) */
	double k_cold, k_slope, k_break, k_hot; /* W/mK; k = k_cold + k_slope T below k_break, k_hot above */
} Steel;

#define C0 650.0           /* J/kgK, scales enthalpy to kelvin */

typedef struct {
	const Case *c;
	const Steel *steel;
	int n, m[3], stride[3];
	int faces, *face;      /* nodes with outer surface */
	double *area;          /* m2, of each of them */
	double *per_heat;      /* K/J, 1/(rho V C0) */
	double *g[3];          /* m, link area over distance, from node i to i + stride */
	double *contact;       /* W/K, joint links (z) */
	double *T, *k, *q, *f; /* work: C, W/mK, W, W */
	double *slope;         /* work: d(T)/d(state) */
	double *diag, *up[3], *lo[3]; /* derivative: up = d(rate i)/d(y i+stride), lo = d(rate i+stride)/d(y i) */
	int probe[PROBES];     /* node, or -1 */
} Body;

void steel_make(Steel *s, const Material *m, int entries); /* entries of the temperature table, >= 2 */
void steel_free(Steel *s);
double steel_enthalpy(const Material *m, double T);   /* J/kg from 20 C */
double table_at(const Table *t, double x);

Body *body_make(const Case *c, const Cut *cut, const Steel *s);
void body_free(Body *b);
void body_rate(Body *b, const double *y, double *dy);  /* dy/dt */
void body_derivative(Body *b, const double *y);        /* fills diag, up, lo */
double body_state(const Body *b, double T);            /* state at a temperature */
double body_temperature(const Body *b, double state);
#endif
