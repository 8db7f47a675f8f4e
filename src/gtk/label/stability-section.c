/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "core/base/dates.h"
#include "core/base/number-text.h"
#include "gtk/label/stability-section.h"
#include "gtk/parts/cell-entry.h"
#include "gtk/parts/drop-down.h"
#include "gtk/parts/fact-section.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/pieces.h"
#include "gtk/parts/text-undo.h"
#include "gtk/parts/typed-number.h"

#define USUAL_MONTHS 12
#define MOST_MONTHS 60

struct _OgStabilitySection
{
  GtkWidget parent_instance;

  GtkWidget *section;
  GtkWidget *start_entry;
  GtkWidget *start_problem;
  OgCellEntry *months_entry;
  GtkWidget *plan_list;
  GtkWidget *test_drop_down;
  GtkWidget *reading_drop_down;
  GtkWidget *value_entry;
  GtkWidget *note_entry;
  GtkWidget *add_button;
  GtkWidget *results_list;

  OgDocument *document;
  gboolean filling;
};

G_DEFINE_FINAL_TYPE (OgStabilitySection, og_stability_section, GTK_TYPE_WIDGET)

static const OgFormula *
get_formula (OgStabilitySection *self)
{
  return og_document_get_formula (self->document);
}

static void
today (GDate *date)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  int year, month, day;

  g_date_time_get_ymd (now, &year, &month, &day);
  g_date_clear (date, 1);
  g_date_set_dmy (date, (GDateDay) day, (GDateMonth) month, (GDateYear) year);
}

/* Plan */

static char *
readings_text (guint readings)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  for (guint i = 0; i < OG_N_STABILITY_READINGS; i++)
    if (readings & (1u << i))
      g_ptr_array_add (names,
                       (gpointer) og_stability_reading_get_name ((OgStabilityReading) i));
  g_ptr_array_add (names, NULL);
  /* Translators: stands between things to read off */
  return g_strjoinv (_(", "), (char **) names->pdata);
}

static void
show_plan (OgStabilitySection *self)
{
  const OgFormula *formula = get_formula (self);
  g_autoptr (GArray) plan = NULL;
  GDate now;
  guint n_due = 0;
  g_autofree char *summary = NULL;

  og_box_clear (self->plan_list);
  if (!g_date_valid (&formula->stability_start))
    {
      og_fact_section_set_summary (OG_FACT_SECTION (self->section), _("None planned"));
      return;
    }
  today (&now);
  plan = og_stability_plan (&formula->stability_start,
                            CLAMP (formula->stability_months, 1, MOST_MONTHS));
  for (guint i = 0; i < plan->len; i++)
    {
      const OgStabilityDue *due = &g_array_index (plan, OgStabilityDue, i);
      g_autofree char *date = og_date_to_text (&due->date);
      g_autofree char *readings = readings_text (due->readings);

      n_due += g_date_compare (&due->date, &now) <= 0;
      og_facts_append (self->plan_list, og_stability_test_get_name (due->test), date, readings);
    }
  summary = g_strdup_printf (ngettext ("%u of %u date has come", "%u of %u dates have come",
                                       plan->len),
                             n_due, plan->len);
  og_fact_section_set_summary (OG_FACT_SECTION (self->section), summary);
}

/* Results */

static char *
result_text (const OgStabilityResult *result)
{
  g_autofree char *date = og_date_to_text (&result->date);
  g_autofree char *value = isfinite (result->value) ? og_number_trimmed (result->value, 3)
                                                    : g_strdup ("");

  /* Translators: date, test, what was read, its value */
  return g_strdup_printf (_("%s · %s · %s %s"), date, og_stability_test_get_name (result->test),
                          og_stability_reading_get_name (result->reading), value);
}

static void
on_remove (OgStabilitySection *self,
           GtkButton          *button)
{
  const guint i = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "og-index"));

  og_document_remove_stability_result (self->document, i);
}

static void
append_result (OgStabilitySection      *self,
               const OgStabilityResult *result,
               guint                    index)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *button = gtk_button_new_from_icon_name ("edit-delete-symbolic");
  g_autofree char *text = result_text (result);
  /* Translators: %s is a reading of a stability test */
  g_autofree char *spoken = g_strdup_printf (_("Remove %s"), text);

  gtk_widget_set_hexpand (words, TRUE);
  gtk_box_append (GTK_BOX (words), og_wrapping_label_new (text, NULL));
  if (result->note != NULL)
    gtk_box_append (GTK_BOX (words), og_wrapping_label_new (result->note, "fact-origin"));
  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_widget_set_valign (button, GTK_ALIGN_START);
  gtk_widget_set_tooltip_text (button, _("Remove this reading"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, spoken,
                                  -1);
  g_object_set_data (G_OBJECT (button), "og-index", GUINT_TO_POINTER (index));
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (on_remove), self);
  gtk_box_append (GTK_BOX (line), words);
  gtk_box_append (GTK_BOX (line), button);
  gtk_box_append (GTK_BOX (self->results_list), line);
}

