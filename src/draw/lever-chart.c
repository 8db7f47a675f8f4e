/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/lever-chart.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/number-text.h"
#include "draw/paint.h"

#define TEXT_LINES 1.15
#define BAR_LINES 0.6
#define GAP_LINES 0.55
#define COLUMN_GAP 12.0
#define LEAST_BAR 2.0
#define LEFT_TO_RIGHT_MARK "\u200e"
#define NONE_PCT 0.05 /* a change that rounds to nothing */

typedef struct
{
  double low, high; /* % at both ends of the scale */
  double x, width;
} Scale;

static gboolean
is_known (const OgLeverBar *bar)
{
  return isfinite (bar->low_pct) && isfinite (bar->high_pct);
}

static char *
signed_text (double pct)
{
  g_autofree char *number =
    fabs (pct) < NONE_PCT ? g_strdup ("0") : og_number_significant (fabs (pct), 2);

  if (fabs (pct) < NONE_PCT)
    return g_strdup_printf (_("%s %%"), number);
  /* Translators: a change to less or to more; the minus sign is a true one */
  return pct < 0 ? g_strdup_printf (_("−%s %%"), number) : g_strdup_printf (_("+%s %%"), number);
}

static char *
bar_text (const OgLeverBar *bar)
{
  g_autofree char *low = NULL;
  g_autofree char *high = NULL;

  if (!is_known (bar))
    return g_strdup (_("unknown"));
  low = signed_text (bar->low_pct);
  if (bar->low_pct == bar->high_pct)
    return g_steal_pointer (&low);
  high = signed_text (bar->high_pct);
  /* Translators: a range of changes, "−4 % to +5 %" */
  return g_strdup_printf (_("%s to %s"), low, high);
}

static double
scale_x (const Scale *scale,
         double       pct)
{
  return scale->x + scale->width * (pct - scale->low) / (scale->high - scale->low);
}

static void
scale_init (Scale              *scale,
            const OgLeverChart *chart,
            double              width)
{
  *scale = (Scale) { .width = width };
  for (guint i = 0; i < chart->n_bars; i++)
    if (is_known (&chart->bars[i]))
      {
        scale->low = MIN (scale->low, chart->bars[i].low_pct);
        scale->high = MAX (scale->high, chart->bars[i].high_pct);
      }
  if (!(scale->high > scale->low))
    scale->high = scale->low + 1;
}

static void
fill_bar (cairo_t           *cr,
          const OgRect      *rect,
          gboolean           thinner,
          const OgDrawStyle *style)
{
  og_set_colour (cr, thinner ? &style->series[1] : &style->accent, 0.85);
  cairo_rectangle (cr, rect->x, rect->y, rect->width, rect->height);
  cairo_fill (cr);
  if (thinner)
    {
      og_set_colour (cr, &style->background, style->high_contrast ? 0.95 : 0.6);
      cairo_set_line_width (cr, 1);
      og_draw_hatch (cr, rect, 4, -1);
    }
  if (!style->high_contrast)
    return;
  og_set_colour (cr, &style->foreground, 1);
  cairo_set_line_width (cr, 1);
  cairo_rectangle (cr, rect->x + 0.5, rect->y + 0.5, rect->width - 1, rect->height - 1);
  cairo_stroke (cr);
}

/* What lies on one side of 0. */
static void
draw_part (cairo_t           *cr,
           const Scale       *scale,
           double             from_pct,
           double             to_pct,
           double             y,
           double             height,
           const OgDrawStyle *style)
{
  const gboolean thinner = from_pct < 0;
  const double start = scale_x (scale, from_pct);
  const double width = MAX (scale_x (scale, to_pct) - start, LEAST_BAR);
  const double x = CLAMP (thinner ? scale_x (scale, to_pct) - width : start,
                          scale->x, scale->x + scale->width - width);

  if (to_pct - from_pct < NONE_PCT)
    return;
  fill_bar (cr, &(OgRect) { x, y, width, height }, thinner, style);
}

static void
draw_track (cairo_t           *cr,
            const Scale       *scale,
            const OgLeverBar  *bar,
            double             y,
            double             height,
            const OgDrawStyle *style)
{
  og_set_colour (cr, &style->grid, style->high_contrast ? 1 : 0.5);
  cairo_rectangle (cr, scale->x, y + height / 2 - 0.5, scale->width, 1);
  cairo_fill (cr);
  if (is_known (bar))
    {
      draw_part (cr, scale, MIN (bar->low_pct, 0), MIN (bar->high_pct, 0), y, height, style);
      draw_part (cr, scale, MAX (bar->low_pct, 0), MAX (bar->high_pct, 0), y, height, style);
    }
  og_set_colour (cr, &style->foreground, 0.8);
  cairo_rectangle (cr, CLAMP (scale_x (scale, 0) - 0.5, 0, scale->x + scale->width - 1), y - 2, 1,
                   height + 4);
  cairo_fill (cr);
}

