/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/make/weighing.h"

#include <math.h>

#define FINEST_G 1e-6 /* no balance of a workshop reads finer */
#define LEAST_STEPS 100.0     /* capacity over readability */
#define USP_FACTOR 2000.0     /* 2 s / weight at most 0.10 % */
#define USP_LEAST_S_DIGITS 0.41 /* least standard deviation, readabilities: USP 41, recalled */
#define MOST_G 1e9 /* a thousand tonnes: a slip of the keyboard */
#define TINY 1e-9 /* rounding of doubles */
#define SUM_STEPS_PER_G 1e9   /* far below the finest digit */

OgBalance *
og_balance_new (const char *name,
                double      readability_g,
                double      repeatability_g,
                double      capacity_g)
{
  OgBalance *balance = g_new0 (OgBalance, 1);

  balance->name = g_strdup (name);
  balance->readability_g = readability_g;
  balance->repeatability_g = repeatability_g;
  balance->capacity_g = capacity_g;
  return balance;
}

OgBalance *
og_balance_copy (const OgBalance *balance)
{
  g_return_val_if_fail (balance != NULL, NULL);

  return og_balance_new (balance->name, balance->readability_g, balance->repeatability_g,
                         balance->capacity_g);
}

void
og_balance_free (OgBalance *balance)
{
  if (balance == NULL)
    return;
  g_free (balance->name);
  g_free (balance);
}

gboolean
og_balance_is_valid (const OgBalance *balance)
{
  g_return_val_if_fail (balance != NULL, FALSE);

  return balance->name != NULL
         && balance->readability_g >= FINEST_G
         && balance->capacity_g >= LEAST_STEPS * balance->readability_g
         && balance->capacity_g <= MOST_G
         && (isnan (balance->repeatability_g)
             || (balance->repeatability_g > 0.0
                 && balance->repeatability_g < balance->capacity_g));
}

double
og_rounding_error_pct (double g,
                       double readability_g)
{
  return 50.0 * readability_g / g;
}

double
og_balance_error_pct (const OgBalance *balance,
                      double           g)
{
  g_return_val_if_fail (balance != NULL, NAN);

  return og_rounding_error_pct (g, balance->readability_g)
         + (isnan (balance->repeatability_g) ? 0.0 : 200.0 * balance->repeatability_g / g);
}

double
og_balance_least_g (const OgBalance *balance)
{
  double s_g;

  g_return_val_if_fail (balance != NULL, NAN);

  s_g = USP_LEAST_S_DIGITS * balance->readability_g;
  return USP_FACTOR * fmax (s_g, isnan (balance->repeatability_g) ? 0.0 : balance->repeatability_g);
}

/* --- which balance ------------------------------------------------------- */

static guint
portions_on (const OgBalance *balance,
             double           g)
{
  double n = ceil (g / balance->capacity_g - TINY);

  return n < 1.0 ? 1 : n >= G_MAXUINT ? G_MAXUINT : (guint) n;
}

/* Choice: one balance for one weighing. */
typedef struct
{
  const OgBalance *balance;
  guint            n_portions;
  double           error_pct;
} Choice;

/* What is accurate enough comes before what is not, then fewer portions, then the smaller error. */
static gboolean
is_better (const Choice *a,
           const Choice *b,
           double        wanted_pct)
{
  double enough_pct = wanted_pct * (1.0 + TINY);
  gboolean a_fits = a->error_pct <= enough_pct, b_fits = b->error_pct <= enough_pct;

  if (a_fits != b_fits)
    return a_fits;
  if (a_fits && a->n_portions != b->n_portions)
    return a->n_portions < b->n_portions;
  if (a->error_pct != b->error_pct)
    return a->error_pct < b->error_pct;
  return a->n_portions < b->n_portions;
}

static Choice
best_balance (const GPtrArray *balances,
              double           g,
              double           wanted_pct)
{
  Choice best = { NULL, 1, INFINITY };

  for (guint i = 0; i < balances->len; i++)
    {
      const OgBalance *balance = g_ptr_array_index (balances, i);
      guint n = portions_on (balance, g);
      Choice choice = { balance, n, n * og_balance_error_pct (balance, g) };

      if (best.balance == NULL || is_better (&choice, &best, wanted_pct))
        best = choice;
    }
  return best;
}

static void
choose (OgPlannedWeighing *weighing,
        const GPtrArray   *balances)
{
  Choice choice;

  weighing->balance = NULL;
  weighing->n_portions = 1;
  weighing->digits = 0;
  weighing->rounded_g = weighing->exact_g;
  weighing->error_pct = NAN;
  weighing->too_small = FALSE;
  if (balances->len == 0 || !(weighing->exact_g > 0.0))
    return;
  choice = best_balance (balances, weighing->exact_g, weighing->wanted_pct);
  weighing->balance = choice.balance;
  weighing->n_portions = choice.n_portions;
  weighing->error_pct = choice.error_pct;
  weighing->too_small = choice.error_pct > weighing->wanted_pct * (1.0 + TINY);
}

/* --- rounding ------------------------------------------------------------ */

typedef struct
{
  OgPlannedWeighing *weighing;
  double      remainder;
  guint       index;
} Rest;

static int
compare_rests (gconstpointer a,
               gconstpointer b)
{
  const Rest *x = a, *y = b;

  if (x->remainder != y->remainder)
    return x->remainder < y->remainder ? 1 : -1;
  return x->index < y->index ? -1 : x->index > y->index;
}

/* Whole digits as grams, without the noise of a factor such as 0.1. */
static double
digits_g (gint64           digits,
          const OgBalance *balance)
{
  double per_g = round (1.0 / balance->readability_g);

  if (fabs (per_g * balance->readability_g - 1.0) < TINY)
    return (double) digits / per_g;
  return (double) digits * balance->readability_g;
}

