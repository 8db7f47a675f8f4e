/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <string.h>

#include "gtk/design/bench-effects.h"
#include "gtk/design/bench-page.h"
#include "gtk/design/bench-row.h"
#include "gtk/design/bench-text.h"
#include "gtk/parts/compat.h"

struct _OgBenchPage
{
  OgDocumentPage parent_instance;

  GtkWidget *record_button;
  GtkWidget *error_box;
  GtkWidget *error_label;
  GtkWidget *scroller;
  GtkWidget *list;

  OgDocument *document; /* nullable, borrowed from the parent */
  OgBenchEffects *effects;
  char *shown;        /* what the rows tell, to know when they are stale */
  char *delete_id;    /* nullable: a reading of the bench store that the reader is asked about */
  guint n_readings;
  guint n_open;
  guint next_effect;  /* index of the first row whose effect is not worked out yet */
  guint idle;
};

G_DEFINE_FINAL_TYPE (OgBenchPage, og_bench_page, OG_TYPE_DOCUMENT_PAGE)

enum
{
  PROP_0,
  PROP_N_READINGS,
  PROP_N_OPEN,
  N_PROPS
};

enum
{
  MESSAGE,
  N_SIGNALS
};

static GParamSpec *properties[N_PROPS];
static guint signals[N_SIGNALS];

static void
say (OgBenchPage *self,
     const char  *message,
     gboolean     undoable)
{
  g_signal_emit (self, signals[MESSAGE], 0, message, undoable);
}

/* Readings */

static const OgFormula *
get_formula (OgBenchPage *self)
{
  return og_document_get_formula (self->document);
}

static void
add_line_id (OgFormulaPhase *phase,
             OgFormulaLine  *line,
             gpointer        ids)
{
  g_hash_table_add (ids, g_strdup (line->ingredient_id));
}

/* Materials of the recipe: as its lines have them, and taken apart. */
static GHashTable *
list_materials (OgBenchPage *self)
{
  GHashTable *ids = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GPtrArray) contents =
    og_formula_contents (get_formula (self), og_document_get_catalog (self->document));

  og_formula_foreach_line (get_formula (self), add_line_id, ids);
  for (guint i = 0; i < contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (contents, i);

      g_hash_table_add (ids, g_strdup (content->ingredient_id));
    }
  return ids;
}

static gboolean
is_recipe_as_now (OgBenchPage         *self,
                  const OgMeasurement *measurement)
{
  g_autoptr (OgMeasurement) now = og_measurement_new ();

  og_measurement_set_recipe (now, get_formula (self));
  if (now->lines->len != measurement->lines->len)
    return FALSE;
  for (guint i = 0; i < now->lines->len; i++)
    {
      const OgPart *a = &g_array_index (now->lines, OgPart, i);
      const OgPart *b = &g_array_index (measurement->lines, OgPart, i);

      if (!g_str_equal (a->ingredient_id, b->ingredient_id)
          || ABS (a->pct - b->pct) * OG_PPM_PER_PERCENT > 0.5)
        return FALSE;
    }
  return TRUE;
}

static const char *
name_target (OgBenchPage         *self,
             const OgMeasurement *measurement)
{
  const OgIngredient *material;

  if (measurement->material_id == NULL)
    return is_recipe_as_now (self, measurement) ? _("This recipe")
                                                : _("This recipe, as it was then");
  material = og_catalog_get (og_document_get_catalog (self->document), measurement->material_id);
  return material != NULL ? material->name : measurement->material_id;
}

static void
add_entry (OgBenchPage         *self,
           GArray              *entries,
           const OgMeasurement *measurement,
           gboolean             bench)
{
  OgBenchEntry entry = {
    .measurement = measurement,
    .lesson = og_document_find_lesson (self->document, bench, measurement->id),
    .name = name_target (self, measurement),
    .bench = bench,
  };

  g_array_append_val (entries, entry);
}

/* Returns: (transfer full) (element-type OgBenchEntry): newest first; valid until the next
 * change */
static GArray *
list_entries (OgBenchPage *self)
{
  GArray *entries = g_array_new (FALSE, FALSE, sizeof (OgBenchEntry));
  OgBenchStore *store = og_document_get_bench_store (self->document);
  const GPtrArray *own = get_formula (self)->measurements;

  for (guint i = own->len; i-- > 0;)
    add_entry (self, entries, g_ptr_array_index (own, i), FALSE);
  if (store != NULL)
    {
      const GPtrArray *bench = og_bench_store_get_measurements (store);
      g_autoptr (GHashTable) held = list_materials (self);

      for (guint i = bench->len; i-- > 0;)
        {
          const OgMeasurement *measurement = g_ptr_array_index (bench, i);

          if (g_hash_table_contains (held, measurement->material_id))
            add_entry (self, entries, measurement, TRUE);
        }
    }
  return entries;
}

