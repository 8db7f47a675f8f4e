/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/lever-chart.h"
#include "gtk/design/lever-view.h"

#define LEAST_EMS_WIDE 10.0
#define USUAL_EMS_WIDE 26.0

struct _OgLeverView
{
  OgPaintedView parent_instance;

  GArray *levers;   /* of OgLever */
  GPtrArray *names; /* of char*: of each lever */
  GArray *bars;     /* of OgLeverBar: what is shown, largest first */
  OgLeverKind kind;
};

G_DEFINE_FINAL_TYPE (OgLeverView, og_lever_view, OG_TYPE_PAINTED_VIEW)

static const char *
kind_title (OgLeverKind kind)
{
  switch (kind)
    {
    case OG_LEVER_REST:
      return _("Viscosity at rest, for one more per cent of each");
    case OG_LEVER_LOTS:
      return _("Viscosity when poured, from lot to lot of each");
    case OG_LEVER_POURED:
    case OG_N_LEVER_KINDS:
    default:
      return _("Viscosity when poured, for one more per cent of each");
    }
}

static OgLeverBar
make_bar (const OgLever *lever,
          const char    *name,
          OgLeverKind    kind)
{
  if (kind == OG_LEVER_LOTS)
    return (OgLeverBar) { name, lever->lot_low_pct, lever->lot_high_pct };
  if (kind == OG_LEVER_REST)
    return (OgLeverBar) { name, lever->rest_pct, lever->rest_pct };
  return (OgLeverBar) { name, lever->pour_pct, lever->pour_pct };
}

static double
reach (const OgLeverBar *bar)
{
  return isfinite (bar->low_pct) ? MAX (fabs (bar->low_pct), fabs (bar->high_pct)) : -1.0;
}

static int
compare_bars (gconstpointer a,
              gconstpointer b)
{
  const double difference = reach (b) - reach (a);

  return (difference > 0.0) - (difference < 0.0);
}

static OgLeverChart
get_chart (OgLeverView *self)
{
  return (OgLeverChart) {
    .title = kind_title (self->kind),
    .bars = (const OgLeverBar *) (gpointer) self->bars->data,
    .n_bars = self->bars->len,
  };
}

static void
update (OgLeverView *self)
{
  OgLeverChart chart;

  g_array_set_size (self->bars, 0);
  for (guint i = 0; i < self->levers->len; i++)
    {
      const OgLeverBar bar = make_bar (&g_array_index (self->levers, OgLever, i),
                                       g_ptr_array_index (self->names, i), self->kind);

      g_array_append_val (self->bars, bar);
    }
  g_array_sort (self->bars, compare_bars);
  chart = get_chart (self);
  og_painted_view_describe (OG_PAINTED_VIEW (self), _("What moves the body"),
                            og_lever_chart_describe (&chart));
  gtk_widget_queue_resize (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
og_lever_view_set_levers (OgLeverView     *self,
                          const GArray    *levers,
                          const OgCatalog *catalog)
{
  g_return_if_fail (OG_IS_LEVER_VIEW (self));

  g_array_set_size (self->levers, 0);
  g_ptr_array_set_size (self->names, 0);
  for (guint i = 0; levers != NULL && i < levers->len; i++)
    {
      OgLever lever = g_array_index (levers, OgLever, i);
      const OgIngredient *ingredient = og_catalog_get (catalog, lever.ingredient_id);

      g_ptr_array_add (self->names, g_strdup (ingredient != NULL ? ingredient->name
                                                                 : lever.ingredient_id));
      lever.ingredient_id = NULL; /* lives with a recipe that may go */
      g_array_append_val (self->levers, lever);
    }
  update (self);
}

void
og_lever_view_set_kind (OgLeverView *self,
                        OgLeverKind  kind)
{
  g_return_if_fail (OG_IS_LEVER_VIEW (self));
  g_return_if_fail (kind < OG_N_LEVER_KINDS);

  if (self->kind == kind)
    return;
  self->kind = kind;
  update (self);
}

guint
og_lever_view_get_n (OgLeverView *self)
{
  g_return_val_if_fail (OG_IS_LEVER_VIEW (self), 0);

  return self->bars->len;
}

static void
og_lever_view_paint (OgPaintedView     *view,
                     cairo_t           *cr,
                     double             width,
                     double             height,
                     const OgDrawStyle *style)
{
  const OgLeverChart chart = get_chart (OG_LEVER_VIEW (view));

  og_lever_chart_draw (cr, width, height, &chart, style);
}

static void
og_lever_view_measure_height (OgPaintedView     *view,
                              double             width,
                              const OgDrawStyle *style,
                              double            *minimum,
                              double            *natural)
{
  const OgLeverChart chart = get_chart (OG_LEVER_VIEW (view));

  *minimum = ceil (og_lever_chart_height (&chart, style));
  *natural = *minimum;
}

static void
og_lever_view_finalize (GObject *object)
{
  OgLeverView *self = OG_LEVER_VIEW (object);

  g_array_unref (self->levers);
  g_ptr_array_unref (self->names);
  g_array_unref (self->bars);

  G_OBJECT_CLASS (og_lever_view_parent_class)->finalize (object);
}

static void
og_lever_view_class_init (OgLeverViewClass *class)
{
  OgPaintedViewClass *view_class = OG_PAINTED_VIEW_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = og_lever_view_finalize;
  view_class->paint = og_lever_view_paint;
  view_class->measure_height = og_lever_view_measure_height;
  view_class->least_ems = LEAST_EMS_WIDE;
  view_class->usual_ems = USUAL_EMS_WIDE;

  gtk_widget_class_set_css_name (widget_class, "leverview");
}

static void
og_lever_view_init (OgLeverView *self)
{
  self->levers = g_array_new (FALSE, FALSE, sizeof (OgLever));
  self->names = g_ptr_array_new_with_free_func (g_free);
  self->bars = g_array_new (FALSE, FALSE, sizeof (OgLeverBar));
  update (self);
}

GtkWidget *
og_lever_view_new (void)
{
  return g_object_new (OG_TYPE_LEVER_VIEW, NULL);
}
