/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "gtk/parts/cell-entry.h"
#include "gtk/parts/text-undo.h"
#include "gtk/parts/typed-number.h"

struct _OgCellEntry
{
  GtkEntry parent_instance;

  char *shown; /* what the document says */
  char *problem;
  char *unit;
  char *other_unit;
  gboolean numeric;
  gboolean optional;
  gboolean committing;
};

G_DEFINE_FINAL_TYPE (OgCellEntry, og_cell_entry, GTK_TYPE_ENTRY)

enum
{
  PROP_0,
  PROP_NUMERIC,
  PROP_OPTIONAL,
  PROP_UNIT,
  PROP_OTHER_UNIT,
  PROP_PROBLEM,
  N_PROPS
};

enum
{
  SUBMIT_NUMBER,
  SUBMIT_OTHER,
  SUBMIT_TEXT,
  N_SIGNALS
};

static GParamSpec *properties[N_PROPS];
static guint signals[N_SIGNALS];

char *
og_number_to_text (double value,
                   guint  least,
                   guint  most)
{
  g_autofree char *text = NULL;
  gsize length;

  if (!isfinite (value))
    return g_strdup ("");
  text = g_strdup_printf ("%.*f", (int) most, value);
  length = strlen (text);
  for (guint digits = most; digits > least && text[length - 1] == '0'; digits--)
    text[--length] = '\0';
  if (least == 0 && most > 0 && !g_ascii_isdigit (text[length - 1]))
    text[length - 1] = '\0';
  return g_steal_pointer (&text);
}

static const char *
current_text (OgCellEntry *self)
{
  return gtk_editable_get_text (GTK_EDITABLE (self));
}

static gboolean
is_touched (OgCellEntry *self)
{
  return strcmp (current_text (self), self->shown) != 0;
}

static void
set_problem (OgCellEntry *self,
             const char  *problem)
{
  if (g_strcmp0 (problem, self->problem) == 0)
    return;
  g_free (self->problem);
  self->problem = g_strdup (problem);
  if (problem != NULL)
    {
      gtk_widget_add_css_class (GTK_WIDGET (self), "error");
      gtk_accessible_update_state (GTK_ACCESSIBLE (self),
                                   GTK_ACCESSIBLE_STATE_INVALID,
                                   GTK_ACCESSIBLE_INVALID_TRUE,
                                   -1);
    }
  else
    {
      gtk_widget_remove_css_class (GTK_WIDGET (self), "error");
      gtk_accessible_reset_state (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_STATE_INVALID);
    }
  gtk_widget_set_tooltip_text (GTK_WIDGET (self), problem);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_PROBLEM]);
}

static void
show_value (OgCellEntry *self)
{
  if (is_touched (self) || self->committing)
    og_editable_show (GTK_EDITABLE (self), self->shown);
  set_problem (self, NULL);
}

void
og_cell_entry_revert (OgCellEntry *self)
{
  g_return_if_fail (OG_IS_CELL_ENTRY (self));

  show_value (self);
}

void
og_cell_entry_set_value (OgCellEntry *self,
                         const char  *text)
{
  gboolean keep;

  g_return_if_fail (OG_IS_CELL_ENTRY (self));

  if (text == NULL)
    text = "";
  keep = is_touched (self) && !self->committing;
  if (strcmp (text, self->shown) == 0)
    return;
  g_free (self->shown);
  self->shown = g_strdup (text);
  if (!keep)
    show_value (self);
}

void
og_cell_entry_set_number (OgCellEntry *self,
                          double       value,
                          guint        least,
                          guint        most)
{
  g_autofree char *text = og_number_to_text (value, least, most);

  og_cell_entry_set_value (self, text);
}

static char *
submit_text (OgCellEntry *self,
             const char  *text)
{
  char *refusal = NULL;

  g_signal_emit (self, signals[SUBMIT_TEXT], 0, text, &refusal);
  return refusal;
}

static char *
submit_number (OgCellEntry *self,
               const char  *text)
{
  gboolean is_other = FALSE;
  char *refusal = NULL;
  double value = NAN;

  if (!self->optional || text[strspn (text, " ")] != '\0')
    refusal = self->unit != NULL ? og_typed_amount (text, self->unit, self->other_unit, &value, &is_other)
                                 : og_typed_number (text, &value);
  if (refusal == NULL)
    g_signal_emit (self, signals[is_other ? SUBMIT_OTHER : SUBMIT_NUMBER], 0, value, &refusal);
  return refusal;
}

