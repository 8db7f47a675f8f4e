/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <cairo-pdf.h>
#include <glib/gstdio.h>
#include <locale.h>
#include <math.h>
#include <string.h>

#include "draw/stove-chart.h"
#include "fixtures.h"
#include "recipes.h"

/* Invented: warmed from 20 to 80 C in 30 minutes, an addition, cooled to 40 C in another 30,
 * filled. */
static void
add_step (OgStovePlan *plan,
          OgStoveAct   act,
          double       after_c)
{
  OgStoveStep *step = g_new0 (OgStoveStep, 1);

  step->act = act;
  step->after_c = after_c;
  g_ptr_array_add (plan->steps, step);
}

static void
add_point (OgStovePlan *plan,
           double       minutes,
           double       temperature_c,
           double       mpa_s,
           guint        step)
{
  OgStovePoint point = { minutes, temperature_c, { mpa_s, mpa_s / 1.5, mpa_s * 1.5 }, step };

  g_array_append_val (plan->series, point);
}

static OgStovePlan *
plan_new (void)
{
  OgStovePlan *plan = g_new0 (OgStovePlan, 1);

  plan->steps = g_ptr_array_new_with_free_func (g_free);
  plan->series = g_array_new (FALSE, FALSE, sizeof (OgStovePoint));
  plan->findings = g_ptr_array_new ();
  plan->hottest_c = 80.0;
  return plan;
}

static OgStovePlan *
cooked_new (void)
{
  OgStovePlan *plan = plan_new ();

  add_step (plan, OG_STOVE_WARM, 80.0);
  add_step (plan, OG_STOVE_ADD, 74.0);
  add_step (plan, OG_STOVE_COOL, 40.0);
  add_step (plan, OG_STOVE_FILL, 40.0);
  for (guint i = 0; i <= 15; i++)
    add_point (plan, 2.0 * i, 20.0 + 4.0 * i, 800.0 * exp (-0.2 * i), 0);
  add_point (plan, 30.0, 74.0, 50.0, 1);
  for (guint i = 0; i <= 15; i++)
    add_point (plan, 30.0 + 2.0 * i, 40.0 + 34.0 * exp (-0.3 * i), 50.0 * exp (0.1 * i), 2);
  add_point (plan, 60.0, 40.0, 230.0, 3);
  return plan;
}

static void
agents_clear (OgResult *result)
{
  g_array_unref (result->agents);
}

/* A result that knows nothing but one agent. */
static OgResult
agents_new (double clears_c,
            double sets_c)
{
  OgAgentState agent = { .clears_c = clears_c, .sets_c = sets_c };
  OgResult result = { .agents = g_array_new (FALSE, FALSE, sizeof (OgAgentState)) };

  g_array_append_val (result.agents, agent);
  return result;
}

static cairo_surface_t *
paint (int                 width,
       int                 height,
       const OgStoveChart *chart,
       const OgDrawStyle  *style)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  cairo_t *cr = cairo_create (surface);

  og_stove_chart_draw (cr, width, height, chart, style);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

/* Text of the chart as a PDF reader finds it; NULL without one. */
static char *
read_back (const OgStoveChart *chart)
{
  char *folder = test_folder_new ();
  g_autofree char *path = g_build_filename (folder, "stove.pdf", NULL);
  cairo_surface_t *surface = cairo_pdf_surface_create (path, 700, 500);
  cairo_t *cr = cairo_create (surface);
  OgDrawStyle style;
  char *text;

  og_draw_style_paper (&style);
  og_stove_chart_draw (cr, 700, 500, chart, &style);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  text = test_pdf_to_text (path);
  test_folder_remove (folder);
  return text;
}

