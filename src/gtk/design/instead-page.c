/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "core/base/number-text.h"
#include "gtk/design/effects-dialog.h"
#include "gtk/design/instead-page.h"
#include "gtk/design/suggestion-text.h"
#include "gtk/design/weights-editor.h"
#include "gtk/parts/drop-down.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/pieces.h"
#include "gtk/parts/tag-filter.h"
#include "gtk/parts/work-bar.h"

#define USUAL_PARTS 2

struct _OgInsteadPage
{
  OgDocumentPage parent_instance;

  GtkWidget *scroller;
  GtkWidget *choice_box;
  GtkWidget *material_drop_down;
  GtkWidget *others_button;
  GtkWidget *others_box;
  GtkWidget *parts_drop_down;
  GtkWidget *intent_drop_down;
  GtkWidget *weights_button;
  GtkWidget *weights_editor;
  GtkWidget *without_button;
  GtkWidget *stocked_button;
  GtkWidget *tag_filter;
  GtkWidget *left_out_box;
  GtkWidget *work_bar;
  GtkWidget *gap_box;
  GtkWidget *stack;
  GtkWidget *message_label;
  GtkWidget *list;

  OgDocument *document; /* nullable, borrowed from the parent */
  OgShelf *shelf;         /* nullable */
  char *ingredient_id;
  char *replaced_id;      /* nullable: what @ingredient_id came instead of */
  GPtrArray *replaced_together; /* nullable, of char*: what was replaced with it */
  GPtrArray *ids;         /* of char*: the materials of the recipe, as the drop-down lists them */
  GPtrArray *together;    /* of char*: what else is replaced */
  GPtrArray *left_out;    /* of char*: never suggested */
  GPtrArray *suggestions; /* of OgSuggestion; nullable */
  OgCatalog *catalog;     /* what the suggestions point into; nullable */
  gboolean shelf_asked;   /* stock and prices were asked for */
  gboolean filling;       /* widgets are being filled: their choice is not the reader's */
};

G_DEFINE_FINAL_TYPE (OgInsteadPage, og_instead_page, OG_TYPE_DOCUMENT_PAGE)

enum
{
  CHOSEN,
  APPLIED,
  SHELF_WANTED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

/* In the thread */

typedef struct
{
  OgFormula *formula;
  OgCatalog *catalog;
  OgBelief *belief; /* nullable */
  OgShelf *shelf;   /* nullable */
  char **ids;
  char **tags;      /* nullable */
  char **left_out;
  OgSubstitutionWeights weights;
  guint most_parts;
  gboolean stocked;
} Request;

static void
free_request (gpointer data)
{
  Request *request = data;

  og_formula_free (request->formula);
  og_catalog_unref (request->catalog);
  g_clear_pointer (&request->belief, og_belief_unref);
  g_clear_pointer (&request->shelf, og_shelf_unref);
  g_strfreev (request->ids);
  g_strfreev (request->tags);
  g_strfreev (request->left_out);
  g_free (request);
}

typedef struct
{
  GPtrArray *suggestions; /* of OgSuggestion */
  GPtrArray *left_out;    /* of OgSaying */
} Answer;

static void
free_answer (gpointer data)
{
  Answer *answer = data;

  g_clear_pointer (&answer->suggestions, g_ptr_array_unref);
  g_clear_pointer (&answer->left_out, g_ptr_array_unref);
  g_free (answer);
}

static gboolean
on_search_progress (double   done,
                    double   best,
                    double   bound,
                    gpointer user_data)
{
  return og_work_report (user_data, done);
}

static gpointer
compute (gpointer   data,
         OgWork    *work,
         GError   **error)
{
  const Request *request = data;
  Answer *answer = g_new0 (Answer, 1);
  const OgSubstitutionOptions options = {
    .without_tags = (const char *const *) request->tags,
    .without_ids = (const char *const *) request->left_out,
    .most_parts = request->most_parts,
    .weights = &request->weights,
    .shelf = request->shelf,
    .stocked = request->stocked,
    .belief = request->belief,
    .left_out = &answer->left_out,
    .progress = on_search_progress,
    .progress_data = work,
  };

  answer->suggestions = og_substitute (request->formula, request->catalog,
                                       (const char *const *) request->ids, &options, error);
  if (answer->suggestions == NULL)
    g_clear_pointer (&answer, free_answer);
  return answer;
}

static const OgWorkKind search = { compute, free_request, free_answer };

/* What is shown */

static void
show_message (OgInsteadPage *self,
              const char    *text)
{
  gtk_label_set_label (GTK_LABEL (self->message_label), text);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "message");
}

