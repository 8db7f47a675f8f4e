/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "gtk/ledger/ledger-batches-page.h"
#include "gtk/ledger/ledger-journal-page.h"
#include "gtk/ledger/ledger-shopping-page.h"
#include "gtk/ledger/ledger-stock-page.h"
#include "gtk/ledger/ledger-window.h"
#include "gtk/ledger/ledger-words.h"
#include "gtk/parts/compat.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/make-rows.h"
#include "gtk/parts/pieces.h"
#include "gtk/parts/toast.h"

#define WIDTH 1100
#define HEIGHT 700

struct _OgLedgerWindow
{
  GtkWindow parent_instance;

  GtkWidget *stack;
  GtkWidget *stock_page;
  GtkWidget *shopping_page;
  GtkWidget *toast;

  OgLedger *ledger; /* nullable */
  OgCatalog *catalog;
};

G_DEFINE_FINAL_TYPE (OgLedgerWindow, og_ledger_window, GTK_TYPE_WINDOW)

enum
{
  USE_LOT,
  RECIPES_WANTED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

void
og_ledger_window_say (OgLedgerWindow *self,
                      const char     *text)
{
  g_return_if_fail (OG_IS_LEDGER_WINDOW (self));

  og_toast_show (OG_TOAST (self->toast), text, NULL, NULL);
}

/* Tables and receipts */

gboolean
og_ledger_window_export (OgLedgerWindow *self,
                         OgLedgerTable   table,
                         GFile          *file)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;

  g_return_val_if_fail (OG_IS_LEDGER_WINDOW (self) && self->ledger != NULL, FALSE);

  text = og_ledger_export (self->ledger, table, &error);
  if (text != NULL
      && g_file_replace_contents (file, text, strlen (text), NULL, FALSE, G_FILE_CREATE_NONE, NULL,
                                  NULL, &error))
    {
      og_ledger_window_say (self, _("The table was written"));
      return TRUE;
    }
  og_show_error (GTK_WINDOW (self), _("The table was not written"), error);
  return FALSE;
}

static void
on_export_file (GtkWindow *parent,
                GFile     *file,
                gpointer   data)
{
  if (file != NULL)
    og_ledger_window_export (OG_LEDGER_WINDOW (parent), GPOINTER_TO_UINT (data), file);
}

static void
act_export (GtkWidget  *widget,
            const char *name,
            GVariant   *parameter)
{
  static const OgFileFilter filters[] = { { N_("Tables"), "*.csv" }, { NULL } };
  const char *nick = g_variant_get_string (parameter, NULL);
  g_autofree char *file_name = g_strdup_printf ("%s.csv", nick);
  OgLedgerTable table;

  if (og_ledger_table_from_nick (nick, &table))
    og_compat_choose_file (GTK_WINDOW (widget), _("Export a table"), GTK_FILE_CHOOSER_ACTION_SAVE,
                           filters, NULL, file_name, on_export_file, GUINT_TO_POINTER (table));
}

gboolean
og_ledger_window_import (OgLedgerWindow *self,
                         GFile          *file)
{
  const OgLedgerNote note = { .who = og_ledger_get_who (self->ledger) };
  g_autofree char *name = g_file_get_basename (file);
  g_autofree char *text = NULL;
  g_autofree char *done = NULL;
  g_autoptr (GError) error = NULL;
  gsize length;
  guint n;

  g_return_val_if_fail (OG_IS_LEDGER_WINDOW (self) && self->ledger != NULL, FALSE);

  if (!g_file_load_contents (file, NULL, &text, &length, NULL, &error)
      || !og_ledger_import_receipts (self->ledger, text, (gssize) length, name, self->catalog,
                                     &note, &n, &error))
    {
      og_show_error (GTK_WINDOW (self), _("Nothing was imported"), error);
      return FALSE;
    }
  done = g_strdup_printf (ngettext ("%u delivery was recorded", "%u deliveries were recorded", n),
                          n);
  og_ledger_window_say (self, done);
  return TRUE;
}

static void
on_import_file (GtkWindow *parent,
                GFile     *file,
                gpointer   data)
{
  if (file != NULL)
    og_ledger_window_import (OG_LEDGER_WINDOW (parent), file);
}

