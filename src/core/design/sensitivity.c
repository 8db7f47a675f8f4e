/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/sensitivity.h"

#include <string.h>

#include "core/base/conditions.h"
#include "core/base/statistics.h"
#include "core/design/line-model.h"

#define STEP 1e-4 /* mass fraction */

typedef struct
{
  OgLineModel *model;
  guint n;
  double *amount; /* fractions of the lines */
  double *moved;
} Study;

/* --- what one more per cent of a line does --------------------------------- */

typedef gboolean (*GivesWay) (const OgFormulaLine *line);

static gboolean
is_balance (const OgFormulaLine *line)
{
  return line->balance_share > 0;
}

static gboolean
is_free (const OgFormulaLine *line)
{
  return !line->held;
}

static gboolean
is_any (const OgFormulaLine *line)
{
  return TRUE;
}

/* What the lines that make room for line @index hold, and those lines. */
static double
room_of (const Study *study,
         guint        index,
         GivesWay     gives_way)
{
  double room = 0.0;

  for (guint i = 0; i < study->n; i++)
    if (i != index && gives_way (og_line_model_get_line (study->model, i)))
      room += study->amount[i];
  return room;
}

static GivesWay
who_gives_way (const Study *study,
               guint        index)
{
  static const GivesWay first[] = { is_balance, is_free };

  for (guint i = 0; i < G_N_ELEMENTS (first); i++)
    if (room_of (study, index, first[i]) > 0.0)
      return first[i];
  return is_any;
}

static double
ln_after (Study    *study,
          guint     index,
          GivesWay  gives_way,
          double    step,
          double    shear_rate_1_s)
{
  double room = room_of (study, index, gives_way);

  for (guint i = 0; i < study->n; i++)
    {
      study->moved[i] = study->amount[i];
      if (i == index)
        study->moved[i] += step;
      else if (gives_way (og_line_model_get_line (study->model, i)))
        study->moved[i] -= step * study->amount[i] / room;
    }
  return og_line_model_ln_viscosity (study->model, study->moved, OG_TEMPERATURE_ROOM_C,
                                     shear_rate_1_s);
}

static double
slope_of (Study  *study,
          guint   index,
          double  shear_rate_1_s)
{
  GivesWay gives_way = who_gives_way (study, index);
  double room = room_of (study, index, gives_way);
  double up = fmin (STEP, room), down = fmin (STEP, study->amount[index]);

  if (room <= 0.0)
    return NAN;
  return (ln_after (study, index, gives_way, up, shear_rate_1_s)
          - ln_after (study, index, gives_way, -down, shear_rate_1_s))
         / (100.0 * (up + down));
}

/* --- what lots do ---------------------------------------------------------- */

/* Variables of one material: "oil/ID/...", "liquid/ID", "agent/ID/...". */
static gboolean
belongs_to (const char *variable,
            const char *id)
{
  const char *name = strchr (variable, '/');
  gsize length = strlen (id);

  return name != NULL
         && (g_str_has_prefix (variable, "oil/") || g_str_has_prefix (variable, "liquid/")
             || g_str_has_prefix (variable, "agent/"))
         && strncmp (name + 1, id, length) == 0
         && (name[1 + length] == '/' || name[1 + length] == '\0');
}

static double *
believed (const Study   *study,
          const OgBlend *blend)
{
  OgBelief *belief = og_line_model_get_belief (study->model);
  guint n = og_blend_get_n_variables (blend);
  double *z = g_new0 (double, n);

  for (guint v = 0; belief != NULL && v < n; v++)
    {
      int at = og_belief_find (belief, og_blend_get_variable (blend, v));

      if (at >= 0)
        z[v] = og_belief_get_mean (belief, (guint) at);
    }
  return z;
}

static double
ln_at (OgBlend      *blend,
       const double *z)
{
  return og_blend_ln_viscosity (blend, OG_TEMPERATURE_ROOM_C, OG_SHEAR_POUR, z);
}

