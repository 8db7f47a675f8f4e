/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/bench.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/catalog.h"

/* --- cups ------------------------------------------------------------------ */

/* Kinematic viscosity in mm2/s is a (t - c) - b/t, t in seconds. */
typedef struct
{
  OgCupInfo   info;
  const char *name;
  double      a, b, c;
} Cup;

/*
 * ISO 2431 and ASTM D1200 nos. 3 to 5: recalled. D1200 nos. 1 and 2: a published table of cup constants, its ranges the
 * standard's clause 11.2. D4212: Patton 1979, Paint Flow and Pigment Dispersion, 2nd ed., p. 82, as quoted in a dip-cup
 * manual; these cups vary by maker by about 20 %, taken as an 80 % interval. The other spreads are judgement.
 */
static const Cup cups[OG_N_CUPS] = {
  { { "iso-3", 30, 100, 0.05, TRUE }, N_("ISO 2431 cup, 3 mm"), 0.443, 200, 0 },
  { { "iso-4", 30, 100, 0.05, TRUE }, N_("ISO 2431 cup, 4 mm"), 1.37, 200, 0 },
  { { "iso-5", 30, 100, 0.05, TRUE }, N_("ISO 2431 cup, 5 mm"), 3.28, 220, 0 },
  { { "iso-6", 30, 100, 0.05, TRUE }, N_("ISO 2431 cup, 6 mm"), 6.90, 570, 0 },
  { { "d1200-1", 55, 100, 0.05, FALSE }, N_("ASTM D1200 cup no. 1"), 0.49, 0, 35.0 },
  { { "d1200-2", 40, 100, 0.05, FALSE }, N_("ASTM D1200 cup no. 2"), 1.44, 0, 18.0 },
  { { "d1200-3", 20, 100, 0.05, TRUE }, N_("ASTM D1200 cup no. 3"), 2.31, 0, 6.58 },
  { { "d1200-4", 20, 100, 0.05, TRUE }, N_("ASTM D1200 cup no. 4"), 3.85, 0, 4.49 },
  { { "d1200-5", 20, 100, 0.05, TRUE }, N_("ASTM D1200 cup no. 5"), 12.1, 0, 2.00 },
  { { "d4212-1", 35, 80, 0.16, FALSE }, N_("ASTM D4212 cup no. 1"), 1.1, 0, 29 },
  { { "d4212-2", 20, 80, 0.16, FALSE }, N_("ASTM D4212 cup no. 2"), 3.5, 0, 14 },
  { { "d4212-3", 20, 80, 0.16, FALSE }, N_("ASTM D4212 cup no. 3"), 11.7, 0, 7.5 },
  { { "d4212-4", 20, 80, 0.16, FALSE }, N_("ASTM D4212 cup no. 4"), 14.8, 0, 5 },
  { { "d4212-5", 20, 80, 0.16, FALSE }, N_("ASTM D4212 cup no. 5"), 23, 0, 0 },
};

const OgCupInfo *
og_cup_get_info (OgCup cup)
{
  g_return_val_if_fail (cup < OG_N_CUPS, NULL);

  return &cups[cup].info;
}

const char *
og_cup_get_name (OgCup cup)
{
  g_return_val_if_fail (cup < OG_N_CUPS, NULL);

  return _(cups[cup].name);
}

gboolean
og_cup_from_nick (const char *nick,
                  OgCup      *cup)
{
  g_return_val_if_fail (nick != NULL && cup != NULL, FALSE);

  for (guint i = 0; i < OG_N_CUPS; i++)
    {
      if (!g_str_equal (cups[i].info.nick, nick))
        continue;
      *cup = (OgCup) i;
      return TRUE;
    }
  return FALSE;
}

double
og_cup_kinematic (OgCup  cup,
                  double seconds)
{
  g_return_val_if_fail (cup < OG_N_CUPS, NAN);

  return cups[cup].a * (seconds - cups[cup].c) - cups[cup].b / seconds;
}

double
og_cup_seconds (OgCup  cup,
                double mm2_s)
{
  const Cup *self;
  double low, high, middle;

  g_return_val_if_fail (cup < OG_N_CUPS, NAN);

  low = og_cup_kinematic (cup, cups[cup].info.low_s);
  high = og_cup_kinematic (cup, cups[cup].info.high_s);
  if (!(mm2_s >= low && mm2_s <= high))
    return NAN;

  /* a t^2 - (a c + nu) t - b = 0 has one positive root. */
  self = &cups[cup];
  middle = self->a * self->c + mm2_s;
  return CLAMP ((middle + sqrt (middle * middle + 4 * self->a * self->b)) / (2 * self->a),
                self->info.low_s, self->info.high_s);
}

/* --- likenesses ------------------------------------------------------------ */

typedef struct
{
  OgLikeness  likeness;
  const char *name;
} NamedLikeness;

