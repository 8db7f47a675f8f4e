/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <string.h>

#include "gtk/design/material-editor.h"
#include "gtk/design/material-popover.h"
#include "gtk/design/palette-first.h"
#include "gtk/design/palette-item.h"
#include "gtk/design/palette-view.h"
#include "gtk/parts/drag-payload.h"
#include "gtk/parts/pieces.h"
#include "gtk/parts/tag-filter.h"
#include "gtk/parts/text-undo.h"
#include "model/palette-model.h"

struct _OgPaletteView
{
  OgDocumentPage parent_instance;

  GtkWidget *search_box;
  GtkWidget *search_entry;
  GtkWidget *filter_button;
  GtkWidget *kind_drop_down;
  GtkWidget *tag_filter;
  GtkWidget *stack;
  GtkWidget *scroller;
  GtkWidget *list_view;
  GtkWidget *separator;
  GtkWidget *footer;
  GtkWidget *count_label;
  GtkWidget *pin_button;
  GtkWidget *popover;

  OgDocument *document; /* nullable, borrowed from the parent */
  OgCatalog *catalog; /* what the model shows */
  OgPaletteModel *model;
  OgPaletteFirst *first;
  char *dragged; /* nullable: id of the material in the hand */
  GtkSingleSelection *selection;
  GPtrArray *bound; /* of GtkListItem: items that are on screen or near it */
  char *inspected;  /* id of the material that the popover shows */
  guint popup_tick;
  gboolean popup_ready; /* a frame has been laid out since the popover was asked for */
};

G_DEFINE_FINAL_TYPE (OgPaletteView, og_palette_view, OG_TYPE_DOCUMENT_PAGE)

enum
{
  ADD_MATERIAL,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static OgPaletteItem *
get_item (GtkListItem *item)
{
  return OG_PALETTE_ITEM (gtk_list_item_get_child (item));
}

static const OgIngredient *
get_ingredient (OgPaletteView *self,
                guint          position)
{
  g_autoptr(OgMaterial) material = NULL;

  if (self->model == NULL)
    return NULL;
  material = g_list_model_get_item (G_LIST_MODEL (self->model), position);
  return material != NULL ? og_material_get_ingredient (material) : NULL;
}

static const OgIngredient *
get_selected (OgPaletteView *self)
{
  guint position = gtk_single_selection_get_selected (self->selection);

  return position != GTK_INVALID_LIST_POSITION ? get_ingredient (self, position) : NULL;
}

static gboolean
is_own (OgPaletteView *self,
        const char    *id)
{
  const GPtrArray *materials;

  if (self->document == NULL)
    return FALSE;
  materials = og_document_get_formula (self->document)->materials;
  for (guint i = 0; i < materials->len; i++)
    {
      const OgIngredient *material = g_ptr_array_index (materials, i);

      if (strcmp (material->id, id) == 0)
        return TRUE;
    }
  return FALSE;
}

static void
add_material (OgPaletteView *self,
              const char    *id)
{
  g_autofree char *kept = g_strdup (id);

  og_palette_first_note_use (self->first, kept);
  g_signal_emit (self, signals[ADD_MATERIAL], 0, kept);
}

static void
update_pin (OgPaletteView      *self,
            const OgIngredient *selected)
{
  const gboolean pinned =
    selected != NULL && og_palette_first_is_pinned (self->first, selected->id);

  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->pin_button), pinned);
  gtk_widget_set_sensitive (self->pin_button, selected != NULL);
}

static void
update_actions (OgPaletteView *self)
{
  const OgIngredient *selected = get_selected (self);

  gtk_widget_action_set_enabled (GTK_WIDGET (self), "shelf.inspect", selected != NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "shelf.add",
                                 selected != NULL || self->inspected != NULL);
  update_pin (self, selected);
}

/* Returns: (nullable): what stands above the item at @position, the first of its section or kind */
static const char *
find_heading (OgPaletteView *self,
              guint          position)
{
  const OgPaletteSection section = og_palette_model_get_section (self->model, position);
  const OgKind kind = get_ingredient (self, position)->kind;

  if (position > 0 && og_palette_model_get_section (self->model, position - 1) == section
      && (section != OG_PALETTE_SECTION_KIND || get_ingredient (self, position - 1)->kind == kind))
    return NULL;
  switch (section)
    {
    case OG_PALETTE_SECTION_PINNED:
      return _("Pinned");
    case OG_PALETTE_SECTION_RECENT:
      return _("Used lately");
    case OG_PALETTE_SECTION_NEAR:
      return _("Nothing is called so. Near it:");
    case OG_PALETTE_SECTION_KIND:
      return og_kind_get_name (kind);
    case OG_PALETTE_SECTION_FOUND:
    default:
      return NULL;
    }
}

