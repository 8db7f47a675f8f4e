/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <cairo-pdf.h>
#include <locale.h>
#include <math.h>
#include <string.h>
#include <time.h>

#include "fixtures.h"

/* Edges of the plot, found by asking where a reading can be had. */
static void
find_plot (int                width,
           int                height,
           const OgChart     *chart,
           const OgDrawStyle *style,
           double            *left,
           double            *top,
           double            *right,
           double            *bottom)
{
  OgChartReading reading;

  *left = *top = INFINITY;
  *right = *bottom = -INFINITY;
  for (double x = 0; x < width; x += 0.25)
    if (og_chart_pick (width, height, chart, style, x, height / 2.0, &reading))
      {
        *left = MIN (*left, x);
        *right = MAX (*right, x);
      }
  for (double y = 0; y < height; y += 0.25)
    if (og_chart_pick (width, height, chart, style, width / 2.0, y, &reading))
      {
        *top = MIN (*top, y);
        *bottom = MAX (*bottom, y);
      }
  g_assert_cmpfloat (*right - *left, >, width / 2.0);
  g_assert_cmpfloat (*bottom - *top, >, height / 3.0);
}

static void
test_curve_lies_where_it_should (void)
{
  g_autoptr (OgCurve) curve = test_curve_new (OG_CURVE_AGENT_PCT, 61, 0, 6, 10, 1000, 1.0);
  OgChart chart = test_chart (curve);
  OgDrawStyle style;
  cairo_surface_t *surface;
  double left, top, right, bottom;

  og_draw_style_paper (&style);
  surface = test_paint_chart (600, 400, &chart, &style);
  find_plot (600, 400, &chart, &style, &left, &top, &right, &bottom);

  /* 10 ... 1000 mPa.s with a little room becomes 5 ... 2000; 10, 100 and 1000 then lie at these parts of its ln span */
  for (guint i = 0; i < 3; i++)
    {
      double part = log (pow (10, i + 1) / 5) / log (2000.0 / 5);
      double t = i == 0 ? 0.005 : i == 2 ? 0.995 : 0.5;
      int x = (int) lround (left + t * (right - left));
      int y = (int) lround (bottom - part * (bottom - top));
      int nearest = 255;

      for (int dy = -3; dy <= 3; dy++)
        nearest = MIN (nearest,
                       test_difference (test_pixel (surface, x, y + dy), test_colour (&style.accent)));
      g_assert_cmpint (nearest, <, 40);
      /* and not anywhere else in that column */
      for (int dy = 12; dy < 40; dy++)
        g_assert_cmpint (test_difference (test_pixel (surface, x, (int) CLAMP (y - dy, top, bottom)),
                                          test_colour (&style.accent)), >, 40);
    }
  cairo_surface_destroy (surface);
}

static void
test_pick (void)
{
  g_autoptr (OgCurve) curve = test_curve_new (OG_CURVE_AGENT_PCT, 7, 0, 6, 10, 1000, 2.0);
  g_autoptr (OgCurve) shear = test_curve_new (OG_CURVE_SHEAR_RATE_1_S, 6, 0.01, 1000, 50000, 50, 3.0);
  OgChart chart = test_chart (curve), flow = test_chart (shear);
  OgChartReading reading;
  OgDrawStyle style;
  double left, top, right, bottom;

  og_draw_style_paper (&style);
  find_plot (640, 420, &chart, &style, &left, &top, &right, &bottom);
  for (int i = 0; i <= 20; i++)
    {
      double x = left + i / 20.0 * (right - left);

      g_assert_true (og_chart_pick (640, 420, &chart, &style, x, (top + bottom) / 2, &reading));
      g_assert_cmpfloat_with_epsilon (reading.x, 6 * i / 20.0, 0.01);
      /* straight in ln: 10 at 0, 1000 at 6 */
      g_assert_cmpfloat_with_epsilon (log (reading.viscosity.value), log (10) + log (100) * i / 20.0, 0.01);
      g_assert_cmpfloat_with_epsilon (reading.viscosity.high80 / reading.viscosity.value, 2, 1e-9);
      g_assert_cmpfloat_with_epsilon (reading.viscosity.value / reading.viscosity.low80, 2, 1e-9);
    }
  g_assert_false (og_chart_pick (640, 420, &chart, &style, left - 3, (top + bottom) / 2, &reading));
  g_assert_false (og_chart_pick (640, 420, &chart, &style, (left + right) / 2, top - 3, &reading));

  find_plot (640, 420, &flow, &style, &left, &top, &right, &bottom);
  g_assert_true (og_chart_pick (640, 420, &flow, &style, (left + right) / 2, (top + bottom) / 2, &reading));
  g_assert_cmpfloat_with_epsilon (log (reading.x), log (0.01) + log (1e5) / 2, 0.05);
  g_assert_cmpfloat_with_epsilon (log (reading.viscosity.value), (log (50000) + log (50)) / 2, 0.05);
}

