/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "core/base/number-text.h"
#include "core/predict/gellant.h"
#include "gtk/design/body-panel.h"
#include "gtk/design/chart-view.h"
#include "gtk/design/profile-view.h"
#include "gtk/parts/labels.h"
#include "model/side-by-side.h"

#define LIKELY 0.9
#define UNLIKELY 0.1
#define REMARK_CHARS 11 /* beyond it the remark wraps, so that three tiles fit a narrow panel */

/* A small figure with its name above and a remark below. */
typedef struct
{
  GtkWidget *box;
  GtkWidget *value;
  GtkWidget *remark;
} Tile;

enum
{
  TILE_REST,
  TILE_POUR,
  TILE_RUB,
  N_TILES
};

enum
{
  FIGURE_DENSITY,
  FIGURE_IODINE,
  FIGURE_SAPONIFICATION,
  FIGURE_OXIDATION,
  N_FIGURES
};

struct _OgBodyPanel
{
  OgDocumentPage parent_instance;

  GtkWidget *stack;
  GtkWidget *headline;
  GtkWidget *body_label;
  GtkWidget *pour_label;
  GtkWidget *band_label;
  GtkWidget *tiles;
  GtkWidget *yield_label;
  GtkWidget *axis_box;
  GtkWidget *cup_button;
  GtkWidget *axis_buttons[OG_N_CURVES];
  GtkWidget *chart;
  GtkWidget *doubt_box;
  GtkWidget *doubt_label;
  GtkWidget *profile;
  GtkWidget *profile_label;
  GtkWidget *figures;
  Tile tile[N_TILES];
  Tile figure[N_FIGURES];

  OgDocument *document; /* nullable, borrowed from the parent */
  OgCurveAxis axis;
  char *axis_cup; /* nick of a cup; "" for mPa.s alone */
};

G_DEFINE_FINAL_TYPE (OgBodyPanel, og_body_panel, OG_TYPE_DOCUMENT_PAGE)

enum
{
  PROP_0,
  PROP_CHART_AXIS,
  PROP_AXIS_CUP,
  N_PROPS
};

static GParamSpec *properties[N_PROPS];

static void
show_headline (OgBodyPanel    *self,
               const OgResult *result)
{
  const gboolean known = og_estimate_is_known (&result->pour);
  g_autofree char *pour = og_number_with_unit (result->pour.value);
  g_autofree char *band = og_number_band (&result->pour);
  g_autofree char *about =
      /* Translators: %s is a viscosity with its unit */
      known ? g_strdup_printf (_ ("about %s poured at 25 °C"), pour) : g_strdup (og_saying_text (result->body_text));

  gtk_label_set_label (GTK_LABEL (self->body_label), og_body_get_name (result->body));
  gtk_label_set_label (GTK_LABEL (self->pour_label), about);
  og_label_set_optional (self->band_label, known ? band : NULL);
  gtk_widget_set_tooltip_text (self->headline, og_saying_text (result->body_text));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  og_saying_text (result->body_text), -1);
}

static void
show_tile (Tile             *tile,
           const OgEstimate *estimate)
{
  g_autofree char *value = og_number_viscosity (estimate->value);
  g_autofree char *range = og_number_range (estimate);
  g_autofree char *band = og_number_band (estimate);

  gtk_label_set_label (GTK_LABEL (tile->value), value);
  og_label_set_optional (tile->remark, range);
  if (band != NULL)
    gtk_accessible_update_property (GTK_ACCESSIBLE (tile->remark),
                                    GTK_ACCESSIBLE_PROPERTY_LABEL, band,
                                    -1);
}

static void
show_yield (OgBodyPanel    *self,
            const OgResult *result)
{
  g_autofree char *value = og_number_significant (result->yield_stress_pa.value, 2);
  g_autofree char *chance = og_number_fixed (100.0 * result->gel_probability, 0);
  g_autofree char *range = og_number_range (&result->yield_stress_pa);
  g_autofree char *text = NULL;

  if (!og_estimate_is_known (&result->yield_stress_pa))
    text = g_strdup (_("Whether it sets to a gel is unknown"));
  else if (result->gel_probability >= LIKELY)
    /* Translators: a yield stress, and the range that holds it with a probability of 80 % */
    text = g_strdup_printf (_("Sets to a gel: yield stress about %s Pa (%s)"), value,
                            range != NULL ? range : C_("figure", "unknown"));
  else if (result->gel_probability <= UNLIKELY)
    text = g_strdup (_("No gel: it flows by itself"));
  else
    text = g_strdup_printf (_("May set to a gel: the chance is about %s %%"), chance);
  gtk_label_set_label (GTK_LABEL (self->yield_label), text);
}