gboolean
og_cell_entry_commit (OgCellEntry *self)
{
  g_autofree char *text = NULL;
  g_autofree char *refusal = NULL;

  g_return_val_if_fail (OG_IS_CELL_ENTRY (self), TRUE);

  if (self->committing)
    return TRUE;
  if (!is_touched (self) || !gtk_editable_get_editable (GTK_EDITABLE (self)))
    {
      show_value (self);
      return TRUE;
    }

  self->committing = TRUE;
  g_object_ref (self);
  text = g_strdup (current_text (self));
  refusal = self->numeric ? submit_number (self, text) : submit_text (self, text);
  if (refusal == NULL)
    show_value (self);
  else
    {
      set_problem (self, refusal);
      gtk_widget_error_bell (GTK_WIDGET (self));
    }
  self->committing = FALSE;
  g_object_unref (self);
  return refusal == NULL;
}

gboolean
og_cell_entry_commit_within (GtkWidget *widget)
{
  gboolean clean = TRUE;

  if (OG_IS_CELL_ENTRY (widget))
    return og_cell_entry_commit (OG_CELL_ENTRY (widget));
  for (GtkWidget *child = gtk_widget_get_first_child (widget);
       child != NULL;
       child = gtk_widget_get_next_sibling (child))
    clean = og_cell_entry_commit_within (child) && clean;
  return clean;
}

const char *
og_cell_entry_get_problem (OgCellEntry *self)
{
  g_return_val_if_fail (OG_IS_CELL_ENTRY (self), NULL);

  return self->problem;
}

void
og_cell_entry_set_label (OgCellEntry *self,
                         const char  *label)
{
  g_return_if_fail (OG_IS_CELL_ENTRY (self));

  gtk_accessible_update_property (GTK_ACCESSIBLE (self),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                  -1);
}

OgCellEntry *
og_cell_entry_focused (GtkRoot *root)
{
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;
  GtkWidget *entry;

  if (focus == NULL)
    return NULL;
  entry = gtk_widget_get_ancestor (focus, OG_TYPE_CELL_ENTRY);
  return entry != NULL ? OG_CELL_ENTRY (entry) : NULL;
}

static void
on_activate (OgCellEntry *self)
{
  if (og_cell_entry_commit (self))
    gtk_editable_select_region (GTK_EDITABLE (self), 0, -1);
}

static void
on_focus_leave (OgCellEntry *self)
{
  if (!gtk_widget_in_destruction (GTK_WIDGET (self)))
    og_cell_entry_commit (self);
}

static gboolean
on_key_pressed (OgCellEntry *self,
                guint        keyval)
{
  if (keyval != GDK_KEY_Escape || !is_touched (self))
    return GDK_EVENT_PROPAGATE;
  show_value (self);
  gtk_editable_select_region (GTK_EDITABLE (self), 0, -1);
  return GDK_EVENT_STOP;
}

void
og_align_number (GtkEditable *editable)
{
  gboolean rtl = gtk_widget_get_direction (GTK_WIDGET (editable)) == GTK_TEXT_DIR_RTL;

  /* GTK counts the alignment from the side at which reading starts. */
  gtk_editable_set_alignment (editable, rtl ? 0.0f : 1.0f);
}

static void
og_cell_entry_constructed (GObject *object)
{
  OgCellEntry *self = OG_CELL_ENTRY (object);

  G_OBJECT_CLASS (og_cell_entry_parent_class)->constructed (object);

  if (self->numeric)
    {
      gtk_widget_add_css_class (GTK_WIDGET (self), "numeric");
      og_align_number (GTK_EDITABLE (self));
      gtk_entry_set_input_purpose (GTK_ENTRY (self), GTK_INPUT_PURPOSE_NUMBER);
    }
}

