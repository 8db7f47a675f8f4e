/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <string.h>

#include "gtk/parts/cell-entry.h"
#include "gtk/parts/number-field.h"
#include "gtk/parts/text-undo.h"
#include "gtk/parts/typed-number.h"

#define SINGLE_CHARS 10
#define REPEATED_CHARS 5
#define TITLE_CHARS 22

struct _OgNumberField
{
  GtkWidget parent_instance;

  GtkWidget *title_label;
  GtkWidget *entries[OG_NUMBER_FIELD_MOST];
  GtkWidget *problem_label;
  char *title;
  char *unit;
  guint n_entries;
  gboolean focused;
};

G_DEFINE_FINAL_TYPE (OgNumberField, og_number_field, GTK_TYPE_WIDGET)

enum
{
  PROP_0,
  PROP_TITLE,
  PROP_UNIT,
  PROP_ENTRIES,
  N_PROPS
};

enum
{
  CHANGED,
  N_SIGNALS
};

static GParamSpec *properties[N_PROPS];
static guint signals[N_SIGNALS];

static const char *
entry_text (OgNumberField *self,
            guint          index)
{
  return gtk_editable_get_text (GTK_EDITABLE (self->entries[index]));
}

static gboolean
is_blank (const char *text)
{
  return text[strspn (text, " \t")] == '\0';
}

static void
mark_entry (GtkWidget  *entry,
            gboolean    mistake,
            const char *problem)
{
  if (mistake)
    gtk_widget_add_css_class (entry, "error");
  else
    gtk_widget_remove_css_class (entry, "error");
  gtk_accessible_update_state (GTK_ACCESSIBLE (entry),
                               GTK_ACCESSIBLE_STATE_INVALID,
                               mistake ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE,
                               -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, problem,
                                  -1);
}

/* A number that is still being typed is not a mistake yet; entries nobody used are none at all. */
static void
update_problem (OgNumberField *self)
{
  const char *problem = og_number_field_get_problem (self);
  const gboolean mistake = problem != NULL && !self->focused;

  for (guint i = 0; i < self->n_entries; i++)
    mark_entry (self->entries[i], mistake && (i == 0 || !is_blank (entry_text (self, i))),
                problem != NULL ? problem : "");
  if (mistake)
    gtk_widget_add_css_class (self->problem_label, "error");
  else
    gtk_widget_remove_css_class (self->problem_label, "error");
}

void
og_number_field_set_problem (OgNumberField *self,
                             const char    *problem)
{
  g_return_if_fail (OG_IS_NUMBER_FIELD (self));

  gtk_label_set_label (GTK_LABEL (self->problem_label), problem != NULL ? problem : "");
  gtk_widget_set_visible (self->problem_label, problem != NULL);
  update_problem (self);
}

const char *
og_number_field_get_problem (OgNumberField *self)
{
  g_return_val_if_fail (OG_IS_NUMBER_FIELD (self), NULL);

  return gtk_widget_get_visible (self->problem_label)
           ? gtk_label_get_label (GTK_LABEL (self->problem_label)) : NULL;
}

gboolean
og_number_field_read (OgNumberField *self,
                      double        *values,
                      guint         *n_values)
{
  g_return_val_if_fail (OG_IS_NUMBER_FIELD (self), FALSE);

  *n_values = 0;
  for (guint i = 0; i < self->n_entries; i++)
    {
      const char *text = entry_text (self, i);
      g_autofree char *problem = NULL;

      if (is_blank (text))
        continue;
      problem = og_typed_number (text, &values[*n_values]);
      if (problem == NULL)
        {
          (*n_values)++;
          continue;
        }
      og_number_field_set_problem (self, problem);
      return FALSE;
    }
  og_number_field_set_problem (self, NULL);
  return TRUE;
}

gboolean
og_number_field_is_empty (OgNumberField *self)
{
  g_return_val_if_fail (OG_IS_NUMBER_FIELD (self), TRUE);

  for (guint i = 0; i < self->n_entries; i++)
    {
      if (!is_blank (entry_text (self, i)))
        return FALSE;
    }
  return TRUE;
}

