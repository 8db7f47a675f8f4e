/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "draw/export.h"
#include "gtk/parts/compat.h"
#include "gtk/parts/sheet-file.h"

#define SHEET_DATA "og-sheet"

typedef struct
{
  OgSheetFunc func;
  gpointer data;
} Request;

static gboolean
write_sheet (OgCard  *sheet,
             GFile   *file,
             GError **error)
{
  g_autofree char *path = g_file_get_path (file);
  OgExportFormat format;

  if (path == NULL)
    {
      g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_NOT_SUPPORTED,
                           _("Choose a folder of this computer."));
      return FALSE;
    }
  if (!og_export_format_from_path (path, &format) || format == OG_EXPORT_CSV
      || format == OG_EXPORT_JSON)
    {
      g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_INVALID_FILENAME,
                           _("The name has to end in .pdf, .html, .md, .png or .svg."));
      return FALSE;
    }
  return og_export_sheet (sheet, path, format, error);
}

static void
on_file (GtkWindow *parent,
         GFile     *file,
         gpointer   data)
{
  g_autofree Request *request = data;
  g_autoptr (OgCard) sheet = g_object_steal_data (G_OBJECT (parent), SHEET_DATA);
  g_autoptr (GError) error = NULL;

  if (file == NULL || sheet == NULL)
    return;
  write_sheet (sheet, file, &error);
  request->func (parent, error, request->data);
}

void
og_sheet_file_ask (GtkWindow   *parent,
                   OgCard      *sheet,
                   const char  *name,
                   OgSheetFunc  func,
                   gpointer     data)
{
  static const OgFileFilter filters[] = {
    { N_("PDF, web page, text or picture"), "*.pdf;*.html;*.md;*.png;*.svg" },
    { NULL },
  };
  Request *request = g_new (Request, 1);

  *request = (Request) { func, data };
  g_object_set_data_full (G_OBJECT (parent), SHEET_DATA, sheet, (GDestroyNotify) og_card_free);
  og_compat_choose_file (parent, _("Batch record"), GTK_FILE_CHOOSER_ACTION_SAVE, filters, NULL,
                         name, on_file, request);
}