static void
update_heading (OgPaletteView *self,
                GtkListItem   *item)
{
  const guint position = gtk_list_item_get_position (item);

  if (position != GTK_INVALID_LIST_POSITION && get_ingredient (self, position) != NULL)
    og_palette_item_set_heading (get_item (item), find_heading (self, position));
}

static void
update_count (OgPaletteView *self)
{
  const guint n = self->model != NULL ? g_list_model_get_n_items (G_LIST_MODEL (self->model)) : 0;
  const guint filters = og_tag_filter_get_n (OG_TAG_FILTER (self->tag_filter))
                        + (gtk_drop_down_get_selected (GTK_DROP_DOWN (self->kind_drop_down)) > 0);
  g_autofree char *count = g_strdup_printf (ngettext ("%u material", "%u materials", n), n);
  g_autofree char *label =
    /* Translators: button that opens the filters, with the number of filters in use */
    filters > 0 ? g_strdup_printf (_("Filter (%u)"), filters) : g_strdup (_("Filter"));

  gtk_label_set_label (GTK_LABEL (self->count_label), count);
  gtk_menu_button_set_label (GTK_MENU_BUTTON (self->filter_button), label);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), n > 0 ? "list" : "nothing");
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "shelf.clear-filters", filters > 0);
}

static void
on_items_changed (OgPaletteView *self)
{
  for (guint i = 0; i < self->bound->len; i++)
    update_heading (self, g_ptr_array_index (self->bound, i));
  update_count (self);
  update_actions (self);
}

static void
select_position (OgPaletteView *self,
                 guint          position)
{
  gtk_single_selection_set_selected (self->selection, position);
  if (position != GTK_INVALID_LIST_POSITION)
    gtk_widget_activate_action (self->list_view, "list.scroll-to-item", "u", position);
}

/* A search or a filter starts again at the top. */
static void
select_first (OgPaletteView *self)
{
  if (self->model != NULL && g_list_model_get_n_items (G_LIST_MODEL (self->model)) > 0)
    select_position (self, 0);
}

/* What was used meanwhile moves up now: the list does not move under the hand. */
static void
update_first (OgPaletteView *self)
{
  if (self->model != NULL)
    og_palette_model_set_first (self->model, og_palette_first_get_pinned (self->first),
                                og_palette_first_get_recent (self->first));
}

static void
on_search_changed (OgPaletteView *self)
{
  if (self->model == NULL)
    return;
  update_first (self);
  og_palette_model_set_words (self->model,
                              gtk_editable_get_text (GTK_EDITABLE (self->search_entry)));
  on_items_changed (self); /* also where the same materials stay, found in another way */
  select_first (self);
}

/* Returns: (nullable): NULL if it is not on the screen */
static OgPaletteItem *
find_selected_item (OgPaletteView *self)
{
  const guint position = gtk_single_selection_get_selected (self->selection);

  for (guint i = 0; i < self->bound->len; i++)
    {
      GtkListItem *item = g_ptr_array_index (self->bound, i);

      if (gtk_list_item_get_position (item) == position
          && gtk_widget_get_mapped (GTK_WIDGET (get_item (item))))
        return get_item (item);
    }
  return NULL;
}

/* The list by itself would go to the row that had the focus before the search. */
static void
enter_list (OgPaletteView *self)
{
  OgPaletteItem *item;

  if (get_selected (self) == NULL)
    select_first (self);
  item = find_selected_item (self);
  if (item != NULL)
    gtk_widget_grab_focus (gtk_widget_get_parent (GTK_WIDGET (item)));
  else
    gtk_widget_child_focus (self->scroller, GTK_DIR_TAB_FORWARD);
}

