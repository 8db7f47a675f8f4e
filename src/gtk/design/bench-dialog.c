/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "core/base/number-text.h"
#include "core/recipe/recipe-limits.h"
#include "gtk/design/bench-dialog.h"
#include "gtk/design/bench-text.h"
#include "gtk/parts/number-field.h"
#include "gtk/parts/text-undo.h"

#define MOST_LOT 1000
#define DENSITY_DECIMALS 3

typedef enum
{
  FIELD_SECONDS,
  FIELD_BALL_DIAMETER,
  FIELD_BALL_DENSITY,
  FIELD_TUBE_DIAMETER,
  FIELD_FALL,
  FIELD_VISCOSITY,
  FIELD_SHEAR_RATE,
  FIELD_TEMPERATURE,
  FIELD_DENSITY,
  N_FIELDS
} Field;

#define METHOD_BIT(method) (1u << (method))
#define TIMED (METHOD_BIT (OG_METHOD_CUP) | METHOD_BIT (OG_METHOD_BALL))
#define ALL_METHODS (METHOD_BIT (OG_N_METHODS) - 1)

typedef struct
{
  const char   *title;
  const char   *unit;
  guint         n_entries;
  guint         methods;  /* bits of those that need it */
  gboolean      optional; /* empty is NAN, a number that nobody knows */
  OgReadingPart part;
} FieldInfo;

static const FieldInfo field_info[N_FIELDS] = {
  [FIELD_SECONDS] = { N_("Time"), N_("s"), OG_NUMBER_FIELD_MOST, TIMED, FALSE,
                      OG_READING_PART_SECONDS },
  [FIELD_BALL_DIAMETER] = { N_("Ball diameter"), N_("mm"), 1, METHOD_BIT (OG_METHOD_BALL), FALSE,
                            OG_READING_PART_BALL_DIAMETER },
  [FIELD_BALL_DENSITY] = { N_("Ball density"), N_("g/ml"), 1, METHOD_BIT (OG_METHOD_BALL), FALSE,
                           OG_READING_PART_BALL_DENSITY },
  [FIELD_TUBE_DIAMETER] = { N_("Tube diameter"), N_("mm"), 1, METHOD_BIT (OG_METHOD_BALL), FALSE,
                            OG_READING_PART_TUBE_DIAMETER },
  [FIELD_FALL] = { N_("Fall"), N_("mm"), 1, METHOD_BIT (OG_METHOD_BALL), FALSE,
                   OG_READING_PART_FALL },
  [FIELD_VISCOSITY] = { N_("Viscosity"), N_("mPa·s"), 1, METHOD_BIT (OG_METHOD_ROTATIONAL), FALSE,
                        OG_READING_PART_VISCOSITY },
  [FIELD_SHEAR_RATE] = { N_("Shear rate"), N_("1/s"), 1, METHOD_BIT (OG_METHOD_ROTATIONAL), TRUE,
                         OG_READING_PART_SHEAR_RATE },
  [FIELD_TEMPERATURE] = { N_("Temperature"), N_("°C"), 1, ALL_METHODS, FALSE,
                          OG_READING_PART_TEMPERATURE },
  [FIELD_DENSITY] = { N_("Density of the liquid"), N_("g/ml"), 1, TIMED, TRUE,
                      OG_READING_PART_DENSITY },
};

struct _OgBenchDialog
{
  GtkWindow parent_instance;

  GtkWidget *recipe_button;
  GtkWidget *material_button;
  GtkWidget *material_drop_down;
  GtkWidget *method_box;
  GtkWidget *method_buttons[OG_N_METHODS];
  GtkWidget *cup_box;
  GtkWidget *cup_caption;
  GtkWidget *cup_drop_down;
  GtkWidget *cup_note;
  GtkWidget *likeness_box;
  GtkWidget *likeness_caption;
  GtkWidget *likeness_drop_down;
  GtkWidget *reading_box;
  GtkWidget *condition_box;
  GtkWidget *fields[N_FIELDS];
  GtkWidget *date_caption;
  GtkWidget *date_entry;
  GtkWidget *date_problem;
  GtkWidget *lot_caption;
  GtkWidget *lot_entry;
  GtkWidget *note_caption;
  GtkWidget *note_entry;
  GtkWidget *value_label;
  GtkWidget *spread_label;
  GtkWidget *predicted_label;
  GtkWidget *agreement_label;

