/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/substitution.h"

#include <glib/gi18n-lib.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
#include <stdio.h>

#include "core/belief.h"
#include "core/blend.h"
#include "core/error.h"
#include "core/solvents.h"
#include "core/viscosity.h"
#include "core/viscosity-law.h"

#define DEFAULT_MOST 12
#define UNKNOWN_DISTANCE 0.5
#define LOWEST_AGENT_SHARE 1e-4
#define HIGHEST_AGENT_PPM (OG_PPM_WHOLE / 2)
#define BODY_KEPT_LN 0.1

/* Differences that a formulator notices: each of them alone makes a distance of 1. Judgement. */
#define NOTICED_LN_VISCOSITY 0.7
#define NOTICED_ACIDS_PCT 40.0
#define NOTICED_IODINE 40.0
#define NOTICED_REFRACTION 0.010
#define NOTICED_DENSITY_G_ML 0.03
#define NOTICED_MELTING_K 15.0
#define NOTICED_COLOUR 0.25
#define OTHER_AGENT_DISTANCE 0.2 /* never equal without a bench value */

/* What a material can be replaced for: it has to do the same job. */
typedef enum
{
  JOB_NONE,
  JOB_LIQUID,
  JOB_GELLING,
  JOB_STIFFENER,
  JOB_ANTIOXIDANT,
  JOB_COLOUR,
  JOB_SHIMMER,
  JOB_FLAVOUR,
  JOB_VITAMIN,
  JOB_FILLER
} Job;

/* One compared property. */
typedef struct
{
  double distance; /* NAN: not compared */
  char *reason;
} Difference;

typedef struct
{
  const OgIngredient *old;
  Job job;
  OgEstimate old_viscosity;
  const OgParameters *parameters;
  GPtrArray *contents; /* of the recipe */
} Comparison;

static Job
job_of (const OgIngredient *ingredient)
{
  switch (ingredient->kind)
    {
    case OG_KIND_OIL:
    case OG_KIND_WAX_ESTER:
    case OG_KIND_ESTER:
    case OG_KIND_HYDROCARBON:
    case OG_KIND_SILICONE:
    case OG_KIND_ALCOHOL:
    case OG_KIND_BUTTER:
      return JOB_LIQUID;
    case OG_KIND_GELLING_AGENT:
      return JOB_GELLING;
    case OG_KIND_WAX:
      return JOB_STIFFENER;
    case OG_KIND_ANTIOXIDANT:
      return JOB_ANTIOXIDANT;
    case OG_KIND_COLOUR:
    case OG_KIND_DISPERSION:
      return JOB_COLOUR;
    case OG_KIND_PEARL:
      return JOB_SHIMMER;
    case OG_KIND_FLAVOUR:
    case OG_KIND_ESSENTIAL_OIL:
      return JOB_FLAVOUR;
    case OG_KIND_VITAMIN:
    case OG_KIND_ACTIVE:
      return JOB_VITAMIN;
    case OG_KIND_POWDER:
      return JOB_FILLER;
    case OG_N_KINDS:
    default:
      return JOB_NONE;
    }
}

static gboolean
is_liquid_polymer (const OgIngredient *ingredient)
{
  return ingredient->gelling.family == OG_GEL_VISCOUS_LIQUID;
}

static gboolean
has_any_tag (const OgIngredient *ingredient,
             const char *const  *tags)
{
  for (guint i = 0; tags != NULL && tags[i] != NULL; i++)
    if (og_ingredient_has_tag (ingredient, tags[i]))
      return TRUE;
  return FALSE;
}

/* A dispersion inherits the tags of what it holds. */
static gboolean
holds_any_tag (const OgIngredient *ingredient,
               const OgCatalog    *catalog,
               const char *const  *tags)
{
  if (has_any_tag (ingredient, tags))
    return TRUE;
  for (guint i = 0; i < ingredient->composition->len; i++)
    {
      const OgPart *part = &g_array_index (ingredient->composition, OgPart, i);
      const OgIngredient *held = og_catalog_get (catalog, part->ingredient_id);

      if (held != NULL && holds_any_tag (held, catalog, tags))
        return TRUE;
    }
  return FALSE;
}

/* On lips only what is used on lips; on skin only what is used on skin. */
static gboolean
serves_same_uses (const OgIngredient *old,
                  const OgIngredient *new)
{
  static const char *const uses[] = { "lip", "skin" };

  for (guint i = 0; i < G_N_ELEMENTS (uses); i++)
    if (og_ingredient_has_use (old, uses[i]) && !og_ingredient_has_use (new, uses[i]))
      return FALSE;
  return TRUE;
}

