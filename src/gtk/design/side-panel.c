/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <string.h>

#include "gtk/design/aim-page.h"
#include "gtk/design/bench-page.h"
#include "gtk/design/instead-page.h"
#include "gtk/design/side-panel.h"
#include "gtk/design/versions-page.h"
#include "gtk/parts/finding-row.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/pieces.h"

enum
{
  PAGE_INSTEAD,
  PAGE_AIM,
  PAGE_FINDINGS,
  PAGE_BENCH,
  PAGE_VERSIONS,
  PAGE_NOTES,
  N_PAGES
};

static const char *const page_names[N_PAGES] = { "instead", "aim", "findings", "bench",
                                                  "versions", "notes" };

struct _OgSidePanel
{
  OgDocumentPage parent_instance;

  GtkWidget *switcher;
  GtkWidget *stack;
  GtkWidget *instead;
  GtkWidget *aim;
  GtkWidget *findings;
  GtkWidget *advice;
  GtkWidget *bench;
  GtkWidget *versions;
  GtkWidget *notes_view;
  GtkWidget *buttons[N_PAGES];
  GtkWidget *badges[N_PAGES];

  OgDocument *document; /* nullable, borrowed from the parent */
  gboolean showing_notes; /* the text is being set, not typed */
};

G_DEFINE_FINAL_TYPE (OgSidePanel, og_side_panel, OG_TYPE_DOCUMENT_PAGE)

enum
{
  PROP_0,
  PROP_INGREDIENT_ID,
  N_PROPS
};

enum
{
  SHOW_LINE,
  MESSAGE,
  SHELF_WANTED,
  N_SIGNALS
};

static GParamSpec *properties[N_PROPS];
static guint signals[N_SIGNALS];

static const char *
page_title (guint page)
{
  const char *const titles[N_PAGES] = {
    [PAGE_INSTEAD] = C_("page", "Instead"),
    [PAGE_AIM] = C_("page", "Aim"),
    [PAGE_FINDINGS] = C_("page", "Findings"),
    [PAGE_BENCH] = C_("page", "Bench"),
    [PAGE_VERSIONS] = C_("page", "Versions"),
    [PAGE_NOTES] = C_("page", "Notes"),
  };

  return titles[page];
}

static void
set_badge (OgSidePanel *self,
           guint        page,
           guint        count)
{
  g_autofree char *number = g_strdup_printf ("%u", count);
  g_autofree char *spoken =
    /* Translators: name of a page and how much is on it */
    count > 0 ? g_strdup_printf (_("%s, %u"), page_title (page), count)
              : g_strdup (page_title (page));

  gtk_label_set_label (GTK_LABEL (self->badges[page]), number);
  gtk_widget_set_visible (self->badges[page], count > 0);
  gtk_widget_set_tooltip_text (self->buttons[page], page_title (page));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->buttons[page]),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, spoken,
                                  -1);
}

static void
show_findings (OgSidePanel    *self,
               const OgResult *result)
{
  const GPtrArray *findings = result->findings;
  g_autoptr (OgSaying) advice = og_result_get_advice (result);

  for (guint i = 0; i < findings->len; i++)
    gtk_list_box_append (GTK_LIST_BOX (self->findings),
                         og_finding_row_new (g_ptr_array_index (findings, i)));
  og_label_set_optional (self->advice, og_saying_text (advice));
  set_badge (self, PAGE_FINDINGS, findings->len);
  if (og_result_worst (result) == OG_SEVERITY_BLOCKING)
    gtk_widget_add_css_class (self->badges[PAGE_FINDINGS], "blocking");
  else
    gtk_widget_remove_css_class (self->badges[PAGE_FINDINGS], "blocking");
}

static void
update (OgSidePanel *self)
{
  og_list_clear (self->findings);
  og_label_set_optional (self->advice, NULL);
  if (self->document == NULL
      || og_formula_get_n_lines (og_document_get_formula (self->document)) == 0)
    {
      set_badge (self, PAGE_FINDINGS, 0);
      return;
    }
  show_findings (self, og_document_get_result (self->document));
}

static char *
typed_notes (OgSidePanel *self)
{
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->notes_view));
  GtkTextIter start;
  GtkTextIter end;

  gtk_text_buffer_get_bounds (buffer, &start, &end);
  return gtk_text_buffer_get_text (buffer, &start, &end, FALSE);
}

