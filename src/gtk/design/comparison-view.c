/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/design/comparison-view.h"

#include <glib/gi18n.h>
#include <math.h>

#include "core/base/number-text.h"
#include "core/base/saying.h"
#include "core/material/chemistry.h"
#include "gtk/design/series-swatch.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/pieces.h"

#define COLUMN_SPACING 9
#define ROW_SPACING 3
#define RATIO_DIGITS 3
#define PRICE_DECIMALS 2
#define PCT_DECIMALS 4
#define CHARS 6 /* that a column asks for; it takes what there is */

struct _OgComparisonView
{
  GtkBox parent_instance;
};

G_DEFINE_FINAL_TYPE (OgComparisonView, og_comparison_view, GTK_TYPE_BOX)

/* What is filled now. */
typedef struct
{
  const OgComparison *comparison;
  GtkWidget          *grid;
  int                 row;
} Table;

/* What stands in one place of the table. */
typedef struct
{
  char       *text;   /* (transfer full) */
  char       *remark; /* (nullable) (transfer full): dim, below */
  const char *spoken; /* (nullable): after the text, for those who cannot see its sign */
  const char *css_class; /* (nullable) */
} Cell;

typedef Cell (*CellFunc) (const OgCompared *recipe);

static const OgCompared *
get (const Table *table,
     guint        column)
{
  return g_ptr_array_index (table->comparison->recipes, column);
}

static GtkWidget *
cell_label (const char *text,
            const char *css_class)
{
  GtkWidget *label = og_wrapping_label_new (text, css_class);

  gtk_label_set_width_chars (GTK_LABEL (label), CHARS);
  gtk_label_set_max_width_chars (GTK_LABEL (label), CHARS);
  gtk_widget_set_hexpand (label, TRUE);
  return label;
}

/* Takes what @cell holds. */
static void
add_cell (Table      *table,
          guint       column,
          const char *title,
          Cell        cell)
{
  const OgCompared *recipe = get (table, column);
  g_autofree char *text = cell.text;
  g_autofree char *remark = cell.remark;
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *label = cell_label (text, "comparison-value");
  g_autoptr (GString) spoken = g_string_new (title);

  if (cell.css_class != NULL)
    gtk_widget_add_css_class (label, cell.css_class);
  gtk_box_append (GTK_BOX (box), label);
  if (remark != NULL)
    gtk_box_append (GTK_BOX (box), cell_label (remark, "tile-remark"));
  g_string_append_printf (spoken, ", %s: %s", recipe->name, text);
  if (cell.spoken != NULL)
    g_string_append_printf (spoken, ", %s", cell.spoken);
  gtk_accessible_update_property (GTK_ACCESSIBLE (label), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken->str, -1);
  gtk_grid_attach (GTK_GRID (table->grid), box, (int) column, table->row, 1, 1);
}

static void
add_wide (Table      *table,
          const char *text,
          const char *css_class)
{
  gtk_grid_attach (GTK_GRID (table->grid), og_wrapping_label_new (text, css_class), 0, table->row++,
                   (int) table->comparison->recipes->len, 1);
}

/* Each part begins with the names, so that they stay in sight. */
static void
add_section (Table      *table,
             const char *title)
{
  add_wide (table, title, "comparison-section");
  for (guint i = 0; i < table->comparison->recipes->len; i++)
    {
      GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, ROW_SPACING);

      gtk_box_append (GTK_BOX (box), og_series_swatch_new (i));
      gtk_box_append (GTK_BOX (box), cell_label (get (table, i)->name, "comparison-name"));
      gtk_grid_attach (GTK_GRID (table->grid), box, (int) i, table->row, 1, 1);
    }
  table->row++;
}

static void
add_row (Table      *table,
         const char *title,
         CellFunc    func)
{
  add_wide (table, title, "comparison-title");
  for (guint i = 0; i < table->comparison->recipes->len; i++)
    add_cell (table, i, title, func (get (table, i)));
  table->row++;
}

