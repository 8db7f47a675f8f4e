/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "core/base/dates.h"
#include "core/recipe/recipe-limits.h"
#include "gtk/label/label-form.h"
#include "gtk/parts/cell-entry.h"
#include "gtk/parts/drop-down.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/pieces.h"

struct _OgLabelForm
{
  GtkWidget parent_instance;

  GtkWidget *scroller;
  GtkWidget *market_drop_down;
  OgCellEntry *nominal_entry;
  GtkWidget *unit_drop_down;
  OgCellEntry *open_months_entry;
  GtkWidget *batch_code_entry;
  GtkWidget *best_before_entry;
  GtkWidget *best_before_problem;
  GtkWidget *responsible_entry;
  GtkWidget *country_entry;
  GtkWidget *warnings_view;
  GtkWidget *gather_check;
  GtkWidget *shades_button;
  GtkWidget *shades_box;
  GtkWidget *nano_title;
  GtkWidget *nano_box;

  OgDocument *document;
  gboolean filling; /* values are being shown, nobody has typed them */
};

G_DEFINE_FINAL_TYPE (OgLabelForm, og_label_form, GTK_TYPE_WIDGET)

enum
{
  CHANGED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static const OgFormula *
get_formula (OgLabelForm *self)
{
  return og_document_get_formula (self->document);
}

static void
emit_changed (OgLabelForm *self)
{
  if (!self->filling)
    g_signal_emit (self, signals[CHANGED], 0);
}

OgMarket
og_label_form_get_market (OgLabelForm *self)
{
  guint market;

  g_return_val_if_fail (OG_IS_LABEL_FORM (self), OG_MARKET_EU);

  market = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->market_drop_down));
  return market < OG_N_MARKETS ? (OgMarket) market : OG_MARKET_EU;
}

static const char *
entry_text (GtkWidget *entry)
{
  const char *text = gtk_editable_get_text (GTK_EDITABLE (entry));

  return *text != '\0' ? text : NULL;
}

/* Year and month, as a label is filled in; not long ago. */
static gboolean
is_month (const char *text)
{
  guint year, month;

  return og_month_parse (text, &year, &month) && year > 1999;
}

void
og_label_form_get_text (OgLabelForm *self,
                        OgLabelText *text)
{
  const char *best_before;

  g_return_if_fail (OG_IS_LABEL_FORM (self) && text != NULL);

  best_before = entry_text (self->best_before_entry);
  text->batch_code = entry_text (self->batch_code_entry);
  text->best_before = best_before != NULL && is_month (best_before) ? best_before : NULL;
  text->responsible = entry_text (self->responsible_entry);
  text->country = entry_text (self->country_entry);
}

/* Values of the recipe */

static char *
set_package (OgLabelForm     *self,
             const OgPackage *package)
{
  if (!og_package_is_valid (package))
    return g_strdup (_("A content is larger than 0 and below a million."));
  og_document_set_package (self->document, package);
  return NULL;
}

static char *
on_nominal (OgLabelForm *self,
            double       value)
{
  OgPackage package = get_formula (self)->package;

  package.nominal = value;
  return set_package (self, &package);
}

static void
on_unit (OgLabelForm *self)
{
  OgPackage package;

  if (self->filling || self->document == NULL)
    return;
  package = get_formula (self)->package;
  package.unit = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->unit_drop_down)) == 0 ? OG_NET_ML
                                                                                        : OG_NET_G;
  og_document_set_package (self->document, &package);
}

static char *
on_open_months (OgLabelForm *self,
                double       value)
{
  const double months = isnan (value) ? 0.0 : value;

  if (!(months >= 0.0 && months <= OG_RECIPE_MAX_MONTHS) || months != floor (months))
    return g_strdup (_("A whole number of months is needed."));
  og_document_set_open_months (self->document, (guint) months);
  return NULL;
}

static char *
typed_warnings (OgLabelForm *self)
{
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->warnings_view));
  GtkTextIter start;
  GtkTextIter end;

  gtk_text_buffer_get_bounds (buffer, &start, &end);
  return gtk_text_buffer_get_text (buffer, &start, &end, FALSE);
}