/* Enter adds what was meant without doubt; else it goes to the list, where it can be chosen. */
static void
on_search_activate (OgPaletteView *self)
{
  const OgIngredient *sure;

  on_search_changed (self); /* the last letters may be on their way */
  sure = self->model != NULL ? og_palette_model_get_sure (self->model) : NULL;
  if (sure != NULL)
    {
      add_material (self, sure->id);
      gtk_editable_select_region (GTK_EDITABLE (self->search_entry), 0, -1);
    }
  else if (get_selected (self) != NULL)
    enter_list (self);
  else
    gtk_widget_error_bell (GTK_WIDGET (self));
}

static void
on_stop_search (OgPaletteView *self)
{
  og_editable_show (GTK_EDITABLE (self->search_entry), "");
}

static void
apply_filters (OgPaletteView *self)
{
  const guint kind = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->kind_drop_down));

  if (self->model == NULL)
    return;
  og_palette_model_set_kind (self->model,
                             kind > 0 && kind <= OG_N_KINDS ? og_kind_to_nick ((OgKind) (kind - 1))
                                                            : NULL);
  og_palette_model_set_without (self->model,
                                og_tag_filter_get_tags (OG_TAG_FILTER (self->tag_filter)));
}

static void
on_filter_changed (OgPaletteView *self)
{
  apply_filters (self);
  select_first (self);
  update_count (self);
}

static void
on_list_activate (OgPaletteView *self,
                  guint          position)
{
  const OgIngredient *ingredient = get_ingredient (self, position);

  if (ingredient != NULL)
    add_material (self, ingredient->id);
}

static void
on_selected_changed (OgPaletteView *self)
{
  update_actions (self);
}

static GdkContentProvider *
on_drag_prepare (GtkDragSource *source,
                 double         x,
                 double         y,
                 GtkListItem   *item)
{
  OgMaterial *material = gtk_list_item_get_item (item);
  GtkWidget *content = og_palette_item_get_content (get_item (item));
  g_autoptr(GdkPaintable) icon = NULL;

  if (material == NULL)
    return NULL;
  icon = gtk_widget_paintable_new (content);
  gtk_drag_source_set_icon (source, icon, (int) x, (int) y);
  return og_ingredient_drag_for_material (og_material_get_ingredient (material)->id);
}

static void
on_drag_begin (OgPaletteView *self,
               GdkDrag       *drag,
               GtkDragSource *source)
{
  GtkListItem *item = g_object_get_data (G_OBJECT (source), "og-item");
  OgMaterial *material = gtk_list_item_get_item (item);

  g_free (self->dragged);
  self->dragged = g_strdup (material != NULL ? og_material_get_ingredient (material)->id : NULL);
}

static gboolean
on_drag_cancel (OgPaletteView *self)
{
  g_clear_pointer (&self->dragged, g_free);
  return FALSE; /* it flies back as usual */
}

static void
on_drag_end (OgPaletteView *self)
{
  if (self->dragged != NULL)
    og_palette_first_note_use (self->first, self->dragged);
  g_clear_pointer (&self->dragged, g_free);
}

static void
on_item_right_click (OgPaletteView *self,
                     int            n_press,
                     double         x,
                     double         y,
                     GtkGesture    *gesture)
{
  GtkListItem *item = g_object_get_data (G_OBJECT (gesture), "og-item");

  gtk_gesture_set_state (gesture, GTK_EVENT_SEQUENCE_CLAIMED);
  gtk_single_selection_set_selected (self->selection, gtk_list_item_get_position (item));
  gtk_widget_activate_action (GTK_WIDGET (self), "shelf.inspect", NULL);
}

static void
add_item_controllers (OgPaletteView *self,
                      GtkListItem   *item,
                      GtkWidget     *content)
{
  GtkDragSource *source = gtk_drag_source_new ();
  GtkGesture *click = gtk_gesture_click_new ();

  g_object_set_data (G_OBJECT (source), "og-item", item);
  g_signal_connect (source, "prepare", G_CALLBACK (on_drag_prepare), item);
  g_signal_connect_swapped (source, "drag-begin", G_CALLBACK (on_drag_begin), self);
  g_signal_connect_swapped (source, "drag-cancel", G_CALLBACK (on_drag_cancel), self);
  g_signal_connect_swapped (source, "drag-end", G_CALLBACK (on_drag_end), self);
  gtk_widget_add_controller (content, GTK_EVENT_CONTROLLER (source));

  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (click), GDK_BUTTON_SECONDARY);
  g_object_set_data (G_OBJECT (click), "og-item", item);
  g_signal_connect_swapped (click, "pressed", G_CALLBACK (on_item_right_click), self);
  gtk_widget_add_controller (content, GTK_EVENT_CONTROLLER (click));
}

