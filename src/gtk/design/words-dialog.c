/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "core/base/number-text.h"
#include "core/recipe/recipe-limits.h"
#include "gtk/design/words-dialog.h"
#include "gtk/parts/number-field.h"

#define DECIMALS 6

/* The word that begins at each bound. */
static const OgBody words[OG_N_BODY_BOUNDS] = {
  [OG_BODY_BOUND_THIN] = OG_BODY_THIN,
  [OG_BODY_BOUND_LIGHT] = OG_BODY_LIGHT,
  [OG_BODY_BOUND_SUBSTANTIAL] = OG_BODY_SUBSTANTIAL,
  [OG_BODY_BOUND_SYRUPY] = OG_BODY_SYRUPY,
  [OG_BODY_BOUND_HEAVY] = OG_BODY_HEAVY,
  [OG_BODY_BOUND_SOFT_SET] = OG_BODY_SOFT_SET,
  [OG_BODY_BOUND_SET] = OG_BODY_SET,
};

struct _OgWordsDialog
{
  GtkWindow parent_instance;

  GtkWidget *flowing_box;
  GtkWidget *lowest_caption;
  GtkWidget *lowest_label;
  GtkWidget *set_box;
  GtkWidget *fields[OG_N_BODY_BOUNDS];

  OgDocument *document;
  gboolean built; /* all widgets are there */
};

G_DEFINE_FINAL_TYPE (OgWordsDialog, og_words_dialog, GTK_TYPE_WINDOW)

enum
{
  APPLIED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static OgNumberField *
get_field (OgWordsDialog *self,
           OgBodyBound    bound)
{
  return OG_NUMBER_FIELD (self->fields[bound]);
}

static gboolean
is_flowing (OgBodyBound bound)
{
  return bound < OG_BODY_BOUND_SOFT_SET;
}

/* Whether a bound has to lie above the one before it. */
static gboolean
follows (OgBodyBound bound)
{
  return bound != OG_BODY_BOUND_THIN && bound != OG_BODY_BOUND_SOFT_SET;
}

static gboolean
refuse (OgNumberField *field,
        const char    *problem)
{
  og_number_field_set_problem (field, problem);
  return FALSE;
}

static gboolean
read_bound (OgWordsDialog *self,
            OgBodyBound    bound,
            OgBodyBounds  *bounds)
{
  OgNumberField *field = get_field (self, bound);
  double values[OG_NUMBER_FIELD_MOST];
  guint n;

  bounds->from[bound] = NAN;
  if (!og_number_field_read (field, values, &n))
    return FALSE;
  if (n == 0)
    return refuse (field, _("A number is missing here."));
  if (values[0] <= 0.0)
    return refuse (field, _("This has to be above 0."));
  if (values[0] > OG_RECIPE_MAX_TARGET_MPA_S)
    return refuse (field, _("This is too large."));
  if (follows (bound) && values[0] <= bounds->from[bound - 1])
    return refuse (field, _("This has to lie above the word before it."));
  bounds->from[bound] = values[0];
  return TRUE;
}

/* All fields are looked at, so that each says what is wrong with its own text. */
static gboolean
read_bounds (OgWordsDialog *self,
             OgBodyBounds  *bounds)
{
  gboolean good = TRUE;

  for (guint i = 0; i < OG_N_BODY_BOUNDS; i++)
    good &= read_bound (self, i, bounds);
  return good && og_body_bounds_are_valid (bounds);
}

static void
show_lowest (OgWordsDialog *self,
             double         from_mpa_s)
{
  g_autofree char *number = og_number_significant (from_mpa_s, 3);
  /* Translators: %s is a viscosity in mPa·s; all that is thinner */
  g_autofree char *text = isfinite (from_mpa_s) ? g_strdup_printf (_("below %s mPa·s"), number)
                                                : g_strdup (_("all below"));

  gtk_label_set_label (GTK_LABEL (self->lowest_label), text);
}

static void
update (OgWordsDialog *self)
{
  OgBodyBounds bounds;
  gboolean good;

  if (!self->built)
    return;
  good = read_bounds (self, &bounds);
  show_lowest (self, bounds.from[OG_BODY_BOUND_THIN]);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "words.apply", good);
}

static void
on_changed (OgWordsDialog *self)
{
  update (self);
}

