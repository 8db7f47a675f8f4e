/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <gtk/gtk.h>
#include <math.h>
#include <string.h>

#include "core/label/declaration.h"
#include "gtk/label/label-form.h"
#include "gtk/label/label-sketch.h"
#include "gtk/label/label-view.h"
#include "gtk/label/stability-section.h"
#include "gtk/parts/cell-entry.h"
#include "gtk/parts/fact-section.h"
#include "model/document.h"
#include "widgets.h"

static OgCatalog *library;

static void
gather_text (GtkWidget *root,
             GString   *text)
{
  if (GTK_IS_LABEL (root))
    g_string_append_printf (text, "%s\n", gtk_label_get_label (GTK_LABEL (root)));
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    gather_text (child, text);
}

static gboolean
says (GtkWidget  *root,
      const char *words)
{
  g_autoptr (GString) text = g_string_new (NULL);

  gather_text (root, text);
  return strstr (text->str, words) != NULL;
}

static GtkWidget *
present (OgDocument *document,
         GtkWidget **view)
{
  GtkWidget *window = gtk_window_new ();

  *view = og_label_view_new ();
  g_object_set (*view, "document", document, NULL);
  gtk_window_set_default_size (GTK_WINDOW (window), 1280, 800);
  gtk_window_set_child (GTK_WINDOW (window), *view);
  gtk_window_present (GTK_WINDOW (window));
  settle ();
  og_document_page_flush (OG_DOCUMENT_PAGE (OG_LABEL_VIEW (*view)));
  return window;
}

/* What is closed is not there to be read. */
static void
open_sections (GtkWidget *root)
{
  if (GTK_IS_EXPANDER (root))
    gtk_expander_set_expanded (GTK_EXPANDER (root), TRUE);
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    open_sections (child);
}

/* A tinted lip oil: castor oil to 100 %, 2 % red iron oxide in castor oil, 0.5 % tocopherol. */
static OgDocument *
make_document (void)
{
  OgDocument *document = og_document_new (library);
  guint line;

  og_document_add_line (document, "castor-oil", 0, G_MAXUINT);
  line = og_document_add_line (document, "red-iron-oxide-in-castor-oil", 0, G_MAXUINT);
  g_assert_true (og_document_set_line_ppm (document, line, 20000));
  line = og_document_add_line (document, "tocopherol", 0, G_MAXUINT);
  g_assert_true (og_document_set_line_ppm (document, line, 5000));
  og_document_set_product (document, OG_PRODUCT_LIP_APPLICATOR);
  return document;
}

