/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/predict/evaluate.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>

#include "common/fixture.h"
#include "core/predict/blend.h"
#include "core/predict/settling.h"

#define HEADER FIXTURE_HEADER

#define LIP_OIL FIXTURE_LIP_OIL

static OgCatalog *catalog;

static OgFormula *
recipe (const char *table)
{
  return fixture_recipe (table, catalog);
}

static OgResult *
evaluate (const char         *table,
          const OgConditions *conditions)
{
  g_autoptr (OgFormula) formula = recipe (table);

  return og_evaluate (formula, catalog, conditions);
}

static gboolean
has_finding (const OgResult *result,
             const char     *code)
{
  for (guint i = 0; i < result->findings->len; i++)
    if (g_str_equal (((OgFinding *) g_ptr_array_index (result->findings, i))->code, code))
      return TRUE;
  return FALSE;
}

/* A spreadable liquid with clearly more body than the oils alone, thicker at rest than when
 * rubbed, no gel. */
static void
test_lip_oil (void)
{
  g_autoptr (OgResult) result = evaluate (LIP_OIL, NULL);

  g_assert_cmpint (result->total_ppm, ==, OG_PPM_WHOLE);
  g_assert_cmpfloat (result->rest.value, >, 1.3 * result->liquid.value);
  g_assert_cmpfloat (result->rest.value, >, 1.2 * result->rub.value);
  g_assert_cmpfloat (result->rub.value, >, result->liquid.value);
  g_assert_cmpfloat (result->yield_stress_pa.value, ==, 0.0);
  g_assert_cmpfloat (result->gel_probability, <, 0.1);
  g_assert_cmpint (result->body, ==, OG_BODY_SUBSTANTIAL);
  g_assert_true (has_finding (result, "agent-guessed"));
}

/* Pigment ground in castor oil counts as what it holds: 12.65 g castor and 0.05 g pigment in 20
 * g. */
static void
test_contents (void)
{
  g_autoptr (OgResult) result = evaluate (LIP_OIL, NULL);

  for (guint i = 0; i < result->contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (result->contents, i);

      if (g_str_equal (content->ingredient_id, "castor-oil"))
        assert_within (20.0 * content->fraction, 12.65, 1e-9);
      if (g_str_equal (content->ingredient_id, "red-iron-oxide"))
        assert_within (20.0 * content->fraction, 0.05, 1e-9);
    }
}

/* Iodine and saponification values are additive by mass; density by ideal volumes: half 0.96 and
 * half 0.92 gives 0.9396. */
static void
test_additivity (void)
{
  g_autoptr (OgResult) castor = evaluate (HEADER "A,castor-oil,100\n", NULL);
  g_autoptr (OgResult) seed = evaluate (HEADER "A,sunflower-oil,100\n", NULL);
  g_autoptr (OgResult) both = evaluate (HEADER "A,castor-oil,50\nA,sunflower-oil,50\n", NULL);

  assert_within (both->iodine_value, 0.5 * (castor->iodine_value + seed->iodine_value), 1e-12);
  assert_within (both->saponification_value,
                 0.5 * (castor->saponification_value + seed->saponification_value), 1e-12);
  assert_within (both->density_g_ml, 1.0 / (0.5 / castor->density_g_ml + 0.5 / seed->density_g_ml), 1e-12);
  /* Merck text: castor iodine value 81 to 91, saponification value 176 to 187. */
  g_assert_cmpfloat (castor->iodine_value, >=, 79.0);
  g_assert_cmpfloat (castor->iodine_value, <=, 91.0);
  g_assert_cmpfloat (castor->saponification_value, >=, 176.0);
  g_assert_cmpfloat (castor->saponification_value, <=, 187.0);
}

