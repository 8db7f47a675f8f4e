/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/predict/settling.h"

#include <gsl/gsl_const_mksa.h>
#include <math.h>

#include "core/base/root.h"

#define YIELD_NUMBER_THIRD 0.048 /* 0.143 / 3 */
#define SECONDS_PER_DAY 86400.0 /* exact */
#define LN_LOWEST_RATE (-18.0)   /* 1.5e-8 1/s: 0.00001 mm per day at 20 um */
#define LN_HIGHEST_RATE 14.0     /* 1.2e6 1/s */
#define LN_TOLERANCE 1e-9 /* of ln of the rate: rounding */
#define MM_PER_M 1000.0 /* exact */
#define M_PER_UM 1e-6 /* exact */

/*
 * A particle falls at the rate where viscosity times rate equals the stress that its weight puts on
 * the liquid.
 */
typedef struct
{
  OgSettlingViscosity viscosity;
  gpointer            user_data;
  double              ln_stress_mpa;
} Fall;

static double
excess_stress (double   ln_rate,
               gpointer data)
{
  const Fall *fall = data;

  return log (fall->viscosity (exp (ln_rate), fall->user_data)) + ln_rate - fall->ln_stress_mpa;
}

static double
find_rate (Fall *fall)
{
  double low = excess_stress (LN_LOWEST_RATE, fall);
  double high = excess_stress (LN_HIGHEST_RATE, fall);

  if (low >= 0 && high >= 0 && isfinite (low + high))
    return 0;
  return exp (og_find_root (excess_stress, fall, LN_LOWEST_RATE, LN_HIGHEST_RATE, LN_TOLERANCE));
}

double
og_settling_speed (double               diameter_um,
                   double               density_difference_kg_m3,
                   OgSettlingViscosity  viscosity,
                   gpointer             user_data,
                   double              *shear_rate_1_s)
{
  double diameter_m = diameter_um * M_PER_UM;
  double stress_pa = diameter_m * fabs (density_difference_kg_m3) * GSL_CONST_MKSA_GRAV_ACCEL / 6;
  Fall fall = { viscosity, user_data, log (stress_pa * 1000) };
  double rate;

  g_return_val_if_fail (viscosity != NULL, NAN);

  /* With v = d^2 drho g/(18 eta), the stress eta 3v/d is d drho g/6 whatever eta may be. */
  rate = stress_pa == 0 ? 0 : find_rate (&fall);
  if (shear_rate_1_s != NULL)
    *shear_rate_1_s = rate;
  return copysign (rate * diameter_m / 3 * MM_PER_M * SECONDS_PER_DAY, density_difference_kg_m3);
}

double
og_settling_hold_pa (double diameter_um,
                     double density_difference_kg_m3)
{
  return YIELD_NUMBER_THIRD * diameter_um * M_PER_UM * fabs (density_difference_kg_m3)
         * GSL_CONST_MKSA_GRAV_ACCEL;
}

double
og_settling_diameter (OgKind kind)
{
  if (kind == OG_KIND_COLOUR)
    return 1;
  if (kind == OG_KIND_PEARL)
    return 20;
  if (kind == OG_KIND_POWDER)
    return 10;
  return NAN;
}

static int
compare_speed (gconstpointer a,
               gconstpointer b,
               gpointer      user_data)
{
  double x = fabs (((const OgSettling *) a)->speed_mm_day);
  double y = fabs (((const OgSettling *) b)->speed_mm_day);

  if (isnan (x) || isnan (y))
    return !!isnan (x) - !!isnan (y);
  return (x < y) - (x > y);
}

GArray *
og_settling_list (const GPtrArray     *contents,
                  double               liquid_density_g_ml,
                  double               yield_pa,
                  OgSettlingViscosity  viscosity,
                  gpointer             user_data)
{
  GArray *list;

  g_return_val_if_fail (contents != NULL && viscosity != NULL, NULL);

  list = g_array_new (FALSE, FALSE, sizeof (OgSettling));
  for (guint i = 0; i < contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (contents, i);
      OgSettling item = { .ingredient = content->ingredient, .fraction = content->fraction };

      if (content->ingredient == NULL || !og_ingredient_is_suspended (content->ingredient)
          || content->fraction <= 0)
        continue;
      item.diameter_um = og_settling_diameter (content->ingredient->kind);
      item.density_difference_kg_m3
        = (og_ingredient_density (content->ingredient, 25) - liquid_density_g_ml) * 1000;
      item.speed_mm_day = og_settling_speed (item.diameter_um, item.density_difference_kg_m3,
                                             viscosity, user_data, &item.shear_rate_1_s);
      item.hold_pa = og_settling_hold_pa (item.diameter_um, item.density_difference_kg_m3);
      item.held = yield_pa >= OG_SETTLING_SAFETY * item.hold_pa;
      g_array_append_val (list, item);
    }
  /* A stable sort, unlike qsort(). */
  g_qsort_with_data (list->data, (int) list->len, sizeof (OgSettling), compare_speed, NULL);
  return list;
}