/* --- lines ----------------------------------------------------------------- */

static Cell
line_cell (const OgComparedLine *line,
           guint                 column)
{
  static const struct
  {
    const char *sign;
    const char *css_class;
  } looks[OG_N_LINE_CHANGES] = {
    [OG_LINE_SAME] = { "", NULL },
    [OG_LINE_MORE] = { "▲ ", "gained" },
    [OG_LINE_LESS] = { "▼ ", "lost" },
    [OG_LINE_GAINED] = { "+ ", "gained" },
    [OG_LINE_LOST] = { "–", "lost" },
    [OG_LINE_ABSENT] = { "–", "dim-label" },
  };
  const OgLineChange change = line->changes[column];
  const gboolean there = change != OG_LINE_LOST && change != OG_LINE_ABSENT;
  g_autofree char *pct = og_number_trimmed (og_ppm_to_pct (line->amounts[column]), PCT_DECIMALS);

  return (Cell) {
    .text = g_strconcat (looks[change].sign, there ? pct : NULL, NULL),
    .spoken = column > 0 && change != OG_LINE_ABSENT ? og_line_change_get_name (change) : NULL,
    .css_class = looks[change].css_class,
  };
}

static void
add_lines (Table *table)
{
  add_section (table, _("Lines, wt %"));
  for (guint l = 0; l < table->comparison->lines->len; l++)
    {
      const OgComparedLine *line = g_ptr_array_index (table->comparison->lines, l);

      add_wide (table, line->name, "comparison-title");
      for (guint i = 0; i < table->comparison->recipes->len; i++)
        add_cell (table, i, line->name, line_cell (line, i));
      table->row++;
    }
}

/* --- body ------------------------------------------------------------------ */

static Cell
body_cell (const OgCompared *recipe)
{
  return (Cell) { .text = g_strdup (og_body_get_name (recipe->result->body)) };
}

static Cell
viscosity_cell (const OgEstimate *estimate)
{
  return (Cell) { .text = og_number_viscosity (estimate->value), .remark = og_number_range (estimate) };
}

static Cell
rest_cell (const OgCompared *recipe)
{
  return viscosity_cell (&recipe->result->rest);
}

static Cell
pour_cell (const OgCompared *recipe)
{
  return viscosity_cell (&recipe->result->pour);
}

static Cell
rub_cell (const OgCompared *recipe)
{
  return viscosity_cell (&recipe->result->rub);
}

static Cell
ratio_cell (const OgEstimate *ratio)
{
  g_autofree char *low = og_number_significant (ratio->low80, RATIO_DIGITS);
  g_autofree char *high = og_number_significant (ratio->high80, RATIO_DIGITS);
  const gboolean known = og_estimate_is_known (ratio);

  return (Cell) {
    .text = og_number_significant (ratio->value, RATIO_DIGITS),
    .remark = known && ratio->low80 < ratio->high80 ? g_strdup_printf (_("%s–%s"), low, high) : NULL,
  };
}

static Cell
rest_ratio_cell (const OgCompared *recipe)
{
  return ratio_cell (&recipe->ratios[OG_COMPARISON_REST]);
}

static Cell
pour_ratio_cell (const OgCompared *recipe)
{
  return ratio_cell (&recipe->ratios[OG_COMPARISON_POUR]);
}

static Cell
rub_ratio_cell (const OgCompared *recipe)
{
  return ratio_cell (&recipe->ratios[OG_COMPARISON_RUB]);
}

static void
add_body (Table *table)
{
  add_section (table, _("Body at 25 °C, with 80 % bands"));
  add_row (table, _("Body"), body_cell);
  add_row (table, _("At rest, mPa·s"), rest_cell);
  add_row (table, _("Poured, mPa·s"), pour_cell);
  add_row (table, _("Rubbed, mPa·s"), rub_cell);
  add_row (table, _("Times as thick at rest"), rest_ratio_cell);
  add_row (table, _("Times as thick when poured"), pour_ratio_cell);
  add_row (table, _("Times as thick when rubbed"), rub_ratio_cell);
}