/* The log rule lies between its ends and the order of lines does not matter. */
static void
test_blending (void)
{
  g_autoptr (OgResult) castor = evaluate (HEADER "A,castor-oil,100\n", NULL);
  g_autoptr (OgResult) seed = evaluate (HEADER "A,sunflower-oil,100\n", NULL);
  g_autoptr (OgResult) one = evaluate (HEADER "A,castor-oil,40\nA,sunflower-oil,30\nB,squalane,30\n", NULL);
  g_autoptr (OgResult) other = evaluate (HEADER "B,squalane,30\nA,sunflower-oil,30\nA,castor-oil,40\n", NULL);

  assert_within (one->pour.value, other->pour.value, 1e-12);
  assert_within (one->pour.high80, other->pour.high80, 1e-12);
  for (int pct = 5; pct < 100; pct += 5)
    {
      g_autofree char *table
          = g_strdup_printf (HEADER "A,castor-oil,%d\nA,sunflower-oil,%d\n", pct, 100 - pct);
      g_autoptr (OgResult) blend = evaluate (table, NULL);

      g_assert_cmpfloat (blend->pour.value, >, seed->pour.value);
      g_assert_cmpfloat (blend->pour.value, <, castor->pour.value);
    }
}

static void
test_zero_agent_is_the_oil (void)
{
  g_autoptr (OgResult) with = evaluate (HEADER "A,sunflower-oil,100\nA,polyamide-3,0\n", NULL);
  g_autoptr (OgResult) without = evaluate (HEADER "A,sunflower-oil,100\n", NULL);

  assert_within (with->pour.value, without->pour.value, 1e-12);
  assert_within (with->rest.value, without->rest.value, 1e-12);
  assert_within (with->pour.low80, without->pour.low80, 0.002);
  assert_within (with->pour.high80, without->pour.high80, 0.002);
  g_assert_cmpfloat (with->yield_stress_pa.high80, ==, 0.0);
}

static void
test_curves (void)
{
  OgConditions conditions = { .curves = TRUE };
  g_autoptr (OgResult) result = evaluate (LIP_OIL, &conditions);
  g_autoptr (OgResult) plain = evaluate (HEADER "A,sunflower-oil,100\n", &conditions);
  const OgCurve *agent = &result->curves[OG_CURVE_AGENT_PCT];
  const OgCurve *shear = &result->curves[OG_CURVE_SHEAR_RATE_1_S];

  g_assert_cmpuint (agent->n, >, 20);
  g_assert_cmpfloat_with_epsilon (agent->own_x, 1.5, 1e-9);
  assert_within (agent->own.value, result->pour.value, 1e-9);
  g_assert_cmpfloat_with_epsilon (agent->mark_x, 3.0, 1e-9);
  for (int axis = 0; axis < OG_N_CURVES; axis++)
    {
      const OgCurve *curve = &result->curves[axis];

      for (guint i = 0; i < curve->n; i++)
        {
          g_assert_true (isfinite (curve->value[i]));
          g_assert_cmpfloat (curve->low80[i], <=, curve->value[i]);
          g_assert_cmpfloat (curve->value[i], <=, curve->high80[i]);
        }
    }
  for (guint i = 1; i < agent->n; i++)
    g_assert_cmpfloat (agent->value[i], >=, agent->value[i - 1]);
  for (guint i = 1; i < shear->n; i++)
    g_assert_cmpfloat (shear->value[i], <=, shear->value[i - 1] * (1.0 + 1e-12));
  g_assert_cmpuint (plain->curves[OG_CURVE_AGENT_PCT].n, ==, 0);
  g_assert_cmpuint (plain->curves[OG_CURVE_TEMPERATURE_C].n, >, 20);
}

static void
test_points_in_order (void)
{
  static const double temperatures_c[] = { 40.0, 20.0 };
  static const double rates[] = { 0.1, 100.0 };
  OgConditions conditions = { temperatures_c, 2, rates, 2, FALSE };
  g_autoptr (OgResult) result = evaluate (LIP_OIL, &conditions);

  g_assert_cmpuint (result->viscosity->len, ==, 4);
  for (guint i = 0; i < 4; i++)
    {
      const OgViscosityPoint *point = &g_array_index (result->viscosity, OgViscosityPoint, i);

      g_assert_cmpfloat (point->temperature_c, ==, temperatures_c[i / 2]);
      g_assert_cmpfloat (point->shear_rate_1_s, ==, rates[i % 2]);
      g_assert_true (isfinite (point->viscosity_mpa_s.value));
    }
}

