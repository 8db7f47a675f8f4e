/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/stove-chart.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/number-text.h"
#include "core/base/practice.h"
#include "draw/axis.h"
#include "draw/paint.h"
#include "draw/text.h"

#define SMALL_TEXT 0.92
#define HEAT_SHARE 0.58 /* of the height of both panels, for the upper one */
#define LEAST_PLOT_WIDTH 48.0
#define LEAST_PLOT_HEIGHT 30.0
#define LEAST_RATIO 4.0 /* of the viscosity axis, so that a flat curve looks flat */
#define LOWEST_MPA_S 1e-3
#define HIGHEST_MPA_S 1e9
#define ROOM_ABOVE_K 6.0 /* over the hottest point, for the marks */
#define MARK_RADIUS 4.0
#define OUTLINE 3.5
#define MOST_LINES 8
#define SAMPLES 6 /* of the curve between two points */

/* Marks of og_draw_series_marker(): one shape for each kind of step. */
#define SHAPE_ADD 4
#define SHAPE_CLEAR 3
#define SHAPE_FILL 0

/* A temperature at which an agent of the recipe changes. */
typedef struct
{
  double   at_c;
  gboolean sets; /* FALSE: clears */
} Change;

typedef struct
{
  const OgStoveChart *chart;
  const OgStovePlan  *plan;
  const OgDrawStyle  *style;
  PangoContext       *context;
  double              width, height;
  double              pad, line, small_line, marks;
  OgAxis              time, heat, flow;
  gboolean            flows; /* some viscosity is known */
  GArray             *time_ticks, *heat_ticks, *flow_ticks;
  OgRect              heat_plot, flow_plot;
  Change              changes[MOST_LINES];
  guint               n_changes;
} Frame;

/* --- series --- */

/* What is refused is not drawn, so that nobody cooks by it. */
static guint
n_points (const OgStoveChart *chart)
{
  return chart->plan != NULL && !chart->plan->refused ? chart->plan->series->len : 0;
}

static const OgStovePoint *
get_point (const OgStoveChart *chart,
           guint               index)
{
  return &g_array_index (chart->plan->series, OgStovePoint, index);
}

static const OgStovePoint *
cursor_point (const OgStoveChart *chart)
{
  return chart->cursor >= 0 && (guint) chart->cursor < n_points (chart)
           ? get_point (chart, (guint) chart->cursor) : NULL;
}

static gboolean
is_viscosity (double mpa_s)
{
  return mpa_s >= LOWEST_MPA_S && mpa_s <= HIGHEST_MPA_S;
}

/* Returns: the first point that belongs to step @step; NULL if no time passes at it */
static const OgStovePoint *
find_step (const OgStoveChart *chart,
           guint               step)
{
  for (guint i = 0; i < n_points (chart); i++)
    if (get_point (chart, i)->step == step)
      return get_point (chart, i);
  return NULL;
}

static const OgStoveStep *
get_step (const OgStoveChart *chart,
          guint               index)
{
  return g_ptr_array_index (chart->plan->steps, index);
}

static gboolean
is_marked (const OgStoveStep *step)
{
  return step->act == OG_STOVE_ADD || step->act == OG_STOVE_CLEAR || step->act == OG_STOVE_FILL;
}

static guint
shape_of (const OgStoveStep *step)
{
  return step->act == OG_STOVE_ADD     ? SHAPE_ADD
         : step->act == OG_STOVE_CLEAR ? SHAPE_CLEAR
                                       : SHAPE_FILL;
}

/* --- layout --- */

static void
add_change (Frame    *f,
            double    at_c,
            gboolean  sets)
{
  if (!isfinite (at_c) || f->n_changes == MOST_LINES)
    return;
  for (guint i = 0; i < f->n_changes; i++)
    if (f->changes[i].sets == sets && fabs (f->changes[i].at_c - at_c) < 0.5)
      return;
  f->changes[f->n_changes++] = (Change) { at_c, sets };
}

static void
find_changes (Frame *f)
{
  const OgResult *result = f->chart->result;

  for (guint i = 0; result != NULL && i < result->agents->len; i++)
    {
      const OgAgentState *agent = &g_array_index (result->agents, OgAgentState, i);

      add_change (f, agent->clears_c, FALSE);
      add_change (f, agent->sets_c, TRUE);
    }
}

