/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/make/net-content.h"

#include <glib/gi18n-lib.h>
#include <gsl/gsl_cdf.h>
#include <math.h>

#define LEAST 5.0 /* g or ml: Directive 76/211/EEC, Article 1 */
#define MOST 10000.0 /* g or ml: Directive 76/211/EEC, Article 1 */
#define FEW 0.025         /* share that may lie below T1; common practice, recalled */
#define CONFIDENCE 0.995  /* Annex II 2.3 */
#define TINY 1e-9 /* rounding of doubles */

/* Tolerable negative error up to a nominal quantity; one of both is 0. */
static const struct
{
  double up_to;
  double pct;
  double fixed;
} bands[] = {
  { 50, 9, 0 },  { 100, 0, 4.5 }, { 200, 4.5, 0 }, { 300, 0, 9 },
  { 500, 3, 0 }, { 1000, 0, 15 }, { MOST, 1.5, 0 },
};

static double
round_up_to_tenth (double value)
{
  return ceil (value * 10.0 - TINY) / 10.0;
}

void
og_net_limits_init (OgNetLimits *limits,
                    double       nominal)
{
  g_return_if_fail (limits != NULL);

  *limits = (OgNetLimits) { NAN, NAN, NAN };
  if (!(nominal >= LEAST && nominal <= MOST))
    return;
  for (guint i = 0; i < G_N_ELEMENTS (bands); i++)
    {
      if (nominal > bands[i].up_to)
        continue;
      limits->error = bands[i].pct > 0.0 ? round_up_to_tenth (nominal * bands[i].pct / 100.0)
                                         : bands[i].fixed;
      limits->t1 = nominal - limits->error;
      limits->t2 = nominal - 2.0 * limits->error;
      return;
    }
}

/* --- containers ---------------------------------------------------------- */

static gboolean
check_input (const OgPackage  *package,
             const double     *gross_g,
             guint             n,
             double            tare_g,
             double            density_20_g_ml,
             GError          **error)
{
  if (isnan (package->nominal))
    {
      g_set_error_literal (error, OG_BATCH_ERROR, OG_BATCH_ERROR_PACKAGE,
                           _("The recipe does not say how much a container is to hold."));
      return FALSE;
    }
  if (package->unit == OG_NET_ML && !(density_20_g_ml > 0.0))
    {
      g_set_error_literal (error, OG_BATCH_ERROR, OG_BATCH_ERROR_DENSITY,
                           _("The content is declared in ml, but the density is not known: weights "
                             "cannot be turned into volumes."));
      return FALSE;
    }
  if (n == 0 || !(tare_g >= 0.0))
    {
      g_set_error_literal (error, OG_BATCH_ERROR, OG_BATCH_ERROR_WEIGHT,
                           _("At least one weight and a tare of 0 g or more are needed."));
      return FALSE;
    }
  for (guint i = 0; i < n; i++)
    if (!(gross_g[i] > tare_g) || !isfinite (gross_g[i]))
      {
        g_set_error (error, OG_BATCH_ERROR, OG_BATCH_ERROR_WEIGHT,
                     _("Weight %u is not above the tare."), i + 1);
        return FALSE;
      }
  return TRUE;
}

static void
measure (OgNetCheck   *check,
         const double *contents)
{
  double sum = 0.0, squares = 0.0;

  check->least = check->most = contents[0];
  for (guint i = 0; i < check->n; i++)
    {
      sum += contents[i];
      check->least = fmin (check->least, contents[i]);
      check->most = fmax (check->most, contents[i]);
      check->n_below_nominal += contents[i] < check->nominal - TINY;
      check->n_below_t1 += contents[i] < check->limits.t1 - TINY;
      check->n_below_t2 += contents[i] < check->limits.t2 - TINY;
    }
  check->mean = sum / check->n;
  for (guint i = 0; i < check->n; i++)
    squares += (contents[i] - check->mean) * (contents[i] - check->mean);
  check->sd = check->n > 1 ? sqrt (squares / (check->n - 1)) : NAN;
}

static gboolean
is_sample_size (guint n)
{
  return n == 20 || n == 30 || n == 50;
}

static OgNetVerdict
verdict (gboolean passes)
{
  return passes ? OG_NET_RULE_PASS : OG_NET_RULE_FAIL;
}

static void
judge (OgNetCheck *check)
{
  check->every_full = check->n_below_nominal == 0;
  check->mean_passes = check->mean >= check->nominal - TINY;
  check->few_passes = check->n_below_t1 <= FEW * check->n;
  check->none_passes = check->n_below_t2 == 0;
  check->sample_mean_needed = NAN;
  if (isnan (check->limits.error))
    return;
  check->packer = verdict (check->mean_passes && check->few_passes && check->none_passes);
  if (!is_sample_size (check->n))
    return;
  check->sample_mean_needed
      = check->nominal
        - gsl_cdf_tdist_Pinv (CONFIDENCE, check->n - 1) * check->sd / sqrt (check->n);
  check->sample = verdict (check->mean >= check->sample_mean_needed - TINY);
}

static OgSaying *
explain (const OgNetCheck *check)
{
  if (isnan (check->limits.error))
    return og_saying_plain (N_("Directive 76/211/EEC sets no limits for this quantity (5 to 10 000 g or "
                              "ml). Follow your local law; to give at least the declared content in every "
                              "container is the safe way."));
  return og_saying_plain (N_("Average system of Directive 76/211/EEC, Annex I: the mean must not lie below "
                            "the declared content, few containers may lie below T1 (at most 2.5 %, common "
                            "practice), none below T2. Volume counts at 20 °C. Your local law decides."));
}

OgNetCheck *
og_net_check (const OgPackage  *package,
              const double     *gross_g,
              guint             n,
              double            tare_g,
              double            density_20_g_ml,
              GError          **error)
{
  g_autofree double *contents = NULL;
  OgNetCheck *check;

  g_return_val_if_fail (package != NULL && (gross_g != NULL || n == 0), NULL);

  if (!check_input (package, gross_g, n, tare_g, density_20_g_ml, error))
    return NULL;
  contents = g_new (double, n);
  for (guint i = 0; i < n; i++)
    contents[i] = (gross_g[i] - tare_g) / (package->unit == OG_NET_ML ? density_20_g_ml : 1.0);

  check = g_new0 (OgNetCheck, 1);
  check->n = n;
  check->nominal = package->nominal;
  check->unit = package->unit;
  og_net_limits_init (&check->limits, package->nominal);
  measure (check, contents);
  judge (check);
  check->text = explain (check);
  return check;
}

void
og_net_check_free (OgNetCheck *check)
{
  og_saying_unref (check->text);
  g_free (check);
}
