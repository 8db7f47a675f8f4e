/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gstdio.h>
#include <gtk/gtk.h>
#include <math.h>
#include <string.h>

#include "gtk/design/bench-dialog.h"
#include "gtk/design/bench-effects.h"
#include "gtk/design/bench-page.h"
#include "gtk/design/bench-text.h"
#include "gtk/design/body-panel.h"
#include "gtk/design/chart-view.h"
#include "gtk/design/side-panel.h"
#include "gtk/design/words-dialog.h"
#include "gtk/parts/number-field.h"
#include "model/document.h"
#include "widgets.h"

/* Where the drop-downs of the dialog stand, from 0. */
#define DROP_DOWN_CUP 1
#define DROP_DOWN_LIKENESS 2

static OgCatalog *library;

/* The field whose first entry, or the label whose text, says @title. */
static GtkWidget *
find_titled (GtkWidget  *root,
             GType       type,
             const char *title)
{
  if (g_type_is_a (G_OBJECT_TYPE (root), type))
    {
      GtkWidget *line = gtk_widget_get_first_child (root);
      GtkWidget *label = line != NULL ? gtk_widget_get_first_child (line) : NULL;

      if (GTK_IS_LABEL (label) && strcmp (gtk_label_get_label (GTK_LABEL (label)), title) == 0)
        return root;
    }
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_titled (child, type, title);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static GtkWidget *
find_field (GtkWidget  *dialog,
            const char *title)
{
  GtkWidget *field = find_titled (dialog, OG_TYPE_NUMBER_FIELD, title);

  if (field == NULL)
    g_error ("there is no field “%s”", title);
  return field;
}

static GtkWidget *
find_entry (GtkWidget  *root,
            const char *css_class)
{
  for (guint i = 0;; i++)
    {
      GtkWidget *entry = find (root, GTK_TYPE_ENTRY, i);

      if (gtk_widget_has_css_class (entry, css_class))
        return entry;
    }
}

static void
gather_text (GtkWidget *root,
             GString   *text)
{
  if (GTK_IS_LABEL (root))
    g_string_append_printf (text, "%s\n", gtk_label_get_label (GTK_LABEL (root)));
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      if (gtk_widget_get_visible (child))
        gather_text (child, text);
    }
}

static gboolean
says (GtkWidget  *root,
      const char *words)
{
  g_autoptr (GString) text = g_string_new (NULL);

  gather_text (root, text);
  return strstr (text->str, words) != NULL;
}

static void
type_into (GtkWidget  *dialog,
           const char *title,
           guint       index,
           const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (find (find_field (dialog, title), GTK_TYPE_ENTRY, index)),
                         text);
}

static void
choose (GtkWidget *dialog,
        guint      drop_down,
        guint      item)
{
  gtk_drop_down_set_selected (GTK_DROP_DOWN (find (dialog, GTK_TYPE_DROP_DOWN, drop_down)), item);
}

/* 40 % sunflower oil in castor oil: no gelling agent. */
static OgDocument *
make_document (void)
{
  OgDocument *document = og_document_new (library);
  guint line;

  og_document_add_line (document, "castor-oil", 0, G_MAXUINT);
  line = og_document_add_line (document, "sunflower-oil-high-oleic", 0, G_MAXUINT);
  g_assert_true (og_document_set_line_ppm (document, line, 400000));
  return document;
}

static const GPtrArray *
get_own (OgDocument *document)
{
  return og_document_get_formula (document)->measurements;
}

static OgMeasurement *
make_reading (OgDocument *document,
              const char *material_id,
              double      mpa_s)
{
  g_autoptr (GError) error = NULL;
  OgMeasurement *measurement = og_measurement_new ();

  if (material_id != NULL)
    measurement->material_id = g_strdup (material_id);
  else
    og_measurement_set_recipe (measurement, og_document_get_formula (document));
  measurement->reading.method = OG_METHOD_ROTATIONAL;
  measurement->reading.temperature_c = 25.0;
  measurement->reading.mpa_s = mpa_s;
  measurement->reading.shear_rate_1_s = 10.0;
  og_reading_reduce (&measurement->reading, NAN, &measurement->reduced, &error);
  g_assert_no_error (error);
  return measurement;
}

static void
measure (OgDocument *document,
         double      mpa_s)
{
  g_assert_true (og_document_add_measurement (document, make_reading (document, NULL, mpa_s)));
}

/* A bench store in a folder of its own. */
typedef struct
{
  char         *folder;
  OgBenchStore *store;
} Bench;

