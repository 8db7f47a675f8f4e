/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "core/predict/evaluate.h"
#include "gtk/design/grid-cells.h"
#include "gtk/parts/labels.h"

struct _OgNameCell
{
  GtkWidget parent_instance;

  GtkWidget *line_box;
  GtkWidget *name_label;
  GtkWidget *inci_label;
  GtkWidget *note_image;
  GtkWidget *finding_image;
  GtkWidget *phase_box;
  GtkWidget *phase_entry;
  GtkWidget *temperature_entry;
};

G_DEFINE_FINAL_TYPE (OgNameCell, og_name_cell, GTK_TYPE_WIDGET)

static void
show_phase (OgNameCell *self,
            OgRow      *row)
{
  g_autofree char *name_label = NULL;
  g_autofree char *temperature_label = NULL;
  const char *name = og_row_get_name (row);

  /* Translators: %s is the name of a phase of the recipe */
  name_label = g_strdup_printf (_("Name of phase %s"), name);
  /* Translators: %s is the name of a phase of the recipe */
  temperature_label = g_strdup_printf (_("Temperature of phase %s, °C"), name);
  og_cell_entry_set_value (OG_CELL_ENTRY (self->phase_entry), name);
  og_cell_entry_set_label (OG_CELL_ENTRY (self->phase_entry), name_label);
  og_cell_entry_set_number (OG_CELL_ENTRY (self->temperature_entry),
                            og_row_get_temperature_c (row), 0, 1);
  og_cell_entry_set_label (OG_CELL_ENTRY (self->temperature_entry), temperature_label);
}

static void
show_finding (OgNameCell *self,
              OgRow      *row)
{
  g_autofree char *text = NULL;
  int severity;

  g_object_get (row, "severity", &severity, "finding-text", &text, NULL);
  gtk_image_set_from_icon_name (GTK_IMAGE (self->finding_image),
                                severity > OG_SEVERITY_NOTE ? "dialog-warning-symbolic"
                                                            : "dialog-information-symbolic");
  gtk_widget_set_tooltip_text (self->finding_image, text);
  gtk_widget_set_visible (self->finding_image, severity > OG_SEVERITY_NOTE && text != NULL);
  if (text != NULL)
    gtk_accessible_update_property (GTK_ACCESSIBLE (self->finding_image),
                                    GTK_ACCESSIBLE_PROPERTY_LABEL, text,
                                    -1);
}

static void
show_line (OgNameCell *self,
           OgRow      *row)
{
  g_autofree char *inci = NULL;
  const char *name = og_row_get_name (row);
  const char *note = og_row_get_note (row);
  const char *second;

  g_object_get (row, "inci", &inci, NULL);
  second = og_row_get_known (row) ? inci : _("Not in the list of materials");
  gtk_label_set_label (GTK_LABEL (self->name_label), name);
  gtk_label_set_label (GTK_LABEL (self->inci_label), second != NULL ? second : "");
  gtk_widget_set_visible (self->inci_label, second != NULL && *second != '\0');
  if (og_row_get_known (row))
    gtk_widget_remove_css_class (GTK_WIDGET (self), "unknown");
  else
    gtk_widget_add_css_class (GTK_WIDGET (self), "unknown");

  gtk_widget_set_visible (self->note_image, note != NULL && *note != '\0');
  gtk_widget_set_tooltip_text (self->note_image, note);
  show_finding (self, row);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, second != NULL ? second : "",
                                  -1);
}

void
og_name_cell_set_row (OgNameCell *self,
                      OgRow      *row)
{
  gboolean phase = row != NULL && og_row_get_kind (row) == OG_ROW_PHASE;
  gboolean line = row != NULL && !phase;

  g_return_if_fail (OG_IS_NAME_CELL (self));

  gtk_widget_set_visible (self->line_box, line);
  gtk_widget_set_visible (self->phase_box, phase);
  gtk_widget_set_focusable (GTK_WIDGET (self), line);
  if (phase)
    show_phase (self, row);
  else if (line)
    show_line (self, row);
}

OgCellEntry *
og_name_cell_get_phase_entry (OgNameCell *self)
{
  g_return_val_if_fail (OG_IS_NAME_CELL (self), NULL);

  return OG_CELL_ENTRY (self->phase_entry);
}

OgCellEntry *
og_name_cell_get_temperature_entry (OgNameCell *self)
{
  g_return_val_if_fail (OG_IS_NAME_CELL (self), NULL);

  return OG_CELL_ENTRY (self->temperature_entry);
}

static gboolean
is_cut (GtkWidget *label)
{
  return gtk_widget_get_visible (label)
         && pango_layout_is_ellipsized (gtk_label_get_layout (GTK_LABEL (label)));
}

/* Names that do not fit are told in full. */
static gboolean
on_query_tooltip (OgNameCell *self,
                  int         x,
                  int         y,
                  gboolean    keyboard,
                  GtkTooltip *tooltip)
{
  g_autofree char *text = NULL;

  if (!is_cut (self->name_label) && !is_cut (self->inci_label))
    return FALSE;
  text = g_strdup_printf ("%s\n%s", gtk_label_get_label (GTK_LABEL (self->name_label)),
                          gtk_label_get_label (GTK_LABEL (self->inci_label)));
  gtk_tooltip_set_text (tooltip, g_strchomp (text));
  return TRUE;
}

