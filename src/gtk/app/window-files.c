/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <string.h>

#include "core/recipe/recipe-table.h"
#include "draw/export.h"
#include "gtk/app/window-private.h"
#include "gtk/parts/compat.h"
#include "gtk/parts/recent.h"
#include "model/data-dir.h"
#include "model/document-io.h"

#define SUFFIX ".oleograph"

static const OgFileFilter open_filters[] = {
  { N_("Recipes and recipe tables"), "*.oleograph;*.csv" },
  { N_("All files"), "*" },
  { NULL, NULL },
};
static const OgFileFilter save_filters[] = {
  { N_("Recipes"), "*.oleograph" },
  { NULL, NULL },
};

/* Folders and names */

static GFile *
get_last_folder (OgWindow *self)
{
  GFile *file = og_document_get_file (self->document);
  GSettings *settings = og_workshop_get_settings (self->workshop);
  g_autofree char *uri = NULL;

  if (file != NULL)
    return g_file_get_parent (file);
  if (settings != NULL)
    uri = g_settings_get_string (settings, "last-folder");
  return uri != NULL && *uri != '\0' ? g_file_new_for_uri (uri) : NULL;
}

static void
remember_folder (OgWindow *self,
                 GFile    *file)
{
  GSettings *settings = og_workshop_get_settings (self->workshop);
  g_autoptr (GFile) folder = g_file_get_parent (file);
  g_autofree char *uri = folder != NULL ? g_file_get_uri (folder) : NULL;

  if (settings != NULL && uri != NULL)
    g_settings_set_string (settings, "last-folder", uri);
}

/* A file name made of the title of the recipe. */
static char *
propose_name (OgWindow   *self,
              const char *suffix)
{
  const char *title = og_document_get_title (self->document);
  g_autofree char *stem = g_strdup (*title != '\0' ? title : _("Untitled recipe"));

  g_strdelimit (stem, "/\\", '-');
  if (stem[0] == '.')
    stem[0] = '_';
  return g_strconcat (stem, suffix, NULL);
}

static GFile *
with_suffix (GFile      *file,
             const char *suffix)
{
  g_autofree char *name = g_file_get_basename (file);
  g_autoptr (GFile) folder = g_file_get_parent (file);
  g_autofree char *full = NULL;

  if (folder == NULL || g_str_has_suffix (name, suffix))
    return g_object_ref (file);
  full = g_strconcat (name, suffix, NULL);
  return g_file_get_child (folder, full);
}

/* Saving */

typedef struct
{
  OgWindow *window;
  GFile *file; /* nullable: where the recipe came from */
  gboolean then_close;
} SaveRequest;

static SaveRequest *
save_request_new (OgWindow *self,
                  GFile    *file,
                  gboolean  then_close)
{
  SaveRequest *request = g_new0 (SaveRequest, 1);

  request->window = g_object_ref (self);
  g_set_object (&request->file, file);
  request->then_close = then_close;
  return request;
}

static void
save_request_free (SaveRequest *request)
{
  g_object_unref (request->window);
  g_clear_object (&request->file);
  g_free (request);
}

static void write_file (OgWindow *self, GFile *file, gboolean overwrite, gboolean then_close);

static void
on_conflict_answer (GtkWindow *window,
                    guint      answer,
                    gpointer   data)
{
  SaveRequest *request = data;
  OgWindow *self = OG_WINDOW (window);

  if (answer == 1)
    og_window_save_as (self, request->then_close);
  else if (answer == 2)
    write_file (self, request->file, TRUE, request->then_close);
  save_request_free (request);
}

static void
ask_about_conflict (SaveRequest *request)
{
  const OgAnswer answers[] = {
    { _("_Cancel"), OG_ANSWER_PLAIN },
    { _("Save _as…"), OG_ANSWER_SUGGESTED },
    { _("Save any_way"), OG_ANSWER_DESTRUCTIVE },
  };

  og_compat_ask (GTK_WINDOW (request->window),
                 _("The file was changed by another program"),
                 _("Saving anyway puts this recipe in place of what is in the file now."),
                 answers, G_N_ELEMENTS (answers), on_conflict_answer, request);
}