static void
test_list (void)
{
  g_autoptr (OgDocument) document = make_document ();
  g_autoptr (OgDeclaration) eu = NULL;
  g_autoptr (OgDeclaration) us = NULL;
  GtkWidget *view;
  GtkWidget *window = present (document, &view);
  GtkWidget *form = find (view, OG_TYPE_LABEL_FORM, 0);

  eu = og_declare (og_document_get_formula (document), og_document_get_catalog (document),
                   OG_MARKET_EU, NULL);
  us = og_declare (og_document_get_formula (document), og_document_get_catalog (document),
                   OG_MARKET_US, NULL);
  /* Regulation (EC) 1223/2009, Article 19(1)(g): colours last, by their CI numbers. */
  g_assert_cmpstr (og_label_view_get_list (OG_LABEL_VIEW (view)), ==, eu->text);
  g_assert_true (g_str_has_suffix (eu->text, "CI 77491"));
  g_assert_true (says (view, "CI 77491"));

  gtk_drop_down_set_selected (GTK_DROP_DOWN (find (form, GTK_TYPE_DROP_DOWN, 0)), OG_MARKET_US);
  og_document_page_flush (OG_DOCUMENT_PAGE (OG_LABEL_VIEW (view)));
  g_assert_cmpstr (og_label_view_get_list (OG_LABEL_VIEW (view)), ==, us->text);
  g_assert_nonnull (strstr (us->text, "Ricinus Communis (Castor) Seed Oil"));
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
test_recipe_values (void)
{
  g_autoptr (OgDocument) document = make_document ();
  GtkWidget *view;
  GtkWidget *window = present (document, &view);
  GtkWidget *form = find (view, OG_TYPE_LABEL_FORM, 0);
  GtkWidget *nominal = find (form, OG_TYPE_CELL_ENTRY, 0);
  const OgLabel *label;
  g_autofree char *text = NULL;

  gtk_editable_set_text (GTK_EDITABLE (nominal), "6.5");
  g_assert_true (og_cell_entry_commit (OG_CELL_ENTRY (nominal)));
  g_assert_cmpfloat (og_document_get_formula (document)->package.nominal, ==, 6.5);
  og_document_page_flush (OG_DOCUMENT_PAGE (OG_LABEL_VIEW (view)));
  label = og_label_sketch_get_label (OG_LABEL_SKETCH (find (view, OG_TYPE_LABEL_SKETCH, 0)));
  text = og_label_describe (label);
  g_assert_nonnull (strstr (text, "6.5"));

  gtk_editable_set_text (GTK_EDITABLE (nominal), "-3");
  g_assert_false (og_cell_entry_commit (OG_CELL_ENTRY (nominal)));
  g_assert_cmpfloat (og_document_get_formula (document)->package.nominal, ==, 6.5);
  og_cell_entry_revert (OG_CELL_ENTRY (nominal));

  og_document_undo (document);
  g_assert_true (isnan (og_document_get_formula (document)->package.nominal));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (nominal)), ==, "");
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
test_best_before (void)
{
  g_autoptr (OgDocument) document = make_document ();
  GtkWidget *view;
  GtkWidget *window = present (document, &view);
  GtkWidget *form = find (view, OG_TYPE_LABEL_FORM, 0);
  OgLabelText text;

  for (guint i = 0;; i++)
    {
      GtkWidget *entry = find (form, GTK_TYPE_ENTRY, i);

      if (g_strcmp0 (gtk_entry_get_placeholder_text (GTK_ENTRY (entry)), "2027-08") != 0)
        continue;
      gtk_editable_set_text (GTK_EDITABLE (entry), "2027-13");
      og_label_form_get_text (OG_LABEL_FORM (form), &text);
      g_assert_null (text.best_before);
      g_assert_true (says (form, "Year and month, such as 2027-08"));
      gtk_editable_set_text (GTK_EDITABLE (entry), "2027-12");
      og_label_form_get_text (OG_LABEL_FORM (form), &text);
      g_assert_cmpstr (text.best_before, ==, "2027-12");
      break;
    }
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
test_sections (void)
{
  g_autoptr (OgDocument) document = make_document ();
  GtkWidget *view;
  GtkWidget *window = present (document, &view);

  open_sections (view);
  g_assert_true (says (view, "Limits and cautions"));
  g_assert_true (says (view, "at room temperature"));
  g_assert_true (says (view, "COX value"));
  g_assert_true (says (view, "Over white: undertone"));
  g_assert_true (says (view, "None planned"));

  /* Half of the grind is pigment: 1 % of the recipe. */
  g_assert_true (says (view, "Pigment"));
  g_assert_true (says (view, "1 %"));
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
test_stability (void)
{
  g_autoptr (OgDocument) document = make_document ();
  GtkWidget *view;
  GtkWidget *window = present (document, &view);
  GtkWidget *section = find (view, OG_TYPE_STABILITY_SECTION, 0);
  GtkWidget *start;

  open_sections (section);
  start = find (section, GTK_TYPE_ENTRY, 0);
  gtk_editable_set_text (GTK_EDITABLE (start), "2026-02-30");
  g_assert_false (g_date_valid (&og_document_get_formula (document)->stability_start));
  g_assert_true (says (section, "Year, month and day: 2026-11-25"));
  gtk_editable_set_text (GTK_EDITABLE (start), "2026-03-01");
  g_assert_true (g_date_valid (&og_document_get_formula (document)->stability_start));
  g_assert_cmpuint (og_document_get_formula (document)->stability_months, ==, 12);
  g_assert_true (says (section, "2026-03-01"));
  og_document_undo (document);
  g_assert_true (says (section, "None planned"));
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
test_empty (void)
{
  g_autoptr (OgDocument) document = og_document_new (library);
  GtkWidget *view;
  GtkWidget *window = present (document, &view);

  g_assert_null (og_label_view_get_list (OG_LABEL_VIEW (view)));
  g_assert_true (says (view, "The list appears as soon as the recipe holds materials."));
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
test_goes_away (void)
{
  OgDocument *document = make_document ();
  GtkWidget *view;
  GtkWidget *window = present (document, &view);
  gpointer gone_view = view;
  gpointer gone_document = document;

  g_object_add_weak_pointer (G_OBJECT (view), &gone_view);
  g_object_add_weak_pointer (G_OBJECT (document), &gone_document);
  gtk_window_destroy (GTK_WINDOW (window));
  settle ();
  g_assert_null (gone_view);
  g_object_unref (document);
  g_assert_null (gone_document);
}

int
main (int    argc,
      char **argv)
{
  g_autoptr (GError) error = NULL;
  int status;

  gtk_test_init (&argc, &argv, NULL);
  library = og_catalog_load (g_getenv ("OLEOGRAPH_DATA_DIR"), &error);
  g_assert_no_error (error);
  g_test_add_func ("/label/list", test_list);
  g_test_add_func ("/label/recipe-values", test_recipe_values);
  g_test_add_func ("/label/best-before", test_best_before);
  g_test_add_func ("/label/sections", test_sections);
  g_test_add_func ("/label/stability", test_stability);
  g_test_add_func ("/label/empty", test_empty);
  g_test_add_func ("/label/goes-away", test_goes_away);
  status = g_test_run ();
  og_catalog_unref (library);
  return status;
}