/* Figures of a gelling agent that are judgement make a wide band; the reader should know why. */
static char *
find_doubts (const OgResult *result)
{
  g_autoptr(GString) text = g_string_new (NULL);

  for (guint i = 0; i < result->contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (result->contents, i);
      OgGellant gellant;

      if (content->ingredient == NULL || content->fraction <= 0.0
          || content->ingredient->gelling.family == OG_GEL_NONE)
        continue;
      og_gellant_init (&gellant, content->ingredient, og_catalog_get_parameters (result->catalog));
      if (!gellant.guessed)
        continue;
      g_string_append_printf (
        text,
        /* Translators: %s is the name of a gelling agent */
        _("The figures of %s are a guess; a value from your bench would narrow the band."),
        content->ingredient->name);
      g_string_append_c (text, '\n');
    }
  return text->len > 0 ? g_strchomp (g_strdup (text->str)) : NULL;
}

static void
show_chart (OgBodyPanel *self,
            OgResult    *result)
{
  const OgFormula *formula = og_document_get_formula (self->document);

  og_chart_view_set_beside (OG_CHART_VIEW (self->chart),
                            og_side_by_side_get_comparison (og_side_by_side_of (self->document)));
  og_chart_view_show (OG_CHART_VIEW (self->chart), result, self->axis,
                      formula->target_low_mpa_s, formula->target_high_mpa_s);
}

static void
show_profile (OgBodyPanel    *self,
              const OgResult *result)
{
  const gboolean any = result->profile != NULL && result->profile->shares->len > 0;
  g_autofree char *share = og_number_fixed (100.0 * result->triglyceride_fraction, 0);
  g_autofree char *remark = NULL;

  og_profile_view_set_profile (OG_PROFILE_VIEW (self->profile), any ? result->profile : NULL);
  if (any)
    /* Translators: %s is a percentage of the recipe */
    remark = g_strdup_printf (_("Of the oils and butters, %s %% of the recipe."), share);
  og_label_set_optional (self->profile_label, remark);
}

static void
show_figure (Tile       *tile,
             double      value,
             int         decimals,
             const char *remark)
{
  g_autofree char *text = og_number_fixed (value, decimals);

  gtk_label_set_label (GTK_LABEL (tile->value), text);
  og_label_set_optional (tile->remark, remark);
}

static void
show_figures (OgBodyPanel    *self,
              const OgResult *result)
{
  g_autofree char *share = og_number_fixed (100.0 * result->density_known_fraction, 0);
  g_autofree char *partly =
    result->density_known_fraction < 0.995 && isfinite (result->density_g_ml)
      /* Translators: the share of the recipe whose density is known */
      ? g_strdup_printf (_("g/ml, from %s %% of it"), share) : g_strdup (_("g/ml at 25 °C"));

  show_figure (&self->figure[FIGURE_DENSITY], result->density_g_ml, 3, partly);
  show_figure (&self->figure[FIGURE_IODINE], result->iodine_value, 0, _("g I₂/100 g"));
  show_figure (&self->figure[FIGURE_SAPONIFICATION], result->saponification_value, 0,
               _("mg KOH/g"));
  show_figure (&self->figure[FIGURE_OXIDATION], result->cox, 1, _("the lower, the steadier"));
}

static void
update (OgBodyPanel *self)
{
  OgResult *result;
  g_autofree char *doubts = NULL;

  if (self->document == NULL
      || og_formula_get_n_lines (og_document_get_formula (self->document)) == 0)
    {
      og_chart_view_set_beside (OG_CHART_VIEW (self->chart), NULL);
      og_chart_view_show (OG_CHART_VIEW (self->chart), NULL, self->axis, NAN, NAN);
      gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "empty");
      return;
    }
  result = og_document_get_result (self->document);
  show_headline (self, result);
  show_tile (&self->tile[TILE_REST], &result->rest);
  show_tile (&self->tile[TILE_POUR], &result->pour);
  show_tile (&self->tile[TILE_RUB], &result->rub);
  show_yield (self, result);
  show_chart (self, result);
  doubts = find_doubts (result);
  og_label_set_optional (self->doubt_label, doubts);
  gtk_widget_set_visible (self->doubt_box, doubts != NULL);
  show_profile (self, result);
  show_figures (self, result);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "body");
}

