/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "gtk/parts/labels.h"
#include "gtk/parts/material-chooser.h"
#include "gtk/parts/pieces.h"
#include "gtk/parts/text-undo.h"

#define MOST_HITS 8
#define ID_DATA "og-id"
#define TITLE_CHARS 20

struct _OgMaterialChooser
{
  GtkBox parent_instance;

  GtkWidget *title_label;
  GtkWidget *entry;
  GtkWidget *list;
  GtkWidget *more_label;
  GtkWidget *problem_label;

  OgCatalog *catalog;
  char *id; /* nullable */
  char *sure; /* nullable: id of the hit that was meant without doubt */
  gboolean filling;
};

G_DEFINE_FINAL_TYPE (OgMaterialChooser, og_material_chooser, GTK_TYPE_BOX)

enum
{
  CHANGED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

const OgIngredient *
og_material_chooser_get (OgMaterialChooser *self)
{
  g_return_val_if_fail (OG_IS_MATERIAL_CHOOSER (self), NULL);

  return self->id != NULL ? og_catalog_get (self->catalog, self->id) : NULL;
}

void
og_material_chooser_set_problem (OgMaterialChooser *self,
                                 const char        *problem)
{
  g_return_if_fail (OG_IS_MATERIAL_CHOOSER (self));

  og_label_set_optional (self->problem_label, problem);
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->entry),
                               GTK_ACCESSIBLE_STATE_INVALID,
                               problem != NULL ? GTK_ACCESSIBLE_INVALID_TRUE
                                               : GTK_ACCESSIBLE_INVALID_FALSE,
                               -1);
}

static void
clear_hits (OgMaterialChooser *self)
{
  og_list_clear (self->list);
  g_clear_pointer (&self->sure, g_free);
  gtk_widget_set_visible (self->list, FALSE);
  og_label_set_optional (self->more_label, NULL);
}

gboolean
og_material_chooser_choose (OgMaterialChooser *self,
                            const char        *id)
{
  const OgIngredient *material;

  g_return_val_if_fail (OG_IS_MATERIAL_CHOOSER (self), FALSE);

  material = og_catalog_get (self->catalog, id);
  if (material == NULL)
    return FALSE;
  g_free (self->id);
  self->id = g_strdup (id);
  self->filling = TRUE;
  og_editable_show (GTK_EDITABLE (self->entry), material->name);
  gtk_editable_set_position (GTK_EDITABLE (self->entry), -1);
  self->filling = FALSE;
  clear_hits (self);
  og_material_chooser_set_problem (self, NULL);
  g_signal_emit (self, signals[CHANGED], 0);
  return TRUE;
}

static void
add_hit (OgMaterialChooser  *self,
         const OgIngredient *material)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  gtk_box_append (GTK_BOX (box), og_wrapping_label_new (material->name, NULL));
  if (material->inci != NULL)
    gtk_box_append (GTK_BOX (box), og_wrapping_label_new (material->inci, "fact-origin"));
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, material->name,
                                  -1);
  g_object_set_data_full (G_OBJECT (row), ID_DATA, g_strdup (material->id), g_free);
  gtk_list_box_append (GTK_LIST_BOX (self->list), row);
}

static void
show_hits (OgMaterialChooser *self)
{
  const char *words = gtk_editable_get_text (GTK_EDITABLE (self->entry));
  g_autoptr (GArray) hits = NULL;
  const OgIngredient *sure;

  clear_hits (self);
  if (*words == '\0')
    return;
  hits = og_catalog_search (self->catalog, words);
  sure = og_hits_get_sure (hits);
  self->sure = g_strdup (sure != NULL ? sure->id : NULL);
  for (guint i = 0; i < MIN (hits->len, MOST_HITS); i++)
    add_hit (self, g_array_index (hits, OgHit, i).ingredient);
  gtk_widget_set_visible (self->list, hits->len > 0);
  if (hits->len == 0)
    og_label_set_optional (self->more_label, _("No material matches."));
  else if (og_hits_are_near (hits))
    og_label_set_optional (self->more_label, _("Nothing is called so; these are near it."));
  else if (hits->len > MOST_HITS)
    og_label_set_optional (self->more_label, _("More match: type another word."));
}