static void
bench_set_up (Bench         *bench,
              gconstpointer  unused)
{
  g_autoptr (GFile) file = NULL;
  g_autofree char *path = NULL;

  bench->folder = g_dir_make_tmp ("og-bench-XXXXXX", NULL);
  path = g_build_filename (bench->folder, OG_BENCH_STORE_NAME, NULL);
  file = g_file_new_for_path (path);
  bench->store = og_bench_store_new (file);
}

static void
bench_tear_down (Bench         *bench,
                 gconstpointer  unused)
{
  g_autoptr (GDir) dir = g_dir_open (bench->folder, 0, NULL);
  const char *name;

  g_clear_object (&bench->store);
  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (bench->folder, name, NULL);

      g_unlink (path);
    }
  g_rmdir (bench->folder);
  g_free (bench->folder);
}

/* Number field */

static void
test_number_field (void)
{
  GtkWidget *field = g_object_ref_sink (og_number_field_new ("Time", "s", 3));
  GtkWidget *window = gtk_window_new ();
  GtkWidget *first = find (field, GTK_TYPE_ENTRY, 0);
  GtkWidget *third = find (field, GTK_TYPE_ENTRY, 2);
  double values[OG_NUMBER_FIELD_MOST];
  guint n;

  gtk_window_set_child (GTK_WINDOW (window), field);
  g_assert_true (og_number_field_is_empty (OG_NUMBER_FIELD (field)));
  g_assert_true (og_number_field_read (OG_NUMBER_FIELD (field), values, &n));
  g_assert_cmpuint (n, ==, 0);

  gtk_editable_set_text (GTK_EDITABLE (first), "62,5");
  gtk_editable_set_text (GTK_EDITABLE (third), " 63.5 ");
  g_assert_true (og_number_field_read (OG_NUMBER_FIELD (field), values, &n));
  g_assert_cmpuint (n, ==, 2);
  g_assert_cmpfloat (values[0], ==, 62.5);
  g_assert_cmpfloat (values[1], ==, 63.5);
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (third), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Time, s, reading 3");

  gtk_editable_set_text (GTK_EDITABLE (third), "1,000");
  g_assert_false (og_number_field_read (OG_NUMBER_FIELD (field), values, &n));
  g_assert_nonnull (strstr (og_number_field_get_problem (OG_NUMBER_FIELD (field)), "1,000"));
  gtk_test_accessible_assert_state (GTK_ACCESSIBLE (third), GTK_ACCESSIBLE_STATE_INVALID,
                                    GTK_ACCESSIBLE_INVALID_TRUE);
  gtk_editable_set_text (GTK_EDITABLE (third), "");
  g_assert_true (og_number_field_read (OG_NUMBER_FIELD (field), values, &n));
  g_assert_null (og_number_field_get_problem (OG_NUMBER_FIELD (field)));
  gtk_test_accessible_assert_state (GTK_ACCESSIBLE (third), GTK_ACCESSIBLE_STATE_INVALID,
                                    GTK_ACCESSIBLE_INVALID_FALSE);
  gtk_window_destroy (GTK_WINDOW (window));
  g_assert_finalize_object (field);
}

/* Dialog */

static void
on_recorded (GtkWidget *dialog,
             gboolean   in_recipe,
             int       *told)
{
  *told = in_recipe ? 1 : 2;
}

/*
 * ISO 2431, 6 mm (recalled): nu = 6.90 t - 570 / t, 44 s are 290.6 mm2/s; with 0.9 g/ml that is
 * 261.6 mPa.s.
 */
static void
test_dialog_cup (void)
{
  g_autoptr (OgDocument) document = make_document ();
  GtkWidget *dialog = og_bench_dialog_new (document);
  const OgMeasurement *measurement;
  int told = 0;

  g_signal_connect (dialog, "recorded", G_CALLBACK (on_recorded), &told);
  assert_says (dialog, "Still missing: Time, Temperature");
  g_assert_false (og_bench_dialog_save (OG_BENCH_DIALOG (dialog)));
  choose (dialog, DROP_DOWN_CUP, OG_CUP_ISO_6);
  assert_says (dialog, "recalled, not checked against the standard");
  type_into (dialog, "Time", 0, "43,5");
  type_into (dialog, "Time", 2, "44.5");
  type_into (dialog, "Density of the liquid", 0, "0,9");
  assert_says (dialog, "Still missing: Temperature");
  type_into (dialog, "Temperature", 0, "25");
  g_assert_cmpstr (og_bench_dialog_get_message (OG_BENCH_DIALOG (dialog)), ==,
                   "about 260 mPa·s ± 6 %");
  assert_says (dialog, "80 % between");
  assert_says (dialog, "It agrees");

  g_assert_true (og_bench_dialog_save (OG_BENCH_DIALOG (dialog)));
  g_assert_cmpint (told, ==, 1);
  g_assert_cmpuint (get_own (document)->len, ==, 1);
  measurement = g_ptr_array_index (get_own (document), 0);
  g_assert_cmpfloat_with_epsilon (measurement->reduced.mpa_s, 261.6, 0.1);
  g_assert_null (measurement->material_id);
  g_assert_cmpuint (measurement->reading.n_seconds, ==, 2);
  g_assert_cmpfloat (measurement->reading.density_g_ml, ==, 0.9);
  g_assert_cmpuint (strlen (measurement->date), ==, 10);
  gtk_window_destroy (GTK_WINDOW (dialog));
  og_document_undo (document);
  g_assert_cmpuint (get_own (document)->len, ==, 0);
}