void
og_words_dialog_type (OgWordsDialog *self,
                      OgBodyBound    bound,
                      double         value)
{
  g_return_if_fail (OG_IS_WORDS_DIALOG (self));
  g_return_if_fail (bound < OG_N_BODY_BOUNDS);

  og_number_field_set_value (get_field (self, bound), value, DECIMALS);
}

static void
type_bounds (OgWordsDialog      *self,
             const OgBodyBounds *bounds)
{
  for (guint i = 0; i < OG_N_BODY_BOUNDS; i++)
    og_words_dialog_type (self, i, bounds->from[i]);
}

void
og_words_dialog_reset (OgWordsDialog *self)
{
  OgBodyBounds bounds;

  g_return_if_fail (OG_IS_WORDS_DIALOG (self));

  og_body_bounds_init (&bounds);
  type_bounds (self, &bounds);
}

gboolean
og_words_dialog_apply (OgWordsDialog *self)
{
  OgBodyBounds bounds;

  g_return_val_if_fail (OG_IS_WORDS_DIALOG (self), FALSE);

  if (!read_bounds (self, &bounds))
    return FALSE;
  if (og_document_set_body_bounds (self->document, &bounds))
    g_signal_emit (self, signals[APPLIED], 0);
  return TRUE;
}

static void
act_apply (GtkWidget  *widget,
           const char *name,
           GVariant   *parameter)
{
  if (og_words_dialog_apply (OG_WORDS_DIALOG (widget)))
    gtk_window_destroy (GTK_WINDOW (widget));
  else
    gtk_widget_error_bell (widget);
}

static void
act_reset (GtkWidget  *widget,
           const char *name,
           GVariant   *parameter)
{
  og_words_dialog_reset (OG_WORDS_DIALOG (widget));
}

static void
add_field (OgWordsDialog *self,
           OgBodyBound    bound,
           GtkSizeGroup  *titles)
{
  GtkWidget *field = og_number_field_new (og_body_get_name (words[bound]),
                                          is_flowing (bound) ? _("mPa·s") : _("Pa"), 1);

  self->fields[bound] = field;
  og_number_field_join (OG_NUMBER_FIELD (field), titles);
  g_signal_connect_swapped (field, "changed", G_CALLBACK (on_changed), self);
  gtk_box_append (GTK_BOX (is_flowing (bound) ? self->flowing_box : self->set_box), field);
}

static void
og_words_dialog_dispose (GObject *object)
{
  OgWordsDialog *self = OG_WORDS_DIALOG (object);

  self->built = FALSE;
  gtk_widget_dispose_template (GTK_WIDGET (self), OG_TYPE_WORDS_DIALOG);
  g_clear_object (&self->document);

  G_OBJECT_CLASS (og_words_dialog_parent_class)->dispose (object);
}

static void
og_words_dialog_class_init (OgWordsDialogClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = og_words_dialog_dispose;

  signals[APPLIED] = g_signal_new ("applied", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                   NULL, NULL, NULL, G_TYPE_NONE, 0);

  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/oleograph/Oleograph/words-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, OgWordsDialog, flowing_box);
  gtk_widget_class_bind_template_child (widget_class, OgWordsDialog, lowest_caption);
  gtk_widget_class_bind_template_child (widget_class, OgWordsDialog, lowest_label);
  gtk_widget_class_bind_template_child (widget_class, OgWordsDialog, set_box);
  gtk_widget_class_install_action (widget_class, "words.apply", NULL, act_apply);
  gtk_widget_class_install_action (widget_class, "words.reset", NULL, act_reset);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_DIALOG);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
}

static void
og_words_dialog_init (OgWordsDialog *self)
{
  g_autoptr (GtkSizeGroup) titles = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);

  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_label_set_label (GTK_LABEL (self->lowest_caption), og_body_get_name (OG_BODY_DRY));
  gtk_size_group_add_widget (titles, self->lowest_caption);
  for (guint i = 0; i < OG_N_BODY_BOUNDS; i++)
    add_field (self, i, titles);
}

GtkWidget *
og_words_dialog_new (OgDocument *document)
{
  OgWordsDialog *self;

  g_return_val_if_fail (OG_IS_DOCUMENT (document), NULL);

  self = g_object_new (OG_TYPE_WORDS_DIALOG, NULL);
  self->document = g_object_ref (document);
  type_bounds (self, &og_document_get_formula (document)->body_bounds);
  self->built = TRUE;
  update (self);
  gtk_widget_grab_focus (self->fields[OG_BODY_BOUND_THIN]);
  return GTK_WIDGET (self);
}
