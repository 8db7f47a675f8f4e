/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "core/base/number-text.h"
#include "gtk/design/material-popover.h"
#include "gtk/design/profile-view.h"
#include "gtk/parts/figure-text.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/pieces.h"

#define DIGITS 5
#define TEXT_CHARS 44

struct _OgMaterialPopover
{
  GtkPopover parent_instance;

  GtkWidget *name_label;
  GtkWidget *inci_label;
  GtkWidget *identity_label;
  GtkWidget *colour_label;
  GtkWidget *facts;
  GtkWidget *scroller;
  GtkWidget *edit_button;
  GtkWidget *remove_button;
};

G_DEFINE_FINAL_TYPE (OgMaterialPopover, og_material_popover, GTK_TYPE_POPOVER)

static GtkWidget *
make_text (const char *text,
           const char *css_class)
{
  GtkWidget *label = og_wrapping_label_new (text, css_class);

  gtk_label_set_max_width_chars (GTK_LABEL (label), TEXT_CHARS);
  return label;
}

static void
add_heading (OgMaterialPopover *self,
             const char        *text)
{
  gtk_box_append (GTK_BOX (self->facts), make_text (text, "fact-heading"));
}

/* One figure: what it is, its value, and below how and from where it is known. */
static void
add_fact (OgMaterialPopover *self,
          const char        *title,
          const char        *value,
          const char        *origin,
          const char        *note)
{
  GtkWidget *fact = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *title_label = make_text (title, NULL);
  GtkWidget *value_label = make_text (value, "numeric");

  gtk_label_set_wrap_mode (GTK_LABEL (title_label), PANGO_WRAP_WORD);
  gtk_widget_set_hexpand (title_label, TRUE);
  gtk_label_set_xalign (GTK_LABEL (value_label), 1.0f);
  gtk_label_set_justify (GTK_LABEL (value_label), GTK_JUSTIFY_RIGHT);
  gtk_box_append (GTK_BOX (line), title_label);
  gtk_box_append (GTK_BOX (line), value_label);
  gtk_box_append (GTK_BOX (fact), line);
  if (origin != NULL && *origin != '\0')
    gtk_box_append (GTK_BOX (fact), make_text (origin, "fact-origin"));
  if (note != NULL && *note != '\0')
    gtk_box_append (GTK_BOX (fact), make_text (note, "fact-origin"));
  gtk_box_append (GTK_BOX (self->facts), fact);
}

static void
add_figures (OgMaterialPopover  *self,
             const OgIngredient *ingredient,
             gboolean            gelling)
{
  guint n_fields;
  const OgFigureField *fields = og_figure_fields (&n_fields);

  for (guint i = 0; i < n_fields; i++)
    {
      const OgFigure *figure = og_figure_field_get (&fields[i], ingredient);
      g_autofree char *value = NULL;
      g_autofree char *origin = NULL;

      if (fields[i].gelling != gelling)
        continue;
      if (!og_figure_is_known (figure)
          && !(fields[i].main && og_figure_field_applies (&fields[i], ingredient)))
        continue;
      value = og_figure_to_text (figure);
      origin = og_figure_origin_to_text (figure);
      add_fact (self, og_figure_field_get_title (&fields[i]), value, origin, figure->note);
    }
}

/* Whether a point is as well known as @other, and from the same place. */
static gboolean
same_origin (const OgViscosityDatum *datum,
             const OgViscosityDatum *other)
{
  return datum->quality == other->quality && g_strcmp0 (datum->source, other->source) == 0
         && g_strcmp0 (datum->note, other->note) == 0;
}

static void
add_point (OgMaterialPopover      *self,
           const OgViscosityDatum *datum)
{
  g_autofree char *at = og_number_significant (datum->temperature_c, DIGITS);
  /* Translators: the temperature of a measured viscosity */
  g_autofree char *title = g_strdup_printf (_("At %s °C"), at);
  g_autofree char *number = og_number_significant (datum->value, DIGITS);
  g_autofree char *value =
    g_strdup_printf ("%s %s", number, og_unit_to_text (datum->kinematic ? "mm2/s" : "mPa.s"));

  add_fact (self, title, value, NULL, NULL);
}

/* All points that share the origin of the one at @first, then that origin. */
static void
add_points_of_origin (OgMaterialPopover *self,
                      const GArray      *points,
                      guint              first)
{
  const OgViscosityDatum *datum = &g_array_index (points, OgViscosityDatum, first);
  g_autofree char *origin = g_strdup_printf ("%s · %s", og_quality_get_name (datum->quality),
                                             datum->source != NULL ? datum->source : "");

  for (guint i = first; i < points->len; i++)
    {
      if (same_origin (&g_array_index (points, OgViscosityDatum, i), datum))
        add_point (self, &g_array_index (points, OgViscosityDatum, i));
    }
  gtk_box_append (GTK_BOX (self->facts), make_text (origin, "fact-origin"));
  if (datum->note != NULL && *datum->note != '\0')
    gtk_box_append (GTK_BOX (self->facts), make_text (datum->note, "fact-origin"));
}