static void
act_import (GtkWidget  *widget,
            const char *name,
            GVariant   *parameter)
{
  static const OgFileFilter filters[] = {
    { N_("Tables"), "*.csv" },
    { N_("All files"), "*" },
    { NULL },
  };

  og_compat_choose_file (GTK_WINDOW (widget), _("Import receipts"), GTK_FILE_CHOOSER_ACTION_OPEN,
                         filters, NULL, NULL, on_import_file, NULL);
}

/* What the program is asked for */

static void
on_use_lot (OgLedgerWindow *self,
            const OgLot    *lot)
{
  g_signal_emit (self, signals[USE_LOT], 0, lot);
}

static void
on_page (OgLedgerWindow *self)
{
  if (gtk_stack_get_visible_child (GTK_STACK (self->stack)) == self->shopping_page)
    g_signal_emit (self, signals[RECIPES_WANTED], 0);
}

void
og_ledger_window_put_recipe (OgLedgerWindow  *self,
                             const char      *key,
                             const OgFormula *formula)
{
  g_return_if_fail (OG_IS_LEDGER_WINDOW (self) && self->ledger != NULL);

  if (og_formula_get_n_lines (formula) > 0)
    og_ledger_shopping_page_put_recipe (OG_LEDGER_SHOPPING_PAGE (self->shopping_page), key,
                                        formula);
}

static void
on_open_batch (OgLedgerWindow *self,
               const char     *number)
{
  gtk_widget_activate_action (GTK_WIDGET (self), "app.batch-record", "s", number);
}

/* Actions of the window */

static void
act_show_page (GtkWidget  *widget,
               const char *name,
               GVariant   *parameter)
{
  OgLedgerWindow *self = OG_LEDGER_WINDOW (widget);

  if (self->stack != NULL)
    og_stack_show_page (self->stack, g_variant_get_string (parameter, NULL));
}

static void
act_find (GtkWidget  *widget,
          const char *name,
          GVariant   *parameter)
{
  OgLedgerWindow *self = OG_LEDGER_WINDOW (widget);

  if (self->stack != NULL)
    gtk_widget_grab_focus (gtk_stack_get_visible_child (GTK_STACK (self->stack)));
}

static void
act_close (GtkWidget  *widget,
           const char *name,
           GVariant   *parameter)
{
  gtk_window_close (GTK_WINDOW (widget));
}

static void
og_ledger_window_finalize (GObject *object)
{
  OgLedgerWindow *self = OG_LEDGER_WINDOW (object);

  g_clear_object (&self->ledger);
  g_clear_pointer (&self->catalog, og_catalog_unref);

  G_OBJECT_CLASS (og_ledger_window_parent_class)->finalize (object);
}

