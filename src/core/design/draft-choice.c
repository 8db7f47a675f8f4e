/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/draft-private.h"

#include "core/base/conditions.h"
#include "core/base/estimate.h"
#include "core/base/linear.h"
#include "core/base/physics.h"
#include "core/base/practice.h"
#include "core/material/chemistry.h"
#include "core/predict/blend.h"
#include "core/predict/solvents.h"
#include "core/predict/viscosity.h"

/* What speaks for and against a material. All of it is judgement. */
#define AGAINST_COX 0.12            /* a unit of the COX value of its acids */
#define AGAINST_DOUBT 0.25          /* a unit of the 80 % band of ln eta */
#define AGAINST_NO_SOURCE 0.06      /* a figure that nobody has looked up */
#define FOR_RED 0.3                 /* a tint for lips, from grey to red */
#define AGAINST_ONE_MORE 0.12       /* every further material */
#define AGAINST_TACK 0.3            /* on the body */
#define AGAINST_SHEAR 0.6
#define AGAINST_STRONG_HEAT 0.5
#define AGAINST_HEAT 0.15
#define AGAINST_LIMITED 0.3
#define AGAINST_GRAIN 0.8           /* a crystal network in what is to stay liquid */
#define AGAINST_GUESS 0.1
#define AGAINST_NO_AGENT 0.5        /* a lip oil of some body runs from the wand without one */
#define AGAINST_AGENT 1.0           /* a body oil does without one if it can */
#define WITHOUT_STOCK 0.1
#define WEIGHT_PRICE 0.6
#define PER_MISS 20.0

#define LEAST_LIQUID 0.03 /* mass fraction of a liquid that is worth its bottle; judgement */
#define MOST_LIQUID 0.75 /* mass fraction of one liquid beside others; judgement */
/* Mass fraction that bears the heat of the agent, to clear it in; judgement. */
#define LEAST_HOT_OIL 0.15
/* Mass fraction of liquids that suit the agent within limits; judgement. */
#define MOST_LIMITED 0.40
#define MOST_UNFIT 0.10 /* mass fraction of liquids that do not suit the agent; judgement */
#define COOL_ROOM_C 12.0            /* an oil that melts higher may cloud on the shelf */
#define HOT_C 100.0 /* an agent that clears above it needs a hot plate or an oven */
#define BAND_WIDTH_LN 0.35 /* liquids of one band of ln eta count as alike; judgement */
#define MOST_IN_BAND 3 /* liquids of a band that are looked at: keeps the choice small */
#define MOST_AGENTS 8 /* tried: keeps the choice small */
#define BELOW_GEL_POINT 0.6 /* share of the gel point that thickens without setting; judgement */

/* What the trade makes of one class at most, mass fraction of the recipe; common practice, no source. Oils for lips that are
 * hydrocarbon for more than half feel like petroleum jelly and hold no pigment; the tacky ones that carry a gloss make a
 * body oil a glue. */
#define MOST_HYDROCARBON_LIPS 0.50
#define MOST_HYDROCARBON_SKIN 0.60
#define MOST_TACKY_LIPS 0.30
#define MOST_TACKY_SKIN 0.05

static const struct
{
  const char *tag;
  double against;
} tag_against[] = {
  { "grade-varies", 0.08 }, { "allergen", 0.4 },       { "nut", 0.3 },    { "peanut", 0.4 },
  { "soy", 0.3 },           { "sesame", 0.3 },         { "bee", 0.15 },   { "lanolin", 0.3 },
  { "animal-derived", 0.15 }, { "gluten-source", 0.3 }, { "powder", 0.3 }, { "palm", 0.05 },
  { "nano-possible", 0.2 }, { "mineral", 0.1 },        { "silicone", 0.1 }, { "fragrance", 0.05 },
};

/* Not for a first draft: they harden, evaporate, burn in the sun, or cannot be predicted. */
static const char *const never[] = { "drying", "volatile", "phototoxic", "conjugated" };

/* --- bounds of the trade --------------------------------------------------- */

gboolean
og_draft_class_holds (OgDraftClass        class,
                      const OgIngredient *ingredient)
{
  return ingredient->kind == OG_KIND_HYDROCARBON
         && (class == OG_DRAFT_HYDROCARBON || og_ingredient_has_role (ingredient, "thickener"));
}