static void
set_axes (Frame *f)
{
  double low = OG_WRIST_LOW_C;
  double high = OG_WRIST_HIGH_C;
  double thin = NAN;
  double thick = NAN;
  double end = 0.0;

  for (guint i = 0; i < n_points (f->chart); i++)
    {
      const OgStovePoint *point = get_point (f->chart, i);

      og_axis_extend (point->temperature_c, &low, &high);
      end = MAX (end, point->minutes);
      if (!is_viscosity (point->viscosity_mpa_s.value))
        continue;
      og_axis_extend (point->viscosity_mpa_s.value, &thin, &thick);
      if (is_viscosity (point->viscosity_mpa_s.low80))
        og_axis_extend (point->viscosity_mpa_s.low80, &thin, &thick);
      if (is_viscosity (point->viscosity_mpa_s.high80))
        og_axis_extend (point->viscosity_mpa_s.high80, &thin, &thick);
    }
  for (guint i = 0; i < f->n_changes; i++)
    og_axis_extend (f->changes[i].at_c, &low, &high);

  f->heat = og_axis_nice (low, high + ROOM_ABOVE_K, FALSE);
  f->time = end > 0.0 ? (OgAxis) { 0.0, end * 1.02, FALSE } : og_axis_nice (0.0, 1.0, FALSE);
  f->flows = isfinite (thin);
  if (f->flows && thick / thin < LEAST_RATIO)
    {
      const double middle = sqrt (thin * thick);

      thin = middle / sqrt (LEAST_RATIO);
      thick = middle * sqrt (LEAST_RATIO);
    }
  f->flow = og_axis_nice (f->flows ? thin * 0.97 : 1.0, f->flows ? thick * 1.03 : 100.0, TRUE);
}

static PangoLayout *
new_text (const Frame *f,
          const char  *text)
{
  return og_text_layout_new (f->context, f->style, text, SMALL_TEXT, PANGO_WEIGHT_NORMAL);
}

static double
widest_label (const Frame  *f,
              const OgAxis *axis,
              const GArray *ticks)
{
  double widest = 0.0;

  for (guint i = 0; i < ticks->len; i++)
    {
      const OgTick *tick = &g_array_index (ticks, OgTick, i);
      g_autofree char *text = og_axis_label (axis, tick->value);
      g_autoptr (PangoLayout) layout = new_text (f, text);
      double width;

      og_text_get_size (layout, &width, NULL);
      if (tick->major)
        widest = MAX (widest, width);
    }
  return widest;
}

static guint
tick_room (const Frame *f,
           double       height)
{
  return (guint) CLAMP (height / (1.7 * f->line), 2, 9);
}

/* FALSE if both panels do not fit */
static gboolean
set_plots (Frame *f)
{
  const double title = f->line * 1.3;
  const double bottom = f->pad + f->small_line * 2.4;
  const double room = f->height - f->pad - 2.0 * title - f->line - bottom;
  double left;

  f->heat_plot.height = room * HEAT_SHARE;
  f->flow_plot.height = room - f->heat_plot.height;
  if (f->flow_plot.height < LEAST_PLOT_HEIGHT)
    return FALSE;
  f->heat_plot.y = f->pad + title;
  f->flow_plot.y = f->heat_plot.y + f->heat_plot.height + f->line + title;
  f->heat_ticks = og_axis_ticks (&f->heat, tick_room (f, f->heat_plot.height));
  f->flow_ticks = og_axis_ticks (&f->flow, tick_room (f, f->flow_plot.height));
  left = f->pad + 6.0 + MAX (widest_label (f, &f->heat, f->heat_ticks),
                             widest_label (f, &f->flow, f->flow_ticks));
  f->heat_plot.x = f->flow_plot.x = left;
  f->heat_plot.width = f->flow_plot.width = f->width - left - f->pad - f->small_line;
  if (f->heat_plot.width < LEAST_PLOT_WIDTH)
    return FALSE;
  f->time_ticks = og_axis_ticks (&f->time,
                                 (guint) CLAMP (f->heat_plot.width / (3.2 * f->line), 2, 11));
  return TRUE;
}

