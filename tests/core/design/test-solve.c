/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/solve.h"

#include <math.h>
#include <string.h>

#include "common/fixture.h"
#include "core/base/error.h"
#include "core/design/rebalance.h"
#include "core/recipe/bench.h"

#define HEADER FIXTURE_HEADER
#define WITH_BALANCE \
  HEADER "Hot,castor-oil,63.0\nHot,polyamide-3,1.5\nCool,sunflower-oil,balance\n" \
         "Colour,red-iron-oxide-in-castor-oil,0.5\nLast,tocopherol,1.0\n"
#define MOST_NAMED 4

static OgCatalog *catalog;

static OgFormula *
recipe (const char *table)
{
  return fixture_recipe (table, catalog);
}

/* --- helpers --------------------------------------------------------------- */

typedef struct
{
  OgSolveRequest request;
  OgSolveRange ranges[MOST_NAMED];
} Question;

static void
question_init (Question        *question,
               const OgFormula *formula,
               double           mpa_s,
               const char      *ids)
{
  g_auto (GStrv) names = g_strsplit (ids, " ", -1);
  g_autoptr (GError) error = NULL;

  *question = (Question) { .request.target = { OG_BODY_UNKNOWN, mpa_s, 25.0, OG_SHEAR_POUR } };
  for (guint i = 0; names[i] != NULL; i++)
    {
      g_assert_true (og_solve_range_init (&question->ranges[i], formula, names[i], &error));
      g_assert_no_error (error);
      question->request.n_ranges++;
    }
  question->request.ranges = question->ranges;
}