double
og_marketplace_most_of_class (const OgMarketplace *market,
                              OgDraftClass         class)
{
  const gboolean lips = (market->sites & OG_SITE_LIPS) != 0;

  if (class == OG_DRAFT_TACKY)
    return lips ? MOST_TACKY_LIPS : MOST_TACKY_SKIN;
  return lips ? MOST_HYDROCARBON_LIPS : MOST_HYDROCARBON_SKIN;
}

/* --- what may be taken ----------------------------------------------------- */

/* What is usual for the product. Judgement. */
OgBody
og_product_usual_body (OgProduct product)
{
  switch (product)
    {
    case OG_PRODUCT_LIP_APPLICATOR:
      return OG_BODY_SUBSTANTIAL;
    case OG_PRODUCT_LIP_ROLL_ON:
      return OG_BODY_LIGHT;
    case OG_PRODUCT_SKIN_ROLL_ON:
    case OG_PRODUCT_BODY:
    case OG_PRODUCT_MASSAGE:
    case OG_PRODUCT_UNSAID:
    case OG_N_PRODUCTS:
    default:
      return OG_BODY_THIN;
    }
}

gboolean
og_body_is_set (OgBody body)
{
  return body == OG_BODY_SOFT_SET || body == OG_BODY_SET;
}

double
og_body_middle (const OgBodyBounds *bounds,
                OgBody              body)
{
  int word = (int) body - OG_BODY_DRY;

  if (body == OG_BODY_DRY)
    return log (0.7 * bounds->from[OG_BODY_BOUND_THIN]);
  if (body == OG_BODY_HEAVY)
    return log (1.4 * bounds->from[OG_BODY_BOUND_HEAVY]);
  return 0.5 * (log (bounds->from[word - 1]) + log (bounds->from[word]));
}

double
og_agent_clears_c (const OgIngredient *agent)
{
  if (og_figure_is_known (&agent->gelling.dissolves_c))
    return agent->gelling.dissolves_c.value;
  if (agent->gelling.family == OG_GEL_PARTICLE_NETWORK
      || agent->gelling.family == OG_GEL_PLATELET_NETWORK)
    return NAN;
  return og_figure_is_known (&agent->figures[OG_FIGURE_MELTING_C])
             ? agent->figures[OG_FIGURE_MELTING_C].value
             : NAN;
}

static gboolean
is_excluded (const OgMarketplace *market,
             const OgIngredient  *ingredient,
             guint                depth)
{
  const char *const *tags = market->brief->without_tags;

  for (guint i = 0; tags != NULL && tags[i] != NULL; i++)
    if (og_ingredient_has_tag (ingredient, tags[i]))
      return TRUE;
  if ((market->sites & OG_SITE_LIPS)
      && (og_ingredient_has_tag (ingredient, "not-for-lips-us")
          || og_ingredient_has_tag (ingredient, "not-for-lips-eu")))
    return TRUE;
  for (guint i = 0; i < ingredient->composition->len && depth > 0; i++)
    {
      const OgPart *part = &g_array_index (ingredient->composition, OgPart, i);
      const OgIngredient *held = og_catalog_get (market->catalog, part->ingredient_id);

      if (held != NULL && is_excluded (market, held, depth - 1))
        return TRUE;
    }
  return FALSE;
}

static gboolean
is_allowed (const OgMarketplace *market,
            const OgIngredient  *ingredient)
{
  const OgBrief *brief = market->brief;

  if ((market->sites & OG_SITE_LIPS) && !og_ingredient_has_use (ingredient, "lip"))
    return FALSE;
  if ((market->sites & OG_SITE_SKIN) && !og_ingredient_has_use (ingredient, "skin"))
    return FALSE;
  if (brief->stocked_only && !og_shelf_has (brief->shelf, ingredient->id))
    return FALSE;
  for (guint i = 0; i < G_N_ELEMENTS (never); i++)
    if (og_ingredient_has_tag (ingredient, never[i]))
      return FALSE;
  return !is_excluded (market, ingredient, 8);
}

static double
price_of (const OgMarketplace *market,
          const OgIngredient  *ingredient)
{
  const OgShelfItem *item = og_shelf_get (market->brief->shelf, ingredient->id);

  return item != NULL ? item->price_per_kg : NAN;
}

