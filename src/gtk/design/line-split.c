/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "core/base/number-text.h"
#include "gtk/design/line-split.h"
#include "gtk/parts/drop-down.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/text-undo.h"
#include "gtk/parts/typed-number.h"

#define SPACING 12

typedef struct
{
  OgGridView *grid;     /* borrowed: the popover is its child */
  OgDocument *document;
  guint line_id;
  GtkWidget *popover;
  GtkWidget *amount_entry;
  GtkWidget *phase_drop_down;
  GtkWidget *problem_label;
} Split;

static void
split_free (gpointer data)
{
  Split *split = data;

  g_object_unref (split->document);
  g_free (split);
}

/* Returns: (transfer full) (nullable): why the part cannot be taken out */
static char *
read_part (Split               *split,
           const OgFormulaLine *line,
           OgPpm               *part)
{
  const double batch_g = og_document_get_formula (split->document)->batch_g;
  g_autofree char *whole = og_number_trimmed (og_ppm_to_pct (line->amount), 4);
  gboolean is_grams;
  double value;
  char *problem = og_typed_amount (gtk_editable_get_text (GTK_EDITABLE (split->amount_entry)), "%", "g",
                                   &value, &is_grams);

  if (problem != NULL)
    return problem;
  if ((is_grams ? og_g_to_ppm (value, batch_g, part) : og_pct_to_ppm (value, part))
      && *part > 0 && *part < line->amount)
    return NULL;
  /* Translators: %s is the amount of a line in per cent */
  return g_strdup_printf (_("A part lies between 0 and the %s %% of the line."), whole);
}

static void
on_split (Split *split)
{
  const OgFormula *formula = og_document_get_formula (split->document);
  const OgFormulaLine *line = og_formula_find_line (formula, split->line_id, NULL, NULL);
  const guint chosen = gtk_drop_down_get_selected (GTK_DROP_DOWN (split->phase_drop_down));
  g_autofree char *problem = NULL;
  OgPpm part;
  guint id;

  if (line == NULL || chosen >= formula->phases->len)
    return;
  problem = read_part (split, line, &part);
  og_label_set_optional (split->problem_label, problem);
  if (problem != NULL)
    {
      gtk_widget_error_bell (split->amount_entry);
      gtk_widget_grab_focus (split->amount_entry);
      return;
    }
  id = og_document_split_line (split->document, split->line_id, part,
                               ((OgFormulaPhase *) g_ptr_array_index (formula->phases, chosen))->id);
  og_grid_view_go_to (split->grid, id, OG_COLUMN_PERCENT);
  gtk_popover_popdown (GTK_POPOVER (split->popover));
}

/* The phase after that of the line comes first to mind: what is kept back goes in later. */
static GtkWidget *
make_phases (const OgFormula *formula,
             guint            line_id)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  OgFormulaPhase *own = NULL;
  GtkWidget *drop_down;
  guint position = 0;

  for (guint i = 0; i < formula->phases->len; i++)
    gtk_string_list_append (names, ((OgFormulaPhase *) g_ptr_array_index (formula->phases, i))->name);
  drop_down = gtk_drop_down_new (G_LIST_MODEL (g_steal_pointer (&names)), NULL);
  og_formula_find_line (formula, line_id, &own, NULL);
  og_formula_find_phase (formula, own->id, &position);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (drop_down), MIN (position + 1, formula->phases->len - 1));
  og_drop_down_set_name (drop_down, _("Phase for this part"));
  return drop_down;
}

static GtkWidget *
make_amount (const OgFormulaLine *line)
{
  GtkWidget *entry = gtk_entry_new ();
  g_autofree char *half = og_number_trimmed (og_ppm_to_pct (line->amount / 2), 4);

  og_editable_show (GTK_EDITABLE (entry), half);
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 8);
  gtk_entry_set_input_purpose (GTK_ENTRY (entry), GTK_INPUT_PURPOSE_NUMBER);
  gtk_widget_add_css_class (entry, "numeric");
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry),
                                  /* xgettext:no-c-format */
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, _("Part to take out, wt % or g"),
                                  -1);
  return entry;
}

static GtkWidget *
make_content (Split               *split,
              const OgFormulaLine *line)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, SPACING);
  GtkWidget *fields = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, SPACING);
  GtkWidget *button = gtk_button_new_with_label (_("Split"));

  split->amount_entry = make_amount (line);
  split->phase_drop_down = make_phases (og_document_get_formula (split->document), line->id);
  split->problem_label = og_wrapping_label_new (NULL, "error");
  gtk_widget_set_visible (split->problem_label, FALSE);
  gtk_widget_add_css_class (button, "suggested-action");
  gtk_box_append (GTK_BOX (fields), split->amount_entry);
  /* Translators: between an amount in per cent and the name of a phase: "20.5 % into Cool down" */
  /* xgettext:no-c-format */
  gtk_box_append (GTK_BOX (fields), gtk_label_new (_("% into")));
  gtk_box_append (GTK_BOX (fields), split->phase_drop_down);
  gtk_box_append (GTK_BOX (fields), button);
  gtk_box_append (GTK_BOX (box), fields);
  gtk_box_append (GTK_BOX (box), split->problem_label);
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (on_split), split);
  g_signal_connect_swapped (split->amount_entry, "activate", G_CALLBACK (on_split), split);
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
on_closed (GtkWidget *popover)
{
  g_idle_add_full (G_PRIORITY_DEFAULT_IDLE, forget_popover, g_object_ref (popover), g_object_unref);
}

void
og_line_split_show (OgGridView *grid,
                    OgDocument *document,
                    OgRow      *row)
{
  const OgFormulaLine *line = og_formula_find_line (og_document_get_formula (document),
                                                    og_row_get_id (row), NULL, NULL);
  GtkWidget *anchor = og_grid_view_lookup_row (grid, og_row_get_id (row));
  graphene_rect_t bounds;
  Split *split;

  if (line == NULL || anchor == NULL || !gtk_widget_compute_bounds (anchor, GTK_WIDGET (grid), &bounds))
    return;
  split = g_new0 (Split, 1);
  *split = (Split) { .grid = grid, .document = g_object_ref (document), .line_id = line->id };
  split->popover = gtk_popover_new ();
  g_object_set_data_full (G_OBJECT (split->popover), "og-split", split, split_free);
  gtk_popover_set_child (GTK_POPOVER (split->popover), make_content (split, line));
  gtk_widget_set_parent (split->popover, GTK_WIDGET (grid));
  gtk_popover_set_position (GTK_POPOVER (split->popover), GTK_POS_BOTTOM);
  gtk_popover_set_pointing_to (GTK_POPOVER (split->popover),
                               &(GdkRectangle) { (int) bounds.origin.x, (int) bounds.origin.y,
                                                 (int) bounds.size.width / 2, (int) bounds.size.height });
  g_signal_connect (split->popover, "closed", G_CALLBACK (on_closed), NULL);
  gtk_popover_popup (GTK_POPOVER (split->popover));
}
