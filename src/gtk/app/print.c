/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/card.h"
#include "gtk/app/print.h"

typedef struct
{
  OgCard *card;
  GtkWindow *parent;
  OgPrintFunc func;
  gpointer data;
} PrintJob;

static GtkPrintSettings *kept_settings;
static GtkPageSetup *kept_setup;

static void
print_job_free (gpointer  data,
                GClosure *closure)
{
  PrintJob *job = data;

  og_card_free (job->card);
  g_clear_weak_pointer (&job->parent);
  g_free (job);
}

static void
on_begin_print (GtkPrintOperation *operation,
                GtkPrintContext   *context,
                PrintJob          *job)
{
  OgDrawStyle style;
  guint pages;

  og_draw_style_paper (&style);
  pages = og_card_paginate (job->card,
                            gtk_print_context_get_width (context),
                            gtk_print_context_get_height (context),
                            &style);
  gtk_print_operation_set_n_pages (operation, (int) MAX (pages, 1));
}

static void
on_draw_page (GtkPrintOperation *operation,
              GtkPrintContext   *context,
              int                page,
              PrintJob          *job)
{
  og_card_draw_page (job->card, gtk_print_context_get_cairo_context (context), (guint) page);
}

static void
on_done (GtkPrintOperation       *operation,
         GtkPrintOperationResult  result,
         PrintJob                *job)
{
  g_autoptr (GError) error = NULL;

  if (result == GTK_PRINT_OPERATION_RESULT_APPLY)
    {
      g_set_object (&kept_settings, gtk_print_operation_get_print_settings (operation));
      g_set_object (&kept_setup, gtk_print_operation_get_default_page_setup (operation));
    }
  else if (result == GTK_PRINT_OPERATION_RESULT_ERROR)
    gtk_print_operation_get_error (operation, &error);
  if (error != NULL && job->func != NULL && job->parent != NULL)
    job->func (job->parent, error, job->data);
}

static GtkPrintOperation *
make_operation (OgDocument  *document,
                GtkWindow   *parent,
                OgPrintFunc  func,
                gpointer     data)
{
  GtkPrintOperation *operation = gtk_print_operation_new ();
  PrintJob *job = g_new0 (PrintJob, 1);

  job->card = og_card_new (og_document_get_formula (document), og_document_get_result (document));
  g_set_weak_pointer (&job->parent, parent);
  job->func = func;
  job->data = data;
  gtk_print_operation_set_unit (operation, GTK_UNIT_POINTS);
  gtk_print_operation_set_use_full_page (operation, TRUE);
  gtk_print_operation_set_job_name (operation, og_document_get_title (document));
  g_signal_connect (operation, "begin-print", G_CALLBACK (on_begin_print), job);
  g_signal_connect (operation, "draw-page", G_CALLBACK (on_draw_page), job);
  g_signal_connect_data (operation, "done", G_CALLBACK (on_done), job, print_job_free, 0);
  return operation;
}

void
og_print_card (GtkWindow   *parent,
               OgDocument  *document,
               OgPrintFunc  func,
               gpointer     data)
{
  g_autoptr (GtkPrintOperation) operation = NULL;
  g_autoptr (GError) error = NULL;

  g_return_if_fail (GTK_IS_WINDOW (parent));
  g_return_if_fail (OG_IS_DOCUMENT (document));

  operation = make_operation (document, parent, func, data);
  if (kept_settings != NULL)
    gtk_print_operation_set_print_settings (operation, kept_settings);
  if (kept_setup != NULL)
    gtk_print_operation_set_default_page_setup (operation, kept_setup);
  gtk_print_operation_set_allow_async (operation, TRUE);
  gtk_print_operation_run (operation, GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG, parent, &error);
  if (error != NULL && func != NULL)
    func (parent, error, data);
}

gboolean
og_print_card_to_pdf (OgDocument  *document,
                      const char  *path,
                      GError     **error)
{
  g_autoptr (GtkPrintOperation) operation = NULL;

  g_return_val_if_fail (OG_IS_DOCUMENT (document), FALSE);
  g_return_val_if_fail (path != NULL, FALSE);

  operation = make_operation (document, NULL, NULL, NULL);
  gtk_print_operation_set_export_filename (operation, path);
  return gtk_print_operation_run (operation, GTK_PRINT_OPERATION_ACTION_EXPORT, NULL, error)
         == GTK_PRINT_OPERATION_RESULT_APPLY;
}