/* What is better documented is predicted better. */
static double
undocumented_against (const OgIngredient *ingredient)
{
  static const OgFigureId asked[] = { OG_FIGURE_DENSITY_G_ML, OG_FIGURE_REFRACTIVE_INDEX,
                                      OG_FIGURE_IODINE_VALUE, OG_FIGURE_SAPONIFICATION_VALUE };
  double against = 0.0;

  for (guint i = 0; i < G_N_ELEMENTS (asked); i++)
    {
      OgQuality quality = ingredient->figures[asked[i]].quality;

      if (quality == OG_QUALITY_UNKNOWN || quality == OG_QUALITY_ESTIMATED
          || quality == OG_QUALITY_RECALLED)
        against += AGAINST_NO_SOURCE;
    }
  if (ingredient->profile != NULL
      && (ingredient->profile_quality == OG_QUALITY_ESTIMATED
          || ingredient->profile_quality == OG_QUALITY_RECALLED))
    against += AGAINST_NO_SOURCE;
  return against;
}

static double
general_against (const OgMarketplace *market,
                 const OgIngredient  *ingredient)
{
  double against = 0.0;
  double price = price_of (market, ingredient);

  for (guint i = 0; i < G_N_ELEMENTS (tag_against); i++)
    if (og_ingredient_has_tag (ingredient, tag_against[i].tag))
      against += tag_against[i].against;
  if (market->brief->shelf != NULL && !og_shelf_has (market->brief->shelf, ingredient->id))
    against += WITHOUT_STOCK;
  if (market->brief->cheap && isfinite (price) && market->mean_price > 0.0)
    against += WEIGHT_PRICE * (price / market->mean_price - 1.0);
  return against;
}

/* --- liquids --------------------------------------------------------------- */

static gboolean
is_liquid_kind (OgKind kind)
{
  return kind == OG_KIND_OIL || kind == OG_KIND_WAX_ESTER || kind == OG_KIND_ESTER
         || kind == OG_KIND_HYDROCARBON || kind == OG_KIND_SILICONE || kind == OG_KIND_ALCOHOL;
}

static double
liquid_against (const OgMarketplace *market,
                const OgIngredient  *ingredient,
                const OgEstimate    *viscosity)
{
  gboolean lips = (market->sites & OG_SITE_LIPS) != 0;
  double against = general_against (market, ingredient) + undocumented_against (ingredient);

  if (ingredient->profile != NULL)
    against += AGAINST_COX * og_profile_cox (ingredient->profile);
  against += AGAINST_DOUBT * log (viscosity->high80 / viscosity->low80);
  if (!og_ingredient_has_role (ingredient, "base"))
    against += 0.3;
  if (lips && og_ingredient_has_role (ingredient, "gloss"))
    against -= 0.3;
  if (!lips && og_ingredient_has_role (ingredient, "thickener"))
    against += AGAINST_TACK;
  if (market->brief->tint && og_ingredient_has_role (ingredient, "colour-carrier"))
    against -= 0.05;
  if (market->brief->product == OG_PRODUCT_BODY && og_ingredient_has_role (ingredient, "slip"))
    against -= 0.1;
  if (og_figure_is_known (&ingredient->figures[OG_FIGURE_MAX_HEAT_C]))
    against += 0.3;
  return against;
}

static void
consider_liquid (OgMarketplace      *market,
                 const OgIngredient *ingredient)
{
  const OgFigure *melting = &ingredient->figures[OG_FIGURE_MELTING_C];
  const OgFigure *usual = &ingredient->figures[OG_FIGURE_USUAL_HIGH_PCT];
  OgChoice choice = { .ingredient = ingredient, .low = LEAST_LIQUID, .high = MOST_LIQUID,
                      .alone = 1.0 };
  OgEstimate viscosity;

  if (!is_liquid_kind (ingredient->kind) || ingredient->composition->len > 0
      || (ingredient->gelling.family != OG_GEL_NONE
          && ingredient->gelling.family != OG_GEL_VISCOUS_LIQUID)
      || (og_figure_is_known (melting) && melting->value > COOL_ROOM_C))
    return;
  viscosity = og_ingredient_viscosity (ingredient, og_catalog_get_parameters (market->catalog),
                                       OG_TEMPERATURE_ROOM_C);
  if (!og_estimate_is_known (&viscosity) || !(viscosity.high80 < 10.0 * viscosity.low80))
    return;
  if (og_figure_is_known (usual))
    choice.alone = usual->value / 100.0;
  choice.high = fmin (choice.high, choice.alone);
  choice.low = fmin (choice.low, choice.high);
  choice.ln_eta = log (viscosity.value);
  choice.against = liquid_against (market, ingredient, &viscosity);
  g_array_append_val (market->liquids, choice);
}