static gboolean
is_candidate (const Comparison            *comparison,
              const OgCatalog             *catalog,
              const OgIngredient          *new,
              const OgSubstitutionOptions *options)
{
  if (g_str_equal (new->id, comparison->old->id) || job_of (new) != comparison->job)
    return FALSE;
  if (comparison->job == JOB_GELLING
      && is_liquid_polymer (new) != is_liquid_polymer (comparison->old))
    return FALSE;
  if (!serves_same_uses (comparison->old, new))
    return FALSE;
  if (options == NULL)
    return TRUE;
  if (options->without_ids != NULL && g_strv_contains (options->without_ids, new->id))
    return FALSE;
  if (options->stocked && !og_shelf_has (options->shelf, new->id))
    return FALSE;
  return !holds_any_tag (new, catalog, options->without_tags);
}

static char *
times_text (double ratio)
{
  if (ratio >= 1.0)
    return g_strdup_printf (_("%.1f times as thick"), ratio);
  return g_strdup_printf (_("%.1f times thinner"), 1.0 / ratio);
}

static Difference
compare_viscosity (const Comparison   *comparison,
                   const OgIngredient *new)
{
  OgEstimate viscosity
      = og_ingredient_viscosity (new, comparison->parameters, OG_TEMPERATURE_ROOM_C);
  g_autofree char *old_text = og_viscosity_to_text (comparison->old_viscosity.value);
  g_autofree char *new_text = og_viscosity_to_text (viscosity.value);
  g_autofree char *times = NULL;
  double ln_ratio;

  if (!isfinite (comparison->old_viscosity.value) && !isfinite (viscosity.value))
    return (Difference) { UNKNOWN_DISTANCE, g_strdup (_("The viscosity of neither is known.")) };
  if (!isfinite (viscosity.value))
    {
      OgViscosityLaw guess;

      og_viscosity_law_fit (new, &guess);
      ln_ratio = og_viscosity_law_ln (&guess, OG_TEMPERATURE_ROOM_C)
                 - log (comparison->old_viscosity.value);
      return (Difference) { hypot (ln_ratio, og_viscosity_law_sd (&guess, OG_TEMPERATURE_ROOM_C))
                                / NOTICED_LN_VISCOSITY,
                            g_strdup (_("Its own viscosity is unknown: test it in a flow cup first.")) };
    }
  if (!isfinite (comparison->old_viscosity.value))
    return (Difference) { UNKNOWN_DISTANCE,
                          g_strdup_printf (_("On its own about %s mPa·s at 25 °C; that of the material it "
                                             "replaces is unknown."),
                                           new_text) };
  ln_ratio = log (viscosity.value / comparison->old_viscosity.value);
  if (fabs (ln_ratio) < BODY_KEPT_LN)
    return (Difference) { fabs (ln_ratio) / NOTICED_LN_VISCOSITY,
                          g_strdup_printf (_("As thick on its own: %s mPa·s against %s at 25 °C."), new_text,
                                           old_text) };
  times = times_text (exp (ln_ratio));
  return (Difference) { fabs (ln_ratio) / NOTICED_LN_VISCOSITY,
                        g_strdup_printf (_("On its own %s: %s mPa·s against %s at 25 °C."), times, new_text,
                                         old_text) };
}

static Difference
compare_acids (const Comparison   *comparison,
               const OgIngredient *new)
{
  double old_pct[OG_N_ACID_CLASSES], new_pct[OG_N_ACID_CLASSES];
  double moved = 0.0;
  int most = 0;

  if (comparison->old->profile == NULL && new->profile == NULL)
    return (Difference) { NAN, NULL };
  if (comparison->old->profile == NULL || new->profile == NULL)
    return (Difference) { 1.0, g_strdup (_("Of another chemical family.")) };

  og_profile_class_shares (comparison->old->profile, old_pct);
  og_profile_class_shares (new->profile, new_pct);
  for (int i = 0; i < OG_N_ACID_CLASSES; i++)
    {
      moved += 0.5 * fabs (new_pct[i] - old_pct[i]);
      if (fabs (new_pct[i] - old_pct[i]) > fabs (new_pct[most] - old_pct[most]))
        most = i;
    }
  if (moved < 10.0)
    return (Difference) { moved / NOTICED_ACIDS_PCT,
                          g_strdup_printf (_("Nearly the same fatty acids: %.0f %% in common."),
                                           100.0 - moved) };
  return (Difference) { moved / NOTICED_ACIDS_PCT,
                        g_strdup_printf (_("%.0f %% of the fatty acids in common; most changed: %s, %.0f %% "
                                           "against %.0f %%."),
                                         100.0 - moved, og_acid_class_get_name ((OgAcidClass) most),
                                         new_pct[most], old_pct[most]) };
}

