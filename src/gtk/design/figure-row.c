/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "gtk/design/figure-row.h"
#include "gtk/parts/cell-entry.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/text-undo.h"
#include "gtk/parts/typed-number.h"

#define MOST_DECIMALS 8
#define VALUE_CHARS 9
#define TEXT_CHARS 22
#define TEMPERATURE_CHARS 4

/* What a reader can claim; a range is what handbooks give. */
static const OgQuality qualities[] = {
  OG_QUALITY_MEASURED,
  OG_QUALITY_TYPICAL,
  OG_QUALITY_RECALLED,
  OG_QUALITY_ESTIMATED,
};

struct _OgFigureRow
{
  GtkWidget parent_instance;

  GtkWidget *box;
  GtkWidget *value_entry;
  GtkWidget *bad_entry; /* nullable: the one that the problem is about */
  GtkWidget *unit_drop_down;
  GtkWidget *problem_label;
  GtkWidget *revealer;
  GtkWidget *details;
  GtkWidget *temperature_entry;
  GtkWidget *quality_drop_down;
  GtkWidget *source_entry;
  char *title;
  OgFigureInput set;
  gboolean numeric;
  gboolean point;
};

G_DEFINE_FINAL_TYPE (OgFigureRow, og_figure_row, GTK_TYPE_WIDGET)

enum
{
  CHANGED,
  REMOVE,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

void
og_figure_input_clear (OgFigureInput *input)
{
  g_clear_pointer (&input->text, g_free);
  g_clear_pointer (&input->source, g_free);
}

static char *
entry_text (GtkWidget *entry)
{
  return g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry))));
}

static void
mark (GtkWidget *entry,
      gboolean   bad)
{
  if (bad)
    gtk_widget_add_css_class (entry, "error");
  else
    gtk_widget_remove_css_class (entry, "error");
  gtk_accessible_update_state (GTK_ACCESSIBLE (entry),
                               GTK_ACCESSIBLE_STATE_INVALID,
                               bad ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE,
                               -1);
}

static void
show_problem (OgFigureRow *self,
              GtkWidget   *entry,
              const char  *problem)
{
  mark (self->value_entry, entry == self->value_entry);
  mark (self->source_entry, entry == self->source_entry);
  if (self->temperature_entry != NULL)
    mark (self->temperature_entry, entry == self->temperature_entry);
  self->bad_entry = entry;
  gtk_label_set_label (GTK_LABEL (self->problem_label), problem != NULL ? problem : "");
  gtk_widget_set_visible (self->problem_label, problem != NULL);
  if (entry != NULL)
    gtk_accessible_update_property (GTK_ACCESSIBLE (entry),
                                    GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, problem,
                                    -1);
}

void
og_figure_row_set_problem (OgFigureRow *self,
                           const char  *problem)
{
  g_return_if_fail (OG_IS_FIGURE_ROW (self));

  show_problem (self, problem != NULL ? self->value_entry : NULL, problem);
}

const char *
og_figure_row_get_problem (OgFigureRow *self)
{
  g_return_val_if_fail (OG_IS_FIGURE_ROW (self), NULL);

  return gtk_widget_get_visible (self->problem_label)
           ? gtk_label_get_label (GTK_LABEL (self->problem_label)) : NULL;
}

gboolean
og_figure_row_is_empty (OgFigureRow *self)
{
  g_autofree char *text = NULL;

  g_return_val_if_fail (OG_IS_FIGURE_ROW (self), TRUE);

  text = entry_text (self->value_entry);
  return *text == '\0';
}

static OgQuality
chosen_quality (OgFigureRow *self)
{
  guint i = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->quality_drop_down));

  return i < G_N_ELEMENTS (qualities) ? qualities[i] : OG_QUALITY_MEASURED;
}

static guint
chosen_unit (OgFigureRow *self)
{
  guint unit = self->unit_drop_down != NULL
                 ? gtk_drop_down_get_selected (GTK_DROP_DOWN (self->unit_drop_down)) : 0;

  return unit != GTK_INVALID_LIST_POSITION ? unit : 0;
}

