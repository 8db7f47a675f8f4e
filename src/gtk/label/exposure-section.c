/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "core/base/number-text.h"
#include "core/label/exposure.h"
#include "gtk/label/exposure-section.h"
#include "gtk/parts/drop-down.h"
#include "gtk/parts/fact-section.h"
#include "gtk/parts/number-field.h"
#include "gtk/parts/pieces.h"

struct _OgExposureSection
{
  GtkWidget parent_instance;

  GtkWidget *section;
  GtkWidget *amounts;
  GtkWidget *substance_drop_down;
  GtkWidget *noael_field;
  GtkWidget *absorption_field;
  GtkWidget *bioavailability_field;
  GtkWidget *outcome;

  OgDocument *document;
  GPtrArray *names; /* of char*: what the drop-down lists, as og_substance_find() takes it */
  gboolean filling;
};

G_DEFINE_FINAL_TYPE (OgExposureSection, og_exposure_section, GTK_TYPE_WIDGET)

/* How much of the product adults put on */

static double
show_amount (OgExposureSection *self,
             OgSite             site)
{
  const OgDailyAmount *daily = og_daily_amount_get (site);
  g_autofree char *g = og_number_significant (daily->g_day, 3);
  /* Translators: %s is a number */
  g_autofree char *value = g_strdup_printf (_("%s g a day"), g);

  og_facts_append (self->amounts, og_daily_amount_get_name (site), value, NULL);
  return daily->g_day;
}

static void
show_amounts (OgExposureSection *self,
              guint              sites)
{
  double sum_g = 0.0;
  g_autoptr (OgSaying) source = og_daily_amount_source ();
  g_autofree char *g = NULL;
  g_autofree char *summary = NULL;

  og_box_clear (self->amounts);
  if (sites & OG_SITE_LIPS)
    sum_g += show_amount (self, OG_SITE_LIPS);
  if (sites & OG_SITE_SKIN)
    sum_g += show_amount (self, OG_SITE_SKIN);
  og_facts_append_text (self->amounts, og_saying_text (source), "fact-origin");
  g = og_number_significant (sum_g, 3);
  /* Translators: %s is a number */
  summary = g_strdup_printf (_("Adults put on about %s g a day"), g);
  og_fact_section_set_summary (OG_FACT_SECTION (self->section), summary);
}

/* The reference value */

static gboolean
read_field (GtkWidget *field,
            double     low,
            double     high,
            double    *value)
{
  double values[OG_NUMBER_FIELD_MOST];
  guint n;
  g_autofree char *problem = NULL;

  if (!og_number_field_read (OG_NUMBER_FIELD (field), values, &n))
    return FALSE;
  if (n == 0)
    return TRUE;
  if (!(values[0] > low && values[0] <= high))
    {
      g_autofree char *low_text = og_number_trimmed (low, 0);
      g_autofree char *high_text = og_number_significant (high, 1);

      /* Translators: two numbers */
      problem = g_strdup_printf (_("More than %s, at most %s."), low_text, high_text);
      og_number_field_set_problem (OG_NUMBER_FIELD (field), problem);
      return FALSE;
    }
  *value = values[0];
  return TRUE;
}

static gboolean
read_point (OgExposureSection *self,
            OgReferencePoint  *point)
{
  og_reference_point_init (point);
  return read_field (self->noael_field, 0.0, 1e6, &point->noael_mg_kg_day)
         & read_field (self->absorption_field, 0.0, 100.0, &point->absorption_pct)
         & read_field (self->bioavailability_field, 0.0, 100.0, &point->bioavailability_pct);
}

/* Two numbers, or one if they look the same. */
static char *
range_text (double value,
            double other)
{
  g_autofree char *first = og_number_significant (MIN (value, other), 3);
  g_autofree char *second = og_number_significant (MAX (value, other), 3);

  if (g_str_equal (first, second))
    return g_steal_pointer (&first);
  /* Translators: a range of numbers */
  return g_strdup_printf (_("%s to %s"), first, second);
}

