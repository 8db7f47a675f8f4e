/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <gtk/gtk.h>

#include "gtk/parts/document-page.h"
#include "gtk/parts/painted-view.h"
#include "model/data-dir.h"
#include "widgets.h"

/* What pages and pictures are made of: when they work, and that they go with their window. */

static OgCatalog *library;

/* A page that counts what it is told. */

G_DECLARE_FINAL_TYPE (ProbePage, probe_page, PROBE, PAGE, OgDocumentPage)

struct _ProbePage
{
  OgDocumentPage parent_instance;

  guint follows;
  guint formulas;
  guint results;
  guint refreshes;
};

G_DEFINE_FINAL_TYPE (ProbePage, probe_page, OG_TYPE_DOCUMENT_PAGE)

static void
probe_page_follow (OgDocumentPage *page,
                   OgDocument     *document)
{
  PROBE_PAGE (page)->follows++;
  og_document_page_ask (page);
}

static void
probe_page_formula_changed (OgDocumentPage *page)
{
  PROBE_PAGE (page)->formulas++;
  og_document_page_ask (page);
}

static void
probe_page_result_changed (OgDocumentPage *page)
{
  PROBE_PAGE (page)->results++;
  og_document_page_ask (page);
}

static void
probe_page_refresh (OgDocumentPage *page)
{
  PROBE_PAGE (page)->refreshes++;
}

static void
probe_page_class_init (ProbePageClass *class)
{
  OgDocumentPageClass *page_class = OG_DOCUMENT_PAGE_CLASS (class);

  page_class->follow = probe_page_follow;
  page_class->formula_changed = probe_page_formula_changed;
  page_class->result_changed = probe_page_result_changed;
  page_class->refresh = probe_page_refresh;
}

static void
probe_page_init (ProbePage *self)
{
}

/* A picture that counts how often it is painted. */

G_DECLARE_FINAL_TYPE (ProbeView, probe_view, PROBE, VIEW, OgPaintedView)

struct _ProbeView
{
  OgPaintedView parent_instance;

  guint paints;
};

G_DEFINE_FINAL_TYPE (ProbeView, probe_view, OG_TYPE_PAINTED_VIEW)

static void
probe_view_paint (OgPaintedView     *view,
                  cairo_t           *cr,
                  double             width,
                  double             height,
                  const OgDrawStyle *style)
{
  g_assert_cmpfloat (width, >, 0.0);
  g_assert_cmpfloat (height, >, 0.0);
  PROBE_VIEW (view)->paints++;
}

static void
probe_view_measure_height (OgPaintedView     *view,
                           double             width,
                           const OgDrawStyle *style,
                           double            *minimum,
                           double            *natural)
{
  *minimum = width < 0.0 ? 7.0 : width / 2.0;
  *natural = *minimum + 3.0;
}

static void
probe_view_class_init (ProbeViewClass *class)
{
  OgPaintedViewClass *view_class = OG_PAINTED_VIEW_CLASS (class);

  view_class->paint = probe_view_paint;
  view_class->measure_height = probe_view_measure_height;
  view_class->least_ems = 4.0;
  view_class->usual_ems = 9.0;
  view_class->height_for_width = TRUE;
}

static void
probe_view_init (ProbeView *self)
{
}

static GtkWidget *
show_in_window (gpointer child)
{
  GtkWidget *window = gtk_window_new ();

  gtk_window_set_default_size (GTK_WINDOW (window), 300, 200);
  gtk_window_set_child (GTK_WINDOW (window), child);
  gtk_window_present (GTK_WINDOW (window));
  settle ();
  g_assert_true (gtk_widget_get_mapped (child));
  return window;
}

/* The window must have been the last to hold @child. */
static void
close_window (GtkWidget *window,
              gpointer   child)
{
  g_object_add_weak_pointer (child, &child);
  gtk_window_destroy (GTK_WINDOW (window));
  settle ();
  g_assert_null (child);
}