static void
show_notes (OgSidePanel *self)
{
  const char *notes =
    self->document != NULL ? og_document_get_formula (self->document)->notes : "";
  g_autofree char *typed = typed_notes (self);

  gtk_widget_set_sensitive (self->notes_view, self->document != NULL);
  if (strcmp (typed, notes) == 0)
    return;
  self->showing_notes = TRUE;
  gtk_text_buffer_set_text (gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->notes_view)), notes, -1);
  self->showing_notes = FALSE;
}

static void
on_notes_typed (OgSidePanel *self)
{
  g_autofree char *notes = NULL;

  if (self->showing_notes || self->document == NULL)
    return;
  notes = typed_notes (self);
  og_document_set_notes (self->document, notes);
}

static void
on_notes_left (OgSidePanel *self)
{
  if (self->document != NULL)
    og_document_end_typing (self->document);
}

static void
on_finding_activated (OgSidePanel   *self,
                      GtkListBoxRow *row)
{
  const guint line_id = og_finding_row_get_line_id (row);

  if (line_id != 0)
    g_signal_emit (self, signals[SHOW_LINE], 0, line_id);
}

static void
on_page_toggled (OgSidePanel     *self,
                 GtkToggleButton *button)
{
  for (guint page = 0; page < N_PAGES; page++)
    {
      if (self->buttons[page] == GTK_WIDGET (button) && gtk_toggle_button_get_active (button))
        gtk_stack_set_visible_child_name (GTK_STACK (self->stack), page_names[page]);
    }
}

static void
on_page_changed (OgSidePanel *self)
{
  const char *name;

  if (self->stack == NULL) /* the template is still being built */
    return;
  name = gtk_stack_get_visible_child_name (GTK_STACK (self->stack));
  for (guint page = 0; page < N_PAGES; page++)
    {
      if (self->buttons[page] != NULL && g_strcmp0 (name, page_names[page]) == 0)
        gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->buttons[page]), TRUE);
    }
}

void
og_side_panel_show_instead (OgSidePanel *self)
{
  g_return_if_fail (OG_IS_SIDE_PANEL (self));

  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), page_names[PAGE_INSTEAD]);
  gtk_widget_grab_focus (self->instead);
}

void
og_side_panel_show_aim (OgSidePanel *self)
{
  g_return_if_fail (OG_IS_SIDE_PANEL (self));

  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), page_names[PAGE_AIM]);
  og_aim_page_focus (OG_AIM_PAGE (self->aim));
}

void
og_side_panel_set_shelf (OgSidePanel *self,
                         OgShelf     *shelf)
{
  g_return_if_fail (OG_IS_SIDE_PANEL (self));

  og_instead_page_set_shelf (OG_INSTEAD_PAGE (self->instead), shelf);
  og_aim_page_set_shelf (OG_AIM_PAGE (self->aim), shelf);
  og_versions_page_set_shelf (OG_VERSIONS_PAGE (self->versions), shelf);
}

void
og_side_panel_show_bench (OgSidePanel *self)
{
  g_return_if_fail (OG_IS_SIDE_PANEL (self));

  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), page_names[PAGE_BENCH]);
}

void
og_side_panel_keep_version (OgSidePanel *self)
{
  g_return_if_fail (OG_IS_SIDE_PANEL (self));

  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), page_names[PAGE_VERSIONS]);
  og_versions_page_keep (OG_VERSIONS_PAGE (self->versions));
}

static void
show_n_versions (OgSidePanel *self)
{
  set_badge (self, PAGE_VERSIONS,
             self->document != NULL ? og_document_get_formula (self->document)->versions->len : 0);
}

/* A reading that contradicts waits for the reader. */
static void
on_readings (OgSidePanel *self)
{
  guint n_readings;
  guint n_open;

  g_object_get (self->bench, "n-readings", &n_readings, "n-open", &n_open, NULL);
  set_badge (self, PAGE_BENCH, n_readings);
  if (n_open > 0)
    gtk_widget_add_css_class (self->badges[PAGE_BENCH], "blocking");
  else
    gtk_widget_remove_css_class (self->badges[PAGE_BENCH], "blocking");
}

static void
on_page_message (OgSidePanel *self,
                 const char  *text,
                 gboolean     undoable)
{
  g_signal_emit (self, signals[MESSAGE], 0, text, undoable);
}