/* What nobody published is said, and widens the band instead of vanishing. */
static void
test_unknown_stays_unknown (void)
{
  g_autoptr (OgResult) little = evaluate (HEADER "A,sunflower-oil,97\nA,diisostearyl-malate,3\n", NULL);
  g_autoptr (OgResult) much = evaluate (HEADER "A,sunflower-oil,40\nA,diisostearyl-malate,60\n", NULL);
  g_autoptr (OgFormula) empty = og_formula_new ();
  g_autoptr (OgResult) nothing = og_evaluate (empty, catalog, NULL);
  g_autoptr (OgResult) solid = evaluate (HEADER "A,red-iron-oxide,100\n", NULL);

  g_assert_true (has_finding (little, "viscosity-unknown"));
  g_assert_true (has_finding (much, "viscosity-unknown"));
  g_assert_cmpfloat (much->pour.high80 / much->pour.low80, >, 3.0);
  g_assert_cmpfloat (little->pour.high80 / little->pour.low80, <, 1.5);
  g_assert_true (isnan (nothing->pour.value));
  g_assert_true (isnan (nothing->density_g_ml));
  g_assert_cmpint (nothing->body, ==, OG_BODY_UNKNOWN);
  g_assert_true (isnan (solid->pour.value));
  g_assert_true (isnan (solid->iodine_value));
}

static void
test_findings (void)
{
  g_autoptr (OgFormula) formula = recipe (LIP_OIL);
  g_autoptr (OgResult) short_of = NULL;
  g_autoptr (OgResult) result
      = evaluate (HEADER "A,sweet-almond-oil,60\nA,ultramarine-blue,1\nA,squalane,39\n", NULL);
  OgFormulaPhase *phase = g_ptr_array_index (formula->phases, 0);
  OgFormulaLine *line = g_ptr_array_index (phase->lines, 0);

  g_assert_true (has_finding (result, "tree-nut"));
  g_assert_true (has_finding (result, "colour-not-for-lips"));
  g_assert_true (has_finding (result, "powder"));

  line->amount -= 10;
  g_free (line->ingredient_id);
  line->ingredient_id = g_strdup ("no-such-thing");
  phase->temperature_c = 135.0;
  short_of = og_evaluate (formula, catalog, NULL);
  g_assert_true (has_finding (short_of, "total"));
  g_assert_true (has_finding (short_of, "unknown-ingredient"));
  g_assert_true (has_finding (short_of, "hot-oil"));
  g_assert_cmpint (og_result_worst (short_of), ==, OG_SEVERITY_BLOCKING);
  for (guint i = 1; i < short_of->findings->len; i++)
    g_assert_cmpint (((OgFinding *) g_ptr_array_index (short_of->findings, i - 1))->severity, >=,
                     ((OgFinding *) g_ptr_array_index (short_of->findings, i))->severity);
}

/* Two recipes that differ in the oil alone share the agent's error: their ratio is far better
 * known than either. */