  OgDocument *document;
  GPtrArray *material_ids; /* of char *: as in the drop-down */
  OgMethod method;
  gboolean built;          /* all widgets are there */
};

G_DEFINE_FINAL_TYPE (OgBenchDialog, og_bench_dialog, GTK_TYPE_WINDOW)

enum
{
  RECORDED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static OgNumberField *
get_field (OgBenchDialog *self,
           Field          field)
{
  return OG_NUMBER_FIELD (self->fields[field]);
}

static gboolean
is_asked (OgBenchDialog *self,
          Field          field)
{
  return (field_info[field].methods & METHOD_BIT (self->method)) != 0;
}

static char *
entry_text (GtkWidget *entry)
{
  return g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry))));
}

static guint
get_selected (GtkWidget *drop_down)
{
  guint selected = gtk_drop_down_get_selected (GTK_DROP_DOWN (drop_down));

  return selected != GTK_INVALID_LIST_POSITION ? selected : 0;
}

static void
set_optional (GtkWidget  *label,
              const char *text)
{
  gtk_label_set_label (GTK_LABEL (label), text != NULL ? text : "");
  gtk_widget_set_visible (label, text != NULL);
}

/* Reading the form */

/* @value stays NAN for an empty field. Returns: FALSE if the text is no number */
static gboolean
read_number (OgBenchDialog *self,
             Field          field,
             double        *value)
{
  double values[OG_NUMBER_FIELD_MOST];
  guint n;

  if (!is_asked (self, field))
    return TRUE;
  if (!og_number_field_read (get_field (self, field), values, &n))
    return FALSE;
  if (n > 0)
    *value = values[0];
  return TRUE;
}

/* All fields are looked at, so that each says what is wrong with its own text. */
static gboolean
read_fields (OgBenchDialog *self,
             OgReading     *reading)
{
  const struct
  {
    Field field;
    double *value;
  } numbers[] = {
    { FIELD_BALL_DIAMETER, &reading->ball_diameter_mm },
    { FIELD_BALL_DENSITY, &reading->ball_density_g_ml },
    { FIELD_TUBE_DIAMETER, &reading->tube_diameter_mm },
    { FIELD_FALL, &reading->fall_mm },
    { FIELD_VISCOSITY, &reading->mpa_s },
    { FIELD_SHEAR_RATE, &reading->shear_rate_1_s },
    { FIELD_TEMPERATURE, &reading->temperature_c },
    { FIELD_DENSITY, &reading->density_g_ml },
  };
  gboolean good = TRUE;

  for (guint i = 0; i < G_N_ELEMENTS (numbers); i++)
    {
      *numbers[i].value = NAN;
      good &= read_number (self, numbers[i].field, numbers[i].value);
    }
  reading->n_seconds = 0;
  if (is_asked (self, FIELD_SECONDS))
    good &= og_number_field_read (get_field (self, FIELD_SECONDS), reading->seconds,
                                  &reading->n_seconds);
  return good;
}

static const char *
chosen_material (OgBenchDialog *self)
{
  if (!gtk_check_button_get_active (GTK_CHECK_BUTTON (self->material_button))
      || self->material_ids->len == 0)
    return NULL;
  return g_ptr_array_index (self->material_ids, get_selected (self->material_drop_down));
}

/* A calendar day, nothing looser; no date at all is fine. */
static gboolean
is_date (const char *text)
{
  g_autofree char *moment = g_strconcat (text, "T00:00:00Z", NULL);
  g_autoptr (GDateTime) time = NULL;

  if (*text == '\0')
    return TRUE;
  if (strlen (text) != 10 || text[4] != '-' || text[7] != '-')
    return FALSE;
  time = g_date_time_new_from_iso8601 (moment, NULL);
  return time != NULL;
}

static gboolean
check_date (OgBenchDialog *self)
{
  g_autofree char *date = entry_text (self->date_entry);
  const gboolean good = is_date (date);

  gtk_widget_set_visible (self->date_problem, !good);
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->date_entry),
                               GTK_ACCESSIBLE_STATE_INVALID,
                               good ? GTK_ACCESSIBLE_INVALID_FALSE : GTK_ACCESSIBLE_INVALID_TRUE,
                               -1);
  if (good)
    gtk_widget_remove_css_class (self->date_entry, "error");
  else
    gtk_widget_add_css_class (self->date_entry, "error");
  return good;
}