static void
test_dialog_refusal (void)
{
  g_autoptr (OgDocument) document = make_document ();
  GtkWidget *dialog = og_bench_dialog_new (document);
  GtkWidget *time = find_field (dialog, "Time");
  GtkWidget *warmth = find_field (dialog, "Temperature");
  GtkEditable *date;

  choose (dialog, DROP_DOWN_CUP, OG_CUP_ISO_6);
  type_into (dialog, "Time", 0, "12");
  type_into (dialog, "Temperature", 0, "25");
  g_assert_nonnull (strstr (og_number_field_get_problem (OG_NUMBER_FIELD (time)),
                            "outside 30 to 100 s"));
  g_assert_null (og_number_field_get_problem (OG_NUMBER_FIELD (warmth)));
  g_assert_false (og_bench_dialog_save (OG_BENCH_DIALOG (dialog)));

  type_into (dialog, "Time", 0, "62");
  type_into (dialog, "Temperature", 0, "250");
  g_assert_null (og_number_field_get_problem (OG_NUMBER_FIELD (time)));
  g_assert_nonnull (strstr (og_number_field_get_problem (OG_NUMBER_FIELD (warmth)), "250"));

  type_into (dialog, "Temperature", 0, "25 C");
  g_assert_nonnull (strstr (og_number_field_get_problem (OG_NUMBER_FIELD (warmth)),
                            "is not a number"));
  g_assert_false (og_bench_dialog_save (OG_BENCH_DIALOG (dialog)));

  type_into (dialog, "Temperature", 0, "25");
  date = GTK_EDITABLE (find_entry (dialog, "reading-date"));
  g_assert_cmpuint (strlen (gtk_editable_get_text (date)), ==, 10);
  gtk_editable_set_text (date, "17 May 2024");
  assert_says (dialog, "A day is written as");
  g_assert_false (og_bench_dialog_save (OG_BENCH_DIALOG (dialog)));
  gtk_editable_set_text (date, "2024-02-30");
  g_assert_false (og_bench_dialog_save (OG_BENCH_DIALOG (dialog)));
  gtk_editable_set_text (date, "");
  g_assert_false (says (dialog, "A day is written as"));
  g_assert_true (og_bench_dialog_save (OG_BENCH_DIALOG (dialog)));
  g_assert_cmpuint (get_own (document)->len, ==, 1);
  gtk_window_destroy (GTK_WINDOW (dialog));
}

/* 2 mm steel ball; what the dialog reads off its fields is what the core gets. */
static void
test_dialog_ball (void)
{
  g_autoptr (OgDocument) document = make_document ();
  GtkWidget *dialog = og_bench_dialog_new (document);
  const OgReading *reading;

  og_bench_dialog_set_method (OG_BENCH_DIALOG (dialog), OG_METHOD_BALL);
  assert_says (dialog, "Still missing: Time, Ball diameter, Ball density, Tube diameter, Fall, "
                       "Temperature");
  g_assert_false (gtk_widget_get_visible (find_field (dialog, "Shear rate")));
  type_into (dialog, "Time", 0, "36");
  type_into (dialog, "Ball diameter", 0, "2");
  type_into (dialog, "Ball density", 0, "7,8");
  type_into (dialog, "Tube diameter", 0, "25");
  type_into (dialog, "Fall", 0, "100");
  type_into (dialog, "Temperature", 0, "25");
  assert_says (dialog, "It contradicts the prediction");
  type_into (dialog, "Ball diameter", 0, "20");
  g_assert_nonnull (strstr (og_number_field_get_problem (
                              OG_NUMBER_FIELD (find_field (dialog, "Ball diameter"))),
                            "smaller ball or a wider tube"));
  type_into (dialog, "Ball diameter", 0, "2");
  g_assert_true (og_bench_dialog_save (OG_BENCH_DIALOG (dialog)));
  reading = &((OgMeasurement *) g_ptr_array_index (get_own (document), 0))->reading;
  g_assert_cmpint (reading->method, ==, OG_METHOD_BALL);
  g_assert_cmpfloat (reading->seconds[0], ==, 36.0);
  g_assert_cmpfloat (reading->ball_diameter_mm, ==, 2.0);
  g_assert_cmpfloat (reading->ball_density_g_ml, ==, 7.8);
  g_assert_cmpfloat (reading->tube_diameter_mm, ==, 25.0);
  g_assert_cmpfloat (reading->fall_mm, ==, 100.0);
  g_assert_true (isnan (reading->density_g_ml));
  gtk_window_destroy (GTK_WINDOW (dialog));
}

