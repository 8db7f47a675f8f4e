/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/design/versions-page.h"

#include <glib/gi18n.h>

#include "core/recipe/versions.h"
#include "gtk/design/comparison-view.h"
#include "gtk/design/version-dialog.h"
#include "gtk/design/version-row.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/pieces.h"
#include "model/side-by-side.h"

#define MARGIN 12
#define SPACING 6

struct _OgVersionsPage
{
  OgDocumentPage parent_instance;

  GtkWidget *keep_button;
  GtkWidget *list;
  GtkWidget *hint;
  GtkWidget *comparison;

  OgDocument *document; /* nullable, borrowed from the parent */
  GPtrArray *listed;    /* of OgVersion: what the list was filled with */
  const OgVersion *now; /* nullable: the one of @listed that the recipe is just now */
};

G_DEFINE_FINAL_TYPE (OgVersionsPage, og_versions_page, OG_TYPE_DOCUMENT_PAGE)

enum
{
  MESSAGE,
  SHELF_WANTED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static void
say (OgVersionsPage *self,
     const char     *format,
     const char     *name)
{
  g_autoptr (GString) text = g_string_new (format);

  g_string_replace (text, "%s", name, 1);
  g_signal_emit (self, signals[MESSAGE], 0, text->str, TRUE);
}

/* --- the list -------------------------------------------------------------- */

static OgVersionRow *
get_row (OgVersionsPage *self,
         guint           index)
{
  GtkListBoxRow *row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), (int) index);

  return row != NULL ? OG_VERSION_ROW (row) : NULL;
}

static const OgVersion *
find_now (OgVersionsPage *self)
{
  const OgFormula *formula = og_document_get_formula (self->document);

  for (guint i = formula->versions->len; i-- > 0;)
    if (og_version_is_now (g_ptr_array_index (formula->versions, i), formula))
      return g_ptr_array_index (formula->versions, i);

  return NULL;
}

static gboolean
is_listed (OgVersionsPage  *self,
           const GPtrArray *versions,
           const OgVersion *now)
{
  if (self->now != now || self->listed->len != versions->len)
    return FALSE;
  for (guint i = 0; i < versions->len; i++)
    if (g_ptr_array_index (versions, i) != g_ptr_array_index (self->listed, i))
      return FALSE;

  return TRUE;
}

static void
list_versions (OgVersionsPage  *self,
               const GPtrArray *versions)
{
  OgSideBySide *beside = og_side_by_side_of (self->document);

  og_list_clear (self->list);
  g_ptr_array_set_size (self->listed, 0);
  for (guint i = 0; i < versions->len; i++)
    g_ptr_array_add (self->listed, og_version_ref (g_ptr_array_index (versions, i)));
  for (guint i = versions->len; i-- > 0;)
    {
      const OgVersion *version = g_ptr_array_index (versions, i);

      gtk_list_box_append (GTK_LIST_BOX (self->list),
                           og_version_row_new (version, version == self->now,
                                               og_side_by_side_is_beside (beside, version->name)));
    }
}

static int
focused_index (OgVersionsPage *self)
{
  GtkWidget *focus = gtk_root_get_focus (gtk_widget_get_root (GTK_WIDGET (self)));

  for (int i = 0; focus != NULL && get_row (self, (guint) i) != NULL; i++)
    if (gtk_widget_is_ancestor (focus, GTK_WIDGET (get_row (self, (guint) i))))
      return i;

  return -1;
}

/* The list is only filled anew if it would be another one, and the focus stays where it was. */
static void
update_list (OgVersionsPage *self)
{
  const GPtrArray *versions = og_document_get_formula (self->document)->versions;
  const OgVersion *now = find_now (self);
  OgVersionRow *row;
  int focused;

  if (is_listed (self, versions, now))
    return;
  focused = focused_index (self);
  self->now = now;
  list_versions (self, versions);
  if (focused < 0)
    return;
  row = get_row (self, MIN ((guint) focused, MAX (versions->len, 1) - 1));
  if (row != NULL)
    og_version_row_focus (row);
  else
    gtk_widget_grab_focus (self->keep_button);
}

/* --- side by side ---------------------------------------------------------- */

static void
update_ticks (OgVersionsPage *self)
{
  OgSideBySide *beside = og_side_by_side_of (self->document);
  const gboolean room = og_side_by_side_get_n (beside) < OG_SIDE_BY_SIDE_MOST;
  OgVersionRow *row;

  for (guint i = 0; (row = get_row (self, i)) != NULL; i++)
    {
      const gboolean there = og_side_by_side_is_beside (beside, og_version_row_get_name (row));

      og_version_row_set_beside (row, there, there || room);
    }
}