static void
on_saved (GObject      *document,
          GAsyncResult *result,
          gpointer      data)
{
  SaveRequest *request = data;
  OgWindow *self = request->window;
  g_autoptr (GError) error = NULL;
  gboolean saved = og_document_save_finish (OG_DOCUMENT (document), result, &error);
  GFile *file = og_document_get_file (self->document);

  self->saving = FALSE;
  og_window_update_actions (self);
  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_WRONG_ETAG))
    {
      ask_about_conflict (request);
      return;
    }
  if (saved && file != NULL)
    {
      og_recent_add (file);
      remember_folder (self, file);
      og_notice_hide (self->disk_notice);
      if (request->then_close)
        gtk_window_close (GTK_WINDOW (self));
      else
        og_toast_show (self->toast, _("Saved"), NULL, NULL);
    }
  else if (!saved)
    og_window_show_message (self, _("The recipe could not be saved"), error);
  save_request_free (request);
}

static void
write_file (OgWindow *self,
            GFile    *file,
            gboolean  overwrite,
            gboolean  then_close)
{
  self->saving = TRUE;
  og_window_update_actions (self);
  og_document_save_async (self->document, file, overwrite, NULL, on_saved,
                          save_request_new (self, file, then_close));
}

static void
on_save_file (GtkWindow *window,
              GFile     *file,
              gpointer   data)
{
  OgWindow *self = OG_WINDOW (window);
  g_autoptr (GFile) full = file != NULL ? with_suffix (file, SUFFIX) : NULL;

  if (full == NULL)
    return;
  /* The chooser asked about the very name it gave; a name that got its suffix here is not
   * overwritten. */
  write_file (self, full, g_file_equal (full, file), GPOINTER_TO_INT (data));
}

void
og_window_save_as (OgWindow *self,
                   gboolean  then_close)
{
  g_autoptr (GFile) folder = get_last_folder (self);
  g_autofree char *name = propose_name (self, SUFFIX);

  og_window_commit_text (self);
  og_compat_choose_file (GTK_WINDOW (self), _("Save the recipe"), GTK_FILE_CHOOSER_ACTION_SAVE,
                         save_filters, folder, name, on_save_file, GINT_TO_POINTER (then_close));
}

void
og_window_save (OgWindow *self,
                gboolean  then_close)
{
  if (self->saving)
    return;
  og_window_commit_text (self);
  if (og_document_get_file (self->document) == NULL)
    og_window_save_as (self, then_close);
  else
    write_file (self, NULL, FALSE, then_close);
}

/* Closing */

static void
on_close_answer (GtkWindow *window,
                 guint      answer,
                 gpointer   data)
{
  OgWindow *self = OG_WINDOW (window);

  self->asking = FALSE;
  if (answer == 1)
    {
      self->close_confirmed = TRUE;
      gtk_window_close (window);
    }
  else if (answer == 2)
    og_window_save (self, TRUE);
}

gboolean
og_window_ask_before_close (OgWindow *self)
{
  const OgAnswer answers[] = {
    { _("_Cancel"), OG_ANSWER_PLAIN },
    { _("_Discard"), OG_ANSWER_DESTRUCTIVE },
    { _("_Save"), OG_ANSWER_SUGGESTED },
  };
  const char *title = og_document_get_title (self->document);
  g_autofree char *heading = NULL;

  if (self->saving || self->asking)
    return TRUE;
  og_window_commit_text (self);
  if (!og_document_get_modified (self->document))
    return FALSE;

  self->asking = TRUE;
  /* Translators: %s is the title of a recipe */
  heading = g_strdup_printf (_("Save the changes to “%s”?"),
                             *title != '\0' ? title : _("Untitled recipe"));
  og_compat_ask (GTK_WINDOW (self), heading,
                 _("Without saving, what you changed since the last time is lost."),
                 answers, G_N_ELEMENTS (answers), on_close_answer, NULL);
  return TRUE;
}

/* Opening */

static void
on_open_file (GtkWindow *window,
              GFile     *file,
              gpointer   data)
{
  OgWindow *self = OG_WINDOW (window);
  g_autofree char *uri = NULL;

  if (file == NULL)
    return;
  remember_folder (self, file);
  uri = g_file_get_uri (file);
  og_window_open_file (self, uri);
}

