/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "core/base/number-text.h"
#include "core/make/stove-split.h"
#include "gtk/make/stove-chart-view.h"
#include "gtk/make/stove-view.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/make-rows.h"
#include "gtk/parts/pieces.h"
#include "gtk/parts/plain-list.h"

#define MOST_ROOM_C 60.0
#define MOST_C 300.0
#define MOST_ML 1e6
#define MOST_MINUTES 10000.0
#define MOST_G 1e9
#define DECIMALS 2

#define KEY_ROOM "room-temperature"
#define KEY_VESSEL "vessel"
#define KEY_STIRRED "stirred"

typedef enum
{
  FIELD_ROOM,
  FIELD_VESSEL,
  FIELD_START,
  FIELD_FROM,
  FIELD_TO,
  FIELD_MINUTES,
  FIELD_COOLED_ROOM,
  FIELD_COOLED_G,
  N_FIELDS
} Field;

typedef struct
{
  const char *title;
  const char *unit;
  double      least; /* this is still too little, except for the temperatures */
  double      most;
} FieldInfo;

static const FieldInfo field_info[N_FIELDS] = {
  [FIELD_ROOM] = { N_("Room and shelf"), N_("°C"), -20.0, MOST_ROOM_C },
  [FIELD_VESSEL] = { N_("Vessel holds"), N_("ml"), 0.0, MOST_ML },
  [FIELD_START] = { N_("First charge at"), N_("°C"), 0.0, MOST_C },
  [FIELD_FROM] = { N_("It cooled from"), N_("°C"), 0.0, MOST_C },
  [FIELD_TO] = { N_("Down to"), N_("°C"), 0.0, MOST_C },
  [FIELD_MINUTES] = { N_("Minutes it took"), N_("min"), 0.0, MOST_MINUTES },
  [FIELD_COOLED_ROOM] = { N_("Room at that time"), N_("°C"), -20.0, MOST_ROOM_C },
  [FIELD_COOLED_G] = { N_("Batch at that time"), N_("g"), 0.0, MOST_G },
};

struct _OgStoveView
{
  GtkWidget parent_instance;

  GtkWidget *scroller;
  GtkWidget *warnings_box;
  OgPlainList *warnings;
  GtkWidget *override_box;
  GtkWidget *override_button;
  GtkWidget *setup_expander;
  GtkWidget *setup_label;
  GtkWidget *setup_box;
  GtkWidget *cooled_box;
  GtkWidget *problem_label;
  GtkWidget *chart;
  GtkWidget *total_label;
  GtkWidget *splits_box;
  GtkWidget *steps_box;
  OgPlainList *steps;
  GtkWidget *doubts_box;
  OgPlainList *doubts;
  GtkWidget *vessel_drop_down;
  GtkWidget *stirred_button;
  OgCellEntry *entries[N_FIELDS];

  GSettings *settings;
  OgStoveSetup setup;
  gboolean focus_lost; /* with a row that is gone; the steps of the next plan take it */
  gboolean filling; /* choices are being set, nobody makes them */
};

G_DEFINE_FINAL_TYPE (OgStoveView, og_stove_view, GTK_TYPE_WIDGET)

enum
{
  CHANGED,
  SPLIT,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static void
emit_changed (OgStoveView *self)
{
  g_signal_emit (self, signals[CHANGED], 0);
}

/* Setup */

static double *
get_value (OgStoveView *self,
           Field        field)
{
  switch (field)
    {
    case FIELD_ROOM:
      return &self->setup.room_c;
    case FIELD_VESSEL:
      return &self->setup.vessel_ml;
    case FIELD_START:
      return &self->setup.start_c;
    case FIELD_FROM:
      return &self->setup.cooled.from_c;
    case FIELD_TO:
      return &self->setup.cooled.to_c;
    case FIELD_MINUTES:
      return &self->setup.cooled.minutes;
    case FIELD_COOLED_ROOM:
      return &self->setup.cooled.room_c;
    case FIELD_COOLED_G:
      return &self->setup.cooled.batch_g;
    case N_FIELDS:
      break;
    }
  g_return_val_if_reached (&self->setup.room_c);
}

static void
show_setup (OgStoveView *self)
{
  for (guint i = 0; i < N_FIELDS; i++)
    og_cell_entry_set_number (self->entries[i], *get_value (self, i), 0, DECIMALS);
  self->filling = TRUE;
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->vessel_drop_down), self->setup.vessel);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->stirred_button), self->setup.stirred);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->override_button), self->setup.override);
  self->filling = FALSE;
}