static void
frame_clear (Frame *f)
{
  g_clear_pointer (&f->time_ticks, g_array_unref);
  g_clear_pointer (&f->heat_ticks, g_array_unref);
  g_clear_pointer (&f->flow_ticks, g_array_unref);
  g_clear_object (&f->context);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Frame, frame_clear)

/* FALSE if there is nothing to plot or no room for it */
static gboolean
frame_init (Frame              *f,
            cairo_t            *cr,
            double              width,
            double              height,
            const OgStoveChart *chart,
            const OgDrawStyle  *style)
{
  *f = (Frame) { .chart = chart, .plan = chart->plan, .style = style };
  f->width = width;
  f->height = height;
  f->context = og_text_context_new (cr, style);
  f->line = og_text_line_height (f->context, style, 1.0);
  f->small_line = f->line * SMALL_TEXT;
  f->pad = MAX (6.0, 0.6 * style->font_size);
  f->marks = og_mark_scale (style);
  if (n_points (chart) == 0)
    return FALSE;
  find_changes (f);
  set_axes (f);
  return set_plots (f);
}

static double
x_px (const Frame *f,
      double       minutes)
{
  return f->heat_plot.x + og_axis_map (&f->time, minutes) * f->heat_plot.width;
}

static double
y_px (const OgAxis *axis,
      const OgRect *plot,
      double        value)
{
  return plot->y + (1.0 - og_axis_map (axis, value)) * plot->height;
}

static double
heat_px (const Frame *f,
         double       temperature_c)
{
  return y_px (&f->heat, &f->heat_plot, temperature_c);
}

static double
flow_px (const Frame *f,
         double       mpa_s)
{
  return y_px (&f->flow, &f->flow_plot, mpa_s);
}

/* --- words --- */

static const char *
missing_text (const OgStoveChart *chart)
{
  if (chart->plan != NULL && chart->plan->refused)
    return _("Not drawn: the pot would come too near a flash or smoke point.");
  return _("Nothing to warm or to cool in this recipe.");
}

static char *
change_text (const Change *change)
{
  g_autofree char *number = og_number_trimmed (change->at_c, 0);

  if (change->sets)
    /* Translators: a line of the chart: the temperature at which the pot sets */
    return g_strdup_printf (_("sets %s °C"), number);
  /* Translators: a line of the chart: the temperature at which a gelling agent or wax is clear */
  return g_strdup_printf (_("clears %s °C"), number);
}

/* --- layers --- */

/* Text with an outline in the background colour, kept inside the chart. */
static void
draw_outlined (Frame          *f,
               cairo_t        *cr,
               PangoLayout    *layout,
               double          x,
               double          y,
               const OgColour *colour)
{
  double width;
  double height;

  og_text_get_size (layout, &width, &height);
  x = CLAMP (x, f->pad, MAX (f->pad, f->width - f->pad - width));
  y = CLAMP (y, f->pad, MAX (f->pad, f->height - f->pad - height));
  cairo_save (cr);
  cairo_move_to (cr, x, y);
  pango_cairo_layout_path (cr, layout);
  og_set_colour (cr, &f->style->background, 0.85);
  cairo_set_line_width (cr, OUTLINE * f->marks);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke (cr);
  cairo_restore (cr);
  og_set_colour (cr, colour, 1.0);
  og_text_draw (cr, layout, x, y);
}

static void
draw_panel_title (Frame        *f,
                  cairo_t      *cr,
                  const OgRect *plot,
                  const char   *text)
{
  g_autoptr (PangoLayout) layout =
    og_text_layout_new (f->context, f->style, text, SMALL_TEXT, PANGO_WEIGHT_SEMIBOLD);
  const double room = f->width - 2.0 * f->pad;
  double width;

  og_text_get_size (layout, &width, NULL);
  if (width > room)
    og_text_set_width (layout, room, TRUE);
  og_set_colour (cr, &f->style->foreground, 1.0);
  og_text_draw (cr, layout, f->style->rtl ? f->width - f->pad - MIN (width, room) : f->pad,
                plot->y - f->line * 1.3);
}

