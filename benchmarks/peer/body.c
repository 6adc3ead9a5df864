#include "body.h"
#include <math.h>
#include <stdlib.h>

#define SIGMA 5.670374419e-8 /* W/m2K4, CODATA 2018 */
#define KELVIN 273.15

/* ---- steel: EN 1993-1-2:2005 3.4.1.2 (specific heat) and 3.4.1.3 (conductivity), held above 1200 C ---- */

static double cold_part(double T) { return T * (425 + T * (0.773 / 2 + T * (-1.69e-3 / 3 + T * 2.22e-6 / 4))); }

double steel_enthalpy(const Material *m, double T)
{
	if (m->constant) return m->cp * (T - 20);
	double h = cold_part(fmin(T, 600)) - cold_part(20);
	if (T > 600) { double t = fmin(T, 735); h += 666 * (t - 600) + 13002 * log(138 / (738 - t)); }
	if (T > 735) { double t = fmin(T, 900); h += 545 * (t - 735) + 17820 * log((t - 731) / 4); }
	if (T > 900) h += 650 * (T - 900);
	return h;
}

static double temperature_of(const Material *m, double h)
{
	double a = -100, b = 2000;
	for (int i = 0; i < 60; i++) {
		double mid = (a + b) / 2;
		if (steel_enthalpy(m, mid) < h) a = mid; else b = mid;
	}
	return (a + b) / 2;
}

static void table_rises(Table *t)
{
	for (int i = 0; i < t->n - 1; i++) t->at[i][1] = t->at[i + 1][0] - t->at[i][0];
	t->at[t->n - 1][1] = t->at[t->n - 2][1];
}

void steel_make(Steel *s, const Material *m, int entries)
{
	double e0 = steel_enthalpy(m, 0) / C0, e1 = steel_enthalpy(m, 1400) / C0;
	s->temperature = (Table){e0, (e1 - e0) / (entries - 1), entries, malloc(entries * sizeof *s->temperature.at)};
	for (int i = 0; i < entries; i++)
		s->temperature.at[i][0] = temperature_of(m, C0 * (e0 + i * s->temperature.step));
	table_rises(&s->temperature);
	s->k_cold = m->constant ? m->k : 54;
	s->k_slope = m->constant ? 0 : -0.0333;
	s->k_break = 800;
	s->k_hot = m->constant ? m->k : 27.3;
}

void steel_free(Steel *s) { free(s->temperature.at); }

static inline int entry(const Table *t, double x, double *part)
{
	double u = (x - t->lo) / t->step;
	int i = (int)u;
	i = i < 0 ? 0 : i > t->n - 1 ? t->n - 1 : i;
	*part = u - i;
	return i;
}

double table_at(const Table *t, double x)
{
	double part;
	int i = entry(t, x, &part);
	return t->at[i][0] + part * t->at[i][1];
}

static inline double table_slope(const Table *t, double x)
{
	double part;
	return t->at[entry(t, x, &part)][1] / t->step;
}

/* ---- grid ---- */

/* One direction: nodes, the width of matter about each, the distance to the next (0 at a joint and at the end). */
typedef struct { int n, joint; double width[400], next[400]; } Line;

static void line_add(Line *l, double length, int cells, double grade)
{
	double last = 0;
	l->width[l->n] = 0;
	for (int i = 1; i <= cells; i++) {
		double s = (double)i / cells, here = length * (grade == 0 ? s : expm1(-grade * s) / expm1(-grade));
		l->next[l->n] = here - last;
		l->width[l->n++] += (here - last) / 2;
		l->width[l->n] = (here - last) / 2;
		last = here;
	}
	l->next[l->n++] = 0;
}

static Line line_make(const Case *c, const Cut *cut, int d)
{
	Line l = {.joint = -1};
	if (d >= c->dims) return (Line){.n = 1, .joint = -1, .width = {1}};
	if (d == Z && c->core > 0) {
		line_add(&l, c->core, cut->core_cells, 0);
		l.joint = l.n - 1;
		line_add(&l, c->half[Z] - c->core, cut->cells[Z], cut->grade[Z]);
	} else
		line_add(&l, c->half[d], cut->cells[d], cut->grade[d]);
	return l;
}

static void place_probes(Body *b, int joint)
{
	int zt = b->m[Z] - 1, ye = (b->m[Y] - 1) * b->stride[Y], xe = (b->m[X] - 1) * b->stride[X];
	int at[PROBES] = {0, zt, ye, xe, zt + ye, joint, joint + 1};
	int on[PROBES] = {1, 1, b->c->dims > 1, b->c->dims > 2, b->c->dims == 2, joint >= 0, joint >= 0};
	for (int p = 0; p < PROBES; p++) b->probe[p] = on[p] ? at[p] : -1;
}

static void measure_node(Body *b, const Line l[3], const int at[3])
{
	int i = at[Z] + at[Y] * b->stride[Y] + at[X] * b->stride[X];
	double w[3], surface = 0;
	for (int d = 0; d < 3; d++) w[d] = l[d].width[at[d]];
	double volume = w[Z] * w[Y] * w[X];
	b->per_heat[i] = 1 / (b->c->mat.rho * volume * C0);
	for (int d = 0; d < b->c->dims; d++) {
		double across = volume / w[d], next = l[d].next[at[d]];
		b->g[d][i] = next > 0 ? across / next : 0;
		if (d == Z && at[Z] == l[Z].joint) b->contact[i] = b->c->joint * across;
		if (at[d] == b->m[d] - 1) surface += across;
	}
	if (surface > 0) { b->face[b->faces] = i; b->area[b->faces++] = surface; }
}

