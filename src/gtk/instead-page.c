/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "draw/numbers.h"
#include "gtk/instead-page.h"
#include "gtk/labels.h"
#include "gtk/tag-filter.h"

#define SAME_BODY 0.1
#define TIMES_FROM 1.95
#define MOST_REASONS 3

struct _OgInsteadPage
{
  GtkWidget parent_instance;

  GtkWidget *choice_box;
  GtkWidget *material_drop_down;
  GtkWidget *without_button;
  GtkWidget *tag_filter;
  GtkWidget *stack;
  GtkWidget *message_label;
  GtkWidget *list;

  OgDocument *document;
  char *ingredient_id;
  GPtrArray *ids;         /* of char*: the materials of the recipe, as the drop-down lists them */
  GPtrArray *suggestions; /* of OgSuggestion; nullable */
  OgCatalog *catalog;     /* what the suggestions point into; nullable */
  guint idle;
  gboolean stale;
  gboolean filling;       /* the drop-down is being filled: its choice is not the reader's */
};

G_DEFINE_FINAL_TYPE (OgInsteadPage, og_instead_page, GTK_TYPE_WIDGET)

enum
{
  CHOSEN,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static char *
change_text (double value)
{
  const gboolean thinner = value < 1.0;
  const double factor = thinner ? 1.0 / value : value;
  g_autofree char *times = og_number_significant (factor, factor < 10.0 ? 2 : 1);
  g_autofree char *pct = og_number_fixed (fabs (value - 1.0) * 100.0, 0);

  if (factor >= TIMES_FROM)
    return thinner ? g_strdup_printf (_("about %s times thinner"), times)
                   : g_strdup_printf (_("about %s times thicker"), times);
  return thinner ? g_strdup_printf (_("about %s %% thinner"), pct)
                 : g_strdup_printf (_("about %s %% thicker"), pct);
}

char *
og_viscosity_change_to_text (const OgEstimate *ratio)
{
  g_autofree char *change = NULL;
  g_autofree char *low = NULL;
  g_autofree char *high = NULL;

  if (!og_estimate_is_known (ratio) || ratio->value <= 0.0)
    return g_strdup (_("What it does to the body is unknown"));
  if (ratio->low80 >= 1.0 - SAME_BODY && ratio->high80 <= 1.0 + SAME_BODY)
    return g_strdup (_("The body stays within 10 %"));

  low = og_number_significant (ratio->low80, 2);
  high = og_number_significant (ratio->high80, 2);
  change = fabs (ratio->value - 1.0) < SAME_BODY / 2.0 ? g_strdup (_("about the same body"))
                                                        : change_text (ratio->value);
  if (!isfinite (ratio->low80) || !isfinite (ratio->high80))
    return g_steal_pointer (&change);
  /* Translators: a change in words, then the range of the new viscosity over the old one */
  return g_strdup_printf (_("%s; 80 %% between %s and %s times the viscosity"), change, low, high);
}

static void
show_message (OgInsteadPage *self,
              const char    *text)
{
  gtk_label_set_label (GTK_LABEL (self->message_label), text);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "message");
}

static void
clear_list (OgInsteadPage *self)
{
  GtkWidget *row;

  while ((row = gtk_widget_get_first_child (self->list)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (self->list), row);
}

gboolean
og_instead_page_apply (OgInsteadPage *self,
                       guint          index)
{
  const OgSuggestion *suggestion;
  g_autofree char *new = NULL;

  g_return_val_if_fail (OG_IS_INSTEAD_PAGE (self), FALSE);

  if (self->suggestions == NULL || index >= self->suggestions->len || self->stale)
    return FALSE;
  suggestion = g_ptr_array_index (self->suggestions, index);
  new = g_strdup (og_suggestion_get_part (suggestion, 0)->ingredient->id);
  if (!og_document_apply_suggestion (self->document, suggestion))
    return FALSE;
  og_instead_page_set_ingredient_id (self, new);
  g_signal_emit (self, signals[CHOSEN], 0, new);
  return TRUE;
}

static void
on_apply_clicked (GtkButton     *button,
                  OgInsteadPage *self)
{
  const guint index = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "og-index"));

  if (!og_instead_page_apply (self, index))
    gtk_widget_error_bell (GTK_WIDGET (self));
}