static void
draw_panel_grid (Frame        *f,
                 cairo_t      *cr,
                 const OgRect *plot,
                 const OgAxis *axis,
                 const GArray *ticks)
{
  const double bottom = plot->y + plot->height;

  cairo_set_line_width (cr, 1.0);
  for (guint i = 0; i < ticks->len; i++)
    {
      const OgTick *tick = &g_array_index (ticks, OgTick, i);
      const double y = y_px (axis, plot, tick->value);
      g_autofree char *text = og_axis_label (axis, tick->value);
      g_autoptr (PangoLayout) layout = new_text (f, text);
      double width;
      double height;

      og_set_colour (cr, &f->style->grid, tick->major ? 1.0 : 0.5);
      cairo_move_to (cr, plot->x, og_crisp (y));
      cairo_rel_line_to (cr, plot->width, 0.0);
      cairo_stroke (cr);
      if (!tick->major)
        continue;
      og_text_get_size (layout, &width, &height);
      og_set_colour (cr, f->style->high_contrast ? &f->style->foreground : &f->style->dim, 1.0);
      og_text_draw (cr, layout, plot->x - 6.0 - width, y - height / 2.0);
    }
  og_set_colour (cr, &f->style->dim, f->style->high_contrast ? 1.0 : 0.8);
  cairo_move_to (cr, plot->x, og_crisp (bottom));
  cairo_rel_line_to (cr, plot->width, 0.0);
  cairo_stroke (cr);
}

static void
draw_time_axis (Frame   *f,
                cairo_t *cr)
{
  const double bottom = f->flow_plot.y + f->flow_plot.height;
  g_autoptr (PangoLayout) title = new_text (f, _("Minutes, holding until clear not counted"));
  double room = f->width - 2.0 * f->pad;
  double title_width;

  for (guint i = 0; i < f->time_ticks->len; i++)
    {
      const OgTick *tick = &g_array_index (f->time_ticks, OgTick, i);
      const double x = x_px (f, tick->value);
      g_autofree char *text = og_axis_label (&f->time, tick->value);
      g_autoptr (PangoLayout) layout = new_text (f, text);
      double width;

      og_text_get_size (layout, &width, NULL);
      og_set_colour (cr, &f->style->grid, tick->major ? 1.0 : 0.4);
      for (guint p = 0; p < 2; p++)
        {
          const OgRect *plot = p == 0 ? &f->heat_plot : &f->flow_plot;

          cairo_move_to (cr, og_crisp (x), plot->y);
          cairo_rel_line_to (cr, 0.0, plot->height);
          cairo_stroke (cr);
        }
      og_set_colour (cr, f->style->high_contrast ? &f->style->foreground : &f->style->dim, 1.0);
      if (tick->major)
        og_text_draw (cr, layout, x - width / 2.0, bottom + 0.15 * f->small_line);
    }
  og_text_get_size (title, &title_width, NULL);
  if (title_width > room)
    og_text_set_width (title, room, TRUE);
  og_set_colour (cr, &f->style->dim, 1.0);
  og_text_draw (cr, title, MAX (f->pad, f->heat_plot.x + (f->heat_plot.width - title_width) / 2.0),
                bottom + 1.2 * f->small_line);
}

static void
draw_wrist_band (Frame   *f,
                 cairo_t *cr)
{
  const double top = heat_px (f, OG_WRIST_HIGH_C);
  const double bottom = heat_px (f, OG_WRIST_LOW_C);
  const OgRect band = { f->heat_plot.x, top, f->heat_plot.width, bottom - top };
  const OgColour *colour = &f->style->series[0];

  og_set_colour (cr, colour, 0.14);
  cairo_rectangle (cr, band.x, band.y, band.width, band.height);
  cairo_fill (cr);
  og_set_colour (cr, colour, f->style->high_contrast ? 0.8 : 0.4);
  cairo_set_line_width (cr, f->style->high_contrast ? 1.2 : 0.7);
  og_draw_hatch (cr, &band, 7.0 * f->marks, 1);
}

