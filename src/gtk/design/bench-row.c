/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "core/base/number-text.h"
#include "gtk/design/bench-row.h"
#include "gtk/design/bench-text.h"
#include "gtk/parts/labels.h"

struct _OgBenchRow
{
  GtkListBoxRow parent_instance;

  GtkWidget *words;
  GtkWidget *effect_label;
  char *id;
  gboolean bench;
};

G_DEFINE_FINAL_TYPE (OgBenchRow, og_bench_row, GTK_TYPE_LIST_BOX_ROW)

static GVariant *
get_target (OgBenchRow *self)
{
  return g_variant_new ("(bs)", self->bench, self->id);
}

/* Method, temperature, lot and date, as far as there are any. */
static char *
origin_to_text (const OgMeasurement *measurement)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *number = og_number_trimmed (measurement->reading.temperature_c, 1);

  g_ptr_array_add (parts, og_bench_method_to_text (&measurement->reading));
  /* Translators: %s is a temperature */
  g_ptr_array_add (parts, g_strdup_printf (_("%s °C"), number));
  if (*measurement->lot != '\0')
    /* Translators: %s is the number of a lot of material */
    g_ptr_array_add (parts, g_strdup_printf (_("lot %s"), measurement->lot));
  if (*measurement->date != '\0')
    g_ptr_array_add (parts, g_strdup (measurement->date));
  g_ptr_array_add (parts, NULL);
  return g_strjoinv (" · ", (char **) parts->pdata);
}

static GtkWidget *
make_button (OgBenchRow *self,
             const char *text,
             const char *action)
{
  GtkWidget *button = gtk_button_new_with_label (text);

  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  gtk_actionable_set_action_target_value (GTK_ACTIONABLE (button), get_target (self));
  return button;
}

static void
add_conflict (OgBenchRow         *self,
              const OgBenchEntry *entry)
{
  g_autofree char *text = og_bench_conflict_to_text (&entry->measurement->reduced, entry->lesson);
  GtkWidget *caution = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *inside = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *image = gtk_image_new_from_icon_name ("dialog-warning-symbolic");

  gtk_widget_set_valign (image, GTK_ALIGN_START);
  gtk_widget_set_hexpand (inside, TRUE);
  gtk_widget_add_css_class (caution, "caution");
  gtk_box_append (GTK_BOX (inside), og_wrapping_label_new (text, NULL));
  if (!entry->lesson->used)
    {
      GtkWidget *buttons = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

      gtk_box_append (GTK_BOX (buttons), make_button (self, _("Accept"), "reading.accept"));
      gtk_box_append (GTK_BOX (buttons), make_button (self, _("Take out"), "reading.take-out"));
      gtk_box_append (GTK_BOX (inside), buttons);
    }
  gtk_box_append (GTK_BOX (caution), image);
  gtk_box_append (GTK_BOX (caution), inside);
  gtk_box_append (GTK_BOX (self->words), caution);
}

static void
add_outcome (OgBenchRow         *self,
             const OgBenchEntry *entry)
{
  g_autofree char *agreement = NULL;

  if (entry->measurement->set_aside)
    gtk_box_append (GTK_BOX (self->words),
                    og_wrapping_label_new (_("Taken out: kept, but nothing is learned from it."),
                                "dim-label"));
  else if (entry->lesson == NULL)
    gtk_box_append (GTK_BOX (self->words),
                    og_wrapping_label_new (_("Not used here: the recipe has an own material of this name."),
                                "dim-label"));
  else if (entry->lesson->contradicts)
    add_conflict (self, entry);
  else
    {
      agreement = og_bench_agreement_to_text (entry->lesson);
      gtk_box_append (GTK_BOX (self->words), og_wrapping_label_new (agreement, NULL));
    }
}

static void
append_item (GMenu      *menu,
             OgBenchRow *self,
             const char *text,
             const char *action)
{
  g_autoptr (GMenuItem) item = g_menu_item_new (text, NULL);

  g_menu_item_set_action_and_target_value (item, action, get_target (self));
  g_menu_append_item (menu, item);
}

static GMenuModel *
make_menu (OgBenchRow         *self,
           const OgBenchEntry *entry)
{
  GMenu *menu = g_menu_new ();
  const gboolean conflict = entry->lesson != NULL && entry->lesson->contradicts
                            && !entry->measurement->set_aside;

  if (conflict && entry->measurement->accepted)
    append_item (menu, self, _("Accept no longer"), "reading.refuse");
  else if (conflict)
    append_item (menu, self, _("Accept"), "reading.accept");
  if (entry->measurement->set_aside)
    append_item (menu, self, _("Use again"), "reading.use");
  else
    append_item (menu, self, _("Take out"), "reading.take-out");
  append_item (menu, self, entry->bench ? _("Delete…") : _("Delete"), "reading.delete");
  return G_MENU_MODEL (menu);
}