/* --- agents and small parts ------------------------------------------------ */

static double
agent_against (const OgMarketplace *market,
               const OgIngredient  *agent)
{
  double against = general_against (market, agent);
  double clears_c = og_agent_clears_c (agent);

  if (agent->gelling.needs_shear)
    against += AGAINST_SHEAR;
  if (clears_c > HOT_C)
    against += clears_c > OG_HOT_OIL_C ? AGAINST_STRONG_HEAT : AGAINST_HEAT;
  if (agent->gelling.gel_point_pct.quality == OG_QUALITY_ESTIMATED)
    against += AGAINST_GUESS;
  if (agent->gelling.family == OG_GEL_CRYSTAL_NETWORK && !og_body_is_set (market->body))
    against += AGAINST_GRAIN;
  if ((market->sites & OG_SITE_LIPS) && og_ingredient_has_role (agent, "gloss"))
    against -= 0.2;
  return against;
}

static double
usual_middle (const OgIngredient *ingredient,
              OgChoice           *choice)
{
  const OgFigure *low = &ingredient->figures[OG_FIGURE_USUAL_LOW_PCT];
  const OgFigure *high = &ingredient->figures[OG_FIGURE_USUAL_HIGH_PCT];

  if (!og_figure_is_known (low) || !og_figure_is_known (high) || !(low->value > 0.0))
    return NAN;
  choice->low = low->value / 100.0;
  choice->high = high->value / 100.0;
  return sqrt (choice->low * choice->high);
}

static void
consider_agent (OgMarketplace      *market,
                const OgIngredient *ingredient)
{
  OgChoice choice = { .ingredient = ingredient };

  if (!og_ingredient_has_role (ingredient, "gelling-agent")
      || ingredient->gelling.family == OG_GEL_NONE
      || ingredient->gelling.family == OG_GEL_VISCOUS_LIQUID
      || !isfinite (usual_middle (ingredient, &choice)))
    return;
  choice.against = agent_against (market, ingredient);
  g_array_append_val (market->agents, choice);
}

/* How red a colour ground in oil is, 0 (grey, blue) ... 1. */
static double
redness (const OgMarketplace *market,
         const OgIngredient  *dispersion)
{
  double red = 0.0;

  for (guint i = 0; i < dispersion->composition->len; i++)
    {
      const OgPart *part = &g_array_index (dispersion->composition, OgPart, i);
      const OgIngredient *held = og_catalog_get (market->catalog, part->ingredient_id);
      guint64 rgb;
      double grey;

      if (held == NULL || held->hex == NULL)
        continue;
      rgb = g_ascii_strtoull (held->hex + 1, NULL, 16);
      grey = 0.5 * (double) ((rgb >> 8 & 255) + (rgb & 255));
      red = fmax (red, ((double) (rgb >> 16 & 255) - grey) / 255.0);
    }
  return red;
}

static void
consider_small (OgMarketplace      *market,
                const OgIngredient *ingredient)
{
  gboolean lips = (market->sites & OG_SITE_LIPS) != 0;
  OgChoice choice = { .ingredient = ingredient };
  GArray *into = NULL;

  if (ingredient->kind == OG_KIND_ANTIOXIDANT)
    into = market->antioxidants;
  else if (ingredient->kind == OG_KIND_DISPERSION && og_ingredient_has_role (ingredient, "colour"))
    into = market->colours;
  else if ((ingredient->kind == OG_KIND_FLAVOUR || ingredient->kind == OG_KIND_ESSENTIAL_OIL)
           && og_ingredient_has_role (ingredient, lips ? "flavour" : "fragrance"))
    into = market->scents;
  if (into == NULL || !isfinite (usual_middle (ingredient, &choice)))
    return;
  choice.against = general_against (market, ingredient);
  if (og_figure_is_known (&ingredient->figures[OG_FIGURE_MAX_HEAT_C]))
    choice.against += 0.05;
  if (ingredient->kind == OG_KIND_DISPERSION)
    choice.against -= FOR_RED * redness (market, ingredient);
  /* A very narrow room between enough and too much is for the experienced. */
  if (choice.high < 0.001)
    choice.against += 0.2;
  g_array_append_val (into, choice);
}