/*
 * Water, glycerol: recalled handbook values at 25 C. Sunflower-type, olive and castor oil: recalled. Mineral oil, syrup and
 * honey differ widely from lot to lot: judgement.
 */
static const NamedLikeness likenesses[OG_N_LIKENESSES] = {
  { { "water", 0.89 }, N_("Water") },
  { { "light-mineral-oil", 20 }, N_("Light mineral oil") },
  { { "seed-oil", 52 }, N_("Sunflower or a similar seed oil") },
  { { "olive-oil", 68 }, N_("Olive oil") },
  { { "maple-syrup", 160 }, N_("Maple syrup") },
  { { "castor-oil", 680 }, N_("Castor oil") },
  { { "glycerol", 930 }, N_("Glycerol") },
  { { "honey", 8000 }, N_("Runny honey") },
};

const OgLikeness *
og_likeness_get (guint index)
{
  g_return_val_if_fail (index < OG_N_LIKENESSES, NULL);

  return &likenesses[index].likeness;
}

const char *
og_likeness_get_name (guint index)
{
  g_return_val_if_fail (index < OG_N_LIKENESSES, NULL);

  return _(likenesses[index].name);
}

/* --- measurements ---------------------------------------------------------- */

static void
part_clear (gpointer data)
{
  g_free (((OgPart *) data)->ingredient_id);
}

static void
add_part (GArray     *parts,
          const char *ingredient_id,
          double      pct)
{
  OgPart part = { g_strdup (ingredient_id), pct };

  g_array_append_val (parts, part);
}

static GArray *
parts_new (void)
{
  GArray *parts = g_array_new (FALSE, FALSE, sizeof (OgPart));

  g_array_set_clear_func (parts, part_clear);
  return parts;
}

OgMeasurement *
og_measurement_new (void)
{
  OgMeasurement *measurement = g_new0 (OgMeasurement, 1);

  measurement->id = g_strdup ("");
  measurement->lines = parts_new ();
  measurement->reading = (OgReading) {
    .temperature_c = NAN,
    .density_g_ml = NAN,
    .ball_diameter_mm = NAN,
    .ball_density_g_ml = NAN,
    .tube_diameter_mm = NAN,
    .fall_mm = NAN,
    .mpa_s = NAN,
    .shear_rate_1_s = NAN,
  };
  measurement->reduced = (OgReduced) { NAN, NAN, NAN, NAN, NAN };
  measurement->date = g_strdup ("");
  measurement->lot = g_strdup ("");
  measurement->note = g_strdup ("");
  return measurement;
}

OgMeasurement *
og_measurement_copy (const OgMeasurement *measurement)
{
  OgMeasurement *copy;

  g_return_val_if_fail (measurement != NULL, NULL);

  copy = g_memdup2 (measurement, sizeof *measurement);
  copy->id = g_strdup (measurement->id);
  copy->material_id = g_strdup (measurement->material_id);
  copy->lines = parts_new ();
  for (guint i = 0; i < measurement->lines->len; i++)
    {
      const OgPart *part = &g_array_index (measurement->lines, OgPart, i);

      add_part (copy->lines, part->ingredient_id, part->pct);
    }
  copy->date = g_strdup (measurement->date);
  copy->lot = g_strdup (measurement->lot);
  copy->note = g_strdup (measurement->note);
  if (measurement->extra != NULL)
    copy->extra = json_object_ref (measurement->extra);
  return copy;
}

void
og_measurement_free (OgMeasurement *measurement)
{
  if (measurement == NULL)
    return;
  g_free (measurement->id);
  g_free (measurement->material_id);
  g_array_unref (measurement->lines);
  g_free (measurement->date);
  g_free (measurement->lot);
  g_free (measurement->note);
  g_clear_pointer (&measurement->extra, json_object_unref);
  g_free (measurement);
}

static void
note_line (OgFormulaPhase *phase,
           OgFormulaLine  *line,
           gpointer        user_data)
{
  add_part (user_data, line->ingredient_id, og_ppm_to_pct (line->amount));
}

void
og_measurement_set_recipe (OgMeasurement   *measurement,
                           const OgFormula *formula)
{
  g_return_if_fail (measurement != NULL && formula != NULL);

  g_clear_pointer (&measurement->material_id, g_free);
  g_array_set_size (measurement->lines, 0);
  og_formula_foreach_line (formula, note_line, measurement->lines);
}

GPtrArray *
og_measurement_contents (const OgMeasurement     *measurement,
                         const struct _OgCatalog *catalog)
{
  g_autoptr (GArray) neat = NULL;

  g_return_val_if_fail (measurement != NULL && catalog != NULL, NULL);

  if (measurement->material_id == NULL)
    return og_parts_contents (measurement->lines, catalog);

  neat = parts_new ();
  add_part (neat, measurement->material_id, 100);
  return og_parts_contents (neat, catalog);
}