static char *
submit (OgStoveView *self,
        Field        field,
        double       value)
{
  const FieldInfo *info = &field_info[field];
  OgStoveSetup usual;

  if (!isnan (value) && !(value > info->least && value <= info->most))
    {
      g_autofree char *least = og_number_trimmed (info->least, 0);
      g_autofree char *most = og_number_trimmed (info->most, 0);

      /* Translators: the smallest and the largest number that is taken */
      return g_strdup_printf (_("This has to lie above %s and be at most %s."), least, most);
    }
  og_stove_setup_init (&usual);
  if (field == FIELD_ROOM && isnan (value))
    value = usual.room_c;
  *get_value (self, field) = value;
  if (field == FIELD_ROOM && self->settings != NULL)
    g_settings_set_double (self->settings, KEY_ROOM, value);
  emit_changed (self);
  return NULL;
}

static char *
on_field (OgCellEntry *entry,
          double       value,
          OgStoveView *self)
{
  for (guint i = 0; i < N_FIELDS; i++)
    {
      if (self->entries[i] == entry)
        return submit (self, i, value);
    }
  g_return_val_if_reached (NULL);
}

static void
on_vessel (OgStoveView *self)
{
  const guint kind = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->vessel_drop_down));

  if (self->filling || kind >= OG_N_VESSELS)
    return;
  self->setup.vessel = (OgVesselKind) kind;
  if (self->settings != NULL)
    g_settings_set_string (self->settings, KEY_VESSEL,
                           og_vessel_kind_to_nick (self->setup.vessel));
  emit_changed (self);
}

static void
on_stirred (OgStoveView *self)
{
  if (self->filling)
    return;
  self->setup.stirred = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->stirred_button));
  if (self->settings != NULL)
    g_settings_set_boolean (self->settings, KEY_STIRRED, self->setup.stirred);
  emit_changed (self);
}

static void
on_override (OgStoveView *self)
{
  if (self->filling)
    return;
  self->setup.override = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->override_button));
  emit_changed (self);
}

void
og_stove_view_forget (OgStoveView *self)
{
  g_return_if_fail (OG_IS_STOVE_VIEW (self));

  self->setup.override = FALSE;
  self->filling = TRUE;
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->override_button), FALSE);
  self->filling = FALSE;
}

void
og_stove_view_set_settings (OgStoveView *self,
                            GSettings   *settings)
{
  g_return_if_fail (OG_IS_STOVE_VIEW (self));

  g_set_object (&self->settings, settings);
  if (settings != NULL)
    {
      g_autofree char *vessel = g_settings_get_string (settings, KEY_VESSEL);

      self->setup.room_c = g_settings_get_double (settings, KEY_ROOM);
      self->setup.stirred = g_settings_get_boolean (settings, KEY_STIRRED);
      og_vessel_kind_from_nick (vessel, &self->setup.vessel);
    }
  show_setup (self);
}

void
og_stove_view_get_setup (OgStoveView  *self,
                         OgStoveSetup *setup)
{
  const double batch_g = setup->batch_g;
  const double cool_to_c = setup->cool_to_c;

  g_return_if_fail (OG_IS_STOVE_VIEW (self));

  *setup = self->setup;
  setup->batch_g = batch_g;
  setup->cool_to_c = cool_to_c;
}

static void
on_problem (OgStoveView *self)
{
  const char *problem = NULL;

  for (guint i = 0; i < N_FIELDS && problem == NULL; i++)
    {
      if (self->entries[i] != NULL)
        problem = og_cell_entry_get_problem (self->entries[i]);
    }
  og_label_set_optional (self->problem_label, problem);
}

void
og_stove_view_revert (OgStoveView *self)
{
  g_return_if_fail (OG_IS_STOVE_VIEW (self));

  for (guint i = 0; i < N_FIELDS; i++)
    og_cell_entry_revert (self->entries[i]);
}

/* The plan */

static void
show_findings (OgStoveView       *self,
               const OgStovePlan *plan)
{
  guint n_warnings = 0;

  og_plain_list_clear (self->warnings);
  og_plain_list_clear (self->doubts);
  for (guint i = 0; plan != NULL && i < plan->findings->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (plan->findings, i);
      const gboolean warning = finding->severity != OG_SEVERITY_NOTE;

      og_plain_list_add_finding (warning ? self->warnings : self->doubts, finding);
      n_warnings += warning;
    }
  gtk_widget_set_visible (self->warnings_box, n_warnings > 0);
  gtk_widget_set_visible (self->doubts_box, plan != NULL && plan->findings->len > n_warnings);
}