static gboolean
is_open (const OgBenchEntry *entry)
{
  return !entry->measurement->set_aside && entry->lesson != NULL && entry->lesson->contradicts
         && !entry->lesson->used;
}

/* Everything that a row tells apart from the effect. */
static char *
describe_entries (const GArray *entries)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < entries->len; i++)
    {
      const OgBenchEntry *entry = &g_array_index (entries, OgBenchEntry, i);
      const OgMeasurement *measurement = entry->measurement;

      g_string_append_printf (text, "%d\n%s\n%s\n%d %d %g %g\n%s\n%s\n%s\n", entry->bench,
                              measurement->id, entry->name, measurement->set_aside,
                              measurement->accepted, measurement->reduced.mpa_s,
                              measurement->reduced.ln_sd, measurement->date, measurement->lot,
                              measurement->note);
      if (entry->lesson != NULL)
        g_string_append_printf (text, "%g %g %d %d", entry->lesson->surprise,
                                entry->lesson->predicted.value, entry->lesson->used,
                                entry->lesson->contradicts);
      g_string_append_c (text, '\n');
    }
  return g_string_free (text, FALSE);
}

/* List */

static OgBenchRow *
get_row (OgBenchPage *self,
         guint        index)
{
  GtkListBoxRow *row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), (int) index);

  return row != NULL ? OG_BENCH_ROW (row) : NULL;
}

static guint
focused_index (OgBenchPage *self)
{
  GtkWidget *child = gtk_widget_get_focus_child (self->list);

  return child != NULL ? (guint) gtk_list_box_row_get_index (GTK_LIST_BOX_ROW (child))
                       : GTK_INVALID_LIST_POSITION;
}

/* The reader keeps the place in the list, or the next one. */
static void
restore_focus (OgBenchPage *self,
               guint        index)
{
  OgBenchRow *row = self->n_readings > 0 ? get_row (self, MIN (index, self->n_readings - 1)) : NULL;

  gtk_widget_grab_focus (row != NULL ? GTK_WIDGET (row) : self->record_button);
}

static void
rebuild_rows (OgBenchPage  *self,
              const GArray *entries)
{
  const guint focused = focused_index (self);
  OgBenchRow *row;

  while ((row = get_row (self, 0)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (self->list), GTK_WIDGET (row));
  for (guint i = 0; i < entries->len; i++)
    gtk_list_box_append (GTK_LIST_BOX (self->list),
                         og_bench_row_new (&g_array_index (entries, OgBenchEntry, i)));
  self->n_readings = entries->len;
  if (focused != GTK_INVALID_LIST_POSITION)
    restore_focus (self, focused);
}

static void
show_error (OgBenchPage *self)
{
  OgBenchStore *store =
    self->document != NULL ? og_document_get_bench_store (self->document) : NULL;
  g_autoptr (GError) error = store != NULL ? og_bench_store_dup_error (store) : NULL;
  g_autofree char *text = NULL;

  gtk_widget_set_visible (self->error_box, error != NULL);
  if (error == NULL)
    return;
  /* Translators: %s says why */
  text = g_strdup_printf (_("The readings of materials cannot be used: %s"), error->message);
  gtk_label_set_label (GTK_LABEL (self->error_label), text);
}

static void
show_effect (OgBenchPage *self,
             OgBenchRow  *row)
{
  g_autofree char *text = NULL;
  OgEstimate without;
  OgEstimate with;

  if (og_formula_get_n_lines (get_formula (self)) > 0
      && og_bench_effects_find (self->effects, og_bench_row_get_bench (row),
                                og_bench_row_get_id (row), &without, &with))
    text = og_bench_effect_to_text (&without, &with);
  og_bench_row_set_effect (row, text);
}

static gboolean
on_idle (gpointer data)
{
  OgBenchPage *self = data;

  if (self->next_effect < self->n_readings)
    show_effect (self, get_row (self, self->next_effect++));
  if (self->next_effect < self->n_readings)
    return G_SOURCE_CONTINUE;
  self->idle = 0;
  return G_SOURCE_REMOVE;
}

static void
schedule (OgBenchPage *self)
{
  if (self->idle == 0 && self->next_effect < self->n_readings
      && gtk_widget_get_mapped (GTK_WIDGET (self)))
    self->idle = g_idle_add_full (G_PRIORITY_LOW, on_idle, self, NULL);
}

static void
update (OgBenchPage *self)
{
  g_autoptr (GArray) entries = NULL;
  g_autofree char *told = NULL;
  guint n_open = 0;

  entries = self->document != NULL ? list_entries (self)
                                   : g_array_new (FALSE, FALSE, sizeof (OgBenchEntry));
  told = describe_entries (entries);
  for (guint i = 0; i < entries->len; i++)
    n_open += is_open (&g_array_index (entries, OgBenchEntry, i));
  if (strcmp (told, self->shown) != 0)
    {
      rebuild_rows (self, entries);
      g_free (self->shown);
      self->shown = g_steal_pointer (&told);
    }
  self->n_open = n_open;
  self->next_effect = 0;
  show_error (self);
  schedule (self);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_N_READINGS]);
}

