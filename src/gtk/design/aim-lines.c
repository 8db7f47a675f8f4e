/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <string.h>

#include "core/base/number-text.h"
#include "gtk/design/aim-lines.h"
#include "gtk/parts/cell-entry.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/pieces.h"

#define DECIMALS 4
#define BOUND_CHARS 5

/* A line of the recipe as this page lists it. */
typedef struct
{
  guint line_id;
  char *ingredient_id;
  gboolean held;
  OgPpm low;
  OgPpm high;
  GtkWidget *check;
  GtkWidget *now_label;
  GtkWidget *bounds_box;
  GtkWidget *low_entry;
  GtkWidget *high_entry;
} Line;

struct _OgAimLines
{
  GtkWidget parent_instance;

  GtkWidget *box;
  GPtrArray *lines; /* of Line */
};

G_DEFINE_FINAL_TYPE (OgAimLines, og_aim_lines, GTK_TYPE_WIDGET)

enum
{
  CHANGED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static gboolean
varies (const Line *line)
{
  return !line->held && gtk_check_button_get_active (GTK_CHECK_BUTTON (line->check));
}

static void
free_line (gpointer data)
{
  Line *line = data;

  g_free (line->ingredient_id);
  g_free (line);
}

static void
show_bounds (Line *line)
{
  og_cell_entry_set_number (OG_CELL_ENTRY (line->low_entry), og_ppm_to_pct (line->low), 0,
                            DECIMALS);
  og_cell_entry_set_number (OG_CELL_ENTRY (line->high_entry), og_ppm_to_pct (line->high), 0,
                            DECIMALS);
}

static Line *
find_line (OgAimLines *self,
           guint       line_id)
{
  for (guint i = 0; i < self->lines->len; i++)
    {
      Line *line = g_ptr_array_index (self->lines, i);

      if (line->line_id == line_id)
        return line;
    }
  return NULL;
}

static Line *
line_of (GtkWidget *entry)
{
  return g_object_get_data (G_OBJECT (entry), "og-line");
}

/* Returns: (nullable) (transfer full): why @pct cannot be the bound @own */
static char *
set_bound (Line   *line,
           double  pct,
           OgPpm  *own,
           OgPpm   least,
           OgPpm   most)
{
  OgPpm ppm;

  if (!og_pct_to_ppm (pct, &ppm))
    return g_strdup (_("A share lies between 0 and 100 %."));
  if (ppm < least || ppm > most)
    return g_strdup (_("The least lies above the most."));
  *own = ppm;
  show_bounds (line);
  return NULL;
}

static char *
on_low (OgAimLines  *self,
        double       value,
        OgCellEntry *entry)
{
  Line *line = line_of (GTK_WIDGET (entry));

  return set_bound (line, value, &line->low, 0, line->high);
}

static char *
on_high (OgAimLines  *self,
         double       value,
         OgCellEntry *entry)
{
  Line *line = line_of (GTK_WIDGET (entry));

  return set_bound (line, value, &line->high, line->low, OG_PPM_WHOLE);
}

static void
on_line_toggled (GtkCheckButton *check,
                 OgAimLines     *self)
{
  Line *line = g_object_get_data (G_OBJECT (check), "og-line");

  gtk_widget_set_visible (line->bounds_box, gtk_check_button_get_active (check));
  g_signal_emit (self, signals[CHANGED], 0);
}

static GtkWidget *
make_bound (OgAimLines *self,
            Line       *line,
            const char *spoken,
            GCallback   callback)
{
  GtkWidget *entry = og_cell_entry_new (TRUE);

  gtk_editable_set_width_chars (GTK_EDITABLE (entry), BOUND_CHARS);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), BOUND_CHARS);
  og_align_number (GTK_EDITABLE (entry));
  og_cell_entry_set_label (OG_CELL_ENTRY (entry), spoken);
  g_object_set_data (G_OBJECT (entry), "og-line", line);
  g_signal_connect_object (entry, "submit-number", callback, self, G_CONNECT_SWAPPED);
  return entry;
}

static void
make_bounds (OgAimLines *self,
             Line       *line,
             const char *name)
{
  /* Translators: %s is a material */
  g_autofree char *low = g_strdup_printf (_("%s, at least, %%"), name);
  /* Translators: %s is a material */
  g_autofree char *high = g_strdup_printf (_("%s, at most, %%"), name);

  line->bounds_box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  line->low_entry = make_bound (self, line, low, G_CALLBACK (on_low));
  line->high_entry = make_bound (self, line, high, G_CALLBACK (on_high));
  gtk_widget_add_css_class (line->bounds_box, "line-bounds");
  gtk_box_append (GTK_BOX (line->bounds_box), line->low_entry);
  /* Translators: between the least and the most of a material */
  gtk_box_append (GTK_BOX (line->bounds_box), gtk_label_new (_("to")));
  gtk_box_append (GTK_BOX (line->bounds_box), line->high_entry);
}