/* ln eta with @distance along @direction from @z, less @typical. */
static double
ln_out (OgBlend      *blend,
        const double *z,
        const double *direction,
        double        distance,
        double        typical)
{
  guint n = og_blend_get_n_variables (blend);
  g_autofree double *at = g_new (double, n);

  for (guint v = 0; v < n; v++)
    at[v] = z[v] + distance * direction[v];
  return ln_at (blend, at) - typical;
}

static void
spread_of_lots (const Study *study,
                OgBlend     *blend,
                OgLever     *lever)
{
  guint n = og_blend_get_n_variables (blend);
  g_autofree double *z = believed (study, blend);
  g_autofree double *direction = g_new0 (double, n);
  double typical = ln_at (blend, z), length = 0.0;
  guint own = 0;

  for (guint v = 0; v < n; v++)
    {
      double middle = z[v], thick;

      if (!belongs_to (og_blend_get_variable (blend, v), lever->ingredient_id))
        continue;
      own++;
      z[v] = middle + 0.5;
      thick = ln_at (blend, z);
      z[v] = middle - 0.5;
      direction[v] = thick - ln_at (blend, z);
      z[v] = middle;
      length = hypot (length, direction[v]);
    }
  if (own == 0)
    return;
  for (guint v = 0; v < n && length > 0.0; v++)
    direction[v] /= length;
  lever->lot_low_pct = 100.0 * expm1 (ln_out (blend, z, direction, -OG_HALF_BAND_SD, typical));
  lever->lot_high_pct = 100.0 * expm1 (ln_out (blend, z, direction, OG_HALF_BAND_SD, typical));
}

/* --- all lines ------------------------------------------------------------- */

static double
strength_of (const OgLever *lever)
{
  double strength = 0.0;
  const double effect[] = { lever->pour_pct, lever->lot_low_pct, lever->lot_high_pct };

  for (guint i = 0; i < G_N_ELEMENTS (effect); i++)
    if (isfinite (effect[i]))
      strength = fmax (strength, fabs (log1p (effect[i] / 100.0)));
  return strength;
}

static int
compare_levers (gconstpointer a,
                gconstpointer b)
{
  const OgLever *x = a, *y = b;
  double difference = strength_of (y) - strength_of (x);

  if (difference == 0.0)
    return (x->line_id > y->line_id) - (x->line_id < y->line_id);
  return difference > 0.0 ? 1 : -1;
}

static OgLever
study_line (Study   *study,
            OgBlend *blend,
            guint    index)
{
  const OgFormulaLine *line = og_line_model_get_line (study->model, index);
  OgLever lever = { .line_id = line->id, .ingredient_id = line->ingredient_id,
                    .lot_low_pct = NAN, .lot_high_pct = NAN };

  lever.pour_ln_per_pct = slope_of (study, index, OG_SHEAR_POUR);
  lever.rest_ln_per_pct = slope_of (study, index, OG_SHEAR_REST);
  lever.pour_pct = 100.0 * expm1 (lever.pour_ln_per_pct);
  lever.rest_pct = 100.0 * expm1 (lever.rest_ln_per_pct);
  if (og_blend_flows (blend))
    spread_of_lots (study, blend, &lever);
  return lever;
}

GArray *
og_levers (const OgFormula *formula,
           OgCatalog       *catalog,
           OgBelief        *belief)
{
  GArray *levers = g_array_new (FALSE, FALSE, sizeof (OgLever));
  g_autoptr (OgLineModel) model = NULL;
  g_autoptr (OgBlend) blend = NULL;
  g_autofree double *amount = NULL;
  g_autofree double *moved = NULL;
  Study study;

  g_return_val_if_fail (formula != NULL && catalog != NULL, levers);

  model = og_line_model_new (formula, catalog, belief);
  study = (Study) { .model = model, .n = og_line_model_get_n_lines (model) };
  study.amount = amount = g_new (double, study.n);
  study.moved = moved = g_new (double, study.n);
  for (guint i = 0; i < study.n; i++)
    amount[i] = og_ppm_to_fraction (og_line_model_get_line (model, i)->amount);
  blend = og_line_model_blend (model, amount);
  for (guint i = 0; i < study.n; i++)
    {
      OgLever lever = study_line (&study, blend, i);

      g_array_append_val (levers, lever);
    }
  g_array_sort (levers, compare_levers);
  return levers;
}