static void
test_dialog_likeness (void)
{
  g_autoptr (OgDocument) document = make_document ();
  GtkWidget *dialog = og_bench_dialog_new (document);
  const OgReading *reading;

  og_bench_dialog_set_method (OG_BENCH_DIALOG (dialog), OG_METHOD_POURS_LIKE);
  g_assert_false (gtk_widget_get_visible (find_field (dialog, "Density of the liquid")));
  type_into (dialog, "Temperature", 0, "25");
  choose (dialog, DROP_DOWN_LIKENESS, 4);
  g_assert_true (og_bench_dialog_save (OG_BENCH_DIALOG (dialog)));
  reading = &((OgMeasurement *) g_ptr_array_index (get_own (document), 0))->reading;
  g_assert_cmpint (reading->method, ==, OG_METHOD_POURS_LIKE);
  g_assert_cmpstr (og_likeness_to_nick (reading->likeness), ==, "maple-syrup");
  gtk_window_destroy (GTK_WINDOW (dialog));
}

/* A neat material goes to the log that all recipes share, and not into this recipe. */
static void
test_dialog_material (Bench         *bench,
                      gconstpointer  unused)
{
  g_autoptr (OgDocument) document = make_document ();
  const guint64 revision = og_document_get_revision (document);
  const OgMeasurement *measurement;
  GtkWidget *dialog;
  int told = 0;

  og_document_set_bench_store (document, bench->store);
  dialog = og_bench_dialog_new (document);
  g_signal_connect (dialog, "recorded", G_CALLBACK (on_recorded), &told);
  og_bench_dialog_set_target (OG_BENCH_DIALOG (dialog), "castor-oil");
  og_bench_dialog_set_method (OG_BENCH_DIALOG (dialog), OG_METHOD_ROTATIONAL);
  type_into (dialog, "Viscosity", 0, "640");
  type_into (dialog, "Temperature", 0, "25");
  assert_says (dialog, "It agrees");
  g_assert_true (og_bench_dialog_save (OG_BENCH_DIALOG (dialog)));
  gtk_window_destroy (GTK_WINDOW (dialog));
  g_assert_cmpint (told, ==, 2);
  g_assert_cmpuint (get_own (document)->len, ==, 0);
  g_assert_cmpuint (og_document_get_revision (document), ==, revision);
  g_assert_cmpuint (og_bench_store_get_measurements (bench->store)->len, ==, 1);
  measurement = g_ptr_array_index (og_bench_store_get_measurements (bench->store), 0);
  g_assert_cmpstr (measurement->material_id, ==, "castor-oil");
  g_assert_true (isnan (measurement->reading.shear_rate_1_s));
}

/* Page */

static GtkWidget *
make_page (OgDocument *document)
{
  GtkWidget *page = g_object_ref_sink (og_bench_page_new ());

  og_document_page_set_document (OG_DOCUMENT_PAGE (page), document);
  og_bench_page_flush (OG_BENCH_PAGE (page));
  return page;
}