static const char *
material_name (OgInsteadPage *self,
               const char    *id)
{
  const OgIngredient *ingredient =
    self->document != NULL ? og_catalog_get (og_document_get_catalog (self->document), id) : NULL;

  return ingredient != NULL ? ingredient->name : id;
}

const OgSuggestion *
og_instead_page_get_suggestion (OgInsteadPage *self,
                                guint          index)
{
  g_return_val_if_fail (OG_IS_INSTEAD_PAGE (self), NULL);

  if (self->suggestions == NULL || index >= self->suggestions->len
      || og_document_page_is_due (OG_DOCUMENT_PAGE (self)))
    return NULL;
  return g_ptr_array_index (self->suggestions, index);
}

/* Tells that the recipe holds @id now instead of @all, by an act called @label. */
static void
tell_applied (OgInsteadPage      *self,
              const char *const  *all,
              const char         *id,
              const char         *label)
{
  g_autofree char *replaced = g_strdup (self->ingredient_id);

  g_clear_pointer (&self->replaced_together, g_ptr_array_unref);
  self->replaced_together = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; all[i] != NULL; i++)
    if (g_strcmp0 (all[i], replaced) != 0)
      g_ptr_array_add (self->replaced_together, g_strdup (all[i]));
  og_instead_page_set_ingredient_id (self, id);
  g_free (self->replaced_id);
  self->replaced_id = g_steal_pointer (&replaced);
  g_signal_emit (self, signals[CHOSEN], 0, id);
  g_signal_emit (self, signals[APPLIED], 0, label);
}

gboolean
og_instead_page_apply (OgInsteadPage *self,
                       guint          index)
{
  const OgSuggestion *suggestion = og_instead_page_get_suggestion (self, index);
  g_auto(GStrv) replaced = NULL;
  g_autofree char *new = NULL;
  g_autofree char *label = NULL;

  if (suggestion == NULL)
    return FALSE;
  replaced = g_strdupv (suggestion->replaced);
  new = g_strdup (og_suggestion_get_part (suggestion, 0)->ingredient->id);
  if (!og_document_apply_suggestion (self->document, suggestion))
    return FALSE;
  label = g_strdup (og_document_get_undo_label (self->document));
  tell_applied (self, (const char *const *) replaced, new, label);
  return TRUE;
}

static void
on_apply_clicked (GtkButton     *button,
                  OgInsteadPage *self)
{
  if (!og_instead_page_apply (self, og_row_button_get_index (button)))
    gtk_widget_error_bell (GTK_WIDGET (self));
}

static void
on_compared (OgInsteadPage *self,
             GtkWidget     *dialog)
{
  g_autofree char *label = g_strdup (og_document_get_undo_label (self->document));

  tell_applied (self, g_object_get_data (G_OBJECT (dialog), "og-replaced"),
                g_object_get_data (G_OBJECT (dialog), "og-new-id"), label);
}

static char *
replace_label (OgInsteadPage      *self,
               const OgSuggestion *suggestion,
               const char         *new)
{
  if (g_strv_length (suggestion->replaced) > 1)
    /* Translators: %s is the material, or are the materials, that come instead of several others */
    return g_strdup_printf (_("Replace several materials by %s"), new);
  /* Translators: the first %s is the material that goes, the second the one that comes */
  return g_strdup_printf (_("Replace %s by %s"), material_name (self, suggestion->replaced[0]),
                          new);
}

GtkWidget *
og_instead_page_compare (OgInsteadPage *self,
                         guint          index)
{
  const OgSuggestion *suggestion = og_instead_page_get_suggestion (self, index);
  g_autoptr (OgSaying) title = NULL;
  g_autofree char *label = NULL;
  OgFormula *after;
  GtkWidget *dialog;

  if (suggestion == NULL)
    return NULL;
  title = og_suggestion_get_title (suggestion);
  label = replace_label (self, suggestion, og_saying_text (title));
  after = og_substitution_apply (og_document_get_formula (self->document), suggestion);
  dialog = og_effects_dialog_new (self->document, after, label, label, TRUE, self->shelf);
  g_object_set_data_full (G_OBJECT (dialog), "og-replaced", g_strdupv (suggestion->replaced),
                          (GDestroyNotify) g_strfreev);
  g_object_set_data_full (G_OBJECT (dialog), "og-new-id",
                          g_strdup (og_suggestion_get_part (suggestion, 0)->ingredient->id),
                          g_free);
  g_signal_connect_object (dialog, "applied", G_CALLBACK (on_compared), self, G_CONNECT_SWAPPED);
  og_present_over (GTK_WIDGET (self), dialog);
  return dialog;
}

