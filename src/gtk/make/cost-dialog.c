/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "core/base/currency.h"
#include "core/recipe/recipe-limits.h"
#include "gtk/make/cost-dialog.h"
#include "gtk/parts/cell-entry.h"
#include "gtk/parts/table-editor.h"
#include "gtk/parts/typed-number.h"

#define DECIMALS 4
#define PRICE_CHARS 8
#define CURRENCY_CHARS 6

typedef enum
{
  COLUMN_NAME,
  COLUMN_PRICE,
  COLUMN_CURRENCY,
  COLUMN_BASIS,
  N_COLUMNS
} Column;

struct _OgCostDialog
{
  GtkWindow parent_instance;

  GtkWidget *table_box;
  GtkWidget *table;
  OgTableColumn columns[N_COLUMNS];
  const char *bases[OG_N_COST_BASES + 1];

  OgDocument *document;
};

G_DEFINE_FINAL_TYPE (OgCostDialog, og_cost_dialog, GTK_TYPE_WINDOW)

static OgTableEditor *
get_table (OgCostDialog *self)
{
  return OG_TABLE_EDITOR (self->table);
}

static gboolean
read_price (OgCostDialog *self,
            guint         row,
            double       *price)
{
  g_autofree char *text = og_table_editor_get_text (get_table (self), row, COLUMN_PRICE);
  g_autofree char *problem = NULL;

  problem = og_typed_number (text, price);
  if (problem == NULL && *price >= 0.0 && *price <= OG_RECIPE_MAX_PRICE)
    return TRUE;
  if (problem == NULL)
    /* Translators: %s is what the user typed */
    problem = g_strdup_printf (_("“%s” is not a price."), text);
  if (*text == '\0')
    {
      g_free (problem);
      problem = g_strdup (_("A price is missing here."));
    }
  og_table_editor_set_problem (get_table (self), row, COLUMN_PRICE, problem);
  return FALSE;
}

static gboolean
check_currency (OgCostDialog *self,
                guint         row,
                const char   *currency)
{
  const gboolean good = *currency == '\0' || og_currency_find (currency) != NULL;

  og_table_editor_set_problem (get_table (self), row, COLUMN_CURRENCY,
                               good ? NULL : _("A code of three letters, such as EUR."));
  return good;
}

/* Returns: (transfer full) (nullable): NULL, said in the row, if it makes no sense */
static OgCostLine *
read_row (OgCostDialog *self,
          guint         row)
{
  OgTableEditor *table = get_table (self);
  g_autofree char *name = og_table_editor_get_text (table, row, COLUMN_NAME);
  g_autofree char *currency = og_table_editor_get_text (table, row, COLUMN_CURRENCY);
  double price;

  og_table_editor_set_problem (table, row, COLUMN_NAME, NULL);
  if (*name == '\0')
    {
      og_table_editor_set_problem (table, row, COLUMN_NAME, _("What is it for?"));
      return NULL;
    }
  if (!read_price (self, row, &price) || !check_currency (self, row, currency))
    return NULL;
  return og_cost_line_new (name, price, currency,
                           (OgCostBasis) og_table_editor_get_choice (table, row, COLUMN_BASIS));
}

gboolean
og_cost_dialog_apply (OgCostDialog *self)
{
  g_autoptr (GPtrArray) costs =
    g_ptr_array_new_with_free_func ((GDestroyNotify) og_cost_line_free);
  gboolean good = TRUE;

  g_return_val_if_fail (OG_IS_COST_DIALOG (self), FALSE);

  for (guint i = 0; i < og_table_editor_get_n_rows (get_table (self)); i++)
    {
      OgCostLine *line;

      if (og_table_editor_is_row_empty (get_table (self), i))
        continue;
      line = read_row (self, i);
      if (line != NULL)
        g_ptr_array_add (costs, line);
      good = good && line != NULL;
    }
  if (good)
    og_document_set_costs (self->document, costs);
  return good;
}

static void
act_apply (GtkWidget  *widget,
           const char *name,
           GVariant   *parameter)
{
  if (og_cost_dialog_apply (OG_COST_DIALOG (widget)))
    gtk_window_destroy (GTK_WINDOW (widget));
  else
    gtk_widget_error_bell (widget);
}

static void
add_cost (OgCostDialog     *self,
          const OgCostLine *line)
{
  OgTableEditor *table = get_table (self);
  const guint row = og_table_editor_get_n_rows (table);
  g_autofree char *price = og_number_to_text (line->price, 0, DECIMALS);

  og_table_editor_add_row (table);
  og_table_editor_set_text (table, row, COLUMN_NAME, line->name);
  og_table_editor_set_text (table, row, COLUMN_PRICE, price);
  og_table_editor_set_text (table, row, COLUMN_CURRENCY,
                            line->currency != NULL ? line->currency : "");
  og_table_editor_set_choice (table, row, COLUMN_BASIS, line->basis);
}

static void
og_cost_dialog_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), OG_TYPE_COST_DIALOG);
  g_clear_object (&OG_COST_DIALOG (object)->document);

  G_OBJECT_CLASS (og_cost_dialog_parent_class)->dispose (object);
}

static void
og_cost_dialog_class_init (OgCostDialogClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = og_cost_dialog_dispose;

  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/oleograph/Oleograph/cost-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, OgCostDialog, table_box);
  gtk_widget_class_install_action (widget_class, "costs.apply", NULL, act_apply);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_DIALOG);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
}

static void
og_cost_dialog_init (OgCostDialog *self)
{
  self->bases[OG_COST_PER_CONTAINER] = _("for each container");
  self->bases[OG_COST_PER_BATCH] = _("for the batch");
  self->columns[COLUMN_NAME] = (OgTableColumn) { .title = _("What for") };
  self->columns[COLUMN_PRICE] = (OgTableColumn) { _("Price"), TRUE, PRICE_CHARS, NULL };
  self->columns[COLUMN_CURRENCY] = (OgTableColumn) { _("Currency"), FALSE, CURRENCY_CHARS, NULL };
  self->columns[COLUMN_BASIS] = (OgTableColumn) { _("Counted"), FALSE, 12, self->bases };
  gtk_widget_init_template (GTK_WIDGET (self));
  self->table = og_table_editor_new (self->columns, N_COLUMNS, _("Add a cost"));
  gtk_box_append (GTK_BOX (self->table_box), self->table);
}

GtkWidget *
og_cost_dialog_new (OgDocument *document)
{
  OgCostDialog *self;
  const GPtrArray *costs;

  g_return_val_if_fail (OG_IS_DOCUMENT (document), NULL);

  self = g_object_new (OG_TYPE_COST_DIALOG, NULL);
  self->document = g_object_ref (document);
  costs = og_document_get_formula (document)->costs;
  for (guint i = 0; i < costs->len; i++)
    add_cost (self, g_ptr_array_index (costs, i));
  if (costs->len == 0)
    og_table_editor_add_row (get_table (self));
  return GTK_WIDGET (self);
}