/* Largest remainders over everything that goes to @balance. */
static void
round_on (OgPlannedWeighing *weighings,
          guint              n_weighings,
          const OgBalance   *balance)
{
  g_autoptr (GArray) rests = g_array_new (FALSE, FALSE, sizeof (Rest));
  double sum = 0.0;
  gint64 left;

  for (guint i = 0; i < n_weighings; i++)
    {
      double digits = weighings[i].exact_g / balance->readability_g;
      Rest rest = { &weighings[i], digits - floor (digits), i };

      if (weighings[i].balance != balance)
        continue;
      sum += digits;
      weighings[i].digits = (gint64) floor (digits);
      g_array_append_val (rests, rest);
    }
  left = llround (sum);
  for (guint i = 0; i < rests->len; i++)
    left -= g_array_index (rests, Rest, i).weighing->digits;
  g_array_sort (rests, compare_rests);
  for (guint i = 0; i < rests->len; i++)
    {
      OgPlannedWeighing *weighing = g_array_index (rests, Rest, i).weighing;

      if ((gint64) i < left)
        weighing->digits++;
      weighing->rounded_g = digits_g (weighing->digits, balance);
    }
}

double
og_weighings_plan (OgPlannedWeighing *weighings,
                   guint              n_weighings,
                   const GPtrArray   *balances)
{
  double sum = 0.0;

  g_return_val_if_fail (weighings != NULL || n_weighings == 0, NAN);
  g_return_val_if_fail (balances != NULL, NAN);

  for (guint i = 0; i < n_weighings; i++)
    choose (&weighings[i], balances);
  for (guint i = 0; i < balances->len; i++)
    round_on (weighings, n_weighings, g_ptr_array_index (balances, i));
  for (guint i = 0; i < n_weighings; i++)
    sum += weighings[i].rounded_g;
  return round (sum * SUM_STEPS_PER_G) / SUM_STEPS_PER_G;
}

double
og_planned_portion_g (const OgPlannedWeighing *weighing,
                      guint                    index)
{
  gint64 n, whole, more;

  g_return_val_if_fail (weighing != NULL && index < weighing->n_portions, NAN);

  if (weighing->balance == NULL)
    return weighing->rounded_g;
  n = (gint64) weighing->n_portions;
  whole = weighing->digits / n;
  more = weighing->digits % n;
  return digits_g (whole + ((gint64) index < more ? 1 : 0), weighing->balance);
}

/* --- remedies ------------------------------------------------------------ */

static const guint premix_parts[] = { 9, 19, 49, 99, 499 };

/* Rounded up to one digit of the scale. */
static double
round_up (double           g,
          const OgBalance *balance)
{
  return digits_g ((gint64) ceil (g / balance->readability_g - TINY), balance);
}

static gboolean
is_enough (const Choice *choice,
           double        wanted_pct)
{
  return choice->n_portions == 1 && choice->error_pct <= wanted_pct * (1.0 + TINY);
}

/* Least amount of the material that makes its own weighing good enough; @g at least. */
static double
premix_material_g (double           g,
                   double           wanted_pct,
                   const GPtrArray *balances)
{
  double least_g = INFINITY;

  for (guint i = 0; i < balances->len; i++)
    least_g = fmin (least_g, og_balance_error_pct (g_ptr_array_index (balances, i), 1.0) / wanted_pct);
  return fmax (g, least_g);
}

static gboolean
premix_with (guint            parts,
             double           g,
             double           wanted_pct,
             const GPtrArray *balances,
             OgPremix        *premix)
{
  double half_pct = wanted_pct / 2.0, take_g = g * (parts + 1);
  double material_g = premix_material_g (g, half_pct, balances);
  Choice taking = best_balance (balances, take_g, half_pct);
  Choice making = best_balance (balances, material_g, half_pct);

  if (!is_enough (&taking, half_pct) || !is_enough (&making, half_pct))
    return FALSE;
  premix->parts = parts;
  premix->material_g = round_up (material_g, making.balance);
  premix->carrier_g = premix->material_g * parts;
  premix->take_g = digits_g (llround (take_g / taking.balance->readability_g), taking.balance);
  premix->carrier_in_it_g = premix->take_g * parts / (parts + 1);
  premix->error_pct = taking.error_pct + making.error_pct;
  return TRUE;
}

gboolean
og_premix_find (double           g,
                double           wanted_pct,
                double           carrier_g,
                const GPtrArray *balances,
                OgPremix        *premix)
{
  g_return_val_if_fail (g > 0.0 && wanted_pct > 0.0, FALSE);
  g_return_val_if_fail (balances != NULL && premix != NULL, FALSE);

  for (guint i = 0; i < G_N_ELEMENTS (premix_parts) && balances->len > 0; i++)
    {
      if (g * premix_parts[i] > carrier_g)
        return FALSE;
      if (premix_with (premix_parts[i], g, wanted_pct, balances, premix))
        return TRUE;
    }
  return FALSE;
}

double
og_readability_needed_g (double g,
                         double wanted_pct)
{
  return pow (10.0, floor (log10 (g * wanted_pct / 50.0) + TINY));
}

double
og_batch_factor_needed (double           g,
                        double           wanted_pct,
                        const GPtrArray *balances)
{
  double best = INFINITY;

  g_return_val_if_fail (g > 0.0 && wanted_pct > 0.0 && balances != NULL, NAN);

  for (guint i = 0; i < balances->len; i++)
    {
      const OgBalance *balance = g_ptr_array_index (balances, i);
      double needed_g = og_balance_error_pct (balance, 1.0) / wanted_pct;

      if (needed_g <= balance->capacity_g)
        best = fmin (best, fmax (needed_g / g, 1.0));
    }
  return best;
}