static int
compare_choices (gconstpointer a,
                 gconstpointer b)
{
  const OgChoice *x = a, *y = b;

  if (x->against != y->against)
    return x->against < y->against ? -1 : 1;
  return g_strcmp0 (x->ingredient->id, y->ingredient->id);
}

static double
band_of (const OgChoice *liquid)
{
  return floor (liquid->ln_eta / BAND_WIDTH_LN);
}

/* Of liquids of like viscosity the best few do. */
static void
thin_out (GArray *liquids)
{
  for (guint i = 0; i < liquids->len;)
    {
      const OgChoice *choice = &g_array_index (liquids, OgChoice, i);
      guint better = 0;

      for (guint j = 0; j < i; j++)
        {
          const OgChoice *other = &g_array_index (liquids, OgChoice, j);

          better += band_of (other) == band_of (choice) ? 1 : 0;
        }
      if (better >= MOST_IN_BAND)
        g_array_remove_index (liquids, i);
      else
        i++;
    }
}

static double
mean_price (const OgShelf *shelf)
{
  double sum = 0.0;
  guint n = 0;

  for (guint i = 0; shelf != NULL && i < og_shelf_get_n_items (shelf); i++)
    {
      const OgShelfItem *item = og_shelf_get_item (shelf, i);

      if (!isfinite (item->price_per_kg))
        continue;
      sum += item->price_per_kg;
      n++;
    }
  return n > 0 ? sum / n : NAN;
}

void
og_marketplace_init (OgMarketplace *market,
                     const OgBrief *brief,
                     OgCatalog     *catalog)
{
  GArray **lists[] = { &market->liquids, &market->agents, &market->colours, &market->antioxidants,
                       &market->scents };

  *market = (OgMarketplace) { .brief = brief, .catalog = catalog, .body = brief->body };
  if (brief->body == OG_BODY_UNKNOWN)
    market->body = og_product_usual_body (brief->product);
  market->sites = og_product_get_sites (brief->product);
  market->mean_price = mean_price (brief->shelf);
  og_body_bounds_init (&market->bounds);
  for (guint i = 0; i < G_N_ELEMENTS (lists); i++)
    *lists[i] = g_array_new (FALSE, FALSE, sizeof (OgChoice));
  for (guint i = 0; i < og_catalog_get_n_items (catalog); i++)
    {
      const OgIngredient *ingredient = og_catalog_get_item (catalog, i);

      if (!is_allowed (market, ingredient))
        continue;
      consider_liquid (market, ingredient);
      consider_agent (market, ingredient);
      consider_small (market, ingredient);
    }
  for (guint i = 0; i < G_N_ELEMENTS (lists); i++)
    g_array_sort (*lists[i], compare_choices);
  thin_out (market->liquids);
}

void
og_marketplace_clear (OgMarketplace *market)
{
  g_array_unref (market->liquids);
  g_array_unref (market->agents);
  g_array_unref (market->colours);
  g_array_unref (market->antioxidants);
  g_array_unref (market->scents);
}

/* --- which oils: an integer program ---------------------------------------- */

static OgSolventFit
fit_in (const OgIngredient *agent,
        const OgIngredient *liquid)
{
  OgContent content = { liquid, liquid->id, 1.0 };
  g_autoptr (GPtrArray) contents = g_ptr_array_new ();
  const char *medium = NULL;

  g_ptr_array_add (contents, &content);
  return og_solvent_fit (contents, &agent->gelling, &medium);
}

/* Plan with one agent at a share, or none. */
typedef struct
{
  const OgMarketplace *market;
  const OgChoice *agent;  /* nullable */
  double agent_share;
  double wanted_ln;       /* of the liquid alone; NAN: any */
  double sum;             /* of all liquids */
  guint most;             /* liquids */
} Question;

static double
most_of (const Question *question,
         const OgChoice *liquid)
{
  return question->most == 1 ? liquid->alone : liquid->high;
}

static void
fill_row (glp_prob *lp,
          GArray   *index,
          GArray   *value,
          int       kind,
          double    low,
          double    high)
{
  int row = glp_add_rows (lp, 1);

  glp_set_row_bnds (lp, row, kind, low, high);
  glp_set_mat_row (lp, row, (int) index->len, &g_array_index (index, int, 0) - 1,
                   &g_array_index (value, double, 0) - 1);
}