/* Returns: (transfer full): a measurement of what was chosen, without a reading */
static OgMeasurement *
make_measurement (OgBenchDialog *self)
{
  OgMeasurement *measurement = og_measurement_new ();
  const char *material = chosen_material (self);

  if (material != NULL)
    measurement->material_id = g_strdup (material);
  else
    og_measurement_set_recipe (measurement, og_document_get_formula (self->document));
  measurement->reading.method = self->method;
  measurement->reading.cup = (OgCup) get_selected (self->cup_drop_down);
  measurement->reading.likeness = get_selected (self->likeness_drop_down);
  return measurement;
}

static double
predict_density (OgBenchDialog       *self,
                 const OgMeasurement *measurement)
{
  const double at_c = measurement->reading.temperature_c;
  g_autoptr (GPtrArray) contents =
    og_measurement_contents (measurement, og_document_get_catalog (self->document));

  return og_contents_density (contents, isfinite (at_c) ? at_c : OG_TEMPERATURE_ROOM_C, NULL);
}

static void
show_density (OgBenchDialog *self,
              double         density_g_ml)
{
  g_autofree char *text = isfinite (density_g_ml)
                            ? og_number_fixed (density_g_ml, DENSITY_DECIMALS) : NULL;

  og_number_field_set_placeholder (get_field (self, FIELD_DENSITY), text);
}

/* A number that is missing is no mistake, as long as the form is being filled in. */
static gboolean
show_refusal (OgBenchDialog *self,
              const GError  *error)
{
  const OgReadingPart part = og_bench_error_get_part (error);

  for (guint i = 0; i < N_FIELDS; i++)
    {
      if (field_info[i].part != part || !is_asked (self, i)
          || og_number_field_is_empty (get_field (self, i)))
        continue;
      og_number_field_set_problem (get_field (self, i), error->message);
      return TRUE;
    }
  return FALSE;
}

/* A time that no cup takes is worth saying before the temperature is typed. */
static gboolean
show_early_refusal (OgBenchDialog   *self,
                    const OgReading *reading,
                    double           density_g_ml)
{
  OgReading warm = *reading;
  g_autoptr (GError) error = NULL;
  OgReduced unused;

  if (isfinite (reading->temperature_c))
    return FALSE;
  warm.temperature_c = OG_TEMPERATURE_ROOM_C;
  return !og_reading_reduce (&warm, density_g_ml, &unused, &error) && show_refusal (self, error);
}

/* Returns: (transfer full) (nullable): the fields that nobody can do without and that are empty */
static char *
list_missing (OgBenchDialog *self)
{
  g_autoptr (GPtrArray) titles = g_ptr_array_new ();
  g_autofree char *list = NULL;

  for (guint i = 0; i < N_FIELDS; i++)
    {
      if (is_asked (self, i) && !field_info[i].optional
          && og_number_field_is_empty (get_field (self, i)))
        g_ptr_array_add (titles, (char *) _(field_info[i].title));
    }
  if (titles->len == 0)
    return NULL;
  g_ptr_array_add (titles, NULL);
  list = g_strjoinv (_(", "), (char **) titles->pdata);
  /* Translators: %s is a list of what is to be filled in: "Time, Temperature" */
  return g_strdup_printf (_("Still missing: %s"), list);
}

/*
 * Returns: (transfer full) (nullable): the measurement as the form has it, reduced; NULL if it is
 * not valid, with the reason, or without one where a field tells it
 */
static OgMeasurement *
read_form (OgBenchDialog  *self,
           char          **reason)
{
  g_autoptr (OgMeasurement) measurement = make_measurement (self);
  g_autoptr (GError) error = NULL;
  const gboolean readable = read_fields (self, &measurement->reading);
  double density = predict_density (self, measurement);

  show_density (self, density);
  if (!readable)
    return NULL;
  if (!og_reading_reduce (&measurement->reading, density, &measurement->reduced, &error))
    {
      if (show_refusal (self, error) || show_early_refusal (self, &measurement->reading, density))
        return NULL;
      *reason = list_missing (self);
      if (*reason == NULL)
        *reason = g_strdup (error->message);
      return NULL;
    }
  return g_steal_pointer (&measurement);
}

static void
set_string (char       **string,
            const char  *text)
{
  g_free (*string);
  *string = g_strdup (text);
}

