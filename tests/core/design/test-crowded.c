/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "common/fixture.h"
#include "core/base/error.h"
#include "core/design/rebalance.h"
#include "core/design/sensitivity.h"
#include "core/design/substitution.h"

/* Recipes that hold little oil or none: whatever is asked of them is answered, and no answer is made
 * up. Plausibility, no source. */

#define AGENT_PCT 2

static const char *const fillers[] = { "titanium-dioxide", "silica", "silica-microspheres", "beeswax" };
static const char *const agents[] = { "polyamide-3", "silica-silylate" };
static const char *const others[] = { "dextrin-palmitate", "polyamide-3" };

static OgCatalog *catalog;

/* With @filler_pct of a filler, an agent, and castor oil for the rest: as a balance line or not. */
static OgFormula *
crowded (const char *filler,
         int         filler_pct,
         const char *agent,
         gboolean    balance)
{
  g_autofree char *rest = balance ? g_strdup ("balance")
                                  : g_strdup_printf ("%d", 100 - AGENT_PCT - filler_pct);
  g_autofree char *table = g_strdup_printf (FIXTURE_HEADER "A,castor-oil,%s\nA,%s,%d\nA,%s,%d\n",
                                            rest, filler, filler_pct, agent, AGENT_PCT);

  g_test_message ("%s %d %%, %s, %s", filler, filler_pct, agent, rest);
  return fixture_recipe (table, catalog);
}

typedef void (*Check) (const OgFormula *formula,
                       guint            filler,
                       guint            agent);

static void
foreach_crowded (Check check)
{
  static const int percents[] = { 10, 30, 49, 50, 70, 90, 98 };

  for (guint f = 0; f < G_N_ELEMENTS (fillers); f++)
    for (guint a = 0; a < G_N_ELEMENTS (agents); a++)
      for (guint p = 0; p < G_N_ELEMENTS (percents); p++)
        for (int balance = 0; balance < 2; balance++)
          {
            g_autoptr (OgFormula) formula = crowded (fillers[f], percents[p], agents[a], balance);

            check (formula, f, a);
          }
}

static gboolean
says_it_cannot (const OgSuggestion *suggestion)
{
  for (guint i = 0; i < suggestion->reasons->len; i++)
    if (strstr (og_saying_text (g_ptr_array_index (suggestion->reasons, i)), "keeps the body") != NULL)
      return TRUE;
  return FALSE;
}

/* More of a pigment or wax than is usual has no substitute: usual amounts bound all. */
static GPtrArray *
substitutes (const OgFormula *formula,
             const char      *id)
{
  g_autoptr (GError) error = NULL;
  GPtrArray *suggestions
    = og_substitute (formula, catalog, (const char *[]) { id, NULL }, NULL, &error);

  g_assert_no_error (error);
  return suggestions;
}

static void
check_agent (const OgFormula *formula,
             guint            filler,
             guint            agent)
{
  g_autoptr (OgResult) before = og_evaluate (formula, catalog, NULL);
  g_autoptr (GPtrArray) suggestions = substitutes (formula, agents[agent]);

  for (guint i = 0; i < suggestions->len; i++)
    {
      const OgSuggestion *suggestion = g_ptr_array_index (suggestions, i);
      g_autoptr (OgFormula) changed = og_substitution_apply (formula, suggestion);

      g_assert_cmpint (og_formula_total (changed), ==, OG_PPM_WHOLE);
      if (isfinite (before->pour.value) && !says_it_cannot (suggestion))
        g_assert_cmpfloat (fabs (log (suggestion->viscosity_ratio.value)), <, 0.05);
      if (isnan (before->pour.value))
        g_assert_true (isnan (suggestion->viscosity_ratio.value));
    }
}

static void
test_agents (void)
{
  foreach_crowded (check_agent);
}

static void
check_filler (const OgFormula *formula,
              guint            filler,
              guint            agent)
{
  const char *const ids[] = { fillers[filler], "castor-oil" };

  for (guint k = 0; agent == 0 && k < G_N_ELEMENTS (ids); k++)
    {
      g_autoptr (GPtrArray) suggestions = substitutes (formula, ids[k]);

      for (guint i = 0; i < suggestions->len; i++)
        {
          g_autoptr (OgFormula) changed
            = og_substitution_apply (formula, g_ptr_array_index (suggestions, i));

          g_assert_null (og_formula_find_ingredient (changed, ids[k]));
        }
    }
}

static void
test_fillers (void)
{
  foreach_crowded (check_filler);
}