static void
add_term (GArray *index,
          GArray *value,
          int     column,
          double  coefficient)
{
  g_array_append_val (index, column);
  g_array_append_val (value, coefficient);
}

/* What a liquid counts for in one of the rows. */
typedef double (*Coefficient) (const Question *question,
                               const OgChoice *liquid);

static double
count_one (const Question *question,
           const OgChoice *liquid)
{
  return 1.0;
}

static double
count_ln (const Question *question,
          const OgChoice *liquid)
{
  return liquid->ln_eta;
}

static double
count_hydrocarbon (const Question *question,
                   const OgChoice *liquid)
{
  return og_draft_class_holds (OG_DRAFT_HYDROCARBON, liquid->ingredient) ? 1.0 : 0.0;
}

static double
count_tacky (const Question *question,
             const OgChoice *liquid)
{
  return og_draft_class_holds (OG_DRAFT_TACKY, liquid->ingredient) ? 1.0 : 0.0;
}

static double
count_limited (const Question *question,
               const OgChoice *liquid)
{
  return fit_in (question->agent->ingredient, liquid->ingredient) == OG_SOLVENT_LIMITED ? 1.0 : 0.0;
}

static double
count_unfit (const Question *question,
             const OgChoice *liquid)
{
  OgSolventFit fit = fit_in (question->agent->ingredient, liquid->ingredient);

  return fit == OG_SOLVENT_NO || fit == OG_SOLVENT_UNKNOWN ? 1.0 : 0.0;
}

static double
count_hot (const Question *question,
           const OgChoice *liquid)
{
  double clears_c = og_agent_clears_c (question->agent->ingredient);

  if (!isfinite (clears_c))
    return 1.0;
  return og_ingredient_takes_heat (liquid->ingredient, clears_c + 10.0) ? 1.0 : 0.0;
}

/* Amounts are columns 1, 3, 5 ..., whether a liquid is in at all the one after each. */
static void
add_row (glp_prob       *lp,
         const Question *question,
         Coefficient     coefficient,
         gboolean        whether,
         int             short_by,
         int             kind,
         double          low,
         double          high)
{
  g_autoptr (GArray) index = g_array_new (FALSE, FALSE, sizeof (int));
  g_autoptr (GArray) value = g_array_new (FALSE, FALSE, sizeof (double));

  for (guint i = 0; i < question->market->liquids->len; i++)
    {
      double c = coefficient (question, &g_array_index (question->market->liquids, OgChoice, i));

      if (c != 0.0)
        add_term (index, value, (int) (2 * i + (whether ? 2 : 1)), c);
    }
  if (short_by > 0)
    {
      add_term (index, value, short_by, 1.0);
      add_term (index, value, short_by + 1, -1.0);
    }
  if (index->len > 0)
    fill_row (lp, index, value, kind, low, high);
}

static void
add_liquid_columns (glp_prob       *lp,
                    const Question *question)
{
  for (guint i = 0; i < question->market->liquids->len; i++)
    {
      const OgChoice *liquid = &g_array_index (question->market->liquids, OgChoice, i);
      int column = glp_add_cols (lp, 2);
      int index[] = { 0, column, column + 1 };
      double at_most[] = { 0.0, 1.0, -most_of (question, liquid) };
      double at_least[] = { 0.0, 1.0, -liquid->low };
      int row = glp_add_rows (lp, 2);

      glp_set_col_bnds (lp, column, GLP_DB, 0.0, most_of (question, liquid));
      glp_set_obj_coef (lp, column, liquid->against);
      glp_set_col_kind (lp, column + 1, GLP_BV);
      glp_set_obj_coef (lp, column + 1, AGAINST_ONE_MORE);
      glp_set_row_bnds (lp, row, GLP_UP, 0.0, 0.0);
      glp_set_mat_row (lp, row, 2, index, at_most);
      glp_set_row_bnds (lp, row + 1, GLP_LO, 0.0, 0.0);
      glp_set_mat_row (lp, row + 1, 2, index, at_least);
    }
}

/* Liquids that part again are not taken together: what does not mix with liquid @i is out once
 * that one is in. */
