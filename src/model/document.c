/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/document.h"

#include "model/document-io.h"
#include "model/document-private.h"
#include "model/history.h"
#include "model/learning-private.h"

struct _OgDocument
{
  GObject        parent_instance;

  OgCatalog     *library;
  OgCatalog     *catalog;
  GPtrArray     *materials; /* of OgIngredient: what @catalog was made with */
  OgHistory     *history;
  OgResult      *result;
  gboolean       result_stale;
  guint          evaluate_id;
  guint64        revision;
  guint          next_id;

  OgBenchStore  *bench_store; /* nullable */
  OgLearning    *learning;

  OgFileState   *file_state;
  OgDraftKeeper *keeper;

  /* as last notified */
  char          *title;
  char          *undo_label;
  char          *redo_label;
  gboolean       modified;
};

G_DEFINE_FINAL_TYPE (OgDocument, og_document, G_TYPE_OBJECT)

enum
{
  PROP_0,
  PROP_TITLE,
  PROP_MODIFIED,
  PROP_RESULT,
  PROP_UNDO_LABEL,
  PROP_REDO_LABEL,
  PROP_FILE,
  PROP_CHANGED_ON_DISK,
  N_PROPS
};

enum
{
  FORMULA_CHANGED,
  RESULT_CHANGED,
  DRAFT_FAILED,
  N_SIGNALS
};

static GParamSpec *properties[N_PROPS];
static guint signals[N_SIGNALS];

static void
drop_bench_store (OgDocument *self)
{
  if (self->bench_store != NULL)
    g_signal_handlers_disconnect_by_data (self->bench_store, self);
  g_clear_object (&self->bench_store);
}

static void
og_document_dispose (GObject *object)
{
  OgDocument *self = OG_DOCUMENT (object);

  drop_bench_store (self);
  g_clear_handle_id (&self->evaluate_id, g_source_remove);
  g_clear_pointer (&self->keeper, _og_draft_keeper_free);
  g_clear_pointer (&self->file_state, _og_file_state_free);

  G_OBJECT_CLASS (og_document_parent_class)->dispose (object);
}

static void
og_document_finalize (GObject *object)
{
  OgDocument *self = OG_DOCUMENT (object);

  g_clear_pointer (&self->result, og_result_unref);
  g_clear_pointer (&self->learning, _og_learning_free);
  g_clear_pointer (&self->history, og_history_free);
  g_clear_pointer (&self->materials, g_ptr_array_unref);
  g_clear_pointer (&self->catalog, og_catalog_unref);
  g_clear_pointer (&self->library, og_catalog_unref);
  g_free (self->title);
  g_free (self->undo_label);
  g_free (self->redo_label);

  G_OBJECT_CLASS (og_document_parent_class)->finalize (object);
}

static void
og_document_get_property (GObject    *object,
                          guint       prop_id,
                          GValue     *value,
                          GParamSpec *pspec)
{
  OgDocument *self = OG_DOCUMENT (object);

  switch (prop_id)
    {
    case PROP_TITLE:
      g_value_set_string (value, og_document_get_title (self));
      break;

    case PROP_MODIFIED:
      g_value_set_boolean (value, og_document_get_modified (self));
      break;

    case PROP_RESULT:
      g_value_set_pointer (value, og_document_get_result (self));
      break;

    case PROP_UNDO_LABEL:
      g_value_set_string (value, og_document_get_undo_label (self));
      break;

    case PROP_REDO_LABEL:
      g_value_set_string (value, og_document_get_redo_label (self));
      break;

    case PROP_FILE:
      g_value_set_object (value, og_document_get_file (self));
      break;

    case PROP_CHANGED_ON_DISK:
      g_value_set_boolean (value, og_document_get_changed_on_disk (self));
      break;

    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, prop_id, pspec);
    }
}