static void
test_page (void)
{
  g_autoptr (OgDocument) document = make_document ();
  const double predicted = og_document_get_result (document)->pour.value;
  GtkWidget *page = make_page (document);

  g_assert_cmpuint (og_bench_page_flush (OG_BENCH_PAGE (page)), ==, 0);
  measure (document, 1.1 * predicted);
  g_assert_cmpuint (og_bench_page_flush (OG_BENCH_PAGE (page)), ==, 1);
  assert_says (page, "This recipe\n");
  assert_says (page, "25 °C");
  assert_says (page, "It agrees");
  assert_says (page, "Moves the prediction for this recipe from");
  assert_says (page, "% narrower");

  /* the reading was of another recipe than this one is now */
  g_assert_true (og_document_set_line_ppm (document, 3, 300000));
  og_bench_page_flush (OG_BENCH_PAGE (page));
  assert_says (page, "This recipe, as it was then");
  og_document_undo (document);

  g_assert_true (gtk_widget_activate_action (page, "reading.take-out", "(bs)", FALSE, "m1"));
  og_bench_page_flush (OG_BENCH_PAGE (page));
  assert_says (page, "Taken out");
  g_assert_false (says (page, "narrower"));
  g_assert_true (gtk_widget_activate_action (page, "reading.use", "(bs)", FALSE, "m1"));
  og_bench_page_flush (OG_BENCH_PAGE (page));
  assert_says (page, "narrower");
  g_assert_true (gtk_widget_activate_action (page, "reading.delete", "(bs)", FALSE, "m1"));
  g_assert_cmpuint (og_bench_page_flush (OG_BENCH_PAGE (page)), ==, 0);
  og_document_undo (document);
  g_assert_cmpuint (og_bench_page_flush (OG_BENCH_PAGE (page)), ==, 1);
  g_object_unref (page);
}

static guint
get_open (GtkWidget *page)
{
  guint n_open;

  g_object_get (page, "n-open", &n_open, NULL);
  return n_open;
}

static void
test_page_contradiction (void)
{
  g_autoptr (OgDocument) document = make_document ();
  const double predicted = og_document_get_result (document)->pour.value;
  GtkWidget *page = make_page (document);

  measure (document, 40.0 * predicted);
  og_bench_page_flush (OG_BENCH_PAGE (page));
  g_assert_cmpuint (get_open (page), ==, 1);
  assert_says (page, "Contradicts");
  assert_says (page, "until you accept it");
  assert_says (page, "Accept\n");
  g_assert_cmpfloat (og_document_get_result (document)->pour.value, ==, predicted);

  g_assert_true (gtk_widget_activate_action (page, "reading.accept", "(bs)", FALSE, "m1"));
  og_bench_page_flush (OG_BENCH_PAGE (page));
  g_assert_cmpuint (get_open (page), ==, 0);
  assert_says (page, "because you accepted it");
  g_assert_cmpfloat (og_document_get_result (document)->pour.value, >, predicted);

  g_assert_true (gtk_widget_activate_action (page, "reading.refuse", "(bs)", FALSE, "m1"));
  og_bench_page_flush (OG_BENCH_PAGE (page));
  g_assert_cmpuint (get_open (page), ==, 1);
  g_assert_true (gtk_widget_activate_action (page, "reading.take-out", "(bs)", FALSE, "m1"));
  og_bench_page_flush (OG_BENCH_PAGE (page));
  g_assert_cmpuint (get_open (page), ==, 0);
  g_object_unref (page);
}

static void
add_to_store (Bench      *bench,
              const char *material_id,
              double      mpa_s)
{
  g_autoptr (GError) error = NULL;

  og_bench_store_add (bench->store, make_reading (NULL, material_id, mpa_s), &error);
  g_assert_no_error (error);
}

/* Of the readings that all recipes share, those of materials in this one. */
static void
test_page_store (Bench         *bench,
                 gconstpointer  unused)
{
  g_autoptr (OgDocument) document = make_document ();
  const OgMeasurement *measurement;
  GtkWidget *page;

  add_to_store (bench, "castor-oil", 640.0);
  add_to_store (bench, "jojoba-oil", 36.0);
  og_document_set_bench_store (document, bench->store);
  page = make_page (document);
  g_assert_cmpuint (og_bench_page_flush (OG_BENCH_PAGE (page)), ==, 1);
  assert_says (page, "Castor oil");
  assert_says (page, "for this recipe");

  g_assert_true (gtk_widget_activate_action (page, "reading.take-out", "(bs)", TRUE, "m1"));
  measurement = g_ptr_array_index (og_bench_store_get_measurements (bench->store), 0);
  g_assert_true (measurement->set_aside);
  og_bench_page_flush (OG_BENCH_PAGE (page));
  assert_says (page, "Taken out");

  og_document_add_line (document, "jojoba-oil", 0, G_MAXUINT);
  g_assert_cmpuint (og_bench_page_flush (OG_BENCH_PAGE (page)), ==, 2);
  g_object_unref (page);
}

