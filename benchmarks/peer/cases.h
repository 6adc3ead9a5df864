/* The three benchmark cases: EC3 steel from 20 C in a forge at 1300 C. Inputs only; see README.md. */
#ifndef CASES_H
#define CASES_H
#include "body.h"

#define FORGE .mat = {.rho = 7850}, .start = 20, .eps = 0.8, .fire = 1300, .film = 25, .gas = 1300, .every = 5

static const Case SLAB = {"slab1d", 1, {0.015}, .stop = 1200, FORGE};
static const Case SECTION = {"section2d", 2, {0.014, 0.020}, .core = 0.004, .joint = 1000, .stop = 1150, FORGE};
static const Case BRICK = {"brick3d", 3, {0.014, 0.020, 0.070}, .stop = 1150, FORGE};

static const char *const PROBE_NAME[PROBES] = {"c", "top", "side", "end", "corner", "j_lo", "j_hi"};
#endif