static void
test_labels (void)
{
  static const char *const words[] = { "Pot, °C", "Viscosity while stirred, mPa·s", "Minutes",
                                       "clears 77 °C", "sets 62 °C", "warm to the wrist" };
  g_autoptr (OgStovePlan) plan = cooked_new ();
  OgResult result = agents_new (77.0, 62.0);
  OgStoveChart chart = { plan, &result, -1 };
  g_autofree char *text = read_back (&chart);

  agents_clear (&result);
  if (text == NULL)
    {
      g_test_skip ("no pdftotext");
      return;
    }
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (strstr (text, words[i]) == NULL)
      g_error ("“%s” is missing in:\n%s", words[i], text);
}

static void
test_nothing_to_draw (void)
{
  g_autoptr (OgStovePlan) empty = plan_new ();
  g_autoptr (OgStovePlan) refused = cooked_new ();
  OgStoveChart charts[] = { { NULL, NULL, -1 }, { empty, NULL, 5 }, { refused, NULL, 0 } };
  OgDrawStyle style;

  refused->refused = TRUE;
  og_draw_style_paper (&style);
  for (guint i = 0; i < G_N_ELEMENTS (charts); i++)
    {
      cairo_surface_t *surface = paint (400, 300, &charts[i], &style);
      g_autofree char *words = og_stove_chart_describe (&charts[i]);

      /* said in words, without axes */
      g_assert_cmpuint (test_count_ink (surface, test_colour (&style.background)), >, 100);
      g_assert_cmpint (og_stove_chart_pick (400, 300, &charts[i], &style, 200, 100), ==, -1);
      g_assert_null (og_stove_chart_read (&charts[i]));
      g_assert_nonnull (strstr (words, i == 2 ? "flash or smoke point" : "Nothing to warm"));
      cairo_surface_destroy (surface);
    }
}

/* Wherever the text is put, it stays inside. */
static void
test_nothing_clips (void)
{
  static const int sizes[][2] = { { 900, 600 }, { 640, 400 }, { 420, 380 }, { 300, 420 },
                                  { 200, 240 }, { 120, 90 }, { 30, 20 } };
  static const double fonts[] = { 9, 13, 18, 26 };
  g_autoptr (OgStovePlan) plan = cooked_new ();
  OgResult result = agents_new (110.0, 36.0);
  OgDrawStyle style;

  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    for (guint k = 0; k < 2 * G_N_ELEMENTS (fonts); k++)
      {
        OgStoveChart chart = { plan, &result, k % 3 == 0 ? 20 : -1 };
        cairo_surface_t *surface;

        if (k % 2 == 0)
          og_draw_style_paper (&style);
        else
          og_draw_style_dark (&style);
        style.font_size = fonts[k / 2];
        style.rtl = k % 3 == 1;
        style.high_contrast = k % 4 == 1;
        surface = paint (sizes[i][0], sizes[i][1], &chart, &style);
        test_assert_border (surface, 2, test_colour (&style.background));
        cairo_surface_destroy (surface);
      }
  agents_clear (&result);
}

/* Both curves are there without colour too: the drawing differs when one of them moves. */
static void
test_unknown_viscosity (void)
{
  g_autoptr (OgStovePlan) known = cooked_new ();
  g_autoptr (OgStovePlan) unknown = cooked_new ();
  OgStoveChart chart = { known, NULL, -1 };
  OgStoveChart without = { unknown, NULL, 3 };
  OgDrawStyle style;
  cairo_surface_t *a;
  cairo_surface_t *b;
  g_autofree char *words = NULL;
  g_autofree char *reading = NULL;

  for (guint i = 0; i < unknown->series->len; i++)
    g_array_index (unknown->series, OgStovePoint, i).viscosity_mpa_s =
      (OgEstimate) { NAN, NAN, NAN };
  og_draw_style_paper (&style);
  a = paint (600, 400, &chart, &style);
  b = paint (600, 400, &without, &style);
  g_assert_cmpuint (test_count_ink (a, test_colour (&style.background)), !=,
                    test_count_ink (b, test_colour (&style.background)));
  words = og_stove_chart_describe (&without);
  g_assert_nonnull (strstr (words, "Its viscosity is unknown."));
  reading = og_stove_chart_read (&without);
  g_assert_cmpstr (reading, ==, "after 6 min: 32 °C, unknown");
  cairo_surface_destroy (a);
  cairo_surface_destroy (b);
}