static void
test_nothing_clips (void)
{
  static const int sizes[][2] = { { 900, 600 }, { 640, 400 }, { 360, 240 }, { 300, 200 }, { 300, 600 },
                                  { 900, 160 }, { 200, 150 }, { 120, 90 }, { 40, 30 } };
  static const double fonts[] = { 9, 13, 18, 26 };
  g_autoptr (OgCurve) agent = test_curve_new (OG_CURVE_AGENT_PCT, 121, 0, 6, 60, 3e6, 4.0);
  g_autoptr (OgCurve) other = test_curve_new (OG_CURVE_AGENT_PCT, 121, 0, 6, 90, 2e6, 4.0);
  g_autoptr (OgCurve) heat = test_curve_new (OG_CURVE_TEMPERATURE_C, 121, -20, 100, 900, 12, 1.3);
  g_autoptr (OgCurve) shear = test_curve_new (OG_CURVE_SHEAR_RATE_1_S, 121, 0.01, 1000, 4e5, 80, 2.0);
  OgChart charts[4];

  agent->mark_x = 5.97;
  agent->valid_low_x = 0.5;
  agent->valid_high_x = 4;
  test_curve_set_own (agent, 119);
  heat->mark_x = -19.5;
  test_curve_set_own (heat, 0);
  test_curve_set_own (shear, 120);
  charts[0] = test_chart (agent);
  charts[0].target_low_mpa_s = 2e6;
  charts[0].target_high_mpa_s = 4e6;
  charts[0].cursor_x = 5.9;
  charts[0].names[0] = "A recipe whose name goes on and on until nobody can be expected to read it to its end";
  charts[0].names[1] = "Another <b>name</b> & more\nof it";
  charts[0].curves[1] = other;
  charts[0].n_curves = 2;
  charts[1] = test_chart (heat);
  charts[1].cursor_x = -20;
  charts[2] = test_chart (shear);
  charts[3] = test_chart (NULL);
  charts[3].n_curves = 0;

  for (guint c = 0; c < G_N_ELEMENTS (charts); c++)
    for (guint s = 0; s < G_N_ELEMENTS (sizes); s++)
      for (guint k = 0; k < 4 * G_N_ELEMENTS (fonts); k++)
        {
          OgDrawStyle style;
          cairo_surface_t *surface;

          if (k % 2 == 0)
            og_draw_style_paper (&style);
          else
            og_draw_style_dark (&style);
          style.rtl = (k / 2) % 2 == 1;
          style.high_contrast = style.rtl;
          style.font_size = fonts[k / 4];
          surface = test_paint_chart (sizes[s][0], sizes[s][1], &charts[c], &style);
          test_assert_border (surface, 2, test_colour (&style.background));
          if (sizes[s][0] >= 300 && style.font_size < 20)
            g_assert_cmpuint (test_count_ink (surface, test_colour (&style.background)), >, 200);
          cairo_surface_destroy (surface);
        }
}

