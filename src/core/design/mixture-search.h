/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Parts of a mixture: more are not weighed for a likeness; judgement. */
#define OG_MIXTURE_MOST_PARTS 4

/**
 * OgMixtureProgress:
 * @done: 0 ... 1
 * @best: smallest distance so far; NAN before the first
 * @bound: no answer that is still missing is nearer than this
 *
 * Returns: %FALSE to stop
 */
typedef gboolean (*OgMixtureProgress) (double done, double best, double bound, gpointer user_data);

/**
 * OgMixtureProblem:
 *
 * Of @n candidates, the mixtures of at most @most_parts, each of at least @least_share, whose
 * distance sum_i |sum_j y_j deviation[j, i]| + sum_j y_j cost[j] is smallest; y are shares that make
 * up 1.
 */
typedef struct
{
  guint         n;          /* candidates; none have no answer */
  guint         m;          /* numbers of each, 1 or more */
  const double *deviation;  /* n rows of m: from what is to be met, times the weight */
  const double *cost;       /* n: added distance of the neat candidate, 0 or more */
  const double *most_share; /* nullable; n: largest share of the candidate, 0 ... 1 */
  const guint8 *apart;      /* nullable; n rows of n, symmetric: 1 for two that never go together */
  guint         most_parts; /* 1 ... OG_MIXTURE_MOST_PARTS */
  double        least_share; /* above 0, at most 1/@most_parts */
  guint         most;       /* answers wanted */
  OgMixtureProgress progress; /* nullable */
  gpointer      progress_data;
} OgMixtureProblem;

/** OgMixture: one answer. */
typedef struct
{
  guint    n_parts;
  guint    candidate[OG_MIXTURE_MOST_PARTS]; /* rising */
  double   share[OG_MIXTURE_MOST_PARTS];
  double   distance;
  double   bound;    /* proven: neither this answer nor a later one can be nearer */
  gboolean optimal;  /* @bound is @distance, but for 1e-6 */
} OgMixture;

/**
 * og_mixture_search:
 *
 * The mixed-integer program with a binary for each candidate, y_j <= most_share z_j, y_j >= least_share z_j and
 * sum z <= most_parts, solved by branching on its linear relaxations. For any l in [-1, 1]^m,
 * c_j = l . deviation[j] + cost[j] bounds the distance of every mixture from below by
 *
 *   least_share sum_j c_j + (1 - parts least_share) min_j c_j
 *
 * (weak duality), so that a mixture nearer than U must hold a candidate whose c_j is below U: the
 * search branches over those few. Each relaxation is solved by GLPK and leaves such an l behind,
 * which prunes all of the tree. Answers come nearest first; each is the nearest mixture that does not
 * hold all candidates of an earlier answer.
 *
 * Returns: (transfer full) (element-type OgMixture): fewer than wanted if there are no more, and none
 * if a deviation, a cost or a largest share is not finite. Same
 * problem, same answers.
 */
GArray *og_mixture_search (const OgMixtureProblem *problem);

G_END_DECLS