void
og_window_choose_and_open (OgWindow *self)
{
  g_autoptr (GFile) folder = get_last_folder (self);

  og_compat_choose_file (GTK_WINDOW (self), _("Open a recipe"), GTK_FILE_CHOOSER_ACTION_OPEN,
                         open_filters, folder, NULL, on_open_file, NULL);
}

/* The first demo recipe by name. */
static char *
find_demo (GError **error)
{
  g_autofree char *data_dir = og_data_dir ();
  g_autofree char *folder = g_build_filename (data_dir, "demo", NULL);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, error);
  g_autofree char *first = NULL;
  const char *name;

  if (dir == NULL)
    return NULL;
  while ((name = g_dir_read_name (dir)) != NULL)
    if (g_str_has_suffix (name, SUFFIX) && (first == NULL || strcmp (name, first) < 0))
      {
        g_free (first);
        first = g_strdup (name);
      }
  if (first == NULL)
    {
      g_set_error (error, G_FILE_ERROR, G_FILE_ERROR_NOENT, _("No demo recipe in %s"), folder);
      return NULL;
    }
  return g_build_filename (folder, first, NULL);
}

void
og_window_open_demo (OgWindow *self)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = find_demo (&error);
  OgFormula *formula = NULL;
  OgWindow *target = self;

  if (path != NULL)
    formula = og_recipe_load (path, og_workshop_get_catalog (self->workshop), &error);
  if (formula == NULL)
    {
      og_window_show_message (self, _("The demo recipe could not be opened"), error);
      return;
    }
  if (!og_window_is_free (self))
    {
      target = og_window_new_like (self);
      gtk_window_present (GTK_WINDOW (target));
    }
  og_document_reset (target->document, formula);
  og_grid_view_focus (target->grid);
}

/* Drafts */

/* Names beyond these are counted. */
#define MOST_NAMES 3

/* Returns: (transfer full): the recipes that can be restored, in quotation marks */
static char *
list_drafts (OgWindow *self)
{
  g_auto (GStrv) names = og_workshop_name_drafts (self->workshop);
  const guint n = g_strv_length (names);
  g_autoptr (GString) list = g_string_new (NULL);

  for (guint i = 0; i < MIN (n, MOST_NAMES); i++)
    {
      /* Translators: between the names of recipes in a list */
      g_string_append (list, i > 0 ? _(", ") : "");
      /* Translators: the title of a recipe in a list */
      g_string_append_printf (list, _("“%s”"), names[i]);
    }
  if (n > MOST_NAMES)
    {
      g_string_append (list, _(", "));
      /* Translators: recipes that are not named */
      g_string_append_printf (list, ngettext ("%u more", "%u more", n - MOST_NAMES), n - MOST_NAMES);
    }
  return g_string_free (g_steal_pointer (&list), FALSE);
}

void
og_window_offer_draft (OgWindow *self)
{
  guint n = og_workshop_get_n_drafts (self->workshop);
  g_autofree char *names = NULL;
  g_autofree char *text = NULL;

  if (n == 0)
    {
      og_notice_hide (self->draft_notice);
      return;
    }
  names = list_drafts (self);
  /* Translators: %s is one title of a recipe or several */
  text = g_strdup_printf (ngettext ("The program ended without saving. This recipe can be restored: %s",
                                    "The program ended without saving. These recipes can be restored: %s",
                                    n),
                          names);
  og_notice_show (self->draft_notice, text);
}

static void
hide_draft_notices (OgWindow *self)
{
  GtkApplication *application = gtk_window_get_application (GTK_WINDOW (self));

  for (GList *l = gtk_application_get_windows (application); l != NULL; l = l->next)
    if (OG_IS_WINDOW (l->data))
      og_window_offer_draft (l->data);
}