static void
on_warnings_typed (OgLabelForm *self)
{
  g_autofree char *warnings = NULL;

  if (self->filling || self->document == NULL)
    return;
  warnings = typed_warnings (self);
  og_document_set_warnings (self->document, warnings);
}

static void
on_warnings_left (OgLabelForm *self)
{
  if (self->document != NULL)
    og_document_end_typing (self->document);
}

/* @ids with @id in it, or without it. */
static char **
with_id (char       **ids,
         const char  *id,
         gboolean     in)
{
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();

  for (guint i = 0; ids[i] != NULL; i++)
    if (!g_str_equal (ids[i], id))
      g_strv_builder_add (builder, ids[i]);
  if (in)
    g_strv_builder_add (builder, id);
  return g_strv_builder_end (builder);
}

static void
on_choice (OgLabelForm    *self,
           GtkCheckButton *check)
{
  const OgFormula *formula;
  const char *id = g_object_get_data (G_OBJECT (check), "og-id");
  const gboolean active = gtk_check_button_get_active (check);
  g_auto (GStrv) ids = NULL;

  if (self->filling || self->document == NULL)
    return;
  formula = get_formula (self);
  if (id == NULL)
    og_document_set_label (self->document, (const char *const *) formula->shades,
                           (const char *const *) formula->nano, active);
  else if (gtk_widget_is_ancestor (GTK_WIDGET (check), self->nano_box))
    {
      ids = with_id (formula->nano, id, active);
      og_document_set_label (self->document, (const char *const *) formula->shades,
                             (const char *const *) ids, formula->gather_scents);
    }
  else
    {
      ids = with_id (formula->shades, id, active);
      og_document_set_label (self->document, (const char *const *) ids,
                             (const char *const *) formula->nano, formula->gather_scents);
    }
}

/* Ticks for materials */

static GtkWidget *
append_tick (OgLabelForm        *self,
             GtkWidget          *box,
             const OgIngredient *ingredient,
             char              **ticked)
{
  GtkWidget *check = gtk_check_button_new ();
  GtkWidget *label = og_wrapping_label_new (ingredient->name, NULL);

  gtk_check_button_set_child (GTK_CHECK_BUTTON (check), label);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (check),
                               g_strv_contains ((const char *const *) ticked, ingredient->id));
  gtk_accessible_update_property (GTK_ACCESSIBLE (check),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, ingredient->name,
                                  -1);
  g_object_set_data_full (G_OBJECT (check), "og-id", g_strdup (ingredient->id), g_free);
  g_signal_connect_swapped (check, "toggled", G_CALLBACK (on_choice), self);
  gtk_box_append (GTK_BOX (box), check);
  return check;
}