static void
on_setup (GtkSignalListItemFactory *factory,
          GtkListItem              *item,
          OgPaletteView            *self)
{
  GtkWidget *widget = og_palette_item_new ();

  add_item_controllers (self, item, og_palette_item_get_content (OG_PALETTE_ITEM (widget)));
  gtk_list_item_set_child (item, widget);
}

static void
show_item (OgPaletteView *self,
           GtkListItem   *item)
{
  const OgIngredient *ingredient = og_material_get_ingredient (gtk_list_item_get_item (item));

  og_palette_item_show (get_item (item), ingredient, is_own (self, ingredient->id),
                        og_palette_first_is_pinned (self->first, ingredient->id));
}

static void
on_bind (GtkSignalListItemFactory *factory,
         GtkListItem              *item,
         OgPaletteView            *self)
{
  show_item (self, item);
  g_ptr_array_add (self->bound, item);
  update_heading (self, item);
}

static void
on_unbind (GtkSignalListItemFactory *factory,
           GtkListItem              *item,
           OgPaletteView            *self)
{
  g_ptr_array_remove_fast (self->bound, item);
}

/* Where the popover points: the selected item if it is on screen, else the search field. */
static void
point_popover (OgPaletteView *self)
{
  OgPaletteItem *item = find_selected_item (self);
  GtkWidget *target = item != NULL ? og_palette_item_get_content (item) : self->search_box;
  graphene_rect_t bounds;

  if (!gtk_widget_compute_bounds (target, GTK_WIDGET (self), &bounds))
    return;
  gtk_popover_set_pointing_to (GTK_POPOVER (self->popover),
                               &(GdkRectangle) { (int) bounds.origin.x, (int) bounds.origin.y,
                                                 (int) bounds.size.width,
                                                 (int) bounds.size.height });
}

static void
on_popover_closed (OgPaletteView *self)
{
  g_clear_pointer (&self->inspected, g_free);
  update_actions (self);
}

static void
ensure_popover (OgPaletteView *self)
{
  if (self->popover != NULL)
    return;
  self->popover = og_material_popover_new ();
  gtk_popover_set_position (GTK_POPOVER (self->popover), GTK_POS_RIGHT);
  gtk_widget_set_parent (self->popover, GTK_WIDGET (self));
  g_signal_connect_object (self->popover, "closed", G_CALLBACK (on_popover_closed), self,
                           G_CONNECT_SWAPPED);
}

static void
update_popover (OgPaletteView      *self,
                const OgIngredient *ingredient)
{
  const gboolean own = is_own (self, ingredient->id);
  const gboolean used =
    own && og_formula_find_ingredient (og_document_get_formula (self->document),
                                       ingredient->id) != NULL;

  og_material_popover_show_material (OG_MATERIAL_POPOVER (self->popover), ingredient, own);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "shelf.edit", own);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "shelf.remove", own && !used);
}

/* Waits for the next layout: a search may just have moved the items. */
static gboolean
on_popup_tick (GtkWidget     *widget,
               GdkFrameClock *clock,
               gpointer       unused)
{
  OgPaletteView *self = OG_PALETTE_VIEW (widget);

  if (!self->popup_ready)
    {
      self->popup_ready = TRUE;
      return G_SOURCE_CONTINUE;
    }
  self->popup_tick = 0;
  point_popover (self);
  gtk_popover_popup (GTK_POPOVER (self->popover));
  return G_SOURCE_REMOVE;
}

static void
stop_popup (OgPaletteView *self)
{
  if (self->popup_tick == 0)
    return;
  gtk_widget_remove_tick_callback (GTK_WIDGET (self), self->popup_tick);
  self->popup_tick = 0;
}

static void
inspect (GtkWidget  *widget,
         const char *action,
         GVariant   *parameter)
{
  OgPaletteView *self = OG_PALETTE_VIEW (widget);
  const OgIngredient *ingredient = get_selected (self);

  if (ingredient == NULL)
    return;
  ensure_popover (self);
  g_free (self->inspected);
  self->inspected = g_strdup (ingredient->id);
  update_popover (self, ingredient);
  stop_popup (self);
  self->popup_ready = FALSE;
  self->popup_tick = gtk_widget_add_tick_callback (widget, on_popup_tick, NULL, NULL);
}