static Difference
compare_keeping (const Comparison   *comparison,
                 const OgIngredient *new)
{
  double old_value = og_ingredient_iodine_value (comparison->old);
  double new_value = og_ingredient_iodine_value (new);
  double distance;

  if (!isfinite (old_value) || !isfinite (new_value))
    return (Difference) { UNKNOWN_DISTANCE, NULL };
  distance = fabs (new_value - old_value) / NOTICED_IODINE;
  if (distance < 0.25)
    return (Difference) { distance, NULL };
  return (Difference) { distance,
                        g_strdup_printf (new_value < old_value
                                             ? _("Slower to oxidise: iodine value %.0f against %.0f.")
                                             : _("Quicker to oxidise: iodine value %.0f against %.0f."),
                                         new_value, old_value) };
}

static Difference
compare_gloss (const Comparison   *comparison,
               const OgIngredient *new)
{
  const OgFigure *old_n = &comparison->old->figures[OG_FIGURE_REFRACTIVE_INDEX];
  const OgFigure *new_n = &new->figures[OG_FIGURE_REFRACTIVE_INDEX];
  double difference;

  if (!og_figure_is_known (old_n) || !og_figure_is_known (new_n))
    return (Difference) { UNKNOWN_DISTANCE, NULL };
  difference = new_n->value - old_n->value;
  if (isfinite (old_n->at_c) && isfinite (new_n->at_c))
    difference += 0.00038 * (new_n->at_c - old_n->at_c);
  if (fabs (difference) < 0.5 * NOTICED_REFRACTION)
    return (Difference) { fabs (difference) / NOTICED_REFRACTION, NULL };
  return (Difference) { fabs (difference) / NOTICED_REFRACTION,
                        g_strdup (difference > 0.0 ? _("Glossier: a higher refractive index.")
                                                   : _("Less gloss: a lower refractive index.")) };
}

static Difference
compare_density (const Comparison   *comparison,
                 const OgIngredient *new)
{
  double difference = og_ingredient_density (new, OG_TEMPERATURE_ROOM_C)
                      - og_ingredient_density (comparison->old, OG_TEMPERATURE_ROOM_C);

  if (!isfinite (difference))
    return (Difference) { UNKNOWN_DISTANCE, NULL };
  return (Difference) { fabs (difference) / NOTICED_DENSITY_G_ML, NULL };
}

/* What is liquid at room temperature counts as melting there. */
static double
melting_felt_c (const OgIngredient *ingredient)
{
  const OgFigure *melting = &ingredient->figures[OG_FIGURE_MELTING_C];

  if (!og_figure_is_known (melting))
    return ingredient->kind == OG_KIND_BUTTER ? NAN : OG_TEMPERATURE_ROOM_C;
  return fmax (melting->value, OG_TEMPERATURE_ROOM_C);
}

static Difference
compare_melting (const Comparison   *comparison,
                 const OgIngredient *new)
{
  double difference = melting_felt_c (new) - melting_felt_c (comparison->old);
  double distance = fabs (difference) / NOTICED_MELTING_K;

  if (!isfinite (distance) || distance < 0.3)
    return (Difference) { distance, NULL };
  return (Difference) { distance,
                        g_strdup (difference > 0.0 ? _("Melts higher: it stiffens and may grain the oil.")
                                                   : _("Melts lower: it does not stiffen as much.")) };
}

static Difference
compare_gelling (const Comparison   *comparison,
                 const OgIngredient *new)
{
  const OgGelling *old_gel = &comparison->old->gelling;
  const OgGelling *new_gel = &new->gelling;
  double distance = OTHER_AGENT_DISTANCE;

  if (old_gel->family == OG_GEL_NONE || new_gel->family == OG_GEL_NONE)
    return (Difference) { old_gel->family == new_gel->family ? NAN : 1.5, NULL };
  if (og_figure_is_known (&old_gel->gel_point_pct) && og_figure_is_known (&new_gel->gel_point_pct))
    distance += 0.5 * fabs (log (new_gel->gel_point_pct.value / old_gel->gel_point_pct.value));
  if (old_gel->family == new_gel->family)
    return (Difference) { distance, g_strdup (_("Thickens in the same way.")) };
  return (Difference) { 1.0 + distance,
                        g_strdup (_("Thickens in another way: expect another feel and other heating.")) };
}

