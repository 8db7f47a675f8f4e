/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "gtk/parts/labels.h"
#include "gtk/parts/record-table.h"

#define COLUMN_DATA "og-column"
#define EXPAND_CHARS 16

struct _OgRecord
{
  GObject parent_instance;

  char **cells;
  char *key;
  gint64 id;
};

G_DEFINE_FINAL_TYPE (OgRecord, og_record, G_TYPE_OBJECT)

static void
og_record_finalize (GObject *object)
{
  OgRecord *self = OG_RECORD (object);

  g_strfreev (self->cells);
  g_free (self->key);

  G_OBJECT_CLASS (og_record_parent_class)->finalize (object);
}

static void
og_record_class_init (OgRecordClass *class)
{
  G_OBJECT_CLASS (class)->finalize = og_record_finalize;
}

static void
og_record_init (OgRecord *self)
{
}

OgRecord *
og_record_new (char       **cells,
               const char  *key,
               gint64       id)
{
  OgRecord *self = g_object_new (OG_TYPE_RECORD, NULL);

  self->cells = cells;
  self->key = g_strdup (key);
  self->id = id;
  return self;
}

const char *
og_record_get_key (OgRecord *self)
{
  g_return_val_if_fail (OG_IS_RECORD (self), NULL);

  return self->key;
}

gint64
og_record_get_id (OgRecord *self)
{
  g_return_val_if_fail (OG_IS_RECORD (self), 0);

  return self->id;
}

/* Table */

struct _OgRecordTable
{
  GtkWidget parent_instance;

  GtkWidget *scroller;
  GtkWidget *view;
  GListStore *store;
  GtkSingleSelection *selection;
  const OgRecordColumn *columns;
  guint n_columns;
  gboolean filling;
};

G_DEFINE_FINAL_TYPE (OgRecordTable, og_record_table, GTK_TYPE_WIDGET)

enum
{
  SELECTED,
  ACTIVATED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static OgRecord *
get_record (OgRecordTable *self,
            guint          position)
{
  /* the store keeps it alive */
  g_autoptr (OgRecord) record = g_list_model_get_item (G_LIST_MODEL (self->store), position);

  return record;
}

OgRecord *
og_record_table_get_selected (OgRecordTable *self)
{
  g_return_val_if_fail (OG_IS_RECORD_TABLE (self), NULL);

  return gtk_single_selection_get_selected_item (self->selection);
}

guint
og_record_table_get_n_rows (OgRecordTable *self)
{
  g_return_val_if_fail (OG_IS_RECORD_TABLE (self), 0);

  return g_list_model_get_n_items (G_LIST_MODEL (self->store));
}

static guint
find_record (OgRecordTable *self,
             const char    *key,
             gint64         id)
{
  for (guint i = 0; i < og_record_table_get_n_rows (self); i++)
    {
      const OgRecord *record = get_record (self, i);

      if (record->id == id && g_strcmp0 (record->key, key) == 0)
        return i;
    }
  return GTK_INVALID_LIST_POSITION;
}

static void
emit_selected (OgRecordTable *self)
{
  if (!self->filling)
    g_signal_emit (self, signals[SELECTED], 0);
}

void
og_record_table_show (OgRecordTable *self,
                      GPtrArray     *records)
{
  OgRecord *before;
  guint position = GTK_INVALID_LIST_POSITION;

  g_return_if_fail (OG_IS_RECORD_TABLE (self));

  before = og_record_table_get_selected (self);
  if (before != NULL)
    g_object_ref (before);
  self->filling = TRUE;
  g_list_store_splice (self->store, 0, og_record_table_get_n_rows (self), records->pdata,
                       records->len);
  if (before != NULL)
    position = find_record (self, before->key, before->id);
  gtk_single_selection_set_selected (self->selection, position);
  self->filling = FALSE;
  g_clear_object (&before);
  emit_selected (self);
}

void
og_record_table_append (OgRecordTable *self,
                        GPtrArray     *records)
{
  g_return_if_fail (OG_IS_RECORD_TABLE (self));

  g_list_store_splice (self->store, og_record_table_get_n_rows (self), 0, records->pdata,
                       records->len);
}

gboolean
og_record_table_select (OgRecordTable *self,
                        const char    *key)
{
  guint position = GTK_INVALID_LIST_POSITION;

  g_return_val_if_fail (OG_IS_RECORD_TABLE (self), FALSE);

  for (guint i = 0; key != NULL && i < og_record_table_get_n_rows (self); i++)
    {
      if (g_strcmp0 (get_record (self, i)->key, key) == 0)
        {
          position = i;
          break;
        }
    }
  gtk_single_selection_set_selected (self->selection, position);
  return position != GTK_INVALID_LIST_POSITION;
}

/* Columns */

static const OgRecordColumn *
column_of (GtkSignalListItemFactory *factory,
           guint                    *index,
           OgRecordTable            *self)
{
  *index = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (factory), COLUMN_DATA));
  return &self->columns[*index];
}