static void
read_remarks (OgBenchDialog *self,
              OgMeasurement *measurement)
{
  g_autofree char *date = entry_text (self->date_entry);
  g_autofree char *lot = entry_text (self->lot_entry);
  g_autofree char *note = entry_text (self->note_entry);

  set_string (&measurement->date, date);
  set_string (&measurement->lot, lot);
  set_string (&measurement->note, note);
}

/* What it means */

/* Judged as the document will judge it: against the prediction that knows no reading. */
static OgBelief *
judge (OgBenchDialog       *self,
       const OgMeasurement *measurement)
{
  g_autoptr (GPtrArray) alone =
    g_ptr_array_new_with_free_func ((GDestroyNotify) og_measurement_free);
  OgMeasurement *copy = og_measurement_copy (measurement);

  set_string (&copy->id, "m1");
  g_ptr_array_add (alone, copy);
  return og_belief_learn (alone, og_document_get_catalog (self->document));
}

static void
show_prediction (OgBenchDialog       *self,
                 const OgMeasurement *measurement,
                 const OgEstimate    *predicted)
{
  g_autofree char *at_c = og_number_trimmed (measurement->reading.temperature_c, 1);
  g_autofree char *rate = og_number_significant (measurement->reduced.shear_rate_1_s, 2);
  g_autofree char *value = NULL;
  g_autofree char *band = NULL;
  g_autofree char *text = NULL;

  if (og_estimate_is_known (predicted))
    {
      value = og_number_with_unit (predicted->value);
      band = og_number_band (predicted);
      /* Translators: temperature, shear rate, viscosity, then "80 % between 400 and 1 800" */
      text = g_strdup_printf (_("Predicted at %s °C and %s per second, without any reading: %s, "
                                "%s"),
                              at_c, rate, value, band != NULL ? band : _("band not known"));
    }
  set_optional (self->predicted_label, text);
}

static void
show_meaning (OgBenchDialog       *self,
              const OgMeasurement *measurement)
{
  g_autoptr (OgBelief) belief = judge (self, measurement);
  const OgLesson *lesson = &g_array_index (og_belief_get_lessons (belief), OgLesson, 0);
  g_autofree char *value = og_bench_value_to_text (&measurement->reduced);
  g_autofree char *spread = og_bench_spread_to_text (&measurement->reduced);
  g_autofree char *agreement = og_bench_agreement_to_text (lesson);
  /* Translators: %s is a viscosity with its spread */
  g_autofree char *about = g_strdup_printf (_("about %s"), value);

  set_optional (self->value_label, about);
  set_optional (self->spread_label, spread);
  show_prediction (self, measurement, &lesson->predicted);
  set_optional (self->agreement_label, agreement);
  if (lesson->contradicts)
    gtk_widget_add_css_class (self->agreement_label, "contradicts");
  else
    gtk_widget_remove_css_class (self->agreement_label, "contradicts");
}

static void
show_unfinished (OgBenchDialog *self,
                 const char    *reason)
{
  set_optional (self->value_label, NULL);
  set_optional (self->spread_label,
                reason != NULL ? reason : _("See the field that is marked above."));
  set_optional (self->predicted_label, NULL);
  set_optional (self->agreement_label, NULL);
}

static void
show_cup_note (OgBenchDialog *self)
{
  const OgCupInfo *info = og_cup_get_info ((OgCup) get_selected (self->cup_drop_down));
  g_autofree char *low = og_number_trimmed (info->low_s, 0);
  g_autofree char *high = og_number_trimmed (info->high_s, 0);
  g_autofree char *text = g_strdup_printf (
    info->recalled
      /* Translators: shortest and longest time in seconds */
      ? _("Good for %s to %s s. Formula recalled, not checked against the standard.")
      /* Translators: shortest and longest time in seconds */
      : _("Good for %s to %s s."),
    low, high);

  gtk_label_set_label (GTK_LABEL (self->cup_note), text);
}

static void
update (OgBenchDialog *self)
{
  g_autoptr (OgMeasurement) measurement = NULL;
  g_autofree char *reason = NULL;
  gboolean dated;

  if (!self->built)
    return;
  show_cup_note (self);
  dated = check_date (self);
  measurement = read_form (self, &reason);
  if (measurement != NULL)
    show_meaning (self, measurement);
  else
    show_unfinished (self, reason);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "reading.save", measurement != NULL && dated);
}

