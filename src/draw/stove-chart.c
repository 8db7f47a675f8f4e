/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/stove-chart.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/number-text.h"
#include "core/base/practice.h"
#include "draw/plot.h"
#include "draw/text.h"

#define HEAT_SHARE 0.58 /* of the height of both panels, for the upper one */
#define LEAST_PLOT_WIDTH 48.0
#define LEAST_PLOT_HEIGHT 30.0
#define LEAST_RATIO 4.0 /* of the viscosity axis, so that a flat curve looks flat */
#define LOWEST_MPA_S 1e-3
#define HIGHEST_MPA_S 1e9
#define TITLE_LINES 1.3 /* above each panel */
#define ROOM_ABOVE_K 6.0 /* over the hottest point, for the marks */
#define MARK_RADIUS 4.0
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
  OgCanvas  canvas;
  OgPlot    heat, flow; /* two panels, one above the other, with the same time axis */
  GArray   *time_ticks, *heat_ticks, *flow_ticks;
  gboolean  flows;      /* some viscosity is known */
  Change    changes[MOST_LINES];
  guint     n_changes;
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
find_changes (Frame          *f,
              const OgResult *result)
{
  for (guint i = 0; result != NULL && i < result->agents->len; i++)
    {
      const OgAgentState *agent = &g_array_index (result->agents, OgAgentState, i);

      add_change (f, agent->clears_c, FALSE);
      add_change (f, agent->sets_c, TRUE);
    }
}

/* From room and wrist to some room above the hottest point, and as long as it takes. */
static void
set_heat_axes (Frame              *f,
               const OgStoveChart *chart)
{
  double low = OG_WRIST_LOW_C;
  double high = OG_WRIST_HIGH_C;
  double end = 0.0;

  for (guint i = 0; i < n_points (chart); i++)
    {
      const OgStovePoint *point = get_point (chart, i);

      og_axis_extend (point->temperature_c, &low, &high);
      end = MAX (end, point->minutes);
    }
  for (guint i = 0; i < f->n_changes; i++)
    og_axis_extend (f->changes[i].at_c, &low, &high);

  f->heat.y = og_axis_nice (low, high + ROOM_ABOVE_K, FALSE);
  f->heat.x = end > 0.0 ? (OgAxis) { 0.0, end * 1.02, FALSE } : og_axis_nice (0.0, 1.0, FALSE);
}

static void
extend_by_viscosity (double  mpa_s,
                     double *thin,
                     double *thick)
{
  if (is_viscosity (mpa_s))
    og_axis_extend (mpa_s, thin, thick);
}

static void
set_flow_axes (Frame              *f,
               const OgStoveChart *chart)
{
  double thin = NAN;
  double thick = NAN;

  for (guint i = 0; i < n_points (chart); i++)
    {
      const OgEstimate *viscosity = &get_point (chart, i)->viscosity_mpa_s;

      if (!is_viscosity (viscosity->value))
        continue;
      extend_by_viscosity (viscosity->value, &thin, &thick);
      extend_by_viscosity (viscosity->low80, &thin, &thick);
      extend_by_viscosity (viscosity->high80, &thin, &thick);
    }
  f->flows = isfinite (thin);
  if (f->flows && thick / thin < LEAST_RATIO)
    {
      const double middle = sqrt (thin * thick);

      thin = middle / sqrt (LEAST_RATIO);
      thick = middle * sqrt (LEAST_RATIO);
    }
  f->flow.y = og_axis_nice (f->flows ? thin * 0.97 : 1.0, f->flows ? thick * 1.03 : 100.0, TRUE);
  f->flow.x = f->heat.x;
}

static GArray *
panel_ticks (const OgCanvas *canvas,
             const OgPlot   *plot)
{
  return og_axis_ticks (&plot->y,
                        (guint) CLAMP (plot->area.height / (1.7 * canvas->line), 2, 9));
}

