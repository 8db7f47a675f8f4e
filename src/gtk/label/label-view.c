/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "core/base/finding.h"
#include "core/base/number-text.h"
#include "gtk/label/exposure-section.h"
#include "gtk/label/label-form.h"
#include "gtk/label/label-sketch.h"
#include "gtk/label/label-view.h"
#include "gtk/label/safety-sections.h"
#include "gtk/label/stability-section.h"
#include "gtk/parts/compat.h"
#include "gtk/parts/finding-row.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/pieces.h"

#define PANEL_WIDTH 380 /* px: of the sections in a wide window */
#define LEAST_SKETCH_WIDTH 320

/* Cellar, room and a warm shelf. */
static const double keeping_temperatures_c[] = { 10, 18, 25, 35 };

struct _OgLabelView
{
  OgDocumentPage parent_instance;

  GtkWidget *outer_pane;
  GtkWidget *inner_pane;
  GtkWidget *form;
  GtkWidget *sketch;
  GtkWidget *entries;
  GtkWidget *sections;
  GtkWidget *limits;
  GtkWidget *limits_list;
  GtkWidget *keeping;
  GtkWidget *exposure;
  GtkWidget *tint;
  GtkWidget *origin;
  GtkWidget *stability;

  OgDocument *document; /* nullable, borrowed from the parent */
  OgShelf *shelf;
  OgDeclaration *declaration;
  gboolean unseen; /* the recipe changed while the room could not be seen */
  gboolean placed;
  gboolean opened; /* one section was opened, so that there is something to read */
};

G_DEFINE_FINAL_TYPE (OgLabelView, og_label_view, OG_TYPE_DOCUMENT_PAGE)

enum
{
  SHOW_LINE,
  MESSAGE,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

/* Ingredient list */

static char *
share_text (const OgDeclarationEntry *entry)
{
  g_autofree char *low = og_number_trimmed (entry->low_pct, 4);
  g_autofree char *high = og_number_trimmed (entry->high_pct, 4);
  g_autofree char *pct = og_number_trimmed (entry->pct, 4);

  if (entry->group == OG_DECLARATION_MAY_CONTAIN)
    return g_strdup ("");
  if (isfinite (entry->pct))
    return g_strdup_printf (_("%s %%"), pct);
  return g_strdup_printf (_("%s to %s %%"), low, high);
}

/* The materials that bring it, unless that is plain from the name. */
static char *
origin_text (OgLabelView              *self,
             const OgDeclarationEntry *entry)
{
  OgCatalog *catalog = og_document_get_catalog (self->document);
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  for (guint i = 0; i < entry->ingredient_ids->len; i++)
    {
      const char *id = g_ptr_array_index (entry->ingredient_ids, i);
      const OgIngredient *ingredient = og_catalog_get (catalog, id);

      g_ptr_array_add (names, (gpointer) (ingredient != NULL ? ingredient->name : id));
    }
  g_ptr_array_add (names, NULL);
  /* Translators: stands between the names of materials */
  return g_strjoinv (_(", "), (char **) names->pdata);
}

static void
append_entry (OgLabelView              *self,
              const OgDeclarationEntry *entry)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  g_autofree char *share = share_text (entry);
  g_autofree char *origin = origin_text (self, entry);
  g_autofree char *group = g_strdup_printf ("%s · %s", og_declaration_group_get_name (entry->group),
                                            origin);
  g_autofree char *spoken = g_strdup_printf ("%s, %s, %s", entry->name, share, group);
  GtkWidget *share_label = og_wrapping_label_new (share, "numeric");
  const guint line_id =
    entry->line_ids->len > 0 ? g_array_index (entry->line_ids, guint, 0) : 0;

  gtk_widget_set_hexpand (words, TRUE);
  gtk_widget_set_valign (share_label, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (words),
                  og_wrapping_label_new (entry->name, entry->missing ? "error" : NULL));
  gtk_box_append (GTK_BOX (words), og_wrapping_label_new (group, "fact-origin"));
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), line_id != 0);
  if (line_id != 0)
    gtk_widget_set_tooltip_text (row, _("Go to the line"));
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), og_beside_new (words, share_label, 12));
  g_object_set_data (G_OBJECT (row), "og-line-id", GUINT_TO_POINTER (line_id));
  gtk_accessible_update_property (GTK_ACCESSIBLE (row),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, spoken,
                                  -1);
  gtk_list_box_append (GTK_LIST_BOX (self->entries), row);
}

static void
clear_entries (OgLabelView *self)
{
  og_list_clear (self->entries);
  g_clear_pointer (&self->declaration, og_declaration_free);
}