static Difference
compare_solvent (const Comparison   *comparison,
                 const OgIngredient *new)
{
  const char *medium;

  if (new->gelling.family == OG_GEL_NONE)
    return (Difference) { NAN, NULL };
  switch (og_solvent_fit (comparison->contents, &new->gelling, &medium))
    {
    case OG_SOLVENT_NO:
      return (Difference) { 4.0, g_strdup_printf (_("Does not dissolve in %s, the main liquid here."), medium) };
    case OG_SOLVENT_LIMITED:
      return (Difference) { 1.0, g_strdup_printf (_("Suits %s, the main liquid here, only within limits."),
                                                  medium) };
    case OG_SOLVENT_YES:
      return (Difference) { 0.0, NULL };
    case OG_SOLVENT_UNKNOWN:
    default:
      return (Difference) { UNKNOWN_DISTANCE,
                            g_strdup (_("Whether it dissolves in the main liquid here is unknown.")) };
    }
}

static double
usual_level (const OgIngredient *ingredient)
{
  const OgFigure *low = &ingredient->figures[OG_FIGURE_USUAL_LOW_PCT];
  const OgFigure *high = &ingredient->figures[OG_FIGURE_USUAL_HIGH_PCT];

  if (!og_figure_is_known (low) || !og_figure_is_known (high))
    return NAN;
  return sqrt (low->value * high->value);
}

static Difference
compare_usual_level (const Comparison   *comparison,
                     const OgIngredient *new)
{
  double ln_ratio = log (usual_level (new) / usual_level (comparison->old));

  if (!isfinite (ln_ratio))
    return (Difference) { UNKNOWN_DISTANCE, g_strdup (_("Its usual level is unknown.")) };
  if (fabs (ln_ratio) < 0.2)
    return (Difference) { fabs (ln_ratio), g_strdup (_("Used at about the same level.")) };
  return (Difference) { fabs (ln_ratio),
                        g_strdup_printf (_("Usually %.3g to %.3g %%: adjust the amount."),
                                         new->figures[OG_FIGURE_USUAL_LOW_PCT].value,
                                         new->figures[OG_FIGURE_USUAL_HIGH_PCT].value) };
}

static gboolean
read_hex (const OgIngredient *ingredient,
          const OgCatalog    *catalog,
          double              rgb[3])
{
  unsigned int r, g, b;

  if (ingredient->hex != NULL && sscanf (ingredient->hex, "#%2x%2x%2x", &r, &g, &b) == 3)
    {
      rgb[0] = r / 255.0;
      rgb[1] = g / 255.0;
      rgb[2] = b / 255.0;
      return TRUE;
    }
  for (guint i = 0; i < ingredient->composition->len; i++)
    {
      const OgPart *part = &g_array_index (ingredient->composition, OgPart, i);
      const OgIngredient *held = og_catalog_get (catalog, part->ingredient_id);

      if (held != NULL && read_hex (held, catalog, rgb))
        return TRUE;
    }
  return FALSE;
}

static Difference
compare_colour (const Comparison   *comparison,
                const OgCatalog    *catalog,
                const OgIngredient *new)
{
  double one[3], other[3], squared = 0.0, distance;

  if (!read_hex (comparison->old, catalog, one) || !read_hex (new, catalog, other))
    return (Difference) { UNKNOWN_DISTANCE, g_strdup (_("How near the shade is, is unknown.")) };
  for (int i = 0; i < 3; i++)
    squared += (one[i] - other[i]) * (one[i] - other[i]);
  distance = sqrt (squared / 3.0) / NOTICED_COLOUR;
  return (Difference) { distance, g_strdup (distance < 0.4 ? _("A similar shade (approximate mass tone).")
                                                           : _("Another shade.")) };
}

static int
compare_differences (const void *a,
                     const void *b)
{
  const Difference *one = a, *other = b;
  double da = isfinite (one->distance) ? one->distance : -1.0;
  double db = isfinite (other->distance) ? other->distance : -1.0;

  return (db > da) - (db < da);
}