static char *
steal_inspected (OgPaletteView *self)
{
  const OgIngredient *selected = get_selected (self);
  char *id = self->inspected != NULL ? g_strdup (self->inspected)
                                     : g_strdup (selected != NULL ? selected->id : NULL);

  stop_popup (self);
  if (self->popover != NULL)
    gtk_popover_popdown (GTK_POPOVER (self->popover));
  return id;
}

static void
add_inspected (GtkWidget  *widget,
               const char *action,
               GVariant   *parameter)
{
  OgPaletteView *self = OG_PALETTE_VIEW (widget);
  g_autofree char *id = steal_inspected (self);

  if (id != NULL)
    add_material (self, id);
}

static void
open_editor (GtkWidget  *widget,
             const char *action,
             GVariant   *parameter)
{
  OgPaletteView *self = OG_PALETTE_VIEW (widget);
  g_autofree char *id = steal_inspected (self);
  GtkWidget *editor;

  if (id == NULL || self->document == NULL)
    return;
  editor = og_material_editor_new (self->document, id, g_str_equal (action, "shelf.edit"));
  og_present_over (widget, editor);
}

static void
remove_inspected (GtkWidget  *widget,
                  const char *action,
                  GVariant   *parameter)
{
  OgPaletteView *self = OG_PALETTE_VIEW (widget);
  g_autofree char *id = steal_inspected (self);

  if (id != NULL && self->document != NULL && !og_document_remove_material (self->document, id))
    gtk_widget_error_bell (widget);
}

static void
clear_filters (GtkWidget  *widget,
               const char *action,
               GVariant   *parameter)
{
  OgPaletteView *self = OG_PALETTE_VIEW (widget);

  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->kind_drop_down), 0);
  og_tag_filter_clear (OG_TAG_FILTER (self->tag_filter));
}

static void
clear_all (GtkWidget  *widget,
           const char *action,
           GVariant   *parameter)
{
  OgPaletteView *self = OG_PALETTE_VIEW (widget);

  clear_filters (widget, action, parameter);
  og_editable_show (GTK_EDITABLE (self->search_entry), "");
  gtk_widget_grab_focus (self->search_entry);
}

/* Down from the search field goes to the list, and back up from its first material. */
static gboolean
on_search_key (OgPaletteView *self,
               guint          keyval)
{
  if (keyval != GDK_KEY_Down && keyval != GDK_KEY_KP_Down)
    return GDK_EVENT_PROPAGATE;
  enter_list (self);
  return GDK_EVENT_STOP;
}

/* Tab leaves the list at once instead of walking through all materials, Escape goes back to the search. */
static gboolean
on_list_key (OgPaletteView *self,
             guint          keyval)
{
  if (keyval == GDK_KEY_Tab || keyval == GDK_KEY_KP_Tab)
    return gtk_widget_child_focus (self->footer, GTK_DIR_TAB_FORWARD);
  if (keyval == GDK_KEY_ISO_Left_Tab)
    return gtk_widget_child_focus (self->search_box, GTK_DIR_TAB_BACKWARD);
  if (keyval == GDK_KEY_Escape)
    return gtk_widget_grab_focus (self->search_entry);
  return GDK_EVENT_PROPAGATE;
}

static guint
find_position (OgPaletteView *self,
               const char    *id)
{
  const guint n = g_list_model_get_n_items (G_LIST_MODEL (self->model));

  for (guint i = 0; id != NULL && i < n; i++)
    {
      if (g_strcmp0 (get_ingredient (self, i)->id, id) == 0)
        return i;
    }
  return GTK_INVALID_LIST_POSITION;
}

static void
on_pin (OgPaletteView *self)
{
  const OgIngredient *selected = get_selected (self);
  g_autofree char *id = NULL;

  if (selected == NULL)
    return;
  id = g_strdup (selected->id);
  og_palette_first_toggle (self->first, id);
  update_first (self);
  select_position (self, find_position (self, id));
  for (guint i = 0; i < self->bound->len; i++)
    show_item (self, g_ptr_array_index (self->bound, i));
  on_items_changed (self);
}

