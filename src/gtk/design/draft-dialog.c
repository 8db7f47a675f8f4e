/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "core/base/number-text.h"
#include "gtk/design/draft-dialog.h"
#include "gtk/parts/body-words.h"
#include "gtk/parts/drop-down.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/plain-list.h"
#include "gtk/parts/tag-filter.h"
#include "gtk/parts/work-bar.h"
#include "model/draft-words.h"

#define FEWEST 2
#define MOST 12
#define DECIMALS 2

struct _OgDraftDialog
{
  GtkWindow parent_instance;

  GtkWidget *product_drop_down;
  GtkWidget *body_drop_down;
  GtkWidget *without_button;
  GtkWidget *tag_filter;
  GtkWidget *most_drop_down;
  GtkWidget *tint_button;
  GtkWidget *scent_button;
  GtkWidget *stocked_button;
  GtkWidget *cheap_button;
  GtkWidget *work_bar;
  GtkWidget *body_label;
  GtkWidget *band_label;
  GtkWidget *findings_box;
  GtkWidget *findings;
  GtkWidget *lines_box;
  GtkWidget *lines;

  OgCatalog *catalog;
  OgShelf *shelf;     /* nullable */
  OgBodyBounds bounds;
  OgDraft *draft;     /* nullable: of the brief as it stands */
  gboolean filling;   /* widgets are being filled: their choice is not the reader's */
};

G_DEFINE_FINAL_TYPE (OgDraftDialog, og_draft_dialog, GTK_TYPE_WINDOW)

enum
{
  START,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

/* In the thread */

typedef struct
{
  OgBrief brief;
  char **tags;        /* nullable */
  OgShelf *shelf;     /* nullable */
  OgCatalog *catalog;
} Request;

typedef struct
{
  OgDraft *draft;
  OgEstimate pour;    /* mPa.s at 25 C */
  OgBody body;
} Answer;

static void
free_request (gpointer data)
{
  Request *request = data;

  g_strfreev (request->tags);
  g_clear_pointer (&request->shelf, og_shelf_unref);
  og_catalog_unref (request->catalog);
  g_free (request);
}

static void
free_answer (gpointer data)
{
  Answer *answer = data;

  g_clear_pointer (&answer->draft, og_draft_free);
  g_free (answer);
}

static gpointer
compute (gpointer   data,
         OgWork    *work,
         GError   **error)
{
  Request *request = data;
  OgDraft *draft;
  Answer *answer;
  g_autoptr (OgResult) result = NULL;

  request->brief.progress = og_work_on_progress;
  request->brief.user_data = work;
  draft = og_draft (&request->brief, request->catalog, error);
  if (draft == NULL)
    return NULL;
  og_draft_write_words (draft);
  result = og_evaluate (draft->formula, request->catalog, NULL);
  answer = g_new0 (Answer, 1);
  answer->draft = draft;
  answer->pour = result->pour;
  answer->body = result->body;
  return answer;
}

static const OgWorkKind drafting = { compute, free_request, free_answer };

/* The preview */

static void
forget_draft (OgDraftDialog *self)
{
  g_clear_pointer (&self->draft, og_draft_free);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "draft.start", FALSE);
  gtk_widget_set_sensitive (self->lines, FALSE);
}

static void
append_phase (OgDraftDialog        *self,
              const OgFormulaPhase *phase)
{
  g_autofree char *temperature = og_number_trimmed (phase->temperature_c, 0);
  g_autofree char *text =
    isfinite (phase->temperature_c)
      /* Translators: name of a phase and its temperature */
      ? g_strdup_printf (_("%s, %s °C"), phase->name, temperature)
      : g_strdup (phase->name);
  GtkWidget *row = og_plain_list_add (OG_PLAIN_LIST (self->lines),
                                      og_wrapping_label_new (text, "heading"), text);

  gtk_widget_add_css_class (row, "phase-head");
}