static void
show_label (OgLabelView *self)
{
  const OgFormula *formula = og_document_get_formula (self->document);
  OgLabelText text;

  self->declaration = og_declare (formula, og_document_get_catalog (self->document),
                                  og_label_form_get_market (OG_LABEL_FORM (self->form)), NULL);
  og_declaration_hold_shades (self->declaration, formula, og_document_get_catalog (self->document), NULL);
  for (guint i = 0; i < self->declaration->entries->len; i++)
    append_entry (self, g_ptr_array_index (self->declaration->entries, i));
  og_label_form_get_text (OG_LABEL_FORM (self->form), &text);
  og_label_sketch_set_label (OG_LABEL_SKETCH (self->sketch),
                             og_label_new (formula, og_document_get_result (self->document),
                                           self->declaration, &text));
}

/* Sections */

/* Those that matter outside the workshop: what rests on a rule, or is more than a note. */
static void
add_findings (GPtrArray       *all,
              const GPtrArray *findings)
{
  for (guint i = 0; i < findings->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (findings, i);

      if (finding->reference != NULL || finding->severity > OG_SEVERITY_NOTE)
        g_ptr_array_add (all, (gpointer) finding);
    }
}

static gboolean
has_cautions (const GPtrArray *findings)
{
  return findings->len > 0
         && ((OgFinding *) g_ptr_array_index (findings, 0))->severity > OG_SEVERITY_NOTE;
}

static void
show_sections (OgLabelView *self)
{
  const OgFormula *formula = og_document_get_formula (self->document);
  OgResult *result = og_document_get_result (self->document);
  const OgKeepingOptions options = {
    .temperatures_c = keeping_temperatures_c,
    .n_temperatures = G_N_ELEMENTS (keeping_temperatures_c),
    .shelf = self->shelf,
    .now = g_get_real_time () / G_USEC_PER_SEC,
  };
  g_autoptr (OgKeeping) keeping = og_keep (formula, result, &options);
  g_autoptr (OgNaturalOrigin) origin = og_natural_origin_sum (result->contents);
  g_autoptr (GPtrArray) findings = g_ptr_array_new ();
  OgTint tint;

  add_findings (findings, result->findings);
  add_findings (findings, self->declaration->findings);
  add_findings (findings, keeping->findings);
  og_finding_list_sort (findings);
  og_tint_predict (result->contents, OG_TINT_FILM_UM, &tint);
  og_exposure_section_update (OG_EXPOSURE_SECTION (self->exposure));
  og_section_show_findings (OG_FACT_SECTION (self->limits), self->limits_list, findings);
  if (!self->opened)
    og_fact_section_set_open (OG_FACT_SECTION (has_cautions (findings) ? self->limits
                                                                       : self->keeping), TRUE);
  self->opened = TRUE;
  og_section_show_keeping (OG_FACT_SECTION (self->keeping), keeping);
  og_section_show_tint (OG_FACT_SECTION (self->tint), &tint, result->refractive_index);
  og_section_show_origin (OG_FACT_SECTION (self->origin), origin, result->catalog);
}

static void
og_label_view_refresh (OgDocumentPage *page)
{
  OgLabelView *self = OG_LABEL_VIEW (page);

  clear_entries (self);
  if (self->document == NULL
      || og_formula_get_n_lines (og_document_get_formula (self->document)) == 0)
    {
      og_label_sketch_set_label (OG_LABEL_SKETCH (self->sketch), NULL);
      gtk_widget_set_visible (self->sections, FALSE);
      return;
    }
  gtk_widget_set_visible (self->sections, TRUE);
  show_label (self);
  show_sections (self);
}

static void
make_stale (OgLabelView *self)
{
  og_document_page_ask (OG_DOCUMENT_PAGE (self));
}

static void
show_recipe_values (OgLabelView *self)
{
  self->unseen = FALSE;
  og_label_form_update (OG_LABEL_FORM (self->form));
  og_stability_section_update (OG_STABILITY_SECTION (self->stability));
}

static void
on_formula_changed (OgLabelView *self)
{
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    show_recipe_values (self);
  else
    self->unseen = TRUE;
  make_stale (self);
}

static void
on_form_changed (OgLabelView *self)
{
  make_stale (self);
}

const char *
og_label_view_get_list (OgLabelView *self)
{
  g_return_val_if_fail (OG_IS_LABEL_VIEW (self), NULL);

  return self->declaration != NULL ? self->declaration->text : NULL;
}

static void
on_entry_activated (OgLabelView   *self,
                    GtkListBoxRow *row)
{
  const guint line_id = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (row), "og-line-id"));

  if (line_id != 0)
    g_signal_emit (self, signals[SHOW_LINE], 0, line_id);
}

static void
on_finding_activated (OgLabelView   *self,
                      GtkListBoxRow *row)
{
  const guint line_id = og_finding_row_get_line_id (row);

  if (line_id != 0)
    g_signal_emit (self, signals[SHOW_LINE], 0, line_id);
}