void
og_window_restore_draft (OgWindow *self)
{
  GFile *draft;

  while ((draft = og_workshop_take_draft (self->workshop)) != NULL)
    {
      g_autoptr (GFile) taken = draft;
      g_autoptr (GError) error = NULL;
      OgWindow *target = og_window_is_free (self) ? self : og_window_new_like (self);

      gtk_window_present (GTK_WINDOW (target));
      if (!og_document_adopt_draft (target->document, taken, &error))
        og_window_show_message (target, _("A draft could not be restored"), error);
    }
  hide_draft_notices (self);
}

static void
discard_drafts (OgWindow *self)
{
  GFile *draft;

  while ((draft = og_workshop_take_draft (self->workshop)) != NULL)
    {
      g_autoptr (GFile) taken = draft;
      g_autoptr (GError) error = NULL;

      if (!og_draft_discard (taken, &error))
        og_window_show_message (self, _("A draft could not be thrown away"), error);
    }
  hide_draft_notices (self);
}

static void
on_discard_answer (GtkWindow *window,
                   guint      answer,
                   gpointer   data)
{
  if (answer == 1)
    discard_drafts (OG_WINDOW (window));
}

void
og_window_discard_drafts (OgWindow *self)
{
  const OgAnswer answers[] = {
    { _("_Cancel"), OG_ANSWER_PLAIN },
    { _("_Throw away"), OG_ANSWER_DESTRUCTIVE },
  };
  const guint n = og_workshop_get_n_drafts (self->workshop);
  g_autofree char *names = NULL;
  g_autofree char *text = NULL;

  if (n == 0)
    return;
  names = list_drafts (self);
  /* Translators: %s is one title of a recipe or several */
  text = g_strdup_printf (_("What was not saved before the program ended is lost then: %s"), names);
  og_compat_ask (GTK_WINDOW (self),
                 ngettext ("Throw away the recipe?", "Throw away the recipes?", n), text, answers,
                 G_N_ELEMENTS (answers), on_discard_answer, NULL);
}

/* Export */

static const struct
{
  const char *nick;
  const char *suffix;
  OgExportFormat format;
} formats[] = {
  { "pdf", ".pdf", OG_EXPORT_PDF },
  { "png", ".png", OG_EXPORT_PNG },
  { "svg", ".svg", OG_EXPORT_SVG },
  { "html", ".html", OG_EXPORT_HTML },
  { "markdown", ".md", OG_EXPORT_MARKDOWN },
  { "csv", ".csv", OG_EXPORT_CSV },
  { "json", ".json", OG_EXPORT_JSON },
};

static void
on_export_file (GtkWindow *window,
                GFile     *file,
                gpointer   data)
{
  OgWindow *self = OG_WINDOW (window);
  guint i = GPOINTER_TO_UINT (data);
  g_autoptr (GFile) full = file != NULL ? with_suffix (file, formats[i].suffix) : NULL;
  g_autofree char *path = full != NULL ? g_file_get_path (full) : NULL;
  g_autofree char *name = NULL;
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;

  if (file == NULL)
    return;
  if (path == NULL)
    g_set_error (&error, G_IO_ERROR, G_IO_ERROR_NOT_SUPPORTED,
                 _("The recipe card can only be written to a folder of this computer."));
  if (path == NULL
      || !og_export_card (og_document_get_formula (self->document),
                          og_document_get_result (self->document), path, formats[i].format, &error))
    {
      og_window_show_message (self, _("The recipe card could not be written"), error);
      return;
    }
  remember_folder (self, full);
  name = g_file_get_basename (full);
  /* Translators: %s is a file name */
  text = g_strdup_printf (_("Recipe card written to %s"), name);
  og_toast_show (self->toast, text, NULL, NULL);
}

void
og_window_export (OgWindow   *self,
                  const char *format)
{
  g_autoptr (GFile) folder = get_last_folder (self);
  g_autofree char *name = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (formats); i++)
    {
      if (strcmp (formats[i].nick, format) != 0)
        continue;
      og_window_commit_text (self);
      name = propose_name (self, formats[i].suffix);
      og_compat_choose_file (GTK_WINDOW (self), _("Write the recipe card"),
                             GTK_FILE_CHOOSER_ACTION_SAVE, NULL, folder, name, on_export_file,
                             GUINT_TO_POINTER (i));
      return;
    }
  g_warning ("There is no card format “%s”", format);
}
