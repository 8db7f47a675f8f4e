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
#define HALF 0.5  /* of a digit, by which reading and rounding are off at worst */
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

/* The digits nearest to @g. */
static gint64
nearest (double           g,
         const OgBalance *balance)
{
  return llround (g / balance->readability_g);
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

/* What reading all portions may be off by. */
static double
reading_g (const OgBalance *balance,
           guint            n_portions)
{
  return n_portions * og_balance_error_pct (balance, 1.0) / 100.0;
}

/* What may end up in the pot against @exact_g, if @planned_g is weighed; wt % */
static double
worst_pct (const OgBalance *balance,
           guint            n_portions,
           double           exact_g,
           double           planned_g)
{
  return 100.0 * (fabs (planned_g - exact_g) + reading_g (balance, n_portions)) / exact_g;
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
      Choice choice = { balance, n, worst_pct (balance, n, g, digits_g (nearest (g, balance), balance)) };

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
}

/* --- rounding ------------------------------------------------------------ */

/* What may take the rest comes first, then what there is most of. */
static int
compare_rest_takers (gconstpointer a,
                     gconstpointer b)
{
  const OgPlannedWeighing *x = *(OgPlannedWeighing *const *) a, *y = *(OgPlannedWeighing *const *) b;

  if (x->takes_rest != y->takes_rest)
    return x->takes_rest ? -1 : 1;
  if (x->exact_g != y->exact_g)
    return x->exact_g > y->exact_g ? -1 : 1;
  return x < y ? -1 : x > y;
}

/* @left: digits that are missing from the sum or, below 0, too many in it */
static void
hand_out_rest (GPtrArray *weighings,
               gint64     left)
{
  g_ptr_array_sort (weighings, compare_rest_takers);
  for (guint i = 0; i < weighings->len && left != 0; i++)
    {
      OgPlannedWeighing *weighing = g_ptr_array_index (weighings, i);
      const gint64 taken = MAX (left, -weighing->digits);

      weighing->digits += taken;
      left -= taken;
    }
}

static void
round_on (OgPlannedWeighing *weighings,
          guint              n_weighings,
          const OgBalance   *balance)
{
  g_autoptr (GPtrArray) there = g_ptr_array_new ();
  double sum = 0.0;
  gint64 left = 0;

  for (guint i = 0; i < n_weighings; i++)
    {
      if (weighings[i].balance != balance)
        continue;
      sum += weighings[i].exact_g / balance->readability_g;
      weighings[i].digits = nearest (weighings[i].exact_g, balance);
      left -= weighings[i].digits;
      g_ptr_array_add (there, &weighings[i]);
    }
  hand_out_rest (there, left + llround (sum));
  for (guint i = 0; i < there->len; i++)
    {
      OgPlannedWeighing *weighing = g_ptr_array_index (there, i);

      weighing->rounded_g = digits_g (weighing->digits, balance);
      weighing->error_pct = worst_pct (balance, weighing->n_portions, weighing->exact_g, weighing->rounded_g);
      weighing->too_small = weighing->error_pct > weighing->wanted_pct * (1.0 + TINY);
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

/* Least amount of the material, whole digits of a balance, that makes its own weighing good enough; @g at least. */
static double
premix_material_g (double           g,
                   double           wanted_pct,
                   const GPtrArray *balances)
{
  double least_g = INFINITY;

  for (guint i = 0; i < balances->len; i++)
    {
      const OgBalance *balance = g_ptr_array_index (balances, i);
      const double good_g = og_balance_error_pct (balance, 1.0) / wanted_pct;

      least_g = fmin (least_g, round_up (fmax (g, good_g), balance));
    }
  return least_g;
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
  premix->material_g = material_g;
  premix->carrier_g = premix->material_g * parts;
  premix->take_g = digits_g (nearest (take_g, taking.balance), taking.balance);
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
  double readability_g = pow (10.0, floor (log10 (g * wanted_pct / 50.0) + TINY));
  OgBalance balance = { .readability_g = readability_g, .repeatability_g = NAN };

  if (worst_pct (&balance, 1, g, digits_g (nearest (g, &balance), &balance)) <= wanted_pct * (1.0 + TINY))
    return readability_g;
  return readability_g / 10.0;
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
      double needed_g = 100.0 * (HALF * balance->readability_g + reading_g (balance, 1)) / wanted_pct;

      if (needed_g <= balance->capacity_g)
        best = fmin (best, fmax (needed_g / g, 1.0));
    }
  return best;
}