static void
add_source_reasons (GPtrArray          *reasons,
                    const OgIngredient *new)
{
  static const struct
  {
    const char *tag;
    const char *text;
  } notice[] = {
    { "nut", N_ ("From a tree nut.") },
    { "peanut", N_ ("From peanuts.") },
    { "animal-derived", N_ ("Of animal origin.") },
    { "grade-varies", N_ ("Materials of this name differ from source to source.") },
    { "volatile", N_ ("Evaporates after a while.") },
    { "drying", N_ ("Hardens in air as it ages.") },
  };

  for (guint i = 0; i < G_N_ELEMENTS (notice); i++)
    if (og_ingredient_has_tag (new, notice[i].tag))
      g_ptr_array_add (reasons, g_strdup (_ (notice[i].text)));
}

/* The distance and its explanation: likeness first, then the differences, largest first. */
static OgSuggestion *
suggest (const Comparison   *comparison,
         const OgCatalog    *catalog,
         const OgIngredient *new)
{
  OgSuggestion *suggestion = og_suggestion_new ((const char *[]) { comparison->old->id, NULL });
  Difference difference[8];
  guint n = 0, compared = 0;
  double squares = 0.0;

  switch (comparison->job)
    {
    case JOB_GELLING:
    case JOB_STIFFENER:
      difference[n++] = is_liquid_polymer (new) ? compare_viscosity (comparison, new)
                                                : compare_gelling (comparison, new);
      difference[n++] = compare_solvent (comparison, new);
      difference[n++] = compare_melting (comparison, new);
      break;
    case JOB_COLOUR:
    case JOB_SHIMMER:
      difference[n++] = compare_colour (comparison, catalog, new);
      difference[n++]
          = (Difference) { new->kind == comparison->old->kind ? 0.0 : 0.6,
                           new->kind == comparison->old->kind
                               ? NULL
                               : g_strdup (new->kind == OG_KIND_DISPERSION
                                               ? _("Already ground in oil; it brings less colour for its weight.")
                                               : _("A dry powder: it has to be ground in oil first.")) };
      break;
    case JOB_LIQUID:
      difference[n++] = compare_viscosity (comparison, new);
      difference[n++] = compare_acids (comparison, new);
      difference[n++] = compare_keeping (comparison, new);
      difference[n++] = compare_gloss (comparison, new);
      difference[n++] = compare_density (comparison, new);
      difference[n++] = compare_melting (comparison, new);
      break;
    case JOB_NONE:
    case JOB_ANTIOXIDANT:
    case JOB_FLAVOUR:
    case JOB_VITAMIN:
    case JOB_FILLER:
    default:
      difference[n++] = (Difference) { new->kind == comparison->old->kind ? 0.3 : 0.9,
                                       g_strdup (_("Does the same job.")) };
      difference[n++] = compare_usual_level (comparison, new);
      break;
    }

  for (guint i = 0; i < n; i++)
    if (isfinite (difference[i].distance))
      {
        squares += difference[i].distance * difference[i].distance;
        compared++;
      }
  og_suggestion_add_part (suggestion, new, 0);
  suggestion->distance = compared > 0 ? sqrt (squares / compared) : 1.0;
  suggestion->bound = suggestion->distance;
  suggestion->optimal = TRUE;
  qsort (difference, n, sizeof (Difference), compare_differences);
  for (guint i = 0; i < n; i++)
    if (difference[i].reason != NULL)
      g_ptr_array_add (suggestion->reasons, difference[i].reason);
  add_source_reasons (suggestion->reasons, new);
  return suggestion;
}

static int
compare_suggestions (gconstpointer a,
                     gconstpointer b)
{
  const OgSuggestion *one = *(const OgSuggestion *const *) a;
  const OgSuggestion *other = *(const OgSuggestion *const *) b;

  if (one->distance != other->distance)
    return one->distance < other->distance ? -1 : 1;
  return strcmp (og_suggestion_get_part (one, 0)->ingredient->id,
                 og_suggestion_get_part (other, 0)->ingredient->id);
}

static OgPpm
amount_of (const OgFormula *formula,
           const char      *ingredient_id)
{
  OgPpm sum = 0;

  for (guint p = 0; p < formula->phases->len; p++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (formula->phases, p);

      for (guint l = 0; l < phase->lines->len; l++)
        {
          const OgFormulaLine *line = g_ptr_array_index (phase->lines, l);

          if (g_str_equal (line->ingredient_id, ingredient_id))
            sum += line->amount;
        }
    }
  return sum;
}