/* The ids that the ticks of @box stand for, in order. */
static char *
ids_of (GtkWidget *box)
{
  GString *ids = g_string_new (NULL);

  for (GtkWidget *child = gtk_widget_get_first_child (box); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    g_string_append_printf (ids, "%s\n",
                            (const char *) g_object_get_data (G_OBJECT (child), "og-id"));
  return g_string_free (ids, FALSE);
}

/* Ticks are made again only when there are others, so that the focus stays. */
static void
fill_ticks (OgLabelForm  *self,
            GtkWidget    *box,
            GPtrArray    *ingredients,
            char        **ticked)
{
  g_autofree char *before = ids_of (box);
  g_autoptr (GString) now = g_string_new (NULL);
  guint i = 0;

  for (guint j = 0; j < ingredients->len; j++)
    g_string_append_printf (now, "%s\n", ((OgIngredient *) ingredients->pdata[j])->id);
  if (!g_str_equal (before, now->str))
    {
      og_box_clear (box);
      for (guint j = 0; j < ingredients->len; j++)
        append_tick (self, box, ingredients->pdata[j], ticked);
      return;
    }
  for (GtkWidget *child = gtk_widget_get_first_child (box); child != NULL;
       child = gtk_widget_get_next_sibling (child), i++)
    gtk_check_button_set_active (
      GTK_CHECK_BUTTON (child),
      g_strv_contains ((const char *const *) ticked,
                       ((OgIngredient *) ingredients->pdata[i])->id));
}

static void
fill_nano (OgLabelForm *self)
{
  g_autoptr (GPtrArray) contents =
    og_formula_contents (get_formula (self), og_document_get_catalog (self->document));
  g_autoptr (GPtrArray) asked = g_ptr_array_new ();

  for (guint i = 0; i < contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (contents, i);

      if (content->ingredient != NULL
          && og_ingredient_has_tag (content->ingredient, "nano-possible"))
        g_ptr_array_add (asked, (gpointer) content->ingredient);
    }
  fill_ticks (self, self->nano_box, asked, get_formula (self)->nano);
  gtk_widget_set_visible (self->nano_title, asked->len > 0);
}

static void
fill_shades (OgLabelForm *self)
{
  OgCatalog *catalog = og_document_get_catalog (self->document);
  g_autoptr (GPtrArray) colours = g_ptr_array_new ();
  const guint n = g_strv_length (get_formula (self)->shades);
  g_autofree char *label =
    /* Translators: button that opens the colours of other shades, with the number of ticks */
    n > 0 ? g_strdup_printf (_("Other shades hold… (%u)"), n) : g_strdup (_("Other shades hold…"));

  for (guint i = 0; i < og_catalog_get_n_items (catalog); i++)
    {
      const OgIngredient *ingredient = og_catalog_get_item (catalog, i);

      if (ingredient->kind == OG_KIND_COLOUR)
        g_ptr_array_add (colours, (gpointer) ingredient);
    }
  fill_ticks (self, self->shades_box, colours, get_formula (self)->shades);
  gtk_menu_button_set_label (GTK_MENU_BUTTON (self->shades_button), label);
}

static void
show_warnings (OgLabelForm *self)
{
  g_autofree char *typed = typed_warnings (self);

  if (!g_str_equal (typed, get_formula (self)->warnings))
    gtk_text_buffer_set_text (gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->warnings_view)),
                              get_formula (self)->warnings, -1);
}

void
og_label_form_update (OgLabelForm *self)
{
  const OgFormula *formula;

  g_return_if_fail (OG_IS_LABEL_FORM (self));

  if (self->document == NULL)
    return;
  formula = get_formula (self);
  self->filling = TRUE;
  og_cell_entry_set_number (self->nominal_entry, formula->package.nominal, 0, 3);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->unit_drop_down),
                              formula->package.unit == OG_NET_ML ? 0 : 1);
  og_cell_entry_set_number (self->open_months_entry,
                            formula->open_months > 0 ? formula->open_months : NAN, 0, 0);
  show_warnings (self);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->gather_check), formula->gather_scents);
  fill_nano (self);
  fill_shades (self);
  self->filling = FALSE;
}

static void
on_best_before (OgLabelForm *self)
{
  const char *text = entry_text (self->best_before_entry);

  og_label_set_optional (self->best_before_problem,
                         text == NULL || is_month (text) ? NULL
                                                         : _("Year and month, such as 2027-08"));
  emit_changed (self);
}

void
og_label_form_set_document (OgLabelForm *self,
                            OgDocument  *document)
{
  g_return_if_fail (OG_IS_LABEL_FORM (self));

  g_set_object (&self->document, document);
}

void
og_label_form_set_settings (OgLabelForm *self,
                            GSettings   *settings)
{
  g_return_if_fail (OG_IS_LABEL_FORM (self));

  if (settings == NULL)
    return;
  g_settings_bind (settings, "responsible", self->responsible_entry, "text",
                   G_SETTINGS_BIND_DEFAULT);
  g_settings_bind (settings, "country", self->country_entry, "text", G_SETTINGS_BIND_DEFAULT);
}