/* @mpa_s: NAN where only the body is asked for */
static void
assert_honest (const OgSolveReport *report,
               const GError        *error,
               double               mpa_s)
{
  if (report == NULL)
    {
      g_assert_nonnull (error);
      return;
    }
  g_assert_no_error (error);
  g_assert_cmpuint (report->answers->len, >, 0);
  for (guint i = 0; i < report->answers->len; i++)
    {
      const OgSolveAnswer *answer = g_ptr_array_index (report->answers, i);

      g_assert_cmpint (og_formula_total (answer->formula), ==, OG_PPM_WHOLE);
      if (report->reached && !isnan (mpa_s))
        g_assert_cmpfloat (fabs (log (answer->viscosity.value / mpa_s)), <, 0.01);
    }
}

static void
check_solve (const OgFormula *formula,
             guint            filler,
             guint            agent)
{
  const char *const ids[] = { agents[agent], fillers[filler], "castor-oil" };
  static const double targets[] = { 1.0, 1e5, 1e12 };
  static const OgBody bodies[] = { OG_BODY_DRY, OG_BODY_HEAVY, OG_BODY_SET };

  for (guint n = 1; n <= G_N_ELEMENTS (ids); n += 2)
    {
      OgSolveRange ranges[G_N_ELEMENTS (ids)];
      OgSolveRequest request = { .ranges = ranges, .n_ranges = n };

      for (guint i = 0; i < n; i++)
        g_assert_true (og_solve_range_init (&ranges[i], formula, ids[i], NULL));
      for (guint t = 0; t < G_N_ELEMENTS (targets); t++)
        {
          g_autoptr (GError) error = NULL;
          g_autoptr (OgSolveReport) report = NULL;

          request.target = (OgSolveTarget) { OG_BODY_UNKNOWN, targets[t], 25.0, OG_SHEAR_POUR };
          report = og_solve (formula, catalog, &request, &error);
          assert_honest (report, error, targets[t]);
        }
      for (guint b = 0; b < G_N_ELEMENTS (bodies); b++)
        {
          g_autoptr (GError) error = NULL;
          g_autoptr (OgSolveReport) report = NULL;

          request.target = (OgSolveTarget) { .body = bodies[b] };
          report = og_solve (formula, catalog, &request, &error);
          assert_honest (report, error, NAN);
        }
    }
}

static void
test_solve (void)
{
  static const int percents[] = { 50, 90 };

  for (guint f = 0; f < G_N_ELEMENTS (fillers); f++)
    for (guint p = 0; p < G_N_ELEMENTS (percents); p++)
      for (int balance = 0; balance < 2; balance++)
        {
          g_autoptr (OgFormula) formula = crowded (fillers[f], percents[p], agents[0], balance);

          check_solve (formula, f, 0);
        }
}

static void
check_rebalance (const OgFormula *formula,
                 guint            filler,
                 guint            agent)
{
  g_autoptr (OgFormula) after = og_formula_copy (formula);
  g_autoptr (OgResult) before = og_evaluate (formula, catalog, NULL);
  OgFormulaLine *line = og_formula_find_ingredient (after, agents[agent]);

  g_free (line->ingredient_id);
  line->ingredient_id = g_strdup (others[agent]);
  for (int vary = 0; vary < 2; vary++)
    {
      OgRebalanceOptions options = { .vary_agents = vary };
      g_autoptr (GError) error = NULL;
      g_autoptr (OgSolveReport) report = og_rebalance (formula, after, catalog, &options, &error);

      assert_honest (report, error, before->pour.value);
    }
}

static void
test_rebalance (void)
{
  foreach_crowded (check_rebalance);
}

static void
check_levers (const OgFormula *formula,
              guint            filler,
              guint            agent)
{
  g_autoptr (OgResult) result = og_evaluate (formula, catalog, NULL);
  g_autoptr (GArray) levers = og_levers (formula, catalog, NULL);

  g_assert_cmpuint (levers->len, >, 0);
  g_assert_cmpint (isfinite (result->pour.value), ==,
                   isfinite (result->pour.low80) && isfinite (result->pour.high80));
}

static void
test_levers (void)
{
  foreach_crowded (check_levers);
}

int
main (int   argc,
      char *argv[])
{
  int status;

  g_test_init (&argc, &argv, NULL);
  catalog = fixture_catalog ();
  g_test_add_func ("/crowded/agents", test_agents);
  g_test_add_func ("/crowded/fillers", test_fillers);
  g_test_add_func ("/crowded/solve", test_solve);
  g_test_add_func ("/crowded/rebalance", test_rebalance);
  g_test_add_func ("/crowded/levers", test_levers);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