static void
test_page_says_what_is_wrong (Bench         *bench,
                              gconstpointer  unused)
{
  g_autoptr (OgDocument) document = make_document ();
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_file_get_path (og_bench_store_get_file (bench->store));
  g_autoptr (OgBenchStore) store = NULL;
  GtkWidget *page;

  g_file_set_contents (path, "{ \"format\": ", -1, &error);
  g_assert_no_error (error);
  store = og_bench_store_new (og_bench_store_get_file (bench->store));
  og_document_set_bench_store (document, store);
  page = make_page (document);
  assert_says (page, "The readings of materials cannot be used");
  g_object_unref (page);
}

/* Leaving the only reading out gives what was predicted before it; the other way round, what is
 * predicted now. */
static void
test_effects (void)
{
  g_autoptr (OgDocument) document = make_document ();
  g_autoptr (OgBenchEffects) effects = og_bench_effects_new (document);
  const OgEstimate before = og_document_get_result (document)->pour;
  OgEstimate between;
  OgEstimate without;
  OgEstimate with;

  g_assert_false (og_bench_effects_find (effects, FALSE, "m1", &without, &with));
  measure (document, 1.1 * before.value);
  between = og_document_get_result (document)->pour;
  g_assert_true (og_bench_effects_find (effects, FALSE, "m1", &without, &with));
  g_assert_cmpfloat_with_epsilon (without.value, before.value, 1e-9 * before.value);
  g_assert_cmpfloat_with_epsilon (without.high80, before.high80, 1e-9 * before.high80);
  g_assert_cmpfloat (with.value, ==, between.value);

  measure (document, 1.2 * before.value);
  g_assert_true (og_bench_effects_find (effects, FALSE, "m2", &without, &with));
  g_assert_cmpfloat_with_epsilon (without.value, between.value, 1e-9 * between.value);
  g_assert_true (og_document_set_measurement_aside (document, "m2", TRUE));
  g_assert_false (og_bench_effects_find (effects, FALSE, "m2", &without, &with));
  g_assert_true (og_bench_effects_find (effects, FALSE, "m1", &without, &with));
  g_assert_cmpfloat_with_epsilon (without.value, before.value, 1e-9 * before.value);
}

static void
test_effect_words (void)
{
  const OgEstimate wide = { 510.0, 255.0, 1020.0 };
  const OgEstimate half = { 640.0, 640.0 / G_SQRT2, 640.0 * G_SQRT2 };
  const OgEstimate same = { 511.0, 255.5, 1022.0 };
  const OgEstimate unknown = { NAN, NAN, NAN };
  g_autofree char *moved = og_bench_effect_to_text (&wide, &half);
  g_autofree char *back = og_bench_effect_to_text (&half, &wide);
  g_autofree char *still = og_bench_effect_to_text (&wide, &same);
  g_autofree char *nothing = og_bench_effect_to_text (&wide, &unknown);

  g_assert_cmpstr (moved, ==, "Moves the prediction for this recipe from 510 to 640 mPa·s; the "
                              "band is 50 % narrower.");
  g_assert_cmpstr (back, ==, "Moves the prediction for this recipe from 640 to 510 mPa·s; the "
                             "band is 100 % wider.");
  g_assert_cmpstr (still, ==, "Leaves the prediction for this recipe at 510 mPa·s; the band is as "
                              "wide as without it.");
  g_assert_cmpstr (nothing, ==, "Nothing can be predicted for the recipe as it is now.");
}

static void
test_method_words (void)
{
  OgReading reading = { .method = OG_METHOD_CUP, .cup = OG_CUP_ISO_4, .seconds = { 62.0, 63.0 },
                        .n_seconds = 1 };
  g_autofree char *one = og_bench_method_to_text (&reading);
  g_autofree char *two = NULL;

  g_assert_cmpstr (one, ==, "ISO 2431 cup, 4 mm: 62 s");
  reading.n_seconds = 2;
  two = og_bench_method_to_text (&reading);
  g_assert_cmpstr (two, ==, "ISO 2431 cup, 4 mm: 62.5 s, mean of 2");
}

/* Side panel and chart */

static void
on_message (GtkWidget  *panel,
            const char *text,
            gboolean    undoable,
            guint      *told)
{
  *told += undoable ? 1 : 100;
}