static gboolean
og_label_form_grab_focus (GtkWidget *widget)
{
  return gtk_widget_get_focus_child (widget) == NULL
         && gtk_widget_grab_focus (OG_LABEL_FORM (widget)->market_drop_down);
}

static void
og_label_form_dispose (GObject *object)
{
  OgLabelForm *self = OG_LABEL_FORM (object);

  g_clear_object (&self->document);
  gtk_widget_dispose_template (GTK_WIDGET (self), OG_TYPE_LABEL_FORM);

  G_OBJECT_CLASS (og_label_form_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *class)
{
  gtk_widget_class_bind_template_child (class, OgLabelForm, scroller);
  gtk_widget_class_bind_template_child (class, OgLabelForm, market_drop_down);
  gtk_widget_class_bind_template_child (class, OgLabelForm, nominal_entry);
  gtk_widget_class_bind_template_child (class, OgLabelForm, unit_drop_down);
  gtk_widget_class_bind_template_child (class, OgLabelForm, open_months_entry);
  gtk_widget_class_bind_template_child (class, OgLabelForm, batch_code_entry);
  gtk_widget_class_bind_template_child (class, OgLabelForm, best_before_entry);
  gtk_widget_class_bind_template_child (class, OgLabelForm, best_before_problem);
  gtk_widget_class_bind_template_child (class, OgLabelForm, responsible_entry);
  gtk_widget_class_bind_template_child (class, OgLabelForm, country_entry);
  gtk_widget_class_bind_template_child (class, OgLabelForm, warnings_view);
  gtk_widget_class_bind_template_child (class, OgLabelForm, gather_check);
  gtk_widget_class_bind_template_child (class, OgLabelForm, shades_button);
  gtk_widget_class_bind_template_child (class, OgLabelForm, shades_box);
  gtk_widget_class_bind_template_child (class, OgLabelForm, nano_title);
  gtk_widget_class_bind_template_child (class, OgLabelForm, nano_box);
  gtk_widget_class_bind_template_callback (class, emit_changed);
  gtk_widget_class_bind_template_callback (class, on_nominal);
  gtk_widget_class_bind_template_callback (class, on_unit);
  gtk_widget_class_bind_template_callback (class, on_open_months);
  gtk_widget_class_bind_template_callback (class, on_best_before);
  gtk_widget_class_bind_template_callback (class, on_choice);
}

static void
og_label_form_class_init (OgLabelFormClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = og_label_form_dispose;
  widget_class->grab_focus = og_label_form_grab_focus;

  signals[CHANGED] = g_signal_new ("changed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                   NULL, NULL, NULL, G_TYPE_NONE, 0);

  g_type_ensure (OG_TYPE_CELL_ENTRY);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/oleograph/Oleograph/label-form.ui");
  bind_children (widget_class);
  gtk_widget_class_set_css_name (widget_class, "labelform");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
watch_warnings (OgLabelForm *self)
{
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->warnings_view));
  GtkEventController *focus = gtk_event_controller_focus_new ();

  /* The document undoes them, like everything else. */
  gtk_text_buffer_set_enable_undo (buffer, FALSE);
  g_signal_connect_object (buffer, "changed", G_CALLBACK (on_warnings_typed), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (on_warnings_left), self);
  gtk_widget_add_controller (self->warnings_view, focus);
}

static void
og_label_form_init (OgLabelForm *self)
{
  g_autoptr (GtkStringList) markets = gtk_string_list_new (NULL);

  self->filling = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  for (guint i = 0; i < OG_N_MARKETS; i++)
    gtk_string_list_append (markets, og_market_get_name ((OgMarket) i));
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->market_drop_down), G_LIST_MODEL (markets));
  og_drop_down_set_name (self->market_drop_down, _("Market"));
  og_drop_down_set_name (self->unit_drop_down, _("Unit of the net content"));
  watch_warnings (self);
  self->filling = FALSE;
}

GtkWidget *
og_label_form_new (void)
{
  return g_object_new (OG_TYPE_LABEL_FORM, NULL);
}