static void
test_ratio (void)
{
  g_autoptr (OgResult) one = evaluate (LIP_OIL, NULL);
  g_autoptr (OgFormula) changed = recipe (LIP_OIL);
  OgFormulaLine *line = og_formula_find_ingredient (changed, "sunflower-oil");
  g_autoptr (OgResult) other = NULL;
  g_autoptr (OgBlend) a = NULL;
  g_autoptr (OgBlend) b = NULL;
  OgEstimate ratio, same;

  g_free (line->ingredient_id);
  line->ingredient_id = g_strdup ("olive-oil");
  other = og_evaluate (changed, catalog, NULL);
  a = og_blend_new (one->contents, og_catalog_get_parameters (catalog));
  b = og_blend_new (other->contents, og_catalog_get_parameters (catalog));
  ratio = og_blend_ratio (b, a, 25.0, OG_SHEAR_POUR);
  same = og_blend_ratio (a, a, 25.0, OG_SHEAR_POUR);
  assert_within (ratio.value, other->pour.value / one->pour.value, 1e-9);
  g_assert_cmpfloat (log (ratio.high80 / ratio.low80), <, 0.3 * log (one->pour.high80 / one->pour.low80));
  assert_within (same.low80, 1.0, 1e-9);
  assert_within (same.high80, 1.0, 1e-9);
}

/* Ten thousand draws of every uncertain number through the whole model (GSL's Mersenne twister,
 * fixed seed) against the band. The draws themselves are good to about one part in a hundred of
 * the band's width. */
static void
test_random_draws (void)
{
  static const char *const tables[] = {
    HEADER "A,sunflower-oil,100\n",
    HEADER "A,castor-oil,50\nA,sunflower-oil,30\nA,squalane,20\n",
    LIP_OIL,
    HEADER "A,castor-oil,60\nA,sunflower-oil,35\nA,polyamide-3,5\n",
  };
  const guint n_draws = 10000;
  g_autofree double *ln_eta = g_new (double, n_draws);
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);

  for (guint i = 0; i < G_N_ELEMENTS (tables); i++)
    {
      g_autoptr (OgResult) result = evaluate (tables[i], NULL);
      g_autoptr (OgBlend) blend = og_blend_new (result->contents, og_catalog_get_parameters (catalog));
      guint n = og_blend_get_n_variables (blend);
      g_autofree double *z = g_new (double, n);
      double low, high, width;

      for (guint d = 0; d < n_draws; d++)
        {
          for (guint k = 0; k < n; k++)
            z[k] = gsl_ran_gaussian (rng, 1.0);
          ln_eta[d] = og_blend_ln_viscosity (blend, 25.0, OG_SHEAR_POUR, z);
        }
      gsl_sort (ln_eta, 1, n_draws);
      low = gsl_stats_quantile_from_sorted_data (ln_eta, 1, n_draws, 0.1);
      high = gsl_stats_quantile_from_sorted_data (ln_eta, 1, n_draws, 0.9);
      width = high - low;
      g_test_message ("band %.4g to %.4g, draws %.4g to %.4g", result->pour.low80, result->pour.high80,
                      exp (low), exp (high));
      g_assert_cmpfloat (fabs (log (result->pour.low80) - low), <, 0.03 * fmax (1.0, width));
      g_assert_cmpfloat (fabs (log (result->pour.high80) - high), <, 0.03 * fmax (1.0, width));
    }
  gsl_rng_free (rng);
}

/* The words change where the formula says, and nowhere else. */
static void
test_body_words (void)
{
  g_autoptr (OgFormula) formula = recipe (LIP_OIL);
  g_autoptr (OgResult) usual = og_evaluate (formula, catalog, NULL);
  g_autoptr (OgResult) moved = NULL;

  g_assert_cmpint (usual->body, ==, OG_BODY_SUBSTANTIAL);
  formula->body_bounds.from[OG_BODY_BOUND_SUBSTANTIAL] = usual->pour.value * 1.01;
  g_assert_true (og_body_bounds_are_valid (&formula->body_bounds));
  moved = og_evaluate (formula, catalog, NULL);
  g_assert_cmpint (moved->body, ==, OG_BODY_LIGHT);
  formula->body_bounds.from[OG_BODY_BOUND_LIGHT] = 1e9;
  g_assert_false (og_body_bounds_are_valid (&formula->body_bounds));
}

/* 2 % rice bran wax: the ideal law clears it at 53.6 C with 780 g/mol (worked by hand, see the
 * gellant test). */