static char *
minutes_text (const OgEstimate *minutes)
{
  g_autofree char *value = NULL;
  g_autofree char *low = NULL;
  g_autofree char *high = NULL;

  if (isnan (minutes->value))
    return NULL;
  if (isinf (minutes->value))
    return g_strdup (_("never by itself"));
  value = og_number_significant (minutes->value, 2);
  if (!(minutes->high80 > minutes->low80))
    /* Translators: %s is a number of minutes */
    return g_strdup_printf (_("about %s min"), value);
  low = og_number_significant (minutes->low80, 2);
  high = og_number_significant (minutes->high80, 2);
  /* Translators: minutes, then the least and the most */
  return g_strdup_printf (_("about %s min, %s to %s"), value, low, high);
}

/* "pot 61 °C · about 12 min, 9 to 17" */
static char *
facts_text (const OgStoveStep *step)
{
  g_autofree char *temperature = NULL;
  g_autofree char *pot = NULL;
  g_autofree char *minutes = minutes_text (&step->minutes);

  if (isfinite (step->after_c))
    {
      temperature = og_number_trimmed (step->after_c, 0);
      /* Translators: %s is the temperature of the pot afterwards */
      pot = g_strdup_printf (_("pot %s °C"), temperature);
    }
  if (pot != NULL && minutes != NULL)
    return g_strdup_printf ("%s · %s", pot, minutes);
  return pot != NULL ? g_steal_pointer (&pot) : g_steal_pointer (&minutes);
}

static void
add_step (OgStoveView       *self,
          const OgStoveStep *step,
          guint              number)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  g_autofree char *count = g_strdup_printf ("%u", number);
  g_autofree char *facts = facts_text (step);
  GString *spoken = g_string_new (NULL);
  GtkWidget *number_label = og_wrapping_label_new (count, "step-number");

  gtk_widget_set_valign (number_label, GTK_ALIGN_START);
  gtk_label_set_width_chars (GTK_LABEL (number_label), 2);
  gtk_label_set_xalign (GTK_LABEL (number_label), 1.0f);
  gtk_widget_set_hexpand (words, TRUE);
  gtk_box_append (GTK_BOX (words), og_wrapping_label_new (og_saying_text (step->step.text), NULL));
  g_string_append_printf (spoken, "%s. %s", count, og_saying_text (step->step.text));
  if (facts != NULL)
    {
      gtk_box_append (GTK_BOX (words), og_wrapping_label_new (facts, "fact-origin"));
      g_string_append_printf (spoken, " %s.", facts);
    }
  if (step->step.caution != NULL)
    {
      gtk_box_append (GTK_BOX (words), og_caution_new (og_saying_text (step->step.caution)));
      g_string_append_printf (spoken, " %s", og_saying_text (step->step.caution));
    }
  gtk_box_append (GTK_BOX (line), number_label);
  gtk_box_append (GTK_BOX (line), words);
  og_plain_list_add (self->steps, line, spoken->str);
  g_string_free (spoken, TRUE);
}

/* Nobody is led through steps that may burn. */
static void
show_steps (OgStoveView       *self,
            const OgStovePlan *plan)
{
  const gboolean shown = plan != NULL && !plan->refused;

  og_plain_list_clear (self->steps);
  for (guint i = 0; shown && i < plan->steps->len; i++)
    add_step (self, g_ptr_array_index (plan->steps, i), i + 1);
  gtk_widget_set_visible (self->steps_box, shown && plan->steps->len > 0);
}

/* What could be kept back, with the button that does it */

static void
on_split (GtkButton   *button,
          OgStoveView *self)
{
  g_signal_emit (self, signals[SPLIT], 0, og_row_button_get_index (button));
}

static GtkWidget *
split_row_new (OgStoveView        *self,
               const OgStoveSplit *split,
               guint               index)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  g_autoptr (OgSaying) proposal = og_stove_split_proposal (split);
  g_autofree char *number = g_strdup_printf ("%u", index + 1);
  /* Translators: the number of a step, and what could be done at it */
  g_autofree char *text = g_strdup_printf (_("Step %s: %s"), number, og_saying_text (proposal));
  /* Translators: name of a button for screen readers; %s is a sentence that says what is split */
  g_autofree char *spoken = g_strdup_printf (_("Split it so. %s"), text);
  GtkWidget *button = og_row_button_new (_("Split It So"), spoken, index, G_CALLBACK (on_split), self);

  gtk_widget_set_halign (button, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (row), og_wrapping_label_new (text, NULL));
  gtk_box_append (GTK_BOX (row), button);
  return row;
}

