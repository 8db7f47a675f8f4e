/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "draw/lever-chart.h"
#include "fixtures.h"

#define WIDTH 300

static const OgLeverBar bars[] = {
  { "Alpha", 20.0, 20.0 },
  { "Beta", 10.0, 10.0 },
  { "Gamma", -20.0, -20.0 },
  { "Delta", NAN, NAN },
  { "Epsilon", -10.0, 20.0 },
};

static const OgLeverChart chart = { "What moves it", bars, G_N_ELEMENTS (bars) };

static cairo_surface_t *
paint (const OgLeverChart *what,
       const OgDrawStyle  *style)
{
  const double height = og_lever_chart_height (what, style);
  cairo_surface_t *surface =
    cairo_image_surface_create (CAIRO_FORMAT_RGB24, WIDTH, (int) ceil (height));
  cairo_t *cr = cairo_create (surface);

  og_lever_chart_draw (cr, WIDTH, ceil (height), what, style);
  cairo_destroy (cr);
  return surface;
}

/* Pixels of the bar of row @row, from the first to the last that is clearly coloured; the rule
 * through it and the mark at 0 are thinner than what is looked at. */
static guint
measure_bar (cairo_surface_t   *surface,
             const OgDrawStyle *style,
             guint              row,
             int               *start)
{
  const double height = og_lever_chart_height (&chart, style) / G_N_ELEMENTS (bars);
  const int y = (int) ((row + 0.62) * height); /* in the upper half of the bar, clear of the text */
  const guint32 ground = test_colour (&style->background);
  int first = -1;
  int last = -1;

  for (int x = 0; x + 1 < WIDTH; x++)
    {
      if (test_difference (test_pixel (surface, x, y), ground) > 60
          && test_difference (test_pixel (surface, x + 1, y), ground) > 60)
        {
          first = first < 0 ? x : first;
          last = x + 1;
        }
    }
  *start = first;
  return first < 0 ? 0 : (guint) (last - first + 1);
}

static void
test_bars (gconstpointer rtl)
{
  OgDrawStyle style;
  cairo_surface_t *surface;
  int alpha_start;
  int beta_start;
  int gamma_start;
  int start;

  og_draw_style_paper (&style);
  style.font_size = 16;
  style.rtl = GPOINTER_TO_INT (rtl);
  surface = paint (&chart, &style);
  /* the scale runs from -20 to 20 %, so that 20 % are half the width */
  g_assert_cmpfloat_with_epsilon (measure_bar (surface, &style, 0, &alpha_start), WIDTH / 2.0, 4);
  g_assert_cmpfloat_with_epsilon (measure_bar (surface, &style, 1, &beta_start), WIDTH / 4.0, 4);
  g_assert_cmpfloat_with_epsilon (measure_bar (surface, &style, 2, &gamma_start), WIDTH / 2.0, 6);
  /* less is to the left of 0 in either direction of reading: the axis is not mirrored */
  g_assert_cmpint (abs (alpha_start - WIDTH / 2), <=, 3);
  g_assert_cmpint (abs (beta_start - WIDTH / 2), <=, 3);
  g_assert_cmpint (gamma_start, <=, 3);
  g_assert_cmpfloat_with_epsilon (measure_bar (surface, &style, 4, &start), WIDTH * 0.75, 6.0);
  g_assert_cmpint (measure_bar (surface, &style, 3, &start), <=, 3);
  cairo_surface_destroy (surface);
}

/* Less is told from more without colour too: its bar has a pattern, so that its tones vary. */
static void
test_pattern (void)
{
  OgDrawStyle style;
  cairo_surface_t *surface;
  double row;
  int changes[2] = { 0, 0 };

  og_draw_style_paper (&style);
  style.font_size = 16;
  surface = paint (&chart, &style);
  row = og_lever_chart_height (&chart, &style) / G_N_ELEMENTS (bars);
  for (int x = 10; x < WIDTH / 2 - 10; x++)
    {
      const guint32 more = test_pixel (surface, x + WIDTH / 2, (int) (0.62 * row));
      const guint32 more_next = test_pixel (surface, x + 1 + WIDTH / 2, (int) (0.62 * row));
      const guint32 less = test_pixel (surface, x, (int) (2.62 * row));
      const guint32 less_next = test_pixel (surface, x + 1, (int) (2.62 * row));

      changes[0] += test_difference (more, more_next) > 20;
      changes[1] += test_difference (less, less_next) > 20;
    }
  g_assert_cmpint (changes[0], ==, 0);
  g_assert_cmpint (changes[1], >, 20);
  cairo_surface_destroy (surface);
}

static void
test_words (void)
{
  const OgLeverChart none = { "What moves it", NULL, 0 };
  g_autofree char *text = og_lever_chart_describe (&chart);
  g_autofree char *nothing = og_lever_chart_describe (&none);

  g_assert_cmpstr (nothing, ==, "What moves it");
  g_assert_cmpstr (text, ==, "What moves it. Alpha: +20 %; Beta: +10 %; Gamma: −20 %; "
                             "Delta: unknown; Epsilon: −10 % to +20 %.");
}

static void
test_height (void)
{
  const OgLeverChart none = { "Nothing", NULL, 0 };
  OgLeverChart two = chart;
  OgDrawStyle style;

  two.n_bars = 2;
  og_draw_style_dark (&style);
  g_assert_cmpfloat (og_lever_chart_height (&none, &style), ==, 0.0);
  g_assert_cmpfloat_with_epsilon (og_lever_chart_height (&chart, &style) / G_N_ELEMENTS (bars),
                                  og_lever_chart_height (&two, &style) / 2.0, 1e-9);
}

/* Sizes and numbers that no window should ask for. */
static void
test_odd (void)
{
  const OgLeverBar odd[] = {
    { "\xff not UTF-8", 1e300, 1e300 },
    { "<b>markup</b>", 0.0, 0.0 },
    { "", INFINITY, INFINITY },
    { "A name that is much longer than any panel is wide, and then a little longer still", 1, 1 },
  };
  const OgLeverChart strange = { "Odd", odd, G_N_ELEMENTS (odd) };
  OgDrawStyle style;
  cairo_surface_t *surface;
  cairo_t *cr;

  og_draw_style_paper (&style);
  surface = paint (&strange, &style);
  cr = cairo_create (surface);
  og_lever_chart_draw (cr, 0, 10, &strange, &style);
  og_lever_chart_draw (cr, NAN, 10, &strange, &style);
  og_lever_chart_draw (cr, 3, 3, &strange, &style);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_data_func ("/lever-chart/bars", GINT_TO_POINTER (FALSE), test_bars);
  g_test_add_data_func ("/lever-chart/bars-rtl", GINT_TO_POINTER (TRUE), test_bars);
  g_test_add_func ("/lever-chart/pattern", test_pattern);
  g_test_add_func ("/lever-chart/words", test_words);
  g_test_add_func ("/lever-chart/height", test_height);
  g_test_add_func ("/lever-chart/odd", test_odd);

  return g_test_run ();
}