static OgSolveReport *
answer (const OgFormula *formula,
        const Question  *question)
{
  g_autoptr (GError) error = NULL;
  OgSolveReport *report = og_solve (formula, catalog, &question->request, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (report->answers->len, >, 0);
  return report;
}

static const OgSolveAnswer *
nth (const OgSolveReport *report,
     guint                i)
{
  return g_ptr_array_index (report->answers, i);
}

static double
viscosity_of (const OgFormula     *formula,
              const OgSolveTarget *target)
{
  OgConditions conditions = { .temperatures_c = &target->temperature_c, .n_temperatures = 1,
                              .shear_rates_1_s = &target->shear_rate_1_s, .n_shear_rates = 1 };
  g_autoptr (OgResult) result = og_evaluate (formula, catalog, &conditions);

  return g_array_index (result->viscosity, OgViscosityPoint, 0).viscosity_mpa_s.value;
}

static OgPpm
amount_of (const OgFormula *formula,
           const char      *id)
{
  return og_formula_find_ingredient (formula, id)->amount;
}

static void
check_line (OgFormulaPhase *phase,
            OgFormulaLine  *line,
            gpointer        user_data)
{
  const Question *question = user_data;

  g_assert_cmpint (line->amount, >=, 0);
  for (guint i = 0; i < question->request.n_ranges; i++)
    if (question->ranges[i].line_id == line->id)
      {
        g_assert_cmpint (line->amount, >=, question->ranges[i].low);
        g_assert_cmpint (line->amount, <=, question->ranges[i].high);
      }
}

/* Whole to the millionth, within the bounds, and on target by a fresh evaluation. */
static void
check_answers (const OgSolveReport *report,
               const Question      *question)
{
  for (guint i = 0; i < report->answers->len; i++)
    {
      const OgSolveAnswer *one = nth (report, i);

      g_assert_cmpint (og_formula_total (one->formula), ==, OG_PPM_WHOLE);
      og_formula_foreach_line (one->formula, check_line, (gpointer) question);
      if (report->reached)
        assert_within (viscosity_of (one->formula, &question->request.target),
                       question->request.target.viscosity_mpa_s, 0.001);
    }
}

/* --- targets --------------------------------------------------------------- */

/* Agents on either side of their gel point, two to four lines, with and without balance lines. */
static void
test_hits (void)
{
  static const struct
  {
    const char *table;
    const char *vary;
    double mpa_s[4];
  } cases[] = {
    { WITH_BALANCE, "polyamide-3", { 300.0, 600.0, 2000.0, 30000.0 } },
    { WITH_BALANCE, "castor-oil", { 130.0, 200.0, 500.0, 1000.0 } },
    { WITH_BALANCE, "polyamide-3 castor-oil", { 100.0, 700.0, 3000.0, 50000.0 } },
    { FIXTURE_LIP_OIL, "castor-oil sunflower-oil", { 200.0, 500.0, 900.0, 1100.0 } },
    { FIXTURE_LIP_OIL, "castor-oil sunflower-oil polyamide-3 tocopherol",
      { 150.0, 800.0, 3000.0, 20000.0 } },
    { HEADER "A,castor-oil,50\nA,jojoba-oil,48\nA,dextrin-palmitate,2\n", "dextrin-palmitate",
      { 250.0, 400.0, 2000.0, 10000.0 } },
    { HEADER "A,olive-oil,95\nA,12-hydroxystearic-acid,0.5\nA,tocopherol,4.5\n",
      "12-hydroxystearic-acid",
      { 80.0, 100.0, 1000.0, 30000.0 } },
    { HEADER "A,olive-oil,60\nA,isopropyl-myristate,balance\nA,silica-dimethyl-silylate,3\n",
      "olive-oil silica-dimethyl-silylate", { 15.0, 40.0, 90.0, 2000.0 } },
  };

  for (guint c = 0; c < G_N_ELEMENTS (cases); c++)
    for (guint t = 0; t < G_N_ELEMENTS (cases[c].mpa_s); t++)
      {
        g_autoptr (OgFormula) formula = recipe (cases[c].table);
        g_autoptr (OgSolveReport) report = NULL;
        Question question;

        question_init (&question, formula, cases[c].mpa_s[t], cases[c].vary);
        report = answer (formula, &question);
        g_test_message ("%s to %g: %s", cases[c].vary, cases[c].mpa_s[t], og_saying_text (report->text));
        g_assert_true (report->reached);
        check_answers (report, &question);
      }
}

static void
test_other_conditions (void)
{
  g_autoptr (OgFormula) formula = recipe (WITH_BALANCE);
  static const OgSolveTarget targets[] = {
    { OG_BODY_UNKNOWN, 60.0, 60.0, 100.0 },
    { OG_BODY_UNKNOWN, 900.0, 32.0, 1000.0 },
    { OG_BODY_UNKNOWN, 5000.0, 5.0, 0.01 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (targets); i++)
    {
      g_autoptr (OgSolveReport) report = NULL;
      Question question;

      question_init (&question, formula, 1.0, "castor-oil polyamide-3");
      question.request.target = targets[i];
      report = answer (formula, &question);
      g_assert_true (report->reached);
      check_answers (report, &question);
    }
}

static const char *const liquids[]
    = { "castor-oil", "sunflower-oil", "olive-oil", "jojoba-oil", "isopropyl-myristate",
        "squalane" };
static const char *const agents[]
    = { "polyamide-3", "dextrin-palmitate", "12-hydroxystearic-acid", "silica-dimethyl-silylate" };

/* Three liquids and an agent with any shares that make 100 %. */
static OgFormula *
random_mixture (GRand    *rand,
                gboolean  balance,
                char    **ids)
{
  OgFormula *formula = og_formula_new ();
  OgFormulaPhase *phase = og_formula_add_phase (formula, "All", 90.0, G_MAXUINT);
  guint first = (guint) g_rand_int_range (rand, 0, G_N_ELEMENTS (liquids));
  OgPpm left = OG_PPM_WHOLE, agent = g_rand_int_range (rand, 0, 60000);

  ids[3] = (char *) agents[g_rand_int_range (rand, 0, G_N_ELEMENTS (agents))];
  og_formula_add_line (formula, phase, ids[3], agent, G_MAXUINT);
  left -= agent;
  for (guint i = 0; i < 3; i++)
    {
      OgPpm amount = i < 2 ? g_rand_int_range (rand, 0, left + 1) : left;

      ids[i] = (char *) liquids[(first + i) % G_N_ELEMENTS (liquids)];
      og_formula_add_line (formula, phase, ids[i], amount, G_MAXUINT)->balance_share
          = balance && i == 2;
      left -= amount;
    }
  return formula;
}

/* What some mixture of the same lines has can be reached from any other mixture of them. */
static void
test_random (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (20260301);

  for (guint round = 0; round < 80; round++)
    {
      gboolean balance = round % 2 == 0;
      char *ids[5] = { NULL }, *same[5] = { NULL };
      guint32 seed = g_rand_int (rand);
      g_autoptr (GRand) one = g_rand_new_with_seed (seed);
      g_autoptr (OgFormula) formula = random_mixture (one, balance, ids);
      g_autoptr (OgFormula) other = og_formula_copy (formula);
      g_autoptr (OgSolveReport) report = NULL;
      g_autofree char *names = NULL;
      OgPpm agent = g_rand_int_range (rand, 0, 60000);
      OgPpm oil = g_rand_int_range (rand, 0, OG_PPM_WHOLE - agent);
      Question question;

      for (guint i = 0; i < 4; i++)
        same[i] = ids[i];
      og_formula_find_ingredient (other, ids[3])->amount = agent;
      og_formula_find_ingredient (other, ids[0])->amount = oil;
      og_formula_find_ingredient (other, ids[1])->amount = 0;
      og_formula_find_ingredient (other, ids[2])->amount = OG_PPM_WHOLE - agent - oil;
      names = g_strjoinv (" ", same);
      question_init (&question, formula, 1.0, names);
      question.request.target.viscosity_mpa_s = viscosity_of (other, &question.request.target);
      report = answer (formula, &question);
      g_test_message ("seed %u: %s to %g: %s", seed, names, question.request.target.viscosity_mpa_s,
                      og_saying_text (report->text));
      g_assert_true (report->reached);
      check_answers (report, &question);
    }
}

/* Many lines at once, with and without a balance line. */
static void
test_many_lines (void)
{
  static const char *const ids[]
      = { "castor-oil", "sunflower-oil", "olive-oil", "jojoba-oil", "isopropyl-myristate",
          "squalane", "polyamide-3", "tocopherol", "sesame-oil", "canola-oil" };

  for (guint round = 0; round < 8; round++)
    {
      g_autoptr (OgFormula) formula = og_formula_new ();
      OgFormulaPhase *phase = og_formula_add_phase (formula, "All", 90.0, G_MAXUINT);
      OgSolveRange ranges[G_N_ELEMENTS (ids)];
      OgSolveRequest request
          = { .target = { OG_BODY_UNKNOWN, 40.0 * pow (2.5, round), 25.0, OG_SHEAR_POUR },
                                 .ranges = ranges };
      g_autoptr (OgSolveReport) report = NULL;
      g_autoptr (GError) error = NULL;

      for (guint i = 0; i < G_N_ELEMENTS (ids); i++)
        {
          OgFormulaLine *line = og_formula_add_line (formula, phase, ids[i], 100000, G_MAXUINT);

          line->balance_share = round % 2 == 0 && i == 1;
          if (line->balance_share == 0)
            ranges[request.n_ranges++] = (OgSolveRange) { line->id, 0, 400000 };
        }
      report = og_solve (formula, catalog, &request, &error);
      g_assert_no_error (error);
      g_assert_true (report->reached);
      g_assert_cmpint (og_formula_total (nth (report, 0)->formula), ==, OG_PPM_WHOLE);
      assert_within (viscosity_of (nth (report, 0)->formula, &request.target),
                     request.target.viscosity_mpa_s, 0.001);
    }
}

/* What is on target already stays as it is, to the millionth. */
static void
test_nothing_to_do (void)
{
  g_autoptr (OgFormula) formula = recipe (WITH_BALANCE);
  g_autoptr (OgSolveReport) report = NULL;
  Question question;

  question_init (&question, formula, 1.0, "castor-oil polyamide-3");
  question.request.target.viscosity_mpa_s = viscosity_of (formula, &question.request.target);
  report = answer (formula, &question);
  g_assert_true (og_formula_equal (nth (report, 0)->formula, formula));
}

/* Castor oil reads about 650 to 700 mPa.s at 25 C, ordinary oils 50 to 70 (handbook values,
 * recalled): the thicker the blend, the more castor oil it takes. */
static void
test_more_castor (void)
{
  g_autoptr (OgFormula) formula = recipe (HEADER "A,castor-oil,30\nA,sunflower-oil,balance\n");
  OgPpm last = 0;

  for (double mpa_s = 70.0; mpa_s < 600.0; mpa_s *= 1.3)
    {
      g_autoptr (OgSolveReport) report = NULL;
      Question question;

      question_init (&question, formula, mpa_s, "castor-oil");
      report = answer (formula, &question);
      g_assert_true (report->reached);
      check_answers (report, &question);
      g_assert_cmpint (amount_of (nth (report, 0)->formula, "castor-oil"), >, last);
      last = amount_of (nth (report, 0)->formula, "castor-oil");
    }
}

/* --- several answers ------------------------------------------------------- */

static void
test_answers_differ (void)
{
  g_autoptr (OgFormula) formula = recipe (WITH_BALANCE);
  g_autoptr (OgSolveReport) report = NULL;
  gboolean more_agent = FALSE, more_castor = FALSE;
  Question question;

  question_init (&question, formula, 900.0, "polyamide-3 castor-oil");
  report = answer (formula, &question);
  g_assert_cmpuint (report->answers->len, >, 1);
  for (guint i = 0; i < report->answers->len; i++)
    {
      const OgFormula *one = nth (report, i)->formula;

      more_agent = more_agent
          || (amount_of (one, "polyamide-3") > 20000 && amount_of (one, "castor-oil") <= 630000);
      more_castor = more_castor
          || (amount_of (one, "castor-oil") > 700000 && amount_of (one, "polyamide-3") <= 16000);
      if (i > 0)
        g_assert_cmpfloat (nth (report, i)->change, >=, nth (report, i - 1)->change - 1e-3);
    }
  g_assert_true (more_agent);
  g_assert_true (more_castor);
}

/* --- bounds ---------------------------------------------------------------- */

/* Best value and place of a dense scan of two named lines with a balance line. */
static double
scan (const OgFormula *formula,
      const Question  *question,
      gboolean         highest,
      double           best_pct[2])
{
  g_autoptr (OgFormula) trial = og_formula_copy (formula);
  double best = highest ? -INFINITY : INFINITY;

  for (guint i = 0; i <= 30; i++)
    for (guint j = 0; j <= 30; j++)
      {
        OgPpm amount[2];
        double value;

        for (guint k = 0; k < 2; k++)
          {
            const OgSolveRange *range = &question->ranges[k];

            amount[k] = range->low
                + (OgPpm) ((gint64) (range->high - range->low) * (k == 0 ? i : j) / 30);
            og_formula_find_line (trial, range->line_id, NULL, NULL)->amount = amount[k];
          }
        if (og_formula_balance (trial) != OG_PPM_WHOLE)
          continue;
        value = viscosity_of (trial, &question->request.target);
        if (highest ? value > best : value < best)
          {
            best = value;
            best_pct[0] = og_ppm_to_pct (amount[0]);
            best_pct[1] = og_ppm_to_pct (amount[1]);
          }
      }
  return best;
}

static void
test_out_of_reach (void)
{
  static const struct
  {
    double mpa_s;
    OgPpm castor_low, castor_high, agent_low, agent_high;
    const char *limit;
    gboolean upper;
  } cases[] = {
    { 1e6, 0, 600000, 0, 20000, "polyamide-3", TRUE },
    { 20.0, 200000, 600000, 10000, 20000, "polyamide-3", FALSE },
    { 5000.0, 0, 400000, 0, 10000, "polyamide-3", TRUE },
    { 40.0, 300000, 600000, 0, 20000, "castor-oil", FALSE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (OgFormula) formula = recipe (WITH_BALANCE);
      g_autoptr (OgSolveReport) report = NULL;
      const OgFormulaLine *line;
      double place[2], best, bound_pct;
      Question question;

      question_init (&question, formula, cases[i].mpa_s, "castor-oil polyamide-3");
      question.ranges[0].low = cases[i].castor_low;
      question.ranges[0].high = cases[i].castor_high;
      question.ranges[1].low = cases[i].agent_low;
      question.ranges[1].high = cases[i].agent_high;
      report = answer (formula, &question);
      best = scan (formula, &question, cases[i].mpa_s > 1000.0, place);
      g_assert_false (report->reached);
      check_answers (report, &question);
      assert_within (nth (report, 0)->viscosity.value, best, 0.002);
      line = og_formula_find_line (formula, report->limit.line_id, NULL, NULL);
      g_assert_nonnull (line);
      g_assert_cmpstr (line->ingredient_id, ==, cases[i].limit);
      g_assert_cmpint (report->limit.upper, ==, cases[i].upper);
      bound_pct = og_ppm_to_pct (report->limit.bound);
      g_assert_cmpfloat (fabs (place[g_str_equal (cases[i].limit, "castor-oil") ? 0 : 1]
                               - bound_pct), <, 1e-9);
      g_assert_nonnull (strstr (og_saying_text (report->text), "nearest"));
    }
}

/* A balance line that is used up is the limit, and so is one with a bound of its own. */
static void
test_balance_is_limit (void)
{
  g_autoptr (OgFormula) formula = recipe (HEADER "A,castor-oil,40\nA,sunflower-oil,balance\n");
  g_autoptr (OgSolveReport) used_up = NULL;
  g_autoptr (OgSolveReport) bound = NULL;
  Question question;

  question_init (&question, formula, 2000.0, "castor-oil");
  used_up = answer (formula, &question);
  g_assert_false (used_up->reached);
  g_assert_cmpint (amount_of (nth (used_up, 0)->formula, "castor-oil"), ==, OG_PPM_WHOLE);

  question_init (&question, formula, 2000.0, "castor-oil sunflower-oil");
  question.ranges[1].low = 250000;
  bound = answer (formula, &question);
  g_assert_false (bound->reached);
  g_assert_cmpuint (bound->limit.line_id, ==, question.ranges[1].line_id);
  g_assert_false (bound->limit.upper);
  g_assert_cmpint (bound->limit.bound, ==, 250000);
  g_assert_cmpint (amount_of (nth (bound, 0)->formula, "sunflower-oil"), ==, 250000);
}

/* Lines that nobody named keep their amounts; held ones also where all others scale. */
static void
test_others_stay (void)
{
  g_autoptr (OgFormula) with_balance = recipe (WITH_BALANCE);
  g_autoptr (OgFormula) scaling = recipe (FIXTURE_LIP_OIL);
  g_autoptr (OgSolveReport) kept = NULL;
  g_autoptr (OgSolveReport) scaled = NULL;
  const OgFormula *one;
  Question question;

  question_init (&question, with_balance, 1500.0, "polyamide-3");
  kept = answer (with_balance, &question);
  one = nth (kept, 0)->formula;
  g_assert_cmpint (amount_of (one, "castor-oil"), ==, 630000);
  g_assert_cmpint (amount_of (one, "tocopherol"), ==, 10000);

  og_formula_find_ingredient (scaling, "tocopherol")->held = TRUE;
  question_init (&question, scaling, 1500.0, "polyamide-3");
  scaled = answer (scaling, &question);
  one = nth (scaled, 0)->formula;
  check_answers (scaled, &question);
  g_assert_cmpint (amount_of (one, "tocopherol"), ==, 10000);
  assert_within ((double) amount_of (one, "castor-oil") / amount_of (one, "sunflower-oil"),
                 63.0 / 34.0, 1e-4);
}

/* --- cost ------------------------------------------------------------------ */

static OgShelf *
priced_shelf (void)
{
  static const struct
  {
    const char *id;
    double price;
  } prices[] = { { "castor-oil", 9.0 }, { "sunflower-oil", 4.0 }, { "polyamide-3", 120.0 },
                 { "tocopherol", 60.0 }, { "red-iron-oxide-in-castor-oil", 40.0 } };
  OgShelf *shelf = og_shelf_new ();

  for (guint i = 0; i < G_N_ELEMENTS (prices); i++)
    og_shelf_put (shelf,
                  &(OgShelfItem) { (char *) prices[i].id, 1000.0, prices[i].price, (char *) "EUR",
                                   0 });
  return shelf;
}

/* Brute force: for each share of the agent the castor oil that hits the target, by bisection. */
static double
cheapest_by_grid (const OgFormula *formula,
                  const OgShelf   *shelf,
                  double           mpa_s)
{
  static const OgSolveTarget pour = { OG_BODY_UNKNOWN, NAN, 25.0, OG_SHEAR_POUR };
  g_autoptr (OgFormula) trial = og_formula_copy (formula);
  double best = INFINITY;

  for (OgPpm agent = 0; agent <= 50000; agent += 500)
    {
      OgPpm low = 0, high = 900000;

      og_formula_find_ingredient (trial, "polyamide-3")->amount = agent;
      while (high - low > 1)
        {
          OgPpm middle = (low + high) / 2;

          og_formula_find_ingredient (trial, "castor-oil")->amount = middle;
          og_formula_balance (trial);
          if (viscosity_of (trial, &pour) < mpa_s)
            low = middle;
          else
            high = middle;
        }
      og_formula_find_ingredient (trial, "castor-oil")->amount = high;
      og_formula_balance (trial);
      if (fabs (log (viscosity_of (trial, &pour) / mpa_s)) < 1e-3)
        best = fmin (best, og_formula_price (trial, shelf, NULL));
    }
  return best;
}

static void
test_cheapest (void)
{
  static const double targets[] = { 150.0, 500.0, 900.0, 3000.0 };
  g_autoptr (OgShelf) shelf = priced_shelf ();

  for (guint i = 0; i < G_N_ELEMENTS (targets); i++)
    {
      g_autoptr (OgFormula) formula = recipe (WITH_BALANCE);
      g_autoptr (OgSolveReport) report = NULL;
      double grid = cheapest_by_grid (formula, shelf, targets[i]);
      Question question;

      question_init (&question, formula, targets[i], "polyamide-3 castor-oil");
      question.ranges[0].high = 50000;
      question.ranges[1].high = 900000;
      question.request.aim = OG_SOLVE_LEAST_COST;
      question.request.shelf = shelf;
      report = answer (formula, &question);
      g_assert_true (report->reached);
      g_assert_cmpint (report->aim, ==, OG_SOLVE_LEAST_COST);
      check_answers (report, &question);
      g_test_message ("%g mPa.s: %g, by grid %g", targets[i], nth (report, 0)->cost_per_kg, grid);
      g_assert_cmpfloat (nth (report, 0)->cost_per_kg, <=, grid * 1.002);
    }
}

static void
test_unpriced (void)
{
  g_autoptr (OgFormula) formula = recipe (WITH_BALANCE);
  g_autoptr (OgShelf) shelf = og_shelf_new ();
  g_autoptr (OgSolveReport) report = NULL;
  Question question;

  og_shelf_put (shelf, &(OgShelfItem) { (char *) "castor-oil", 0.0, 9.0, (char *) "EUR", 0 });
  question_init (&question, formula, 900.0, "castor-oil polyamide-3");
  question.request.aim = OG_SOLVE_LEAST_COST;
  question.request.shelf = shelf;
  report = answer (formula, &question);
  g_assert_cmpint (report->aim, ==, OG_SOLVE_LEAST_CHANGE);
  g_assert_true (g_strv_contains ((const char *const *) report->unpriced, "polyamide-3"));
  g_assert_true (g_strv_contains ((const char *const *) report->unpriced, "sunflower-oil"));
  g_assert_false (g_strv_contains ((const char *const *) report->unpriced, "castor-oil"));
  g_assert_true (isnan (nth (report, 0)->cost_per_kg));
}

/* --- words ----------------------------------------------------------------- */

static void
test_words (void)
{
  g_autoptr (OgFormula) formula
      = recipe (HEADER "A,castor-oil,45\nA,polyamide-3,2\nA,isopropyl-myristate,balance\n"
                       "A,sunflower-oil,30\n");

  for (int body = OG_BODY_DRY; body <= OG_BODY_SET; body++)
    {
      g_autoptr (OgSolveReport) report = NULL;
      Question question;

      question_init (&question, formula, 1.0, "castor-oil polyamide-3 sunflower-oil");
      question.request.target = (OgSolveTarget) { .body = (OgBody) body };
      report = answer (formula, &question);
      g_assert_true (report->reached);
      for (guint i = 0; i < report->answers->len; i++)
        {
          g_autoptr (OgResult) result = og_evaluate (nth (report, i)->formula, catalog, NULL);

          g_assert_cmpint (result->body, ==, body);
          g_assert_cmpint (og_formula_total (nth (report, i)->formula), ==, OG_PPM_WHOLE);
        }
    }
}

/* A thin oil sets before the agent makes it pour like a heavy one. */
static void
test_sets_before (void)
{
  g_autoptr (OgFormula) formula
      = recipe (HEADER "A,isopropyl-myristate,balance\nA,polyamide-3,2\n");
  g_autoptr (OgSolveReport) report = NULL;
  Question question;

  question_init (&question, formula, 1.0, "polyamide-3");
  question.request.target = (OgSolveTarget) { .body = OG_BODY_HEAVY };
  report = answer (formula, &question);
  g_assert_false (report->reached);
  g_assert_true (report->sets);
  g_assert_cmpuint (report->limit.line_id, ==, 0);
}

/* --- what a measurement taught --------------------------------------------- */

static void
test_learned (void)
{
  g_autoptr (OgFormula) formula = recipe (WITH_BALANCE);
  g_autoptr (OgSolveReport) report = NULL;
  OgMeasurement *measurement = og_measurement_new ();
  Question question;

  measurement->reading = (OgReading) { .method = OG_METHOD_ROTATIONAL, .temperature_c = 25.0,
                                       .mpa_s = 500.0, .shear_rate_1_s = 10.0 };
  measurement->reduced = (OgReduced) { 500.0, 0.05, 10.0, NAN };
  og_measurement_set_recipe (measurement, formula);
  g_ptr_array_add (formula->measurements, measurement);
  question_init (&question, formula, 600.0, "castor-oil");
  report = answer (formula, &question);
  g_assert_true (report->reached);
  check_answers (report, &question);
}

/* --- from any thread, again and again --------------------------------------- */

static gpointer
solve_elsewhere (gpointer data)
{
  const OgFormula *formula = data;
  Question question;

  question_init (&question, formula, 900.0, "polyamide-3 castor-oil");
  return answer (formula, &question);
}

static void
test_threads (void)
{
  g_autoptr (OgFormula) formula = recipe (WITH_BALANCE);
  g_autoptr (OgSolveReport) here = solve_elsewhere (formula);
  GThread *threads[3];

  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    threads[i] = g_thread_new ("solve", solve_elsewhere, formula);
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    {
      g_autoptr (OgSolveReport) there = g_thread_join (threads[i]);

      g_assert_cmpuint (there->answers->len, ==, here->answers->len);
      for (guint a = 0; a < here->answers->len; a++)
        g_assert_true (og_formula_equal (nth (there, a)->formula, nth (here, a)->formula));
    }
}

static gboolean
stop_at_once (double   done,
              gpointer user_data)
{
  guint *calls = user_data;

  g_assert_cmpfloat (done, >=, 0.0);
  g_assert_cmpfloat (done, <=, 1.0);
  return ++*calls < 3;
}

static void
test_stop (void)
{
  g_autoptr (OgFormula) formula = recipe (WITH_BALANCE);
  g_autoptr (GError) error = NULL;
  guint calls = 0;
  Question question;

  question_init (&question, formula, 900.0, "polyamide-3 castor-oil");
  question.request.progress = stop_at_once;
  question.request.user_data = &calls;
  g_assert_null (og_solve (formula, catalog, &question.request, &error));
  g_assert_error (error, OG_SOLVE_ERROR, OG_SOLVE_ERROR_STOPPED);
  g_assert_cmpuint (calls, ==, 3);
}

/* --- refusals -------------------------------------------------------------- */

static void
refuse (const OgFormula *formula,
        const Question  *question,
        int              code)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (og_solve (formula, catalog, &question->request, &error));
  g_assert_error (error, OG_SOLVE_ERROR, code);
}

static void
test_refusals (void)
{
  g_autoptr (OgFormula) formula = recipe (WITH_BALANCE);
  g_autoptr (OgFormula) dry = recipe (HEADER "A,mica,50\nA,talc,balance\n");
  g_autoptr (GError) error = NULL;
  OgSolveRange range;
  Question question;

  g_assert_false (og_solve_range_init (&range, formula, "olive-oil", &error));
  g_assert_error (error, OG_RECIPE_ERROR, OG_RECIPE_ERROR_NOT_IN_RECIPE);

  question_init (&question, formula, -5.0, "castor-oil");
  refuse (formula, &question, OG_SOLVE_ERROR_TARGET);
  question_init (&question, formula, NAN, "castor-oil");
  refuse (formula, &question, OG_SOLVE_ERROR_TARGET);
  question_init (&question, formula, 500.0, "castor-oil");
  question.request.target.shear_rate_1_s = 0.0;
  refuse (formula, &question, OG_SOLVE_ERROR_TARGET);
  question_init (&question, formula, 500.0, "castor-oil");
  question.ranges[0].low = 990000;
  refuse (formula, &question, OG_SOLVE_ERROR_RANGES);
  question_init (&question, formula, 500.0, "castor-oil");
  question.ranges[0].low = question.ranges[0].high = 500000;
  refuse (formula, &question, OG_SOLVE_ERROR_NOTHING);
  question_init (&question, formula, 500.0, "castor-oil castor-oil");
  refuse (formula, &question, OG_SOLVE_ERROR_RANGES);
  question_init (&question, formula, 500.0, "castor-oil");
  question.request.n_ranges = 0;
  refuse (formula, &question, OG_SOLVE_ERROR_NOTHING);
  question_init (&question, dry, 500.0, "mica");
  refuse (dry, &question, OG_SOLVE_ERROR_NO_LIQUID);
  og_formula_find_ingredient (formula, "castor-oil")->held = TRUE;
  question_init (&question, formula, 500.0, "castor-oil");
  refuse (formula, &question, OG_SOLVE_ERROR_NOTHING);
}

/* --- keeping the body after a swap ----------------------------------------- */

static OgFormula *
swapped (const OgFormula *formula,
         const char      *from,
         const char      *to)
{
  OgFormula *after = og_formula_copy (formula);
  OgFormulaLine *line = og_formula_find_ingredient (after, from);

  g_free (line->ingredient_id);
  line->ingredient_id = g_strdup (to);
  return after;
}

static void
check_rebalanced (const char *table,
                  const char *from,
                  const char *to,
                  gboolean    with_agents)
{
  static const OgSolveTarget pour = { OG_BODY_UNKNOWN, NAN, 25.0, OG_SHEAR_POUR };
  g_autoptr (OgFormula) before = recipe (table);
  g_autoptr (OgFormula) after = swapped (before, from, to);
  OgRebalanceOptions options = { .vary_agents = with_agents };
  g_autoptr (GError) error = NULL;
  g_autoptr (OgSolveReport) report = og_rebalance (before, after, catalog, &options, &error);

  g_assert_no_error (error);
  g_assert_true (report->reached);
  for (guint i = 0; i < report->answers->len; i++)
    {
      g_autoptr (OgFormula) balanced = og_formula_copy (nth (report, i)->formula);

      assert_within (viscosity_of (balanced, &pour), viscosity_of (before, &pour), 0.001);
      g_assert_cmpint (og_formula_balance (balanced), ==, OG_PPM_WHOLE);
      g_assert_true (og_formula_equal (balanced, nth (report, i)->formula));
      if (!with_agents)
        g_assert_cmpint (amount_of (balanced, "polyamide-3"), ==, 15000);
    }
}

static void
test_rebalance (void)
{
  static const char two[]
      = HEADER "A,castor-oil,balance 2\nA,polyamide-3,1.5\nA,sunflower-oil,balance 1\n"
               "A,tocopherol,0.5\n";

  check_rebalanced (two, "sunflower-oil", "jojoba-oil", FALSE);
  check_rebalanced (two, "sunflower-oil", "olive-oil", TRUE);
  check_rebalanced (WITH_BALANCE, "sunflower-oil", "jojoba-oil", TRUE);
  check_rebalanced (WITH_BALANCE, "castor-oil", "lesquerella-oil", TRUE);
  check_rebalanced (FIXTURE_LIP_OIL, "sunflower-oil", "olive-oil", FALSE);
}

static void
test_rebalance_limit (void)
{
  g_autoptr (OgFormula) before = recipe (WITH_BALANCE);
  g_autoptr (OgFormula) after = swapped (before, "castor-oil", "isopropyl-myristate");
  g_autoptr (GError) error = NULL;
  g_autoptr (OgSolveReport) report = og_rebalance (before, after, catalog, NULL, &error);

  g_assert_no_error (error);
  g_assert_false (report->reached);
  g_assert_cmpuint (report->limit.line_id, !=, 0);
  g_assert_cmpint (og_formula_total (nth (report, 0)->formula), ==, OG_PPM_WHOLE);
}

/* --- what a formulator would sign ------------------------------------------- */

/* Colour and antioxidant were set for another reason: only oils make room for what is varied. */
static void
test_only_oils_follow (void)
{
  static const char *const stay[] = { "red-iron-oxide-in-castor-oil", "tocopherol" };
  g_autoptr (OgFormula) formula = recipe (FIXTURE_LIP_OIL);
  g_autoptr (OgSolveReport) report = NULL;
  const OgFormula *changed;
  Question question;

  question_init (&question, formula, 900.0, "polyamide-3");
  report = answer (formula, &question);
  g_assert_true (report->reached);
  changed = ((OgSolveAnswer *) g_ptr_array_index (report->answers, 0))->formula;
  for (guint i = 0; i < G_N_ELEMENTS (stay); i++)
    g_assert_cmpint (og_formula_find_ingredient (changed, stay[i])->amount, ==,
                     og_formula_find_ingredient (formula, stay[i])->amount);
  g_assert_cmpint (og_formula_find_ingredient (changed, "castor-oil")->amount, <, 630000);
  g_assert_cmpint (og_formula_find_ingredient (changed, "sunflower-oil")->amount, <, 340000);
}

/* Polyamide-3 is used at 1 to 5 % (data/catalog): what takes more is no recipe, and that is said. */
static void
test_beyond_usual (void)
{
  g_autoptr (OgFormula) formula = recipe (HEADER "Hot,sunflower-oil,balance\nHot,polyamide-3,1.5\n");
  g_autoptr (OgSolveReport) report = NULL;
  g_autoptr (OgSolveReport) modest = NULL;
  const OgSolveAnswer *first;
  Question question;

  question_init (&question, formula, 1e6, "polyamide-3");
  report = answer (formula, &question);
  g_assert_true (report->reached);
  first = g_ptr_array_index (report->answers, 0);
  g_assert_cmpuint (first->beyond_line, ==, og_formula_find_ingredient (formula, "polyamide-3")->id);
  g_assert_nonnull (strstr (og_saying_text (report->text), "beyond its usual 1 to 5 %"));
  g_assert_null (strstr (og_saying_text (report->text), "Reached:"));

  question_init (&question, formula, 150.0, "polyamide-3");
  modest = answer (formula, &question);
  g_assert_true (modest->reached);
  g_assert_cmpuint (((OgSolveAnswer *) g_ptr_array_index (modest->answers, 0))->beyond_line, ==, 0);
  g_assert_nonnull (strstr (og_saying_text (modest->text), "Reached:"));
}

static void
test_contradictions (void)
{
  g_autoptr (OgFormula) formula = recipe (FIXTURE_LIP_OIL);
  g_autoptr (GError) error = NULL;
  Question question;

  question_init (&question, formula, 500.0, "castor-oil sunflower-oil");
  question.ranges[0].low = 700000;
  question.ranges[1].low = 400000;
  g_assert_null (og_solve (formula, catalog, &question.request, &error));
  g_assert_error (error, OG_SOLVE_ERROR, OG_SOLVE_ERROR_RANGES);
  g_assert_nonnull (strstr (error->message, "lower bounds contradict each other: Castor oil, Sunflower oil"));
  g_clear_error (&error);

  question.ranges[0].low = 400000;
  question.ranges[0].high = 300000;
  g_assert_null (og_solve (formula, catalog, &question.request, &error));
  g_assert_error (error, OG_SOLVE_ERROR, OG_SOLVE_ERROR_RANGES);
  g_assert_nonnull (strstr (error->message, "Castor oil: the bounds contradict each other"));
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  catalog = fixture_catalog ();

  g_test_add_func ("/solve/hits", test_hits);
  g_test_add_func ("/solve/other-conditions", test_other_conditions);
  g_test_add_func ("/solve/random", test_random);
  g_test_add_func ("/solve/many-lines", test_many_lines);
  g_test_add_func ("/solve/nothing-to-do", test_nothing_to_do);
  g_test_add_func ("/solve/more-castor", test_more_castor);
  g_test_add_func ("/solve/answers-differ", test_answers_differ);
  g_test_add_func ("/solve/out-of-reach", test_out_of_reach);
  g_test_add_func ("/solve/balance-is-limit", test_balance_is_limit);
  g_test_add_func ("/solve/others-stay", test_others_stay);
  g_test_add_func ("/solve/cheapest", test_cheapest);
  g_test_add_func ("/solve/unpriced", test_unpriced);
  g_test_add_func ("/solve/words", test_words);
  g_test_add_func ("/solve/sets-before", test_sets_before);
  g_test_add_func ("/solve/learned", test_learned);
  g_test_add_func ("/solve/threads", test_threads);
  g_test_add_func ("/solve/stop", test_stop);
  g_test_add_func ("/solve/refusals", test_refusals);
  g_test_add_func ("/solve/only-oils-follow", test_only_oils_follow);
  g_test_add_func ("/solve/beyond-usual", test_beyond_usual);
  g_test_add_func ("/solve/contradictions", test_contradictions);
  g_test_add_func ("/rebalance/keeps-body", test_rebalance);
  g_test_add_func ("/rebalance/limit", test_rebalance_limit);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