/* Returns: whether a row had the focus, which is gone with it */
static gboolean
clear_splits (OgStoveView *self)
{
  GtkWidget *child;
  const gboolean focused = gtk_widget_get_focus_child (self->splits_box) != NULL;

  while ((child = gtk_widget_get_first_child (self->splits_box)) != NULL)
    gtk_box_remove (GTK_BOX (self->splits_box), child);
  return focused;
}

static void
show_splits (OgStoveView       *self,
             const OgStovePlan *plan)
{
  guint n_splits = 0;

  for (guint i = 0; plan != NULL && !plan->refused && i < plan->steps->len; i++)
    {
      const OgStoveStep *step = g_ptr_array_index (plan->steps, i);

      if (step->split == NULL)
        continue;
      gtk_box_append (GTK_BOX (self->splits_box), split_row_new (self, step->split, i));
      n_splits++;
    }
  gtk_widget_set_visible (self->splits_box, n_splits > 0);
}

static void
show_total (OgStoveView       *self,
            const OgStovePlan *plan)
{
  g_autofree char *minutes =
    plan != NULL && !plan->refused ? minutes_text (&plan->cooling_minutes) : NULL;
  g_autofree char *hottest = NULL;
  g_autofree char *text = NULL;

  if (minutes != NULL && plan->cooling_minutes.value > 0.0)
    {
      hottest = og_number_trimmed (plan->hottest_c, 0);
      /* Translators: highest temperature, then "about 12 min, 9 to 17" */
      text = g_strdup_printf (_("Up to %s °C; all cooling together takes %s."), hottest, minutes);
    }
  og_label_set_optional (self->total_label, text);
}

static void
show_vessel (OgStoveView       *self,
             const OgStovePlan *plan)
{
  g_autofree char *size = NULL;
  g_autofree char *room = NULL;
  g_autofree char *text = NULL;

  if (plan == NULL || plan->steps->len == 0)
    {
      gtk_label_set_label (GTK_LABEL (self->setup_label), _("Vessel and room"));
      return;
    }
  size = og_number_trimmed (plan->vessel.size_ml, 0);
  room = og_number_trimmed (plan->room_c, 1);
  /* Translators: kind of vessel, its size in ml, temperature of the room */
  text = g_strdup_printf (_("%s, %s ml, in a room of %s °C"),
                          og_vessel_kind_get_name (plan->vessel.kind), size, room);
  gtk_label_set_label (GTK_LABEL (self->setup_label), text);
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->entries[FIELD_VESSEL]), size);
}

void
og_stove_view_show (OgStoveView       *self,
                    const OgStovePlan *plan,
                    OgResult          *result)
{
  gboolean focused;

  g_return_if_fail (OG_IS_STOVE_VIEW (self));

  focused = clear_splits (self);
  show_findings (self, plan);
  gtk_widget_set_visible (self->override_box,
                          plan != NULL && (plan->refused || self->setup.override));
  og_stove_chart_view_show (OG_STOVE_CHART_VIEW (self->chart), plan, result);
  gtk_widget_set_visible (self->chart, plan == NULL || !plan->refused);
  show_vessel (self, plan);
  show_total (self, plan);
  show_splits (self, plan);
  show_steps (self, plan);
  if (focused)
    self->focus_lost = TRUE;
  if (self->focus_lost && plan != NULL)
    self->focus_lost = !gtk_widget_child_focus (GTK_WIDGET (self->steps), GTK_DIR_TAB_FORWARD);
}

/* Building */

static void
add_field (OgStoveView *self,
           Field        field,
           GtkWidget   *box)
{
  const FieldInfo *info = &field_info[field];

  gtk_box_append (GTK_BOX (box),
                  og_field_line_new (_(info->title), _(info->unit), &self->entries[field]));
  g_signal_connect (self->entries[field], "submit-number", G_CALLBACK (on_field), self);
  g_signal_connect_swapped (self->entries[field], "notify::problem", G_CALLBACK (on_problem),
                            self);
}