static void
test_agent_state (void)
{
  g_autoptr (OgResult) wax = evaluate (HEADER "A,canola-oil,98\nA,rice-bran-wax,2\n", NULL);
  g_autoptr (OgResult) polymer = evaluate (LIP_OIL, NULL);
  const OgAgentState *state;

  g_assert_cmpuint (wax->agents->len, ==, 1);
  state = &g_array_index (wax->agents, OgAgentState, 0);
  g_assert_cmpfloat_with_epsilon (state->clears_c, 53.6, 2.0);
  g_assert_cmpfloat (state->sets_c, <, state->clears_c);
  g_assert_cmpfloat (state->network, >, 1.0);
  state = &g_array_index (polymer->agents, OgAgentState, 0);
  g_assert_cmpfloat (state->network, <, 1.0);
  assert_within (state->share_pct, 1.5, 1e-9);
}

/* A pigment in a thin oil sinks by millimetres a day, a set one is held (Stokes; see the
 * settling test). */
static void
test_settling (void)
{
  g_autoptr (OgResult) loose = evaluate (HEADER "A,sunflower-oil,99\nA,red-iron-oxide,1\n", NULL);
  g_autoptr (OgResult) set = evaluate (HEADER "A,sunflower-oil,89\nA,beeswax,10\nA,red-iron-oxide,1\n", NULL);
  const OgSettling *settling;

  g_assert_cmpuint (loose->settling->len, ==, 1);
  settling = &g_array_index (loose->settling, OgSettling, 0);
  g_assert_cmpfloat (settling->speed_mm_day, >, 0.5);
  g_assert_false (settling->held);
  g_assert_true (has_finding (loose, "settles"));
  g_assert_false (has_finding (set, "settles"));
  g_assert_true (g_array_index (set->settling, OgSettling, 0).held);
}

/* What is typed on the way to a recipe: a thickener at 100 % beside the oils. */
static void
test_nothing_but_agent (void)
{
  static const char *const agents[] = { "polyamide-3", "candelilla-wax", "polyisobutene", "silica-dimethyl-silylate" };

  for (guint i = 0; i < G_N_ELEMENTS (agents); i++)
    for (OgPpm amount = OG_PPM_WHOLE; amount >= 9 * OG_PPM_WHOLE / 10; amount -= OG_PPM_WHOLE / 20)
      {
        g_autoptr (OgFormula) formula = recipe (LIP_OIL);
        OgFormulaPhase *phase = g_ptr_array_index (formula->phases, 0);
        g_autoptr (OgResult) result = NULL;

        g_assert_nonnull (og_catalog_get (catalog, agents[i]));
        og_formula_add_line (formula, phase, agents[i], amount, G_MAXUINT);
        result = og_evaluate (formula, catalog, &(OgConditions) { .curves = TRUE });
        g_assert_cmpint (result->total_ppm, ==, OG_PPM_WHOLE + amount);
      }
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  catalog = fixture_catalog ();

  g_test_add_func ("/evaluate/lip-oil", test_lip_oil);
  g_test_add_func ("/evaluate/contents", test_contents);
  g_test_add_func ("/evaluate/additivity", test_additivity);
  g_test_add_func ("/evaluate/blending", test_blending);
  g_test_add_func ("/evaluate/zero-agent", test_zero_agent_is_the_oil);
  g_test_add_func ("/evaluate/curves", test_curves);
  g_test_add_func ("/evaluate/points-in-order", test_points_in_order);
  g_test_add_func ("/evaluate/unknown", test_unknown_stays_unknown);
  g_test_add_func ("/evaluate/findings", test_findings);
  g_test_add_func ("/evaluate/ratio", test_ratio);
  g_test_add_func ("/evaluate/random-draws", test_random_draws);
  g_test_add_func ("/evaluate/body-words", test_body_words);
  g_test_add_func ("/evaluate/agent-state", test_agent_state);
  g_test_add_func ("/evaluate/settling", test_settling);
  g_test_add_func ("/evaluate/nothing-but-agent", test_nothing_but_agent);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
