/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "core/base/number-text.h"
#include "core/recipe/recipe-table.h"
#include "gtk/ledger/ledger-shopping-page.h"
#include "gtk/ledger/ledger-words.h"
#include "gtk/parts/compat.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/number-field.h"
#include "gtk/parts/record-table.h"

#define DECIMALS 3
#define PLAN_WIDTH 300

/* One recipe that may be made. */
typedef struct
{
  char *key;
  OgFormula *formula;
  GtkWidget *field; /* grams of the batch; empty: it is not made */
} Plan;

struct _OgLedgerShoppingPage
{
  OgLedgerPage parent_instance;

  GtkWidget *plan_box;
  GtkWidget *empty_label;
  GtkWidget *total_label;
  GtkWidget *table;
  GtkSizeGroup *titles;
  GPtrArray *plans; /* of Plan */
};

G_DEFINE_FINAL_TYPE (OgLedgerShoppingPage, og_ledger_shopping_page, OG_TYPE_LEDGER_PAGE)

static const OgRecordColumn columns[] = {
  { N_("Material"), FALSE, TRUE },   { N_("Needed, g"), TRUE, FALSE },
  { N_("In stock, g"), TRUE, FALSE }, { N_("Missing, g"), TRUE, FALSE },
  { N_("Packs to buy"), TRUE, FALSE }, { N_("Price"), TRUE, FALSE },
  { N_("Supplier"), FALSE, TRUE },
};

static void
plan_free (Plan *plan)
{
  g_free (plan->key);
  og_formula_free (plan->formula);
  g_free (plan);
}

/* The list */

static char *
packs_text (const OgShoppingItem *item)
{
  g_autofree char *pack = NULL;

  if (item->missing_mg == 0)
    return g_strdup ("");
  if (item->pack_mg == 0)
    return g_strdup (_("no offer"));
  pack = og_ledger_mg_to_text (item->pack_mg);
  /* Translators: number of packs, then what one holds */
  return g_strdup_printf (_("%u × %s"), item->packs, pack);
}

static OgRecord *
item_record (const OgShoppingItem *item)
{
  char **cells = g_new0 (char *, G_N_ELEMENTS (columns) + 1);

  cells[0] = g_strdup (item->name);
  cells[1] = og_ledger_mg_to_number (item->needed_mg);
  cells[2] = og_ledger_mg_to_number (item->left_mg);
  cells[3] = item->missing_mg > 0 ? og_ledger_mg_to_number (item->missing_mg) : g_strdup ("");
  cells[4] = packs_text (item);
  cells[5] = item->packs > 0 ? og_ledger_price_to_text (item->price * item->packs, item->currency)
                             : g_strdup ("");
  cells[6] = og_ledger_optional_text (item->supplier);
  return og_record_new (cells, item->material_id, 0);
}

/* Returns: FALSE if it is not to be made, or what is typed cannot be */
static gboolean
read_plan (const Plan     *plan,
           OgPlannedBatch *planned)
{
  OgNumberField *field = OG_NUMBER_FIELD (plan->field);
  double values[OG_NUMBER_FIELD_MOST];
  guint n;

  if (!og_number_field_read (field, values, &n) || n == 0)
    return FALSE;
  planned->formula = plan->formula;
  if (og_ledger_g_to_mg (values[0], &planned->batch_mg) && planned->batch_mg > 0)
    return TRUE;
  og_number_field_set_problem (field, _("This has to be above 0."));
  return FALSE;
}

static GArray *
read_plans (OgLedgerShoppingPage *self)
{
  GArray *planned = g_array_new (FALSE, FALSE, sizeof (OgPlannedBatch));

  for (guint i = 0; i < self->plans->len; i++)
    {
      OgPlannedBatch one;

      if (read_plan (g_ptr_array_index (self->plans, i), &one))
        g_array_append_val (planned, one);
    }
  return planned;
}