Body *body_make(const Case *c, const Cut *cut, const Steel *s)
{
	Body *b = calloc(1, sizeof *b);
	Line l[3];
	b->c = c; b->steel = s; b->n = 1;
	for (int d = 0; d < 3; d++) {
		l[d] = line_make(c, cut, d);
		b->stride[d] = b->n;
		b->m[d] = l[d].n;
		b->n *= l[d].n;
	}
	double *block = calloc((size_t)b->n * 18, sizeof(double)), **part[] = {&b->area, &b->per_heat, &b->g[0], &b->g[1],
		&b->g[2], &b->contact, &b->T, &b->k, &b->q, &b->f, &b->slope, &b->diag, &b->up[0], &b->up[1], &b->up[2],
		&b->lo[0], &b->lo[1], &b->lo[2]};
	for (int p = 0; p < 18; p++) *part[p] = block + (size_t)p * b->n;
	b->face = malloc(b->n * sizeof(int));
	for (int x = 0; x < b->m[X]; x++)
		for (int y = 0; y < b->m[Y]; y++)
			for (int z = 0; z < b->m[Z]; z++) measure_node(b, l, (int[3]){z, y, x});
	place_probes(b, l[Z].joint);
	return b;
}

void body_free(Body *b) { free(b->area); free(b->face); free(b); }

/* ---- heat balance ---- */

static void properties(Body *b, const double *restrict y)
{
	const Steel *s = b->steel;
	double *restrict T = b->T, *restrict k = b->k;
	for (int i = 0; i < b->n; i++) T[i] = table_at(&s->temperature, y[i]);
	for (int i = 0; i < b->n; i++) k[i] = T[i] < s->k_break ? s->k_cold + s->k_slope * T[i] : s->k_hot;
}

static void conduct(Body *b, int d)
{
	int n = b->n - b->stride[d], s = b->stride[d];
	const double *restrict T = b->T, *restrict k = b->k, *restrict g = b->g[d];
	double *restrict q = b->q, *restrict f = b->f;
	if (d == Z && b->probe[J_LO] >= 0)
		for (int i = 0; i < n; i++) f[i] = (0.5 * g[i] * (k[i] + k[i + s]) + b->contact[i]) * (T[i + s] - T[i]);
	else
		for (int i = 0; i < n; i++) f[i] = 0.5 * g[i] * (k[i] + k[i + s]) * (T[i + s] - T[i]);
	for (int i = 0; i < n; i++) q[i] += f[i];
	for (int i = 0; i < n; i++) q[i + s] -= f[i];
}

static void heat_in(Body *b)
{
	const Case *c = b->c;
	double fire = pow(c->fire + KELVIN, 4);
	for (int i = 0; i < b->n; i++) b->q[i] = 0;
	for (int d = 0; d < c->dims; d++) conduct(b, d);
	for (int j = 0; j < b->faces; j++) {
		double T = b->T[b->face[j]], a = (T + KELVIN) * (T + KELVIN);
		b->q[b->face[j]] += b->area[j] * (c->eps * SIGMA * (fire - a * a) + c->film * (c->gas - T));
	}
}

void body_rate(Body *b, const double *y, double *dy)
{
	properties(b, y);
	heat_in(b);
	for (int i = 0; i < b->n; i++) dy[i] = b->q[i] * b->per_heat[i];
}

static void derive_links(Body *b, int d)
{
	int s = b->stride[d];
	for (int i = 0; i + s < b->n; i++) {
		int j = i + s;
		double g = 0.5 * b->g[d][i], mean = g * (b->k[i] + b->k[j]) + (d == Z ? b->contact[i] : 0);
		double tilt = g * b->steel->k_slope * (b->T[j] - b->T[i]);
		double by_i = ((b->T[i] < b->steel->k_break ? tilt : 0) - mean) * b->slope[i];
		double by_j = ((b->T[j] < b->steel->k_break ? tilt : 0) + mean) * b->slope[j];
		b->diag[i] += by_i * b->per_heat[i];
		b->diag[j] -= by_j * b->per_heat[j];
		b->up[d][i] = by_j * b->per_heat[i];
		b->lo[d][i] = -by_i * b->per_heat[j];
	}
}

void body_derivative(Body *b, const double *y)
{
	properties(b, y);
	for (int i = 0; i < b->n; i++) {
		b->slope[i] = table_slope(&b->steel->temperature, y[i]);
		b->diag[i] = 0;
	}
	for (int d = 0; d < b->c->dims; d++) derive_links(b, d);
	for (int j = 0; j < b->faces; j++) {
		int i = b->face[j];
		double a = b->T[i] + KELVIN, by = -b->area[j] * (4 * b->c->eps * SIGMA * a * a * a + b->c->film);
		b->diag[i] += by * b->slope[i] * b->per_heat[i];
	}
}

double body_state(const Body *b, double T) { return steel_enthalpy(&b->c->mat, T) / C0; }

double body_temperature(const Body *b, double state) { return table_at(&b->steel->temperature, state); }