static void
append_line (OgDraftDialog       *self,
             const OgFormulaLine *line)
{
  const OgIngredient *ingredient = og_catalog_get (self->catalog, line->ingredient_id);
  const char *name = ingredient != NULL ? ingredient->name : line->ingredient_id;
  const char *reason = og_saying_text (og_draft_get_reason (self->draft, line->id));
  g_autofree char *number = og_number_fixed (og_ppm_to_pct (line->amount), DECIMALS);
  /* Translators: a share */
  g_autofree char *share = g_strdup_printf (_("%s %%"), number);
  g_autofree char *spoken = g_strdup_printf ("%s, %s. %s", name, share,
                                             reason != NULL ? reason : "");
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *name_label = og_wrapping_label_new (name, NULL);
  GtkWidget *share_label = gtk_label_new (share);

  gtk_widget_set_hexpand (name_label, TRUE);
  gtk_widget_set_valign (share_label, GTK_ALIGN_START);
  gtk_widget_add_css_class (share_label, "tile-value");
  gtk_box_append (GTK_BOX (head), name_label);
  gtk_box_append (GTK_BOX (head), share_label);
  gtk_box_append (GTK_BOX (box), head);
  if (reason != NULL)
    gtk_box_append (GTK_BOX (box), og_wrapping_label_new (reason, "fact-origin"));
  og_plain_list_add (OG_PLAIN_LIST (self->lines), box, spoken);
}

static void
show_lines (OgDraftDialog *self)
{
  const OgFormula *formula = self->draft->formula;

  for (guint i = 0; i < formula->phases->len; i++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (formula->phases, i);

      append_phase (self, phase);
      for (guint j = 0; j < phase->lines->len; j++)
        append_line (self, g_ptr_array_index (phase->lines, j));
    }
}

static void
show_body (OgDraftDialog *self,
           const Answer  *answer)
{
  g_autofree char *value = og_number_with_unit (answer->pour.value);
  g_autofree char *band = og_number_band (&answer->pour);
  g_autofree char *text = NULL;

  if (og_formula_get_n_lines (self->draft->formula) == 0)
    text = g_strdup (_("Nothing fits this brief"));
  else if (!og_estimate_is_known (&answer->pour))
    text = g_strdup (og_body_get_name (answer->body));
  else
    /* Translators: a word for the body and a viscosity */
    text = g_strdup_printf (_("%s: about %s poured at 25 °C"), og_body_get_name (answer->body),
                            value);
  gtk_label_set_label (GTK_LABEL (self->body_label), text);
  og_label_set_optional (self->band_label, band);
}

static void
on_drafted (gpointer      data,
            const GError *error,
            gpointer      user_data)
{
  OgDraftDialog *self = user_data;
  Answer *answer = data;
  const GPtrArray *findings;

  og_plain_list_clear (OG_PLAIN_LIST (self->findings));
  og_plain_list_clear (OG_PLAIN_LIST (self->lines));
  if (answer == NULL)
    {
      gtk_label_set_label (GTK_LABEL (self->body_label), error->message);
      og_label_set_optional (self->band_label, NULL);
      return;
    }
  self->draft = g_steal_pointer (&answer->draft);
  show_body (self, answer);
  findings = self->draft->findings;
  for (guint i = 0; i < findings->len; i++)
    og_plain_list_add_finding (OG_PLAIN_LIST (self->findings), g_ptr_array_index (findings, i));
  gtk_widget_set_visible (self->findings, findings->len > 0);
  show_lines (self);
  gtk_widget_set_sensitive (self->lines, TRUE);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "draft.start",
                                 og_formula_get_n_lines (self->draft->formula) > 0);
  free_answer (answer);
}

/* The brief */

static gboolean
is_ticked (GtkWidget *button)
{
  return gtk_check_button_get_active (GTK_CHECK_BUTTON (button));
}

static OgProduct
get_product (OgDraftDialog *self)
{
  return (OgProduct) gtk_drop_down_get_selected (GTK_DROP_DOWN (self->product_drop_down));
}

static void
draft (OgDraftDialog *self)
{
  const guint most = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->most_drop_down));
  Request *request = g_new0 (Request, 1);

  request->tags =
    g_strdupv ((char **) og_tag_filter_get_tags (OG_TAG_FILTER (self->tag_filter)));
  request->shelf = self->shelf != NULL ? og_shelf_ref (self->shelf) : NULL;
  request->catalog = og_catalog_ref (self->catalog);
  request->brief = (OgBrief) {
    .product = get_product (self),
    .body = og_body_words_get (GTK_DROP_DOWN (self->body_drop_down), TRUE),
    .without_tags = (const char *const *) request->tags,
    .shelf = request->shelf,
    .stocked_only = is_ticked (self->stocked_button),
    .most = most > 0 ? most + FEWEST - 1 : 0,
    .tint = is_ticked (self->tint_button),
    .scent = is_ticked (self->scent_button),
    .cheap = is_ticked (self->cheap_button),
  };
  forget_draft (self);
  og_work_bar_run (OG_WORK_BAR (self->work_bar), &drafting, request, on_drafted, self);
}

static void
on_changed (OgDraftDialog *self)
{
  if (!self->filling)
    draft (self);
}