static void
show_catalog (OgPaletteView *self,
              OgCatalog     *catalog)
{
  const OgIngredient *selected = get_selected (self);
  g_autofree char *id = selected != NULL ? g_strdup (selected->id) : NULL;
  /* The old materials live until the model lets go. */
  G_GNUC_UNUSED g_autoptr(OgCatalog) old = self->catalog;
  guint position;

  self->catalog = og_catalog_ref (catalog);
  if (self->model == NULL)
    {
      self->model = og_palette_model_new (catalog);
      g_signal_connect_object (self->model, "items-changed", G_CALLBACK (on_items_changed), self,
                               G_CONNECT_SWAPPED | G_CONNECT_AFTER);
      gtk_single_selection_set_model (self->selection, G_LIST_MODEL (self->model));
      on_search_changed (self);
      apply_filters (self);
    }
  else
    og_palette_model_set_catalog (self->model, catalog);
  position = find_position (self, id);
  if (position != GTK_INVALID_LIST_POSITION)
    gtk_single_selection_set_selected (self->selection, position);
  on_items_changed (self);
}

static void
og_palette_view_formula_changed (OgDocumentPage *page)
{
  OgPaletteView *self = OG_PALETTE_VIEW (page);
  OgCatalog *catalog = og_document_get_catalog (self->document);

  if (catalog != self->catalog)
    show_catalog (self, catalog);
}

static void
og_palette_view_follow (OgDocumentPage *page,
                        OgDocument     *document)
{
  OgPaletteView *self = OG_PALETTE_VIEW (page);

  self->document = document;
  if (document != NULL)
    show_catalog (self, og_document_get_catalog (document));
}

void
og_palette_view_focus_search (OgPaletteView *self)
{
  g_return_if_fail (OG_IS_PALETTE_VIEW (self));

  gtk_widget_grab_focus (self->search_entry);
  gtk_editable_select_region (GTK_EDITABLE (self->search_entry), 0, -1);
}

void
og_palette_view_set_settings (OgPaletteView *self,
                              GSettings     *settings)
{
  g_return_if_fail (OG_IS_PALETTE_VIEW (self));

  og_palette_first_free (self->first);
  self->first = og_palette_first_new (settings);
  update_first (self);
  on_items_changed (self);
}

static void
fill_kinds (OgPaletteView *self)
{
  g_autoptr(GtkStringList) names = gtk_string_list_new (NULL);

  gtk_string_list_append (names, _("All kinds"));
  for (guint kind = 0; kind < OG_N_KINDS; kind++)
    gtk_string_list_append (names, og_kind_get_name ((OgKind) kind));
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->kind_drop_down), G_LIST_MODEL (names));
}

static void
og_palette_view_dispose (GObject *object)
{
  OgPaletteView *self = OG_PALETTE_VIEW (object);

  og_document_page_leave (OG_DOCUMENT_PAGE (self));
  self->document = NULL;
  if (self->model != NULL)
    g_signal_handlers_disconnect_by_data (self->model, self);
  stop_popup (self);
  g_clear_pointer (&self->popover, gtk_widget_unparent);
  gtk_widget_dispose_template (GTK_WIDGET (self), OG_TYPE_PALETTE_VIEW);
  g_clear_object (&self->selection);
  g_clear_object (&self->model);

  G_OBJECT_CLASS (og_palette_view_parent_class)->dispose (object);
}

static void
og_palette_view_finalize (GObject *object)
{
  OgPaletteView *self = OG_PALETTE_VIEW (object);

  g_clear_pointer (&self->catalog, og_catalog_unref);
  g_ptr_array_unref (self->bound);
  g_free (self->inspected);
  g_free (self->dragged);
  og_palette_first_free (self->first);

  G_OBJECT_CLASS (og_palette_view_parent_class)->finalize (object);
}

