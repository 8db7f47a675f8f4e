/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/parts/document-page.h"
#include "gtk/parts/refresh.h"

typedef struct
{
  OgDocument *document;
  OgRefresh refresh;
} OgDocumentPagePrivate;

G_DEFINE_ABSTRACT_TYPE_WITH_PRIVATE (OgDocumentPage, og_document_page, GTK_TYPE_WIDGET)

enum
{
  PROP_0,
  PROP_DOCUMENT,
  N_PROPS
};

static GParamSpec *properties[N_PROPS];

static OgDocumentPagePrivate *
get_private (OgDocumentPage *self)
{
  return og_document_page_get_instance_private (self);
}

void
og_document_page_ask (OgDocumentPage *self)
{
  g_return_if_fail (OG_IS_DOCUMENT_PAGE (self));

  og_refresh_ask (&get_private (self)->refresh);
}

void
og_document_page_flush (OgDocumentPage *self)
{
  g_return_if_fail (OG_IS_DOCUMENT_PAGE (self));

  og_refresh_now (&get_private (self)->refresh);
}

void
og_document_page_done (OgDocumentPage *self)
{
  g_return_if_fail (OG_IS_DOCUMENT_PAGE (self));

  og_refresh_drop (&get_private (self)->refresh);
}

gboolean
og_document_page_is_due (OgDocumentPage *self)
{
  g_return_val_if_fail (OG_IS_DOCUMENT_PAGE (self), FALSE);

  return get_private (self)->refresh.due;
}

void
og_document_page_leave (OgDocumentPage *self)
{
  OgDocumentPagePrivate *private = get_private (self);

  og_refresh_drop (&private->refresh);
  if (private->document != NULL)
    g_signal_handlers_disconnect_by_data (private->document, self);
  g_clear_object (&private->document);
}

static void
connect_document (OgDocumentPage *self,
                  OgDocument     *document)
{
  OgDocumentPageClass *class = OG_DOCUMENT_PAGE_GET_CLASS (self);

  if (class->formula_changed != NULL)
    g_signal_connect_object (document, "formula-changed", G_CALLBACK (class->formula_changed),
                             self, G_CONNECT_SWAPPED);
  if (class->result_changed != NULL)
    g_signal_connect_object (document, "result-changed", G_CALLBACK (class->result_changed), self,
                             G_CONNECT_SWAPPED);
}

void
og_document_page_set_document (OgDocumentPage *self,
                               OgDocument     *document)
{
  OgDocumentPagePrivate *private;

  g_return_if_fail (OG_IS_DOCUMENT_PAGE (self));

  private = get_private (self);
  if (private->document == document)
    return;
  if (private->document != NULL)
    g_signal_handlers_disconnect_by_data (private->document, self);
  g_set_object (&private->document, document);
  if (document != NULL)
    connect_document (self, document);
  OG_DOCUMENT_PAGE_GET_CLASS (self)->follow (self, document);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_DOCUMENT]);
}

static void
refresh (GtkWidget *widget)
{
  OG_DOCUMENT_PAGE_GET_CLASS (widget)->refresh (OG_DOCUMENT_PAGE (widget));
}

static void
og_document_page_get_property (GObject    *object,
                               guint       id,
                               GValue     *value,
                               GParamSpec *pspec)
{
  if (id == PROP_DOCUMENT)
    g_value_set_object (value, get_private (OG_DOCUMENT_PAGE (object))->document);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
og_document_page_set_property (GObject      *object,
                               guint         id,
                               const GValue *value,
                               GParamSpec   *pspec)
{
  if (id == PROP_DOCUMENT)
    og_document_page_set_document (OG_DOCUMENT_PAGE (object), g_value_get_object (value));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
og_document_page_constructed (GObject *object)
{
  OgDocumentPage *self = OG_DOCUMENT_PAGE (object);

  G_OBJECT_CLASS (og_document_page_parent_class)->constructed (object);

  get_private (self)->refresh.priority = OG_DOCUMENT_PAGE_GET_CLASS (self)->refresh_priority;
}

static void
og_document_page_dispose (GObject *object)
{
  og_document_page_leave (OG_DOCUMENT_PAGE (object));

  G_OBJECT_CLASS (og_document_page_parent_class)->dispose (object);
}

static void
og_document_page_class_init (OgDocumentPageClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);

  object_class->constructed = og_document_page_constructed;
  object_class->get_property = og_document_page_get_property;
  object_class->set_property = og_document_page_set_property;
  object_class->dispose = og_document_page_dispose;
  class->refresh_priority = G_PRIORITY_LOW;

  properties[PROP_DOCUMENT] =
    g_param_spec_object ("document", NULL, NULL, OG_TYPE_DOCUMENT,
                         G_PARAM_READWRITE | G_PARAM_EXPLICIT_NOTIFY | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static void
og_document_page_init (OgDocumentPage *self)
{
  og_refresh_init (&get_private (self)->refresh, GTK_WIDGET (self), G_PRIORITY_LOW, refresh);
}