static void
test_side_panel (void)
{
  g_autoptr (OgDocument) document = make_document ();
  const double predicted = og_document_get_result (document)->pour.value;
  GtkWidget *panel = g_object_ref_sink (og_side_panel_new ());
  GtkWidget *page;
  guint told = 0;

  g_object_set (panel, "document", document, NULL);
  g_signal_connect (panel, "message", G_CALLBACK (on_message), &told);
  page = find (panel, OG_TYPE_BENCH_PAGE, 0);
  measure (document, 40.0 * predicted);
  settle ();
  og_bench_page_flush (OG_BENCH_PAGE (page));
  assert_says (panel, "Bench\n1\n");
  og_side_panel_show_bench (OG_SIDE_PANEL (panel));
  g_assert_true (gtk_widget_activate_action (page, "reading.accept", "(bs)", FALSE, "m1"));
  g_assert_cmpuint (told, ==, 1);
  g_object_unref (panel);
}

static void
test_chart_cup (void)
{
  g_autoptr (OgDocument) document = make_document ();
  GtkWidget *panel = g_object_ref_sink (og_body_panel_new ());
  OgChartView *chart = OG_CHART_VIEW (find (panel, OG_TYPE_CHART_VIEW, 0));
  g_autofree char *nick = NULL;

  g_object_set (panel, "document", document, "chart-axis", OG_CURVE_TEMPERATURE_C, NULL);
  g_assert_null (strstr (og_painted_view_get_description (OG_PAINTED_VIEW (chart)), "ISO 2431"));
  g_assert_true (gtk_widget_activate_action (panel, "body.axis-cup", "s", "iso-6"));
  g_assert_nonnull (strstr (og_painted_view_get_description (OG_PAINTED_VIEW (chart)),
                            "s in the ISO 2431 cup, 6 mm"));
  g_object_set (panel, "axis-cup", "no-such-cup", NULL);
  g_object_get (panel, "axis-cup", &nick, NULL);
  g_assert_cmpstr (nick, ==, "");
  g_assert_null (strstr (og_painted_view_get_description (OG_PAINTED_VIEW (chart)), "ISO 2431"));
  measure (document, og_document_get_result (document)->pour.value);
  settle ();
  g_assert_nonnull (strstr (og_painted_view_get_description (OG_PAINTED_VIEW (chart)),
                            "Bench readings are marked."));
  g_object_unref (panel);
}

/* Words */

static void
on_applied (GtkWidget *dialog,
            guint     *n)
{
  (*n)++;
}

static void
test_words (void)
{
  g_autoptr (OgDocument) document = make_document ();
  GtkWidget *dialog = og_words_dialog_new (document);
  const OgBody before = og_document_get_result (document)->body;
  OgBodyBounds start;
  guint applied = 0;

  og_body_bounds_init (&start);
  g_signal_connect (dialog, "applied", G_CALLBACK (on_applied), &applied);
  assert_says (dialog, "no standard");
  assert_says (dialog, "below 30 mPa·s");

  og_words_dialog_type (OG_WORDS_DIALOG (dialog), OG_BODY_BOUND_SYRUPY, 250.0);
  assert_says (dialog, "above the word before it");
  g_assert_false (og_words_dialog_apply (OG_WORDS_DIALOG (dialog)));
  type_into (dialog, "Syrupy", 0, "1e13");
  assert_says (dialog, "too large");
  type_into (dialog, "Syrupy", 0, "");
  assert_says (dialog, "A number is missing here.");
  type_into (dialog, "Set", 0, "-1");
  assert_says (dialog, "above 0");
  g_assert_false (og_words_dialog_apply (OG_WORDS_DIALOG (dialog)));
  g_assert_true (og_body_bounds_equal (&og_document_get_formula (document)->body_bounds, &start));

  og_words_dialog_reset (OG_WORDS_DIALOG (dialog));
  g_assert_true (og_words_dialog_apply (OG_WORDS_DIALOG (dialog)));
  g_assert_cmpuint (applied, ==, 0); /* nothing changed */
  type_into (dialog, "Thin", 0, "0,5");
  type_into (dialog, "Light", 0, "1");
  type_into (dialog, "Substantial", 0, "2");
  type_into (dialog, "Syrupy", 0, "3");
  type_into (dialog, "Heavy", 0, "4");
  g_assert_true (og_words_dialog_apply (OG_WORDS_DIALOG (dialog)));
  g_assert_cmpuint (applied, ==, 1);
  g_assert_cmpint (before, !=, OG_BODY_HEAVY);
  g_assert_cmpint (og_document_get_result (document)->body, ==, OG_BODY_HEAVY);
  og_document_undo (document);
  g_assert_cmpint (og_document_get_result (document)->body, ==, before);
  gtk_window_destroy (GTK_WINDOW (dialog));
}