/* What a line that moves may hold: its usual level, and what it holds now. */
static void
propose_bounds (Line                *line,
                const OgIngredient  *ingredient,
                const OgFormulaLine *formula_line)
{
  const OgFigure *low = ingredient != NULL ? &ingredient->figures[OG_FIGURE_USUAL_LOW_PCT] : NULL;
  const OgFigure *high = ingredient != NULL ? &ingredient->figures[OG_FIGURE_USUAL_HIGH_PCT] : NULL;

  line->low = 0;
  line->high = OG_PPM_WHOLE;
  if (low != NULL && og_figure_is_known (low))
    og_pct_to_ppm (low->value, &line->low);
  if (high != NULL && og_figure_is_known (high))
    og_pct_to_ppm (high->value, &line->high);
  line->low = MIN (line->low, formula_line->amount);
  line->high = MAX (line->high, CLAMP (formula_line->amount, 0, OG_PPM_WHOLE));
}

static void
show_amount (Line                *line,
             const OgFormulaLine *formula_line)
{
  g_autofree char *pct = og_number_trimmed (og_ppm_to_pct (formula_line->amount), DECIMALS);
  g_autofree char *text =
    line->held
      /* Translators: a share that is held */
      ? g_strdup_printf (_("%s %%, held"), pct)
      : g_strdup_printf (formula_line->balance_share > 0 ? _("%s %%, q.s.") : _("%s %%"), pct);

  gtk_label_set_label (GTK_LABEL (line->now_label), text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (line->check),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text,
                                  -1);
}

static void
add_line (OgAimLines          *self,
          const OgFormulaLine *formula_line,
          const OgCatalog     *catalog)
{
  const OgIngredient *ingredient = og_catalog_get (catalog, formula_line->ingredient_id);
  const char *name = ingredient != NULL ? ingredient->name : formula_line->ingredient_id;
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  Line *line = g_new0 (Line, 1);

  line->line_id = formula_line->id;
  line->ingredient_id = g_strdup (formula_line->ingredient_id);
  line->held = formula_line->held;
  line->check = gtk_check_button_new ();
  line->now_label = gtk_label_new (NULL);
  make_bounds (self, line, name);
  propose_bounds (line, ingredient, formula_line);
  show_bounds (line);
  gtk_check_button_set_child (GTK_CHECK_BUTTON (line->check), og_wrapping_label_new (name, NULL));
  gtk_accessible_update_property (GTK_ACCESSIBLE (line->check),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  -1);
  gtk_widget_set_hexpand (line->check, TRUE);
  gtk_widget_set_sensitive (line->check, !line->held);
  gtk_widget_set_visible (line->bounds_box, FALSE);
  gtk_widget_add_css_class (line->now_label, "dim-label");
  gtk_widget_add_css_class (line->now_label, "numeric");
  show_amount (line, formula_line);
  g_object_set_data (G_OBJECT (line->check), "og-line", line);
  g_signal_connect (line->check, "toggled", G_CALLBACK (on_line_toggled), self);
  gtk_box_append (GTK_BOX (head), line->check);
  gtk_box_append (GTK_BOX (head), line->now_label);
  gtk_box_append (GTK_BOX (self->box), head);
  gtk_box_append (GTK_BOX (self->box), line->bounds_box);
  g_ptr_array_add (self->lines, line);
}

static void
tick (Line     *line,
      gboolean  vary)
{
  gtk_check_button_set_active (GTK_CHECK_BUTTON (line->check), vary);
}

void
og_aim_lines_vary (OgAimLines *self,
                   guint       line_id,
                   gboolean    vary,
                   OgPpm       low,
                   OgPpm       high)
{
  Line *line;

  g_return_if_fail (OG_IS_AIM_LINES (self));
  g_return_if_fail (low >= 0 && low <= high && high <= OG_PPM_WHOLE);

  line = find_line (self, line_id);
  if (line == NULL)
    return;
  line->low = low;
  line->high = high;
  show_bounds (line);
  tick (line, vary);
}

static void
gather_line (OgFormulaPhase *phase,
             OgFormulaLine  *line,
             gpointer        user_data)
{
  g_ptr_array_add (user_data, line);
}

/* Returns: (transfer full) (element-type OgFormulaLine): borrowed from the recipe */
static GPtrArray *
formula_lines (const OgFormula *formula)
{
  GPtrArray *lines = g_ptr_array_new ();

  og_formula_foreach_line (formula, gather_line, lines);
  return lines;
}

