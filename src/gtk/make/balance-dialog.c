/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "gtk/make/balance-dialog.h"
#include "gtk/parts/cell-entry.h"
#include "gtk/parts/table-editor.h"
#include "gtk/parts/typed-number.h"

#define DECIMALS 6
#define NUMBER_CHARS 9

typedef enum
{
  COLUMN_NAME,
  COLUMN_READABILITY,
  COLUMN_REPEATABILITY,
  COLUMN_CAPACITY,
  N_COLUMNS
} Column;

struct _OgBalanceDialog
{
  GtkWindow parent_instance;

  GtkWidget *table_box;
  GtkWidget *table;
  OgTableColumn columns[N_COLUMNS];
};

G_DEFINE_FINAL_TYPE (OgBalanceDialog, og_balance_dialog, GTK_TYPE_WINDOW)

enum
{
  APPLIED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static OgTableEditor *
get_table (OgBalanceDialog *self)
{
  return OG_TABLE_EDITOR (self->table);
}

/* @value stays NAN where nothing is typed. Returns: FALSE, saying so in the row, if the text is no
 * number above 0 */
static gboolean
read_number (OgBalanceDialog *self,
             guint            row,
             Column           column,
             double          *value)
{
  g_autofree char *text = og_table_editor_get_text (get_table (self), row, column);
  g_autofree char *problem = NULL;

  *value = NAN;
  if (*text == '\0')
    return TRUE;
  problem = og_typed_number (text, value);
  if (problem == NULL && *value > 0.0)
    return TRUE;
  if (problem == NULL)
    /* Translators: %s is what the user typed */
    problem = g_strdup_printf (_("“%s” is not a number above 0."), text);
  og_table_editor_set_problem (get_table (self), row, column, problem);
  return FALSE;
}

static gboolean
refuse (OgBalanceDialog *self,
        guint            row,
        Column           column,
        const char      *problem)
{
  og_table_editor_set_problem (get_table (self), row, column, problem);
  return FALSE;
}

static gboolean
check_balance (OgBalanceDialog *self,
               guint            row,
               const OgBalance *balance)
{
  if (isnan (balance->readability_g))
    return refuse (self, row, COLUMN_READABILITY, _("What is its smallest step?"));
  if (isnan (balance->capacity_g))
    return refuse (self, row, COLUMN_CAPACITY, _("How much does it bear at most?"));
  if (!og_balance_is_valid (balance))
    return refuse (self, row, COLUMN_READABILITY,
                   _("The smallest step has to be at least 0.000001 g and at most a hundredth of "
                     "what the balance bears."));
  return TRUE;
}

/* Returns: (transfer full) (nullable): NULL, said in the row, if it makes no sense */
static OgBalance *
read_row (OgBalanceDialog *self,
          guint            row)
{
  g_autofree char *name = og_table_editor_get_text (get_table (self), row, COLUMN_NAME);
  double readability;
  double repeatability;
  double capacity;
  OgBalance *balance;

  og_table_editor_set_problem (get_table (self), row, COLUMN_NAME, NULL);
  if (!read_number (self, row, COLUMN_READABILITY, &readability)
      || !read_number (self, row, COLUMN_REPEATABILITY, &repeatability)
      || !read_number (self, row, COLUMN_CAPACITY, &capacity))
    return NULL;
  if (*name == '\0')
    {
      refuse (self, row, COLUMN_NAME, _("A name is missing here."));
      return NULL;
    }
  balance = og_balance_new (name, readability, repeatability, capacity);
  if (check_balance (self, row, balance))
    return balance;
  og_balance_free (balance);
  return NULL;
}

gboolean
og_balance_dialog_apply (OgBalanceDialog *self)
{
  g_autoptr (GPtrArray) balances =
    g_ptr_array_new_with_free_func ((GDestroyNotify) og_balance_free);
  gboolean good = TRUE;

  g_return_val_if_fail (OG_IS_BALANCE_DIALOG (self), FALSE);

  for (guint i = 0; i < og_table_editor_get_n_rows (get_table (self)); i++)
    {
      OgBalance *balance;

      if (og_table_editor_is_row_empty (get_table (self), i))
        continue;
      balance = read_row (self, i);
      if (balance != NULL)
        g_ptr_array_add (balances, balance);
      good = good && balance != NULL;
    }
  if (good)
    g_signal_emit (self, signals[APPLIED], 0, balances);
  return good;
}

static void
act_apply (GtkWidget  *widget,
           const char *name,
           GVariant   *parameter)
{
  if (og_balance_dialog_apply (OG_BALANCE_DIALOG (widget)))
    gtk_window_destroy (GTK_WINDOW (widget));
  else
    gtk_widget_error_bell (widget);
}

static void
type_number (OgBalanceDialog *self,
             guint            row,
             Column           column,
             double           value)
{
  g_autofree char *text = og_number_to_text (value, 0, DECIMALS);

  og_table_editor_set_text (get_table (self), row, column, text);
}

static void
add_balance (OgBalanceDialog *self,
             const OgBalance *balance)
{
  const guint row = og_table_editor_get_n_rows (get_table (self));

  og_table_editor_add_row (get_table (self));
  og_table_editor_set_text (get_table (self), row, COLUMN_NAME, balance->name);
  type_number (self, row, COLUMN_READABILITY, balance->readability_g);
  type_number (self, row, COLUMN_REPEATABILITY, balance->repeatability_g);
  type_number (self, row, COLUMN_CAPACITY, balance->capacity_g);
}

static void
og_balance_dialog_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), OG_TYPE_BALANCE_DIALOG);

  G_OBJECT_CLASS (og_balance_dialog_parent_class)->dispose (object);
}

static void
og_balance_dialog_class_init (OgBalanceDialogClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = og_balance_dialog_dispose;

  signals[APPLIED] = g_signal_new ("applied", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                   NULL, NULL, G_TYPE_NONE, 1, G_TYPE_PTR_ARRAY);

  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/oleograph/Oleograph/balance-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, OgBalanceDialog, table_box);
  gtk_widget_class_install_action (widget_class, "balances.apply", NULL, act_apply);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_DIALOG);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
}

static void
og_balance_dialog_init (OgBalanceDialog *self)
{
  self->columns[COLUMN_NAME] = (OgTableColumn) { .title = _("Balance") };
  self->columns[COLUMN_READABILITY] =
    (OgTableColumn) { _("Smallest step, g"), TRUE, NUMBER_CHARS, NULL };
  self->columns[COLUMN_REPEATABILITY] =
    (OgTableColumn) { _("Repeatability, g"), TRUE, NUMBER_CHARS, NULL };
  self->columns[COLUMN_CAPACITY] = (OgTableColumn) { _("Bears, g"), TRUE, NUMBER_CHARS, NULL };
  gtk_widget_init_template (GTK_WIDGET (self));
  self->table = og_table_editor_new (self->columns, N_COLUMNS, _("Add a balance"));
  gtk_box_append (GTK_BOX (self->table_box), self->table);
}

GtkWidget *
og_balance_dialog_new (const GPtrArray *balances)
{
  OgBalanceDialog *self = g_object_new (OG_TYPE_BALANCE_DIALOG, NULL);

  for (guint i = 0; balances != NULL && i < balances->len; i++)
    add_balance (self, g_ptr_array_index (balances, i));
  if (og_table_editor_get_n_rows (get_table (self)) == 0)
    og_table_editor_add_row (get_table (self));
  return GTK_WIDGET (self);
}