void
og_number_field_set_value (OgNumberField *self,
                           double         value,
                           guint          decimals)
{
  g_autofree char *text = NULL;

  g_return_if_fail (OG_IS_NUMBER_FIELD (self));

  text = og_number_to_text (value, 0, decimals);
  og_editable_show (GTK_EDITABLE (self->entries[0]), text);
}

void
og_number_field_set_placeholder (OgNumberField *self,
                                 const char    *text)
{
  g_return_if_fail (OG_IS_NUMBER_FIELD (self));

  gtk_entry_set_placeholder_text (GTK_ENTRY (self->entries[0]), text);
}

void
og_number_field_join (OgNumberField *self,
                      GtkSizeGroup  *titles)
{
  g_return_if_fail (OG_IS_NUMBER_FIELD (self));

  gtk_size_group_add_widget (titles, self->title_label);
}

static void
on_entry_changed (OgNumberField *self)
{
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_focus_enter (OgNumberField *self)
{
  self->focused = TRUE;
  update_problem (self);
}

static void
on_focus_leave (OgNumberField *self)
{
  self->focused = FALSE;
  update_problem (self);
}

static void
name_entry (OgNumberField *self,
            guint          index)
{
  g_autofree char *with_unit = self->unit != NULL
                                 ? g_strdup_printf ("%s, %s", self->title, self->unit)
                                 : g_strdup (self->title);
  g_autofree char *numbered = NULL;

  if (self->n_entries > 1)
    /* Translators: what is asked for, then which one of the repeated readings */
    numbered = g_strdup_printf (_("%s, reading %u"), with_unit, index + 1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entries[index]),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  numbered != NULL ? numbered : with_unit,
                                  -1);
}

static GtkWidget *
make_entry (OgNumberField *self)
{
  const int chars = self->n_entries > 1 ? REPEATED_CHARS : SINGLE_CHARS;
  GtkWidget *entry = gtk_entry_new ();

  gtk_editable_set_width_chars (GTK_EDITABLE (entry), chars);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), chars);
  og_align_number (GTK_EDITABLE (entry));
  gtk_entry_set_input_purpose (GTK_ENTRY (entry), GTK_INPUT_PURPOSE_NUMBER);
  gtk_entry_set_activates_default (GTK_ENTRY (entry), TRUE);
  gtk_widget_add_css_class (entry, "numeric");
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (on_entry_changed), self);
  return entry;
}

static GtkWidget *
add_entry (OgNumberField *self,
           guint          index)
{
  self->entries[index] = make_entry (self);
  name_entry (self, index);
  return self->entries[index];
}

/* Several entries take a second line where the text is large. */
static void
add_entries (OgNumberField *self,
             GtkWidget     *line)
{
  GtkWidget *entries;

  if (self->n_entries == 1)
    {
      gtk_box_append (GTK_BOX (line), add_entry (self, 0));
      return;
    }
  entries = gtk_flow_box_new ();
  gtk_flow_box_set_selection_mode (GTK_FLOW_BOX (entries), GTK_SELECTION_NONE);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (entries), self->n_entries);
  gtk_flow_box_set_column_spacing (GTK_FLOW_BOX (entries), 6);
  gtk_flow_box_set_row_spacing (GTK_FLOW_BOX (entries), 6);
  gtk_widget_set_hexpand (entries, TRUE);
  for (guint i = 0; i < self->n_entries; i++)
    {
      gtk_flow_box_insert (GTK_FLOW_BOX (entries), add_entry (self, i), -1);
      gtk_widget_set_focusable (gtk_widget_get_parent (self->entries[i]), FALSE);
    }
  gtk_box_append (GTK_BOX (line), entries);
}

static void
add_unit (OgNumberField *self,
          GtkWidget     *line)
{
  GtkWidget *label;

  if (self->unit == NULL)
    return;
  label = gtk_label_new (self->unit);
  gtk_widget_add_css_class (label, "dim-label");
  gtk_box_append (GTK_BOX (line), label);
}