static void
add_vessels (OgStoveView *self)
{
  const char *names[OG_N_VESSELS + 1] = { NULL };

  for (guint i = 0; i < OG_N_VESSELS; i++)
    names[i] = og_vessel_kind_get_name ((OgVesselKind) i);
  self->vessel_drop_down = gtk_drop_down_new_from_strings (names);
  g_signal_connect_swapped (self->vessel_drop_down, "notify::selected", G_CALLBACK (on_vessel),
                            self);
  gtk_box_append (GTK_BOX (self->setup_box),
                  og_choice_line_new (_("Vessel"), self->vessel_drop_down));
}

static GtkWidget *
wrapping_check_button_new (const char *text)
{
  GtkWidget *button = gtk_check_button_new ();
  GtkWidget *label = og_wrapping_label_new (text, NULL);

  gtk_check_button_set_child (GTK_CHECK_BUTTON (button), label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, text,
                                  -1);
  return button;
}

static void
fill_setup (OgStoveView *self)
{
  add_field (self, FIELD_ROOM, self->setup_box);
  add_vessels (self);
  add_field (self, FIELD_VESSEL, self->setup_box);
  self->stirred_button = wrapping_check_button_new (_("Stirred while it cools"));
  g_signal_connect_swapped (self->stirred_button, "toggled", G_CALLBACK (on_stirred), self);
  gtk_box_append (GTK_BOX (self->setup_box), self->stirred_button);
  add_field (self, FIELD_START, self->setup_box);
  for (guint i = FIELD_FROM; i < N_FIELDS; i++)
    add_field (self, i, self->cooled_box);
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->entries[FIELD_START]), _("as needed"));
}

static void
fill_override (OgStoveView *self)
{
  self->override_button =
    wrapping_check_button_new (_("Plan it all the same: I keep flames and sparks away, have a lid "
                                 "at hand and follow my local rules"));
  g_signal_connect_swapped (self->override_button, "toggled", G_CALLBACK (on_override), self);
  gtk_box_append (GTK_BOX (self->override_box), self->override_button);
}

static void
og_stove_view_dispose (GObject *object)
{
  OgStoveView *self = OG_STOVE_VIEW (object);

  if (self->chart != NULL)
    og_stove_chart_view_show (OG_STOVE_CHART_VIEW (self->chart), NULL, NULL);
  g_clear_object (&self->settings);
  gtk_widget_dispose_template (GTK_WIDGET (self), OG_TYPE_STOVE_VIEW);

  G_OBJECT_CLASS (og_stove_view_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *class)
{
  gtk_widget_class_bind_template_child (class, OgStoveView, scroller);
  gtk_widget_class_bind_template_child (class, OgStoveView, warnings_box);
  gtk_widget_class_bind_template_child (class, OgStoveView, override_box);
  gtk_widget_class_bind_template_child (class, OgStoveView, setup_expander);
  gtk_widget_class_bind_template_child (class, OgStoveView, setup_label);
  gtk_widget_class_bind_template_child (class, OgStoveView, setup_box);
  gtk_widget_class_bind_template_child (class, OgStoveView, cooled_box);
  gtk_widget_class_bind_template_child (class, OgStoveView, problem_label);
  gtk_widget_class_bind_template_child (class, OgStoveView, chart);
  gtk_widget_class_bind_template_child (class, OgStoveView, total_label);
  gtk_widget_class_bind_template_child (class, OgStoveView, splits_box);
  gtk_widget_class_bind_template_child (class, OgStoveView, steps_box);
  gtk_widget_class_bind_template_child (class, OgStoveView, doubts_box);
}

static void
og_stove_view_class_init (OgStoveViewClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = og_stove_view_dispose;

  signals[CHANGED] = g_signal_new ("changed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                   NULL, NULL, G_TYPE_NONE, 0);

  signals[SPLIT] = g_signal_new ("split", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                 NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);

  g_type_ensure (OG_TYPE_STOVE_CHART_VIEW);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/oleograph/Oleograph/stove-view.ui");
  bind_children (widget_class);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_css_name (widget_class, "stoveview");
}

static OgPlainList *
add_list (GtkWidget  *box,
          const char *name)
{
  GtkWidget *list = og_plain_list_new (name);

  gtk_box_append (GTK_BOX (box), list);
  return OG_PLAIN_LIST (list);
}

static void
og_stove_view_init (OgStoveView *self)
{
  og_stove_setup_init (&self->setup);
  self->setup.with_series = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  self->warnings = add_list (self->warnings_box, _("Warnings"));
  self->steps = add_list (self->steps_box, _("Steps at the stove"));
  self->doubts = add_list (self->doubts_box, _("What the plan does not know"));
  fill_setup (self);
  fill_override (self);
  show_setup (self);
}
