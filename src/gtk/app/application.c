/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "gtk/app/application.h"
#include "gtk/app/ledger-windows.h"
#include "gtk/app/recipe-window.h"
#include "gtk/app/shortcuts.h"
#include "gtk/parts/text-undo.h"
#include "model/data-dir.h"
#include "model/document-io.h"

#define RESOURCE_PATH "/org/oleograph/Oleograph"

struct _OgApplication
{
  GtkApplication parent_instance;

  OgWorkshop *workshop;
};

G_DEFINE_FINAL_TYPE (OgApplication, og_application, GTK_TYPE_APPLICATION)

static OgWindow *
open_window (OgApplication *self)
{
  OgWindow *window = og_recipe_window_new (GTK_APPLICATION (self), self->workshop);

  gtk_window_present (GTK_WINDOW (window));
  return window;
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

/* Shows @file in the window that has it, or else in @window if nothing is in it yet, or else in a
 * new one. @window: (nullable) */
static void
open_file (OgApplication *self,
           GFile         *file,
           GtkWindow     *window)
{
  OgWindow *open = find_window (self, file);

  if (open == NULL)
    {
      open = OG_IS_WINDOW (window) && og_window_is_free (OG_WINDOW (window))
               ? OG_WINDOW (window)
               : og_recipe_window_new (GTK_APPLICATION (self), self->workshop);
      og_window_load (open, file);
    }
  gtk_window_present (GTK_WINDOW (open));
}

/* Actions */

static void
act_new_window (GSimpleAction *action,
                GVariant      *parameter,
                gpointer       data)
{
  OgApplication *self = data;
  GtkWindow *window = gtk_application_get_active_window (GTK_APPLICATION (self));

  if (og_workshop_get_failure (self->workshop) != NULL)
    return;
  if (OG_IS_WINDOW (window) && og_window_is_free (OG_WINDOW (window)))
    og_window_start_empty (OG_WINDOW (window));
  else
    og_window_start_empty (open_window (self));
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
  OgApplication *self = data;

  if (og_workshop_get_failure (self->workshop) == NULL)
    og_ledger_windows_show (GTK_APPLICATION (self), self->workshop);
}

static void
act_batch_record (GSimpleAction *action,
                  GVariant      *parameter,
                  gpointer       data)
{
  og_ledger_windows_show_record (GTK_APPLICATION (data), OG_APPLICATION (data)->workshop,
                                 g_variant_get_string (parameter, NULL));
}

static void
act_open_file (GSimpleAction *action,
               GVariant      *parameter,
               gpointer       data)
{
  g_autoptr (GFile) file = NULL;
  const char *uri;
  guint window_id;

  g_variant_get (parameter, "(&su)", &uri, &window_id);
  file = g_file_new_for_uri (uri);
  open_file (data, file, gtk_application_get_window_by_id (data, window_id));
}

static const GActionEntry app_actions[] = {
  { "new-window", act_new_window },
  { "quit", act_quit },
  { "show-ledger", act_show_ledger },
  { "batch-record", act_batch_record, "s" },
  { OG_WINDOW_OPEN_FILE, act_open_file, "(su)" },
};

/* Without materials there is nothing to work with; all that is left is to say so. */
static void
show_failure (OgApplication *self)
{
  GtkWidget *window = gtk_application_window_new (GTK_APPLICATION (self));
  GtkWidget *label = gtk_label_new (og_workshop_get_failure (self->workshop));

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
  gtk_window_set_default_icon_name (OG_PROGRAM_ID);
}

static void
og_application_startup (GApplication *application)
{
  OgApplication *self = OG_APPLICATION (application);

  G_APPLICATION_CLASS (og_application_parent_class)->startup (application);

  self->workshop = og_workshop_new ();
  if (og_workshop_get_failure (self->workshop) != NULL)
    g_printerr ("%s\n", og_workshop_get_failure (self->workshop));
  load_style ();
  g_action_map_add_action_entries (G_ACTION_MAP (self), app_actions, G_N_ELEMENTS (app_actions),
                                   self);
  og_shortcuts_install_app (GTK_APPLICATION (self));
  og_text_undo_watch ();
}

static void
og_application_activate (GApplication *application)
{
  OgApplication *self = OG_APPLICATION (application);

  if (og_workshop_get_failure (self->workshop) != NULL)
    show_failure (self);
  else
    open_window (self);
}

static void
og_application_open (GApplication  *application,
                     GFile        **files,
                     int            n_files,
                     const char    *hint)
{
  OgApplication *self = OG_APPLICATION (application);

  if (og_workshop_get_failure (self->workshop) != NULL)
    {
      show_failure (self);
      return;
    }
  for (int i = 0; i < n_files; i++)
    open_file (self, files[i],
               gtk_application_get_active_window (GTK_APPLICATION (application)));
}

static void
og_application_dispose (GObject *object)
{
  g_clear_object (&OG_APPLICATION (object)->workshop);

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
                                      "application-id", OG_PROGRAM_ID,
                                      "flags", G_APPLICATION_HANDLES_OPEN,
                                      "resource-base-path", RESOURCE_PATH,
                                      NULL);

  g_signal_connect (self, "handle-local-options", G_CALLBACK (on_local_options), NULL);
  return self;
}
