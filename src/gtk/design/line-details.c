/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "core/recipe/recipe-limits.h"
#include "gtk/design/line-details.h"
#include "gtk/parts/cell-entry.h"

typedef struct
{
  OgDocument *document;
  guint line_id;
} Details;

static void
details_free (gpointer data)
{
  Details *details = data;

  g_object_unref (details->document);
  g_free (details);
}

static char *
on_note (Details    *details,
         const char *text)
{
  og_document_set_line_note (details->document, details->line_id, *text != '\0' ? text : NULL);
  return NULL;
}

static char *
on_temperature (Details *details,
                double   value)
{
  char *problem = og_grid_temperature_problem (value);

  if (problem != NULL)
    return problem;
  og_document_set_line_temperature (details->document, details->line_id, value);
  return NULL;
}

static GtkWidget *
add_field (GtkGrid    *box,
           int         row,
           const char *title,
           gboolean    numeric)
{
  GtkWidget *label = gtk_label_new (title);
  GtkWidget *entry = og_cell_entry_new (numeric);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  gtk_widget_set_hexpand (entry, !numeric);
  gtk_widget_set_halign (entry, numeric ? GTK_ALIGN_START : GTK_ALIGN_FILL);
  gtk_grid_attach (box, label, 0, row, 1, 1);
  gtk_grid_attach (box, entry, 1, row, 1, 1);
  gtk_accessible_update_relation (GTK_ACCESSIBLE (entry),
                                  GTK_ACCESSIBLE_RELATION_LABELLED_BY, label, NULL,
                                  -1);
  return entry;
}

static GtkWidget *
make_content (Details             *details,
              const OgFormulaLine *line)
{
  GtkWidget *box = gtk_grid_new ();
  GtkWidget *note = add_field (GTK_GRID (box), 0, _("Note"), FALSE);
  GtkWidget *temperature = add_field (GTK_GRID (box), 1, _("Add at, °C"), TRUE);

  gtk_grid_set_row_spacing (GTK_GRID (box), 6);
  gtk_grid_set_column_spacing (GTK_GRID (box), 12);
  gtk_widget_add_css_class (box, "line-details");
  gtk_editable_set_width_chars (GTK_EDITABLE (note), 30);
  gtk_editable_set_width_chars (GTK_EDITABLE (temperature), 8);
  gtk_entry_set_placeholder_text (GTK_ENTRY (temperature), _("as phase"));
  g_object_set (temperature, "optional", TRUE, "unit", "°C", NULL);
  og_cell_entry_set_value (OG_CELL_ENTRY (note), line->note);
  og_cell_entry_set_number (OG_CELL_ENTRY (temperature), line->add_temperature_c, 0, 1);
  g_signal_connect_swapped (note, "submit-text", G_CALLBACK (on_note), details);
  g_signal_connect_swapped (temperature, "submit-number", G_CALLBACK (on_temperature), details);
  return box;
}

static gboolean
forget_popover (gpointer popover)
{
  if (gtk_widget_get_parent (popover) != NULL)
    gtk_widget_unparent (popover);
  return G_SOURCE_REMOVE;
}

static void
on_closed (GtkWidget  *popover,
           OgGridView *grid)
{
  OgRow *row = og_grid_view_get_current (grid);

  og_cell_entry_commit_within (gtk_popover_get_child (GTK_POPOVER (popover)));
  if (row != NULL)
    og_grid_view_go_to (grid, og_row_get_id (row), OG_COLUMN_MATERIAL);
  g_idle_add_full (G_PRIORITY_DEFAULT_IDLE, forget_popover, g_object_ref (popover), g_object_unref);
}

void
og_line_details_show (OgGridView *grid,
                      OgDocument *document,
                      OgRow      *row)
{
  const OgFormulaLine *line = og_formula_find_line (og_document_get_formula (document),
                                                    og_row_get_id (row), NULL, NULL);
  GtkWidget *anchor = og_grid_view_lookup_row (grid, og_row_get_id (row));
  GtkWidget *popover;
  graphene_rect_t bounds;
  Details *details;

  if (line == NULL || anchor == NULL
      || !gtk_widget_compute_bounds (anchor, GTK_WIDGET (grid), &bounds))
    return;
  details = g_new (Details, 1);
  *details = (Details) { .document = g_object_ref (document), .line_id = line->id };
  popover = gtk_popover_new ();
  g_object_set_data_full (G_OBJECT (popover), "og-details", details, details_free);
  gtk_popover_set_child (GTK_POPOVER (popover), make_content (details, line));
  gtk_widget_set_parent (popover, GTK_WIDGET (grid));
  gtk_popover_set_position (GTK_POPOVER (popover), GTK_POS_BOTTOM);
  gtk_popover_set_pointing_to (GTK_POPOVER (popover),
                               &(GdkRectangle) { (int) bounds.origin.x, (int) bounds.origin.y,
                                                 (int) bounds.size.width / 2,
                                                 (int) bounds.size.height });
  g_signal_connect (popover, "closed", G_CALLBACK (on_closed), grid);
  gtk_popover_popup (GTK_POPOVER (popover));
}