guint
og_bench_page_flush (OgBenchPage *self)
{
  g_return_val_if_fail (OG_IS_BENCH_PAGE (self), 0);

  g_clear_handle_id (&self->idle, g_source_remove);
  if (self->document != NULL)
    update (self);
  g_clear_handle_id (&self->idle, g_source_remove);
  while (self->next_effect < self->n_readings)
    show_effect (self, get_row (self, self->next_effect++));
  return self->n_readings;
}

static void
og_bench_page_result_changed (OgDocumentPage *page)
{
  update (OG_BENCH_PAGE (page));
}

static void
og_bench_page_follow (OgDocumentPage *page,
                      OgDocument     *document)
{
  OgBenchPage *self = OG_BENCH_PAGE (page);

  g_clear_handle_id (&self->idle, g_source_remove);
  g_clear_pointer (&self->effects, og_bench_effects_free);
  self->document = document;
  if (document != NULL)
    self->effects = og_bench_effects_new (document);
  update (self);
}

/* Actions */

/* Returns: whether the change was made; if not, the reader is told why */
static gboolean
tell_failure (OgBenchPage *self,
              GError      *error)
{
  g_autofree char *text = NULL;

  if (error == NULL)
    return TRUE;
  /* Translators: %s says why */
  text = g_strdup_printf (_("The readings of materials could not be changed: %s"), error->message);
  say (self, text, FALSE);
  return FALSE;
}

static gboolean
set_aside (OgBenchPage *self,
           gboolean     bench,
           const char  *id,
           gboolean     aside)
{
  g_autoptr (GError) error = NULL;

  if (!bench)
    return og_document_set_measurement_aside (self->document, id, aside);
  og_bench_store_set_aside (og_document_get_bench_store (self->document), id, aside, &error);
  return tell_failure (self, error);
}

static gboolean
set_accepted (OgBenchPage *self,
              gboolean     bench,
              const char  *id,
              gboolean     accepted)
{
  g_autoptr (GError) error = NULL;

  if (!bench)
    return og_document_accept_measurement (self->document, id, accepted);
  og_bench_store_accept (og_document_get_bench_store (self->document), id, accepted, &error);
  return tell_failure (self, error);
}

typedef gboolean (*ChangeFunc) (OgBenchPage *self, gboolean bench, const char *id, gboolean to);

/* Changes the reading that an action names to @to, and says so. */
static void
change_reading (GtkWidget  *widget,
                GVariant   *target,
                ChangeFunc  change,
                gboolean    to,
                const char *done)
{
  OgBenchPage *self = OG_BENCH_PAGE (widget);
  const char *id;
  gboolean bench;

  g_variant_get (target, "(b&s)", &bench, &id);
  if (change (self, bench, id, to))
    say (self, done, !bench);
}

static void
act_take_out (GtkWidget  *widget,
              const char *name,
              GVariant   *target)
{
  change_reading (widget, target, set_aside, TRUE, _("The reading was taken out"));
}

static void
act_use (GtkWidget  *widget,
         const char *name,
         GVariant   *target)
{
  change_reading (widget, target, set_aside, FALSE, _("The reading is used again"));
}

static void
act_accept (GtkWidget  *widget,
            const char *name,
            GVariant   *target)
{
  change_reading (widget, target, set_accepted, TRUE, _("The reading was accepted"));
}

static void
act_refuse (GtkWidget  *widget,
            const char *name,
            GVariant   *target)
{
  change_reading (widget, target, set_accepted, FALSE,
                  _("The reading is not accepted any more"));
}

static void
on_delete_answer (GtkWindow *parent,
                  guint      answer,
                  gpointer   data)
{
  OgBenchPage *self = data; /* a child of @parent */
  g_autofree char *id = g_steal_pointer (&self->delete_id);
  g_autoptr (GError) error = NULL;

  if (answer == 0 || self->document == NULL)
    return;
  og_bench_store_remove (og_document_get_bench_store (self->document), id, &error);
  if (tell_failure (self, error))
    say (self, _("The reading was deleted"), FALSE);
}

static void
ask_before_delete (OgBenchPage *self,
                   const char  *id)
{
  const OgAnswer answers[] = {
    { _("_Keep"), OG_ANSWER_PLAIN },
    { _("_Delete"), OG_ANSWER_DESTRUCTIVE },
  };
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));

  g_free (self->delete_id);
  self->delete_id = g_strdup (id);
  og_compat_ask (GTK_WINDOW (root), _("Delete this reading?"),
                 _("All recipes learn from it, and it cannot be brought back. Take it out instead "
                   "to keep it without learning from it."),
                 answers, G_N_ELEMENTS (answers), on_delete_answer, self);
}