static gboolean
same_number (double a,
             double b)
{
  return a == b || (isnan (a) && isnan (b));
}

static double
typed_temperature (OgFigureRow *self)
{
  double value = NAN;

  if (self->temperature_entry != NULL)
    g_free (og_typed_number (gtk_editable_get_text (GTK_EDITABLE (self->temperature_entry)), &value));
  return value;
}

gboolean
og_figure_row_is_unchanged (OgFigureRow *self)
{
  g_autofree char *text = NULL;
  g_autofree char *source = NULL;

  g_return_val_if_fail (OG_IS_FIGURE_ROW (self), TRUE);

  text = entry_text (self->value_entry);
  source = entry_text (self->source_entry);
  return strcmp (text, self->set.text) == 0
         && (*text == '\0'
             || (strcmp (source, self->set.source) == 0
                 && chosen_quality (self) == self->set.quality
                 && chosen_unit (self) == self->set.unit
                 && same_number (typed_temperature (self), self->set.at_c)));
}

gboolean
og_figure_row_read (OgFigureRow   *self,
                    OgFigureInput *input)
{
  g_autofree char *text = NULL;
  g_autofree char *source = NULL;
  g_autofree char *problem = NULL;
  double value = NAN;

  g_return_val_if_fail (OG_IS_FIGURE_ROW (self), FALSE);

  show_problem (self, NULL, NULL);
  text = entry_text (self->value_entry);
  source = entry_text (self->source_entry);
  problem = self->numeric ? og_typed_number (text, &value) : NULL;
  if (*text == '\0')
    show_problem (self, self->value_entry, _("A value is missing here."));
  else if (problem != NULL)
    show_problem (self, self->value_entry, problem);
  else if (self->temperature_entry != NULL && !isfinite (typed_temperature (self)))
    show_problem (self, self->temperature_entry,
                  _("The temperature that the value was taken at is missing."));
  else if (*source == '\0')
    show_problem (self, self->source_entry, _("Say where the value comes from."));
  if (og_figure_row_get_problem (self) != NULL)
    return FALSE;

  *input = (OgFigureInput) {
    .text = g_steal_pointer (&text),
    .value = value,
    .at_c = typed_temperature (self),
    .quality = chosen_quality (self),
    .source = g_steal_pointer (&source),
    .unit = chosen_unit (self),
  };
  return TRUE;
}

static void
select_quality (OgFigureRow *self,
                OgQuality    quality)
{
  /* A range of the library, taken over as it is, is what is usual. */
  if (quality == OG_QUALITY_RANGE)
    quality = OG_QUALITY_TYPICAL;
  for (guint i = 0; i < G_N_ELEMENTS (qualities); i++)
    {
      if (qualities[i] == quality)
        gtk_drop_down_set_selected (GTK_DROP_DOWN (self->quality_drop_down), i);
    }
}

void
og_figure_row_set_input (OgFigureRow         *self,
                         const OgFigureInput *input)
{
  g_autofree char *number = NULL;
  g_autofree char *temperature = NULL;

  g_return_if_fail (OG_IS_FIGURE_ROW (self));

  number = self->numeric ? og_number_to_text (input->value, 0, MOST_DECIMALS)
                         : g_strdup (input->text);
  temperature = og_number_to_text (input->at_c, 0, MOST_DECIMALS);
  og_editable_show (GTK_EDITABLE (self->value_entry), number);
  og_editable_show (GTK_EDITABLE (self->source_entry),
                    input->source != NULL ? input->source : "");
  select_quality (self, input->quality);
  if (self->temperature_entry != NULL)
    og_editable_show (GTK_EDITABLE (self->temperature_entry), temperature);
  if (self->unit_drop_down != NULL)
    gtk_drop_down_set_selected (GTK_DROP_DOWN (self->unit_drop_down), input->unit);

  og_figure_input_clear (&self->set);
  self->set.text = entry_text (self->value_entry);
  self->set.source = entry_text (self->source_entry);
  self->set.quality = chosen_quality (self);
  self->set.at_c = typed_temperature (self);
  self->set.unit = chosen_unit (self);
}

