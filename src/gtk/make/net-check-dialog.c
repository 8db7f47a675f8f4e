/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "core/base/number-text.h"
#include "gtk/make/net-check-dialog.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/number-field.h"
#include "gtk/parts/plain-list.h"
#include "gtk/parts/typed-number.h"

#define SEPARATORS " \t\r\n;"
#define MOST_WEIGHTS 100000

struct _OgNetCheckDialog
{
  GtkWindow parent_instance;

  GtkWidget *tare_box;
  GtkWidget *weights_label;
  GtkWidget *weights_view;
  GtkWidget *verdict_label;
  GtkWidget *facts_box;
  GtkWidget *rule_label;
  OgPlainList *facts;
  GtkWidget *tare_field;

  OgPackage package;
  double density_20_g_ml;
};

G_DEFINE_FINAL_TYPE (OgNetCheckDialog, og_net_check_dialog, GTK_TYPE_WINDOW)

static char *
typed_weights (OgNetCheckDialog *self)
{
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->weights_view));
  GtkTextIter start;
  GtkTextIter end;

  gtk_text_buffer_get_bounds (buffer, &start, &end);
  return gtk_text_buffer_get_text (buffer, &start, &end, FALSE);
}

/* Returns: (transfer full) (nullable) (element-type double): NULL, with the word that is none, if
 * some word is no number */
static GArray *
read_weights (OgNetCheckDialog  *self,
              char             **word)
{
  g_autofree char *text = typed_weights (self);
  g_auto (GStrv) words = g_strsplit_set (text, SEPARATORS, -1);
  g_autoptr (GArray) weights = g_array_new (FALSE, FALSE, sizeof (double));

  for (guint i = 0; words[i] != NULL; i++)
    {
      g_autofree char *problem = NULL;
      double weight;

      if (*words[i] == '\0')
        continue;
      problem = og_typed_number (words[i], &weight);
      if (problem != NULL || weights->len == MOST_WEIGHTS)
        {
          *word = g_strdup (words[i]);
          return NULL;
        }
      g_array_append_val (weights, weight);
    }
  return g_steal_pointer (&weights);
}

static char *
quantity_text (OgNetCheckDialog *self,
               double            quantity)
{
  g_autofree char *number = og_number_fixed (quantity, 2);

  if (isnan (quantity))
    return g_steal_pointer (&number);
  if (self->package.unit == OG_NET_G)
    /* Translators: %s is a mass in grams */
    return g_strdup_printf (_("%s g"), number);
  /* Translators: %s is a volume in ml */
  return g_strdup_printf (_("%s ml"), number);
}

static void
add_quantity (OgNetCheckDialog *self,
              const char       *title,
              double            quantity)
{
  g_autofree char *text = quantity_text (self, quantity);

  og_plain_list_add_fact (self->facts, title, text, NULL);
}

static void
add_count (OgNetCheckDialog *self,
           const char       *title,
           guint             count)
{
  g_autofree char *text = g_strdup_printf ("%u", count);

  og_plain_list_add_fact (self->facts, title, text, NULL);
}

static const char *
verdict_text (const OgNetCheck *check)
{
  switch (check->packer)
    {
    case OG_NET_RULE_PASS:
      return _("Passes: mean, tolerance and lower limit are kept.");
    case OG_NET_RULE_FAIL:
      if (!check->mean_passes)
        return _("Fails: the mean lies below the declared content.");
      if (!check->none_passes)
        return _("Fails: a container holds less than the lower limit.");
      return _("Fails: too many containers hold less than the tolerance allows.");
    case OG_NET_RULE_NONE:
    default:
      return check->every_full ? _("Every container holds at least the declared content.")
                               : _("Some containers hold less than the declared content.");
    }
}

static gboolean
is_bad (const OgNetCheck *check)
{
  return check->packer == OG_NET_RULE_FAIL
         || (check->packer == OG_NET_RULE_NONE && !check->every_full);
}

static void
show_check (OgNetCheckDialog *self,
            const OgNetCheck *check)
{
  add_count (self, _("Containers weighed"), check->n);
  add_quantity (self, _("Declared content"), check->nominal);
  add_quantity (self, _("Mean content"), check->mean);
  add_quantity (self, _("Standard deviation"), check->sd);
  add_quantity (self, _("Least"), check->least);
  add_quantity (self, _("Most"), check->most);
  add_count (self, _("Below the declared content"), check->n_below_nominal);
  if (isfinite (check->limits.t1))
    {
      add_quantity (self, _("Few may hold less than"), check->limits.t1);
      add_count (self, _("Such containers"), check->n_below_t1);
      add_quantity (self, _("None may hold less than"), check->limits.t2);
      add_count (self, _("Containers below that"), check->n_below_t2);
    }
  if (isfinite (check->sample_mean_needed))
    add_quantity (self, _("Mean that a sample of this size needs"), check->sample_mean_needed);
  og_label_set_optional (self->rule_label, og_saying_text (check->text));
}