static void
og_ledger_window_class_init (OgLedgerWindowClass *class)
{
  static const char *const pages[] = { "stock", "journal", "batches", "shopping", NULL };
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = og_ledger_window_finalize;

  gtk_widget_class_install_action (widget_class, "ledger.export", "s", act_export);
  gtk_widget_class_install_action (widget_class, "ledger.import", NULL, act_import);
  gtk_widget_class_install_action (widget_class, "ledger.show-page", "s", act_show_page);
  gtk_widget_class_install_action (widget_class, "win.find-material", NULL, act_find);
  gtk_widget_class_install_action (widget_class, "win.close", NULL, act_close);
  og_class_add_page_keys (widget_class, "ledger.show-page", pages);

  signals[USE_LOT] = g_signal_new ("use-lot", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                   NULL, NULL, G_TYPE_NONE, 1, G_TYPE_POINTER);
  signals[RECIPES_WANTED] = g_signal_new ("recipes-wanted", G_TYPE_FROM_CLASS (class),
                                          G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
og_ledger_window_init (OgLedgerWindow *self)
{
}

/* Building */

static GMenu *
make_menu (void)
{
  static const struct
  {
    const char *label;
    const char *action;
  } items[] = {
    { N_("_Stock…"), "ledger.export::stock" },
    { N_("_Lots…"), "ledger.export::lots" },
    { N_("_Journal…"), "ledger.export::journal" },
    { N_("_Batches…"), "ledger.export::batches" },
  };
  GMenu *menu = g_menu_new ();
  g_autoptr (GMenu) tables = g_menu_new ();
  g_autoptr (GMenu) receipts = g_menu_new ();

  for (guint i = 0; i < G_N_ELEMENTS (items); i++)
    g_menu_append (tables, _(items[i].label), items[i].action);
  g_menu_append (receipts, _("_Import receipts (CSV)…"), "ledger.import");
  g_menu_append_section (menu, NULL, G_MENU_MODEL (receipts));
  g_menu_append_section (menu, _("Export a table (CSV)"), G_MENU_MODEL (tables));
  return menu;
}

static void
add_page (OgLedgerWindow *self,
          GtkWidget      *page,
          const char     *name,
          const char     *title)
{
  gtk_stack_add_titled (GTK_STACK (self->stack), page, name, title);
  og_ledger_page_set_ledger (OG_LEDGER_PAGE (page), self->ledger, self->catalog);
  g_signal_connect_object (page, "message", G_CALLBACK (og_ledger_window_say), self,
                           G_CONNECT_SWAPPED);
}

static void
add_pages (OgLedgerWindow *self)
{
  GtkWidget *batches = og_ledger_batches_page_new ();

  self->stack = gtk_stack_new ();
  self->stock_page = og_ledger_stock_page_new ();
  self->shopping_page = og_ledger_shopping_page_new ();
  add_page (self, self->stock_page, "stock", _("Stock"));
  add_page (self, og_ledger_journal_page_new (), "journal", _("Journal"));
  add_page (self, batches, "batches", _("Batches"));
  add_page (self, self->shopping_page, "shopping", _("Shopping"));
  g_signal_connect_object (self->stock_page, "use-lot", G_CALLBACK (on_use_lot), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (batches, "open-batch", G_CALLBACK (on_open_batch), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->stack, "notify::visible-child", G_CALLBACK (on_page), self,
                           G_CONNECT_SWAPPED);
}

static GtkWidget *
make_header (OgLedgerWindow *self)
{
  GtkWidget *header = gtk_header_bar_new ();
  GtkWidget *button = gtk_menu_button_new ();
  GtkWidget *switcher = gtk_stack_switcher_new ();
  g_autoptr (GMenu) menu = make_menu ();

  gtk_stack_switcher_set_stack (GTK_STACK_SWITCHER (switcher), GTK_STACK (self->stack));
  gtk_widget_set_valign (switcher, GTK_ALIGN_CENTER);
  gtk_menu_button_set_icon_name (GTK_MENU_BUTTON (button), "open-menu-symbolic");
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (button), G_MENU_MODEL (menu));
  gtk_menu_button_set_primary (GTK_MENU_BUTTON (button), TRUE);
  gtk_widget_set_tooltip_text (button, _("Export and import"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, _("Export and import"),
                                  -1);
  gtk_header_bar_pack_start (GTK_HEADER_BAR (header), switcher);
  gtk_header_bar_pack_end (GTK_HEADER_BAR (header), button);
  gtk_widget_set_visible (switcher, self->ledger != NULL);
  gtk_widget_set_visible (button, self->ledger != NULL);
  return header;
}

static GtkWidget *
make_content (OgLedgerWindow *self,
              const char     *problem)
{
  GtkWidget *overlay = gtk_overlay_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  if (problem != NULL)
    gtk_box_append (GTK_BOX (box), og_caution_new (problem));
  if (self->ledger != NULL)
    gtk_box_append (GTK_BOX (box), self->stack);
  self->toast = og_toast_new ();
  gtk_overlay_set_child (GTK_OVERLAY (overlay), box);
  gtk_overlay_add_overlay (GTK_OVERLAY (overlay), self->toast);
  return overlay;
}

GtkWidget *
og_ledger_window_new (OgLedger   *ledger,
                      OgCatalog  *catalog,
                      const char *problem)
{
  OgLedgerWindow *self;

  g_return_val_if_fail (catalog != NULL, NULL);

  self = g_object_new (OG_TYPE_LEDGER_WINDOW, NULL);
  self->ledger = ledger != NULL ? g_object_ref (ledger) : NULL;
  self->catalog = og_catalog_ref (catalog);
  if (ledger != NULL)
    add_pages (self);
  gtk_window_set_title (GTK_WINDOW (self), _("Ledger"));
  gtk_window_set_default_size (GTK_WINDOW (self), WIDTH, HEIGHT);
  gtk_window_set_child (GTK_WINDOW (self), make_content (self, problem));
  gtk_window_set_titlebar (GTK_WINDOW (self), make_header (self));
  if (ledger == NULL)
    return GTK_WIDGET (self);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "ledger.import",
                                 !og_ledger_is_read_only (ledger));
  gtk_widget_grab_focus (self->stock_page);
  return GTK_WIDGET (self);
}