static void
on_compare_clicked (GtkButton     *button,
                    OgInsteadPage *self)
{
  if (og_instead_page_compare (self, og_row_button_get_index (button)) == NULL)
    gtk_widget_error_bell (GTK_WIDGET (self));
}

static void
on_leave_out_clicked (GtkButton     *button,
                      OgInsteadPage *self)
{
  const char *id = g_object_get_data (G_OBJECT (button), "og-id");
  GtkWidget *popover = gtk_widget_get_ancestor (GTK_WIDGET (button), GTK_TYPE_POPOVER);

  if (popover != NULL)
    gtk_popover_popdown (GTK_POPOVER (popover));
  og_instead_page_leave_out (self, id, TRUE);
}

static void
on_allow_clicked (GtkButton     *button,
                  OgInsteadPage *self)
{
  g_autofree char *id = g_strdup (g_object_get_data (G_OBJECT (button), "og-id"));

  og_instead_page_leave_out (self, id, FALSE);
}

/* Rows */

static GtkWidget *
make_id_button (OgInsteadPage *self,
                const char    *text,
                const char    *spoken,
                const char    *id,
                GCallback      callback)
{
  GtkWidget *button = og_row_button_new (text, spoken, 0, callback, self);

  g_object_set_data_full (G_OBJECT (button), "og-id", g_strdup (id), g_free);
  gtk_widget_add_css_class (button, "flat");
  return button;
}

static GtkWidget *
make_apply_button (OgInsteadPage *self,
                   const char    *title,
                   guint          index)
{
  /* Translators: %s is the name of a material */
  g_autofree char *spoken = g_strdup_printf (_("Use %s"), title);

  /* Translators: puts the suggested material into the recipe */
  return og_row_button_new (_("Use it"), spoken, index, G_CALLBACK (on_apply_clicked), self);
}

/* A single material is left out at once; of several the reader says which. */
static GtkWidget *
make_leave_out_button (OgInsteadPage      *self,
                       const OgSuggestion *suggestion,
                       const char         *title)
{
  /* Translators: %s is the name of a material, or of several */
  g_autofree char *spoken = g_strdup_printf (_("Do not suggest %s"), title);
  const OgSuggestedPart *part = og_suggestion_get_part (suggestion, 0);
  GtkWidget *button;
  GtkWidget *popover;
  GtkWidget *box;

  if (suggestion->parts->len == 1)
    return make_id_button (self, _("Not this one"), spoken, part->ingredient->id,
                           G_CALLBACK (on_leave_out_clicked));
  button = gtk_menu_button_new ();
  popover = gtk_popover_new ();
  box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  for (guint i = 0; (part = og_suggestion_get_part (suggestion, i)) != NULL; i++)
    {
      /* Translators: %s is the name of a material */
      g_autofree char *text = g_strdup_printf (_("Do not suggest %s"), part->ingredient->name);

      gtk_box_append (GTK_BOX (box), make_id_button (self, text, text, part->ingredient->id,
                                                     G_CALLBACK (on_leave_out_clicked)));
    }
  gtk_popover_set_child (GTK_POPOVER (popover), box);
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (button), popover);
  gtk_menu_button_set_label (GTK_MENU_BUTTON (button), _("Not this one"));
  gtk_widget_add_css_class (button, "flat");
  gtk_accessible_update_property (GTK_ACCESSIBLE (button),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, spoken,
                                  -1);
  return button;
}

static void
append_words (GtkWidget  *box,
              const char *text,
              const char *style)
{
  if (text != NULL)
    gtk_box_append (GTK_BOX (box), og_wrapping_label_new (text, style));
}

static GtkWidget *
make_words (const OgSuggestion *suggestion,
            const char         *parts,
            char              **spoken)
{
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  g_autofree char *change = og_viscosity_change_to_text (&suggestion->viscosity_ratio);
  g_autofree char *reasons = og_suggestion_reasons_to_text (suggestion);
  g_autofree char *distance = og_suggestion_distance_to_text (suggestion);
  g_autofree char *rest = og_suggestion_rest_to_text (suggestion);
  g_autofree char *kinds = og_suggestion_kinds_to_text (suggestion);
  g_autofree char *losses = og_suggestion_losses_to_text (suggestion);
  g_autofree char *moves = og_suggestion_moves_to_text (suggestion);
  GtkWidget *distance_label = og_wrapping_label_new (distance, "fact-origin");

  gtk_widget_set_tooltip_text (distance_label,
                               _("0: the same in all that counts. 1: on average as different as a "
                                 "formulator notices."));
  gtk_box_append (GTK_BOX (words), og_wrapping_label_new (parts, "heading"));
  append_words (words, kinds, "fact-origin");
  gtk_box_append (GTK_BOX (words), og_wrapping_label_new (change, "numeric"));
  append_words (words, rest, "numeric");
  append_words (words, moves, "fact-origin");
  append_words (words, losses, "fact-origin");
  gtk_box_append (GTK_BOX (words), distance_label);
  if (*reasons != '\0')
    gtk_box_append (GTK_BOX (words), og_wrapping_label_new (reasons, "fact-origin"));
  *spoken = g_strjoin (" ", parts, kinds != NULL ? kinds : "", change, rest != NULL ? rest : "",
                       moves != NULL ? moves : "", losses, distance, reasons, NULL);
  return words;
}