/* FALSE if both panels do not fit */
static gboolean
set_plots (Frame *f)
{
  const OgCanvas *canvas = &f->canvas;
  const double title = canvas->line * TITLE_LINES;
  const double bottom = canvas->pad + canvas->small_line * 2.4;
  const double room = canvas->height - canvas->pad - 2.0 * title - canvas->line - bottom;
  OgRect *heat = &f->heat.area;
  OgRect *flow = &f->flow.area;
  double left;

  heat->height = room * HEAT_SHARE;
  flow->height = room - heat->height;
  if (flow->height < LEAST_PLOT_HEIGHT)
    return FALSE;
  heat->y = canvas->pad + title;
  flow->y = heat->y + heat->height + canvas->line + title;
  f->heat_ticks = panel_ticks (canvas, &f->heat);
  f->flow_ticks = panel_ticks (canvas, &f->flow);
  left = canvas->pad + 6.0 + MAX (og_canvas_widest_label (canvas, &f->heat.y, f->heat_ticks),
                                  og_canvas_widest_label (canvas, &f->flow.y, f->flow_ticks));
  heat->x = flow->x = left;
  heat->width = flow->width = canvas->width - left - canvas->pad - canvas->small_line;
  if (heat->width < LEAST_PLOT_WIDTH)
    return FALSE;
  f->time_ticks = og_axis_ticks (&f->heat.x,
                                 (guint) CLAMP (heat->width / (3.2 * canvas->line), 2, 11));
  return TRUE;
}