static void
og_cell_entry_get_property (GObject    *object,
                            guint       id,
                            GValue     *value,
                            GParamSpec *pspec)
{
  OgCellEntry *self = OG_CELL_ENTRY (object);

  switch (id)
    {
    case PROP_NUMERIC:
      g_value_set_boolean (value, self->numeric);
      break;
    case PROP_OPTIONAL:
      g_value_set_boolean (value, self->optional);
      break;
    case PROP_UNIT:
      g_value_set_string (value, self->unit);
      break;
    case PROP_OTHER_UNIT:
      g_value_set_string (value, self->other_unit);
      break;
    case PROP_PROBLEM:
      g_value_set_string (value, self->problem);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
og_cell_entry_set_property (GObject      *object,
                            guint         id,
                            const GValue *value,
                            GParamSpec   *pspec)
{
  OgCellEntry *self = OG_CELL_ENTRY (object);

  switch (id)
    {
    case PROP_NUMERIC:
      self->numeric = g_value_get_boolean (value);
      break;
    case PROP_OPTIONAL:
      self->optional = g_value_get_boolean (value);
      break;
    case PROP_UNIT:
      g_free (self->unit);
      self->unit = g_value_dup_string (value);
      break;
    case PROP_OTHER_UNIT:
      g_free (self->other_unit);
      self->other_unit = g_value_dup_string (value);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
og_cell_entry_finalize (GObject *object)
{
  OgCellEntry *self = OG_CELL_ENTRY (object);

  g_free (self->shown);
  g_free (self->problem);
  g_free (self->unit);
  g_free (self->other_unit);

  G_OBJECT_CLASS (og_cell_entry_parent_class)->finalize (object);
}

static gboolean
first_refusal (GSignalInvocationHint *hint,
               GValue                *accumulated,
               const GValue          *returned,
               gpointer               data)
{
  g_value_copy (returned, accumulated);
  return g_value_get_string (returned) == NULL;
}

static void
og_cell_entry_class_init (OgCellEntryClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  const GParamFlags flags = G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS;

  object_class->constructed = og_cell_entry_constructed;
  object_class->get_property = og_cell_entry_get_property;
  object_class->set_property = og_cell_entry_set_property;
  object_class->finalize = og_cell_entry_finalize;

  properties[PROP_NUMERIC] =
    g_param_spec_boolean ("numeric", NULL, NULL, FALSE, flags | G_PARAM_CONSTRUCT_ONLY);
  properties[PROP_OPTIONAL] = g_param_spec_boolean ("optional", NULL, NULL, FALSE, flags);
  properties[PROP_UNIT] = g_param_spec_string ("unit", NULL, NULL, NULL, flags);
  properties[PROP_OTHER_UNIT] = g_param_spec_string ("other-unit", NULL, NULL, NULL, flags);
  properties[PROP_PROBLEM] =
    g_param_spec_string ("problem", NULL, NULL, NULL, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);

  signals[SUBMIT_NUMBER] =
    g_signal_new ("submit-number", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                  first_refusal, NULL, NULL, G_TYPE_STRING, 1, G_TYPE_DOUBLE);
  signals[SUBMIT_OTHER] =
    g_signal_new ("submit-other", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                  first_refusal, NULL, NULL, G_TYPE_STRING, 1, G_TYPE_DOUBLE);
  signals[SUBMIT_TEXT] =
    g_signal_new ("submit-text", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                  first_refusal, NULL, NULL, G_TYPE_STRING, 1, G_TYPE_STRING);
}

static void
og_cell_entry_init (OgCellEntry *self)
{
  GtkEventController *controller;

  self->shown = g_strdup ("");

  controller = gtk_event_controller_focus_new ();
  g_signal_connect_swapped (controller, "leave", G_CALLBACK (on_focus_leave), self);
  gtk_widget_add_controller (GTK_WIDGET (self), controller);

  controller = gtk_event_controller_key_new ();
  gtk_event_controller_set_propagation_phase (controller, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (controller, "key-pressed", G_CALLBACK (on_key_pressed), self);
  gtk_widget_add_controller (GTK_WIDGET (self), controller);

  g_signal_connect (self, "activate", G_CALLBACK (on_activate), NULL);
}

GtkWidget *
og_cell_entry_new (gboolean numeric)
{
  return g_object_new (OG_TYPE_CELL_ENTRY, "numeric", numeric, NULL);
}