static void
draw_changes (Frame   *f,
              cairo_t *cr)
{
  static const double dash[] = { 6.0, 3.0 };
  static const double dot[] = { 2.0, 2.5 };

  for (guint i = 0; i < f->n_changes; i++)
    {
      cairo_save (cr);
      og_set_colour (cr, &f->style->dim, 0.9);
      cairo_set_line_width (cr, f->style->high_contrast ? 1.6 : 1.1);
      cairo_set_dash (cr, f->changes[i].sets ? dot : dash, 2, 0.0);
      cairo_move_to (cr, f->heat_plot.x, og_crisp (heat_px (f, f->changes[i].at_c)));
      cairo_rel_line_to (cr, f->heat_plot.width, 0.0);
      cairo_stroke (cr);
      cairo_restore (cr);
    }
}

/* How much of the curve and of the marked steps lies in @rect. */
static double
count_hits (const Frame  *f,
            const OgRect *rect)
{
  double hits = 0.0;

  for (guint i = 0; i + 1 < n_points (f->chart); i++)
    {
      const OgStovePoint *from = get_point (f->chart, i);
      const OgStovePoint *to = get_point (f->chart, i + 1);
      const gboolean marked = i > 0 && from->step != get_point (f->chart, i - 1)->step
                              && is_marked (get_step (f->chart, from->step));

      for (guint k = 0; k < SAMPLES; k++)
        {
          const double t = (double) k / SAMPLES;

          const double minutes = from->minutes + t * (to->minutes - from->minutes);
          const double heat = from->temperature_c + t * (to->temperature_c - from->temperature_c);

          hits += og_rect_contains (rect, x_px (f, minutes), heat_px (f, heat));
        }
      if (marked)
        hits += SAMPLES * og_rect_contains (rect, x_px (f, from->minutes),
                                            heat_px (f, from->temperature_c) - f->small_line);
    }
  return hits;
}

/* Above the line at @top or below the one at @bottom, at the end, the beginning or the middle,
 * where least is in the way. */
static void
draw_line_name (Frame      *f,
                cairo_t    *cr,
                const char *text,
                double      top,
                double      bottom)
{
  static const double places[] = { 1.0, 0.0, 0.5 };
  g_autoptr (PangoLayout) layout = new_text (f, text);
  OgRect best = { 0 };
  double least = G_MAXDOUBLE;
  OgRect rect;

  og_text_get_size (layout, &rect.width, &rect.height);
  for (guint i = 0; i < 2 * G_N_ELEMENTS (places); i++)
    {
      double hits;

      rect.x = f->heat_plot.x + 4.0 + places[i / 2] * (f->heat_plot.width - rect.width - 8.0);
      rect.y = i % 2 == 0 ? top - rect.height : bottom + 1.0;
      hits = count_hits (f, &rect);
      if (!og_rect_contains (&f->heat_plot, rect.x, rect.y + rect.height))
        hits += SAMPLES;
      if (hits < least)
        {
          least = hits;
          best = rect;
        }
    }
  draw_outlined (f, cr, layout, best.x, best.y, &f->style->dim);
}

static void
draw_line_names (Frame   *f,
                 cairo_t *cr)
{
  draw_line_name (f, cr, _("warm to the wrist"), heat_px (f, OG_WRIST_HIGH_C),
                  heat_px (f, OG_WRIST_LOW_C));
  for (guint i = 0; i < f->n_changes; i++)
    {
      g_autofree char *text = change_text (&f->changes[i]);
      const double y = heat_px (f, f->changes[i].at_c);

      draw_line_name (f, cr, text, y, y);
    }
}

static void
draw_heat_curve (Frame   *f,
                 cairo_t *cr)
{
  og_set_colour (cr, &f->style->caution, 1.0);
  og_set_series_line (cr, f->style, 0);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  for (guint i = 0; i < n_points (f->chart); i++)
    {
      const OgStovePoint *point = get_point (f->chart, i);

      cairo_line_to (cr, x_px (f, point->minutes), heat_px (f, point->temperature_c));
    }
  cairo_stroke (cr);
}

static gboolean
has_band (const OgEstimate *viscosity)
{
  return is_viscosity (viscosity->value) && is_viscosity (viscosity->low80)
         && is_viscosity (viscosity->high80);
}

