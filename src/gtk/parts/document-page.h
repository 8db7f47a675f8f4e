/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "model/document.h"

G_BEGIN_DECLS

#define OG_TYPE_DOCUMENT_PAGE (og_document_page_get_type ())
G_DECLARE_DERIVABLE_TYPE (OgDocumentPage, og_document_page, OG, DOCUMENT_PAGE, GtkWidget)

/**
 * OgDocumentPageClass:
 * @follow: there is another document; (nullable) @document
 * @formula_changed: (nullable): the recipe of the document changed
 * @result_changed: (nullable): so did what is predicted
 * @refresh: (nullable): shows what there is now; see og_document_page_ask()
 * @refresh_priority: of the idle that refreshes; low by default
 *
 * A part of the window that follows a document. Property: "document" (#OgDocument, nullable).
 */
struct _OgDocumentPageClass
{
  GtkWidgetClass parent_class;

  void (*follow)          (OgDocumentPage *self,
                           OgDocument     *document);
  void (*formula_changed) (OgDocumentPage *self);
  void (*result_changed)  (OgDocumentPage *self);
  void (*refresh)         (OgDocumentPage *self);
  int  refresh_priority;
};

/** @document: (nullable) */
void     og_document_page_set_document (OgDocumentPage *self,
                                        OgDocument     *document);
/** Asks for one refresh, in an idle and only while the page can be seen. */
void     og_document_page_ask          (OgDocumentPage *self);
/** Refreshes at once if that is due. */
void     og_document_page_flush        (OgDocumentPage *self);
/** What is shown is what there is: no refresh is due any more. */
void     og_document_page_done         (OgDocumentPage *self);
/** Returns: whether a refresh is due */
gboolean og_document_page_is_due       (OgDocumentPage *self);
/** Lets go of the document without @follow: what dispose() of a page begins with. */
void     og_document_page_leave        (OgDocumentPage *self);

G_END_DECLS