/* The dialogs fit a small screen, also with text of twice the size. */
static void
test_narrow (gconstpointer scale)
{
  g_autoptr (OgDocument) document = make_document ();
  GtkWidget *dialogs[] = { og_bench_dialog_new (document), og_words_dialog_new (document) };
  int dpi;

  g_object_get (gtk_settings_get_default (), "gtk-xft-dpi", &dpi, NULL);
  if (dpi <= 0) /* nobody has set any */
    dpi = 96 * 1024;
  g_object_set (gtk_settings_get_default (), "gtk-xft-dpi", dpi * GPOINTER_TO_INT (scale), NULL);
  for (guint i = 0; i < G_N_ELEMENTS (dialogs); i++)
    {
      gtk_window_present (GTK_WINDOW (dialogs[i]));
      settle ();
      for (guint method = 0; i == 0 && method < OG_N_METHODS; method++)
        {
          og_bench_dialog_set_method (OG_BENCH_DIALOG (dialogs[i]), method);
          g_test_message ("least width %d", least_width (dialogs[i]));
          g_assert_cmpint (least_width (dialogs[i]), <=, 400 * GPOINTER_TO_INT (scale));
        }
      g_assert_cmpint (least_width (dialogs[i]), <=, 400 * GPOINTER_TO_INT (scale));
      gtk_window_destroy (GTK_WINDOW (dialogs[i]));
    }
  g_object_set (gtk_settings_get_default (), "gtk-xft-dpi", dpi, NULL);
}

/* Every dialog lets its document go, and so does the page. */
static void
test_all_finalised (void)
{
  OgDocument *document = make_document ();
  GtkWidget *dialogs[] = { og_bench_dialog_new (document), og_words_dialog_new (document) };
  GtkWidget *page = make_page (document);

  measure (document, 300.0);
  settle ();
  for (guint i = 0; i < G_N_ELEMENTS (dialogs); i++)
    {
      g_object_ref (dialogs[i]);
      gtk_window_present (GTK_WINDOW (dialogs[i]));
      settle ();
      gtk_window_destroy (GTK_WINDOW (dialogs[i]));
      settle ();
      g_assert_finalize_object (dialogs[i]);
    }
  g_assert_finalize_object (page);
  g_assert_finalize_object (document);
}

int
main (int    argc,
      char **argv)
{
  g_autoptr (GtkCssProvider) style = gtk_css_provider_new ();
  g_autoptr (GError) error = NULL;
  int failures;

  gtk_test_init (&argc, &argv, NULL);
  gtk_css_provider_load_from_resource (style, "/org/oleograph/Oleograph/style.css");
  gtk_style_context_add_provider_for_display (gdk_display_get_default (),
                                              GTK_STYLE_PROVIDER (style),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
  library = og_catalog_load (g_getenv ("OLEOGRAPH_DATA_DIR"), &error);
  g_assert_no_error (error);

  g_test_add_func ("/bench/number-field", test_number_field);
  g_test_add_func ("/bench/dialog/cup", test_dialog_cup);
  g_test_add_func ("/bench/dialog/refusal", test_dialog_refusal);
  g_test_add_func ("/bench/dialog/ball", test_dialog_ball);
  g_test_add_func ("/bench/dialog/likeness", test_dialog_likeness);
  g_test_add ("/bench/dialog/material", Bench, NULL, bench_set_up, test_dialog_material,
              bench_tear_down);
  g_test_add_func ("/bench/page/own", test_page);
  g_test_add_func ("/bench/page/contradiction", test_page_contradiction);
  g_test_add ("/bench/page/store", Bench, NULL, bench_set_up, test_page_store, bench_tear_down);
  g_test_add ("/bench/page/error", Bench, NULL, bench_set_up, test_page_says_what_is_wrong,
              bench_tear_down);
  g_test_add_func ("/bench/effects", test_effects);
  g_test_add_func ("/bench/words/effect", test_effect_words);
  g_test_add_func ("/bench/words/method", test_method_words);
  g_test_add_func ("/bench/side-panel", test_side_panel);
  g_test_add_func ("/bench/chart-cup", test_chart_cup);
  g_test_add_func ("/bench/words-dialog", test_words);
  g_test_add_data_func ("/bench/narrow", GINT_TO_POINTER (1), test_narrow);
  g_test_add_data_func ("/bench/narrow-large-text", GINT_TO_POINTER (2), test_narrow);
  g_test_add_func ("/bench/finalised", test_all_finalised);
  failures = g_test_run ();
  og_catalog_unref (library);
  return failures;
}