static OgBlend *
blend_of (GPtrArray *contents,
          OgCatalog *catalog,
          OgBelief  *belief)
{
  OgBlend *blend = og_blend_new (contents, og_catalog_get_parameters (catalog));

  if (belief != NULL)
    og_blend_set_belief (blend, belief);
  return blend;
}

static void
set_amount (OgSuggestion *suggestion,
            OgPpm         amount)
{
  g_array_index (suggestion->parts, OgSuggestedPart, 0).amount = amount;
}

/* The recipe with the new agent, as a function of its share. */
typedef struct
{
  const OgFormula *formula;
  OgCatalog *catalog;
  OgBelief *belief;
  OgSuggestion *trial;
  double ln_target;
} BodySearch;

static double
body_excess (double   ln_share,
             gpointer user_data)
{
  BodySearch *search = user_data;
  g_autoptr (OgFormula) changed = NULL;
  g_autoptr (GPtrArray) contents = NULL;
  g_autoptr (OgBlend) blend = NULL;

  set_amount (search->trial, (OgPpm) lround (exp (ln_share) * OG_PPM_WHOLE));
  changed = og_substitution_apply (search->formula, search->trial);
  contents = og_formula_contents (changed, search->catalog);
  blend = blend_of (contents, search->catalog, search->belief);
  if (!og_blend_flows (blend))
    return INFINITY;
  return og_blend_ln_viscosity (blend, OG_TEMPERATURE_ROOM_C, OG_SHEAR_POUR, NULL) - search->ln_target;
}

/* What the balance lines and the old agent leave room for; half the recipe where all others make
 * room. */
static OgPpm
highest_share (const OgFormula *formula,
               const char      *old_id)
{
  gint64 room = 0;
  gboolean balanced = FALSE;

  for (guint p = 0; p < formula->phases->len; p++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (formula->phases, p);

      for (guint l = 0; l < phase->lines->len; l++)
        {
          const OgFormulaLine *line = g_ptr_array_index (phase->lines, l);

          balanced = balanced || line->balance_share > 0;
          if (line->balance_share > 0 || g_str_equal (line->ingredient_id, old_id))
            room += line->amount;
        }
    }
  return balanced ? (OgPpm) MIN (room, HIGHEST_AGENT_PPM) : HIGHEST_AGENT_PPM;
}

/* Share of the new agent at which the recipe pours as before; NAN if no share does. */
static double
solve_agent_share (const OgFormula    *formula,
                   OgCatalog          *catalog,
                   OgBelief           *belief,
                   const char         *old_id,
                   OgSuggestion       *suggestion,
                   double              ln_target)
{
  const double low = log (LOWEST_AGENT_SHARE);
  const double high = log (og_ppm_to_fraction (highest_share (formula, old_id)));
  BodySearch search = { formula, catalog, belief, suggestion, ln_target };
  gsl_function function = { .function = body_excess, .params = &search };
  gsl_root_fsolver *solver;
  double root;

  if (high <= low || body_excess (low, &search) > 0.0 || !(body_excess (high, &search) > 0.0))
    return NAN;
  solver = gsl_root_fsolver_alloc (gsl_root_fsolver_brent);
  gsl_root_fsolver_set (solver, &function, low, high);
  do
    gsl_root_fsolver_iterate (solver);
  while (gsl_root_test_interval (gsl_root_fsolver_x_lower (solver), gsl_root_fsolver_x_upper (solver),
                                 1e-4, 0.0)
         == GSL_CONTINUE);
  root = gsl_root_fsolver_root (solver);
  gsl_root_fsolver_free (solver);
  return exp (root);
}

static void
rescale_agent (const OgFormula *formula,
               OgCatalog       *catalog,
               OgBelief        *belief,
               const char      *old_id,
               double           ln_target,
               OgSuggestion    *suggestion)
{
  const OgPpm before = og_suggestion_get_part (suggestion, 0)->amount;
  const double share = solve_agent_share (formula, catalog, belief, old_id, suggestion, ln_target);

  if (!isfinite (share))
    {
      g_ptr_array_insert (suggestion->reasons, 0,
                          g_strdup (_("No share of it keeps the body by the figures at hand; the amount is "
                                      "left as it was.")));
      suggestion->distance += 0.5;
      suggestion->bound = suggestion->distance;
      set_amount (suggestion, before);
      return;
    }
  set_amount (suggestion, (OgPpm) lround (share * OG_PPM_WHOLE));
  g_ptr_array_insert (suggestion->reasons, 0,
                      g_strdup_printf (_("%.2f %% of it pours like %.2f %% now, by figures that are a starting "
                                         "guess: make a small trial."),
                                       og_ppm_to_pct (og_suggestion_get_part (suggestion, 0)->amount), og_ppm_to_pct (before)));
}