static void
set_axis (OgBodyPanel *self,
          OgCurveAxis  axis)
{
  if (self->axis == axis)
    return;
  self->axis = axis;
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->axis_buttons[axis]), TRUE);
  if (self->document != NULL)
    update (self);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_CHART_AXIS]);
}

/* A nick that is none, from settings of another version, is taken for no cup. */
static void
set_axis_cup (OgBodyPanel *self,
              const char  *nick)
{
  OgCup cup;
  const gboolean known = nick != NULL && og_cup_from_nick (nick, &cup);

  if (!known)
    nick = "";
  if (g_str_equal (nick, self->axis_cup))
    return;
  g_free (self->axis_cup);
  self->axis_cup = g_strdup (nick);
  og_chart_view_set_cup (OG_CHART_VIEW (self->chart), known ? &cup : NULL);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_AXIS_CUP]);
}

static void
append_cup (GMenu      *menu,
            const char *text,
            const char *nick)
{
  g_autoptr (GMenuItem) item = g_menu_item_new (text, NULL);

  g_menu_item_set_action_and_target (item, "body.axis-cup", "s", nick);
  g_menu_append_item (menu, item);
}

static void
fill_cup_menu (OgBodyPanel *self)
{
  g_autoptr (GMenu) menu = g_menu_new ();
  g_autoptr (GMenu) plain = g_menu_new ();
  g_autoptr (GMenu) cups = g_menu_new ();

  append_cup (plain, _("mPa·s alone"), "");
  for (guint i = 0; i < OG_N_CUPS; i++)
    append_cup (cups, og_cup_get_name ((OgCup) i), og_cup_to_nick ((OgCup) i));
  g_menu_append_section (menu, _("Axis of the chart"), G_MENU_MODEL (plain));
  g_menu_append_section (menu, _("With the seconds of a cup, for liquids that are no gel"),
                         G_MENU_MODEL (cups));
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (self->cup_button), G_MENU_MODEL (menu));
}

static void
on_axis_toggled (GtkToggleButton *button,
                 OgBodyPanel     *self)
{
  const guint axis = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "og-axis"));

  if (gtk_toggle_button_get_active (button))
    set_axis (self, (OgCurveAxis) axis);
}

static void
og_body_panel_result_changed (OgDocumentPage *page)
{
  update (OG_BODY_PANEL (page));
}

static void
on_beside (OgBodyPanel *self)
{
  if (og_formula_get_n_lines (og_document_get_formula (self->document)) > 0)
    show_chart (self, og_document_get_result (self->document));
}

static void
og_body_panel_follow (OgDocumentPage *page,
                      OgDocument     *document)
{
  OgBodyPanel *self = OG_BODY_PANEL (page);

  if (self->document != NULL)
    g_signal_handlers_disconnect_by_data (og_side_by_side_of (self->document), self);
  self->document = document;
  if (document != NULL)
    g_signal_connect_object (og_side_by_side_of (document), "changed", G_CALLBACK (on_beside), self,
                             G_CONNECT_SWAPPED);
  update (self);
}

static void
add_tile (GtkWidget  *flow,
          Tile       *tile,
          const char *title,
          const char *tooltip)
{
  GtkWidget *child = gtk_flow_box_child_new ();
  GtkWidget *caption = og_word_wrapping_label_new (title, "tile-title");

  tile->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  tile->value = og_word_wrapping_label_new (NULL, "tile-value");
  tile->remark = og_word_wrapping_label_new (NULL, "tile-remark");
  gtk_label_set_max_width_chars (GTK_LABEL (tile->remark), REMARK_CHARS);
  gtk_widget_add_css_class (tile->box, "tile");
  gtk_widget_set_tooltip_text (tile->box, tooltip);
  gtk_box_append (GTK_BOX (tile->box), caption);
  gtk_box_append (GTK_BOX (tile->box), tile->value);
  gtk_box_append (GTK_BOX (tile->box), tile->remark);
  gtk_accessible_update_relation (GTK_ACCESSIBLE (tile->value),
                                  GTK_ACCESSIBLE_RELATION_LABELLED_BY, caption, tile->value, NULL,
                                  -1);
  gtk_widget_set_focusable (child, FALSE);
  gtk_flow_box_child_set_child (GTK_FLOW_BOX_CHILD (child), tile->box);
  gtk_flow_box_insert (GTK_FLOW_BOX (flow), child, -1);
}