static void
test_bad_numbers (void)
{
  static const double bad[] = { NAN, INFINITY, -INFINITY, 0, -5, 1e308, 5e-324 };
  OgDrawStyle style;

  og_draw_style_paper (&style);
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    for (guint member = 0; member < 9; member++)
      for (guint stride = 1; stride <= 3; stride += 2)
        {
          g_autoptr (OgCurve) curve = test_curve_new (OG_CURVE_SHEAR_RATE_1_S, 30, 0.01, 1000, 500, 60, 2);
          OgChart chart = test_chart (curve);
          OgChartReading reading;
          cairo_surface_t *surface;
          g_autofree char *sentence = NULL;
          double *members[] = { curve->value, curve->low80, curve->high80, curve->x };

          test_curve_set_own (curve, 10);
          for (guint p = 0; member < 4 && p < curve->n; p += stride)
            members[member][p] = bad[i];
          if (member == 4)
            curve->own.value = bad[i];
          if (member == 5)
            curve->own_x = bad[i];
          if (member == 6)
            curve->mark_x = curve->valid_low_x = curve->valid_high_x = bad[i];
          if (member == 7)
            chart.target_low_mpa_s = chart.target_high_mpa_s = bad[i];
          if (member == 8)
            chart.cursor_x = bad[i];
          surface = test_paint_chart (400, 300, &chart, &style);
          test_assert_border (surface, 2, test_colour (&style.background));
          g_assert_cmpuint (test_count_ink (surface, 0xffffff), >, 200);
          cairo_surface_destroy (surface);

          sentence = og_chart_describe (&chart);
          g_assert_null (strstr (sentence, "nan"));
          g_assert_null (strstr (sentence, "inf"));
          og_chart_pick (400, 300, &chart, &style, 200, 150, &reading);
          og_chart_pick (400, 300, &chart, &style, NAN, INFINITY, &reading);
        }
}

static void
test_odd_sizes (void)
{
  static const double sizes[] = { 0, -5, 0.4, NAN, INFINITY, 1, 7 };
  g_autoptr (OgCurve) curve = test_curve_new (OG_CURVE_AGENT_PCT, 11, 0, 6, 10, 1000, 2.0);
  OgChart chart = test_chart (curve);
  OgDrawStyle style;
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 20, 20);
  cairo_t *cr = cairo_create (surface);
  OgChartReading reading;

  og_draw_style_paper (&style);
  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      og_chart_draw (cr, sizes[i], 20, &chart, &style);
      og_chart_draw (cr, 20, sizes[i], &chart, &style);
      og_profile_chart_draw (cr, sizes[i], 20, NULL, &style);
      g_assert_false (og_chart_pick (sizes[i], 300, &chart, &style, 1, 1, &reading));
    }
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

static void
test_one_point (void)
{
  g_autoptr (OgCurve) curve = test_curve_new (OG_CURVE_TEMPERATURE_C, 1, 25, 25, 60, 60, 1.2);
  OgChart chart = test_chart (curve);
  OgDrawStyle style;
  cairo_surface_t *surface;

  og_draw_style_paper (&style);
  test_curve_set_own (curve, 0);
  surface = test_paint_chart (400, 300, &chart, &style);
  test_assert_border (surface, 2, 0xffffff);
  cairo_surface_destroy (surface);
}

/* text of a chart as a PDF reader finds it; NULL if there is no pdftotext */
static char *
chart_text (const OgChart     *chart,
            const OgDrawStyle *style)
{
  char *folder = test_folder_new ();
  g_autofree char *path = g_build_filename (folder, "chart.pdf", NULL);
  cairo_surface_t *surface = cairo_pdf_surface_create (path, 640, 420);
  cairo_t *cr = cairo_create (surface);
  char *text;

  og_chart_draw (cr, 640, 420, chart, style);
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  g_assert_cmpint (cairo_surface_status (surface), ==, CAIRO_STATUS_SUCCESS);
  cairo_surface_destroy (surface);
  text = test_pdf_to_text (path);
  test_folder_remove (folder);

  return text;
}

