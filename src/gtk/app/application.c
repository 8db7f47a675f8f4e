/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "gtk/app/application.h"
#include "gtk/app/shortcuts.h"
#include "gtk/app/window.h"
#include "gtk/ledger/ledger-window.h"
#include "model/data-dir.h"
#include "model/document-io.h"
#include "model/library.h"

#define RESOURCE_PATH "/org/oleograph/Oleograph"

struct _OgApplication
{
  GtkApplication parent_instance;

  OgCatalog *catalog;
  char *failure; /* why there is no catalog */
  char *own_fault; /* why the reader's own rules are left out */
  GSettings *settings;
  GFile *draft_folder;
  OgBenchStore *bench_store;
  OgLedger *ledger;        /* NULL before the first need, and when it cannot be opened */
  gboolean ledger_tried;
  char *ledger_problem;    /* nullable: not told yet */
  OgShelf *shelf;          /* NULL: to be asked for */
  GPtrArray *drafts; /* of GFile: left behind by a crash, not yet taken */
};

G_DEFINE_FINAL_TYPE (OgApplication, og_application, GTK_TYPE_APPLICATION)

enum
{
  SHELF_CHANGED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

OgCatalog *
og_application_get_catalog (OgApplication *self)
{
  g_return_val_if_fail (OG_IS_APPLICATION (self), NULL);

  return self->catalog;
}

GSettings *
og_application_get_settings (OgApplication *self)
{
  g_return_val_if_fail (OG_IS_APPLICATION (self), NULL);

  return self->settings;
}

GFile *
og_application_get_draft_folder (OgApplication *self)
{
  g_return_val_if_fail (OG_IS_APPLICATION (self), NULL);

  return self->draft_folder;
}

OgBenchStore *
og_application_get_bench_store (OgApplication *self)
{
  g_return_val_if_fail (OG_IS_APPLICATION (self), NULL);

  return self->bench_store;
}

/* Ledger */

static void
set_ledger_problem (OgApplication *self,
                    char          *problem)
{
  g_free (self->ledger_problem);
  self->ledger_problem = problem;
}

static void
on_ledger_changed (OgApplication *self)
{
  g_clear_pointer (&self->shelf, og_shelf_unref);
  g_signal_emit (self, signals[SHELF_CHANGED], 0);
}

/* A ledger that cannot be written still tells stock and prices. */
static OgLedger *
open_ledger_file (OgApplication *self)
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
open_ledger (OgApplication *self)
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
og_application_get_ledger (OgApplication *self)
{
  g_return_val_if_fail (OG_IS_APPLICATION (self), NULL);

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
og_application_get_shelf (OgApplication *self)
{
  g_autoptr (GError) error = NULL;

  g_return_val_if_fail (OG_IS_APPLICATION (self), NULL);

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
og_application_take_ledger_problem (OgApplication *self)
{
  g_return_val_if_fail (OG_IS_APPLICATION (self), NULL);

  return g_steal_pointer (&self->ledger_problem);
}

GFile *
og_application_take_draft (OgApplication *self)
{
  g_return_val_if_fail (OG_IS_APPLICATION (self), NULL);

  return self->drafts->len > 0 ? g_ptr_array_steal_index (self->drafts, 0) : NULL;
}

guint
og_application_get_n_drafts (OgApplication *self)
{
  g_return_val_if_fail (OG_IS_APPLICATION (self), 0);

  return self->drafts->len;
}

/* A limit of the reader's own must not be passed over in silence. */
static OgWindow *
make_window (OgApplication *self)
{
  OgWindow *window = og_window_new (self);

  if (self->own_fault != NULL)
    og_window_say (window, self->own_fault, FALSE);
  return window;
}

GtkWindow *
og_application_new_window (OgApplication *self)
{
  OgWindow *window;

  g_return_val_if_fail (OG_IS_APPLICATION (self), NULL);

  window = make_window (self);
  gtk_window_present (GTK_WINDOW (window));
  return GTK_WINDOW (window);
}

static OgWindow *
find_window (OgApplication *self,
             GFile         *file)
{
  for (GList *l = gtk_application_get_windows (GTK_APPLICATION (self)); l != NULL; l = l->next)
    {
      GFile *open = OG_IS_WINDOW (l->data)
                      ? og_document_get_file (og_window_get_document (l->data))
                      : NULL;

      if (open != NULL && g_file_equal (open, file))
        return l->data;
    }
  return NULL;
}

void
og_application_open_file (OgApplication *self,
                          GFile         *file,
                          GtkWindow     *window)
{
  OgWindow *open;

  g_return_if_fail (OG_IS_APPLICATION (self));
  g_return_if_fail (G_IS_FILE (file));

  open = find_window (self, file);
  if (open == NULL)
    {
      open = OG_IS_WINDOW (window) && og_window_is_free (OG_WINDOW (window)) ? OG_WINDOW (window)
                                                                             : make_window (self);
      og_window_load (open, file);
    }
  gtk_window_present (GTK_WINDOW (open));
}

static void
act_new_window (GSimpleAction *action,
                GVariant      *parameter,
                gpointer       data)
{
  OgApplication *self = data;
  GtkWindow *window = gtk_application_get_active_window (GTK_APPLICATION (self));

  if (self->failure != NULL)
    return;
  if (OG_IS_WINDOW (window) && og_window_is_free (OG_WINDOW (window)))
    og_window_start_empty (OG_WINDOW (window));
  else
    og_window_start_empty (OG_WINDOW (og_application_new_window (self)));
}

static void
act_quit (GSimpleAction *action,
          GVariant      *parameter,
          gpointer       data)
{
  GList *windows = g_list_copy (gtk_application_get_windows (GTK_APPLICATION (data)));

  for (GList *l = windows; l != NULL; l = l->next)
    gtk_window_close (l->data);
  g_list_free (windows);
}

static void
act_show_ledger (GSimpleAction *action,
                 GVariant      *parameter,
                 gpointer       data)
{
  if (OG_APPLICATION (data)->failure == NULL)
    og_ledger_window_present (data);
}

static const GActionEntry app_actions[] = {
  { "new-window", act_new_window },
  { "quit", act_quit },
  { "show-ledger", act_show_ledger },
};

/* The schema is missing when the program runs from a build folder. */
static GSettings *
open_settings (void)
{
  GSettingsSchemaSource *source = g_settings_schema_source_get_default ();
  g_autoptr (GSettingsSchema) schema = NULL;

  if (source == NULL)
    return NULL;
  schema = g_settings_schema_source_lookup (source, OG_APPLICATION_ID, TRUE);
  return schema != NULL ? g_settings_new_full (schema, NULL, NULL) : NULL;
}

static void
load_catalog (OgApplication *self)
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

/* Without materials there is nothing to work with; all that is left is to say so. */
static void
show_failure (OgApplication *self)
{
  GtkWidget *window = gtk_application_window_new (GTK_APPLICATION (self));
  GtkWidget *label = gtk_label_new (self->failure);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_selectable (GTK_LABEL (label), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 60);
  gtk_widget_add_css_class (label, "welcome");
  gtk_window_set_title (GTK_WINDOW (window), _("Oleograph"));
  gtk_window_set_child (GTK_WINDOW (window), label);
  gtk_window_present (GTK_WINDOW (window));
}

static void
load_style (void)
{
  g_autoptr (GtkCssProvider) provider = gtk_css_provider_new ();
  g_autofree char *data_dir = og_data_dir ();
  g_autofree char *icons = g_build_filename (data_dir, "icons", NULL);
  GdkDisplay *display = gdk_display_get_default ();

  gtk_css_provider_load_from_resource (provider, RESOURCE_PATH "/style.css");
  gtk_style_context_add_provider_for_display (display, GTK_STYLE_PROVIDER (provider),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
  gtk_icon_theme_add_search_path (gtk_icon_theme_get_for_display (display), icons);
  gtk_window_set_default_icon_name (OG_APPLICATION_ID);
}

static void
open_bench_store (OgApplication *self)
{
  g_autofree char *path =
    g_build_filename (g_get_user_data_dir (), "oleograph", OG_BENCH_STORE_NAME, NULL);
  g_autoptr (GFile) file = g_file_new_for_path (path);

  self->bench_store = og_bench_store_new (file);
}

static void
og_application_startup (GApplication *application)
{
  OgApplication *self = OG_APPLICATION (application);
  g_autofree char *drafts = NULL;

  G_APPLICATION_CLASS (og_application_parent_class)->startup (application);

  load_catalog (self);
  load_style ();
  self->settings = open_settings ();
  drafts = g_build_filename (g_get_user_data_dir (), "oleograph", "drafts", NULL);
  self->draft_folder = g_file_new_for_path (drafts);
  self->drafts = og_drafts_list (self->draft_folder);
  open_bench_store (self);
  g_action_map_add_action_entries (G_ACTION_MAP (self), app_actions, G_N_ELEMENTS (app_actions),
                                   self);
  og_shortcuts_install_app (GTK_APPLICATION (self));
}

static void
og_application_activate (GApplication *application)
{
  OgApplication *self = OG_APPLICATION (application);

  if (self->failure != NULL)
    show_failure (self);
  else
    og_application_new_window (self);
}

static void
og_application_open (GApplication  *application,
                     GFile        **files,
                     int            n_files,
                     const char    *hint)
{
  if (OG_APPLICATION (application)->failure != NULL)
    {
      show_failure (OG_APPLICATION (application));
      return;
    }
  for (int i = 0; i < n_files; i++)
    og_application_open_file (OG_APPLICATION (application), files[i],
                              gtk_application_get_active_window (GTK_APPLICATION (application)));
}

static void
og_application_dispose (GObject *object)
{
  OgApplication *self = OG_APPLICATION (object);

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

  G_OBJECT_CLASS (og_application_parent_class)->dispose (object);
}

static void
og_application_class_init (OgApplicationClass *class)
{
  GApplicationClass *application_class = G_APPLICATION_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = og_application_dispose;
  application_class->startup = og_application_startup;
  application_class->activate = og_application_activate;
  application_class->open = og_application_open;

  signals[SHELF_CHANGED] = g_signal_new ("shelf-changed", G_TYPE_FROM_CLASS (class),
                                         G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
og_application_init (OgApplication *self)
{
  g_application_add_main_option (G_APPLICATION (self), "version", 'V', G_OPTION_FLAG_NONE,
                                 G_OPTION_ARG_NONE, N_("Print the version and end"), NULL);
}

static int
on_local_options (GApplication *application,
                  GVariantDict *options,
                  gpointer      data)
{
  if (!g_variant_dict_contains (options, "version"))
    return -1;
  g_print ("oleograph %s\n", OG_VERSION);
  return 0;
}

OgApplication *
og_application_new (void)
{
  OgApplication *self = g_object_new (OG_TYPE_APPLICATION,
                                      "application-id", OG_APPLICATION_ID,
                                      "flags", G_APPLICATION_HANDLES_OPEN,
                                      "resource-base-path", RESOURCE_PATH,
                                      NULL);

  g_signal_connect (self, "handle-local-options", G_CALLBACK (on_local_options), NULL);
  return self;
}