/* Actions */

static void
act_copy (GtkWidget  *widget,
          const char *name,
          GVariant   *parameter)
{
  OgLabelView *self = OG_LABEL_VIEW (widget);

  og_document_page_flush (OG_DOCUMENT_PAGE (self));
  if (self->declaration == NULL)
    return;
  gdk_clipboard_set_text (gtk_widget_get_clipboard (widget), self->declaration->text);
  g_signal_emit (self, signals[MESSAGE], 0, _("The ingredient list was copied"), FALSE);
}

static void
tell (OgLabelView *self,
      const char  *heading,
      const char  *reason)
{
  const OgAnswer answers[] = { { _("_Close"), OG_ANSWER_PLAIN } };

  og_compat_ask (GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self))), heading, reason, answers,
                 G_N_ELEMENTS (answers), NULL, NULL);
}

static void
on_label_file (GtkWindow *window,
               GFile     *file,
               gpointer   data)
{
  OgLabelView *self = data;
  g_autofree char *path = file != NULL ? g_file_get_path (file) : NULL;
  g_autofree char *said = NULL;
  g_autoptr (GError) error = NULL;
  OgExportFormat format;

  if (file == NULL)
    return;
  if (path == NULL || !og_export_format_from_path (path, &format)
      || (format != OG_EXPORT_PDF && format != OG_EXPORT_SVG && format != OG_EXPORT_PNG))
    {
      tell (self, _("The label could not be written"),
            _("Give a file name that ends with .pdf, .svg or .png."));
      return;
    }
  if (!og_export_label (og_label_sketch_get_label (OG_LABEL_SKETCH (self->sketch)), path, format,
                        &error))
    {
      tell (self, _("The label could not be written"), error->message);
      return;
    }
  /* Translators: %s is a file name */
  said = g_strdup_printf (_("Label written to %s"), path);
  g_signal_emit (self, signals[MESSAGE], 0, said, FALSE);
}

static void
act_write (GtkWidget  *widget,
           const char *name,
           GVariant   *parameter)
{
  OgLabelView *self = OG_LABEL_VIEW (widget);

  og_document_page_flush (OG_DOCUMENT_PAGE (self));
  if (og_label_sketch_get_label (OG_LABEL_SKETCH (self->sketch)) == NULL)
    return;
  /* Translators: proposed name of a file */
  og_compat_choose_file (GTK_WINDOW (gtk_widget_get_root (widget)), _("Write the label"),
                         GTK_FILE_CHOOSER_ACTION_SAVE, NULL, NULL, _("Label.pdf"), on_label_file,
                         self);
}

/* Object */

static void
og_label_view_formula_changed (OgDocumentPage *page)
{
  on_formula_changed (OG_LABEL_VIEW (page));
}

static void
og_label_view_follow (OgDocumentPage *page,
                      OgDocument     *document)
{
  OgLabelView *self = OG_LABEL_VIEW (page);

  self->document = document;
  og_label_form_set_document (OG_LABEL_FORM (self->form), document);
  og_exposure_section_set_document (OG_EXPOSURE_SECTION (self->exposure), document);
  og_stability_section_set_document (OG_STABILITY_SECTION (self->stability), document);
  on_formula_changed (self);
}

void
og_label_view_set_settings (OgLabelView *self,
                            GSettings   *settings)
{
  g_return_if_fail (OG_IS_LABEL_VIEW (self));

  og_label_form_set_settings (OG_LABEL_FORM (self->form), settings);
}

void
og_label_view_set_shelf (OgLabelView *self,
                         OgShelf     *shelf)
{
  g_return_if_fail (OG_IS_LABEL_VIEW (self));

  if (self->shelf == shelf)
    return;
  g_clear_pointer (&self->shelf, og_shelf_unref);
  self->shelf = shelf != NULL ? og_shelf_ref (shelf) : NULL;
  make_stale (self);
}

static void
og_label_view_map (GtkWidget *widget)
{
  OgLabelView *self = OG_LABEL_VIEW (widget);

  GTK_WIDGET_CLASS (og_label_view_parent_class)->map (widget);

  if (self->unseen)
    show_recipe_values (self);
}

/* The sketch keeps what is readable; the sections take what a wide window leaves. */
static void
og_label_view_size_allocate (GtkWidget *widget,
                             int        width,
                             int        height,
                             int        baseline)
{
  OgLabelView *self = OG_LABEL_VIEW (widget);
  const int form = gtk_paned_get_position (GTK_PANED (self->outer_pane));

  if (!self->placed && width > 0)
    {
      gtk_paned_set_position (GTK_PANED (self->inner_pane),
                              MAX (width - form - PANEL_WIDTH, LEAST_SKETCH_WIDTH));
      self->placed = TRUE;
    }
  gtk_widget_size_allocate (self->outer_pane, &(GtkAllocation) { 0, 0, width, height }, baseline);
}