static void
on_setup (GtkSignalListItemFactory *factory,
          GtkListItem              *item,
          OgRecordTable            *self)
{
  guint index;
  const OgRecordColumn *column = column_of (factory, &index, self);
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), column->numeric ? 1.0f : 0.0f);
  if (column->expand)
    {
      gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
      gtk_label_set_width_chars (GTK_LABEL (label), EXPAND_CHARS);
    }
  if (column->numeric)
    gtk_widget_add_css_class (label, "numeric");
  gtk_list_item_set_child (item, label);
}

static void
on_bind (GtkSignalListItemFactory *factory,
         GtkListItem              *item,
         OgRecordTable            *self)
{
  guint index;
  const OgRecordColumn *column = column_of (factory, &index, self);
  const OgRecord *record = gtk_list_item_get_item (item);
  GtkWidget *label = gtk_list_item_get_child (item);

  gtk_label_set_label (GTK_LABEL (label), record->cells[index]);
  if (column->expand)
    gtk_widget_set_tooltip_text (label, record->cells[index]);
}

static void
add_column (OgRecordTable *self,
            guint          index)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  g_autoptr (GtkColumnViewColumn) column = NULL;

  g_object_set_data (G_OBJECT (factory), COLUMN_DATA, GUINT_TO_POINTER (index));
  g_signal_connect (factory, "setup", G_CALLBACK (on_setup), self);
  g_signal_connect (factory, "bind", G_CALLBACK (on_bind), self);
  column = gtk_column_view_column_new (_(self->columns[index].title), factory);
  gtk_column_view_column_set_expand (column, self->columns[index].expand);
  gtk_column_view_column_set_resizable (column, TRUE);
  gtk_column_view_append_column (GTK_COLUMN_VIEW (self->view), column);
}

static void
on_activate (OgRecordTable *self,
             guint          position)
{
  gtk_single_selection_set_selected (self->selection, position);
  g_signal_emit (self, signals[ACTIVATED], 0);
}

static gboolean
og_record_table_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (OG_RECORD_TABLE (widget)->view);
}

static gboolean
og_record_table_focus (GtkWidget        *widget,
                       GtkDirectionType  direction)
{
  return gtk_widget_child_focus (OG_RECORD_TABLE (widget)->scroller, direction);
}

static void
og_record_table_dispose (GObject *object)
{
  OgRecordTable *self = OG_RECORD_TABLE (object);

  self->filling = TRUE;
  g_clear_pointer (&self->scroller, gtk_widget_unparent);
  g_clear_object (&self->selection);
  g_clear_object (&self->store);

  G_OBJECT_CLASS (og_record_table_parent_class)->dispose (object);
}

static void
og_record_table_class_init (OgRecordTableClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = og_record_table_dispose;
  widget_class->grab_focus = og_record_table_grab_focus;
  widget_class->focus = og_record_table_focus;

  signals[SELECTED] = g_signal_new ("selected", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                    NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[ACTIVATED] = g_signal_new ("activated", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                     NULL, NULL, NULL, G_TYPE_NONE, 0);

  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_css_name (widget_class, "recordtable");
}

static void
og_record_table_init (OgRecordTable *self)
{
  self->store = g_list_store_new (OG_TYPE_RECORD);
  self->selection = gtk_single_selection_new (g_object_ref (G_LIST_MODEL (self->store)));
  gtk_single_selection_set_autoselect (self->selection, FALSE);
  gtk_single_selection_set_can_unselect (self->selection, TRUE);
  gtk_single_selection_set_selected (self->selection, GTK_INVALID_LIST_POSITION);
  g_signal_connect_object (self->selection, "notify::selected-item", G_CALLBACK (emit_selected),
                           self, G_CONNECT_SWAPPED);
  self->view = gtk_column_view_new (g_object_ref (GTK_SELECTION_MODEL (self->selection)));
  gtk_widget_add_css_class (self->view, "data-table");
  g_signal_connect_swapped (self->view, "activate", G_CALLBACK (on_activate), self);
  self->scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroller), self->view);
  gtk_widget_set_parent (self->scroller, GTK_WIDGET (self));
  gtk_widget_set_vexpand (GTK_WIDGET (self), TRUE);
}

GtkWidget *
og_record_table_new (const char           *name,
                     const OgRecordColumn *columns,
                     guint                 n_columns)
{
  OgRecordTable *self = g_object_new (OG_TYPE_RECORD_TABLE, NULL);

  self->columns = columns;
  self->n_columns = n_columns;
  for (guint i = 0; i < n_columns; i++)
    add_column (self, i);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->view),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  -1);
  return GTK_WIDGET (self);
}