static gboolean
same_lines (OgAimLines      *self,
            const GPtrArray *formula_lines)
{
  if (formula_lines->len != self->lines->len)
    return FALSE;
  for (guint i = 0; i < formula_lines->len; i++)
    {
      const OgFormulaLine *now = g_ptr_array_index (formula_lines, i);
      const Line *line = g_ptr_array_index (self->lines, i);

      if (now->id != line->line_id || now->held != line->held
          || strcmp (now->ingredient_id, line->ingredient_id) != 0)
        return FALSE;
    }
  return TRUE;
}

static gboolean
is_agent (const Line      *line,
          const OgCatalog *catalog)
{
  const OgIngredient *ingredient = og_catalog_get (catalog, line->ingredient_id);

  return ingredient != NULL && ingredient->gelling.family != OG_GEL_NONE;
}

/* To begin with, the gelling agents may move; without one, what is not held. */
static void
tick_usual (OgAimLines      *self,
            const OgCatalog *catalog)
{
  gboolean agents = FALSE;

  for (guint i = 0; i < self->lines->len; i++)
    agents |= is_agent (g_ptr_array_index (self->lines, i), catalog);
  for (guint i = 0; i < self->lines->len; i++)
    {
      Line *line = g_ptr_array_index (self->lines, i);

      tick (line, !line->held && (!agents || is_agent (line, catalog))
                    && i < OG_SOLVE_MOST_RANGES);
    }
}

/* What the reader ticked stays with its line. */
static void
rebuild (OgAimLines      *self,
         const GPtrArray *formula_lines,
         const OgCatalog *catalog)
{
  g_autoptr (GPtrArray) old = g_steal_pointer (&self->lines);
  gboolean kept = FALSE;
  GArray *ticks = g_array_new (FALSE, TRUE, sizeof (OgSolveRange));

  for (guint i = 0; i < old->len; i++)
    {
      const Line *line = g_ptr_array_index (old, i);
      const OgSolveRange range = { line->line_id, line->low, line->high };

      if (varies (line))
        g_array_append_val (ticks, range);
    }
  self->lines = g_ptr_array_new_with_free_func (free_line);
  og_box_clear (self->box);
  for (guint i = 0; i < formula_lines->len; i++)
    add_line (self, g_ptr_array_index (formula_lines, i), catalog);
  for (guint i = 0; i < ticks->len; i++)
    {
      const OgSolveRange *range = &g_array_index (ticks, OgSolveRange, i);

      kept |= find_line (self, range->line_id) != NULL;
      og_aim_lines_vary (self, range->line_id, TRUE, range->low, range->high);
    }
  if (!kept)
    tick_usual (self, catalog);
  g_array_unref (ticks);
}

guint
og_aim_lines_show (OgAimLines      *self,
                   const OgFormula *formula,
                   const OgCatalog *catalog)
{
  g_autoptr (GPtrArray) lines = NULL;

  g_return_val_if_fail (OG_IS_AIM_LINES (self), 0);

  lines = formula_lines (formula);
  if (!same_lines (self, lines))
    rebuild (self, lines, catalog);
  for (guint i = 0; i < lines->len; i++)
    show_amount (g_ptr_array_index (self->lines, i), g_ptr_array_index (lines, i));
  return lines->len;
}

GArray *
og_aim_lines_get_ranges (OgAimLines *self)
{
  GArray *ranges = g_array_new (FALSE, FALSE, sizeof (OgSolveRange));

  g_return_val_if_fail (OG_IS_AIM_LINES (self), ranges);

  for (guint i = 0; i < self->lines->len; i++)
    {
      const Line *line = g_ptr_array_index (self->lines, i);
      const OgSolveRange range = { line->line_id, line->low, line->high };

      if (varies (line))
        g_array_append_val (ranges, range);
    }
  return ranges;
}

gboolean
og_aim_lines_commit (OgAimLines *self)
{
  g_return_val_if_fail (OG_IS_AIM_LINES (self), FALSE);

  return og_cell_entry_commit_within (self->box);
}

static void
og_aim_lines_dispose (GObject *object)
{
  OgAimLines *self = OG_AIM_LINES (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);

  G_OBJECT_CLASS (og_aim_lines_parent_class)->dispose (object);
}

static void
og_aim_lines_finalize (GObject *object)
{
  g_ptr_array_unref (OG_AIM_LINES (object)->lines);

  G_OBJECT_CLASS (og_aim_lines_parent_class)->finalize (object);
}

static void
og_aim_lines_class_init (OgAimLinesClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  object_class->dispose = og_aim_lines_dispose;
  object_class->finalize = og_aim_lines_finalize;

  signals[CHANGED] = g_signal_new ("changed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                   NULL, NULL, NULL, G_TYPE_NONE, 0);

  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_css_name (widget_class, "aimlines");
}

static void
og_aim_lines_init (OgAimLines *self)
{
  self->lines = g_ptr_array_new_with_free_func (free_line);
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

GtkWidget *
og_aim_lines_new (void)
{
  return g_object_new (OG_TYPE_AIM_LINES, NULL);
}