static void
on_changed (OgFigureRow *self)
{
  if (self->revealer == NULL) /* still being built */
    return;
  show_problem (self, NULL, NULL);
  gtk_revealer_set_reveal_child (GTK_REVEALER (self->revealer),
                                 self->point || !og_figure_row_is_empty (self));
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_remove_clicked (OgFigureRow *self)
{
  g_signal_emit (self, signals[REMOVE], 0);
}

static void
name_part (OgFigureRow *self,
           GtkWidget   *widget,
           const char  *part)
{
  g_autofree char *label = part != NULL ? g_strdup_printf ("%s: %s", self->title, part)
                                        : g_strdup (self->title);

  gtk_accessible_update_property (GTK_ACCESSIBLE (widget),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                  -1);
}

static GtkWidget *
make_entry (OgFigureRow *self,
            int          chars,
            const char  *part)
{
  GtkWidget *entry = gtk_entry_new ();

  gtk_editable_set_width_chars (GTK_EDITABLE (entry), chars);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), chars);
  gtk_widget_set_valign (entry, GTK_ALIGN_CENTER);
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (on_changed), self);
  gtk_entry_set_activates_default (GTK_ENTRY (entry), TRUE);
  name_part (self, entry, part);
  return entry;
}

static void
make_number_entry (GtkWidget *entry)
{
  og_align_number (GTK_EDITABLE (entry));
  gtk_entry_set_input_purpose (GTK_ENTRY (entry), GTK_INPUT_PURPOSE_NUMBER);
  gtk_widget_add_css_class (entry, "numeric");
}

static GtkWidget *
make_quality_drop_down (OgFigureRow *self)
{
  g_autoptr(GtkStringList) names = gtk_string_list_new (NULL);
  GtkWidget *drop_down = gtk_drop_down_new (NULL, NULL);

  for (guint i = 0; i < G_N_ELEMENTS (qualities); i++)
    gtk_string_list_append (names, og_quality_get_name (qualities[i]));
  gtk_drop_down_set_model (GTK_DROP_DOWN (drop_down), G_LIST_MODEL (names));
  g_signal_connect_swapped (drop_down, "notify::selected", G_CALLBACK (on_changed), self);
  name_part (self, drop_down, _("how it is known"));
  return drop_down;
}

static GtkWidget *
make_details (OgFigureRow *self,
              double       at_c)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  g_autofree char *temperature = og_number_to_text (at_c, 0, 1);

  if (isfinite (at_c))
    {
      self->temperature_entry = make_entry (self, TEMPERATURE_CHARS, _("temperature in °C"));
      make_number_entry (self->temperature_entry);
      og_editable_show (GTK_EDITABLE (self->temperature_entry), temperature);
      /* Translators: in front of a temperature field */
      gtk_box_append (GTK_BOX (box), og_word_wrapping_label_new (_("at"), "dim-label"));
      gtk_box_append (GTK_BOX (box), self->temperature_entry);
      gtk_box_append (GTK_BOX (box), og_word_wrapping_label_new (_("°C"), "dim-label"));
    }
  gtk_box_append (GTK_BOX (box), self->quality_drop_down);
  gtk_box_append (GTK_BOX (box), self->source_entry);
  return box;
}

static GtkWidget *
make_top (OgFigureRow *self,
          const char  *inherited)
{
  GtkWidget *top = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  gtk_box_append (GTK_BOX (words), og_word_wrapping_label_new (self->title, NULL));
  if (inherited != NULL)
    gtk_box_append (GTK_BOX (words), og_word_wrapping_label_new (inherited, "fact-origin"));
  gtk_widget_set_hexpand (words, TRUE);
  gtk_widget_set_valign (words, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (top), words);
  gtk_box_append (GTK_BOX (top), self->value_entry);
  return top;
}