static void
on_without_changed (OgDraftDialog *self)
{
  const guint n = og_tag_filter_get_n (OG_TAG_FILTER (self->tag_filter));
  g_autofree char *label =
    /* Translators: button that opens what to leave out, with the number of ticks */
    n > 0 ? g_strdup_printf (_("Without (%u)"), n) : g_strdup (_("Without"));

  gtk_menu_button_set_label (GTK_MENU_BUTTON (self->without_button), label);
  on_changed (self);
}

/* What is usual depends on the product. */
static void
fill_words (OgDraftDialog *self)
{
  const OgBody body = og_body_words_get (GTK_DROP_DOWN (self->body_drop_down), TRUE);
  const OgBody usual = og_product_usual_body (get_product (self));
  g_autofree char *interval = og_body_interval_to_text (&self->bounds, usual);
  /* Translators: a word for the body and what it stands for */
  g_autofree char *name = g_strdup_printf (_("As usual: %s, %s"), og_body_get_name (usual),
                                           interval);
  const gboolean filling = self->filling;

  self->filling = TRUE;
  og_body_words_fill (GTK_DROP_DOWN (self->body_drop_down), &self->bounds, name);
  og_body_words_set (GTK_DROP_DOWN (self->body_drop_down), body, TRUE);
  self->filling = filling;
}

static void
on_product (OgDraftDialog *self)
{
  if (self->filling)
    return;
  fill_words (self);
  draft (self);
}

void
og_draft_dialog_set_product (OgDraftDialog *self,
                             OgProduct      product)
{
  g_return_if_fail (OG_IS_DRAFT_DIALOG (self));
  g_return_if_fail (product < OG_N_PRODUCTS);

  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->product_drop_down), product);
}

void
og_draft_dialog_set_body (OgDraftDialog *self,
                          OgBody         body)
{
  g_return_if_fail (OG_IS_DRAFT_DIALOG (self));

  og_body_words_set (GTK_DROP_DOWN (self->body_drop_down), body, TRUE);
}

gboolean
og_draft_dialog_set_without (OgDraftDialog *self,
                             const char    *tag,
                             gboolean       without)
{
  g_return_val_if_fail (OG_IS_DRAFT_DIALOG (self), FALSE);

  return og_tag_filter_set (OG_TAG_FILTER (self->tag_filter), tag, without);
}

const OgDraft *
og_draft_dialog_flush (OgDraftDialog *self)
{
  g_return_val_if_fail (OG_IS_DRAFT_DIALOG (self), NULL);

  og_work_bar_wait (OG_WORK_BAR (self->work_bar));
  return self->draft;
}

gboolean
og_draft_dialog_start (OgDraftDialog *self)
{
  g_return_val_if_fail (OG_IS_DRAFT_DIALOG (self), FALSE);

  if (self->draft == NULL || og_formula_get_n_lines (self->draft->formula) == 0)
    return FALSE;
  g_signal_emit (self, signals[START], 0, self->draft->formula);
  return TRUE;
}

static void
act_start (GtkWidget  *widget,
           const char *name,
           GVariant   *parameter)
{
  if (og_draft_dialog_start (OG_DRAFT_DIALOG (widget)))
    gtk_window_destroy (GTK_WINDOW (widget));
  else
    gtk_widget_error_bell (widget);
}

static void
og_draft_dialog_dispose (GObject *object)
{
  OgDraftDialog *self = OG_DRAFT_DIALOG (object);

  self->filling = TRUE;
  gtk_widget_dispose_template (GTK_WIDGET (self), OG_TYPE_DRAFT_DIALOG);

  G_OBJECT_CLASS (og_draft_dialog_parent_class)->dispose (object);
}

static void
og_draft_dialog_finalize (GObject *object)
{
  OgDraftDialog *self = OG_DRAFT_DIALOG (object);

  g_clear_pointer (&self->draft, og_draft_free);
  g_clear_pointer (&self->shelf, og_shelf_unref);
  g_clear_pointer (&self->catalog, og_catalog_unref);

  G_OBJECT_CLASS (og_draft_dialog_parent_class)->finalize (object);
}