/* Form */

static void
show_method (OgBenchDialog *self)
{
  gtk_widget_set_visible (self->cup_box, self->method == OG_METHOD_CUP);
  gtk_widget_set_visible (self->likeness_box, self->method == OG_METHOD_POURS_LIKE);
  for (guint i = 0; i < N_FIELDS; i++)
    gtk_widget_set_visible (self->fields[i], is_asked (self, i));
  update (self);
}

void
og_bench_dialog_set_method (OgBenchDialog *self,
                            OgMethod       method)
{
  g_return_if_fail (OG_IS_BENCH_DIALOG (self));
  g_return_if_fail (method < OG_N_METHODS);

  if (self->method == method)
    return;
  self->method = method;
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->method_buttons[method]), TRUE);
  show_method (self);
}

static void
on_method_toggled (OgBenchDialog   *self,
                   GtkToggleButton *button)
{
  for (guint i = 0; i < OG_N_METHODS; i++)
    {
      if (self->method_buttons[i] == GTK_WIDGET (button) && gtk_toggle_button_get_active (button))
        og_bench_dialog_set_method (self, (OgMethod) i);
    }
}

static void
on_target_toggled (OgBenchDialog *self)
{
  gtk_widget_set_sensitive (self->material_drop_down,
                            gtk_check_button_get_active (GTK_CHECK_BUTTON (self->material_button)));
  update (self);
}

static void
on_changed (OgBenchDialog *self)
{
  update (self);
}

void
og_bench_dialog_set_target (OgBenchDialog *self,
                            const char    *material_id)
{
  guint i;

  g_return_if_fail (OG_IS_BENCH_DIALOG (self));

  if (material_id != NULL
      && g_ptr_array_find_with_equal_func (self->material_ids, material_id, g_str_equal, &i))
    {
      gtk_drop_down_set_selected (GTK_DROP_DOWN (self->material_drop_down), i);
      gtk_check_button_set_active (GTK_CHECK_BUTTON (self->material_button), TRUE);
    }
  else
    gtk_check_button_set_active (GTK_CHECK_BUTTON (self->recipe_button), TRUE);
}

const char *
og_bench_dialog_get_message (OgBenchDialog *self)
{
  g_return_val_if_fail (OG_IS_BENCH_DIALOG (self), NULL);

  return gtk_label_get_label (GTK_LABEL (gtk_widget_get_visible (self->value_label)
                                           ? self->value_label : self->spread_label));
}

gboolean
og_bench_dialog_save (OgBenchDialog *self)
{
  g_autoptr (OgMeasurement) measurement = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *reason = NULL;
  guint n_before;

  g_return_val_if_fail (OG_IS_BENCH_DIALOG (self), FALSE);

  measurement = read_form (self, &reason);
  if (measurement == NULL || !check_date (self))
    return FALSE;
  read_remarks (self, measurement);
  n_before = og_document_get_formula (self->document)->measurements->len;
  if (!og_document_record_measurement (self->document, g_steal_pointer (&measurement), &error))
    {
      show_unfinished (self, error != NULL ? error->message : _("The reading could not be kept."));
      return FALSE;
    }
  g_signal_emit (self, signals[RECORDED], 0,
                 og_document_get_formula (self->document)->measurements->len > n_before);
  return TRUE;
}

static void
act_save (GtkWidget  *widget,
          const char *name,
          GVariant   *parameter)
{
  if (og_bench_dialog_save (OG_BENCH_DIALOG (widget)))
    gtk_window_destroy (GTK_WINDOW (widget));
  else
    gtk_widget_error_bell (widget);
}

/* Building */

static void
add_method_button (OgBenchDialog *self,
                   OgMethod       method)
{
  GtkWidget *button = gtk_toggle_button_new_with_label (og_method_get_name (method));

  self->method_buttons[method] = button;
  gtk_widget_set_hexpand (button, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, og_method_get_name (method),
                                  -1);
  if (method > 0)
    gtk_toggle_button_set_group (GTK_TOGGLE_BUTTON (button),
                                 GTK_TOGGLE_BUTTON (self->method_buttons[0]));
  else
    gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (button), TRUE);
  g_signal_connect_swapped (button, "toggled", G_CALLBACK (on_method_toggled), self);
  gtk_flow_box_insert (GTK_FLOW_BOX (self->method_box), button, -1);
  gtk_widget_set_focusable (gtk_widget_get_parent (button), FALSE);
}

