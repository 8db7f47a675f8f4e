/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "gtk/app/workshop.h"
#include "gtk/ledger/ledger-words.h"
#include "model/document-io.h"
#include "model/library.h"

struct _OgWorkshop
{
  GObject parent_instance;

  OgCatalog *catalog;
  char *failure;           /* why there is no catalog */
  char *own_fault;         /* why the reader's own rules are left out */
  GSettings *settings;
  GFile *draft_folder;
  OgBenchStore *bench_store;
  OgLedger *ledger;        /* NULL before the first need, and when it cannot be opened */
  gboolean ledger_tried;
  char *ledger_problem;    /* nullable: not told yet */
  OgShelf *shelf;          /* NULL: to be asked for */
  GPtrArray *drafts;       /* of GFile: left behind by a crash, not yet taken */
};

G_DEFINE_FINAL_TYPE (OgWorkshop, og_workshop, G_TYPE_OBJECT)

enum
{
  SHELF_CHANGED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

const char *
og_workshop_get_failure (OgWorkshop *self)
{
  g_return_val_if_fail (OG_IS_WORKSHOP (self), NULL);

  return self->failure;
}

const char *
og_workshop_get_own_fault (OgWorkshop *self)
{
  g_return_val_if_fail (OG_IS_WORKSHOP (self), NULL);

  return self->own_fault;
}

OgCatalog *
og_workshop_get_catalog (OgWorkshop *self)
{
  g_return_val_if_fail (OG_IS_WORKSHOP (self), NULL);

  return self->catalog;
}

GSettings *
og_workshop_get_settings (OgWorkshop *self)
{
  g_return_val_if_fail (OG_IS_WORKSHOP (self), NULL);

  return self->settings;
}

GFile *
og_workshop_get_draft_folder (OgWorkshop *self)
{
  g_return_val_if_fail (OG_IS_WORKSHOP (self), NULL);

  return self->draft_folder;
}

OgBenchStore *
og_workshop_get_bench_store (OgWorkshop *self)
{
  g_return_val_if_fail (OG_IS_WORKSHOP (self), NULL);

  return self->bench_store;
}

/* Ledger */

static void
set_ledger_problem (OgWorkshop *self,
                    char       *problem)
{
  g_free (self->ledger_problem);
  self->ledger_problem = problem;
}

static void
on_ledger_changed (OgWorkshop *self)
{
  g_clear_pointer (&self->shelf, og_shelf_unref);
  g_signal_emit (self, signals[SHELF_CHANGED], 0);
}

/* A ledger that cannot be written still tells stock and prices. */
static OgLedger *
open_ledger_file (OgWorkshop *self)
{
  g_autofree char *path = og_ledger_default_path ();
  g_autoptr (GError) error = NULL;
  OgLedger *ledger = og_ledger_open (path, OG_LEDGER_DEFAULT, NULL, &error);

  if (g_error_matches (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_READ_ONLY))
    ledger = og_ledger_open (path, OG_LEDGER_READ_ONLY, NULL, NULL);
  if (error != NULL)
    /* Translators: %s says why */
    set_ledger_problem (self, g_strdup_printf (ledger != NULL
                                                 ? _("The ledger can only be read: %s")
                                                 : _("There are no prices and no stock, because the "
                                                     "ledger cannot be opened: %s"),
                                               error->message));
  return ledger;
}

static void
open_ledger (OgWorkshop *self)
{
  const char *aside;

  if (self->ledger_tried)
    return;
  self->ledger_tried = TRUE;
  self->ledger = open_ledger_file (self);
  if (self->ledger == NULL)
    return;
  aside = og_ledger_get_set_aside (self->ledger);
  if (aside != NULL)
    /* Translators: %s is a file */
    set_ledger_problem (self, g_strdup_printf (_("The ledger was damaged. It was kept as %s, and a "
                                                 "new one was begun."), aside));
  og_ledger_watch (self->ledger);
  g_signal_connect_object (self->ledger, "changed", G_CALLBACK (on_ledger_changed), self,
                           G_CONNECT_SWAPPED);
  on_ledger_changed (self);
}

OgLedger *
og_workshop_get_ledger (OgWorkshop *self)
{
  g_return_val_if_fail (OG_IS_WORKSHOP (self), NULL);

  open_ledger (self);
  return self->ledger;
}

/* Only looking at the shelf makes no file. */
static gboolean
has_ledger_file (void)
{
  g_autofree char *path = og_ledger_default_path ();

  return g_file_test (path, G_FILE_TEST_EXISTS);
}

OgShelf *
og_workshop_get_shelf (OgWorkshop *self)
{
  g_autoptr (GError) error = NULL;

  g_return_val_if_fail (OG_IS_WORKSHOP (self), NULL);

  if (!self->ledger_tried && has_ledger_file ())
    open_ledger (self);
  if (self->shelf != NULL)
    return self->shelf;
  if (self->ledger != NULL)
    self->shelf = og_ledger_get_shelf (self->ledger, &error);
  if (error != NULL)
    /* Translators: %s says why */
    set_ledger_problem (self, g_strdup_printf (_("Stock and prices cannot be read: %s"),
                                               error->message));
  if (self->shelf == NULL)
    self->shelf = og_shelf_new ();
  return self->shelf;
}

char *
og_workshop_take_ledger_problem (OgWorkshop *self)
{
  g_return_val_if_fail (OG_IS_WORKSHOP (self), NULL);

  return g_steal_pointer (&self->ledger_problem);
}

GFile *
og_workshop_take_draft (OgWorkshop *self)
{
  g_return_val_if_fail (OG_IS_WORKSHOP (self), NULL);

  return self->drafts->len > 0 ? g_ptr_array_steal_index (self->drafts, 0) : NULL;
}

guint
og_workshop_get_n_drafts (OgWorkshop *self)
{
  g_return_val_if_fail (OG_IS_WORKSHOP (self), 0);

  return self->drafts->len;
}

char **
og_workshop_name_drafts (OgWorkshop *self)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  g_return_val_if_fail (OG_IS_WORKSHOP (self), NULL);