static void
test_page_follows (void)
{
  g_autoptr (OgDocument) document = og_document_new (library);
  g_autoptr (OgDocument) held = NULL;
  ProbePage *page = g_object_new (probe_page_get_type (), NULL);
  GtkWidget *window = show_in_window (page);

  og_document_page_set_document (OG_DOCUMENT_PAGE (page), document);
  og_document_page_set_document (OG_DOCUMENT_PAGE (page), document);
  g_assert_cmpuint (page->follows, ==, 1);
  g_object_get (page, "document", &held, NULL);
  g_assert_true (held == document);
  og_document_add_line (document, "castor-oil", 0, G_MAXUINT);
  g_assert_cmpuint (page->formulas, ==, 1);
  og_document_get_result (document);
  settle ();
  g_assert_cmpuint (page->results, >, 0);

  g_object_set (page, "document", NULL, NULL);
  g_assert_cmpuint (page->follows, ==, 2);
  og_document_add_line (document, "jojoba-oil", 0, G_MAXUINT);
  g_assert_cmpuint (page->formulas, ==, 1);
  g_object_set (page, "document", document, NULL);
  close_window (window, page);
  g_clear_object (&held);
  og_document_add_line (document, "squalane", 0, G_MAXUINT); /* nobody listens any more */
  g_assert_finalize_object (g_steal_pointer (&document));
}

static void
test_page_works_while_seen (void)
{
  g_autoptr (OgDocument) document = og_document_new (library);
  ProbePage *page = g_object_new (probe_page_get_type (), NULL);
  OgDocumentPage *base = OG_DOCUMENT_PAGE (page);
  GtkWidget *window;

  og_document_page_set_document (base, document);
  settle ();
  g_assert_cmpuint (page->refreshes, ==, 0);
  g_assert_true (og_document_page_is_due (base));
  window = show_in_window (page);
  g_assert_cmpuint (page->refreshes, ==, 1);
  g_assert_false (og_document_page_is_due (base));

  for (guint i = 0; i < 3; i++)
    og_document_page_ask (base);
  g_assert_cmpuint (page->refreshes, ==, 1);
  settle ();
  g_assert_cmpuint (page->refreshes, ==, 2);
  og_document_page_ask (base);
  og_document_page_flush (base);
  g_assert_cmpuint (page->refreshes, ==, 3);
  og_document_page_ask (base);
  og_document_page_done (base);
  settle ();
  g_assert_cmpuint (page->refreshes, ==, 3);

  og_document_page_ask (base);
  gtk_widget_set_visible (GTK_WIDGET (page), FALSE);
  settle ();
  g_assert_cmpuint (page->refreshes, ==, 3);
  gtk_widget_set_visible (GTK_WIDGET (page), TRUE);
  settle ();
  g_assert_cmpuint (page->refreshes, ==, 4);

  og_document_page_ask (base); /* and goes before its turn comes */
  close_window (window, page);
  g_assert_finalize_object (g_steal_pointer (&document));
}

static void
test_view (void)
{
  ProbeView *view = g_object_new (probe_view_get_type (), NULL);
  OgPaintedView *base = OG_PAINTED_VIEW (view);
  GtkWidget *window = show_in_window (view);
  OgDrawStyle style;
  int least;
  int usual;

  g_assert_cmpuint (view->paints, >, 0);
  g_assert_cmpstr (og_painted_view_get_description (base), ==, "");
  og_painted_view_describe (base, "Probe", g_strdup ("A line that falls"));
  g_assert_cmpstr (og_painted_view_get_description (base), ==, "A line that falls");

  og_painted_view_init_style (base, &style);
  gtk_widget_measure (GTK_WIDGET (view), GTK_ORIENTATION_HORIZONTAL, -1, &least, &usual, NULL,
                      NULL);
  g_assert_cmpint (least, ==, (int) (4.0 * style.font_size));
  g_assert_cmpint (usual, ==, (int) (9.0 * style.font_size));
  gtk_widget_measure (GTK_WIDGET (view), GTK_ORIENTATION_VERTICAL, 200, &least, &usual, NULL, NULL);
  g_assert_cmpint (least, ==, 100);
  g_assert_cmpint (usual, ==, 103);
  close_window (window, view);
}

int
main (int   argc,
      char *argv[])
{
  g_autofree char *data_dir = NULL;
  g_autoptr (GError) error = NULL;
  int status;

  gtk_test_init (&argc, &argv, NULL);
  data_dir = og_data_dir ();
  library = og_catalog_load (data_dir, &error);
  g_assert_no_error (error);

  g_test_add_func ("/bases/page-follows", test_page_follows);
  g_test_add_func ("/bases/page-works-while-seen", test_page_works_while_seen);
  g_test_add_func ("/bases/view", test_view);
  status = g_test_run ();
  og_catalog_unref (library);
  return status;
}