static void
og_label_view_measure (GtkWidget      *widget,
                       GtkOrientation  orientation,
                       int             for_size,
                       int            *minimum,
                       int            *natural,
                       int            *minimum_baseline,
                       int            *natural_baseline)
{
  gtk_widget_measure (OG_LABEL_VIEW (widget)->outer_pane, orientation, for_size, minimum, natural,
                      minimum_baseline, natural_baseline);
}

static void
og_label_view_dispose (GObject *object)
{
  OgLabelView *self = OG_LABEL_VIEW (object);

  og_document_page_leave (OG_DOCUMENT_PAGE (self));
  self->document = NULL;
  g_clear_pointer (&self->shelf, og_shelf_unref);
  gtk_widget_dispose_template (GTK_WIDGET (self), OG_TYPE_LABEL_VIEW);

  G_OBJECT_CLASS (og_label_view_parent_class)->dispose (object);
}

static void
og_label_view_finalize (GObject *object)
{
  g_clear_pointer (&OG_LABEL_VIEW (object)->declaration, og_declaration_free);

  G_OBJECT_CLASS (og_label_view_parent_class)->finalize (object);
}

static void
og_label_view_class_init (OgLabelViewClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);
  OgDocumentPageClass *page_class = OG_DOCUMENT_PAGE_CLASS (class);

  object_class->dispose = og_label_view_dispose;
  object_class->finalize = og_label_view_finalize;
  widget_class->map = og_label_view_map;
  widget_class->measure = og_label_view_measure;
  widget_class->size_allocate = og_label_view_size_allocate;
  page_class->follow = og_label_view_follow;
  page_class->formula_changed = og_label_view_formula_changed;
  page_class->result_changed = og_document_page_ask;
  page_class->refresh = og_label_view_refresh;

  signals[SHOW_LINE] = g_signal_new ("show-line", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                     NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
  signals[MESSAGE] = g_signal_new ("message", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                   NULL, NULL, NULL, G_TYPE_NONE, 2, G_TYPE_STRING,
                                   G_TYPE_BOOLEAN);

  g_type_ensure (OG_TYPE_LABEL_FORM);
  g_type_ensure (OG_TYPE_LABEL_SKETCH);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/oleograph/Oleograph/label-view.ui");
  gtk_widget_class_bind_template_child (widget_class, OgLabelView, outer_pane);
  gtk_widget_class_bind_template_child (widget_class, OgLabelView, inner_pane);
  gtk_widget_class_bind_template_child (widget_class, OgLabelView, form);
  gtk_widget_class_bind_template_child (widget_class, OgLabelView, sketch);
  gtk_widget_class_bind_template_child (widget_class, OgLabelView, entries);
  gtk_widget_class_bind_template_child (widget_class, OgLabelView, sections);
  gtk_widget_class_bind_template_callback (widget_class, on_form_changed);
  gtk_widget_class_bind_template_callback (widget_class, on_entry_activated);
  gtk_widget_class_install_action (widget_class, "label.copy", NULL, act_copy);
  gtk_widget_class_install_action (widget_class, "label.write", NULL, act_write);
  gtk_widget_class_set_css_name (widget_class, "labelview");
}

static void
append_section (OgLabelView *self,
                GtkWidget   *section)
{
  gtk_box_append (GTK_BOX (self->sections), section);
}

static void
add_limits (OgLabelView *self)
{
  self->limits = og_fact_section_new (_("Limits and cautions"));
  self->limits_list = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (self->limits_list), GTK_SELECTION_NONE);
  gtk_widget_add_css_class (self->limits_list, "panel-list");
  g_signal_connect_swapped (self->limits_list, "row-activated", G_CALLBACK (on_finding_activated),
                            self);
  gtk_box_append (GTK_BOX (og_fact_section_get_box (OG_FACT_SECTION (self->limits))),
                  self->limits_list);
  og_facts_append_text (og_fact_section_get_box (OG_FACT_SECTION (self->limits)),
                        _("A reminder, never a release: check your local rules."), "fact-origin");
  append_section (self, self->limits);
}

static void
og_label_view_init (OgLabelView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  add_limits (self);
  self->keeping = og_fact_section_new (_("Keeping time"));
  self->exposure = og_exposure_section_new ();
  self->tint = og_fact_section_new (_("Colour and gloss"));
  self->origin = og_fact_section_new (_("Natural origin"));
  self->stability = og_stability_section_new ();
  append_section (self, self->keeping);
  append_section (self, self->exposure);
  append_section (self, self->tint);
  append_section (self, self->origin);
  append_section (self, self->stability);
}

GtkWidget *
og_label_view_new (void)
{
  return g_object_new (OG_TYPE_LABEL_VIEW, NULL);
}