static void
append_suggestion (OgInsteadPage      *self,
                   const OgSuggestion *suggestion,
                   guint               index)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *acts = og_acts_new ();
  g_autoptr (OgSaying) names = og_suggestion_get_title (suggestion);
  const char *title = og_saying_text (names);
  g_autofree char *parts = og_suggestion_parts_to_text (suggestion);
  g_autofree char *spoken = NULL;
  /* Translators: %s is the name of a material, or of several */
  g_autofree char *compare = g_strdup_printf (_("Compare with %s"), title);
  GtkWidget *compare_button = og_row_button_new (_("Compare…"), compare, index,
                                                 G_CALLBACK (on_compare_clicked), self);

  gtk_widget_add_css_class (compare_button, "flat");
  og_acts_append (acts, make_apply_button (self, title, index));
  og_acts_append (acts, compare_button);
  og_acts_append (acts, make_leave_out_button (self, suggestion, title));
  gtk_box_append (GTK_BOX (box), make_words (suggestion, parts, &spoken));
  gtk_box_append (GTK_BOX (box), acts);
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), FALSE);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, spoken,
                                  -1);
  gtk_list_box_append (GTK_LIST_BOX (self->list), row);
}

/* The search */

static void
forget_suggestions (OgInsteadPage *self)
{
  og_list_clear (self->list);
  gtk_widget_set_visible (self->gap_box, FALSE);
  g_clear_pointer (&self->suggestions, g_ptr_array_unref);
  g_clear_pointer (&self->catalog, og_catalog_unref);
}

static gboolean
leaves_out (OgInsteadPage *self)
{
  return og_tag_filter_get_n (OG_TAG_FILTER (self->tag_filter)) > 0 || self->left_out->len > 0
         || gtk_check_button_get_active (GTK_CHECK_BUTTON (self->stocked_button));
}

/* What a formulator would look for and does not find, and why. */
static void
append_left_out (OgInsteadPage   *self,
                 const GPtrArray *left_out)
{
  for (guint i = 0; i < left_out->len; i++)
    {
      GtkWidget *row = gtk_list_box_row_new ();

      gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row),
                                  og_wrapping_label_new (og_saying_text (g_ptr_array_index (left_out, i)),
                                                         "fact-origin"));
      gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), FALSE);
      gtk_list_box_append (GTK_LIST_BOX (self->list), row);
    }
}

static void
show_suggestions (OgInsteadPage   *self,
                  const GPtrArray *left_out)
{
  gboolean proven = TRUE;

  if (self->suggestions->len == 0)
    {
      show_message (self, leaves_out (self)
                            ? _("Nothing does the same job. Allow more under “Without”.")
                            : _("Nothing on the shelf does the same job."));
      return;
    }
  for (guint i = 0; i < self->suggestions->len; i++)
    {
      const OgSuggestion *suggestion = g_ptr_array_index (self->suggestions, i);

      append_suggestion (self, suggestion, i);
      proven &= suggestion->optimal;
    }
  append_left_out (self, left_out);
  gtk_widget_set_visible (self->gap_box, !proven);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "list");
}

static void
on_found (gpointer      data,
          const GError *error,
          gpointer      user_data)
{
  OgInsteadPage *self = user_data;
  Answer *answer = data;
  OgCatalog *catalog = og_catalog_ref (og_document_get_catalog (self->document));

  forget_suggestions (self);
  self->suggestions = answer != NULL ? g_steal_pointer (&answer->suggestions) : NULL;
  self->catalog = catalog;
  gtk_widget_set_sensitive (self->list, TRUE);
  if (answer == NULL)
    {
      show_message (self, error->message);
      return;
    }
  show_suggestions (self, answer->left_out);
  free_answer (answer);
}