static void
show_outcome (OgExposureSection       *self,
              const OgSubstanceAmount *amount,
              const OgReferencePoint  *point)
{
  OgExposure exposure;
  g_autofree char *pct = range_text (amount->pct, amount->high_pct);
  g_autofree char *share = g_strdup_printf (_("%s %%"), pct);
  g_autofree char *dose = NULL;
  g_autofree char *dose_text = NULL;
  g_autofree char *margin = NULL;

  og_exposure_compute (og_product_get_sites (og_document_get_formula (self->document)->product),
                       amount->pct, amount->high_pct, point, &exposure);
  dose = range_text (exposure.dose_mg_kg_day, exposure.high_dose_mg_kg_day);
  /* Translators: %s is a dose a day, for a kilogram of body weight */
  dose_text = g_strdup_printf (_("%s mg/kg a day"), dose);
  og_facts_append (self->outcome, _("In the product"), share,
                   amount->complete ? NULL
                                    : _("A scent of unknown composition may bring more."));
  og_facts_append (self->outcome, _("Reaches the body"), dose_text, NULL);
  if (!isfinite (exposure.margin))
    {
      og_facts_append_text (self->outcome,
                            _("Type a reference value to see the margin: it is never guessed."),
                            "fact-origin");
      return;
    }
  margin = range_text (exposure.low_margin, exposure.margin);
  og_facts_append (self->outcome, _("Margin of safety"), margin,
                   exposure.low_margin >= OG_USUAL_MARGIN
                     ? _("At or above 100, from which on an assessor usually has no concern.")
                     : _("Below 100: an assessor would usually object."));
  og_facts_append_text (self->outcome,
                        _("A calculation, no assessment: a qualified assessor decides."),
                        "fact-origin");
}

static void
update_outcome (OgExposureSection *self)
{
  const guint i = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->substance_drop_down));
  g_auto (OgSubstanceAmount) amount = { 0 };
  g_autoptr (GError) error = NULL;
  OgReferencePoint point;

  if (self->filling || self->document == NULL)
    return;
  og_box_clear (self->outcome);
  if (i >= self->names->len || !read_point (self, &point))
    return;
  if (og_substance_find (og_document_get_formula (self->document),
                         og_document_get_catalog (self->document),
                         g_ptr_array_index (self->names, i), &amount, &error))
    show_outcome (self, &amount, &point);
  else
    og_facts_append_text (self->outcome, error->message, "error");
}

/* What can be asked for: materials, then what they bring along */

static void
add_name (GPtrArray  *names,
          const char *name)
{
  if (!g_ptr_array_find_with_equal_func (names, name, g_str_equal, NULL))
    g_ptr_array_add (names, g_strdup (name));
}

static GPtrArray *
gather_names (OgExposureSection *self)
{
  const GPtrArray *contents = og_document_get_result (self->document)->contents;
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (contents, i);

      if (content->ingredient != NULL)
        add_name (names, content->ingredient->name);
    }
  for (guint i = 0; i < contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (contents, i);

      for (guint j = 0; content->ingredient != NULL && j < content->ingredient->constituents->len;
           j++)
        add_name (names,
                  g_array_index (content->ingredient->constituents, OgConstituent, j).name);
    }
  return names;
}

/* The choice stays while the substance is still in the recipe. */
static void
fill_substances (OgExposureSection *self)
{
  const guint old = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->substance_drop_down));
  g_autofree char *chosen = old < self->names->len
                              ? g_strdup (g_ptr_array_index (self->names, old)) : NULL;
  g_autoptr (GPtrArray) names = gather_names (self);
  g_autoptr (GtkStringList) list = gtk_string_list_new (NULL);
  guint i = 0;

  if (og_same_texts (names, self->names))
    return;
  for (guint j = 0; j < names->len; j++)
    gtk_string_list_append (list, g_ptr_array_index (names, j));
  g_ptr_array_unref (self->names);
  self->names = g_steal_pointer (&names);
  self->filling = TRUE;
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->substance_drop_down), G_LIST_MODEL (list));
  if (chosen != NULL)
    g_ptr_array_find_with_equal_func (self->names, chosen, g_str_equal, &i);
  if (self->names->len > 0)
    gtk_drop_down_set_selected (GTK_DROP_DOWN (self->substance_drop_down),
                                i < self->names->len ? i : 0);
  self->filling = FALSE;
}