static void
on_applied (OgSidePanel *self,
            const char  *label)
{
  /* Translators: %s names an act, such as "Replace Castor oil by Jojoba" */
  g_autofree char *text = g_strdup_printf (_("Done: %s"), label);

  g_signal_emit (self, signals[MESSAGE], 0, text, TRUE);
}

static void
on_shelf_wanted (OgSidePanel *self)
{
  g_signal_emit (self, signals[SHELF_WANTED], 0);
}

static void
on_instead_chosen (OgSidePanel *self)
{
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_INGREDIENT_ID]);
}

static void
set_ingredient_id (OgSidePanel *self,
                   const char  *ingredient_id)
{
  OgInsteadPage *page = OG_INSTEAD_PAGE (self->instead);

  if (g_strcmp0 (og_instead_page_get_ingredient_id (page), ingredient_id) == 0)
    return;
  og_instead_page_set_ingredient_id (page, ingredient_id);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_INGREDIENT_ID]);
}

static void
og_side_panel_formula_changed (OgDocumentPage *page)
{
  show_notes (OG_SIDE_PANEL (page));
  show_n_versions (OG_SIDE_PANEL (page));
}

static void
og_side_panel_result_changed (OgDocumentPage *page)
{
  update (OG_SIDE_PANEL (page));
}

static void
og_side_panel_follow (OgDocumentPage *page,
                      OgDocument     *document)
{
  OgSidePanel *self = OG_SIDE_PANEL (page);

  self->document = document;
  og_document_page_set_document (OG_DOCUMENT_PAGE (self->instead), document);
  og_document_page_set_document (OG_DOCUMENT_PAGE (self->aim), document);
  og_document_page_set_document (OG_DOCUMENT_PAGE (self->bench), document);
  og_document_page_set_document (OG_DOCUMENT_PAGE (self->versions), document);
  show_n_versions (self);
  show_notes (self);
  update (self);
}

static void
add_page_button (OgSidePanel *self,
                 guint        page)
{
  GtkWidget *button = gtk_toggle_button_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *label = gtk_label_new (page_title (page));

  self->buttons[page] = button;
  self->badges[page] = gtk_label_new (NULL);
  gtk_widget_add_css_class (self->badges[page], "badge");
  gtk_widget_set_valign (self->badges[page], GTK_ALIGN_CENTER);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_widget_set_halign (box, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (box), label);
  gtk_box_append (GTK_BOX (box), self->badges[page]);
  gtk_button_set_child (GTK_BUTTON (button), box);
  gtk_widget_set_hexpand (button, TRUE);
  if (page > 0)
    gtk_toggle_button_set_group (GTK_TOGGLE_BUTTON (button),
                                 GTK_TOGGLE_BUTTON (self->buttons[0]));
  else
    gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (button), TRUE);
  g_signal_connect_swapped (button, "toggled", G_CALLBACK (on_page_toggled), self);
  gtk_flow_box_insert (GTK_FLOW_BOX (self->switcher), button, -1);
  gtk_widget_set_focusable (gtk_widget_get_parent (button), FALSE);
  set_badge (self, page, 0);
}

/* Behind the pages: the window gives this panel more room, or less. */
static void
add_raise_button (OgSidePanel *self)
{
  const char *text = _("More room for the advice, or for the chart");
  GtkWidget *button = gtk_button_new_from_icon_name ("view-restore-symbolic");

  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "win.raise-advice");
  gtk_widget_set_tooltip_text (button, text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, text,
                                  -1);
  gtk_flow_box_insert (GTK_FLOW_BOX (self->switcher), button, -1);
  gtk_widget_set_focusable (gtk_widget_get_parent (button), FALSE);
}

static void
watch_notes (OgSidePanel *self)
{
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->notes_view));
  GtkEventController *focus = gtk_event_controller_focus_new ();

  /* The document undoes the notes, like everything else. */
  gtk_text_buffer_set_enable_undo (buffer, FALSE);
  g_signal_connect_object (buffer, "changed", G_CALLBACK (on_notes_typed), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (on_notes_left), self);
  gtk_widget_add_controller (self->notes_view, focus);
}