static void
add_field (OgBenchDialog *self,
           Field          field,
           GtkSizeGroup  *titles)
{
  const FieldInfo *info = &field_info[field];
  const gboolean condition = field == FIELD_TEMPERATURE || field == FIELD_DENSITY;

  self->fields[field] = og_number_field_new (_(info->title), _(info->unit), info->n_entries);
  og_number_field_join (get_field (self, field), titles);
  g_signal_connect_swapped (self->fields[field], "changed", G_CALLBACK (on_changed), self);
  gtk_box_append (GTK_BOX (condition ? self->condition_box : self->reading_box),
                  self->fields[field]);
}

static void
add_fields (OgBenchDialog *self)
{
  g_autoptr (GtkSizeGroup) titles = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);

  for (guint i = 0; i < N_FIELDS; i++)
    add_field (self, i, titles);
  gtk_size_group_add_widget (titles, self->cup_caption);
  gtk_size_group_add_widget (titles, self->likeness_caption);
  gtk_size_group_add_widget (titles, self->date_caption);
  gtk_size_group_add_widget (titles, self->lot_caption);
  gtk_size_group_add_widget (titles, self->note_caption);
  og_number_field_set_placeholder (get_field (self, FIELD_SHEAR_RATE), _("not known"));
}

static void
fill_cups (OgBenchDialog *self)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);

  for (guint i = 0; i < OG_N_CUPS; i++)
    gtk_string_list_append (names, og_cup_get_name ((OgCup) i));
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->cup_drop_down), G_LIST_MODEL (names));
}

/* The first cup that the recipe should run through in a time that counts. */
static void
choose_cup (OgBenchDialog *self)
{
  const OgResult *result = og_document_get_result (self->document);
  const double mm2_s = result->pour.value / result->density_g_ml;

  for (guint i = 0; i < OG_N_CUPS; i++)
    {
      if (isnan (og_cup_seconds ((OgCup) i, mm2_s)))
        continue;
      gtk_drop_down_set_selected (GTK_DROP_DOWN (self->cup_drop_down), i);
      return;
    }
}

static void
fill_likenesses (OgBenchDialog *self)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);

  for (guint i = 0; i < OG_N_LIKENESSES; i++)
    {
      g_autofree char *value = og_number_with_unit (og_likeness_get_mpa_s (i));
      /* Translators: a liquid that everybody knows, and its viscosity */
      g_autofree char *name = g_strdup_printf (_("%s, about %s at 25 °C"), og_likeness_get_name (i),
                                               value);

      gtk_string_list_append (names, name);
    }
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->likeness_drop_down), G_LIST_MODEL (names));
}

typedef struct
{
  OgBenchDialog *dialog;
  GtkStringList *names;
} MaterialFill;

static void
add_material (OgFormulaPhase *phase,
              OgFormulaLine  *line,
              gpointer        data)
{
  MaterialFill *fill = data;
  GPtrArray *ids = fill->dialog->material_ids;
  const OgIngredient *material =
    og_catalog_get (og_document_get_catalog (fill->dialog->document), line->ingredient_id);

  /* what the catalog does not know has no model that could learn */
  if (material == NULL
      || g_ptr_array_find_with_equal_func (ids, line->ingredient_id, g_str_equal, NULL))
    return;
  g_ptr_array_add (ids, g_strdup (line->ingredient_id));
  gtk_string_list_append (fill->names, material->name);
}

static void
fill_materials (OgBenchDialog *self)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  MaterialFill fill = { self, names };

  og_formula_foreach_line (og_document_get_formula (self->document), add_material, &fill);
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->material_drop_down), G_LIST_MODEL (names));
  gtk_widget_set_sensitive (self->material_button, self->material_ids->len > 0);
}

static void
fill_date (OgBenchDialog *self)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  g_autofree char *date = g_date_time_format (now, "%Y-%m-%d");

  og_editable_show (GTK_EDITABLE (self->date_entry), date);
}

/* Object */

static void
og_bench_dialog_dispose (GObject *object)
{
  OgBenchDialog *self = OG_BENCH_DIALOG (object);

  self->built = FALSE;
  gtk_widget_dispose_template (GTK_WIDGET (self), OG_TYPE_BENCH_DIALOG);
  g_clear_object (&self->document);

  G_OBJECT_CLASS (og_bench_dialog_parent_class)->dispose (object);
}