static void
og_number_field_constructed (GObject *object)
{
  OgNumberField *self = OG_NUMBER_FIELD (object);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);

  G_OBJECT_CLASS (og_number_field_parent_class)->constructed (object);

  self->title_label = gtk_label_new (self->title);
  gtk_label_set_xalign (GTK_LABEL (self->title_label), 0.0f);
  gtk_label_set_wrap (GTK_LABEL (self->title_label), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (self->title_label), TITLE_CHARS);
  gtk_box_append (GTK_BOX (line), self->title_label);
  add_entries (self, line);
  add_unit (self, line);
  gtk_widget_set_parent (line, GTK_WIDGET (self));

  self->problem_label = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (self->problem_label), 0.0f);
  gtk_label_set_wrap (GTK_LABEL (self->problem_label), TRUE);
  gtk_widget_set_visible (self->problem_label, FALSE);
  gtk_widget_add_css_class (self->problem_label, "field-problem");
  gtk_widget_set_parent (self->problem_label, GTK_WIDGET (self));
}

static gboolean
og_number_field_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (OG_NUMBER_FIELD (widget)->entries[0]);
}

/* The default would ask the field itself to take the focus when it is left backwards. */
static gboolean
og_number_field_focus (GtkWidget        *widget,
                       GtkDirectionType  direction)
{
  return gtk_widget_child_focus (gtk_widget_get_first_child (widget), direction);
}

static void
og_number_field_set_property (GObject      *object,
                              guint         id,
                              const GValue *value,
                              GParamSpec   *pspec)
{
  OgNumberField *self = OG_NUMBER_FIELD (object);

  switch (id)
    {
    case PROP_TITLE:
      self->title = g_value_dup_string (value);
      break;
    case PROP_UNIT:
      self->unit = g_value_dup_string (value);
      break;
    case PROP_ENTRIES:
      self->n_entries = g_value_get_uint (value);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
og_number_field_dispose (GObject *object)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);

  G_OBJECT_CLASS (og_number_field_parent_class)->dispose (object);
}

static void
og_number_field_finalize (GObject *object)
{
  OgNumberField *self = OG_NUMBER_FIELD (object);

  g_free (self->title);
  g_free (self->unit);

  G_OBJECT_CLASS (og_number_field_parent_class)->finalize (object);
}

static void
og_number_field_class_init (OgNumberFieldClass *class)
{
  const GParamFlags flags = G_PARAM_WRITABLE | G_PARAM_CONSTRUCT_ONLY | G_PARAM_STATIC_STRINGS;
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  object_class->constructed = og_number_field_constructed;
  object_class->set_property = og_number_field_set_property;
  object_class->dispose = og_number_field_dispose;
  object_class->finalize = og_number_field_finalize;
  widget_class->grab_focus = og_number_field_grab_focus;
  widget_class->focus = og_number_field_focus;

  properties[PROP_TITLE] = g_param_spec_string ("title", NULL, NULL, "", flags);
  properties[PROP_UNIT] = g_param_spec_string ("unit", NULL, NULL, NULL, flags);
  properties[PROP_ENTRIES] =
    g_param_spec_uint ("entries", NULL, NULL, 1, OG_NUMBER_FIELD_MOST, 1, flags);
  g_object_class_install_properties (object_class, N_PROPS, properties);

  signals[CHANGED] = g_signal_new ("changed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                   NULL, NULL, NULL, G_TYPE_NONE, 0);

  gtk_widget_class_set_css_name (widget_class, "numberfield");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
}

static void
og_number_field_init (OgNumberField *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));
  GtkEventController *focus = gtk_event_controller_focus_new ();

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 3);
  g_signal_connect_swapped (focus, "enter", G_CALLBACK (on_focus_enter), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (on_focus_leave), self);
  gtk_widget_add_controller (GTK_WIDGET (self), focus);
}

GtkWidget *
og_number_field_new (const char *title,
                     const char *unit,
                     guint       n_entries)
{
  return g_object_new (OG_TYPE_NUMBER_FIELD,
                       "title", title,
                       "unit", unit,
                       "entries", n_entries,
                       NULL);
}
