/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "core/base/number-text.h"
#include "gtk/make/batch-text.h"

#define MONEY_DECIMALS 2
#define MOST_DECIMALS 6

/* Decimals that show every step of a balance: 2 for 0.01 and for 0.05 g. */
static int
step_decimals (double readability_g)
{
  int decimals = 0;
  double step = readability_g;

  while (decimals < MOST_DECIMALS && fabs (step - round (step)) > 1e-6)
    {
      step *= 10.0;
      decimals++;
    }
  return decimals;
}

static int
usual_decimals (double g)
{
  return g >= 1.0 || g == 0.0 ? 2 : g >= 0.1 ? 3 : 4;
}

char *
og_batch_grams_to_text (double           g,
                        const OgBalance *balance)
{
  g_autofree char *number =
    og_number_fixed (g, balance != NULL ? step_decimals (balance->readability_g)
                                        : usual_decimals (g));

  if (isnan (g))
    return g_steal_pointer (&number);
  /* Translators: %s is a mass in grams */
  return g_strdup_printf (_("%s g"), number);
}

char *
og_batch_fit_to_text (const OgBatchFit *fit)
{
  g_autofree char *ml = og_number_fixed (fit->free_ml, 2);
  g_autofree char *pct = og_number_significant (fit->free_pct, 2);

  if (isnan (fit->free_ml))
    return g_steal_pointer (&ml);
  if (fit->free_ml < 0.0)
    {
      g_autofree char *over = og_number_fixed (-fit->free_ml, 2);

      /* Translators: %s is a volume in ml */
      return g_strdup_printf (_("%s ml too much"), over);
    }
  /* Translators: a volume in ml, then the same in per cent */
  return g_strdup_printf (_("%s ml, %s %%"), ml, pct);
}

char *
og_batch_money_to_text (double      amount,
                        const char *currency)
{
  g_autofree char *number = og_number_fixed (amount, MONEY_DECIMALS);

  if (currency == NULL || isnan (amount))
    return g_steal_pointer (&number);
  /* Translators: an amount of money and its currency */
  return g_strdup_printf (_("%s %s"), number, currency);
}

static void
add_remedy (GString *text,
            char    *remedy)
{
  g_string_append_printf (text, "%s• %s", text->len > 0 ? "\n" : "", remedy);
  g_free (remedy);
}

static void
add_premix (GString           *text,
            const OgBatchWeighing *line)
{
  const OgPremix *premix = &line->premix;
  g_autofree char *material = og_batch_grams_to_text (premix->material_g, NULL);
  g_autofree char *carrier = og_batch_grams_to_text (premix->carrier_g, NULL);
  g_autofree char *take = og_batch_grams_to_text (premix->take_g, NULL);
  g_autofree char *less = og_batch_grams_to_text (premix->carrier_in_it_g, NULL);

  /* Translators: mass of the material, mass and name of the liquid it is stirred into, mass to take
   * of both, mass and name of the liquid */
  add_remedy (text, g_strdup_printf (_("Stir %s into %s of %s, take %s of it, and leave %s of %s "
                                       "out of the batch."),
                                     material, carrier, line->carrier_name, take, less,
                                     line->carrier_name));
}

char *
og_batch_remedy_to_text (const OgBatchWeighing *line)
{
  GString *text;

  if (!line->weighing.too_small)
    return NULL;
  text = g_string_new (NULL);
  if (line->has_premix && line->carrier_name != NULL)
    add_premix (text, line);
  if (isfinite (line->batch_needed_g))
    {
      g_autofree char *needed = og_number_significant (line->batch_needed_g, 2);

      /* Translators: %s is a mass in grams */
      add_remedy (text, g_strdup_printf (_("A batch of %s g would do."), needed));
    }
  if (line->readability_needed_g < line->weighing.balance->readability_g)
    {
      g_autofree char *step = og_number_significant (line->readability_needed_g, 1);

      /* Translators: %s is a mass in grams */
      add_remedy (text, g_strdup_printf (_("A balance with steps of %s g would do."), step));
    }
  return g_string_free (text, FALSE);
}

char *
og_batch_rounding_to_text (const OgBatchPlan *batch)
{
  const double change = 100.0 * (batch->pour_rounded.value / batch->pour_exact.value - 1.0);
  g_autofree char *before = NULL;
  g_autofree char *number = NULL;

  if (isnan (change))
    return NULL;
  before = og_number_with_unit (batch->pour_exact.value);
  if (fabs (change) < 0.05)
    /* Translators: %s is a viscosity with its unit */
    return g_strdup_printf (_("The rounding leaves the body as it is: %s when poured."), before);
  number = og_number_significant (fabs (change), 2);
  if (change > 0.0)
    /* Translators: a share in per cent, then a viscosity with its unit */
    return g_strdup_printf (_("The rounding makes it %s %% thicker than %s when poured."), number,
                            before);
  /* Translators: a share in per cent, then a viscosity with its unit */
  return g_strdup_printf (_("The rounding makes it %s %% thinner than %s when poured."), number,
                          before);
}