static GtkWidget *
make_apply_button (OgInsteadPage      *self,
                   const OgSuggestion *suggestion,
                   guint               index)
{
  /* Translators: puts the suggested material into the recipe */
  GtkWidget *button = gtk_button_new_with_label (_("Use it"));
  g_autofree char *title = og_suggestion_get_title (suggestion);
  g_autofree char *label =
    /* Translators: %s is the name of a material */
    g_strdup_printf (_("Use %s"), title);

  gtk_widget_set_valign (button, GTK_ALIGN_START);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                  -1);
  g_object_set_data (G_OBJECT (button), "og-index", GUINT_TO_POINTER (index));
  g_signal_connect (button, "clicked", G_CALLBACK (on_apply_clicked), self);
  return button;
}

static char *
reasons_text (const OgSuggestion *suggestion)
{
  g_autoptr(GStrvBuilder) builder = g_strv_builder_new ();
  g_auto(GStrv) lines = NULL;

  for (guint i = 0; i < MIN (suggestion->reasons->len, MOST_REASONS); i++)
    g_strv_builder_add (builder, g_ptr_array_index (suggestion->reasons, i));
  lines = g_strv_builder_end (builder);
  return g_strjoinv ("\n", lines);
}

static void
append_suggestion (OgInsteadPage      *self,
                   const OgSuggestion *suggestion,
                   guint               index)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  g_autofree char *title = og_suggestion_get_title (suggestion);
  g_autofree char *change = og_viscosity_change_to_text (&suggestion->viscosity_ratio);
  g_autofree char *reasons = reasons_text (suggestion);
  g_autofree char *spoken = g_strdup_printf ("%s. %s. %s", title, change, reasons);

  gtk_widget_set_hexpand (words, TRUE);
  gtk_box_append (GTK_BOX (words), og_wrapping_label_new (title, "heading"));
  gtk_box_append (GTK_BOX (words), og_wrapping_label_new (change, "numeric"));
  if (*reasons != '\0')
    gtk_box_append (GTK_BOX (words), og_wrapping_label_new (reasons, "fact-origin"));
  gtk_box_append (GTK_BOX (line), words);
  gtk_box_append (GTK_BOX (line), make_apply_button (self, suggestion, index));
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), FALSE);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), line);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, spoken,
                                  -1);
  gtk_list_box_append (GTK_LIST_BOX (self->list), row);
}

static void
forget_suggestions (OgInsteadPage *self)
{
  g_clear_pointer (&self->suggestions, g_ptr_array_unref);
  g_clear_pointer (&self->catalog, og_catalog_unref);
}

static void
show_suggestions (OgInsteadPage *self)
{
  const OgSubstitutionOptions options = {
    .without_tags = og_tag_filter_get_tags (OG_TAG_FILTER (self->tag_filter)),
  };
  const char *const ids[] = { self->ingredient_id, NULL };
  g_autoptr(GError) error = NULL;

  self->catalog = og_catalog_ref (og_document_get_catalog (self->document));
  self->suggestions = og_substitute (og_document_get_formula (self->document), self->catalog, ids,
                                     &options, &error);
  if (self->suggestions == NULL)
    {
      show_message (self, error->message);
      return;
    }
  if (self->suggestions->len == 0)
    {
      show_message (self, options.without_tags != NULL
                            ? _("Nothing does the same job. Allow more under “Without”.")
                            : _("Nothing on the shelf does the same job."));
      return;
    }
  for (guint i = 0; i < self->suggestions->len; i++)
    append_suggestion (self, g_ptr_array_index (self->suggestions, i), i);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "list");
}

static void
refresh (OgInsteadPage *self)
{
  self->stale = FALSE;
  clear_list (self);
  forget_suggestions (self);
  if (self->document == NULL
      || og_formula_get_n_lines (og_document_get_formula (self->document)) == 0)
    show_message (self,
                  _("Once the recipe holds a material, this says what could stand in for it."));
  else if (self->ingredient_id == NULL
           || og_formula_find_ingredient (og_document_get_formula (self->document),
                                          self->ingredient_id) == NULL)
    show_message (self, _("Choose a material of the recipe to see what could stand in for it."));
  else
    show_suggestions (self);
}