void
og_stability_section_update (OgStabilitySection *self)
{
  const OgFormula *formula;
  g_autofree char *start = NULL;

  g_return_if_fail (OG_IS_STABILITY_SECTION (self));

  if (self->document == NULL)
    return;
  formula = get_formula (self);
  start = g_date_valid (&formula->stability_start) ? og_date_to_text (&formula->stability_start)
                                                   : g_strdup ("");
  self->filling = TRUE;
  if (!gtk_widget_has_focus (self->start_entry)
      && gtk_widget_get_focus_child (self->start_entry) == NULL)
    og_editable_show (GTK_EDITABLE (self->start_entry), start);
  og_cell_entry_set_number (self->months_entry,
                            formula->stability_months > 0 ? formula->stability_months : NAN, 0, 0);
  self->filling = FALSE;
  show_plan (self);
  og_box_clear (self->results_list);
  for (guint i = 0; i < formula->stability_results->len; i++)
    append_result (self, g_ptr_array_index (formula->stability_results, i), i);
}

/* What the reader does */

static void
plan_from (OgStabilitySection *self,
           const GDate        *start)
{
  const guint months = get_formula (self)->stability_months;

  og_document_set_stability_plan (self->document, start, months > 0 ? months : USUAL_MONTHS);
}

static void
on_start_today (OgStabilitySection *self)
{
  GDate date;

  if (self->document == NULL)
    return;
  today (&date);
  plan_from (self, &date);
}

static void
on_start_typed (OgStabilitySection *self)
{
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->start_entry));
  GDate date;
  gboolean good;

  if (self->filling || self->document == NULL)
    return;
  good = og_date_parse (text, &date);
  og_label_set_optional (self->start_problem,
                         good || *text == '\0' ? NULL : _("Year, month and day: 2026-11-25"));
  if (good)
    plan_from (self, &date);
  else if (*text == '\0')
    og_document_set_stability_plan (self->document, NULL, get_formula (self)->stability_months);
}

static char *
on_months (OgStabilitySection *self,
           double              value)
{
  const OgFormula *formula = get_formula (self);

  if (!(value >= 1.0 && value <= MOST_MONTHS) || value != floor (value))
    return g_strdup (_("A whole number of months, from 1 to 60."));
  og_document_set_stability_plan (self->document,
                                  g_date_valid (&formula->stability_start)
                                    ? &formula->stability_start : NULL,
                                  (guint) value);
  return NULL;
}

static gboolean
read_value (OgStabilitySection *self,
            double             *value)
{
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->value_entry));
  g_autofree char *problem = NULL;

  *value = NAN;
  problem = *text != '\0' ? og_typed_number (text, value) : NULL;
  gtk_widget_set_tooltip_text (self->value_entry, problem);
  return problem == NULL;
}

static void
on_add (OgStabilitySection *self)
{
  const char *note = gtk_editable_get_text (GTK_EDITABLE (self->note_entry));
  GDate date;
  double value;

  if (self->document == NULL || !read_value (self, &value))
    {
      gtk_widget_error_bell (self->value_entry);
      gtk_widget_grab_focus (self->value_entry);
      return;
    }
  today (&date);
  og_document_add_stability_result (
    self->document,
    og_stability_result_new (&date,
                             (OgStabilityTest) gtk_drop_down_get_selected (
                               GTK_DROP_DOWN (self->test_drop_down)),
                             (OgStabilityReading) gtk_drop_down_get_selected (
                               GTK_DROP_DOWN (self->reading_drop_down)),
                             value, *note != '\0' ? note : NULL));
  og_editable_show (GTK_EDITABLE (self->value_entry), "");
  og_editable_show (GTK_EDITABLE (self->note_entry), "");
}

/* A button that can do nothing says so. */
static void
on_reading_typed (OgStabilitySection *self)
{
  const char *value_text = gtk_editable_get_text (GTK_EDITABLE (self->value_entry));
  const char *note = gtk_editable_get_text (GTK_EDITABLE (self->note_entry));
  double value;
  const gboolean good = read_value (self, &value);

  gtk_widget_set_sensitive (self->add_button, good && (*value_text != '\0' || *note != '\0'));
  if (good)
    gtk_widget_remove_css_class (self->value_entry, "error");
  else
    gtk_widget_add_css_class (self->value_entry, "error");
}

void
og_stability_section_set_document (OgStabilitySection *self,
                                   OgDocument         *document)
{
  g_return_if_fail (OG_IS_STABILITY_SECTION (self));

  g_set_object (&self->document, document);
}

/* Building */

static void
name_widget (GtkWidget  *widget,
             const char *name)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (widget),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  -1);
}