static gboolean
origin_seen (const GArray *points,
             guint         index)
{
  for (guint i = 0; i < index; i++)
    {
      if (same_origin (&g_array_index (points, OgViscosityDatum, i),
                       &g_array_index (points, OgViscosityDatum, index)))
        return TRUE;
    }
  return FALSE;
}

static void
add_viscosity (OgMaterialPopover  *self,
               const OgIngredient *ingredient)
{
  if (og_ingredient_is_suspended (ingredient))
    return;
  add_heading (self, _("Viscosity of the neat material"));
  if (ingredient->viscosity->len == 0)
    gtk_box_append (GTK_BOX (self->facts),
                    make_text (og_ingredient_is_triglyceride (ingredient)
                                 ? _("No measured points; predicted from the fatty acids.")
                                 : _("Unknown. A value from your bench would help."),
                               NULL));
  for (guint i = 0; i < ingredient->viscosity->len; i++)
    {
      if (!origin_seen (ingredient->viscosity, i))
        add_points_of_origin (self, ingredient->viscosity, i);
    }
}

static void
add_profile (OgMaterialPopover  *self,
             const OgIngredient *ingredient)
{
  GtkWidget *view;
  g_autofree char *origin = NULL;

  if (ingredient->profile == NULL)
    return;
  add_heading (self, _("Fatty acids"));
  view = og_profile_view_new ();
  og_profile_view_set_profile (OG_PROFILE_VIEW (view), ingredient->profile);
  gtk_box_append (GTK_BOX (self->facts), view);
  origin = g_strdup_printf ("%s · %s", og_quality_get_name (ingredient->profile_quality),
                            ingredient->profile_source != NULL ? ingredient->profile_source : "");
  gtk_box_append (GTK_BOX (self->facts), make_text (origin, "fact-origin"));
  if (ingredient->profile_note != NULL)
    gtk_box_append (GTK_BOX (self->facts), make_text (ingredient->profile_note, "fact-origin"));
}

static const char *
family_name (OgGelFamily family)
{
  switch (family)
    {
    case OG_GEL_PHYSICAL_POLYMER:
      return _("Polymer that sets to a gel");
    case OG_GEL_POLYMER_SOLUTION:
      return _("Dissolved polymer");
    case OG_GEL_CRYSTAL_NETWORK:
      return _("Network of crystals");
    case OG_GEL_PARTICLE_NETWORK:
      return _("Network of particles");
    case OG_GEL_PLATELET_NETWORK:
      return _("Network of platelets");
    case OG_GEL_VISCOUS_LIQUID:
      return _("Viscous liquid");
    case OG_GEL_NONE:
      break;
    }
  return "";
}

static const char *
fit_name (OgSolventFit fit)
{
  switch (fit)
    {
    case OG_SOLVENT_NO:
      return C_("gels", "no");
    case OG_SOLVENT_LIMITED:
      return C_("gels", "limited");
    case OG_SOLVENT_YES:
      return C_("gels", "yes");
    case OG_SOLVENT_UNKNOWN:
      break;
    }
  return C_("figure", "unknown");
}

static void
add_gelling (OgMaterialPopover  *self,
             const OgIngredient *ingredient)
{
  const OgGelling *gelling = &ingredient->gelling;
  const struct
  {
    const char *title;
    OgSolventFit fit;
  } solvents[] = {
    { _("Gels vegetable oils"), gelling->triglyceride },
    { _("Gels castor oil"), gelling->castor },
    { _("Gels esters"), gelling->ester },
    { _("Gels hydrocarbons"), gelling->hydrocarbon },
    { _("Gels silicones"), gelling->silicone },
  };

  if (gelling->family == OG_GEL_NONE)
    return;
  add_heading (self, _("Gelling"));
  gtk_box_append (GTK_BOX (self->facts), make_text (family_name (gelling->family), NULL));
  add_figures (self, ingredient, TRUE);
  for (guint i = 0; i < G_N_ELEMENTS (solvents); i++)
    add_fact (self, solvents[i].title, fit_name (solvents[i].fit), NULL, NULL);
  if (gelling->note != NULL)
    gtk_box_append (GTK_BOX (self->facts), make_text (gelling->note, "fact-origin"));
}

static char *
join_names (char       **nicks,
            const char *(*name_of) (const char *nick))
{
  g_autoptr(GStrvBuilder) builder = g_strv_builder_new ();
  g_auto(GStrv) names = NULL;

  for (guint i = 0; nicks[i] != NULL; i++)
    g_strv_builder_add (builder, name_of (nicks[i]));
  names = g_strv_builder_end (builder);
  /* Translators: stands between the words of a list */
  return g_strjoinv (_(", "), names);
}