static void
add_mixing_row (glp_prob       *lp,
                const Question *question,
                guint           i)
{
  const GArray *liquids = question->market->liquids;
  const OgChoice *one = &g_array_index (liquids, OgChoice, i);
  g_autoptr (GArray) index = g_array_new (FALSE, FALSE, sizeof (int));
  g_autoptr (GArray) value = g_array_new (FALSE, FALSE, sizeof (double));

  for (guint j = i + 1; j < liquids->len; j++)
    if (!og_liquids_mix (one->ingredient, g_array_index (liquids, OgChoice, j).ingredient))
      add_term (index, value, (int) (2 * j + 2), 1.0);
  if (index->len == 0)
    return;
  add_term (index, value, (int) (2 * i + 2), index->len);
  fill_row (lp, index, value, GLP_UP, 0.0, index->len - 1.0);
}

static glp_prob *
build (const Question *question)
{
  glp_prob *lp = og_linear_new ();
  int short_by;

  add_liquid_columns (lp, question);
  short_by = glp_add_cols (lp, 2);
  for (int k = 0; k < 2; k++)
    {
      glp_set_col_bnds (lp, short_by + k, GLP_LO, 0.0, 0.0);
      glp_set_obj_coef (lp, short_by + k, PER_MISS);
    }
  add_row (lp, question, count_one, FALSE, 0, GLP_FX, question->sum, question->sum);
  add_row (lp, question, count_one, TRUE, 0, GLP_UP, 0.0, question->most);
  for (guint i = 0; i < question->market->liquids->len; i++)
    add_mixing_row (lp, question, i);
  if (isfinite (question->wanted_ln))
    add_row (lp, question, count_ln, FALSE, short_by, GLP_FX, question->wanted_ln * question->sum,
             question->wanted_ln * question->sum);
  add_row (lp, question, count_hydrocarbon, FALSE, 0, GLP_UP, 0.0,
           og_marketplace_most_of_class (question->market, OG_DRAFT_HYDROCARBON));
  add_row (lp, question, count_tacky, FALSE, 0, GLP_UP, 0.0,
           og_marketplace_most_of_class (question->market, OG_DRAFT_TACKY));
  if (question->agent != NULL)
    {
      add_row (lp, question, count_limited, FALSE, 0, GLP_UP, 0.0, MOST_LIMITED);
      add_row (lp, question, count_unfit, FALSE, 0, GLP_UP, 0.0, MOST_UNFIT);
      add_row (lp, question, count_hot, FALSE, 0, GLP_LO, LEAST_HOT_OIL, 0.0);
    }
  return lp;
}

static void
pick_liquids (const Question *question,
              glp_prob       *lp,
              OgPlan         *plan)
{
  for (guint i = 0; i < question->market->liquids->len; i++)
    {
      const OgChoice *liquid = &g_array_index (question->market->liquids, OgChoice, i);
      OgPick pick = { liquid->ingredient, OG_PART_OIL, glp_mip_col_val (lp, (int) (2 * i + 1)),
                      liquid->low,
                      most_of (question, liquid), liquid->ln_eta };

      if (pick.fraction > 0.5 * liquid->low)
        g_array_append_val (plan->picks, pick);
    }
}

static void
plan_free (gpointer data)
{
  OgPlan *plan = data;

  g_array_unref (plan->picks);
  g_free (plan);
}

/* Returns: (transfer full) (nullable) */
static OgPlan *
ask (const Question *question)
{
  glp_prob *lp;
  OgPlan *plan = NULL;
  guint n = question->market->liquids->len;

  if (n == 0 || question->most == 0)
    return NULL;
  lp = build (question);
  glp_set_obj_dir (lp, GLP_MIN);
  if (og_linear_integer (lp))
    {
      plan = g_new0 (OgPlan, 1);
      plan->picks = g_array_new (FALSE, FALSE, sizeof (OgPick));
      plan->miss = (glp_mip_col_val (lp, (int) (2 * n + 1))
                    + glp_mip_col_val (lp, (int) (2 * n + 2)))
                   / question->sum;
      plan->against = glp_mip_obj_val (lp) - PER_MISS * plan->miss * question->sum;
      pick_liquids (question, lp, plan);
    }
  og_linear_free (lp);
  return plan;
}

/* --- with and without an agent --------------------------------------------- */

/* Share the agent starts with: enough for the yield in the middle of a set body, else well below
 * its gel point. */