static void
show_verdict (OgNetCheckDialog *self,
              const char       *text,
              gboolean          bad)
{
  gtk_label_set_label (GTK_LABEL (self->verdict_label), text);
  if (bad)
    gtk_widget_add_css_class (self->verdict_label, "problem");
  else
    gtk_widget_remove_css_class (self->verdict_label, "problem");
}

/* Returns: FALSE, having said so, while the form cannot be judged */
static gboolean
read_form (OgNetCheckDialog  *self,
           double            *tare_g,
           GArray           **weights)
{
  double tares[OG_NUMBER_FIELD_MOST];
  guint n_tares;
  g_autofree char *word = NULL;
  g_autofree char *problem = NULL;

  if (!og_number_field_read (OG_NUMBER_FIELD (self->tare_field), tares, &n_tares))
    {
      show_verdict (self, _("See the field that is marked above."), FALSE);
      return FALSE;
    }
  *tare_g = n_tares > 0 ? tares[0] : 0.0;
  *weights = read_weights (self, &word);
  if (*weights == NULL)
    {
      /* Translators: %s is what the user typed */
      problem = g_strdup_printf (_("“%s” is not a weight."), word);
      show_verdict (self, problem, TRUE);
      return FALSE;
    }
  if ((*weights)->len == 0)
    {
      show_verdict (self, _("Type or paste what the filled containers weigh."), FALSE);
      return FALSE;
    }
  return TRUE;
}

static void
update (OgNetCheckDialog *self)
{
  g_autoptr (GArray) weights = NULL;
  g_autoptr (OgNetCheck) check = NULL;
  g_autoptr (GError) error = NULL;
  double tare_g;

  og_plain_list_clear (self->facts);
  og_label_set_optional (self->rule_label, NULL);
  if (!read_form (self, &tare_g, &weights))
    return;
  check = og_net_check (&self->package, (const double *) (gconstpointer) weights->data,
                        weights->len, tare_g, self->density_20_g_ml, &error);
  if (check == NULL)
    {
      show_verdict (self, error->message, TRUE);
      return;
    }
  show_verdict (self, verdict_text (check), is_bad (check));
  show_check (self, check);
}

void
og_net_check_dialog_type (OgNetCheckDialog *self,
                          const char       *tare,
                          const char       *weights)
{
  double tare_g = NAN;

  g_return_if_fail (OG_IS_NET_CHECK_DIALOG (self));

  g_free (og_typed_number (tare, &tare_g));
  og_number_field_set_value (OG_NUMBER_FIELD (self->tare_field), tare_g, 3);
  gtk_text_buffer_set_text (gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->weights_view)), weights,
                            -1);
}

const char *
og_net_check_dialog_get_verdict (OgNetCheckDialog *self)
{
  g_return_val_if_fail (OG_IS_NET_CHECK_DIALOG (self), NULL);

  return gtk_label_get_label (GTK_LABEL (self->verdict_label));
}

static void
og_net_check_dialog_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), OG_TYPE_NET_CHECK_DIALOG);

  G_OBJECT_CLASS (og_net_check_dialog_parent_class)->dispose (object);
}

static void
og_net_check_dialog_class_init (OgNetCheckDialogClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = og_net_check_dialog_dispose;

  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/oleograph/Oleograph/net-check-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, OgNetCheckDialog, tare_box);
  gtk_widget_class_bind_template_child (widget_class, OgNetCheckDialog, weights_label);
  gtk_widget_class_bind_template_child (widget_class, OgNetCheckDialog, weights_view);
  gtk_widget_class_bind_template_child (widget_class, OgNetCheckDialog, verdict_label);
  gtk_widget_class_bind_template_child (widget_class, OgNetCheckDialog, facts_box);
  gtk_widget_class_bind_template_child (widget_class, OgNetCheckDialog, rule_label);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_DIALOG);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
}

static void
og_net_check_dialog_init (OgNetCheckDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->tare_field = og_number_field_new (_("Empty container with closure"), _("g"), 1);
  gtk_box_append (GTK_BOX (self->tare_box), self->tare_field);
  self->facts = OG_PLAIN_LIST (og_plain_list_new (_("Filled containers")));
  gtk_box_append (GTK_BOX (self->facts_box), GTK_WIDGET (self->facts));
  g_signal_connect_swapped (self->tare_field, "changed", G_CALLBACK (update), self);
  g_signal_connect_object (gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->weights_view)),
                           "changed", G_CALLBACK (update), self, G_CONNECT_SWAPPED);
}

GtkWidget *
og_net_check_dialog_new (const OgPackage *package,
                         double           density_20_g_ml)
{
  OgNetCheckDialog *self;

  g_return_val_if_fail (package != NULL, NULL);

  self = g_object_new (OG_TYPE_NET_CHECK_DIALOG, NULL);
  self->package = *package;
  self->density_20_g_ml = density_20_g_ml;
  update (self);
  gtk_widget_grab_focus (self->tare_field);
  return GTK_WIDGET (self);
}