static void
on_text (OgMaterialChooser *self)
{
  if (self->filling)
    return;
  if (self->id != NULL)
    {
      g_clear_pointer (&self->id, g_free);
      g_signal_emit (self, signals[CHANGED], 0);
    }
  show_hits (self);
}

static void
take_row (OgMaterialChooser *self,
          GtkListBoxRow     *row)
{
  og_material_chooser_choose (self, g_object_get_data (G_OBJECT (row), ID_DATA));
  gtk_widget_grab_focus (self->entry);
}

/* Enter takes what was meant without doubt, else goes to the hits; once a material is chosen it is
 * for the form. */
static void
on_enter (OgMaterialChooser *self)
{
  g_autofree char *sure = g_strdup (self->sure);
  GtkListBoxRow *row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), 0);

  if (sure != NULL)
    og_material_chooser_choose (self, sure);
  else if (row != NULL)
    gtk_widget_grab_focus (GTK_WIDGET (row));
  else
    gtk_widget_activate_default (GTK_WIDGET (self));
}

void
og_material_chooser_join (OgMaterialChooser *self,
                          GtkSizeGroup      *titles)
{
  g_return_if_fail (OG_IS_MATERIAL_CHOOSER (self));

  gtk_size_group_add_widget (titles, self->title_label);
}

static gboolean
og_material_chooser_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (OG_MATERIAL_CHOOSER (widget)->entry);
}

static void
og_material_chooser_finalize (GObject *object)
{
  OgMaterialChooser *self = OG_MATERIAL_CHOOSER (object);

  g_clear_pointer (&self->catalog, og_catalog_unref);
  g_free (self->id);
  g_free (self->sure);

  G_OBJECT_CLASS (og_material_chooser_parent_class)->finalize (object);
}

static void
og_material_chooser_class_init (OgMaterialChooserClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = og_material_chooser_finalize;
  widget_class->grab_focus = og_material_chooser_grab_focus;

  signals[CHANGED] = g_signal_new ("changed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                   NULL, NULL, G_TYPE_NONE, 0);

  gtk_widget_class_set_css_name (widget_class, "materialchooser");
}

static void
og_material_chooser_init (OgMaterialChooser *self)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);

  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self), 3);
  self->title_label = og_wrapping_label_new (NULL, NULL);
  gtk_label_set_max_width_chars (GTK_LABEL (self->title_label), TITLE_CHARS);
  self->entry = gtk_search_entry_new ();
  og_search_entry_keep_focus (self->entry);
  gtk_widget_set_hexpand (self->entry, TRUE);
  self->list = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (self->list), GTK_SELECTION_NONE);
  gtk_widget_set_visible (self->list, FALSE);
  gtk_widget_add_css_class (self->list, "frame");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, _("Materials that match"),
                                  -1);
  self->more_label = og_wrapping_label_new (NULL, "fact-origin");
  gtk_widget_set_visible (self->more_label, FALSE);
  self->problem_label = og_wrapping_label_new (NULL, "field-problem");
  gtk_widget_add_css_class (self->problem_label, "error");
  gtk_widget_set_visible (self->problem_label, FALSE);
  gtk_box_append (GTK_BOX (line), self->title_label);
  gtk_box_append (GTK_BOX (line), self->entry);
  gtk_box_append (GTK_BOX (self), line);
  gtk_box_append (GTK_BOX (self), self->list);
  gtk_box_append (GTK_BOX (self), self->more_label);
  gtk_box_append (GTK_BOX (self), self->problem_label);
  g_signal_connect_swapped (self->entry, "changed", G_CALLBACK (on_text), self);
  g_signal_connect_swapped (self->entry, "activate", G_CALLBACK (on_enter), self);
  g_signal_connect_swapped (self->list, "row-activated", G_CALLBACK (take_row), self);
}

GtkWidget *
og_material_chooser_new (const char *title,
                         OgCatalog  *catalog)
{
  OgMaterialChooser *self = g_object_new (OG_TYPE_MATERIAL_CHOOSER, NULL);

  self->catalog = og_catalog_ref (catalog);
  gtk_label_set_label (GTK_LABEL (self->title_label), title);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, title,
                                  -1);
  return GTK_WIDGET (self);
}