static void
bind_template (GtkWidgetClass *widget_class)
{
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/oleograph/Oleograph/palette-view.ui");
  gtk_widget_class_bind_template_child (widget_class, OgPaletteView, search_box);
  gtk_widget_class_bind_template_child (widget_class, OgPaletteView, search_entry);
  gtk_widget_class_bind_template_child (widget_class, OgPaletteView, filter_button);
  gtk_widget_class_bind_template_child (widget_class, OgPaletteView, kind_drop_down);
  gtk_widget_class_bind_template_child (widget_class, OgPaletteView, tag_filter);
  gtk_widget_class_bind_template_child (widget_class, OgPaletteView, stack);
  gtk_widget_class_bind_template_child (widget_class, OgPaletteView, scroller);
  gtk_widget_class_bind_template_child (widget_class, OgPaletteView, list_view);
  gtk_widget_class_bind_template_child (widget_class, OgPaletteView, separator);
  gtk_widget_class_bind_template_child (widget_class, OgPaletteView, footer);
  gtk_widget_class_bind_template_child (widget_class, OgPaletteView, count_label);
  gtk_widget_class_bind_template_child (widget_class, OgPaletteView, pin_button);
  gtk_widget_class_bind_template_callback (widget_class, on_search_changed);
  gtk_widget_class_bind_template_callback (widget_class, on_search_activate);
  gtk_widget_class_bind_template_callback (widget_class, on_stop_search);
  gtk_widget_class_bind_template_callback (widget_class, on_filter_changed);
  gtk_widget_class_bind_template_callback (widget_class, on_list_activate);
  gtk_widget_class_bind_template_callback (widget_class, on_pin);
}

static void
og_palette_view_class_init (OgPaletteViewClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);
  OgDocumentPageClass *page_class = OG_DOCUMENT_PAGE_CLASS (class);

  object_class->dispose = og_palette_view_dispose;
  object_class->finalize = og_palette_view_finalize;
  page_class->follow = og_palette_view_follow;
  page_class->formula_changed = og_palette_view_formula_changed;

  signals[ADD_MATERIAL] =
    g_signal_new ("add-material", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                  NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);

  g_type_ensure (OG_TYPE_TAG_FILTER);
  bind_template (widget_class);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_css_name (widget_class, "shelfview");
  gtk_widget_class_install_action (widget_class, "shelf.inspect", NULL, inspect);
  gtk_widget_class_install_action (widget_class, "shelf.add", NULL, add_inspected);
  gtk_widget_class_install_action (widget_class, "shelf.derive", NULL, open_editor);
  gtk_widget_class_install_action (widget_class, "shelf.edit", NULL, open_editor);
  gtk_widget_class_install_action (widget_class, "shelf.remove", NULL, remove_inspected);
  gtk_widget_class_install_action (widget_class, "shelf.clear-filters", NULL, clear_filters);
  gtk_widget_class_install_action (widget_class, "shelf.clear", NULL, clear_all);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Return, GDK_ALT_MASK,
                                       "shelf.inspect", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_KP_Enter, GDK_ALT_MASK,
                                       "shelf.inspect", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Menu, 0, "shelf.inspect", NULL);
}

static void
watch_keys (OgPaletteView *self,
            GtkWidget     *widget,
            GCallback      handler)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", handler, self);
  gtk_widget_add_controller (widget, keys);
}

static void
og_palette_view_init (OgPaletteView *self)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();

  self->bound = g_ptr_array_new ();
  self->first = og_palette_first_new (NULL);
  self->selection = gtk_single_selection_new (NULL);
  gtk_widget_init_template (GTK_WIDGET (self));
  fill_kinds (self);

  g_signal_connect (factory, "setup", G_CALLBACK (on_setup), self);
  g_signal_connect (factory, "bind", G_CALLBACK (on_bind), self);
  g_signal_connect (factory, "unbind", G_CALLBACK (on_unbind), self);
  gtk_list_view_set_factory (GTK_LIST_VIEW (self->list_view), factory);
  gtk_list_view_set_model (GTK_LIST_VIEW (self->list_view), GTK_SELECTION_MODEL (self->selection));
  g_object_unref (factory);
  g_signal_connect_object (self->selection, "notify::selected", G_CALLBACK (on_selected_changed),
                           self, G_CONNECT_SWAPPED);

  og_search_entry_keep_focus (self->search_entry);
  watch_keys (self, self->search_entry, G_CALLBACK (on_search_key));
  watch_keys (self, self->list_view, G_CALLBACK (on_list_key));
  update_count (self);
  update_actions (self);
}

GtkWidget *
og_palette_view_new (void)
{
  return g_object_new (OG_TYPE_PALETTE_VIEW, NULL);
}