static void
og_side_panel_get_property (GObject    *object,
                            guint       id,
                            GValue     *value,
                            GParamSpec *pspec)
{
  OgSidePanel *self = OG_SIDE_PANEL (object);

  switch (id)
    {
    case PROP_INGREDIENT_ID:
      g_value_set_string (value,
                          og_instead_page_get_ingredient_id (OG_INSTEAD_PAGE (self->instead)));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
og_side_panel_set_property (GObject      *object,
                            guint         id,
                            const GValue *value,
                            GParamSpec   *pspec)
{
  OgSidePanel *self = OG_SIDE_PANEL (object);

  switch (id)
    {
    case PROP_INGREDIENT_ID:
      set_ingredient_id (self, g_value_get_string (value));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
og_side_panel_dispose (GObject *object)
{
  OgSidePanel *self = OG_SIDE_PANEL (object);

  og_document_page_leave (OG_DOCUMENT_PAGE (self));
  self->document = NULL;
  gtk_widget_dispose_template (GTK_WIDGET (self), OG_TYPE_SIDE_PANEL);

  G_OBJECT_CLASS (og_side_panel_parent_class)->dispose (object);
}

static void
og_side_panel_class_init (OgSidePanelClass *class)
{
  const GParamFlags flags = G_PARAM_READWRITE | G_PARAM_EXPLICIT_NOTIFY | G_PARAM_STATIC_STRINGS;
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);
  OgDocumentPageClass *page_class = OG_DOCUMENT_PAGE_CLASS (class);

  object_class->get_property = og_side_panel_get_property;
  object_class->set_property = og_side_panel_set_property;
  object_class->dispose = og_side_panel_dispose;
  page_class->follow = og_side_panel_follow;
  page_class->formula_changed = og_side_panel_formula_changed;
  page_class->result_changed = og_side_panel_result_changed;

  properties[PROP_INGREDIENT_ID] =
    g_param_spec_string ("ingredient-id", NULL, NULL, NULL, flags);
  g_object_class_install_properties (object_class, N_PROPS, properties);

  signals[SHOW_LINE] = g_signal_new ("show-line", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                     NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);

  signals[MESSAGE] = g_signal_new ("message", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                   NULL, NULL, NULL, G_TYPE_NONE, 2, G_TYPE_STRING,
                                   G_TYPE_BOOLEAN);

  signals[SHELF_WANTED] = g_signal_new ("shelf-wanted", G_TYPE_FROM_CLASS (class),
                                        G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);

  g_type_ensure (OG_TYPE_AIM_PAGE);
  g_type_ensure (OG_TYPE_BENCH_PAGE);
  g_type_ensure (OG_TYPE_INSTEAD_PAGE);
  g_type_ensure (OG_TYPE_VERSIONS_PAGE);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/oleograph/Oleograph/side-panel.ui");
  gtk_widget_class_bind_template_child (widget_class, OgSidePanel, switcher);
  gtk_widget_class_bind_template_child (widget_class, OgSidePanel, stack);
  gtk_widget_class_bind_template_child (widget_class, OgSidePanel, instead);
  gtk_widget_class_bind_template_child (widget_class, OgSidePanel, aim);
  gtk_widget_class_bind_template_child (widget_class, OgSidePanel, findings);
  gtk_widget_class_bind_template_child (widget_class, OgSidePanel, advice);
  gtk_widget_class_bind_template_child (widget_class, OgSidePanel, bench);
  gtk_widget_class_bind_template_child (widget_class, OgSidePanel, versions);
  gtk_widget_class_bind_template_child (widget_class, OgSidePanel, notes_view);
  gtk_widget_class_bind_template_callback (widget_class, on_finding_activated);
  gtk_widget_class_bind_template_callback (widget_class, on_page_changed);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_css_name (widget_class, "sidepanel");
}

static void
og_side_panel_init (OgSidePanel *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  for (guint page = 0; page < N_PAGES; page++)
    add_page_button (self, page);
  add_raise_button (self);
  g_signal_connect_object (self->instead, "chosen", G_CALLBACK (on_instead_chosen), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->instead, "applied", G_CALLBACK (on_applied), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->aim, "applied", G_CALLBACK (on_applied), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->instead, "shelf-wanted", G_CALLBACK (on_shelf_wanted), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->aim, "shelf-wanted", G_CALLBACK (on_shelf_wanted), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->bench, "notify::n-readings", G_CALLBACK (on_readings), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->bench, "message", G_CALLBACK (on_page_message), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->versions, "message", G_CALLBACK (on_page_message), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->versions, "shelf-wanted", G_CALLBACK (on_shelf_wanted), self,
                           G_CONNECT_SWAPPED);
  watch_notes (self);
  show_notes (self);
  update (self);
}

GtkWidget *
og_side_panel_new (void)
{
  return g_object_new (OG_TYPE_SIDE_PANEL, NULL);
}