/* What the exchange does to the whole recipe. */
static void
foresee (const OgFormula *formula,
         OgCatalog       *catalog,
         const OgResult  *before,
         OgBlend         *blend_before,
         OgSuggestion    *suggestion)
{
  g_autoptr (OgFormula) changed = og_substitution_apply (formula, suggestion);
  OgConditions conditions = { .belief = before->belief };
  g_autoptr (OgResult) after = og_evaluate (changed, catalog, &conditions);
  g_autoptr (OgBlend) blend_after = blend_of (after->contents, catalog, before->belief);

  suggestion->viscosity_ratio
      = og_blend_ratio (blend_after, blend_before, OG_TEMPERATURE_ROOM_C, OG_SHEAR_POUR);
  suggestion->iodine_change = after->iodine_value - before->iodine_value;
  suggestion->density_change_g_ml = after->density_g_ml - before->density_g_ml;
}

GPtrArray *
og_substitute (const OgFormula             *formula,
               OgCatalog                   *catalog,
               const char *const           *ingredient_ids,
               const OgSubstitutionOptions *options,
               GError                     **error)
{
  g_autoptr (GPtrArray) suggestions = g_ptr_array_new_with_free_func ((GDestroyNotify) og_suggestion_free);
  g_autoptr (OgResult) before = NULL;
  g_autoptr (OgBlend) blend = NULL;
  guint most = options != NULL && options->most > 0 ? options->most : DEFAULT_MOST;
  Comparison comparison = { .parameters = og_catalog_get_parameters (catalog) };
  OgConditions conditions = { .belief = options != NULL ? options->belief : NULL };
  const char *ingredient_id = ingredient_ids[0];
  OgPpm amount;

  g_return_val_if_fail (formula != NULL && catalog != NULL && ingredient_id != NULL, NULL);

  comparison.old = og_catalog_get (catalog, ingredient_id);
  if (comparison.old == NULL)
    {
      g_set_error (error, OG_RECIPE_ERROR, OG_RECIPE_ERROR_UNKNOWN_INGREDIENT,
                   _("“%s” is not in the catalog"), ingredient_id);
      return NULL;
    }
  if (og_formula_find_ingredient (formula, ingredient_id) == NULL)
    {
      g_set_error (error, OG_RECIPE_ERROR, OG_RECIPE_ERROR_NOT_IN_RECIPE,
                   _("%s is not in the recipe"), comparison.old->name);
      return NULL;
    }
  comparison.job = job_of (comparison.old);
  comparison.old_viscosity
      = og_ingredient_viscosity (comparison.old, comparison.parameters, OG_TEMPERATURE_ROOM_C);
  amount = amount_of (formula, ingredient_id);
  before = og_evaluate (formula, catalog, &conditions);
  comparison.contents = before->contents;
  blend = blend_of (before->contents, catalog, before->belief);

  for (guint i = 0; i < og_catalog_get_n_items (catalog); i++)
    {
      const OgIngredient *new = og_catalog_get_item (catalog, i);
      OgSuggestion *suggestion;

      if (!is_candidate (&comparison, catalog, new, options))
        continue;
      suggestion = suggest (&comparison, catalog, new);
      set_amount (suggestion, amount);
      if (comparison.job == JOB_GELLING && !is_liquid_polymer (new) && og_blend_flows (blend)
          && amount > 0)
        rescale_agent (formula, catalog, before->belief, ingredient_id, log (before->pour.value), suggestion);
      g_ptr_array_add (suggestions, suggestion);
    }
  g_ptr_array_sort (suggestions, compare_suggestions);
  if (suggestions->len > most)
    g_ptr_array_set_size (suggestions, (int) most);
  for (guint i = 0; i < suggestions->len; i++)
    foresee (formula, catalog, before, blend, g_ptr_array_index (suggestions, i));
  return g_steal_pointer (&suggestions);
}