/* From point @first on as long as the band is known. Returns: the point after it */
static guint
fill_band (Frame   *f,
           cairo_t *cr,
           guint    first)
{
  guint end = first;

  while (end < n_points (f->chart) && has_band (&get_point (f->chart, end)->viscosity_mpa_s))
    end++;
  for (guint i = first; i < end; i++)
    cairo_line_to (cr, x_px (f, get_point (f->chart, i)->minutes),
                   flow_px (f, get_point (f->chart, i)->viscosity_mpa_s.high80));
  for (guint i = end; i-- > first;)
    cairo_line_to (cr, x_px (f, get_point (f->chart, i)->minutes),
                   flow_px (f, get_point (f->chart, i)->viscosity_mpa_s.low80));
  cairo_close_path (cr);
  og_set_colour (cr, &f->style->accent, 0.18);
  cairo_fill (cr);
  return MAX (end, first + 1);
}

static void
draw_flow_curve (Frame   *f,
                 cairo_t *cr)
{
  gboolean drawing = FALSE;

  cairo_save (cr);
  cairo_rectangle (cr, f->flow_plot.x, f->flow_plot.y, f->flow_plot.width, f->flow_plot.height);
  cairo_clip (cr);
  for (guint i = 0; i < n_points (f->chart);)
    i = fill_band (f, cr, i);
  og_set_colour (cr, &f->style->accent, 1.0);
  og_set_series_line (cr, f->style, 0);
  for (guint i = 0; i < n_points (f->chart); i++)
    {
      const OgStovePoint *point = get_point (f->chart, i);
      const gboolean known = is_viscosity (point->viscosity_mpa_s.value);

      if (known && drawing)
        cairo_line_to (cr, x_px (f, point->minutes), flow_px (f, point->viscosity_mpa_s.value));
      else if (known)
        cairo_move_to (cr, x_px (f, point->minutes), flow_px (f, point->viscosity_mpa_s.value));
      drawing = known;
    }
  cairo_stroke (cr);
  cairo_restore (cr);
}

static void
draw_flow_missing (Frame   *f,
                   cairo_t *cr)
{
  g_autoptr (PangoLayout) layout = NULL;

  if (f->flows)
    return;
  layout = new_text (f, _("unknown: a material has no viscosity on record"));
  og_text_set_width (layout, f->flow_plot.width, FALSE);
  og_set_colour (cr, &f->style->dim, 1.0);
  og_text_draw (cr, layout, f->flow_plot.x,
                f->flow_plot.y + f->flow_plot.height / 2.0 - f->small_line);
}

/* Returns: FALSE for a step that has no mark */
static gboolean
find_mark (const Frame         *f,
           guint                index,
           const OgStovePoint **point)
{
  if (!is_marked (get_step (f->chart, index)))
    return FALSE;
  *point = find_step (f->chart, index);
  return *point != NULL;
}

static void
draw_mark (Frame              *f,
           cairo_t            *cr,
           const OgStoveStep  *step,
           const OgStovePoint *point)
{
  static const double dash[] = { 2.0, 3.0 };
  const double x = x_px (f, point->minutes);
  const double y = heat_px (f, point->temperature_c);

  cairo_save (cr);
  og_set_colour (cr, &f->style->dim, 0.8);
  cairo_set_line_width (cr, 1.0);
  cairo_set_dash (cr, dash, 2, 0.0);
  cairo_move_to (cr, og_crisp (x), y);
  cairo_line_to (cr, og_crisp (x), f->flow_plot.y + f->flow_plot.height);
  cairo_stroke (cr);
  cairo_restore (cr);
  og_set_colour (cr, &f->style->foreground, 1.0);
  og_draw_series_marker (cr, shape_of (step), x, y, MARK_RADIUS * f->marks);
}

/* Above the mark of step @last; @first is another one if several steps meet there. */
static void
draw_mark_number (Frame              *f,
                  cairo_t            *cr,
                  guint               first,
                  guint               last,
                  const OgStovePoint *point)
{
  g_autofree char *number = first == last ? g_strdup_printf ("%u", first + 1)
                                          : g_strdup_printf ("%u–%u", first + 1, last + 1);
  g_autoptr (PangoLayout) layout =
    og_text_layout_new (f->context, f->style, number, SMALL_TEXT, PANGO_WEIGHT_SEMIBOLD);
  double width;
  double height;

  og_text_get_size (layout, &width, &height);
  draw_outlined (f, cr, layout, x_px (f, point->minutes) - width / 2.0,
                 heat_px (f, point->temperature_c) - height - MARK_RADIUS * f->marks - 1.0,
                 &f->style->foreground);
}