/* --- oils, keeping, cost, label -------------------------------------------- */

static void
add_profile (Table *table)
{
  double shares[OG_COMPARISON_MAX][OG_N_ACID_CLASSES];
  const guint n = table->comparison->recipes->len;

  for (guint i = 0; i < n; i++)
    og_profile_class_shares (get (table, i)->result->profile, shares[i]);
  add_section (table, _("Fatty acids, %"));
  for (guint a = 0; a < OG_N_ACID_CLASSES; a++)
    {
      const char *title = og_acid_class_get_name ((OgAcidClass) a);
      gboolean any = FALSE;

      for (guint i = 0; i < n; i++)
        any = any || shares[i][a] > 0.0;
      if (!any)
        continue;
      add_wide (table, title, "comparison-title");
      for (guint i = 0; i < n; i++)
        add_cell (table, i, title, (Cell) { .text = og_number_fixed (shares[i][a], 1) });
      table->row++;
    }
}

static Cell
keeping_cell (const OgCompared *recipe)
{
  return (Cell) { .text = og_saying_take_text (og_keeping_span_saying (&recipe->keeping->room)) };
}

static Cell
price_cell (const OgCompared *recipe)
{
  return (Cell) { .text = og_number_fixed (recipe->price, PRICE_DECIMALS),
                  .remark = isfinite (recipe->price) ? g_strdup (recipe->currency) : NULL };
}

/* The names that come and go, each with its sign; the first recipe is told as a number of names. */
static Cell
declaration_cell (const OgCompared *recipe)
{
  g_autoptr (GString) names = g_string_new (NULL);
  const guint n = recipe->declaration->entries->len;

  for (guint i = 0; i < recipe->effects->len; i++)
    {
      const OgEffect *effect = g_ptr_array_index (recipe->effects, i);

      if (effect->kind == OG_EFFECT_NAME_GAINED)
        g_string_append_printf (names, "%s+ %s", names->len > 0 ? "\n" : "", og_saying_text (effect->after));
      else if (effect->kind == OG_EFFECT_NAME_LOST)
        g_string_append_printf (names, "%s– %s", names->len > 0 ? "\n" : "", og_saying_text (effect->before));
    }
  return (Cell) { .text = g_strdup_printf (ngettext ("%u name", "%u names", n), n),
                  .remark = names->len > 0 ? g_strdup (names->str) : NULL };
}

static Cell
findings_cell (const OgCompared *recipe)
{
  guint n = 0;

  for (guint i = 0; i < recipe->result->findings->len; i++)
    n += ((const OgFinding *) g_ptr_array_index (recipe->result->findings, i))->severity
         != OG_SEVERITY_NOTE;
  return (Cell) { .text = g_strdup_printf ("%u", n) };
}

static Cell
trials_cell (const OgCompared *recipe)
{
  g_autoptr (GString) dates = g_string_new (NULL);
  g_autoptr (GString) values = g_string_new (NULL);

  for (guint i = 0; i < recipe->trials->len; i++)
    {
      const OgMeasurement *trial = g_ptr_array_index (recipe->trials, i);
      g_autofree char *value = og_number_with_unit (trial->reduced.mpa_s);

      g_string_append_printf (values, "%s%s", i > 0 ? "\n" : "", value);
      g_string_append_printf (dates, "%s%s", dates->len > 0 && *trial->date != '\0' ? "\n" : "", trial->date);
    }
  return (Cell) { .text = g_strdup (values->len > 0 ? values->str : _("none")),
                  .remark = dates->len > 0 ? g_strdup (dates->str) : NULL };
}