static char **
copy_ids (const GPtrArray *ids,
          const char      *first)
{
  g_autoptr(GStrvBuilder) builder = g_strv_builder_new ();

  if (first != NULL)
    g_strv_builder_add (builder, first);
  for (guint i = 0; i < ids->len; i++)
    g_strv_builder_add (builder, g_ptr_array_index (ids, i));
  return g_strv_builder_end (builder);
}

static void
start_search (OgInsteadPage *self)
{
  Request *request = g_new0 (Request, 1);
  OgBelief *belief = og_document_get_belief (self->document);

  request->formula = og_work_copy_formula (og_document_get_formula (self->document));
  request->catalog = og_catalog_ref (og_document_get_catalog (self->document));
  request->belief = belief != NULL ? og_belief_ref (belief) : NULL;
  request->shelf = self->shelf != NULL ? og_shelf_ref (self->shelf) : NULL;
  request->ids = copy_ids (self->together, self->ingredient_id);
  request->tags =
    g_strdupv ((char **) og_tag_filter_get_tags (OG_TAG_FILTER (self->tag_filter)));
  request->left_out = copy_ids (self->left_out, NULL);
  request->weights = *og_weights_editor_get (OG_WEIGHTS_EDITOR (self->weights_editor));
  request->most_parts = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->parts_drop_down)) + 1;
  request->stocked = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->stocked_button));
  og_work_bar_run (OG_WORK_BAR (self->work_bar), &search, request, on_found, self);
}

static void
og_instead_page_refresh (OgDocumentPage *page)
{
  OgInsteadPage *self = OG_INSTEAD_PAGE (page);

  if (!self->shelf_asked && self->ingredient_id != NULL)
    {
      self->shelf_asked = TRUE;
      g_signal_emit (self, signals[SHELF_WANTED], 0);
    }
  og_document_page_done (page); /* the shelf has come meanwhile */
  if (self->document != NULL && self->ingredient_id != NULL
      && og_formula_find_ingredient (og_document_get_formula (self->document),
                                     self->ingredient_id) != NULL)
    {
      start_search (self);
      return;
    }
  og_work_bar_drop (OG_WORK_BAR (self->work_bar));
  forget_suggestions (self);
  if (self->document == NULL
      || og_formula_get_n_lines (og_document_get_formula (self->document)) == 0)
    show_message (self,
                  _("Once the recipe holds a material, this says what could stand in for it."));
  else
    show_message (self, _("Choose a material of the recipe to see what could stand in for it."));
}

guint
og_instead_page_flush (OgInsteadPage *self)
{
  g_return_val_if_fail (OG_IS_INSTEAD_PAGE (self), 0);

  og_document_page_flush (OG_DOCUMENT_PAGE (self));
  og_work_bar_wait (OG_WORK_BAR (self->work_bar));
  return self->suggestions != NULL ? self->suggestions->len : 0;
}