guint
og_instead_page_flush (OgInsteadPage *self)
{
  g_return_val_if_fail (OG_IS_INSTEAD_PAGE (self), 0);

  g_clear_handle_id (&self->idle, g_source_remove);
  if (self->stale)
    refresh (self);
  return self->suggestions != NULL ? self->suggestions->len : 0;
}

static gboolean
on_idle (gpointer user_data)
{
  OgInsteadPage *self = user_data;

  self->idle = 0;
  refresh (self);
  return G_SOURCE_REMOVE;
}

static void
schedule (OgInsteadPage *self)
{
  if (self->stale && self->idle == 0 && gtk_widget_get_mapped (GTK_WIDGET (self)))
    self->idle = g_idle_add_full (G_PRIORITY_LOW, on_idle, self, NULL);
}

static void
make_stale (OgInsteadPage *self)
{
  self->stale = TRUE;
  schedule (self);
}

static void
add_id (OgFormulaPhase *phase,
        OgFormulaLine  *line,
        gpointer        user_data)
{
  GPtrArray *ids = user_data;

  if (!g_ptr_array_find_with_equal_func (ids, line->ingredient_id, g_str_equal, NULL))
    g_ptr_array_add (ids, g_strdup (line->ingredient_id));
}

static void
select_material (OgInsteadPage *self)
{
  guint i;

  if (self->ingredient_id == NULL
      || !g_ptr_array_find_with_equal_func (self->ids, self->ingredient_id, g_str_equal, &i))
    i = GTK_INVALID_LIST_POSITION;
  self->filling = TRUE;
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->material_drop_down), i);
  self->filling = FALSE;
}

static gboolean
same_ids (const GPtrArray *a,
          const GPtrArray *b)
{
  if (a->len != b->len)
    return FALSE;
  for (guint i = 0; i < a->len; i++)
    {
      if (strcmp (g_ptr_array_index (a, i), g_ptr_array_index (b, i)) != 0)
        return FALSE;
    }
  return TRUE;
}

static void
fill_materials (OgInsteadPage *self)
{
  g_autoptr(GPtrArray) ids = g_ptr_array_new_with_free_func (g_free);
  g_autoptr(GtkStringList) names = gtk_string_list_new (NULL);
  OgCatalog *catalog;

  if (self->document != NULL)
    og_formula_foreach_line (og_document_get_formula (self->document), add_id, ids);
  gtk_widget_set_sensitive (self->material_drop_down, ids->len > 0);
  if (same_ids (ids, self->ids))
    {
      select_material (self);
      return;
    }
  g_ptr_array_unref (self->ids);
  self->ids = g_steal_pointer (&ids);
  catalog = self->document != NULL ? og_document_get_catalog (self->document) : NULL;
  for (guint i = 0; i < self->ids->len; i++)
    {
      const char *id = g_ptr_array_index (self->ids, i);
      const OgIngredient *ingredient = og_catalog_get (catalog, id);

      gtk_string_list_append (names, ingredient != NULL ? ingredient->name : id);
    }
  self->filling = TRUE;
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->material_drop_down), G_LIST_MODEL (names));
  self->filling = FALSE;
  select_material (self);
}

static void
on_material_selected (OgInsteadPage *self)
{
  const guint i = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->material_drop_down));
  g_autofree char *id = NULL;

  if (self->filling || i >= self->ids->len)
    return;
  id = g_strdup (g_ptr_array_index (self->ids, i));
  og_instead_page_set_ingredient_id (self, id);
  g_signal_emit (self, signals[CHOSEN], 0, id);
}

static void
on_without_changed (OgInsteadPage *self)
{
  const guint n = og_tag_filter_get_n (OG_TAG_FILTER (self->tag_filter));
  g_autofree char *label =
    /* Translators: button that opens what to leave out, with the number of ticks */
    n > 0 ? g_strdup_printf (_("Without (%u)"), n) : g_strdup (_("Without"));

  gtk_menu_button_set_label (GTK_MENU_BUTTON (self->without_button), label);
  make_stale (self);
}

static void
on_formula_changed (OgInsteadPage *self)
{
  fill_materials (self);
  make_stale (self);
}