  for (guint i = 0; i < self->drafts->len; i++)
    {
      g_autoptr (GError) error = NULL;
      char *name = og_draft_get_name (g_ptr_array_index (self->drafts, i), self->catalog, &error);

      if (name == NULL)
        g_debug ("A draft without a name: %s", error->message);
      g_ptr_array_add (names, name != NULL ? name : g_strdup (_("a draft that cannot be read")));
    }
  g_ptr_array_add (names, NULL);

  return (char **) g_ptr_array_steal (names, NULL);
}

char *
og_workshop_plan_batch (OgWorkshop       *self,
                        const OgFormula  *formula,
                        OgCatalog        *catalog,
                        double            batch_g,
                        GError          **error)
{
  OgLedgerNote note = { NULL };
  OgLedger *ledger;
  gint64 batch_mg;

  g_return_val_if_fail (OG_IS_WORKSHOP (self), NULL);

  ledger = og_workshop_get_ledger (self);
  if (ledger == NULL || !og_ledger_g_to_mg (batch_g, &batch_mg))
    {
      g_set_error_literal (error, OG_LEDGER_ERROR,
                           ledger == NULL ? OG_LEDGER_ERROR_ACCESS : OG_LEDGER_ERROR_VALUE,
                           ledger == NULL ? _("The ledger cannot be opened.")
                                          : _("The batch is too large."));
      return NULL;
    }
  note.who = og_ledger_get_who (ledger);
  return og_ledger_plan_batch (ledger, formula, catalog, batch_mg, NULL, &note, error);
}

/* Opening */

/* The schema is missing when the program runs from a build folder. */
static GSettings *
open_settings (void)
{
  GSettingsSchemaSource *source = g_settings_schema_source_get_default ();
  g_autoptr (GSettingsSchema) schema = NULL;

  if (source == NULL)
    return NULL;
  schema = g_settings_schema_source_lookup (source, OG_PROGRAM_ID, TRUE);
  return schema != NULL ? g_settings_new_full (schema, NULL, NULL) : NULL;
}

static void
load_catalog (OgWorkshop *self)
{
  g_autoptr (GError) own_fault = NULL;
  g_autoptr (GError) error = NULL;

  self->catalog = og_library_load (&own_fault, &error);
  if (own_fault != NULL)
    /* Translators: %s says why */
    self->own_fault = g_strdup_printf (_("Your own rules are left out: %s"), own_fault->message);
  if (self->catalog != NULL)
    return;
  /* Translators: %s says why */
  self->failure = g_strdup_printf (_("The list of materials cannot be read: %s"), error->message);
  g_printerr ("%s\n", self->failure);
}

static void
open_bench_store (OgWorkshop *self)
{
  g_autofree char *path =
    g_build_filename (g_get_user_data_dir (), "oleograph", OG_BENCH_STORE_NAME, NULL);
  g_autoptr (GFile) file = g_file_new_for_path (path);

  self->bench_store = og_bench_store_new (file);
}

static void
og_workshop_dispose (GObject *object)
{
  OgWorkshop *self = OG_WORKSHOP (object);

  g_clear_pointer (&self->catalog, og_catalog_unref);
  g_clear_pointer (&self->failure, g_free);
  g_clear_pointer (&self->own_fault, g_free);
  g_clear_object (&self->settings);
  g_clear_object (&self->draft_folder);
  g_clear_object (&self->bench_store);
  g_clear_object (&self->ledger);
  g_clear_pointer (&self->ledger_problem, g_free);
  g_clear_pointer (&self->shelf, og_shelf_unref);
  g_clear_pointer (&self->drafts, g_ptr_array_unref);

  G_OBJECT_CLASS (og_workshop_parent_class)->dispose (object);
}

static void
og_workshop_class_init (OgWorkshopClass *class)
{
  G_OBJECT_CLASS (class)->dispose = og_workshop_dispose;

  signals[SHELF_CHANGED] = g_signal_new ("shelf-changed", G_TYPE_FROM_CLASS (class),
                                         G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
og_workshop_init (OgWorkshop *self)
{
  g_autofree char *drafts = g_build_filename (g_get_user_data_dir (), "oleograph", "drafts", NULL);

  load_catalog (self);
  self->settings = open_settings ();
  self->draft_folder = g_file_new_for_path (drafts);
  self->drafts = og_drafts_list (self->draft_folder);
  open_bench_store (self);
}

OgWorkshop *
og_workshop_new (void)
{
  return g_object_new (OG_TYPE_WORKSHOP, NULL);
}