static void
make_stale (OgInsteadPage *self)
{
  og_work_bar_drop (OG_WORK_BAR (self->work_bar));
  gtk_widget_set_sensitive (self->list, FALSE);
  og_document_page_ask (OG_DOCUMENT_PAGE (self));
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

/* Together with others */

static gboolean
has_id (const GPtrArray *ids,
        const char      *id,
        guint           *index)
{
  return g_ptr_array_find_with_equal_func ((GPtrArray *) ids, id, g_str_equal, index);
}

/* Returns: whether @ids changed */
static gboolean
set_member (GPtrArray  *ids,
            const char *id,
            gboolean    member)
{
  guint index;

  if (has_id (ids, id, &index) == member)
    return FALSE;
  if (member)
    g_ptr_array_add (ids, g_strdup (id));
  else
    g_ptr_array_remove_index (ids, index);
  return TRUE;
}

static void
label_others (OgInsteadPage *self)
{
  g_autofree char *label =
    self->together->len > 0 ? g_strdup_printf ("+%u", self->together->len) : g_strdup ("+");

  gtk_menu_button_set_label (GTK_MENU_BUTTON (self->others_button), label);
}

static void
on_other_toggled (GtkCheckButton *check,
                  OgInsteadPage  *self)
{
  const char *id = g_object_get_data (G_OBJECT (check), "og-id");

  if (self->filling || !set_member (self->together, id, gtk_check_button_get_active (check)))
    return;
  label_others (self);
  make_stale (self);
}

/* What else the recipe holds, to be ticked; what it no longer holds is forgotten. */
static void
fill_others (OgInsteadPage *self)
{
  for (guint i = self->together->len; i > 0; i--)
    if (!has_id (self->ids, g_ptr_array_index (self->together, i - 1), NULL)
        || g_strcmp0 (g_ptr_array_index (self->together, i - 1), self->ingredient_id) == 0)
      g_ptr_array_remove_index (self->together, i - 1);
  og_box_clear (self->others_box);
  for (guint i = 0; i < self->ids->len; i++)
    {
      const char *id = g_ptr_array_index (self->ids, i);
      GtkWidget *check;

      if (g_strcmp0 (id, self->ingredient_id) == 0)
        continue;
      check = gtk_check_button_new_with_label (material_name (self, id));
      gtk_check_button_set_active (GTK_CHECK_BUTTON (check), has_id (self->together, id, NULL));
      g_object_set_data_full (G_OBJECT (check), "og-id", g_strdup (id), g_free);
      g_signal_connect (check, "toggled", G_CALLBACK (on_other_toggled), self);
      gtk_box_append (GTK_BOX (self->others_box), check);
    }
  gtk_widget_set_sensitive (self->others_button,
                            gtk_widget_get_first_child (self->others_box) != NULL);
  label_others (self);
}

void
og_instead_page_set_together (OgInsteadPage *self,
                              const char    *ingredient_id,
                              gboolean       together)
{
  g_return_if_fail (OG_IS_INSTEAD_PAGE (self));

  if (!set_member (self->together, ingredient_id, together))
    return;
  fill_others (self);
  make_stale (self);
}

/* Choices */

static void
fill_materials (OgInsteadPage *self)
{
  g_autoptr(GPtrArray) ids = g_ptr_array_new_with_free_func (g_free);
  g_autoptr(GtkStringList) names = gtk_string_list_new (NULL);

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
  for (guint i = 0; i < self->ids->len; i++)
    gtk_string_list_append (names, material_name (self, g_ptr_array_index (self->ids, i)));
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
  g_clear_pointer (&self->replaced_id, g_free);
  og_instead_page_set_ingredient_id (self, id);
  g_signal_emit (self, signals[CHOSEN], 0, id);
}

static void
label_without (OgInsteadPage *self)
{
  const guint n = og_tag_filter_get_n (OG_TAG_FILTER (self->tag_filter)) + self->left_out->len
                  + gtk_check_button_get_active (GTK_CHECK_BUTTON (self->stocked_button));
  g_autofree char *label =
    /* Translators: button that opens what to leave out, with the number of ticks */
    n > 0 ? g_strdup_printf (_("Without (%u)"), n) : g_strdup (_("Without"));

  gtk_menu_button_set_label (GTK_MENU_BUTTON (self->without_button), label);
}

static void
on_without_changed (OgInsteadPage *self)
{
  label_without (self);
  make_stale (self);
}

static void
fill_left_out (OgInsteadPage *self)
{
  og_box_clear (self->left_out_box);
  for (guint i = 0; i < self->left_out->len; i++)
    {
      const char *id = g_ptr_array_index (self->left_out, i);
      GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
      /* Translators: %s is the name of a material */
      g_autofree char *text = g_strdup_printf (_("Without %s"), material_name (self, id));
      /* Translators: %s is the name of a material */
      g_autofree char *spoken = g_strdup_printf (_("Allow %s again"), material_name (self, id));
      GtkWidget *label = og_wrapping_label_new (text, NULL);

      gtk_label_set_max_width_chars (GTK_LABEL (label), 24);
      gtk_widget_set_hexpand (label, TRUE);
      gtk_box_append (GTK_BOX (line), label);
      gtk_box_append (GTK_BOX (line), make_id_button (self, _("Allow"), spoken, id,
                                                      G_CALLBACK (on_allow_clicked)));
      gtk_box_append (GTK_BOX (self->left_out_box), line);
    }
}

void
og_instead_page_leave_out (OgInsteadPage *self,
                           const char    *ingredient_id,
                           gboolean       out)
{
  g_return_if_fail (OG_IS_INSTEAD_PAGE (self));

  if (!set_member (self->left_out, ingredient_id, out))
    return;
  fill_left_out (self);
  on_without_changed (self);
}

static void
on_option (OgInsteadPage *self)
{
  if (!self->filling)
    make_stale (self);
}

/* An intent sets the weights; behind them stand those that the reader set. */
static void
on_intent (OgInsteadPage *self)
{
  const guint intent = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->intent_drop_down));
  OgSubstitutionWeights weights;

  if (self->filling || intent >= OG_N_SUBSTITUTION_INTENTS)
    return;
  og_substitution_weights_init (&weights, (OgSubstitutionIntent) intent);
  og_weights_editor_set (OG_WEIGHTS_EDITOR (self->weights_editor), &weights);
  make_stale (self);
}