static GtkWidget *
make_line_box (OgNameCell *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *names = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  self->name_label = og_ellipsizing_label_new ("material-name");
  gtk_label_set_width_chars (GTK_LABEL (self->name_label), 12);
  self->inci_label = og_ellipsizing_label_new ("material-inci");
  self->note_image = gtk_image_new_from_icon_name ("text-x-generic-symbolic");
  self->finding_image = gtk_image_new ();
  gtk_widget_add_css_class (self->finding_image, "finding-mark");
  gtk_widget_add_css_class (self->note_image, "dim-label");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->note_image),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, _("Has a note"),
                                  -1);
  gtk_widget_set_has_tooltip (names, TRUE);
  g_signal_connect_swapped (names, "query-tooltip", G_CALLBACK (on_query_tooltip), self);
  gtk_widget_set_hexpand (names, TRUE);
  gtk_widget_set_valign (names, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (names), self->name_label);
  gtk_box_append (GTK_BOX (names), self->inci_label);
  gtk_box_append (GTK_BOX (box), names);
  gtk_box_append (GTK_BOX (box), self->note_image);
  gtk_box_append (GTK_BOX (box), self->finding_image);
  return box;
}

static GtkWidget *
make_phase_box (OgNameCell *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *unit = gtk_label_new (_("°C"));

  self->phase_entry = og_cell_entry_new (FALSE);
  gtk_entry_set_has_frame (GTK_ENTRY (self->phase_entry), FALSE);
  gtk_widget_add_css_class (self->phase_entry, "phase-name");
  gtk_editable_set_width_chars (GTK_EDITABLE (self->phase_entry), 4);
  gtk_widget_set_hexpand (self->phase_entry, TRUE);

  self->temperature_entry = og_cell_entry_new (TRUE);
  g_object_set (self->temperature_entry, "optional", TRUE, "unit", "°C", NULL);
  gtk_entry_set_has_frame (GTK_ENTRY (self->temperature_entry), FALSE);
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->temperature_entry), "–");
  gtk_editable_set_width_chars (GTK_EDITABLE (self->temperature_entry), 3);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (self->temperature_entry), 4);
  gtk_widget_add_css_class (unit, "dim-label");

  gtk_box_append (GTK_BOX (box), self->phase_entry);
  gtk_box_append (GTK_BOX (box), self->temperature_entry);
  gtk_box_append (GTK_BOX (box), unit);
  return box;
}

static void
og_name_cell_dispose (GObject *object)
{
  OgNameCell *self = OG_NAME_CELL (object);

  g_clear_pointer (&self->line_box, gtk_widget_unparent);
  g_clear_pointer (&self->phase_box, gtk_widget_unparent);

  G_OBJECT_CLASS (og_name_cell_parent_class)->dispose (object);
}

static void
og_name_cell_class_init (OgNameCellClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = og_name_cell_dispose;

  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_css_name (widget_class, "namecell");
}

static void
og_name_cell_init (OgNameCell *self)
{
  self->line_box = make_line_box (self);
  self->phase_box = make_phase_box (self);
  gtk_widget_set_parent (self->line_box, GTK_WIDGET (self));
  gtk_widget_set_parent (self->phase_box, GTK_WIDGET (self));
  og_name_cell_set_row (self, NULL);
}

GtkWidget *
og_name_cell_new (void)
{
  return g_object_new (OG_TYPE_NAME_CELL, NULL);
}

struct _OgChoiceCell
{
  GtkWidget parent_instance;

  GtkWidget *choice;
  GtkWidget *button;
};

G_DEFINE_FINAL_TYPE (OgChoiceCell, og_choice_cell, GTK_TYPE_WIDGET)

GtkWidget *
og_choice_cell_get_choice (OgChoiceCell *self)
{
  g_return_val_if_fail (OG_IS_CHOICE_CELL (self), NULL);

  return self->choice;
}

GtkWidget *
og_choice_cell_get_button (OgChoiceCell *self)
{
  g_return_val_if_fail (OG_IS_CHOICE_CELL (self), NULL);

  return self->button;
}

static void
og_choice_cell_dispose (GObject *object)
{
  OgChoiceCell *self = OG_CHOICE_CELL (object);

  g_clear_pointer (&self->choice, gtk_widget_unparent);
  g_clear_pointer (&self->button, gtk_widget_unparent);

  G_OBJECT_CLASS (og_choice_cell_parent_class)->dispose (object);
}

static void
og_choice_cell_class_init (OgChoiceCellClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = og_choice_cell_dispose;

  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "choicecell");
}

static void
og_choice_cell_init (OgChoiceCell *self)
{
  self->choice = gtk_menu_button_new ();
  self->button = gtk_button_new ();
  gtk_menu_button_set_has_frame (GTK_MENU_BUTTON (self->choice), FALSE);
  gtk_widget_set_valign (self->choice, GTK_ALIGN_CENTER);
  gtk_widget_set_valign (self->button, GTK_ALIGN_CENTER);
  gtk_widget_set_halign (self->button, GTK_ALIGN_END);
  gtk_widget_add_css_class (self->button, "flat");
  gtk_widget_set_parent (self->choice, GTK_WIDGET (self));
  gtk_widget_set_parent (self->button, GTK_WIDGET (self));
  gtk_widget_set_visible (self->choice, FALSE);
  gtk_widget_set_visible (self->button, FALSE);
}

GtkWidget *
og_choice_cell_new (void)
{
  return g_object_new (OG_TYPE_CHOICE_CELL, NULL);
}