/* A bar tells one value from 0, or the range between two. */
static OgLeverBar
drawn_bar (const OgLeverBar *bar)
{
  if (bar->low_pct != bar->high_pct)
    return *bar;
  return (OgLeverBar) { bar->name, MIN (bar->low_pct, 0), MAX (bar->high_pct, 0) };
}

static void
draw_words (cairo_t           *cr,
            PangoContext      *context,
            double             width,
            double             y,
            const OgLeverBar  *bar,
            const OgDrawStyle *style)
{
  g_autofree char *number = bar_text (bar);
  /* the sign stays before its number, whatever direction the words around it read */
  g_autofree char *text = g_strconcat (is_known (bar) ? LEFT_TO_RIGHT_MARK : "", number, NULL);
  g_autoptr (PangoLayout) value = og_text_layout_new (context, style, text, 1, PANGO_WEIGHT_NORMAL);
  g_autoptr (PangoLayout) name =
    og_text_layout_new (context, style, bar->name, 1, PANGO_WEIGHT_NORMAL);
  double value_width;
  double name_width;
  double room;

  og_text_get_size (value, &value_width, NULL);
  og_text_get_size (name, &name_width, NULL);
  room = MAX (width - value_width - COLUMN_GAP, 0);
  if (name_width > room)
    {
      og_text_set_width (name, room, TRUE);
      name_width = room;
    }
  og_set_colour (cr, &style->foreground, 1);
  og_text_draw (cr, name, style->rtl ? width - name_width : 0, y);
  if (!is_known (bar))
    og_set_colour (cr, &style->dim, 1);
  og_text_draw (cr, value, style->rtl ? 0 : width - value_width, y);
}

void
og_lever_chart_draw (cairo_t            *cr,
                     double              width,
                     double              height,
                     const OgLeverChart *chart,
                     const OgDrawStyle  *style)
{
  PangoContext *context;
  Scale scale;
  double line;
  double y = 0;

  g_return_if_fail (cr != NULL && chart != NULL && style != NULL);

  if (!(width >= 1) || !(height >= 1) || !isfinite (width) || !isfinite (height))
    return;

  context = og_text_context_new (cr, style);
  line = og_text_line_height (context, style, 1);
  scale_init (&scale, chart, width);
  cairo_save (cr);
  cairo_rectangle (cr, 0, 0, width, height);
  cairo_clip (cr);
  og_set_colour (cr, &style->background, 1);
  cairo_paint (cr);
  for (guint i = 0; i < chart->n_bars && y < height; i++)
    {
      const OgLeverBar bar = drawn_bar (&chart->bars[i]);

      draw_words (cr, context, width, y, &chart->bars[i], style);
      draw_track (cr, &scale, &bar, y + TEXT_LINES * line, BAR_LINES * line, style);
      y += (TEXT_LINES + BAR_LINES + GAP_LINES) * line;
    }
  cairo_restore (cr);
  g_object_unref (context);
}

double
og_lever_chart_height (const OgLeverChart *chart,
                       const OgDrawStyle  *style)
{
  PangoContext *context;
  double line;

  g_return_val_if_fail (chart != NULL && style != NULL, 0);

  context = og_text_context_new (NULL, style);
  line = og_text_line_height (context, style, 1);
  g_object_unref (context);
  return chart->n_bars * (TEXT_LINES + BAR_LINES + GAP_LINES) * line;
}

char *
og_lever_chart_describe (const OgLeverChart *chart)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *list = NULL;

  g_return_val_if_fail (chart != NULL, NULL);

  if (chart->n_bars == 0)
    return g_strdup (chart->title);
  for (guint i = 0; i < chart->n_bars; i++)
    {
      g_autofree char *text = bar_text (&chart->bars[i]);

      /* Translators: a material and what it does, "Castor oil: +2 %" */
      g_ptr_array_add (parts, g_strdup_printf (_("%s: %s"), chart->bars[i].name, text));
    }
  g_ptr_array_add (parts, NULL);
  list = g_strjoinv ("; ", (char **) parts->pdata);
  /* Translators: what is shown, then all of it in one line */
  return g_strdup_printf (_("%s. %s."), chart->title, list);
}