static void
og_document_class_init (OgDocumentClass *klass)
{
  const GParamFlags flags = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS | G_PARAM_EXPLICIT_NOTIFY;
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->dispose = og_document_dispose;
  object_class->finalize = og_document_finalize;
  object_class->get_property = og_document_get_property;

  properties[PROP_TITLE] = g_param_spec_string ("title", NULL, NULL, NULL, flags);
  properties[PROP_MODIFIED] = g_param_spec_boolean ("modified", NULL, NULL, FALSE, flags);
  properties[PROP_RESULT] = g_param_spec_pointer ("result", NULL, NULL, flags);
  properties[PROP_UNDO_LABEL] = g_param_spec_string ("undo-label", NULL, NULL, NULL, flags);
  properties[PROP_REDO_LABEL] = g_param_spec_string ("redo-label", NULL, NULL, NULL, flags);
  properties[PROP_FILE] = g_param_spec_object ("file", NULL, NULL, G_TYPE_FILE, flags);
  properties[PROP_CHANGED_ON_DISK]
      = g_param_spec_boolean ("changed-on-disk", NULL, NULL, FALSE, flags);
  g_object_class_install_properties (object_class, N_PROPS, properties);

  signals[FORMULA_CHANGED] = g_signal_new ("formula-changed", OG_TYPE_DOCUMENT, G_SIGNAL_RUN_LAST,
                                           0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[RESULT_CHANGED] = g_signal_new ("result-changed", OG_TYPE_DOCUMENT, G_SIGNAL_RUN_LAST,
                                          0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[DRAFT_FAILED] = g_signal_new ("draft-failed", OG_TYPE_DOCUMENT, G_SIGNAL_RUN_LAST,
                                        0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_ERROR);
}

static void
og_document_init (OgDocument *self)
{
  self->history = og_history_new (og_formula_new ());
  self->title = g_strdup (og_document_get_title (self));
  self->next_id = 1;
  self->result_stale = TRUE;
  self->learning = _og_learning_new ();
}

OgDocument *
og_document_new (OgCatalog *library)
{
  OgDocument *self;

  g_return_val_if_fail (library != NULL, NULL);

  self = g_object_new (OG_TYPE_DOCUMENT, NULL);
  self->library = og_catalog_ref (library);
  self->catalog = og_catalog_ref (library);

  return self;
}

const OgFormula *
og_document_get_formula (OgDocument *self)
{
  g_return_val_if_fail (OG_IS_DOCUMENT (self), NULL);

  return og_history_get_current (self->history);
}

OgCatalog *
og_document_get_catalog (OgDocument *self)
{
  g_return_val_if_fail (OG_IS_DOCUMENT (self), NULL);

  return self->catalog;
}

OgBelief *
og_document_get_belief (OgDocument *self)
{
  g_return_val_if_fail (OG_IS_DOCUMENT (self), NULL);

  return _og_learning_get_belief (self->learning, og_document_get_formula (self), self->catalog,
                                  self->bench_store);
}

const OgLesson *
og_document_find_lesson (OgDocument *self,
                         gboolean    bench,
                         const char *id)
{
  g_autofree char *lesson_id = NULL;
  const GArray *lessons;
  OgBelief *belief;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && id != NULL, NULL);

  belief = og_document_get_belief (self);
  if (belief == NULL)
    return NULL;

  lesson_id = bench ? _og_learning_bench_id (id) : g_strdup (id);
  lessons = og_belief_get_lessons (belief);
  for (guint i = 0; i < lessons->len; i++)
    {
      const OgLesson *lesson = &g_array_index (lessons, OgLesson, i);

      if (g_str_equal (lesson->measurement_id, lesson_id))
        return lesson;
    }

  return NULL;
}

OgResult *
og_document_get_result (OgDocument *self)
{
  g_return_val_if_fail (OG_IS_DOCUMENT (self), NULL);

  if (self->result_stale)
    {
      const OgConditions conditions = {
        .curves = TRUE,
        .belief = og_document_get_belief (self),
      };

      g_clear_pointer (&self->result, og_result_unref);
      self->result = og_evaluate (og_document_get_formula (self), self->catalog, &conditions);
      self->result_stale = FALSE;
    }

  return self->result;
}

guint64
og_document_get_revision (OgDocument *self)
{
  g_return_val_if_fail (OG_IS_DOCUMENT (self), 0);

  return self->revision;
}

const char *
og_document_get_title (OgDocument *self)
{
  g_return_val_if_fail (OG_IS_DOCUMENT (self), NULL);

  return og_document_get_formula (self)->title;
}

gboolean
og_document_get_modified (OgDocument *self)
{
  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  return !og_history_is_saved (self->history);
}

gboolean
og_document_is_empty (OgDocument *self)
{
  g_return_val_if_fail (OG_IS_DOCUMENT (self), TRUE);

  return og_document_get_formula (self)->phases->len == 0;
}

static void
sync_string (OgDocument *self,
             char      **shown,
             const char *value,
             guint       prop_id)
{
  if (g_strcmp0 (*shown, value) == 0)
    return;

  g_free (*shown);
  *shown = g_strdup (value);
  g_object_notify_by_pspec (G_OBJECT (self), properties[prop_id]);
}

static void
sync_properties (OgDocument *self)
{
  g_object_freeze_notify (G_OBJECT (self));

  sync_string (self, &self->title, og_document_get_title (self), PROP_TITLE);
  sync_string (self, &self->undo_label, og_document_get_undo_label (self), PROP_UNDO_LABEL);
  sync_string (self, &self->redo_label, og_document_get_redo_label (self), PROP_REDO_LABEL);
  if (self->modified != og_document_get_modified (self))
    {
      self->modified = !self->modified;
      g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_MODIFIED]);
    }

  g_object_thaw_notify (G_OBJECT (self));
}