static void
add_tiles (OgBodyPanel *self)
{
  add_tile (self->tiles, &self->tile[TILE_REST], _("At rest"),
            _("Viscosity at 25 °C and a shear rate of 0.01 per second: standing in the bottle"));
  add_tile (self->tiles, &self->tile[TILE_POUR], _("Poured"),
            _("Viscosity at 25 °C and a shear rate of 10 per second: running from the bottle"));
  add_tile (self->tiles, &self->tile[TILE_RUB], _("Rubbed in"),
            _("Viscosity at 25 °C and a shear rate of 1000 per second: spread on the skin"));
  add_tile (self->figures, &self->figure[FIGURE_DENSITY], _("Density"),
            _("Mass of a millilitre at 25 °C; needed to fill containers by weight"));
  add_tile (self->figures, &self->figure[FIGURE_IODINE], _("Iodine value"),
            _("How many double bonds the fatty acids hold: the higher, the more liquid the oil and "
              "the sooner it turns rancid"));
  add_tile (self->figures, &self->figure[FIGURE_SAPONIFICATION], _("Saponification value"),
            _("Alkali that would turn it into soap: the higher, the shorter the fatty acids"));
  add_tile (self->figures, &self->figure[FIGURE_OXIDATION], _("Oxidation index"),
            _("How readily the oils take up oxygen, from their oleic, linoleic and linolenic acid "
              "(COX value); it does not see antioxidants, light or heat"));
}

static void
add_axis_buttons (OgBodyPanel *self)
{
  const char *const names[OG_N_CURVES] = {
    [OG_CURVE_AGENT_PCT] = _("Agent"),
    [OG_CURVE_TEMPERATURE_C] = _("Temperature"),
    [OG_CURVE_SHEAR_RATE_1_S] = _("Shear"),
  };
  const char *const meanings[OG_N_CURVES] = {
    [OG_CURVE_AGENT_PCT] = _("Viscosity against the share of the gelling agent"),
    [OG_CURVE_TEMPERATURE_C] = _("Viscosity against the temperature"),
    [OG_CURVE_SHEAR_RATE_1_S] = _("Viscosity against the shear rate"),
  };

  for (guint axis = 0; axis < OG_N_CURVES; axis++)
    {
      GtkWidget *button = gtk_toggle_button_new ();
      GtkWidget *label = gtk_label_new (names[axis]);

      gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
      gtk_button_set_child (GTK_BUTTON (button), label);
      gtk_widget_set_hexpand (button, TRUE);
      gtk_widget_set_tooltip_text (button, meanings[axis]);
      gtk_accessible_update_property (GTK_ACCESSIBLE (button),
                                      GTK_ACCESSIBLE_PROPERTY_LABEL, meanings[axis],
                                      -1);
      g_object_set_data (G_OBJECT (button), "og-axis", GUINT_TO_POINTER (axis));
      if (axis > 0)
        gtk_toggle_button_set_group (GTK_TOGGLE_BUTTON (button),
                                     GTK_TOGGLE_BUTTON (self->axis_buttons[0]));
      gtk_flow_box_insert (GTK_FLOW_BOX (self->axis_box), button, -1);
      gtk_widget_set_focusable (gtk_widget_get_parent (button), FALSE);
      self->axis_buttons[axis] = button;
    }
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->axis_buttons[self->axis]), TRUE);
  for (guint axis = 0; axis < OG_N_CURVES; axis++)
    g_signal_connect (self->axis_buttons[axis], "toggled", G_CALLBACK (on_axis_toggled), self);
}