static void
og_draft_dialog_class_init (OgDraftDialogClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  object_class->dispose = og_draft_dialog_dispose;
  object_class->finalize = og_draft_dialog_finalize;

  signals[START] = g_signal_new ("start", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                 NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_POINTER);

  g_type_ensure (OG_TYPE_TAG_FILTER);
  g_type_ensure (OG_TYPE_WORK_BAR);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/oleograph/Oleograph/draft-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, OgDraftDialog, product_drop_down);
  gtk_widget_class_bind_template_child (widget_class, OgDraftDialog, body_drop_down);
  gtk_widget_class_bind_template_child (widget_class, OgDraftDialog, without_button);
  gtk_widget_class_bind_template_child (widget_class, OgDraftDialog, tag_filter);
  gtk_widget_class_bind_template_child (widget_class, OgDraftDialog, most_drop_down);
  gtk_widget_class_bind_template_child (widget_class, OgDraftDialog, tint_button);
  gtk_widget_class_bind_template_child (widget_class, OgDraftDialog, scent_button);
  gtk_widget_class_bind_template_child (widget_class, OgDraftDialog, stocked_button);
  gtk_widget_class_bind_template_child (widget_class, OgDraftDialog, cheap_button);
  gtk_widget_class_bind_template_child (widget_class, OgDraftDialog, work_bar);
  gtk_widget_class_bind_template_child (widget_class, OgDraftDialog, body_label);
  gtk_widget_class_bind_template_child (widget_class, OgDraftDialog, band_label);
  gtk_widget_class_bind_template_child (widget_class, OgDraftDialog, findings_box);
  gtk_widget_class_bind_template_child (widget_class, OgDraftDialog, lines_box);
  gtk_widget_class_bind_template_callback (widget_class, on_product);
  gtk_widget_class_bind_template_callback (widget_class, on_changed);
  gtk_widget_class_bind_template_callback (widget_class, on_without_changed);
  gtk_widget_class_install_action (widget_class, "draft.start", NULL, act_start);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_DIALOG);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
}

static void
fill_products (OgDraftDialog *self)
{
  const char *names[OG_N_PRODUCTS + 1] = { _("Lips and skin") };

  for (guint i = OG_PRODUCT_UNSAID + 1; i < OG_N_PRODUCTS; i++)
    names[i] = og_product_get_name ((OgProduct) i);
  og_drop_down_set_strings (GTK_DROP_DOWN (self->product_drop_down), names);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->product_drop_down), OG_PRODUCT_LIP_APPLICATOR);
}

static void
fill_most (OgDraftDialog *self)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);

  gtk_string_list_append (names, _("Any number of materials"));
  for (guint i = FEWEST; i <= MOST; i++)
    {
      g_autofree char *text =
        g_strdup_printf (ngettext ("At most %u material", "At most %u materials", i), i);

      gtk_string_list_append (names, text);
    }
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->most_drop_down), G_LIST_MODEL (names));
}

static GtkWidget *
add_list (GtkWidget  *box,
          const char *name)
{
  GtkWidget *list = og_plain_list_new (name);

  gtk_widget_set_hexpand (list, TRUE);
  gtk_box_append (GTK_BOX (box), list);
  return list;
}

static void
og_draft_dialog_init (OgDraftDialog *self)
{
  self->filling = TRUE; /* until the first draft */
  og_body_bounds_init (&self->bounds);
  gtk_widget_init_template (GTK_WIDGET (self));
  self->findings = add_list (self->findings_box, _("What to mind about the draft"));
  self->lines = add_list (self->lines_box, _("Lines of the draft"));
  gtk_widget_add_css_class (self->lines, "draft-lines");
  fill_products (self);
  fill_most (self);
  fill_words (self);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->body_drop_down), OG_BODY_UNKNOWN);
  og_drop_down_ellipsize (GTK_DROP_DOWN (self->product_drop_down));
  og_drop_down_ellipsize (GTK_DROP_DOWN (self->body_drop_down));
  og_drop_down_ellipsize (GTK_DROP_DOWN (self->most_drop_down));
  gtk_widget_set_visible (self->findings, FALSE);
}

GtkWidget *
og_draft_dialog_new (OgCatalog *catalog,
                     OgShelf   *shelf)
{
  OgDraftDialog *self;
  gboolean stocked;

  g_return_val_if_fail (catalog != NULL, NULL);

  self = g_object_new (OG_TYPE_DRAFT_DIALOG, NULL);
  self->catalog = og_catalog_ref (catalog);
  self->shelf = shelf != NULL ? og_shelf_ref (shelf) : NULL;
  stocked = shelf != NULL && og_shelf_get_n_items (shelf) > 0;
  gtk_widget_set_sensitive (self->stocked_button, stocked);
  gtk_widget_set_sensitive (self->cheap_button, stocked);
  self->filling = FALSE;
  draft (self);
  gtk_widget_grab_focus (self->product_drop_down);
  return GTK_WIDGET (self);
}