static void
show_items (OgLedgerShoppingPage *self,
            GPtrArray            *items)
{
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (g_object_unref);
  guint n_missing = 0;
  g_autofree char *text = NULL;

  for (guint i = 0; i < items->len; i++)
    {
      const OgShoppingItem *item = g_ptr_array_index (items, i);

      n_missing += item->missing_mg > 0;
      g_ptr_array_add (records, item_record (item));
    }
  og_record_table_show (OG_RECORD_TABLE (self->table), records);
  text = n_missing > 0 ? g_strdup_printf (ngettext ("%u material is missing",
                                                    "%u materials are missing", n_missing),
                                          n_missing)
                       : g_strdup (_("Everything is in stock"));
  og_label_set_optional (self->total_label, items->len > 0 ? text : NULL);
}

static void
og_ledger_shopping_page_refresh (OgLedgerPage *page)
{
  OgLedgerShoppingPage *self = OG_LEDGER_SHOPPING_PAGE (page);
  g_autoptr (GArray) planned = read_plans (self);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) items =
    og_ledger_list_shopping (og_ledger_page_get_ledger (page),
                             (const OgPlannedBatch *) (gconstpointer) planned->data, planned->len,
                             og_ledger_page_get_catalog (page), &error);

  og_label_set_optional (self->empty_label,
                         self->plans->len == 0 ? _("Open a recipe, or add one from a file, and say "
                                                   "how much of it you want to make.")
                                               : NULL);
  if (og_ledger_page_check (page, error))
    show_items (self, items);
}

/* Recipes */

static Plan *
find_plan (OgLedgerShoppingPage *self,
           const char           *key)
{
  for (guint i = 0; i < self->plans->len; i++)
    {
      Plan *plan = g_ptr_array_index (self->plans, i);

      if (g_str_equal (plan->key, key))
        return plan;
    }
  return NULL;
}

static Plan *
add_plan (OgLedgerShoppingPage *self,
          const char           *key,
          const OgFormula      *formula)
{
  Plan *plan = g_new0 (Plan, 1);

  plan->key = g_strdup (key);
  plan->field = og_number_field_new (*formula->title != '\0' ? formula->title
                                                             : _("Recipe without a name"),
                                     _("g"), 1);
  og_number_field_join (OG_NUMBER_FIELD (plan->field), self->titles);
  og_number_field_set_value (OG_NUMBER_FIELD (plan->field), formula->batch_g, DECIMALS);
  g_signal_connect_swapped (plan->field, "changed", G_CALLBACK (og_ledger_page_schedule), self);
  gtk_box_append (GTK_BOX (self->plan_box), plan->field);
  g_ptr_array_add (self->plans, plan);
  return plan;
}

void
og_ledger_shopping_page_put_recipe (OgLedgerShoppingPage *self,
                                    const char           *key,
                                    const OgFormula      *formula)
{
  Plan *plan;

  g_return_if_fail (OG_IS_LEDGER_SHOPPING_PAGE (self));
  g_return_if_fail (key != NULL && formula != NULL);

  plan = find_plan (self, key);
  if (plan == NULL)
    plan = add_plan (self, key, formula);
  g_clear_pointer (&plan->formula, og_formula_free);
  plan->formula = og_formula_copy (formula);
  og_ledger_page_schedule (OG_LEDGER_PAGE (self));
}

static void
on_file (GtkWindow *parent,
         GFile     *file,
         gpointer   data)
{
  OgLedgerShoppingPage *self = data;
  g_autofree char *path = file != NULL ? g_file_get_path (file) : NULL;
  g_autoptr (OgFormula) formula = NULL;
  g_autoptr (GError) error = NULL;

  if (path == NULL)
    return;
  formula = og_recipe_load (path, og_ledger_page_get_catalog (OG_LEDGER_PAGE (self)), &error);
  if (og_ledger_page_check (OG_LEDGER_PAGE (self), error))
    og_ledger_shopping_page_put_recipe (self, path, formula);
}