static void
test_words (void)
{
  g_autoptr (OgCurve) curve = test_curve_new (OG_CURVE_AGENT_PCT, 61, 0, 6, 65, 6500, 2.0);
  g_autoptr (OgCurve) heat = test_curve_new (OG_CURVE_TEMPERATURE_C, 61, 15, 95, 1300, 20, 2.0);
  OgChart chart = test_chart (curve), warm = test_chart (heat);
  OgDrawStyle style;
  g_autofree char *text = NULL;
  g_autofree char *warm_text = NULL;

  og_draw_style_paper (&style);
  test_curve_set_own (curve, 24);
  curve->mark_x = 4;
  curve->valid_high_x = 5;
  chart.target_low_mpa_s = 300;
  chart.target_high_mpa_s = 1200;
  heat->mark_x = 62;
  text = chart_text (&chart, &style);
  warm_text = chart_text (&warm, &style);
  if (text == NULL)
    {
      g_test_skip ("pdftotext is not installed");
      return;
    }

  /* 65 x 100^0.4 = 410 */
  g_assert_nonnull (strstr (text, "410 mPa·s"));
  g_assert_nonnull (strstr (text, "Viscosity, mPa·s"));
  g_assert_nonnull (strstr (text, "Gelling agent, wt %"));
  g_assert_nonnull (strstr (text, "gel point"));
  g_assert_nonnull (strstr (text, "target 300"));
  g_assert_nonnull (strstr (text, "extrapolated"));
  g_assert_nonnull (strstr (text, "80 % band"));
  g_assert_nonnull (strstr (text, "at 25 °C, when poured"));
  g_assert_nonnull (strstr (warm_text, "sets"));
  g_assert_nonnull (strstr (warm_text, "Temperature, °C"));
  g_assert_null (strstr (warm_text, "extrapolated"));
}

static void
test_missing (void)
{
  g_autoptr (OgCurve) none = test_curve_new (OG_CURVE_AGENT_PCT, 0, 0, 1, 1, 1, 1);
  g_autoptr (OgCurve) unknown = test_curve_new (OG_CURVE_TEMPERATURE_C, 9, 15, 95, NAN, NAN, 1);
  OgChart chart = test_chart (none), blank = test_chart (unknown);
  OgChartReading reading;
  OgDrawStyle style;
  g_autofree char *sentence = og_chart_describe (&chart);
  g_autofree char *other = og_chart_describe (&blank);
  g_autofree char *text = NULL;

  og_draw_style_paper (&style);
  g_assert_nonnull (strstr (sentence, "No gelling agent in this recipe yet."));
  g_assert_nonnull (strstr (other, "No viscosity can be told"));
  g_assert_false (og_chart_pick (400, 300, &chart, &style, 200, 150, &reading));
  g_assert_false (og_chart_pick (400, 300, &blank, &style, 200, 150, &reading));
  text = chart_text (&chart, &style);
  if (text == NULL)
    {
      g_test_skip ("pdftotext is not installed");
      return;
    }
  g_assert_nonnull (strstr (text, "No gelling agent in this recipe yet."));
  g_assert_null (strstr (text, "mPa"));
}

static void
test_overlay_without_own (void)
{
  g_autoptr (OgCurve) none = test_curve_new (OG_CURVE_AGENT_PCT, 0, 0, 1, 1, 1, 1);
  g_autoptr (OgCurve) other = test_curve_new (OG_CURVE_AGENT_PCT, 61, 0, 6, 65, 6500, 2.0);
  OgChart chart = test_chart (none);
  OgDrawStyle style;
  g_autofree char *text = NULL;

  og_draw_style_paper (&style);
  chart.curves[1] = other;
  chart.names[1] = "Winter version";
  chart.n_curves = 2;
  text = chart_text (&chart, &style);
  if (text == NULL)
    {
      g_test_skip ("pdftotext is not installed");
      return;
    }
  g_assert_nonnull (strstr (text, "Winter version"));
  g_assert_nonnull (strstr (text, "No gelling agent in this recipe yet."));
}

