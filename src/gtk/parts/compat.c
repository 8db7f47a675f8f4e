/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "gtk/parts/compat.h"

#define MAX_ANSWERS 4

/* File chooser */

typedef struct
{
  GtkFileChooserNative *chooser;
  OgFileFunc func;
  gpointer data;
} FileRequest;

static void
file_request_free (FileRequest *request)
{
  gtk_native_dialog_destroy (GTK_NATIVE_DIALOG (request->chooser));
  g_object_unref (request->chooser);
  g_free (request);
}

static void
on_file_response (FileRequest *request,
                  int          response)
{
  GtkWindow *parent =
    gtk_native_dialog_get_transient_for (GTK_NATIVE_DIALOG (request->chooser));
  g_autoptr (GFile) file = NULL;

  if (response == GTK_RESPONSE_ACCEPT)
    file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (request->chooser));
  gtk_native_dialog_hide (GTK_NATIVE_DIALOG (request->chooser));
  if (parent != NULL)
    {
      g_object_ref (parent);
      request->func (parent, file, request->data);
      g_object_set_data (G_OBJECT (parent), "og-file-request", NULL);
      g_object_unref (parent);
    }
}

static void
add_filters (GtkFileChooser     *chooser,
             const OgFileFilter *filters)
{
  for (const OgFileFilter *f = filters; f != NULL && f->name != NULL; f++)
    {
      g_autoptr (GtkFileFilter) filter = gtk_file_filter_new ();
      g_auto (GStrv) patterns = g_strsplit (f->patterns, ";", -1);

      gtk_file_filter_set_name (filter, _(f->name));
      for (char **p = patterns; *p != NULL; p++)
        gtk_file_filter_add_pattern (filter, *p);
      gtk_file_chooser_add_filter (chooser, filter);
    }
}

void
og_compat_choose_file (GtkWindow            *parent,
                       const char           *title,
                       GtkFileChooserAction  action,
                       const OgFileFilter   *filters,
                       GFile                *folder,
                       const char           *name,
                       OgFileFunc            func,
                       gpointer              data)
{
  FileRequest *request;

  g_return_if_fail (GTK_IS_WINDOW (parent));
  g_return_if_fail (func != NULL);

  request = g_new0 (FileRequest, 1);
  request->func = func;
  request->data = data;
  request->chooser =
    gtk_file_chooser_native_new (title, parent, action,
                                 action == GTK_FILE_CHOOSER_ACTION_OPEN ? _("_Open") : _("_Save"),
                                 _("_Cancel"));
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (request->chooser), TRUE);
  add_filters (GTK_FILE_CHOOSER (request->chooser), filters);
  if (folder != NULL)
    gtk_file_chooser_set_current_folder (GTK_FILE_CHOOSER (request->chooser), folder, NULL);
  if (name != NULL)
    gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (request->chooser), name);
  g_signal_connect_swapped (request->chooser, "response", G_CALLBACK (on_file_response), request);
  g_object_set_data_full (G_OBJECT (parent), "og-file-request", request,
                          (GDestroyNotify) file_request_free);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (request->chooser));
}

/* Question */

typedef struct
{
  OgAnswerFunc func;
  gpointer data;
  guint n_answers;
} Question;

static void
on_answer (GtkWidget *dialog,
           int        response,
           Question  *question)
{
  GtkWindow *parent = gtk_window_get_transient_for (GTK_WINDOW (dialog));
  Question asked = *question;
  guint answer = response >= 0 && (guint) response < asked.n_answers ? (guint) response : 0;

  g_object_ref (parent);
  gtk_window_set_transient_for (GTK_WINDOW (dialog), NULL); /* the parent may go first */
  gtk_window_destroy (GTK_WINDOW (dialog));
  if (asked.func != NULL)
    asked.func (parent, answer, asked.data);
  g_object_unref (parent);
}

static void
free_question (gpointer  data,
               GClosure *closure)
{
  g_free (data);
}

/* The mark of the mnemonic would be read out, and the label twice. */
static void
name_button (GtkWidget  *button,
             const char *label)
{
  g_auto (GStrv) parts = g_strsplit (label, "_", -1);
  g_autofree char *name = g_strjoinv ("", parts);

  gtk_accessible_reset_relation (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_RELATION_LABELLED_BY);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  -1);
}

void
og_compat_ask (GtkWindow      *parent,
               const char     *heading,
               const char     *body,
               const OgAnswer *answers,
               guint           n_answers,
               OgAnswerFunc    func,
               gpointer        data)
{
  GtkWidget *dialog;
  Question *question;

  g_return_if_fail (GTK_IS_WINDOW (parent));
  g_return_if_fail (n_answers > 0 && n_answers <= MAX_ANSWERS);

  dialog = gtk_message_dialog_new (parent, GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT,
                                   GTK_MESSAGE_QUESTION, GTK_BUTTONS_NONE, "%s", heading);
  gtk_message_dialog_format_secondary_text (GTK_MESSAGE_DIALOG (dialog), "%s", body);
  gtk_window_set_title (GTK_WINDOW (dialog), heading);
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), 0);
  for (guint i = 0; i < n_answers; i++)
    {
      GtkWidget *button = gtk_dialog_add_button (GTK_DIALOG (dialog), answers[i].label, (int) i);

      name_button (button, answers[i].label);
      if (answers[i].style == OG_ANSWER_SUGGESTED)
        {
          gtk_widget_add_css_class (button, "suggested-action");
          gtk_dialog_set_default_response (GTK_DIALOG (dialog), (int) i);
        }
      else if (answers[i].style == OG_ANSWER_DESTRUCTIVE)
        gtk_widget_add_css_class (button, "destructive-action");
    }

  question = g_new (Question, 1);
  *question = (Question) { .func = func, .data = data, .n_answers = n_answers };
  g_signal_connect_data (dialog, "response", G_CALLBACK (on_answer), question, free_question, 0);
  gtk_window_present (GTK_WINDOW (dialog));
}

/* Shortcuts */

void
og_compat_show_shortcuts (GtkWindow  *parent,
                          const char *ui)
{
  g_autoptr (GtkBuilder) builder = gtk_builder_new_from_string (ui, -1);
  GObject *window = gtk_builder_get_object (builder, "shortcuts");

  g_return_if_fail (GTK_IS_SHORTCUTS_WINDOW (window));

  gtk_window_set_transient_for (GTK_WINDOW (window), parent);
  gtk_window_present (GTK_WINDOW (window));
}

/* Colours */

gboolean
og_compat_lookup_color (GtkWidget  *widget,
                        const char *name,
                        GdkRGBA    *colour)
{
  return gtk_style_context_lookup_color (gtk_widget_get_style_context (widget), name, colour);
}

void
og_compat_get_color (GtkWidget *widget,
                     GdkRGBA   *colour)
{
  gtk_style_context_get_color (gtk_widget_get_style_context (widget), colour);
}
