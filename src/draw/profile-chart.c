/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/chart.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/number-text.h"
#include "draw/paint.h"

#define SMALLEST_SHOWN_PCT 0.05
#define LARGEST_PCT 1e6 /* of a profile that was never normalised */
#define BAR_LINES 1.5
#define GAP_LINES 0.5
#define SWATCH 10.0
#define COLUMN_GAP 14.0

typedef struct
{
  OgAcidClass acid_class;
  double      pct;
} Share;

static gboolean
is_share (double pct)
{
  return pct > 0 && pct <= LARGEST_PCT;
}

/* from the stiff to the fluid: saturated acids, then by double bonds, hydroxy acids last */
static guint
collect_shares (const OgProfile *profile,
                Share            shares[OG_N_ACID_CLASSES])
{
  double pct[OG_N_ACID_CLASSES] = { 0 };
  double sum = 0;
  guint n = 0;

  if (profile == NULL)
    return 0;

  og_profile_class_shares (profile, pct);
  for (guint i = 0; i < OG_N_ACID_CLASSES; i++)
    if (is_share (pct[i]))
      sum += pct[i];
  for (guint i = 0; i < OG_N_ACID_CLASSES; i++)
    if (is_share (pct[i]) && 100 * pct[i] / sum >= SMALLEST_SHOWN_PCT)
      shares[n++] = (Share) { (OgAcidClass) i, 100 * pct[i] / sum };

  return n;
}

static char *
share_text (const Share *share)
{
  g_autofree char *number = og_number_trimmed (share->pct, share->pct < 10 ? 1 : 0);

  /* Translators: a class of fatty acids and its share */
  return g_strdup_printf (_("%s %s %%"), og_acid_class_get_name (share->acid_class), number);
}

static void
fill_class (cairo_t           *cr,
            const OgRect      *box,
            OgAcidClass        acid_class,
            const OgDrawStyle *style)
{
  /* each class has its own tone and its own pattern: hatch slope and spacing */
  static const struct
  {
    guint  series;
    double tone;
    int    slopes;  /* 0 plain, 1, -1, 2 crossed */
    double spacing;
  } looks[OG_N_ACID_CLASSES] = {
    [OG_ACID_CLASS_SHORT_SATURATED] = { 3, 0.45, 1, 3 },
    [OG_ACID_CLASS_SATURATED] = { 4, 0.75, 0, 0 },
    [OG_ACID_CLASS_MONOUNSATURATED] = { 0, 0.75, 1, 6 },
    [OG_ACID_CLASS_DIUNSATURATED] = { 1, 0.65, -1, 6 },
    [OG_ACID_CLASS_POLYUNSATURATED] = { 2, 0.6, 2, 5 },
    [OG_ACID_CLASS_HYDROXY] = { 3, 0.7, -1, 3 },
  };

  og_set_colour (cr, og_series_colour (style, looks[acid_class].series), looks[acid_class].tone);
  cairo_rectangle (cr, box->x, box->y, box->width, box->height);
  cairo_fill (cr);

  if (looks[acid_class].slopes == 0)
    return;
  og_set_colour (cr, &style->background, style->high_contrast ? 0.95 : 0.6);
  cairo_set_line_width (cr, 1);
  og_draw_hatch (cr, box, looks[acid_class].spacing, looks[acid_class].slopes == -1 ? -1 : 1);
  if (looks[acid_class].slopes == 2)
    og_draw_hatch (cr, box, looks[acid_class].spacing, -1);
}

static void
draw_bar (cairo_t           *cr,
          const OgRect      *bar,
          const Share       *shares,
          guint              n,
          const OgDrawStyle *style)
{
  double start = 0;

  for (guint i = 0; i < n; i++)
    {
      double width = bar->width * shares[i].pct / 100;
      double gap = i + 1 < n ? MIN (1, width / 3) : 0;
      double x = style->rtl ? bar->x + bar->width - start - width + gap : bar->x + start;

      fill_class (cr, &(OgRect) { x, bar->y, width - gap, bar->height }, shares[i].acid_class, style);
      start += width;
    }
}

/* One line per class, in as many columns as fit. */
typedef struct
{
  PangoLayout *layouts[OG_N_ACID_CLASSES];
  guint        n, columns, rows;
  double       entry_width, column_width;
  double       line, row_height;
} Legend;

static void
legend_init (Legend            *legend,
             PangoContext      *context,
             double             width,
             const Share       *shares,
             guint              n,
             const OgDrawStyle *style)
{
  *legend = (Legend) { .n = n };
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *text = share_text (&shares[i]);
      double text_width;

      legend->layouts[i] = og_text_layout_new (context, style, text, 1, PANGO_WEIGHT_NORMAL);
      og_text_get_size (legend->layouts[i], &text_width, NULL);
      legend->entry_width = MAX (legend->entry_width, text_width + SWATCH + 6);
    }
  legend->columns = (guint) CLAMP ((width + COLUMN_GAP) / (legend->entry_width + COLUMN_GAP), 1, 3);
  legend->rows = (n + legend->columns - 1) / legend->columns;
  legend->entry_width = MIN (legend->entry_width, width);
  legend->column_width = legend->entry_width + COLUMN_GAP;
  legend->line = og_text_line_height (context, style, 1);
  legend->row_height = 1.15 * legend->line;
}