static void
og_body_panel_get_property (GObject    *object,
                            guint       id,
                            GValue     *value,
                            GParamSpec *pspec)
{
  OgBodyPanel *self = OG_BODY_PANEL (object);

  switch (id)
    {
    case PROP_CHART_AXIS:
      g_value_set_int (value, (int) self->axis);
      break;
    case PROP_AXIS_CUP:
      g_value_set_string (value, self->axis_cup);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
og_body_panel_set_property (GObject      *object,
                            guint         id,
                            const GValue *value,
                            GParamSpec   *pspec)
{
  OgBodyPanel *self = OG_BODY_PANEL (object);

  switch (id)
    {
    case PROP_CHART_AXIS:
      set_axis (self, (OgCurveAxis) g_value_get_int (value));
      break;
    case PROP_AXIS_CUP:
      set_axis_cup (self, g_value_get_string (value));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
og_body_panel_dispose (GObject *object)
{
  OgBodyPanel *self = OG_BODY_PANEL (object);

  og_document_page_leave (OG_DOCUMENT_PAGE (self));
  self->document = NULL;
  gtk_widget_dispose_template (GTK_WIDGET (self), OG_TYPE_BODY_PANEL);

  G_OBJECT_CLASS (og_body_panel_parent_class)->dispose (object);
}

static void
og_body_panel_finalize (GObject *object)
{
  g_free (OG_BODY_PANEL (object)->axis_cup);

  G_OBJECT_CLASS (og_body_panel_parent_class)->finalize (object);
}

static void
og_body_panel_class_init (OgBodyPanelClass *class)
{
  const GParamFlags flags = G_PARAM_READWRITE | G_PARAM_EXPLICIT_NOTIFY | G_PARAM_STATIC_STRINGS;
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);
  OgDocumentPageClass *page_class = OG_DOCUMENT_PAGE_CLASS (class);

  object_class->get_property = og_body_panel_get_property;
  object_class->set_property = og_body_panel_set_property;
  object_class->dispose = og_body_panel_dispose;
  object_class->finalize = og_body_panel_finalize;
  page_class->follow = og_body_panel_follow;
  page_class->result_changed = og_body_panel_result_changed;

  properties[PROP_CHART_AXIS] =
    g_param_spec_int ("chart-axis", NULL, NULL, 0, OG_N_CURVES - 1, OG_CURVE_AGENT_PCT, flags);
  properties[PROP_AXIS_CUP] = g_param_spec_string ("axis-cup", NULL, NULL, "", flags);
  g_object_class_install_properties (object_class, N_PROPS, properties);

  g_type_ensure (OG_TYPE_CHART_VIEW);
  g_type_ensure (OG_TYPE_PROFILE_VIEW);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/oleograph/Oleograph/body-panel.ui");
  gtk_widget_class_bind_template_child (widget_class, OgBodyPanel, stack);
  gtk_widget_class_bind_template_child (widget_class, OgBodyPanel, headline);
  gtk_widget_class_bind_template_child (widget_class, OgBodyPanel, body_label);
  gtk_widget_class_bind_template_child (widget_class, OgBodyPanel, pour_label);
  gtk_widget_class_bind_template_child (widget_class, OgBodyPanel, band_label);
  gtk_widget_class_bind_template_child (widget_class, OgBodyPanel, tiles);
  gtk_widget_class_bind_template_child (widget_class, OgBodyPanel, yield_label);
  gtk_widget_class_bind_template_child (widget_class, OgBodyPanel, axis_box);
  gtk_widget_class_bind_template_child (widget_class, OgBodyPanel, cup_button);
  gtk_widget_class_bind_template_child (widget_class, OgBodyPanel, chart);
  gtk_widget_class_bind_template_child (widget_class, OgBodyPanel, doubt_box);
  gtk_widget_class_bind_template_child (widget_class, OgBodyPanel, doubt_label);
  gtk_widget_class_bind_template_child (widget_class, OgBodyPanel, profile);
  gtk_widget_class_bind_template_child (widget_class, OgBodyPanel, profile_label);
  gtk_widget_class_bind_template_child (widget_class, OgBodyPanel, figures);
  gtk_widget_class_install_property_action (widget_class, "body.axis-cup", "axis-cup");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_css_name (widget_class, "bodypanel");
}

static void
og_body_panel_init (OgBodyPanel *self)
{
  self->axis_cup = g_strdup ("");
  gtk_widget_init_template (GTK_WIDGET (self));
  add_axis_buttons (self);
  fill_cup_menu (self);
  add_tiles (self);
  update (self);
}

GtkWidget *
og_body_panel_new (void)
{
  return g_object_new (OG_TYPE_BODY_PANEL, NULL);
}