static void
test_describe (void)
{
  g_autoptr (OgCurve) curve = test_curve_new (OG_CURVE_AGENT_PCT, 61, 0, 6, 65, 6500, 2.0);
  OgChart chart = test_chart (curve);
  g_autofree char *sentence = NULL;

  test_curve_set_own (curve, 24);
  curve->mark_x = 4;
  chart.n_curves = 2;
  chart.curves[1] = curve;
  chart.names[1] = "First trial";
  sentence = og_chart_describe (&chart);
  g_assert_cmpstr (sentence, ==,
                   "Viscosity against the share of the gelling agent, from 0 wt % to 6 wt %. "
                   "This recipe lies at 2.4 wt % and has about 410 mPa·s, 80 % between 210 and 820. "
                   "The gel point lies at 4 wt %. Beside it is drawn: First trial.");
}

static void
test_profile_bar (void)
{
  /* castor oil, rounded typical profile (handbook figures, recalled) */
  g_autoptr (OgProfile) profile = og_profile_parse ("C16:0=1.2,C18:0=1,C18:1=3.6,C18:2=4.7,C18:1-OH=89.5", NULL);
  g_autoptr (OgProfile) empty = og_profile_new ();
  g_autofree char *sentence = NULL;
  g_autofree char *nothing = og_profile_chart_describe (empty);
  OgDrawStyle style;
  cairo_surface_t *surface;
  cairo_t *cr;
  double height;
  guint32 first, last;

  g_assert_nonnull (profile);
  og_draw_style_paper (&style);
  sentence = og_profile_chart_describe (profile);
  g_assert_nonnull (strstr (sentence, "90"));
  g_assert_cmpstr (nothing, ==, "No fatty acids on record.");

  height = og_profile_chart_height (260, profile, &style);
  g_assert_cmpfloat (height, >, 30);
  g_assert_cmpfloat (height, <, 120);
  surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 260, (int) ceil (height));
  cr = cairo_create (surface);
  og_profile_chart_draw (cr, 260, ceil (height), profile, &style);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  /* the bar fills the whole width, and its ends are of different classes */
  first = test_pixel (surface, 2, 4);
  last = test_pixel (surface, 257, 4);
  g_assert_cmpuint (first, !=, 0xffffff);
  g_assert_cmpuint (last, !=, 0xffffff);
  g_assert_cmpint (test_difference (first, last), >, 20);
  cairo_surface_destroy (surface);
}

/* rows in which a pixel beside @x is nearly as dark as text */
static int
count_dark (cairo_surface_t   *surface,
            double             x,
            double             top,
            double             bottom,
            const OgDrawStyle *style)
{
  int rows = 0;

  for (int y = (int) top + 2; y < (int) bottom - 1; y++)
    {
      int nearest = 255;

      for (int dx = -1; dx <= 1; dx++)
        nearest = MIN (nearest, test_difference (test_pixel (surface, (int) x + dx, y),
                                                 test_colour (&style->foreground)));
      rows += nearest < 130 ? 1 : 0;
    }

  return rows;
}