static void
og_bench_dialog_finalize (GObject *object)
{
  g_ptr_array_unref (OG_BENCH_DIALOG (object)->material_ids);

  G_OBJECT_CLASS (og_bench_dialog_parent_class)->finalize (object);
}

static void
bind_children (GtkWidgetClass *class)
{
  gtk_widget_class_bind_template_child (class, OgBenchDialog, recipe_button);
  gtk_widget_class_bind_template_child (class, OgBenchDialog, material_button);
  gtk_widget_class_bind_template_child (class, OgBenchDialog, material_drop_down);
  gtk_widget_class_bind_template_child (class, OgBenchDialog, method_box);
  gtk_widget_class_bind_template_child (class, OgBenchDialog, cup_box);
  gtk_widget_class_bind_template_child (class, OgBenchDialog, cup_caption);
  gtk_widget_class_bind_template_child (class, OgBenchDialog, cup_drop_down);
  gtk_widget_class_bind_template_child (class, OgBenchDialog, cup_note);
  gtk_widget_class_bind_template_child (class, OgBenchDialog, likeness_box);
  gtk_widget_class_bind_template_child (class, OgBenchDialog, likeness_caption);
  gtk_widget_class_bind_template_child (class, OgBenchDialog, likeness_drop_down);
  gtk_widget_class_bind_template_child (class, OgBenchDialog, reading_box);
  gtk_widget_class_bind_template_child (class, OgBenchDialog, condition_box);
  gtk_widget_class_bind_template_child (class, OgBenchDialog, date_caption);
  gtk_widget_class_bind_template_child (class, OgBenchDialog, date_entry);
  gtk_widget_class_bind_template_child (class, OgBenchDialog, date_problem);
  gtk_widget_class_bind_template_child (class, OgBenchDialog, lot_caption);
  gtk_widget_class_bind_template_child (class, OgBenchDialog, lot_entry);
  gtk_widget_class_bind_template_child (class, OgBenchDialog, note_caption);
  gtk_widget_class_bind_template_child (class, OgBenchDialog, note_entry);
  gtk_widget_class_bind_template_child (class, OgBenchDialog, value_label);
  gtk_widget_class_bind_template_child (class, OgBenchDialog, spread_label);
  gtk_widget_class_bind_template_child (class, OgBenchDialog, predicted_label);
  gtk_widget_class_bind_template_child (class, OgBenchDialog, agreement_label);
  gtk_widget_class_bind_template_callback (class, on_changed);
  gtk_widget_class_bind_template_callback (class, on_target_toggled);
}

static void
og_bench_dialog_class_init (OgBenchDialogClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  object_class->dispose = og_bench_dialog_dispose;
  object_class->finalize = og_bench_dialog_finalize;

  signals[RECORDED] = g_signal_new ("recorded", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                    NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_BOOLEAN);

  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/oleograph/Oleograph/bench-dialog.ui");
  bind_children (widget_class);
  gtk_widget_class_install_action (widget_class, "reading.save", NULL, act_save);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_DIALOG);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
}

static void
og_bench_dialog_init (OgBenchDialog *self)
{
  self->material_ids = g_ptr_array_new_with_free_func (g_free);
  gtk_widget_init_template (GTK_WIDGET (self));
  for (guint i = 0; i < OG_N_METHODS; i++)
    add_method_button (self, (OgMethod) i);
  add_fields (self);
  fill_cups (self);
  fill_likenesses (self);
  fill_date (self);
  gtk_entry_set_max_length (GTK_ENTRY (self->lot_entry), MOST_LOT);
  gtk_entry_set_max_length (GTK_ENTRY (self->note_entry), OG_RECIPE_MAX_NAME);
}

GtkWidget *
og_bench_dialog_new (OgDocument *document)
{
  OgBenchDialog *self;

  g_return_val_if_fail (OG_IS_DOCUMENT (document), NULL);

  self = g_object_new (OG_TYPE_BENCH_DIALOG, NULL);
  self->document = g_object_ref (document);
  fill_materials (self);
  choose_cup (self);
  self->built = TRUE;
  show_method (self);
  gtk_widget_grab_focus (self->fields[FIELD_SECONDS]);
  return GTK_WIDGET (self);
}