static void
on_weights_moved (OgInsteadPage *self)
{
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->intent_drop_down), OG_N_SUBSTITUTION_INTENTS);
  make_stale (self);
}

void
og_instead_page_set_most_parts (OgInsteadPage *self,
                                guint          most)
{
  g_return_if_fail (OG_IS_INSTEAD_PAGE (self));
  g_return_if_fail (most >= 1 && most <= OG_SUBSTITUTION_MOST_PARTS);

  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->parts_drop_down), most - 1);
}

void
og_instead_page_set_intent (OgInsteadPage        *self,
                            OgSubstitutionIntent  intent)
{
  g_return_if_fail (OG_IS_INSTEAD_PAGE (self));
  g_return_if_fail (intent < OG_N_SUBSTITUTION_INTENTS);

  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->intent_drop_down), intent);
}

void
og_instead_page_set_shelf (OgInsteadPage *self,
                           OgShelf       *shelf)
{
  g_return_if_fail (OG_IS_INSTEAD_PAGE (self));

  if (shelf != NULL)
    og_shelf_ref (shelf);
  g_clear_pointer (&self->shelf, og_shelf_unref);
  self->shelf = shelf;
  gtk_widget_set_sensitive (self->stocked_button,
                            shelf != NULL && og_shelf_get_n_items (shelf) > 0);
  make_stale (self);
}

static void
fill_choices (OgInsteadPage *self)
{
  g_autoptr(GtkStringList) parts = gtk_string_list_new (NULL);
  g_autoptr(GtkStringList) names = gtk_string_list_new (NULL);

  for (guint i = 1; i <= OG_SUBSTITUTION_MOST_PARTS; i++)
    {
      g_autofree char *text =
        /* Translators: most materials in a mixture */
        i == 1 ? g_strdup (_("One part")) : g_strdup_printf (_("Up to %u parts"), i);

      gtk_string_list_append (parts, text);
    }
  for (guint i = 0; i < OG_N_SUBSTITUTION_INTENTS; i++)
    gtk_string_list_append (names, og_substitution_intent_get_name ((OgSubstitutionIntent) i));
  gtk_string_list_append (names, _("Own weights"));
  self->filling = TRUE;
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->parts_drop_down), G_LIST_MODEL (parts));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->parts_drop_down), USUAL_PARTS - 1);
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->intent_drop_down), G_LIST_MODEL (names));
  og_drop_down_ellipsize (GTK_DROP_DOWN (self->material_drop_down));
  og_drop_down_ellipsize (GTK_DROP_DOWN (self->parts_drop_down));
  og_drop_down_ellipsize (GTK_DROP_DOWN (self->intent_drop_down));
  self->filling = FALSE;
}

static gboolean
in_recipe (OgInsteadPage *self,
           const char    *id)
{
  return id != NULL && self->document != NULL
         && og_formula_find_ingredient (og_document_get_formula (self->document), id) != NULL;
}

/* After an undo, what was replaced is in question again. */
static void
follow_undo (OgInsteadPage *self)
{
  g_autofree char *back = NULL;

  if (!in_recipe (self, self->replaced_id))
    return;
  back = g_steal_pointer (&self->replaced_id);
  og_instead_page_set_ingredient_id (self, back);
  for (guint i = 0; self->replaced_together != NULL && i < self->replaced_together->len; i++)
    og_instead_page_set_together (self, g_ptr_array_index (self->replaced_together, i), TRUE);
  g_signal_emit (self, signals[CHOSEN], 0, back);
}

static void
on_formula_changed (OgInsteadPage *self)
{
  fill_materials (self);
  fill_others (self);
  make_stale (self);
  follow_undo (self);
}

static void
og_instead_page_formula_changed (OgDocumentPage *page)
{
  on_formula_changed (OG_INSTEAD_PAGE (page));
}

static void
og_instead_page_follow (OgDocumentPage *page,
                        OgDocument     *document)
{
  OgInsteadPage *self = OG_INSTEAD_PAGE (page);

  self->document = document;
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
  g_ptr_array_set_size (self->together, 0);
  select_material (self);
  fill_others (self);
  make_stale (self);
}

const char *
og_instead_page_get_ingredient_id (OgInsteadPage *self)
{
  g_return_val_if_fail (OG_IS_INSTEAD_PAGE (self), NULL);

  return self->ingredient_id;
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

  og_document_page_leave (OG_DOCUMENT_PAGE (self));
  self->document = NULL;
  gtk_widget_dispose_template (GTK_WIDGET (self), OG_TYPE_INSTEAD_PAGE);

  G_OBJECT_CLASS (og_instead_page_parent_class)->dispose (object);
}