static void
update_comparison (OgVersionsPage *self)
{
  const OgComparison *comparison = og_side_by_side_get_comparison (og_side_by_side_of (self->document));
  const gboolean any = og_document_get_formula (self->document)->versions->len > 0;

  og_comparison_view_show (OG_COMPARISON_VIEW (self->comparison), comparison);
  og_label_set_optional (self->hint, any && comparison == NULL
                         ? _("Tick up to three versions to lay them beside the recipe, here and in the chart.")
                         : NULL);
  if (comparison != NULL)
    g_signal_emit (self, signals[SHELF_WANTED], 0);
}

static void
og_versions_page_refresh (OgDocumentPage *page)
{
  OgVersionsPage *self = OG_VERSIONS_PAGE (page);

  if (self->document == NULL)
    return;
  update_list (self);
  update_ticks (self);
  update_comparison (self);
}

void
og_versions_page_set_shelf (OgVersionsPage *self,
                            OgShelf        *shelf)
{
  g_return_if_fail (OG_IS_VERSIONS_PAGE (self));

  if (self->document != NULL)
    og_side_by_side_set_shelf (og_side_by_side_of (self->document), shelf);
}

/* --- acts ------------------------------------------------------------------ */

static void
act_beside (GtkWidget  *widget,
            const char *action,
            GVariant   *target)
{
  OgVersionsPage *self = OG_VERSIONS_PAGE (widget);
  OgSideBySide *beside = og_side_by_side_of (self->document);
  const char *name = g_variant_get_string (target, NULL);

  og_side_by_side_set_beside (beside, name, !og_side_by_side_is_beside (beside, name));
}

static void
act_go_back (GtkWidget  *widget,
             const char *action,
             GVariant   *target)
{
  OgVersionsPage *self = OG_VERSIONS_PAGE (widget);
  const char *name = g_variant_get_string (target, NULL);

  if (og_document_go_back (self->document, name))
    /* Translators: %s is the name of a version */
    say (self, _("The recipe is “%s” again"), name);
}

static void
act_remove (GtkWidget  *widget,
            const char *action,
            GVariant   *target)
{
  OgVersionsPage *self = OG_VERSIONS_PAGE (widget);
  const char *name = g_variant_get_string (target, NULL);

  if (og_document_remove_version (self->document, name))
    /* Translators: %s is the name of a version */
    say (self, _("The version “%s” was removed"), name);
}

static void
on_renamed (OgVersionsPage *self,
            const char     *name)
{
  /* Translators: %s is the name of a version */
  say (self, _("The version is called “%s”"), name);
}

static void
on_kept (OgVersionsPage *self,
         const char     *name)
{
  /* Translators: %s is the name of a version */
  say (self, _("Kept as “%s”"), name);
}

static void
act_rename (GtkWidget  *widget,
            const char *action,
            GVariant   *target)
{
  OgVersionsPage *self = OG_VERSIONS_PAGE (widget);
  GtkWidget *dialog = og_version_dialog_new (self->document, g_variant_get_string (target, NULL));

  g_signal_connect_object (dialog, "applied", G_CALLBACK (on_renamed), self, G_CONNECT_SWAPPED);
  og_present_over (widget, dialog);
}

void
og_versions_page_keep (OgVersionsPage *self)
{
  GtkWidget *dialog;

  g_return_if_fail (OG_IS_VERSIONS_PAGE (self));

  if (self->document == NULL)
    return;
  dialog = og_version_dialog_new (self->document, NULL);
  g_signal_connect_object (dialog, "applied", G_CALLBACK (on_kept), self, G_CONNECT_SWAPPED);
  og_present_over (GTK_WIDGET (self), dialog);
}

/* --- object ---------------------------------------------------------------- */

static void
og_versions_page_follow (OgDocumentPage *page,
                         OgDocument     *document)
{
  OgVersionsPage *self = OG_VERSIONS_PAGE (page);

  if (self->document != NULL)
    g_signal_handlers_disconnect_by_data (og_side_by_side_of (self->document), self);
  self->document = document;
  self->now = NULL;
  g_ptr_array_set_size (self->listed, 0);
  og_list_clear (self->list);
  if (document == NULL)
    return;
  g_signal_connect_object (og_side_by_side_of (document), "changed", G_CALLBACK (og_document_page_ask),
                           self, G_CONNECT_SWAPPED);
  og_document_page_ask (page);
}