static void
legend_clear (Legend *legend)
{
  for (guint i = 0; i < legend->n; i++)
    g_clear_object (&legend->layouts[i]);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Legend, legend_clear)

/* Ends before an entry would leave @area. */
static void
draw_legend (cairo_t           *cr,
             Legend            *legend,
             const OgRect      *area,
             const Share       *shares,
             const OgDrawStyle *style)
{
  double text_room = legend->entry_width - SWATCH - 6;

  for (guint i = 0; i < legend->n; i++)
    {
      double x = area->x + (i % legend->columns) * legend->column_width;
      double y = area->y + (i / legend->columns) * legend->row_height;
      double width;

      if (y + legend->line > area->y + area->height + 0.5)
        return;

      og_text_get_size (legend->layouts[i], &width, NULL);
      if (width > text_room)
        {
          og_text_set_width (legend->layouts[i], text_room, TRUE);
          width = text_room;
        }
      if (style->rtl)
        x = 2 * area->x + area->width - x - SWATCH;
      fill_class (cr, &(OgRect) { x, y + (legend->line - SWATCH) / 2, SWATCH, SWATCH },
                  shares[i].acid_class, style);
      og_set_colour (cr, &style->foreground, 1);
      og_text_draw (cr, legend->layouts[i], style->rtl ? x - 6 - width : x + SWATCH + 6, y);
    }
}

static void
draw_sentence (cairo_t           *cr,
               PangoContext      *context,
               double             width,
               double             height,
               const char        *text,
               const OgDrawStyle *style)
{
  g_autoptr (PangoLayout) layout = og_text_layout_new (context, style, text, 1, PANGO_WEIGHT_NORMAL);
  double text_height;

  og_text_set_width (layout, width, FALSE);
  og_text_get_size (layout, NULL, &text_height);
  og_set_colour (cr, &style->dim, 1);
  og_text_draw (cr, layout, 0, MAX (0, (height - text_height) / 2));
}

void
og_profile_chart_draw (cairo_t           *cr,
                       double             width,
                       double             height,
                       const OgProfile   *profile,
                       const OgDrawStyle *style)
{
  PangoContext *context;
  Share shares[OG_N_ACID_CLASSES];
  guint n;

  g_return_if_fail (cr != NULL && style != NULL);

  if (!(width >= 1) || !(height >= 1) || !isfinite (width) || !isfinite (height))
    return;

  context = og_text_context_new (cr, style);
  n = collect_shares (profile, shares);
  cairo_save (cr);
  cairo_rectangle (cr, 0, 0, width, height);
  cairo_clip (cr);
  og_set_colour (cr, &style->background, 1);
  cairo_paint (cr);
  if (n == 0)
    draw_sentence (cr, context, width, height, _("No fatty acids on record."), style);
  else
    {
      g_auto (Legend) legend = { 0 };
      double bar_height, below;

      legend_init (&legend, context, width, shares, n, style);
      bar_height = MIN (BAR_LINES * legend.line, height);
      below = bar_height + GAP_LINES * legend.line;
      draw_bar (cr, &(OgRect) { 0, 0, width, bar_height }, shares, n, style);
      draw_legend (cr, &legend, &(OgRect) { 0, below, width, height - below }, shares, style);
    }
  cairo_restore (cr);
  g_object_unref (context);
}

double
og_profile_chart_height (double             width,
                         const OgProfile   *profile,
                         const OgDrawStyle *style)
{
  PangoContext *context;
  g_auto (Legend) legend = { 0 };
  Share shares[OG_N_ACID_CLASSES];
  guint n;

  g_return_val_if_fail (style != NULL, 0);

  context = og_text_context_new (NULL, style);
  n = collect_shares (profile, shares);
  legend_init (&legend, context, width, shares, n, style);
  g_object_unref (context);
  if (n == 0)
    return 2 * legend.line;

  return (BAR_LINES + GAP_LINES) * legend.line + legend.rows * legend.row_height;
}

char *
og_profile_chart_describe (const OgProfile *profile)
{
  Share shares[OG_N_ACID_CLASSES];
  guint n = collect_shares (profile, shares);
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *list = NULL;

  if (n == 0)
    return g_strdup (_("No fatty acids on record."));

  for (guint i = 0; i < n; i++)
    g_ptr_array_add (parts, share_text (&shares[i]));
  g_ptr_array_add (parts, NULL);
  list = g_strjoinv (", ", (char **) parts->pdata);

  /* Translators: list of acid classes with their shares */
  return g_strdup_printf (_("Fatty acids: %s."), list);
}