static GtkWidget *
make_menu_button (OgBenchRow         *self,
                  const OgBenchEntry *entry)
{
  g_autoptr (GMenuModel) menu = make_menu (self, entry);
  GtkWidget *button = gtk_menu_button_new ();
  /* Translators: %s is what was measured */
  g_autofree char *name = g_strdup_printf (_("Actions for the reading of %s"), entry->name);

  gtk_menu_button_set_icon_name (GTK_MENU_BUTTON (button), "view-more-symbolic");
  gtk_menu_button_set_has_frame (GTK_MENU_BUTTON (button), FALSE);
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (button), menu);
  gtk_widget_set_valign (button, GTK_ALIGN_START);
  gtk_widget_set_tooltip_text (button, _("Actions for this reading"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  -1);
  return button;
}

static GtkWidget *
make_value (const OgReduced *reduced)
{
  g_autofree char *value = og_bench_value_to_text (reduced);
  g_autofree char *spread = og_bench_spread_to_text (reduced);
  GtkWidget *label = og_wrapping_label_new (value, "tile-value");

  gtk_widget_set_tooltip_text (label, spread);
  return label;
}

static void
fill (OgBenchRow         *self,
      const OgBenchEntry *entry)
{
  const OgMeasurement *measurement = entry->measurement;
  g_autofree char *value = og_bench_value_to_text (&measurement->reduced);
  g_autofree char *origin = origin_to_text (measurement);
  g_autofree char *spoken = NULL;
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  self->words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  gtk_widget_set_hexpand (self->words, TRUE);
  gtk_box_append (GTK_BOX (self->words), og_wrapping_label_new (entry->name, "reading-name"));
  gtk_box_append (GTK_BOX (self->words), make_value (&measurement->reduced));
  gtk_box_append (GTK_BOX (self->words), og_wrapping_label_new (origin, "reading-origin"));
  if (*measurement->note != '\0')
    gtk_box_append (GTK_BOX (self->words), og_wrapping_label_new (measurement->note, "reading-origin"));
  add_outcome (self, entry);
  self->effect_label = og_wrapping_label_new (NULL, NULL);
  gtk_widget_set_visible (self->effect_label, FALSE);
  gtk_box_append (GTK_BOX (self->words), self->effect_label);
  gtk_box_append (GTK_BOX (line), self->words);
  gtk_box_append (GTK_BOX (line), make_menu_button (self, entry));
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (self), FALSE);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (self), line);
  if (measurement->set_aside)
    gtk_widget_add_css_class (GTK_WIDGET (self), "set-aside");
  spoken = g_strdup_printf ("%s, %s, %s", entry->name, value, origin);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, spoken,
                                  -1);
}

gboolean
og_bench_row_get_bench (OgBenchRow *self)
{
  g_return_val_if_fail (OG_IS_BENCH_ROW (self), FALSE);

  return self->bench;
}

const char *
og_bench_row_get_id (OgBenchRow *self)
{
  g_return_val_if_fail (OG_IS_BENCH_ROW (self), NULL);

  return self->id;
}

void
og_bench_row_set_effect (OgBenchRow *self,
                         const char *effect)
{
  g_return_if_fail (OG_IS_BENCH_ROW (self));

  gtk_label_set_label (GTK_LABEL (self->effect_label), effect != NULL ? effect : "");
  gtk_widget_set_visible (self->effect_label, effect != NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  effect != NULL ? effect : "",
                                  -1);
}

static void
og_bench_row_finalize (GObject *object)
{
  OgBenchRow *self = OG_BENCH_ROW (object);

  g_free (self->id);

  G_OBJECT_CLASS (og_bench_row_parent_class)->finalize (object);
}

static void
og_bench_row_class_init (OgBenchRowClass *class)
{
  G_OBJECT_CLASS (class)->finalize = og_bench_row_finalize;
}

static void
og_bench_row_init (OgBenchRow *self)
{
}

GtkWidget *
og_bench_row_new (const OgBenchEntry *entry)
{
  OgBenchRow *self;

  g_return_val_if_fail (entry != NULL, NULL);

  self = g_object_new (OG_TYPE_BENCH_ROW, NULL);
  self->bench = entry->bench;
  self->id = g_strdup (entry->measurement->id);
  fill (self, entry);
  return GTK_WIDGET (self);
}