static GtkWidget *
make_choice (const char *name,
             const char *(*get_name) (guint),
             guint       n)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  GtkWidget *drop_down;

  for (guint i = 0; i < n; i++)
    gtk_string_list_append (names, get_name (i));
  drop_down = gtk_drop_down_new (G_LIST_MODEL (g_steal_pointer (&names)), NULL);
  og_drop_down_set_name (drop_down, name);
  return drop_down;
}

static const char *
test_name (guint i)
{
  return og_stability_test_get_name ((OgStabilityTest) i);
}

static const char *
reading_name (guint i)
{
  return og_stability_reading_get_name ((OgStabilityReading) i);
}

static void
build_plan (OgStabilitySection *self,
            GtkWidget          *box)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *button = gtk_button_new_with_label (_("Start today"));

  og_facts_append_text (box, _("Start of the tests"), "dim-label");
  self->start_entry = gtk_entry_new ();
  gtk_editable_set_width_chars (GTK_EDITABLE (self->start_entry), 10);
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->start_entry), _("Year-month-day"));
  gtk_widget_set_hexpand (self->start_entry, TRUE);
  name_widget (self->start_entry, _("Start of the tests, year-month-day"));
  g_signal_connect_swapped (self->start_entry, "changed", G_CALLBACK (on_start_typed), self);
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (on_start_today), self);
  gtk_box_append (GTK_BOX (line), self->start_entry);
  gtk_box_append (GTK_BOX (line), button);
  gtk_box_append (GTK_BOX (box), line);
  self->start_problem = og_wrapping_label_new (NULL, "error");
  gtk_widget_set_visible (self->start_problem, FALSE);
  gtk_box_append (GTK_BOX (box), self->start_problem);
  og_facts_append_text (box, _("They are to speak for, months"), "dim-label");
  self->months_entry = OG_CELL_ENTRY (og_cell_entry_new (TRUE));
  og_cell_entry_set_label (self->months_entry, _("Months the tests are to speak for"));
  g_signal_connect_swapped (self->months_entry, "submit-number", G_CALLBACK (on_months), self);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->months_entry));
  og_facts_append_text (box,
                        _("Settings are common practice without a source. What stood warm without "
                          "fault is an estimate for the shelf, no proof."),
                        "fact-origin");
  self->plan_list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append (GTK_BOX (box), self->plan_list);
}

static void
build_record (OgStabilitySection *self,
              GtkWidget          *box)
{
  og_facts_append_heading (box, _("What was read today"));
  self->test_drop_down = make_choice (_("Test"), test_name, OG_N_STABILITY_TESTS);
  self->reading_drop_down = make_choice (_("What was read"), reading_name,
                                         OG_N_STABILITY_READINGS);
  self->value_entry = gtk_entry_new ();
  self->note_entry = gtk_entry_new ();
  self->add_button = gtk_button_new_with_label (_("Add reading"));
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->value_entry), _("Value, if there is a number"));
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->note_entry), _("In words"));
  name_widget (self->value_entry, _("Value"));
  name_widget (self->note_entry, _("In words"));
  gtk_widget_set_sensitive (self->add_button, FALSE);
  g_signal_connect_swapped (self->value_entry, "changed", G_CALLBACK (on_reading_typed), self);
  g_signal_connect_swapped (self->note_entry, "changed", G_CALLBACK (on_reading_typed), self);
  g_signal_connect_swapped (self->add_button, "clicked", G_CALLBACK (on_add), self);
  gtk_box_append (GTK_BOX (box), self->test_drop_down);
  gtk_box_append (GTK_BOX (box), self->reading_drop_down);
  gtk_box_append (GTK_BOX (box), self->value_entry);
  gtk_box_append (GTK_BOX (box), self->note_entry);
  gtk_box_append (GTK_BOX (box), self->add_button);
  self->results_list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append (GTK_BOX (box), self->results_list);
}

static void
og_stability_section_dispose (GObject *object)
{
  OgStabilitySection *self = OG_STABILITY_SECTION (object);

  g_clear_object (&self->document);
  g_clear_pointer (&self->section, gtk_widget_unparent);

  G_OBJECT_CLASS (og_stability_section_parent_class)->dispose (object);
}

static void
og_stability_section_class_init (OgStabilitySectionClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = og_stability_section_dispose;

  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "stabilitysection");
}

static void
og_stability_section_init (OgStabilitySection *self)
{
  GtkWidget *box;

  self->section = og_fact_section_new (_("Stability tests"));
  gtk_widget_set_parent (self->section, GTK_WIDGET (self));
  box = og_fact_section_get_box (OG_FACT_SECTION (self->section));
  build_plan (self, box);
  build_record (self, box);
}

GtkWidget *
og_stability_section_new (void)
{
  return g_object_new (OG_TYPE_STABILITY_SECTION, NULL);
}