void
og_exposure_section_update (OgExposureSection *self)
{
  g_return_if_fail (OG_IS_EXPOSURE_SECTION (self));

  if (self->document == NULL)
    return;
  show_amounts (self, og_product_get_sites (og_document_get_formula (self->document)->product));
  fill_substances (self);
  update_outcome (self);
}

void
og_exposure_section_set_document (OgExposureSection *self,
                                  OgDocument        *document)
{
  g_return_if_fail (OG_IS_EXPOSURE_SECTION (self));

  g_set_object (&self->document, document);
}

static GtkWidget *
add_field (OgExposureSection *self,
           GtkWidget         *box,
           const char        *title,
           const char        *unit,
           double             usual)
{
  GtkWidget *field = og_number_field_new (title, unit, 1);
  g_autofree char *placeholder = isfinite (usual) ? og_number_trimmed (usual, 0) : NULL;

  og_number_field_set_placeholder (OG_NUMBER_FIELD (field), placeholder);
  g_signal_connect_swapped (field, "changed", G_CALLBACK (update_outcome), self);
  gtk_box_append (GTK_BOX (box), field);
  return field;
}

static void
og_exposure_section_dispose (GObject *object)
{
  OgExposureSection *self = OG_EXPOSURE_SECTION (object);

  g_clear_object (&self->document);
  g_clear_pointer (&self->section, gtk_widget_unparent);

  G_OBJECT_CLASS (og_exposure_section_parent_class)->dispose (object);
}

static void
og_exposure_section_finalize (GObject *object)
{
  g_ptr_array_unref (OG_EXPOSURE_SECTION (object)->names);

  G_OBJECT_CLASS (og_exposure_section_parent_class)->finalize (object);
}

static void
og_exposure_section_class_init (OgExposureSectionClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = og_exposure_section_dispose;
  G_OBJECT_CLASS (class)->finalize = og_exposure_section_finalize;

  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "exposuresection");
}

static void
og_exposure_section_init (OgExposureSection *self)
{
  GtkWidget *box;

  self->names = g_ptr_array_new_with_free_func (g_free);
  self->section = og_fact_section_new (_("Exposure"));
  gtk_widget_set_parent (self->section, GTK_WIDGET (self));
  box = og_fact_section_get_box (OG_FACT_SECTION (self->section));
  self->amounts = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append (GTK_BOX (box), self->amounts);
  og_facts_append_heading (box, _("Of one substance"));
  self->substance_drop_down = gtk_drop_down_new (NULL, NULL);
  og_drop_down_set_name (self->substance_drop_down, _("Substance"));
  g_signal_connect_swapped (self->substance_drop_down, "notify::selected",
                            G_CALLBACK (update_outcome), self);
  gtk_box_append (GTK_BOX (box), self->substance_drop_down);
  self->noael_field = add_field (self, box, _("Reference value (NOAEL)"), _("mg/kg a day"), NAN);
  self->absorption_field = add_field (self, box, _("Through the skin"), _("%"),
                                      OG_SKIN_ABSORPTION_PCT);
  self->bioavailability_field = add_field (self, box, _("Of a swallowed dose"), _("%"),
                                           OG_ORAL_BIOAVAILABILITY_PCT);
  self->outcome = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append (GTK_BOX (box), self->outcome);
}

GtkWidget *
og_exposure_section_new (void)
{
  return g_object_new (OG_TYPE_EXPOSURE_SECTION, NULL);
}