static void
add_rest (Table *table)
{
  add_section (table, _("Keeping, cost, label, trials"));
  add_row (table, _("Keeps, closed and dark"), keeping_cell);
  add_row (table, _("Materials, a kilogram"), price_cell);
  add_row (table, _("Ingredient list, EU"), declaration_cell);
  add_row (table, _("Cautions"), findings_cell);
  add_row (table, _("Readings of just this"), trials_cell);
}

/* --- in words -------------------------------------------------------------- */

static gboolean
is_caution (const OgEffect *effect)
{
  return effect->kind == OG_EFFECT_FINDING_GAINED || effect->kind == OG_EFFECT_FINDING_LOST;
}

static void
add_sentence (GtkWidget  *box,
              const char *text)
{
  g_autofree char *line = g_strconcat ("• ", text, NULL);

  gtk_box_append (GTK_BOX (box), og_wrapping_label_new (line, NULL));
}

static void
add_cautions (GtkWidget        *box,
              const OgCompared *recipe)
{
  for (guint i = 0; i < recipe->effects->len; i++)
    {
      const OgEffect *effect = g_ptr_array_index (recipe->effects, i);
      const gboolean gained = effect->kind == OG_EFFECT_FINDING_GAINED;
      g_autofree char *text = NULL;

      if (!is_caution (effect))
        continue;
      /* Translators: a caution or a note that a recipe has beyond another */
      text = gained ? g_strdup_printf (_("New there: %s"), og_saying_text (effect->after))
                    /* Translators: a caution or a note that a recipe does not have any more */
                    : g_strdup_printf (_("Not there: %s"), og_saying_text (effect->before));
      add_sentence (box, text);
    }
}

static void
add_words (OgComparisonView *self,
           const OgCompared *recipe)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, ROW_SPACING);
  /* Translators: %s is a version or a file */
  g_autofree char *title = g_strdup_printf (_("What is different in “%s”"), recipe->name);

  gtk_box_append (GTK_BOX (box), og_wrapping_label_new (title, "comparison-section"));
  for (guint i = 0; i < recipe->changes->len; i++)
    add_sentence (box, og_saying_text (g_ptr_array_index (recipe->changes, i)));
  if (recipe->changes->len == 0)
    gtk_box_append (GTK_BOX (box), og_wrapping_label_new (_("Nothing: it is as it stands."), NULL));
  add_cautions (box, recipe);
  gtk_box_append (GTK_BOX (self), box);
}

/* --- all of it ------------------------------------------------------------- */

static GtkWidget *
make_table (const OgComparison *comparison)
{
  Table table = { comparison, gtk_grid_new (), 0 };

  gtk_grid_set_column_homogeneous (GTK_GRID (table.grid), TRUE);
  gtk_grid_set_column_spacing (GTK_GRID (table.grid), COLUMN_SPACING);
  gtk_grid_set_row_spacing (GTK_GRID (table.grid), ROW_SPACING);
  add_lines (&table);
  add_body (&table);
  add_profile (&table);
  add_rest (&table);
  return table.grid;
}

void
og_comparison_view_show (OgComparisonView   *self,
                         const OgComparison *comparison)
{
  g_return_if_fail (OG_IS_COMPARISON_VIEW (self));

  og_box_clear (GTK_WIDGET (self));
  gtk_widget_set_visible (GTK_WIDGET (self), comparison != NULL);
  if (comparison == NULL)
    return;
  for (guint i = 1; i < comparison->recipes->len; i++)
    add_words (self, g_ptr_array_index (comparison->recipes, i));
  gtk_box_append (GTK_BOX (self), make_table (comparison));
}

static void
og_comparison_view_class_init (OgComparisonViewClass *class)
{
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (class), GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (class), "comparisonview");
}

static void
og_comparison_view_init (OgComparisonView *self)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self), COLUMN_SPACING);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Side by side"),
                                  -1);
}

GtkWidget *
og_comparison_view_new (void)
{
  return g_object_new (OG_TYPE_COMPARISON_VIEW, NULL);
}