static void
frame_clear (Frame *f)
{
  g_clear_pointer (&f->time_ticks, g_array_unref);
  g_clear_pointer (&f->heat_ticks, g_array_unref);
  g_clear_pointer (&f->flow_ticks, g_array_unref);
  og_canvas_clear (&f->canvas);
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
  *f = (Frame) { 0 };
  og_canvas_init (&f->canvas, cr, width, height, style);
  if (n_points (chart) == 0)
    return FALSE;
  find_changes (f, chart->result);
  set_heat_axes (f, chart);
  set_flow_axes (f, chart);
  return set_plots (f);
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

/* Text with an outline, kept inside the chart. */
static void
draw_outlined (const OgCanvas *canvas,
               PangoLayout    *layout,
               double          x,
               double          y,
               const OgColour *colour)
{
  const double pad = canvas->pad;
  double width;
  double height;

  og_text_get_size (layout, &width, &height);
  x = CLAMP (x, pad, MAX (pad, canvas->width - pad - width));
  y = CLAMP (y, pad, MAX (pad, canvas->height - pad - height));
  og_canvas_draw_outlined (canvas, layout, x, y, colour);
}

/* In the line above the panel. */
static void
draw_panel_title (const OgCanvas *canvas,
                  const OgPlot   *plot,
                  const char     *text)
{
  g_autoptr (PangoLayout) layout
    = og_text_layout_new (canvas->context, canvas->style, text, OG_SMALL_TEXT,
                          PANGO_WEIGHT_SEMIBOLD);
  const double width = og_text_fit (layout, og_canvas_get_room (canvas));

  og_set_colour (canvas->cr, &canvas->style->foreground, 1.0);
  og_text_draw (canvas->cr, layout,
                canvas->style->rtl ? canvas->width - canvas->pad - width : canvas->pad,
                plot->area.y - canvas->line * TITLE_LINES);
}

static void
draw_panel_grid (const OgCanvas *canvas,
                 const OgPlot   *plot,
                 const GArray   *ticks)
{
  const OgDrawStyle *style = canvas->style;
  const OgRect *area = &plot->area;
  cairo_t *cr = canvas->cr;

  cairo_set_line_width (cr, 1.0);
  for (guint i = 0; i < ticks->len; i++)
    {
      const OgTick *tick = &g_array_index (ticks, OgTick, i);
      const double y = og_plot_y (plot, tick->value);
      g_autofree char *text = og_axis_label (&plot->y, tick->value);
      g_autoptr (PangoLayout) layout = og_canvas_text_new (canvas, text);
      double width;
      double height;

      og_set_colour (cr, &style->grid, tick->major ? 1.0 : 0.5);
      cairo_move_to (cr, area->x, og_crisp (y));
      cairo_rel_line_to (cr, area->width, 0.0);
      cairo_stroke (cr);
      if (!tick->major)
        continue;
      og_text_get_size (layout, &width, &height);
      og_set_colour (cr, og_quiet_colour (style), 1.0);
      og_text_draw (cr, layout, area->x - 6.0 - width, y - height / 2.0);
    }
  og_set_colour (cr, &style->dim, style->high_contrast ? 1.0 : 0.8);
  cairo_move_to (cr, area->x, og_crisp (og_plot_bottom (plot)));
  cairo_rel_line_to (cr, area->width, 0.0);
  cairo_stroke (cr);
}

/* Lines through both panels, and below them the minutes. */
static void
draw_time_ticks (const Frame *f)
{
  const OgCanvas *canvas = &f->canvas;
  cairo_t *cr = canvas->cr;

  for (guint i = 0; i < f->time_ticks->len; i++)
    {
      const OgTick *tick = &g_array_index (f->time_ticks, OgTick, i);
      const double x = og_plot_x (&f->heat, tick->value);
      g_autofree char *text = og_axis_label (&f->heat.x, tick->value);
      g_autoptr (PangoLayout) layout = og_canvas_text_new (canvas, text);
      double width;

      og_text_get_size (layout, &width, NULL);
      og_set_colour (cr, &canvas->style->grid, tick->major ? 1.0 : 0.4);
      for (guint p = 0; p < 2; p++)
        {
          const OgRect *area = p == 0 ? &f->heat.area : &f->flow.area;

          cairo_move_to (cr, og_crisp (x), area->y);
          cairo_rel_line_to (cr, 0.0, area->height);
          cairo_stroke (cr);
        }
      og_set_colour (cr, og_quiet_colour (canvas->style), 1.0);
      if (tick->major)
        og_text_draw (cr, layout, x - width / 2.0,
                      og_plot_bottom (&f->flow) + 0.15 * canvas->small_line);
    }
}

static void
draw_time_title (const OgCanvas *canvas,
                 const OgPlot   *flow)
{
  g_autoptr (PangoLayout) title
    = og_canvas_text_new (canvas, _("Minutes, holding until clear not counted"));
  double width;

  og_text_get_size (title, &width, NULL);
  og_text_fit (title, og_canvas_get_room (canvas));
  og_set_colour (canvas->cr, &canvas->style->dim, 1.0);
  og_text_draw (canvas->cr, title,
                MAX (canvas->pad, flow->area.x + (flow->area.width - width) / 2.0),
                og_plot_bottom (flow) + 1.2 * canvas->small_line);
}

static void
draw_wrist_band (const OgCanvas *canvas,
                 const OgPlot   *heat)
{
  const OgDrawStyle *style = canvas->style;
  const double top = og_plot_y (heat, OG_WRIST_HIGH_C);
  const double bottom = og_plot_y (heat, OG_WRIST_LOW_C);
  const OgRect band = { heat->area.x, top, heat->area.width, bottom - top };
  cairo_t *cr = canvas->cr;

  og_set_colour (cr, &style->series[0], 0.14);
  cairo_rectangle (cr, band.x, band.y, band.width, band.height);
  cairo_fill (cr);
  og_set_colour (cr, &style->series[0], style->high_contrast ? 0.8 : 0.4);
  cairo_set_line_width (cr, style->high_contrast ? 1.2 : 0.7);
  og_draw_hatch (cr, &band, 7.0 * canvas->marks, 1);
}

static void
draw_changes (const Frame *f)
{
  static const double dash[] = { 6.0, 3.0 };
  static const double dot[] = { 2.0, 2.5 };
  const OgCanvas *canvas = &f->canvas;
  const OgPlot *heat = &f->heat;
  cairo_t *cr = canvas->cr;

  for (guint i = 0; i < f->n_changes; i++)
    {
      cairo_save (cr);
      og_set_colour (cr, &canvas->style->dim, 0.9);
      cairo_set_line_width (cr, canvas->style->high_contrast ? 1.6 : 1.1);
      cairo_set_dash (cr, f->changes[i].sets ? dot : dash, 2, 0.0);
      cairo_move_to (cr, heat->area.x, og_crisp (og_plot_y (heat, f->changes[i].at_c)));
      cairo_rel_line_to (cr, heat->area.width, 0.0);
      cairo_stroke (cr);
      cairo_restore (cr);
    }
}

/* How much of the curve and of the marked steps lies in @rect. */
static double
count_hits (const Frame        *f,
            const OgStoveChart *chart,
            const OgRect       *rect)
{
  const OgPlot *heat = &f->heat;
  double hits = 0.0;

  for (guint i = 0; i + 1 < n_points (chart); i++)
    {
      const OgStovePoint *from = get_point (chart, i);
      const OgStovePoint *to = get_point (chart, i + 1);
      const gboolean marked = i > 0 && from->step != get_point (chart, i - 1)->step
                              && is_marked (get_step (chart, from->step));

      for (guint k = 0; k < SAMPLES; k++)
        {
          const double t = (double) k / SAMPLES;
          const double minutes = from->minutes + t * (to->minutes - from->minutes);
          const double at_c = from->temperature_c + t * (to->temperature_c - from->temperature_c);

          hits += og_rect_contains (rect, og_plot_x (heat, minutes), og_plot_y (heat, at_c));
        }
      if (marked)
        hits += SAMPLES * og_rect_contains (rect, og_plot_x (heat, from->minutes),
                                            og_plot_y (heat, from->temperature_c)
                                              - f->canvas.small_line);
    }
  return hits;
}

/* Above the line at @top or below the one at @bottom, at the end, the beginning or the middle,
 * where least is in the way. */
static void
draw_line_name (const Frame        *f,
                const OgStoveChart *chart,
                const char         *text,
                double              top,
                double              bottom)
{
  static const double places[] = { 1.0, 0.0, 0.5 };
  const OgCanvas *canvas = &f->canvas;
  const OgPlot *heat = &f->heat;
  g_autoptr (PangoLayout) layout = og_canvas_text_new (canvas, text);
  OgRect best = { 0 };
  double least = G_MAXDOUBLE;
  OgRect rect;

  og_text_get_size (layout, &rect.width, &rect.height);
  for (guint i = 0; i < 2 * G_N_ELEMENTS (places); i++)
    {
      double hits;

      rect.x = heat->area.x + 4.0 + places[i / 2] * (heat->area.width - rect.width - 8.0);
      rect.y = i % 2 == 0 ? top - rect.height : bottom + 1.0;
      hits = count_hits (f, chart, &rect);
      if (!og_rect_contains (&heat->area, rect.x, rect.y + rect.height))
        hits += SAMPLES;
      if (hits < least)
        {
          least = hits;
          best = rect;
        }
    }
  draw_outlined (canvas, layout, best.x, best.y, &canvas->style->dim);
}

static void
draw_line_names (const Frame        *f,
                 const OgStoveChart *chart)
{
  const OgPlot *heat = &f->heat;

  draw_line_name (f, chart, _("warm to the wrist"), og_plot_y (heat, OG_WRIST_HIGH_C),
                  og_plot_y (heat, OG_WRIST_LOW_C));
  for (guint i = 0; i < f->n_changes; i++)
    {
      g_autofree char *text = change_text (&f->changes[i]);
      const double y = og_plot_y (heat, f->changes[i].at_c);

      draw_line_name (f, chart, text, y, y);
    }
}

static void
draw_heat_curve (const OgCanvas     *canvas,
                 const OgPlot       *heat,
                 const OgStoveChart *chart)
{
  cairo_t *cr = canvas->cr;

  og_set_colour (cr, &canvas->style->caution, 1.0);
  og_set_series_line (cr, canvas->style, 0);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  for (guint i = 0; i < n_points (chart); i++)
    {
      const OgStovePoint *point = get_point (chart, i);

      cairo_line_to (cr, og_plot_x (heat, point->minutes), og_plot_y (heat, point->temperature_c));
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
fill_band (const OgCanvas     *canvas,
           const OgPlot       *flow,
           const OgStoveChart *chart,
           guint               first)
{
  cairo_t *cr = canvas->cr;
  guint end = first;

  while (end < n_points (chart) && has_band (&get_point (chart, end)->viscosity_mpa_s))
    end++;
  for (guint i = first; i < end; i++)
    cairo_line_to (cr, og_plot_x (flow, get_point (chart, i)->minutes),
                   og_plot_y (flow, get_point (chart, i)->viscosity_mpa_s.high80));
  for (guint i = end; i-- > first;)
    cairo_line_to (cr, og_plot_x (flow, get_point (chart, i)->minutes),
                   og_plot_y (flow, get_point (chart, i)->viscosity_mpa_s.low80));
  cairo_close_path (cr);
  og_set_colour (cr, &canvas->style->accent, 0.18);
  cairo_fill (cr);
  return MAX (end, first + 1);
}

static void
draw_flow_curve (const OgCanvas     *canvas,
                 const OgPlot       *flow,
                 const OgStoveChart *chart)
{
  cairo_t *cr = canvas->cr;
  gboolean drawing = FALSE;

  cairo_save (cr);
  cairo_rectangle (cr, flow->area.x, flow->area.y, flow->area.width, flow->area.height);
  cairo_clip (cr);
  for (guint i = 0; i < n_points (chart);)
    i = fill_band (canvas, flow, chart, i);
  og_set_colour (cr, &canvas->style->accent, 1.0);
  og_set_series_line (cr, canvas->style, 0);
  for (guint i = 0; i < n_points (chart); i++)
    {
      const OgStovePoint *point = get_point (chart, i);
      const gboolean known = is_viscosity (point->viscosity_mpa_s.value);
      const double x = og_plot_x (flow, point->minutes);
      const double y = og_plot_y (flow, point->viscosity_mpa_s.value);

      if (known && drawing)
        cairo_line_to (cr, x, y);
      else if (known)
        cairo_move_to (cr, x, y);
      drawing = known;
    }
  cairo_stroke (cr);
  cairo_restore (cr);
}

static void
draw_flow_missing (const OgCanvas *canvas,
                   const OgPlot   *flow)
{
  g_autoptr (PangoLayout) layout
    = og_canvas_text_new (canvas, _("unknown: a material has no viscosity on record"));

  og_text_set_width (layout, flow->area.width, FALSE);
  og_set_colour (canvas->cr, &canvas->style->dim, 1.0);
  og_text_draw (canvas->cr, layout, flow->area.x,
                flow->area.y + flow->area.height / 2.0 - canvas->small_line);
}

/* Returns: FALSE for a step that has no mark */
static gboolean
find_mark (const OgStoveChart  *chart,
           guint                index,
           const OgStovePoint **point)
{
  if (!is_marked (get_step (chart, index)))
    return FALSE;
  *point = find_step (chart, index);
  return *point != NULL;
}

static void
draw_mark (const Frame        *f,
           const OgStoveStep  *step,
           const OgStovePoint *point)
{
  static const double dash[] = { 2.0, 3.0 };
  const OgCanvas *canvas = &f->canvas;
  const OgPlot *heat = &f->heat;
  cairo_t *cr = canvas->cr;
  const double x = og_plot_x (heat, point->minutes);
  const double y = og_plot_y (heat, point->temperature_c);

  cairo_save (cr);
  og_set_colour (cr, &canvas->style->dim, 0.8);
  cairo_set_line_width (cr, 1.0);
  cairo_set_dash (cr, dash, 2, 0.0);
  cairo_move_to (cr, og_crisp (x), y);
  cairo_line_to (cr, og_crisp (x), og_plot_bottom (&f->flow));
  cairo_stroke (cr);
  cairo_restore (cr);
  og_set_colour (cr, &canvas->style->foreground, 1.0);
  og_draw_series_marker (cr, shape_of (step), x, y, MARK_RADIUS * canvas->marks);
}

/* Above the mark of step @last; @first is another one if several steps meet there. */
static void
draw_mark_number (const OgCanvas     *canvas,
                  const OgPlot       *heat,
                  guint               first,
                  guint               last,
                  const OgStovePoint *point)
{
  g_autofree char *number = first == last ? g_strdup_printf ("%u", first + 1)
                                          : g_strdup_printf ("%u–%u", first + 1, last + 1);
  g_autoptr (PangoLayout) layout
    = og_text_layout_new (canvas->context, canvas->style, number, OG_SMALL_TEXT,
                          PANGO_WEIGHT_SEMIBOLD);
  const double x = og_plot_x (heat, point->minutes);
  const double y = og_plot_y (heat, point->temperature_c);
  double width;
  double height;

  og_text_get_size (layout, &width, &height);
  draw_outlined (canvas, layout, x - width / 2.0, y - height - MARK_RADIUS * canvas->marks - 1.0,
                 &canvas->style->foreground);
}

/* Steps at which something happens. Those that meet at one place share a number. */
static void
draw_marks (const Frame        *f,
            const OgStoveChart *chart)
{
  const OgCanvas *canvas = &f->canvas;
  const OgPlot *heat = &f->heat;
  const double near = 2.0 * MARK_RADIUS * canvas->marks;
  const OgStovePoint *before = NULL;
  const OgStovePoint *point;
  guint first = 0;
  guint last = 0;

  for (guint i = 0; i < chart->plan->steps->len; i++)
    {
      if (!find_mark (chart, i, &point))
        continue;
      draw_mark (f, get_step (chart, i), point);
      if (before == NULL
          || og_plot_x (heat, point->minutes) - og_plot_x (heat, before->minutes) > near)
        {
          if (before != NULL)
            draw_mark_number (canvas, heat, first, last, before);
          first = i;
          before = point;
        }
      last = i;
    }
  if (before != NULL)
    draw_mark_number (canvas, heat, first, last, before);
}

static void
draw_cursor (const Frame        *f,
             const OgStoveChart *chart)
{
  const OgCanvas *canvas = &f->canvas;
  const OgPlot *heat = &f->heat;
  cairo_t *cr = canvas->cr;
  const OgStovePoint *point = cursor_point (chart);
  g_autofree char *text = NULL;
  g_autoptr (PangoLayout) layout = NULL;
  double x;
  double width;

  if (point == NULL)
    return;
  text = og_stove_chart_read (chart);
  x = og_plot_x (heat, point->minutes);
  og_set_colour (cr, &canvas->style->foreground, 0.8);
  cairo_set_line_width (cr, 1.0);
  cairo_move_to (cr, og_crisp (x), heat->area.y);
  cairo_line_to (cr, og_crisp (x), og_plot_bottom (&f->flow));
  cairo_stroke (cr);
  layout = og_canvas_text_new (canvas, text);
  og_text_get_size (layout, &width, NULL);
  og_text_fit (layout, og_canvas_get_room (canvas));
  draw_outlined (canvas, layout, x - width / 2.0, heat->area.y + heat->area.height + 1.0,
                 &canvas->style->foreground);
}

/* In painting order. */
static void
draw_layers (const Frame        *f,
             const OgStoveChart *chart)
{
  const OgCanvas *canvas = &f->canvas;

  draw_wrist_band (canvas, &f->heat);
  draw_time_ticks (f);
  draw_time_title (canvas, &f->flow);
  draw_panel_grid (canvas, &f->heat, f->heat_ticks);
  draw_panel_grid (canvas, &f->flow, f->flow_ticks);
  draw_panel_title (canvas, &f->heat, _("Pot, °C"));
  draw_panel_title (canvas, &f->flow, _("Viscosity while stirred, mPa·s, with the 80 % band"));
  draw_changes (f);
  draw_flow_curve (canvas, &f->flow, chart);
  if (!f->flows)
    draw_flow_missing (canvas, &f->flow);
  draw_heat_curve (canvas, &f->heat, chart);
  draw_line_names (f, chart);
  draw_marks (f, chart);
  draw_cursor (f, chart);
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
  draw_layers (&f, chart);
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
      || !(og_rect_contains (&f.heat.area, x, y) || og_rect_contains (&f.flow.area, x, y)))
    return -1;
  for (guint i = 1; i < n_points (chart); i++)
    if (fabs (og_plot_x (&f.heat, get_point (chart, i)->minutes) - x)
        < fabs (og_plot_x (&f.heat, get_point (chart, best)->minutes) - x))
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