/* A recipe with readings: the earlier band, those readings taken as the curve was, and the clearing point are shown. */
static void
test_readings (void)
{
  static const OgMark readings[] = {
    { NULL, 25, 10, 2.4, 700, 0.1 },
    { NULL, 25, NAN, 0, 70, NAN },
    { NULL, 40, 10, 2.4, 9e5, 0.1 },    /* too warm for this axis */
    { NULL, 25, 1000, 2.4, 9e5, 0.1 },  /* stirred too fast */
    { NULL, 25, 10, 1.0, NAN, 0.1 },
    { NULL, NAN, INFINITY, NAN, 0, NAN },
  };
  g_autoptr (OgCurve) curve = test_curve_new (OG_CURVE_AGENT_PCT, 61, 0, 6, 65, 6500, 2.0);
  g_autoptr (OgCurve) heat = test_curve_new (OG_CURVE_TEMPERATURE_C, 61, 15, 95, 1300, 20, 2.0);
  g_autoptr (GArray) marks = g_array_new (FALSE, FALSE, sizeof (OgMark));
  OgChart chart = test_chart (curve), without = test_chart (curve), warm = test_chart (heat);
  OgDrawStyle style;
  cairo_surface_t *surface;
  double left, top, right, bottom;
  double left_without, top_without, right_without, bottom_without;
  g_autofree char *sentence = NULL;
  g_autofree char *text = NULL;
  g_autofree char *warm_text = NULL;

  og_draw_style_paper (&style);
  g_array_append_vals (marks, readings, G_N_ELEMENTS (readings));
  chart.marks = warm.marks = marks;
  chart.marks_agent_pct = warm.marks_agent_pct = 2.4;
  curve->prior_low80 = g_new (double, curve->n);
  curve->prior_high80 = g_new (double, curve->n);
  for (guint i = 0; i < curve->n; i++)
    {
      curve->prior_low80[i] = curve->value[i] / 4;
      curve->prior_high80[i] = i == 7 ? NAN : curve->value[i] * 4;
    }
  heat->clear_x = 80;

  /* the two that fit lie within the axis already; the others must not widen it */
  find_plot (640, 420, &chart, &style, &left, &top, &right, &bottom);
  find_plot (640, 420, &without, &style, &left_without, &top_without, &right_without, &bottom_without);
  g_assert_cmpfloat (left, ==, left_without);

  surface = test_paint_chart (640, 420, &chart, &style);
  test_assert_border (surface, 2, 0xffffff);
  g_assert_cmpint (count_dark (surface, left + 0.4 * (right - left), top, bottom, &style), >, 9);
  g_assert_cmpint (count_dark (surface, left + 0.55 * (right - left), top, bottom, &style), <, 7);
  cairo_surface_destroy (surface);

  sentence = og_chart_describe (&chart);
  g_assert_nonnull (strstr (sentence, "Bench readings are marked."));
  text = chart_text (&chart, &style);
  warm_text = chart_text (&warm, &style);
  if (text == NULL)
    {
      g_test_skip ("pdftotext is not installed");
      return;
    }
  g_assert_nonnull (strstr (text, "measured"));
  g_assert_nonnull (strstr (text, "before measuring"));
  g_assert_nonnull (strstr (warm_text, "clears"));
  g_assert_nonnull (strstr (warm_text, "measured"));
  g_assert_null (strstr (warm_text, "before measuring"));
}

/* ISO 2431, 6 mm, recalled: nu = 6.90 t - 570 / t, so 30 ... 100 s are 188 ... 684 mm2/s. */
static void
test_cup (void)
{
  static const OgCup wide = OG_CUP_ISO_6, narrow = OG_CUP_ISO_3;
  g_autoptr (OgCurve) curve = test_curve_new (OG_CURVE_AGENT_PCT, 61, 0, 6, 65, 6500, 2.0);
  OgChart chart = test_chart (curve), without = test_chart (curve);
  OgDrawStyle style;
  double left, top, right, bottom;
  double left_without, top_without, right_without, bottom_without;
  g_autofree char *sentence = NULL;
  g_autofree char *outside = NULL;
  g_autofree char *text = NULL;
  g_autofree char *unknown = NULL;
  g_autofree char *plain = NULL;

  og_draw_style_paper (&style);
  test_curve_set_own (curve, 20);
  chart.cup = &wide;
  chart.density_g_ml = 0.93;
  find_plot (640, 420, &chart, &style, &left, &top, &right, &bottom);
  find_plot (640, 420, &without, &style, &left_without, &top_without, &right_without,
             &bottom_without);
  g_assert_cmpfloat (right, <, right_without);
  g_assert_cmpfloat (top, >, top_without);
  g_assert_cmpfloat (left, ==, left_without);

  sentence = og_chart_describe (&chart);
  g_assert_nonnull (strstr (sentence, "That is 49 s in the ISO 2431 cup, 6 mm."));
  text = chart_text (&chart, &style);
  plain = chart_text (&without, &style);
  chart.cup = &narrow; /* 7 ... 42 mm2/s */
  outside = og_chart_describe (&chart);
  g_assert_nonnull (strstr (outside, "It lies outside the range of the ISO 2431 cup, 3 mm."));
  chart.density_g_ml = NAN;
  unknown = chart_text (&chart, &style);
  if (text == NULL)
    {
      g_test_skip ("pdftotext is not installed");
      return;
    }
  g_assert_nonnull (strstr (text, "right: s, ISO 2431 cup, 6 mm"));
  g_assert_nonnull (strstr (text, "50"));
  g_assert_null (strstr (plain, "50"));
  g_assert_nonnull (strstr (unknown, "density unknown"));
}

