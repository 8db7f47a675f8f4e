/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/base/root.h"

#include <float.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
#include <math.h>

#define MOST_STEPS 200 /* cap, against a loop without end */
#define RELATIVE_TOLERANCE (4.0 * DBL_EPSILON) /* no bracket gets narrower */

typedef struct
{
  OgRootFunction function;
  gpointer user_data;
  double low, high;         /* the bracket as given */
  double at_low, at_high;
  gboolean unknown;         /* a value asked for is not finite */
} Search;

/* GSL calls its error handler over a value that is not finite; a root ends the search instead. */
static double
value_at (double x,
          void  *data)
{
  Search *search = data;
  double value;

  if (x == search->low)
    return search->at_low;
  if (x == search->high)
    return search->at_high;
  value = search->function (x, search->user_data);
  search->unknown = search->unknown || !isfinite (value);
  return search->unknown ? 0.0 : value;
}

static gboolean
holds_root (const Search *search)
{
  return isfinite (search->at_low) && isfinite (search->at_high)
         && !(search->at_low < 0.0 && search->at_high < 0.0)
         && !(search->at_low > 0.0 && search->at_high > 0.0);
}

/* Returns: %FALSE if the bracket does not close */
static gboolean
close_bracket (gsl_root_fsolver *solver,
               double            tolerance)
{
  int status = GSL_CONTINUE;

  for (int i = 0; i < MOST_STEPS && status == GSL_CONTINUE; i++)
    {
      status = gsl_root_fsolver_iterate (solver);
      if (status == GSL_SUCCESS)
        status = gsl_root_test_interval (gsl_root_fsolver_x_lower (solver),
                                         gsl_root_fsolver_x_upper (solver), tolerance,
                                         RELATIVE_TOLERANCE);
    }
  return status == GSL_SUCCESS;
}

double
og_find_root (OgRootFunction function,
              gpointer       user_data,
              double         low,
              double         high,
              double         tolerance)
{
  Search search = { .function = function, .user_data = user_data, .low = low, .high = high };
  gsl_function watched = { .function = value_at, .params = &search };
  gsl_root_fsolver *solver;
  double root = NAN;

  g_return_val_if_fail (function != NULL, NAN);
  g_return_val_if_fail (tolerance > 0.0, NAN);

  if (!isfinite (low) || !isfinite (high) || low >= high)
    return NAN;
  search.at_low = function (low, user_data);
  search.at_high = function (high, user_data);
  if (!holds_root (&search))
    return NAN;

  solver = gsl_root_fsolver_alloc (gsl_root_fsolver_brent);
  if (gsl_root_fsolver_set (solver, &watched, low, high) == GSL_SUCCESS
      && close_bracket (solver, tolerance) && !search.unknown)
    root = gsl_root_fsolver_root (solver);
  gsl_root_fsolver_free (solver);
  return root;
}