static void
act_delete (GtkWidget  *widget,
            const char *name,
            GVariant   *target)
{
  OgBenchPage *self = OG_BENCH_PAGE (widget);
  const char *id;
  gboolean bench;

  g_variant_get (target, "(b&s)", &bench, &id);
  if (bench)
    ask_before_delete (self, id);
  else if (og_document_remove_measurement (self->document, id))
    say (self, _("The reading was deleted"), TRUE);
}

/* Object */

static void
og_bench_page_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (og_bench_page_parent_class)->map (widget);

  schedule (OG_BENCH_PAGE (widget));
}

static void
og_bench_page_unmap (GtkWidget *widget)
{
  g_clear_handle_id (&OG_BENCH_PAGE (widget)->idle, g_source_remove);

  GTK_WIDGET_CLASS (og_bench_page_parent_class)->unmap (widget);
}

static void
og_bench_page_get_property (GObject    *object,
                            guint       id,
                            GValue     *value,
                            GParamSpec *pspec)
{
  OgBenchPage *self = OG_BENCH_PAGE (object);

  switch (id)
    {
    case PROP_N_READINGS:
      g_value_set_uint (value, self->n_readings);
      break;
    case PROP_N_OPEN:
      g_value_set_uint (value, self->n_open);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
og_bench_page_dispose (GObject *object)
{
  OgBenchPage *self = OG_BENCH_PAGE (object);

  g_clear_handle_id (&self->idle, g_source_remove);
  g_clear_pointer (&self->effects, og_bench_effects_free);
  og_document_page_leave (OG_DOCUMENT_PAGE (self));
  self->document = NULL;
  gtk_widget_dispose_template (GTK_WIDGET (self), OG_TYPE_BENCH_PAGE);

  G_OBJECT_CLASS (og_bench_page_parent_class)->dispose (object);
}

static void
og_bench_page_finalize (GObject *object)
{
  OgBenchPage *self = OG_BENCH_PAGE (object);

  g_free (self->shown);
  g_free (self->delete_id);

  G_OBJECT_CLASS (og_bench_page_parent_class)->finalize (object);
}

static void
og_bench_page_class_init (OgBenchPageClass *class)
{
  const GParamFlags flags = G_PARAM_READABLE | G_PARAM_EXPLICIT_NOTIFY | G_PARAM_STATIC_STRINGS;
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);
  OgDocumentPageClass *page_class = OG_DOCUMENT_PAGE_CLASS (class);

  object_class->get_property = og_bench_page_get_property;
  object_class->dispose = og_bench_page_dispose;
  object_class->finalize = og_bench_page_finalize;
  widget_class->map = og_bench_page_map;
  widget_class->unmap = og_bench_page_unmap;
  page_class->follow = og_bench_page_follow;
  page_class->result_changed = og_bench_page_result_changed;

  properties[PROP_N_READINGS] =
    g_param_spec_uint ("n-readings", NULL, NULL, 0, G_MAXUINT, 0, flags);
  properties[PROP_N_OPEN] = g_param_spec_uint ("n-open", NULL, NULL, 0, G_MAXUINT, 0, flags);
  g_object_class_install_properties (object_class, N_PROPS, properties);

  signals[MESSAGE] = g_signal_new ("message", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                   NULL, NULL, NULL, G_TYPE_NONE, 2, G_TYPE_STRING,
                                   G_TYPE_BOOLEAN);

  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/oleograph/Oleograph/bench-page.ui");
  gtk_widget_class_bind_template_child (widget_class, OgBenchPage, record_button);
  gtk_widget_class_bind_template_child (widget_class, OgBenchPage, error_box);
  gtk_widget_class_bind_template_child (widget_class, OgBenchPage, error_label);
  gtk_widget_class_bind_template_child (widget_class, OgBenchPage, scroller);
  gtk_widget_class_bind_template_child (widget_class, OgBenchPage, list);
  gtk_widget_class_install_action (widget_class, "reading.take-out", "(bs)", act_take_out);
  gtk_widget_class_install_action (widget_class, "reading.use", "(bs)", act_use);
  gtk_widget_class_install_action (widget_class, "reading.accept", "(bs)", act_accept);
  gtk_widget_class_install_action (widget_class, "reading.refuse", "(bs)", act_refuse);
  gtk_widget_class_install_action (widget_class, "reading.delete", "(bs)", act_delete);
  gtk_widget_class_set_css_name (widget_class, "benchpage");
}

static void
og_bench_page_init (OgBenchPage *self)
{
  self->shown = g_strdup ("");
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
og_bench_page_new (void)
{
  return g_object_new (OG_TYPE_BENCH_PAGE, NULL);
}