static int
compare_times (gconstpointer a,
               gconstpointer b)
{
  gint64 x = *(const gint64 *) a, y = *(const gint64 *) b;

  return (x > y) - (x < y);
}

/* processor time, so that other programs do not count */
static gint64
cpu_time_us (void)
{
  struct timespec now;

  g_assert_cmpint (clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &now), ==, 0);
  return now.tv_sec * G_USEC_PER_SEC + now.tv_nsec / 1000;
}

static void
test_repaint_time (void)
{
  OgCurve *curves[OG_CHART_MAX_CURVES];
  OgChart chart = test_chart (NULL);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 900, 600);
  cairo_t *cr = cairo_create (surface);
  gint64 times[101];
  OgDrawStyle style;

  og_draw_style_paper (&style);
  chart.n_curves = OG_CHART_MAX_CURVES;
  for (guint i = 0; i < OG_CHART_MAX_CURVES; i++)
    {
      curves[i] = test_curve_new (OG_CURVE_AGENT_PCT, 500, 0, 6, 40 + 20 * i, 1e4 + 9e3 * i, 2.5);
      for (guint p = 0; p < curves[i]->n; p++)
        curves[i]->value[p] *= 1 + 0.3 * sin (curves[i]->x[p] * 2 + i);
      chart.curves[i] = curves[i];
      chart.names[i] = "Harbour version";
    }
  test_curve_set_own (curves[0], 200);
  chart.target_low_mpa_s = 300;
  chart.target_high_mpa_s = 1200;

  for (guint i = 0; i < G_N_ELEMENTS (times); i++)
    {
      gint64 start = cpu_time_us ();

      og_chart_draw (cr, 900, 600, &chart, &style);
      times[i] = cpu_time_us () - start;
    }
  qsort (times, G_N_ELEMENTS (times), sizeof times[0], compare_times);
  g_test_minimized_result (times[50] / 1e3, "chart 900 x 600, 5 curves of 500 points: median %.2f ms",
                           times[50] / 1e3);
#if !defined(__SANITIZE_ADDRESS__)
  /* budget 3 ms; three times that leaves room for a slow machine */
  g_assert_cmpint (times[50], <=, 9000);
#endif

  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  for (guint i = 0; i < OG_CHART_MAX_CURVES; i++)
    test_curve_free (curves[i]);
}

int
main (int   argc,
      char *argv[])
{
  setlocale (LC_ALL, "C.UTF-8");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chart/curve-lies-where-it-should", test_curve_lies_where_it_should);
  g_test_add_func ("/chart/pick", test_pick);
  g_test_add_func ("/chart/nothing-clips", test_nothing_clips);
  g_test_add_func ("/chart/bad-numbers", test_bad_numbers);
  g_test_add_func ("/chart/odd-sizes", test_odd_sizes);
  g_test_add_func ("/chart/one-point", test_one_point);
  g_test_add_func ("/chart/words", test_words);
  g_test_add_func ("/chart/missing", test_missing);
  g_test_add_func ("/chart/overlay-without-own", test_overlay_without_own);
  g_test_add_func ("/chart/describe", test_describe);
  g_test_add_func ("/chart/readings", test_readings);
  g_test_add_func ("/chart/cup", test_cup);
  g_test_add_func ("/profile-chart/bar", test_profile_bar);
  g_test_add_func ("/chart/repaint-time", test_repaint_time);

  return g_test_run ();
}
