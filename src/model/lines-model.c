/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/lines-model.h"

#include "model/row-private.h"
#include "model/span.h"

struct _OgLinesModel
{
  GObject     parent_instance;

  OgDocument *document;
  GPtrArray  *rows;  /* of OgRow, in order */
  GHashTable *by_id; /* id -> OgRow of @rows */
};

static void list_model_init (GListModelInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (OgLinesModel, og_lines_model, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (G_TYPE_LIST_MODEL, list_model_init))

static GType
og_lines_model_get_item_type (GListModel *model)
{
  return OG_TYPE_ROW;
}

static guint
og_lines_model_get_n_items (GListModel *model)
{
  return OG_LINES_MODEL (model)->rows->len;
}

static gpointer
og_lines_model_get_item (GListModel *model,
                         guint       position)
{
  OgLinesModel *self = OG_LINES_MODEL (model);

  return position < self->rows->len
         ? g_object_ref (g_ptr_array_index (self->rows, position))
         : NULL;
}

static void
list_model_init (GListModelInterface *iface)
{
  iface->get_item_type = og_lines_model_get_item_type;
  iface->get_n_items = og_lines_model_get_n_items;
  iface->get_item = og_lines_model_get_item;
}

static void
og_lines_model_dispose (GObject *object)
{
  OgLinesModel *self = OG_LINES_MODEL (object);

  g_clear_object (&self->document);

  G_OBJECT_CLASS (og_lines_model_parent_class)->dispose (object);
}

static void
og_lines_model_finalize (GObject *object)
{
  OgLinesModel *self = OG_LINES_MODEL (object);

  g_hash_table_unref (self->by_id);
  g_ptr_array_unref (self->rows);

  G_OBJECT_CLASS (og_lines_model_parent_class)->finalize (object);
}

static void
og_lines_model_class_init (OgLinesModelClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->dispose = og_lines_model_dispose;
  object_class->finalize = og_lines_model_finalize;
}

static void
og_lines_model_init (OgLinesModel *self)
{
  self->rows = g_ptr_array_new_with_free_func (g_object_unref);
  self->by_id = g_hash_table_new (NULL, NULL);
}

/* Adds the row of @id to @rows: the one there is, or a new one. */
static OgRow *
take_row (OgLinesModel *self,
          GPtrArray    *rows,
          OgRowKind     kind,
          guint         id)
{
  OgRow *row = g_hash_table_lookup (self->by_id, GUINT_TO_POINTER (id));

  if (row != NULL && og_row_get_kind (row) == kind)
    g_object_ref (row);
  else
    row = _og_row_new (kind, id);

  g_object_freeze_notify (G_OBJECT (row));
  _og_row_set_position (row, rows->len);
  g_ptr_array_add (rows, row);

  return row;
}

static void
mirror_phase (OgLinesModel         *self,
              GPtrArray            *rows,
              const OgFormulaPhase *phase,
              double                batch_g)
{
  OgCatalog *catalog = og_document_get_catalog (self->document);

  _og_row_mirror_phase (take_row (self, rows, OG_ROW_PHASE, phase->id), phase, batch_g);
  for (guint i = 0; i < phase->lines->len; i++)
    {
      const OgFormulaLine *line = g_ptr_array_index (phase->lines, i);
      OgRow *row = take_row (self, rows, OG_ROW_LINE, line->id);

      _og_row_mirror_line (row, line, phase->id, catalog, batch_g);
    }
}

/* Returns: (transfer full): rows of the recipe as it stands, their notifications held back */
static GPtrArray *
mirror_formula (OgLinesModel *self)
{
  const OgFormula *formula = og_document_get_formula (self->document);
  GPtrArray *rows = g_ptr_array_new_with_free_func (g_object_unref);

  for (guint i = 0; i < formula->phases->len; i++)
    mirror_phase (self, rows, g_ptr_array_index (formula->phases, i), formula->batch_g);

  return rows;
}

static void
index_rows (OgLinesModel *self)
{
  g_hash_table_remove_all (self->by_id);
  for (guint i = 0; i < self->rows->len; i++)
    {
      OgRow *row = g_ptr_array_index (self->rows, i);

      g_hash_table_insert (self->by_id, GUINT_TO_POINTER (og_row_get_id (row)), row);
    }
}

static void
on_formula_changed (OgLinesModel *self)
{
  g_autoptr (GPtrArray) before = g_steal_pointer (&self->rows);
  g_autoptr (GPtrArray) after = NULL;

  self->rows = mirror_formula (self);
  after = g_ptr_array_ref (self->rows);
  index_rows (self);

  og_span_announce (G_LIST_MODEL (self), before, after);
  for (guint i = 0; i < after->len; i++)
    g_object_thaw_notify (g_ptr_array_index (after, i));
}

/* The worst finding of a line comes first in the result. */
static void
collect_finding (GHashTable      *texts,
                 GHashTable      *severities,
                 const OgFinding *finding)
{
  gpointer line = GUINT_TO_POINTER (finding->line_id);
  GString *text = g_hash_table_lookup (texts, line);

  if (text == NULL)
    {
      text = g_string_new (og_saying_text (finding->text));
      g_hash_table_insert (texts, line, text);
      g_hash_table_insert (severities, line, GINT_TO_POINTER (finding->severity));
      return;
    }

  g_string_append_printf (text, "\n%s", og_saying_text (finding->text));
}

static void
free_string (gpointer string)
{
  g_string_free (string, TRUE);
}

static void
on_result_changed (OgLinesModel *self)
{
  const OgResult *result = og_document_get_result (self->document);
  g_autoptr (GHashTable) texts = g_hash_table_new_full (NULL, NULL, NULL, free_string);
  g_autoptr (GHashTable) severities = g_hash_table_new (NULL, NULL);
  g_autoptr (GPtrArray) rows = g_ptr_array_ref (self->rows);

  for (guint i = 0; i < result->findings->len; i++)
    collect_finding (texts, severities, g_ptr_array_index (result->findings, i));

  for (guint i = 0; i < rows->len; i++)
    {
      OgRow *row = g_ptr_array_index (rows, i);
      gpointer id = GUINT_TO_POINTER (og_row_get_id (row));
      const GString *text = g_hash_table_lookup (texts, id);

      if (text != NULL)
        _og_row_set_finding (row, GPOINTER_TO_INT (g_hash_table_lookup (severities, id)),
                             text->str);
      else
        _og_row_set_finding (row, -1, NULL);
    }
}

OgLinesModel *
og_lines_model_new (OgDocument *document)
{
  OgLinesModel *self;

  g_return_val_if_fail (OG_IS_DOCUMENT (document), NULL);

  self = g_object_new (OG_TYPE_LINES_MODEL, NULL);
  self->document = g_object_ref (document);
  g_signal_connect_object (document, "formula-changed", G_CALLBACK (on_formula_changed), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (document, "result-changed", G_CALLBACK (on_result_changed), self,
                           G_CONNECT_SWAPPED);
  on_formula_changed (self);
  on_result_changed (self);

  return self;
}

OgRow *
og_lines_model_find (OgLinesModel *self,
                     guint         id,
                     guint        *position)
{
  OgRow *row;

  g_return_val_if_fail (OG_IS_LINES_MODEL (self), NULL);

  row = g_hash_table_lookup (self->by_id, GUINT_TO_POINTER (id));
  if (row != NULL && position != NULL)
    *position = _og_row_get_position (row);

  return row;
}