static double
starting_share (const OgMarketplace *market,
                const OgChoice      *agent)
{
  const double *from = market->bounds.from;
  OgGellant gellant;
  double share;

  og_gellant_init (&gellant, agent->ingredient, og_catalog_get_parameters (market->catalog));
  if (og_body_is_set (market->body))
    {
      double yield_pa = market->body == OG_BODY_SET
                            ? 2.0 * from[OG_BODY_BOUND_SET]
                            : sqrt (from[OG_BODY_BOUND_SOFT_SET] * from[OG_BODY_BOUND_SET]);

      share = gellant.yield_pa > 0.0
                  ? gellant.gel_point
                      * (1.0 + pow (yield_pa / gellant.yield_pa, 1.0 / gellant.exponent))
                  : agent->high;
    }
  else
    share = BELOW_GEL_POINT * gellant.gel_point;
  return CLAMP (share, agent->low, agent->high);
}

/* How much thicker the agent makes a liquid that is poured at 25 C, in ln. */
static double
ln_thickening (const OgMarketplace *market,
               const OgChoice      *agent,
               double               share)
{
  OgGellant gellant;
  OgGelKnobs knobs;
  OgGelResponse response;

  og_gellant_init (&gellant, agent->ingredient, og_catalog_get_parameters (market->catalog));
  og_gellant_turn (&gellant, NULL, &knobs);
  og_gellant_respond (&gellant, share, OG_TEMPERATURE_ROOM_C, OG_ASSUMED_DENSITY_G_ML, &knobs, &response);
  return log (og_gel_flow (response.thickening, response.association, 0.0, response.flow_index,
                           OG_SHEAR_POUR));
}

static gboolean
wants_agent (const OgMarketplace *market)
{
  return market->brief->product != OG_PRODUCT_BODY && market->brief->product != OG_PRODUCT_MASSAGE
         && market->body >= OG_BODY_SUBSTANTIAL;
}

static OgPlan *
plan_with (const OgMarketplace *market,
           const OgChoice      *agent,
           guint                slots,
           double               extras)
{
  Question question = { market, agent, 0.0, NAN, 1.0 - extras, slots };
  OgPlan *plan;

  if (!og_body_is_set (market->body))
    question.wanted_ln = og_body_middle (&market->bounds, market->body);
  if (agent != NULL)
    {
      question.agent_share = starting_share (market, agent);
      question.wanted_ln -= ln_thickening (market, agent, question.agent_share);
      question.sum -= question.agent_share;
      question.most = slots - 1;
    }
  plan = ask (&question);
  if (plan == NULL)
    return NULL;
  if (agent != NULL)
    {
      OgPick pick = { agent->ingredient, OG_PART_AGENT, question.agent_share, agent->low,
                      agent->high, 0.0 };

      g_array_prepend_val (plan->picks, pick);
      plan->against += agent->against + AGAINST_ONE_MORE;
      if (!wants_agent (market) && !og_body_is_set (market->body))
        plan->against += AGAINST_AGENT;
    }
  else if (wants_agent (market))
    plan->against += AGAINST_NO_AGENT;
  return plan;
}

#define GOOD_MISS_LN 0.35 /* a miss of ln eta that the amounts can still mend; judgement */

static int
compare_plans (gconstpointer a,
               gconstpointer b)
{
  const OgPlan *x = *(const OgPlan *const *) a;
  const OgPlan *y = *(const OgPlan *const *) b;
  double miss_x = fmax (0.0, x->miss - GOOD_MISS_LN), miss_y = fmax (0.0, y->miss - GOOD_MISS_LN);

  if (miss_x != miss_y)
    return miss_x < miss_y ? -1 : 1;
  return (x->against > y->against) - (x->against < y->against);
}

GPtrArray *
og_marketplace_plan (const OgMarketplace *market,
                     guint                slots,
                     double               extras)
{
  GPtrArray *plans = g_ptr_array_new_with_free_func (plan_free);

  if (!og_body_is_set (market->body))
    {
      OgPlan *plan = plan_with (market, NULL, slots, extras);

      if (plan != NULL)
        g_ptr_array_add (plans, plan);
    }
  for (guint i = 0; i < MIN (market->agents->len, MOST_AGENTS) && slots > 1; i++)
    {
      OgPlan *plan = plan_with (market, &g_array_index (market->agents, OgChoice, i), slots,
                                extras);

      if (plan != NULL)
        g_ptr_array_add (plans, plan);
    }
  g_ptr_array_sort (plans, compare_plans);
  return plans;
}