static gboolean
same_materials (const GPtrArray *a,
                const GPtrArray *b)
{
  const guint n_a = a != NULL ? a->len : 0;

  if (n_a != b->len)
    return FALSE;

  for (guint i = 0; i < n_a; i++)
    if (g_ptr_array_index (a, i) != g_ptr_array_index (b, i))
      return FALSE;

  return TRUE;
}

static gpointer
copy_ingredient (gconstpointer ingredient,
                 gpointer      user_data)
{
  return og_ingredient_ref ((OgIngredient *) ingredient);
}

static void
sync_catalog (OgDocument *self)
{
  GPtrArray *materials = og_document_get_formula (self)->materials;

  if (same_materials (self->materials, materials))
    return;

  g_clear_pointer (&self->materials, g_ptr_array_unref);
  self->materials = g_ptr_array_new_with_free_func ((GDestroyNotify) og_ingredient_unref);
  for (guint i = 0; i < materials->len; i++)
    g_ptr_array_add (self->materials, copy_ingredient (g_ptr_array_index (materials, i), NULL));

  g_clear_pointer (&self->catalog, og_catalog_unref);
  self->catalog = materials->len == 0
                  ? og_catalog_ref (self->library)
                  : og_catalog_new_overlay (self->library, self->materials);
}

static gboolean
evaluate_in_idle (gpointer user_data)
{
  g_autoptr (OgDocument) self = g_object_ref (user_data);

  self->evaluate_id = 0;
  og_document_get_result (self);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_RESULT]);
  g_signal_emit (self, signals[RESULT_CHANGED], 0);

  return G_SOURCE_REMOVE;
}

static void
outdate (OgDocument *self)
{
  _og_learning_outdate (self->learning);
  self->result_stale = TRUE;
  if (self->evaluate_id == 0)
    self->evaluate_id = g_idle_add_full (G_PRIORITY_HIGH_IDLE, evaluate_in_idle, self, NULL);
}

void
og_document_set_bench_store (OgDocument   *self,
                             OgBenchStore *store)
{
  g_return_if_fail (OG_IS_DOCUMENT (self) && (store == NULL || OG_IS_BENCH_STORE (store)));

  if (store == self->bench_store)
    return;

  drop_bench_store (self);
  if (store != NULL)
    {
      self->bench_store = g_object_ref (store);
      g_signal_connect_swapped (store, "changed", G_CALLBACK (outdate), self);
    }
  outdate (self);
}