/* Steps at which something happens. Those that meet at one place share a number. */
static void
draw_marks (Frame   *f,
            cairo_t *cr)
{
  const OgStovePoint *before = NULL;
  const OgStovePoint *point;
  guint first = 0;
  guint last = 0;

  for (guint i = 0; i < f->plan->steps->len; i++)
    {
      if (!find_mark (f, i, &point))
        continue;
      draw_mark (f, cr, get_step (f->chart, i), point);
      if (before == NULL
          || x_px (f, point->minutes) - x_px (f, before->minutes) > 2.0 * MARK_RADIUS * f->marks)
        {
          if (before != NULL)
            draw_mark_number (f, cr, first, last, before);
          first = i;
          before = point;
        }
      last = i;
    }
  if (before != NULL)
    draw_mark_number (f, cr, first, last, before);
}

static void
draw_cursor (Frame   *f,
             cairo_t *cr)
{
  const OgStovePoint *point = cursor_point (f->chart);
  g_autofree char *text = NULL;
  g_autoptr (PangoLayout) layout = NULL;
  double x;
  double width;

  if (point == NULL)
    return;
  text = og_stove_chart_read (f->chart);
  x = x_px (f, point->minutes);
  og_set_colour (cr, &f->style->foreground, 0.8);
  cairo_set_line_width (cr, 1.0);
  cairo_move_to (cr, og_crisp (x), f->heat_plot.y);
  cairo_line_to (cr, og_crisp (x), f->flow_plot.y + f->flow_plot.height);
  cairo_stroke (cr);
  layout = new_text (f, text);
  og_text_get_size (layout, &width, NULL);
  if (width > f->width - 2.0 * f->pad)
    og_text_set_width (layout, f->width - 2.0 * f->pad, TRUE);
  draw_outlined (f, cr, layout, x - width / 2.0, f->heat_plot.y + f->heat_plot.height + 1.0,
                 &f->style->foreground);
}

void
og_stove_chart_draw (cairo_t            *cr,
                     double              width,
                     double              height,
                     const OgStoveChart *chart,
                     const OgDrawStyle  *style)
{
  g_auto (Frame) f = { 0 };

  g_return_if_fail (cr != NULL);
  g_return_if_fail (chart != NULL && style != NULL);

  cairo_save (cr);
  og_set_colour (cr, &style->background, 1.0);
  cairo_rectangle (cr, 0.0, 0.0, width, height);
  cairo_fill (cr);
  if (!frame_init (&f, cr, width, height, chart, style))
    {
      if (n_points (chart) == 0)
        og_draw_words (cr, width, height, missing_text (chart), 1.0, style);
      cairo_restore (cr);
      return;
    }
  draw_wrist_band (&f, cr);
  draw_time_axis (&f, cr);
  draw_panel_grid (&f, cr, &f.heat_plot, &f.heat, f.heat_ticks);
  draw_panel_grid (&f, cr, &f.flow_plot, &f.flow, f.flow_ticks);
  draw_panel_title (&f, cr, &f.heat_plot, _("Pot, °C"));
  draw_panel_title (&f, cr, &f.flow_plot, _("Viscosity while stirred, mPa·s, with the 80 % band"));
  draw_changes (&f, cr);
  draw_flow_curve (&f, cr);
  draw_flow_missing (&f, cr);
  draw_heat_curve (&f, cr);
  draw_line_names (&f, cr);
  draw_marks (&f, cr);
  draw_cursor (&f, cr);
  cairo_restore (cr);
}