static void
og_versions_page_dispose (GObject *object)
{
  OgVersionsPage *self = OG_VERSIONS_PAGE (object);
  GtkWidget *child;

  og_document_page_leave (OG_DOCUMENT_PAGE (self));
  self->document = NULL;
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (child);

  G_OBJECT_CLASS (og_versions_page_parent_class)->dispose (object);
}

static void
og_versions_page_finalize (GObject *object)
{
  g_ptr_array_unref (OG_VERSIONS_PAGE (object)->listed);

  G_OBJECT_CLASS (og_versions_page_parent_class)->finalize (object);
}

static void
og_versions_page_class_init (OgVersionsPageClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);
  OgDocumentPageClass *page_class = OG_DOCUMENT_PAGE_CLASS (class);

  object_class->dispose = og_versions_page_dispose;
  object_class->finalize = og_versions_page_finalize;
  page_class->follow = og_versions_page_follow;
  page_class->formula_changed = og_document_page_ask;
  page_class->refresh = og_versions_page_refresh;

  signals[MESSAGE] = g_signal_new ("message", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 2, G_TYPE_STRING, G_TYPE_BOOLEAN);
  signals[SHELF_WANTED] = g_signal_new ("shelf-wanted", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                        NULL, NULL, NULL, G_TYPE_NONE, 0);

  gtk_widget_class_install_action (widget_class, "version.beside", "s", act_beside);
  gtk_widget_class_install_action (widget_class, "version.go-back", "s", act_go_back);
  gtk_widget_class_install_action (widget_class, "version.rename", "s", act_rename);
  gtk_widget_class_install_action (widget_class, "version.remove", "s", act_remove);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "versionspage");
}

static GtkWidget *
make_placeholder (void)
{
  GtkWidget *label = og_wrapping_label_new (_("No version is kept yet. Keep one before a change that you "
                                              "may want to take back, or after a trial at the bench."),
                                            "dim-label");

  gtk_label_set_justify (GTK_LABEL (label), GTK_JUSTIFY_CENTER);
  gtk_label_set_xalign (GTK_LABEL (label), 0.5f);
  gtk_widget_add_css_class (label, "page-placeholder");
  return label;
}

static void
fill (OgVersionsPage *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, SPACING);

  self->list = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (self->list), GTK_SELECTION_NONE);
  gtk_list_box_set_placeholder (GTK_LIST_BOX (self->list), make_placeholder ());
  gtk_widget_add_css_class (self->list, "panel-list");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _("Versions, the newest first"), -1);
  self->hint = og_wrapping_label_new (NULL, "dim-label");
  self->comparison = og_comparison_view_new ();
  gtk_widget_set_visible (self->comparison, FALSE);
  gtk_widget_set_margin_start (self->hint, MARGIN);
  gtk_widget_set_margin_end (self->hint, MARGIN);
  gtk_widget_set_margin_start (self->comparison, MARGIN);
  gtk_widget_set_margin_end (self->comparison, MARGIN);
  gtk_widget_set_margin_bottom (self->comparison, MARGIN);
  gtk_box_append (GTK_BOX (box), self->list);
  gtk_box_append (GTK_BOX (box), self->hint);
  gtk_box_append (GTK_BOX (box), self->comparison);
  gtk_widget_set_parent (self->keep_button, GTK_WIDGET (self));
  gtk_widget_set_parent (og_scroller_new (box), GTK_WIDGET (self));
}

static void
og_versions_page_init (OgVersionsPage *self)
{
  self->listed = g_ptr_array_new_with_free_func ((GDestroyNotify) og_version_unref);
  gtk_orientable_set_orientation (GTK_ORIENTABLE (gtk_widget_get_layout_manager (GTK_WIDGET (self))),
                                  GTK_ORIENTATION_VERTICAL);
  self->keep_button = og_action_button_new (_("Keep this as a version…"), "win.keep-version");
  gtk_label_set_wrap (GTK_LABEL (gtk_button_get_child (GTK_BUTTON (self->keep_button))), TRUE);
  gtk_widget_set_halign (self->keep_button, GTK_ALIGN_START);
  gtk_widget_set_margin_start (self->keep_button, MARGIN);
  gtk_widget_set_margin_end (self->keep_button, MARGIN);
  gtk_widget_set_margin_top (self->keep_button, SPACING);
  gtk_widget_set_margin_bottom (self->keep_button, SPACING);
  fill (self);
}

GtkWidget *
og_versions_page_new (void)
{
  return g_object_new (OG_TYPE_VERSIONS_PAGE, NULL);
}