static void
og_instead_page_finalize (GObject *object)
{
  OgInsteadPage *self = OG_INSTEAD_PAGE (object);

  g_clear_pointer (&self->suggestions, g_ptr_array_unref);
  g_clear_pointer (&self->catalog, og_catalog_unref);
  g_clear_pointer (&self->shelf, og_shelf_unref);
  g_ptr_array_unref (self->ids);
  g_ptr_array_unref (self->together);
  g_ptr_array_unref (self->left_out);
  g_free (self->ingredient_id);
  g_free (self->replaced_id);
  g_clear_pointer (&self->replaced_together, g_ptr_array_unref);

  G_OBJECT_CLASS (og_instead_page_parent_class)->finalize (object);
}

static void
og_instead_page_class_init (OgInsteadPageClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);
  OgDocumentPageClass *page_class = OG_DOCUMENT_PAGE_CLASS (class);

  object_class->dispose = og_instead_page_dispose;
  object_class->finalize = og_instead_page_finalize;
  widget_class->grab_focus = og_instead_page_grab_focus;
  page_class->follow = og_instead_page_follow;
  page_class->formula_changed = og_instead_page_formula_changed;
  page_class->refresh = og_instead_page_refresh;

  signals[CHOSEN] = g_signal_new ("chosen", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                  NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[APPLIED] = g_signal_new ("applied", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                   NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[SHELF_WANTED] = g_signal_new ("shelf-wanted", G_TYPE_FROM_CLASS (class),
                                        G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);

  g_type_ensure (OG_TYPE_TAG_FILTER);
  g_type_ensure (OG_TYPE_WEIGHTS_EDITOR);
  g_type_ensure (OG_TYPE_WORK_BAR);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/oleograph/Oleograph/instead-page.ui");
  gtk_widget_class_bind_template_child (widget_class, OgInsteadPage, scroller);
  gtk_widget_class_bind_template_child (widget_class, OgInsteadPage, choice_box);
  gtk_widget_class_bind_template_child (widget_class, OgInsteadPage, material_drop_down);
  gtk_widget_class_bind_template_child (widget_class, OgInsteadPage, others_button);
  gtk_widget_class_bind_template_child (widget_class, OgInsteadPage, others_box);
  gtk_widget_class_bind_template_child (widget_class, OgInsteadPage, parts_drop_down);
  gtk_widget_class_bind_template_child (widget_class, OgInsteadPage, intent_drop_down);
  gtk_widget_class_bind_template_child (widget_class, OgInsteadPage, weights_button);
  gtk_widget_class_bind_template_child (widget_class, OgInsteadPage, weights_editor);
  gtk_widget_class_bind_template_child (widget_class, OgInsteadPage, without_button);
  gtk_widget_class_bind_template_child (widget_class, OgInsteadPage, stocked_button);
  gtk_widget_class_bind_template_child (widget_class, OgInsteadPage, tag_filter);
  gtk_widget_class_bind_template_child (widget_class, OgInsteadPage, left_out_box);
  gtk_widget_class_bind_template_child (widget_class, OgInsteadPage, work_bar);
  gtk_widget_class_bind_template_child (widget_class, OgInsteadPage, gap_box);
  gtk_widget_class_bind_template_child (widget_class, OgInsteadPage, stack);
  gtk_widget_class_bind_template_child (widget_class, OgInsteadPage, message_label);
  gtk_widget_class_bind_template_child (widget_class, OgInsteadPage, list);
  gtk_widget_class_bind_template_callback (widget_class, on_material_selected);
  gtk_widget_class_bind_template_callback (widget_class, on_option);
  gtk_widget_class_bind_template_callback (widget_class, on_intent);
  gtk_widget_class_bind_template_callback (widget_class, on_weights_moved);
  gtk_widget_class_bind_template_callback (widget_class, on_without_changed);
  gtk_widget_class_set_css_name (widget_class, "insteadpage");
}

static void
og_instead_page_init (OgInsteadPage *self)
{
  self->ids = g_ptr_array_new_with_free_func (g_free);
  self->together = g_ptr_array_new_with_free_func (g_free);
  self->left_out = g_ptr_array_new_with_free_func (g_free);
  self->filling = TRUE; /* until the template is built */
  gtk_widget_init_template (GTK_WIDGET (self));
  fill_choices (self);
  fill_materials (self);
  fill_others (self);
  og_instead_page_refresh (OG_DOCUMENT_PAGE (self));
}

GtkWidget *
og_instead_page_new (void)
{
  return g_object_new (OG_TYPE_INSTEAD_PAGE, NULL);
}