/* Time runs evenly from the left edge of the panels to the right: 30 minutes lie in the middle. */
static void
test_pick (void)
{
  g_autoptr (OgStovePlan) plan = cooked_new ();
  OgStoveChart chart = { plan, NULL, -1 };
  OgDrawStyle style;
  double left = INFINITY;
  double right = -INFINITY;
  int before = -1;
  int middle;

  og_draw_style_paper (&style);
  for (double x = 0.0; x < 600.0; x += 0.5)
    {
      const int point = og_stove_chart_pick (600, 400, &chart, &style, x, 90.0);

      if (point < 0)
        continue;
      g_assert_cmpint (point, >=, before);
      before = point;
      left = MIN (left, x);
      right = MAX (right, x);
    }
  g_assert_cmpfloat (right - left, >, 400.0);
  g_assert_cmpint (og_stove_chart_pick (600, 400, &chart, &style, left, 90.0), ==, 0);
  g_assert_cmpfloat (g_array_index (plan->series, OgStovePoint, (guint) before).minutes, ==, 60.0);
  middle = og_stove_chart_pick (600, 400, &chart, &style, left + (right - left) * 30.0 / 61.2,
                                90.0);
  g_assert_cmpfloat (g_array_index (plan->series, OgStovePoint, (guint) middle).minutes, ==, 30.0);
}

static void
test_words (void)
{
  g_autoptr (OgStovePlan) plan = cooked_new ();
  OgStoveChart chart = { plan, NULL, 0 };
  g_autofree char *words = og_stove_chart_describe (&chart);
  g_autofree char *reading = og_stove_chart_read (&chart);

  g_assert_nonnull (strstr (words, "from 20 °C up to 80 °C and ends at 40 °C after 60 minutes"));
  g_assert_nonnull (strstr (words, "Step 2 is an addition after 30 minutes; it leaves the pot at "
                                   "74 °C."));
  g_assert_nonnull (strstr (words, "between 40 and 800 mPa·s"));
  g_assert_cmpstr (reading, ==, "after 0 min: 20 °C, 800 mPa·s");
}

/* The plan of a real recipe, as the core makes it. */
static void
test_real_plan (void)
{
  g_autoptr (OgCatalog) catalog = test_catalog_load ();
  g_autoptr (OgFormula) formula = test_recipe_new (catalog);
  g_autoptr (OgResult) result = test_evaluate (formula, catalog);
  g_autoptr (OgStovePlan) plan = NULL;
  OgStoveSetup setup;
  OgStoveChart chart;
  OgDrawStyle style;
  cairo_surface_t *surface;
  g_autofree char *words = NULL;

  og_stove_setup_init (&setup);
  setup.with_series = TRUE;
  plan = og_stove_plan (formula, result, &setup);
  g_assert_cmpuint (plan->series->len, >, 2);
  chart = (OgStoveChart) { plan, result, (int) plan->series->len - 1 };
  og_draw_style_paper (&style);
  surface = paint (700, 460, &chart, &style);
  test_assert_border (surface, 2, test_colour (&style.background));
  words = og_stove_chart_describe (&chart);
  g_assert_nonnull (strstr (words, "The pot goes from"));
  cairo_surface_destroy (surface);
}

int
main (int   argc,
      char *argv[])
{
  setlocale (LC_ALL, "C.UTF-8");
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/stove-chart/labels", test_labels);
  g_test_add_func ("/stove-chart/nothing-to-draw", test_nothing_to_draw);
  g_test_add_func ("/stove-chart/nothing-clips", test_nothing_clips);
  g_test_add_func ("/stove-chart/unknown-viscosity", test_unknown_viscosity);
  g_test_add_func ("/stove-chart/pick", test_pick);
  g_test_add_func ("/stove-chart/words", test_words);
  g_test_add_func ("/stove-chart/real-plan", test_real_plan);

  return g_test_run ();
}