static void
act_add_file (GtkWidget  *widget,
              const char *name,
              GVariant   *parameter)
{
  static const OgFileFilter filters[] = {
    { N_("Recipes"), "*.oleograph;*.csv" },
    { N_("All files"), "*" },
    { NULL },
  };

  og_compat_choose_file (GTK_WINDOW (gtk_widget_get_root (widget)), _("Add a recipe"),
                         GTK_FILE_CHOOSER_ACTION_OPEN, filters, NULL, NULL, on_file, widget);
}

/* Building */

static gboolean
og_ledger_shopping_page_grab_focus (GtkWidget *widget)
{
  return gtk_widget_child_focus (OG_LEDGER_SHOPPING_PAGE (widget)->plan_box, GTK_DIR_TAB_FORWARD)
         || gtk_widget_grab_focus (OG_LEDGER_SHOPPING_PAGE (widget)->table);
}

static void
og_ledger_shopping_page_finalize (GObject *object)
{
  OgLedgerShoppingPage *self = OG_LEDGER_SHOPPING_PAGE (object);

  g_ptr_array_unref (self->plans);
  g_object_unref (self->titles);

  G_OBJECT_CLASS (og_ledger_shopping_page_parent_class)->finalize (object);
}

static void
og_ledger_shopping_page_class_init (OgLedgerShoppingPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = og_ledger_shopping_page_finalize;
  widget_class->grab_focus = og_ledger_shopping_page_grab_focus;
  OG_LEDGER_PAGE_CLASS (class)->refresh = og_ledger_shopping_page_refresh;

  gtk_widget_class_install_action (widget_class, "shopping.add-file", NULL, act_add_file);
}

static GtkWidget *
make_plan_side (OgLedgerShoppingPage *self)
{
  GtkWidget *side = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *scroller = gtk_scrolled_window_new ();
  GtkWidget *button = gtk_button_new_with_label (_("Add a recipe file…"));

  self->plan_box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->empty_label = og_wrapping_label_new (NULL, "dim-label");
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "shopping.add-file");
  gtk_widget_set_halign (button, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (side), og_wrapping_label_new (_("To be made"), "make-title"));
  gtk_box_append (GTK_BOX (side), self->empty_label);
  gtk_box_append (GTK_BOX (side), self->plan_box);
  gtk_box_append (GTK_BOX (side), button);
  gtk_widget_add_css_class (side, "make-column");
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), side);
  return scroller;
}

static void
og_ledger_shopping_page_init (OgLedgerShoppingPage *self)
{
  GtkWidget *pane = gtk_paned_new (GTK_ORIENTATION_HORIZONTAL);
  GtkWidget *side = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);

  self->titles = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  self->plans = g_ptr_array_new_with_free_func ((GDestroyNotify) plan_free);
  self->total_label = og_wrapping_label_new (NULL, "heading");
  gtk_widget_set_visible (self->total_label, FALSE);
  self->table = og_record_table_new (_("To buy"), columns, G_N_ELEMENTS (columns));
  gtk_box_append (GTK_BOX (side), og_wrapping_label_new (_("To buy"), "make-title"));
  gtk_box_append (GTK_BOX (side), self->total_label);
  gtk_box_append (GTK_BOX (side), self->table);
  gtk_widget_add_css_class (side, "make-column");
  gtk_paned_set_resize_start_child (GTK_PANED (pane), FALSE);
  gtk_paned_set_shrink_start_child (GTK_PANED (pane), FALSE);
  gtk_paned_set_shrink_end_child (GTK_PANED (pane), FALSE);
  gtk_paned_set_start_child (GTK_PANED (pane), make_plan_side (self));
  gtk_paned_set_end_child (GTK_PANED (pane), side);
  gtk_paned_set_position (GTK_PANED (pane), PLAN_WIDTH);
  gtk_widget_set_vexpand (pane, TRUE);
  gtk_box_append (GTK_BOX (self), pane);
}

GtkWidget *
og_ledger_shopping_page_new (void)
{
  return g_object_new (OG_TYPE_LEDGER_SHOPPING_PAGE, NULL);
}
