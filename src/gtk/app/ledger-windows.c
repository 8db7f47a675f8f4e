/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "gtk/app/ledger-windows.h"
#include "gtk/app/window.h"
#include "gtk/ledger/batch-record-window.h"
#include "gtk/ledger/ledger-window.h"
#include "gtk/parts/balances.h"
#include "gtk/parts/pieces.h"

/* Recipes that are open */

static OgWindow *
last_recipe_window (GtkWindow *asking)
{
  GtkApplication *application = gtk_window_get_application (asking);
  GList *windows = application != NULL ? gtk_application_get_windows (application) : NULL;

  for (GList *l = windows; l != NULL; l = l->next)
    {
      if (OG_IS_WINDOW (l->data) && !og_window_is_free (l->data))
        return l->data;
    }
  return NULL;
}

static void
on_use_lot (OgLedgerWindow *ledger_window,
            const OgLot    *lot,
            OgWorkshop     *workshop)
{
  OgWindow *window = last_recipe_window (GTK_WINDOW (ledger_window));
  const OgIngredient *base =
    og_catalog_get (og_workshop_get_catalog (workshop), lot->material_id);
  g_autoptr (OgIngredient) material = NULL;
  g_autoptr (GError) error = NULL;

  if (window == NULL || base == NULL)
    {
      og_ledger_window_say (ledger_window,
                            window == NULL ? _("Open a recipe first")
                                           : _("The library does not know this material"));
      return;
    }
  material = og_ledger_lot_to_ingredient (lot, base, &error);
  if (material == NULL)
    {
      og_show_error (GTK_WINDOW (ledger_window), _("The lot cannot be a material of a recipe"),
                     error);
      return;
    }
  og_document_put_material (og_window_get_document (window), material);
  og_window_say (window, _("The lot is among the materials of this recipe now"), TRUE);
  gtk_window_present (GTK_WINDOW (window));
}

static void
on_recipes_wanted (OgLedgerWindow *ledger_window)
{
  GtkApplication *application = gtk_window_get_application (GTK_WINDOW (ledger_window));
  GList *windows = application != NULL ? gtk_application_get_windows (application) : NULL;

  for (GList *l = windows; l != NULL; l = l->next)
    {
      OgDocument *document = OG_IS_WINDOW (l->data) ? og_window_get_document (l->data) : NULL;
      g_autofree char *key = g_strdup_printf ("%p", (void *) document);

      if (document != NULL)
        og_ledger_window_put_recipe (ledger_window, key, og_document_get_formula (document));
    }
}

/* Windows */

static GtkWidget *
make_window (OgWorkshop *workshop,
             const char *problem)
{
  OgLedger *ledger = og_workshop_get_ledger (workshop);
  GtkWidget *window;

  if (problem == NULL && ledger == NULL)
    problem = _("The ledger cannot be opened.");
  else if (problem == NULL && og_ledger_is_read_only (ledger))
    problem = _("The ledger can only be read.");
  window = og_ledger_window_new (ledger, og_workshop_get_catalog (workshop), problem);
  g_signal_connect_object (window, "use-lot", G_CALLBACK (on_use_lot), workshop, 0);
  g_signal_connect (window, "recipes-wanted", G_CALLBACK (on_recipes_wanted), NULL);
  return window;
}

void
og_ledger_windows_show (GtkApplication *application,
                        OgWorkshop     *workshop)
{
  g_autofree char *problem = NULL;
  GtkWidget *window;

  og_workshop_get_ledger (workshop);
  problem = og_workshop_take_ledger_problem (workshop);
  for (GList *l = gtk_application_get_windows (application); l != NULL; l = l->next)
    {
      if (OG_IS_LEDGER_WINDOW (l->data))
        {
          if (problem != NULL)
            og_ledger_window_say (l->data, problem);
          gtk_window_present (l->data);
          return;
        }
    }
  window = make_window (workshop, problem);
  gtk_window_set_application (GTK_WINDOW (window), application);
  gtk_window_present (GTK_WINDOW (window));
}

static GtkWindow *
find_record (GtkApplication *application,
             const char     *number)
{
  for (GList *l = gtk_application_get_windows (application); l != NULL; l = l->next)
    {
      if (OG_IS_BATCH_RECORD_WINDOW (l->data)
          && g_str_equal (og_batch_record_window_get_number (l->data), number))
        return l->data;
    }
  return NULL;
}

void
og_ledger_windows_show_record (GtkApplication *application,
                               OgWorkshop     *workshop,
                               const char     *number)
{
  GtkWindow *open = find_record (application, number);
  OgLedger *ledger = og_workshop_get_ledger (workshop);
  g_autoptr (GPtrArray) balances = NULL;
  g_autoptr (GError) error = NULL;
  GtkWidget *window;

  if (open != NULL)
    {
      gtk_window_present (open);
      return;
    }
  if (ledger == NULL)
    return;
  balances = og_balances_load (og_workshop_get_settings (workshop));
  window = og_batch_record_window_new (ledger, og_workshop_get_catalog (workshop), number, balances,
                                       &error);
  if (window == NULL)
    {
      og_show_error (gtk_application_get_active_window (application),
                     _("The record cannot be shown"), error);
      return;
    }
  gtk_window_set_application (GTK_WINDOW (window), application);
  gtk_window_present (GTK_WINDOW (window));
}