static void
add_uses (OgMaterialPopover  *self,
          const OgIngredient *ingredient)
{
  g_autofree char *roles = join_names (ingredient->roles, og_role_get_name);
  g_autofree char *tags = join_names (ingredient->tags, og_tag_get_name);

  if (*roles != '\0')
    add_fact (self, _("Roles"), roles, NULL, NULL);
  if (*tags != '\0')
    add_fact (self, _("Bear in mind"), tags, NULL, NULL);
}

static void
add_cautions (OgMaterialPopover  *self,
              const OgIngredient *ingredient)
{
  if (ingredient->cautions[0] != NULL)
    add_heading (self, _("Cautions"));
  for (guint i = 0; ingredient->cautions[i] != NULL; i++)
    {
      GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
      GtkWidget *image = gtk_image_new_from_icon_name ("dialog-warning-symbolic");

      gtk_widget_set_valign (image, GTK_ALIGN_START);
      gtk_widget_add_css_class (line, "caution");
      gtk_box_append (GTK_BOX (line), image);
      gtk_box_append (GTK_BOX (line), make_text (ingredient->cautions[i], NULL));
      gtk_box_append (GTK_BOX (self->facts), line);
    }
  if (ingredient->notes != NULL)
    {
      add_heading (self, _("Notes"));
      gtk_box_append (GTK_BOX (self->facts), make_text (ingredient->notes, NULL));
    }
}

static void
show_identity (OgMaterialPopover  *self,
               const OgIngredient *ingredient,
               gboolean            own)
{
  g_autofree char *cas = NULL;
  g_autofree char *identity = NULL;
  g_autofree char *colour = NULL;

  gtk_label_set_label (GTK_LABEL (self->name_label), ingredient->name);
  og_label_set_optional (self->inci_label, ingredient->inci);
  /* Translators: registry number of a substance */
  cas = ingredient->cas != NULL ? g_strdup_printf (_("CAS %s"), ingredient->cas)
                                : g_strdup (_("No CAS number on record"));
  identity = g_strjoin (" · ", og_kind_get_name (ingredient->kind), cas,
                        own ? _("Own material") : NULL, NULL);
  gtk_label_set_label (GTK_LABEL (self->identity_label), identity);
  if (ingredient->ci != NULL)
    /* Translators: Colour Index number of a colourant */
    colour = g_strdup_printf (_("Colour Index %s"), ingredient->ci);
  og_label_set_optional (self->colour_label, colour);
}

static void
clear_facts (OgMaterialPopover *self)
{
  og_box_clear (self->facts);
}

void
og_material_popover_show_material (OgMaterialPopover  *self,
                                   const OgIngredient *ingredient,
                                   gboolean            own)
{
  g_return_if_fail (OG_IS_MATERIAL_POPOVER (self));
  g_return_if_fail (ingredient != NULL);

  clear_facts (self);
  show_identity (self, ingredient, own);
  add_uses (self, ingredient);
  add_profile (self, ingredient);
  add_heading (self, _("Figures"));
  add_figures (self, ingredient, FALSE);
  add_viscosity (self, ingredient);
  add_gelling (self, ingredient);
  add_cautions (self, ingredient);
  gtk_widget_set_visible (self->edit_button, own);
  gtk_widget_set_visible (self->remove_button, own);
  gtk_adjustment_set_value (
    gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroller)), 0.0);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, ingredient->name,
                                  -1);
}

static void
og_material_popover_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), OG_TYPE_MATERIAL_POPOVER);

  G_OBJECT_CLASS (og_material_popover_parent_class)->dispose (object);
}

static void
og_material_popover_class_init (OgMaterialPopoverClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = og_material_popover_dispose;

  gtk_widget_class_set_template_from_resource (
    widget_class, "/org/oleograph/Oleograph/material-popover.ui");
  gtk_widget_class_bind_template_child (widget_class, OgMaterialPopover, name_label);
  gtk_widget_class_bind_template_child (widget_class, OgMaterialPopover, inci_label);
  gtk_widget_class_bind_template_child (widget_class, OgMaterialPopover, identity_label);
  gtk_widget_class_bind_template_child (widget_class, OgMaterialPopover, colour_label);
  gtk_widget_class_bind_template_child (widget_class, OgMaterialPopover, facts);
  gtk_widget_class_bind_template_child (widget_class, OgMaterialPopover, scroller);
  gtk_widget_class_bind_template_child (widget_class, OgMaterialPopover, edit_button);
  gtk_widget_class_bind_template_child (widget_class, OgMaterialPopover, remove_button);
}

static void
og_material_popover_init (OgMaterialPopover *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
og_material_popover_new (void)
{
  return g_object_new (OG_TYPE_MATERIAL_POPOVER, NULL);
}