static void
build (OgFigureRow *self,
       const char  *inherited,
       double       at_c)
{
  self->value_entry = make_entry (self, self->numeric ? VALUE_CHARS : TEXT_CHARS, NULL);
  if (self->numeric)
    make_number_entry (self->value_entry);
  self->source_entry = make_entry (self, TEXT_CHARS, _("source"));
  gtk_editable_set_max_width_chars (GTK_EDITABLE (self->source_entry), -1);
  gtk_widget_set_hexpand (self->source_entry, TRUE);
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->source_entry), _("own bench, lot 12"));
  self->quality_drop_down = make_quality_drop_down (self);
  self->problem_label = og_word_wrapping_label_new (NULL, "error");
  gtk_widget_set_visible (self->problem_label, FALSE);

  self->details = make_details (self, at_c);
  self->revealer = gtk_revealer_new ();
  gtk_revealer_set_child (GTK_REVEALER (self->revealer), self->details);

  gtk_box_append (GTK_BOX (self->box), make_top (self, inherited));
  gtk_box_append (GTK_BOX (self->box), self->revealer);
  gtk_box_append (GTK_BOX (self->box), self->problem_label);
}

void
og_figure_row_make_point (OgFigureRow       *self,
                          const char *const *units)
{
  GtkWidget *button;

  g_return_if_fail (OG_IS_FIGURE_ROW (self));
  g_return_if_fail (!self->point);

  self->point = TRUE;
  self->unit_drop_down = gtk_drop_down_new_from_strings (units);
  gtk_widget_set_valign (self->unit_drop_down, GTK_ALIGN_CENTER);
  name_part (self, self->unit_drop_down, _("unit"));
  gtk_box_append (GTK_BOX (gtk_widget_get_parent (self->value_entry)), self->unit_drop_down);
  g_signal_connect_swapped (self->unit_drop_down, "notify::selected", G_CALLBACK (on_changed),
                            self);

  button = gtk_button_new_from_icon_name ("list-remove-symbolic");
  gtk_widget_set_tooltip_text (button, _("Take this point away"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, _("Take this point away"),
                                  -1);
  gtk_widget_add_css_class (button, "flat");
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (on_remove_clicked), self);
  gtk_box_append (GTK_BOX (self->details), button);
  gtk_revealer_set_reveal_child (GTK_REVEALER (self->revealer), TRUE);
}

static void
og_figure_row_dispose (GObject *object)
{
  OgFigureRow *self = OG_FIGURE_ROW (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);

  G_OBJECT_CLASS (og_figure_row_parent_class)->dispose (object);
}

static void
og_figure_row_finalize (GObject *object)
{
  OgFigureRow *self = OG_FIGURE_ROW (object);

  og_figure_input_clear (&self->set);
  g_free (self->title);

  G_OBJECT_CLASS (og_figure_row_parent_class)->finalize (object);
}

/* Asked also when the focus leaves backwards; then it is to go on. */
static gboolean
og_figure_row_grab_focus (GtkWidget *widget)
{
  OgFigureRow *self = OG_FIGURE_ROW (widget);

  if (gtk_widget_get_focus_child (widget) != NULL
      && (self->bad_entry == NULL || gtk_widget_get_focus_child (self->bad_entry) != NULL))
    return FALSE;
  return gtk_widget_grab_focus (self->bad_entry != NULL ? self->bad_entry : self->value_entry);
}

static void
og_figure_row_class_init (OgFigureRowClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  object_class->dispose = og_figure_row_dispose;
  object_class->finalize = og_figure_row_finalize;
  widget_class->grab_focus = og_figure_row_grab_focus;

  signals[CHANGED] = g_signal_new ("changed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                   NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[REMOVE] = g_signal_new ("remove", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                  NULL, NULL, NULL, G_TYPE_NONE, 0);

  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_css_name (widget_class, "figurerow");
}

static void
og_figure_row_init (OgFigureRow *self)
{
  self->set.text = g_strdup ("");
  self->set.source = g_strdup ("");
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

GtkWidget *
og_figure_row_new (const char *title,
                   const char *inherited,
                   gboolean    numeric,
                   double      at_c)
{
  OgFigureRow *self = g_object_new (OG_TYPE_FIGURE_ROW, NULL);

  self->title = g_strdup (title);
  self->numeric = numeric;
  build (self, inherited, at_c);
  self->set.at_c = typed_temperature (self);
  self->set.quality = chosen_quality (self);
  return GTK_WIDGET (self);
}