OgBenchStore *
og_document_get_bench_store (OgDocument *self)
{
  g_return_val_if_fail (OG_IS_DOCUMENT (self), NULL);

  return self->bench_store;
}

static void
formula_changed (OgDocument *self)
{
  self->revision++;
  self->next_id = MAX (self->next_id, og_document_get_formula (self)->next_id);
  outdate (self);
  sync_catalog (self);
  g_signal_emit (self, signals[FORMULA_CHANGED], 0);
  sync_properties (self);
}

void
og_document_reset (OgDocument *self,
                   OgFormula  *formula)
{
  g_return_if_fail (OG_IS_DOCUMENT (self) && formula != NULL);

  og_history_reset (self->history, formula);
  formula_changed (self);
}

void
og_document_mark_saved (OgDocument *self)
{
  g_return_if_fail (OG_IS_DOCUMENT (self));

  _og_document_mark_saved_at (self, _og_document_begin_save (self));
}

gboolean
og_document_can_undo (OgDocument *self)
{
  return og_document_get_undo_label (self) != NULL;
}

gboolean
og_document_can_redo (OgDocument *self)
{
  return og_document_get_redo_label (self) != NULL;
}

const char *
og_document_get_undo_label (OgDocument *self)
{
  g_return_val_if_fail (OG_IS_DOCUMENT (self), NULL);

  return og_history_get_undo_label (self->history);
}

const char *
og_document_get_redo_label (OgDocument *self)
{
  g_return_val_if_fail (OG_IS_DOCUMENT (self), NULL);

  return og_history_get_redo_label (self->history);
}

void
og_document_undo (OgDocument *self)
{
  g_return_if_fail (OG_IS_DOCUMENT (self));

  if (og_history_undo (self->history))
    formula_changed (self);
}

void
og_document_redo (OgDocument *self)
{
  g_return_if_fail (OG_IS_DOCUMENT (self));

  if (og_history_redo (self->history))
    formula_changed (self);
}

void
og_document_end_typing (OgDocument *self)
{
  g_return_if_fail (OG_IS_DOCUMENT (self));

  og_history_seal (self->history);
}

/* For the files of edits. */

guint
_og_document_get_next_id (OgDocument *self)
{
  return self->next_id;
}

void
_og_document_push (OgDocument *self,
                   OgFormula  *formula,
                   const char *label,
                   const char *key)
{
  og_history_push (self->history, formula, label, key);
  formula_changed (self);
}

/* For document-io.c and drafts.c. */

OgFileState *
_og_document_get_file_state (OgDocument *self)
{
  return self->file_state;
}

void
_og_document_set_file_state (OgDocument  *self,
                             OgFileState *state)
{
  g_clear_pointer (&self->file_state, _og_file_state_free);
  self->file_state = state;
}

OgDraftKeeper *
_og_document_get_keeper (OgDocument *self)
{
  return self->keeper;
}

void
_og_document_set_keeper (OgDocument    *self,
                         OgDraftKeeper *keeper)
{
  g_clear_pointer (&self->keeper, _og_draft_keeper_free);
  self->keeper = keeper;
}

OgCatalog *
_og_document_get_library (OgDocument *self)
{
  return self->library;
}

void
_og_document_notify_file (OgDocument *self)
{
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_FILE]);
}

void
_og_document_notify_disk (OgDocument *self)
{
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_CHANGED_ON_DISK]);
}

void
_og_document_draft_failed (OgDocument   *self,
                           const GError *error)
{
  g_signal_emit (self, signals[DRAFT_FAILED], 0, error);
}

guint64
_og_document_begin_save (OgDocument *self)
{
  og_history_seal (self->history);

  return og_history_get_serial (self->history);
}

void
_og_document_mark_saved_at (OgDocument *self,
                            guint64     serial)
{
  og_history_mark_saved (self->history, serial);
  sync_properties (self);
}