void
og_instead_page_set_document (OgInsteadPage *self,
                              OgDocument    *document)
{
  g_return_if_fail (OG_IS_INSTEAD_PAGE (self));

  if (self->document == document)
    return;
  if (self->document != NULL)
    g_signal_handlers_disconnect_by_data (self->document, self);
  g_set_object (&self->document, document);
  if (document != NULL)
    g_signal_connect_object (document, "formula-changed", G_CALLBACK (on_formula_changed), self,
                             G_CONNECT_SWAPPED);
  on_formula_changed (self);
}

void
og_instead_page_set_ingredient_id (OgInsteadPage *self,
                                   const char    *ingredient_id)
{
  g_return_if_fail (OG_IS_INSTEAD_PAGE (self));

  if (g_strcmp0 (self->ingredient_id, ingredient_id) == 0)
    return;
  g_free (self->ingredient_id);
  self->ingredient_id = g_strdup (ingredient_id);
  select_material (self);
  make_stale (self);
}

const char *
og_instead_page_get_ingredient_id (OgInsteadPage *self)
{
  g_return_val_if_fail (OG_IS_INSTEAD_PAGE (self), NULL);

  return self->ingredient_id;
}

static void
og_instead_page_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (og_instead_page_parent_class)->map (widget);

  schedule (OG_INSTEAD_PAGE (widget));
}

/* Asked also when the focus leaves backwards; then it is to go on. */
static gboolean
og_instead_page_grab_focus (GtkWidget *widget)
{
  return gtk_widget_get_focus_child (widget) == NULL
         && gtk_widget_grab_focus (OG_INSTEAD_PAGE (widget)->material_drop_down);
}

static void
og_instead_page_dispose (GObject *object)
{
  OgInsteadPage *self = OG_INSTEAD_PAGE (object);

  g_clear_handle_id (&self->idle, g_source_remove);
  if (self->document != NULL)
    g_signal_handlers_disconnect_by_data (self->document, self);
  g_clear_object (&self->document);
  gtk_widget_dispose_template (GTK_WIDGET (self), OG_TYPE_INSTEAD_PAGE);

  G_OBJECT_CLASS (og_instead_page_parent_class)->dispose (object);
}

static void
og_instead_page_finalize (GObject *object)
{
  OgInsteadPage *self = OG_INSTEAD_PAGE (object);

  forget_suggestions (self);
  g_ptr_array_unref (self->ids);
  g_free (self->ingredient_id);

  G_OBJECT_CLASS (og_instead_page_parent_class)->finalize (object);
}

static void
og_instead_page_class_init (OgInsteadPageClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  object_class->dispose = og_instead_page_dispose;
  object_class->finalize = og_instead_page_finalize;
  widget_class->map = og_instead_page_map;
  widget_class->grab_focus = og_instead_page_grab_focus;

  signals[CHOSEN] = g_signal_new ("chosen", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                  NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);

  g_type_ensure (OG_TYPE_TAG_FILTER);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/oleograph/Oleograph/instead-page.ui");
  gtk_widget_class_bind_template_child (widget_class, OgInsteadPage, choice_box);
  gtk_widget_class_bind_template_child (widget_class, OgInsteadPage, material_drop_down);
  gtk_widget_class_bind_template_child (widget_class, OgInsteadPage, without_button);
  gtk_widget_class_bind_template_child (widget_class, OgInsteadPage, tag_filter);
  gtk_widget_class_bind_template_child (widget_class, OgInsteadPage, stack);
  gtk_widget_class_bind_template_child (widget_class, OgInsteadPage, message_label);
  gtk_widget_class_bind_template_child (widget_class, OgInsteadPage, list);
  gtk_widget_class_bind_template_callback (widget_class, on_material_selected);
  gtk_widget_class_bind_template_callback (widget_class, on_without_changed);
  gtk_widget_class_set_css_name (widget_class, "insteadpage");
}

static void
og_instead_page_init (OgInsteadPage *self)
{
  self->ids = g_ptr_array_new_with_free_func (g_free);
  gtk_widget_init_template (GTK_WIDGET (self));
  fill_materials (self);
  refresh (self);
}

GtkWidget *
og_instead_page_new (void)
{
  return g_object_new (OG_TYPE_INSTEAD_PAGE, NULL);
}
