/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/** OgBalance: a balance of the workshop. */
typedef struct
{
  char  *name;
  double readability_g;   /* d, above 0 */
  double repeatability_g; /* standard deviation of ten weighings; NAN if not said */
  double capacity_g;      /* above the readability */
} OgBalance;

/** Returns: (transfer full): a balance; all in grams: one division, the standard deviation of
 * repeated weighings, and the most it carries */
OgBalance *og_balance_new            (const char       *name,
                                      double            readability_g,
                                      double            repeatability_g,
                                      double            capacity_g);
/** Returns: (transfer full): a copy that shares nothing with its original */
OgBalance *og_balance_copy           (const OgBalance  *balance);
/** Frees @balance with all it holds. */
void       og_balance_free           (OgBalance        *balance);
/** TRUE if the numbers are finite, above 0 (the repeatability may be unknown), the readability at
 * least 1e-6 g and at most a hundredth of the capacity. */
gboolean   og_balance_is_valid       (const OgBalance  *balance);

/** Worst rounding to a whole digit as wt % of @g: 50 d/g. */
double     og_rounding_error_pct     (double            g,
                                      double            readability_g);
/** Worst error of reading one weighing, wt %: half a digit and, if it is known, twice the repeatability. */
double     og_balance_error_pct      (const OgBalance  *balance,
                                      double            g);
/**
 * og_balance_least_g:
 *
 * Least weight by the repeatability rule of USP <41>: 2 s/weight at most 0.10 %, s taken as 0.41 d
 * at least (recalled), hence 820 d at best.
 */
double     og_balance_least_g        (const OgBalance  *balance);

/** OgPlannedWeighing: one line of the batch on its balance. */
typedef struct
{
  double           exact_g;    /* 0 or more */
  gboolean         takes_rest; /* a liquid of which some more or less does not matter */
  double           wanted_pct; /* error it may have */
  const OgBalance *balance;    /* (out): nullable: none was given */
  guint            n_portions; /* (out): more than 1 above the capacity */
  gint64           digits;     /* (out): whole digits of the balance in all portions together */
  double           rounded_g;  /* (out): digits times the readability */
  double           error_pct;  /* (out): worst: what is planned beside what is exact, and reading it; NAN without
                                * balance */
  gboolean         too_small;  /* (out): the error is larger than wanted */
} OgPlannedWeighing;

/**
 * og_weighings_plan:
 * @weighings: (array length=n_weighings): exact amounts in, everything else out
 * @balances: (element-type OgBalance): kept by reference; may be empty, which leaves the amounts
 * exact
 *
 * Each weighing goes to a balance that is accurate enough for it, with as few portions as it takes,
 * and of these to the one with the smallest error; to the one with the smallest error if none is.
 * What goes to one balance is rounded to its nearest digit; what is then missing from the exact sum rounded once, or
 * too much in it, is put right in the largest weighing that takes the rest, or in the largest of all.
 *
 * Returns: sum of all rounded amounts, g
 */
double     og_weighings_plan         (OgPlannedWeighing *weighings,
                                      guint              n_weighings,
                                      const GPtrArray   *balances);
/** Grams of portion @index, 0 ... n_portions - 1: whole digits, as equal as they come. */
double     og_planned_portion_g      (const OgPlannedWeighing *weighing,
                                      guint                    index);

/** OgPremix: a tiny amount made weighable in a carrier of the recipe. */
typedef struct
{
  guint  parts;       /* of carrier to one part of the material */
  double material_g;  /* to weigh into the premix */
  double carrier_g;
  double take_g;      /* of the premix for the batch */
  double carrier_in_it_g; /* to be left out of the carrier's own line */
  double error_pct;   /* reached for the material */
} OgPremix;

/**
 * og_premix_find:
 * @g: of the material in the batch, above 0
 * @carrier_g: of the carrier in the batch: no more can go into what is taken
 *
 * The weakest of 1:9, 1:19, 1:49, 1:99 and 1:499 that reaches @wanted_pct with one of @balances,
 * half of it for each of the two weighings.
 *
 * Returns: %FALSE if none does
 */
gboolean   og_premix_find            (double            g,
                                      double            wanted_pct,
                                      double            carrier_g,
                                      const GPtrArray  *balances,
                                      OgPremix         *premix);
/** Readability with which @g has @wanted_pct, a power of ten, g. */
double     og_readability_needed_g   (double            g,
                                      double            wanted_pct);
/** Factor by which the batch must grow until @g has @wanted_pct on one of @balances wherever it falls between two
 * digits; 1 if it does already. */
double     og_batch_factor_needed    (double            g,
                                      double            wanted_pct,
                                      const GPtrArray  *balances);

G_END_DECLS