int
og_stove_chart_pick (double              width,
                     double              height,
                     const OgStoveChart *chart,
                     const OgDrawStyle  *style,
                     double              x,
                     double              y)
{
  g_auto (Frame) f = { 0 };
  guint best = 0;

  g_return_val_if_fail (chart != NULL && style != NULL, -1);

  if (!frame_init (&f, NULL, width, height, chart, style)
      || !(og_rect_contains (&f.heat_plot, x, y) || og_rect_contains (&f.flow_plot, x, y)))
    return -1;
  for (guint i = 1; i < n_points (chart); i++)
    if (fabs (x_px (&f, get_point (chart, i)->minutes) - x)
        < fabs (x_px (&f, get_point (chart, best)->minutes) - x))
      best = i;
  return (int) best;
}

/* --- words for screen readers --- */

char *
og_stove_chart_read (const OgStoveChart *chart)
{
  const OgStovePoint *point;
  g_autofree char *minutes = NULL;
  g_autofree char *heat = NULL;
  g_autofree char *flow = NULL;

  g_return_val_if_fail (chart != NULL, NULL);

  point = cursor_point (chart);
  if (point == NULL)
    return NULL;
  minutes = og_number_trimmed (point->minutes, point->minutes < 10.0 ? 1 : 0);
  heat = og_number_trimmed (point->temperature_c, 0);
  flow = og_number_with_unit (point->viscosity_mpa_s.value);
  /* Translators: minutes, temperature of the pot, viscosity with its unit or "unknown" */
  return g_strdup_printf (_("after %s min: %s °C, %s"), minutes, heat, flow);
}

static void
describe_heat (const OgStoveChart *chart,
               GString            *text)
{
  const OgStovePoint *last = get_point (chart, n_points (chart) - 1);
  g_autofree char *start = og_number_trimmed (get_point (chart, 0)->temperature_c, 0);
  g_autofree char *top = og_number_trimmed (chart->plan->hottest_c, 0);
  g_autofree char *end = og_number_trimmed (last->temperature_c, 0);
  g_autofree char *minutes = og_number_trimmed (last->minutes, 0);

  /* Translators: start, highest and last temperature, then minutes */
  og_sentences_add (text,
                    g_strdup_printf (_("The pot goes from %s °C up to %s °C and ends at %s °C after %s "
                                       "minutes, holding until clear not counted."),
                                     start, top, end, minutes));
}

static void
describe_marks (const OgStoveChart *chart,
                GString            *text)
{
  for (guint i = 0; i < chart->plan->steps->len; i++)
    {
      const OgStoveStep *step = get_step (chart, i);
      const OgStovePoint *point = find_step (chart, i);
      g_autofree char *minutes = NULL;
      g_autofree char *heat = NULL;

      if (step->act != OG_STOVE_ADD || point == NULL)
        continue;
      minutes = og_number_trimmed (point->minutes, 0);
      heat = og_number_trimmed (step->after_c, 0);
      /* Translators: number of a step, minutes, temperature */
      og_sentences_add (text, g_strdup_printf (_("Step %u is an addition after %s minutes; it leaves "
                                                 "the pot at %s °C."), i + 1, minutes, heat));
    }
}

static void
describe_flow (const OgStoveChart *chart,
               GString            *text)
{
  g_autofree char *thin_text = NULL;
  g_autofree char *thick_text = NULL;
  double thin = NAN;
  double thick = NAN;

  for (guint i = 0; i < n_points (chart); i++)
    if (is_viscosity (get_point (chart, i)->viscosity_mpa_s.value))
      og_axis_extend (get_point (chart, i)->viscosity_mpa_s.value, &thin, &thick);
  if (isnan (thin))
    {
      og_sentences_add (text, g_strdup (_("Its viscosity is unknown.")));
      return;
    }
  thin_text = og_number_viscosity (thin);
  thick_text = og_number_viscosity (thick);
  /* Translators: smallest and largest viscosity */
  og_sentences_add (text,
                    g_strdup_printf (_("While stirred its viscosity lies between %s and %s mPa·s."),
                                     thin_text, thick_text));
}

char *
og_stove_chart_describe (const OgStoveChart *chart)
{
  GString *text;

  g_return_val_if_fail (chart != NULL, NULL);

  if (n_points (chart) == 0)
    return g_strdup (missing_text (chart));
  text = g_string_new (NULL);
  describe_heat (chart, text);
  describe_marks (chart, text);
  describe_flow (chart, text);
  return g_string_free (text, FALSE);
}
