/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/document.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/json-write.h"
#include "model/document-io.h"
#include "model/document-private.h"
#include "model/history.h"
#include "model/measurement-private.h"

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
  OgBelief      *belief;      /* nullable: nothing was measured */
  GBytes        *taught;      /* nullable: the measurements that @belief was learned from */
  OgCatalog     *taught_with; /* nullable: the materials, likewise */
  gboolean       belief_stale;

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
  g_clear_pointer (&self->belief, og_belief_unref);
  g_clear_pointer (&self->taught, g_bytes_unref);
  g_clear_pointer (&self->taught_with, og_catalog_unref);
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
  self->belief_stale = TRUE;
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

static gboolean
find_material (const OgFormula *formula,
               const char      *id,
               guint           *index)
{
  for (guint i = 0; i < formula->materials->len; i++)
    {
      const OgIngredient *material = g_ptr_array_index (formula->materials, i);

      if (g_str_equal (material->id, id))
        {
          if (index != NULL)
            *index = i;
          return TRUE;
        }
    }

  return FALSE;
}

static char *
bench_lesson_id (const char *id)
{
  return g_strconcat (OG_DOCUMENT_BENCH_PREFIX, id, NULL);
}

static void
add_bench_measurements (OgDocument *self,
                        GPtrArray  *measurements)
{
  const GPtrArray *bench = og_bench_store_get_measurements (self->bench_store);

  for (guint i = 0; i < bench->len; i++)
    {
      const OgMeasurement *measurement = g_ptr_array_index (bench, i);
      OgMeasurement *copy;

      if (find_material (og_document_get_formula (self), measurement->material_id, NULL))
        continue;

      copy = og_measurement_copy (measurement);
      g_free (copy->id);
      copy->id = bench_lesson_id (measurement->id);
      g_ptr_array_add (measurements, copy);
    }
}

static GPtrArray *
collect_measurements (OgDocument *self)
{
  const GPtrArray *own = og_document_get_formula (self)->measurements;
  GPtrArray *measurements
      = g_ptr_array_new_with_free_func ((GDestroyNotify) og_measurement_free);

  for (guint i = 0; i < own->len; i++)
    g_ptr_array_add (measurements, og_measurement_copy (g_ptr_array_index (own, i)));
  if (self->bench_store != NULL)
    add_bench_measurements (self, measurements);

  return measurements;
}

static GBytes *
measurements_to_bytes (const GPtrArray *measurements)
{
  g_autoptr (GByteArray) all = g_byte_array_new ();

  for (guint i = 0; i < measurements->len; i++)
    {
      g_autoptr (JsonObject) object = og_measurement_to_json (g_ptr_array_index (measurements, i));
      g_autoptr (GBytes) bytes = og_json_to_bytes (object);

      g_byte_array_append (all, g_bytes_get_data (bytes, NULL), (guint) g_bytes_get_size (bytes));
    }

  return g_byte_array_free_to_bytes (g_steal_pointer (&all));
}

/* Learning takes long beside an edit: only when there is something else to learn from. */
static void
learn (OgDocument *self)
{
  g_autoptr (GPtrArray) measurements = collect_measurements (self);
  g_autoptr (GBytes) taught = measurements_to_bytes (measurements);

  if (self->taught_with == self->catalog && g_bytes_equal (self->taught, taught))
    return;

  g_clear_pointer (&self->belief, og_belief_unref);
  if (measurements->len > 0)
    self->belief = og_belief_learn (measurements, self->catalog);

  g_clear_pointer (&self->taught, g_bytes_unref);
  self->taught = g_steal_pointer (&taught);
  g_clear_pointer (&self->taught_with, og_catalog_unref);
  self->taught_with = og_catalog_ref (self->catalog);
}

OgBelief *
og_document_get_belief (OgDocument *self)
{
  g_return_val_if_fail (OG_IS_DOCUMENT (self), NULL);

  if (self->belief_stale)
    learn (self);
  self->belief_stale = FALSE;

  return self->belief;
}

const OgLesson *
og_document_find_lesson (OgDocument *self,
                         gboolean    bench,
                         const char *id)
{
  g_autofree char *lesson_id = NULL;
  const GArray *lessons;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && id != NULL, NULL);

  if (og_document_get_belief (self) == NULL)
    return NULL;

  lesson_id = bench ? bench_lesson_id (id) : g_strdup (id);
  lessons = og_belief_get_lessons (self->belief);
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
  self->belief_stale = TRUE;
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

/* Edits: a copy, changed, and committed. */

static OgFormula *
edit (OgDocument *self)
{
  return og_formula_copy (og_document_get_formula (self));
}

/* For edits that give out ids: one that was used is not used again, not even after undo. */
static OgFormula *
edit_to_add (OgDocument *self)
{
  OgFormula *formula = edit (self);

  formula->next_id = MAX (formula->next_id, self->next_id);

  return formula;
}

static gboolean
is_news (OgDocument      *self,
         const OgFormula *formula)
{
  return !og_formula_equal (formula, og_document_get_formula (self));
}

/* Takes @formula and @label. @key: see og_history_push(). */
static gboolean
commit_typed (OgDocument *self,
              OgFormula  *formula,
              char       *label,
              const char *key)
{
  g_autoptr (OgFormula) next = formula;
  g_autofree char *text = label;

  if (!is_news (self, next))
    return FALSE;

  og_formula_balance (next);
  if (!is_news (self, next))
    return FALSE;

  og_history_push (self->history, g_steal_pointer (&next), text, key);
  formula_changed (self);

  return TRUE;
}

static gboolean
commit (OgDocument *self,
        OgFormula  *formula,
        char       *label)
{
  return commit_typed (self, formula, label, NULL);
}

static gboolean
is_text (const char *text)
{
  return text != NULL && g_utf8_validate (text, -1, NULL);
}

/* A name fits on a line; longer ones would not be read back from a file. */
static gboolean
is_short (const char *name)
{
  return g_utf8_strlen (name, -1) <= OG_DOCUMENT_MAX_NAME;
}

static gboolean
is_ingredient_id (const char *id)
{
  return *id != '\0' && is_short (id);
}

/* Takes @formula; @slot is the text in it. */
static gboolean
commit_text (OgDocument *self,
             OgFormula  *formula,
             char      **slot,
             const char *text,
             char       *label,
             const char *key)
{
  g_free (*slot);
  *slot = g_strdup (text);

  return commit_typed (self, formula, label, key);
}

static gboolean
is_temperature (double temperature_c)
{
  return isnan (temperature_c)
         || (temperature_c >= OG_DOCUMENT_LOW_C && temperature_c <= OG_DOCUMENT_HIGH_C);
}

static const char *
material_name (OgDocument *self,
               const char *ingredient_id)
{
  const OgIngredient *ingredient = og_catalog_get (self->catalog, ingredient_id);

  return ingredient != NULL ? ingredient->name : ingredient_id;
}

static OgFormulaLine *
find_line (OgDocument *self,
           guint       line_id)
{
  return og_formula_find_line (og_document_get_formula (self), line_id, NULL, NULL);
}

static const char *
line_name (OgDocument *self,
           guint       line_id)
{
  return material_name (self, find_line (self, line_id)->ingredient_id);
}

static OgFormulaPhase *
find_phase (OgDocument *self,
            guint       phase_id)
{
  return og_formula_find_phase (og_document_get_formula (self), phase_id, NULL);
}

gboolean
og_document_set_title (OgDocument *self,
                       const char *title)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && is_text (title), FALSE);

  if (!is_short (title))
    return FALSE;

  next = edit (self);

  return commit_text (self, next, &next->title, title, g_strdup (_("Change title")), "title");
}

gboolean
og_document_set_purpose (OgDocument *self,
                         const char *purpose)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && is_text (purpose), FALSE);

  if (!is_short (purpose))
    return FALSE;

  next = edit (self);

  return commit_text (self, next, &next->purpose, purpose, g_strdup (_("Change purpose")),
                      "purpose");
}

gboolean
og_document_set_notes (OgDocument *self,
                       const char *notes)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && is_text (notes), FALSE);

  next = edit (self);

  return commit_text (self, next, &next->notes, notes, g_strdup (_("Change notes")), "notes");
}

gboolean
og_document_set_batch_g (OgDocument *self,
                         double      batch_g)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  if (!(batch_g >= G_MINDOUBLE && batch_g <= OG_DOCUMENT_MAX_BATCH_G))
    return FALSE;

  next = edit (self);
  next->batch_g = batch_g;

  return commit_typed (self, next, g_strdup (_("Change batch size")), "batch");
}

gboolean
og_document_set_target (OgDocument *self,
                        double      low_mpa_s,
                        double      high_mpa_s)
{
  const gboolean none = isnan (low_mpa_s) && isnan (high_mpa_s);
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  if (!none && !(low_mpa_s > 0.0 && low_mpa_s <= high_mpa_s
                 && high_mpa_s <= OG_DOCUMENT_MAX_TARGET_MPA_S))
    return FALSE;

  next = edit (self);
  next->target_low_mpa_s = low_mpa_s;
  next->target_high_mpa_s = high_mpa_s;

  return commit (self, next, g_strdup (none ? _("Remove target") : _("Change target")));
}

static gboolean
has_phase_named (const OgFormula *formula,
                 const char      *name)
{
  for (guint i = 0; i < formula->phases->len; i++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (formula->phases, i);

      if (g_strcmp0 (phase->name, name) == 0)
        return TRUE;
    }

  return FALSE;
}

/* Letters first, then numbers. */
static char *
nth_phase_name (guint n)
{
  const char letter[] = { (char) ('A' + n), '\0' };
  g_autofree char *number = g_strdup_printf ("%u", n + 1);

  /* Translators: a part of a recipe that is prepared by itself; %s is a letter or a number */
  return g_strdup_printf (_("Phase %s"), n < 26 ? letter : number);
}

static char *
free_phase_name (const OgFormula *formula)
{
  for (guint n = 0;; n++)
    {
      g_autofree char *name = nth_phase_name (n);

      if (!has_phase_named (formula, name))
        return g_steal_pointer (&name);
    }
}

static OgFormulaPhase *
insert_phase (OgFormula  *formula,
              const char *name,
              guint       position)
{
  g_autofree char *made = name == NULL ? free_phase_name (formula) : g_strdup (name);

  return og_formula_add_phase (formula, made, NAN, position);
}

guint
og_document_add_phase (OgDocument *self,
                       const char *name,
                       guint       position)
{
  OgFormulaPhase *phase;
  OgFormula *next;
  guint id;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && (name == NULL || is_text (name)), 0);

  if (name != NULL && !is_short (name))
    return 0;

  next = edit_to_add (self);
  phase = insert_phase (next, name, position);
  id = phase->id;
  commit (self, next, g_strdup_printf (_("Add %s"), phase->name));

  return id;
}

gboolean
og_document_rename_phase (OgDocument *self,
                          guint       phase_id,
                          const char *name)
{
  OgFormulaPhase *phase;
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && is_text (name), FALSE);

  if (find_phase (self, phase_id) == NULL || !is_short (name))
    return FALSE;

  next = edit (self);
  phase = og_formula_find_phase (next, phase_id, NULL);

  return commit_text (self, next, &phase->name, name,
                      g_strdup_printf (_("Rename %s"), phase->name), NULL);
}

gboolean
og_document_set_phase_temperature (OgDocument *self,
                                   guint       phase_id,
                                   double      temperature_c)
{
  OgFormulaPhase *phase;
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  if (find_phase (self, phase_id) == NULL || !is_temperature (temperature_c))
    return FALSE;

  next = edit (self);
  phase = og_formula_find_phase (next, phase_id, NULL);
  phase->temperature_c = temperature_c;

  return commit (self, next, g_strdup_printf (_("Change temperature of %s"), phase->name));
}

gboolean
og_document_set_phase_note (OgDocument *self,
                            guint       phase_id,
                            const char *note)
{
  OgFormulaPhase *phase;
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && (note == NULL || is_text (note)), FALSE);

  if (find_phase (self, phase_id) == NULL)
    return FALSE;

  next = edit (self);
  phase = og_formula_find_phase (next, phase_id, NULL);

  return commit_text (self, next, &phase->note, note,
                      g_strdup_printf (_("Change note of %s"), phase->name), NULL);
}

gboolean
og_document_remove_phase (OgDocument *self,
                          guint       phase_id)
{
  OgFormulaPhase *phase;
  OgFormula *next;
  char *label;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  phase = find_phase (self, phase_id);
  if (phase == NULL)
    return FALSE;

  label = g_strdup_printf (_("Remove %s"), phase->name);
  next = edit (self);
  og_formula_remove_phase (next, phase_id);

  return commit (self, next, label);
}

gboolean
og_document_move_phase (OgDocument *self,
                        guint       phase_id,
                        guint       position)
{
  OgFormulaPhase *phase;
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  phase = find_phase (self, phase_id);
  if (phase == NULL)
    return FALSE;

  next = edit (self);
  og_formula_move_phase (next, phase_id, position);

  return commit (self, next, g_strdup_printf (_("Move %s"), phase->name));
}

static OgFormulaPhase *
phase_for_new_line (OgFormula *formula,
                    guint      phase_id)
{
  if (phase_id != 0)
    return og_formula_find_phase (formula, phase_id, NULL);

  if (formula->phases->len > 0)
    return g_ptr_array_index (formula->phases, formula->phases->len - 1);

  return insert_phase (formula, NULL, G_MAXUINT);
}

guint
og_document_add_line (OgDocument *self,
                      const char *ingredient_id,
                      guint       phase_id,
                      guint       position)
{
  OgFormulaPhase *phase;
  OgFormulaLine *line;
  OgFormula *next;
  gboolean first;
  guint id;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && is_text (ingredient_id), 0);

  if (!is_ingredient_id (ingredient_id) || (phase_id != 0 && find_phase (self, phase_id) == NULL))
    return 0;

  next = edit_to_add (self);
  first = og_formula_get_n_lines (next) == 0;
  phase = phase_for_new_line (next, phase_id);
  line = og_formula_add_line (next, phase, ingredient_id, 0, position);
  line->balance_share = first ? 1 : 0;
  id = line->id;
  commit (self, next, g_strdup_printf (_("Add %s"), material_name (self, ingredient_id)));

  return id;
}

gboolean
og_document_remove_line (OgDocument *self,
                         guint       line_id)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  if (find_line (self, line_id) == NULL)
    return FALSE;

  next = edit (self);
  og_formula_remove_line (next, line_id);

  return commit (self, next, g_strdup_printf (_("Remove %s"), line_name (self, line_id)));
}

gboolean
og_document_move_line (OgDocument *self,
                       guint       line_id,
                       guint       phase_id,
                       guint       position)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  if (find_line (self, line_id) == NULL || find_phase (self, phase_id) == NULL)
    return FALSE;

  next = edit (self);
  og_formula_move_line (next, line_id, phase_id, position);

  return commit (self, next, g_strdup_printf (_("Move %s"), line_name (self, line_id)));
}

gboolean
og_document_set_line_ppm (OgDocument *self,
                          guint       line_id,
                          OgPpm       amount)
{
  OgFormulaLine *line;
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  line = find_line (self, line_id);
  if (line == NULL || line->amount == amount || amount < 0 || amount > OG_PPM_WHOLE)
    return FALSE;

  next = edit (self);
  line = og_formula_find_line (next, line_id, NULL, NULL);
  line->amount = amount;
  line->balance_share = 0;

  return commit (self, next, g_strdup_printf (_("Change amount of %s"),
                                              line_name (self, line_id)));
}

gboolean
og_document_set_line_g (OgDocument *self,
                        guint       line_id,
                        double      g)
{
  OgPpm amount;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  return og_g_to_ppm (g, og_document_get_formula (self)->batch_g, &amount)
         && og_document_set_line_ppm (self, line_id, amount);
}

gboolean
og_document_set_line_balance (OgDocument *self,
                              guint       line_id,
                              guint       share)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  if (find_line (self, line_id) == NULL || share > OG_DOCUMENT_MAX_BALANCE_SHARE)
    return FALSE;

  next = edit (self);
  og_formula_find_line (next, line_id, NULL, NULL)->balance_share = share;

  return commit (self, next, g_strdup_printf (_("Change balance share of %s"),
                                              line_name (self, line_id)));
}

gboolean
og_document_set_line_held (OgDocument *self,
                           guint       line_id,
                           gboolean    held)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  if (find_line (self, line_id) == NULL)
    return FALSE;

  next = edit (self);
  og_formula_find_line (next, line_id, NULL, NULL)->held = !!held;

  return commit (self, next, g_strdup_printf (held ? _("Hold %s") : _("Release %s"),
                                              line_name (self, line_id)));
}

gboolean
og_document_set_line_note (OgDocument *self,
                           guint       line_id,
                           const char *note)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && (note == NULL || is_text (note)), FALSE);

  if (find_line (self, line_id) == NULL)
    return FALSE;

  next = edit (self);

  return commit_text (self, next, &og_formula_find_line (next, line_id, NULL, NULL)->note, note,
                      g_strdup_printf (_("Change note of %s"), line_name (self, line_id)), NULL);
}

gboolean
og_document_set_line_temperature (OgDocument *self,
                                  guint       line_id,
                                  double      temperature_c)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  if (find_line (self, line_id) == NULL || !is_temperature (temperature_c))
    return FALSE;

  next = edit (self);
  og_formula_find_line (next, line_id, NULL, NULL)->add_temperature_c = temperature_c;

  return commit (self, next, g_strdup_printf (_("Change temperature of %s"),
                                              line_name (self, line_id)));
}

static char *
label_replacing (OgDocument *self,
                 const char *old_id,
                 const char *new_id)
{
  /* Translators: the first %s is the material that goes, the second the one that comes */
  return g_strdup_printf (_("Replace %s by %s"),
                          material_name (self, old_id), material_name (self, new_id));
}

gboolean
og_document_set_line_ingredient (OgDocument *self,
                                 guint       line_id,
                                 const char *ingredient_id)
{
  OgFormulaLine *line;
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && is_text (ingredient_id), FALSE);

  line = find_line (self, line_id);
  if (line == NULL || !is_ingredient_id (ingredient_id))
    return FALSE;

  next = edit (self);

  return commit_text (self, next,
                      &og_formula_find_line (next, line_id, NULL, NULL)->ingredient_id,
                      ingredient_id,
                      label_replacing (self, line->ingredient_id, ingredient_id), NULL);
}

gboolean
og_document_normalise (OgDocument *self)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  next = edit (self);
  if (!og_formula_normalise (next))
    {
      og_formula_free (next);
      return FALSE;
    }

  return commit (self, next, g_strdup (_("Scale to 100 %")));
}

static char *
label_suggestion (OgDocument         *self,
                  const OgSuggestion *suggestion)
{
  g_autofree char *new = og_suggestion_get_title (suggestion);

  if (g_strv_length (suggestion->replaced) > 1)
    /* Translators: %s is the material, or are the materials, that come instead of several others */
    return g_strdup_printf (_("Replace several materials by %s"), new);
  /* Translators: the first %s is the material that goes, the second the one that comes */
  return g_strdup_printf (_("Replace %s by %s"), material_name (self, suggestion->replaced[0]), new);
}

gboolean
og_document_apply_suggestion (OgDocument         *self,
                              const OgSuggestion *suggestion)
{
  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);
  g_return_val_if_fail (suggestion != NULL && suggestion->parts->len > 0, FALSE);

  return commit (self, og_substitution_apply (og_document_get_formula (self), suggestion),
                 label_suggestion (self, suggestion));
}

gboolean
og_document_put_material (OgDocument   *self,
                          OgIngredient *material)
{
  OgFormula *next;
  guint index;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && material != NULL, FALSE);

  next = edit (self);
  if (!find_material (next, material->id, &index))
    {
      g_ptr_array_add (next->materials, og_ingredient_ref (material));
      return commit (self, next, g_strdup_printf (_("Add own material %s"), material->name));
    }

  og_ingredient_unref (g_ptr_array_index (next->materials, index));
  g_ptr_array_index (next->materials, index) = og_ingredient_ref (material);

  return commit (self, next, g_strdup_printf (_("Change own material %s"), material->name));
}

gboolean
og_document_remove_material (OgDocument *self,
                             const char *id)
{
  OgFormula *next;
  guint index;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && id != NULL, FALSE);

  if (!find_material (og_document_get_formula (self), id, &index))
    return FALSE;

  next = edit (self);
  g_ptr_array_remove_index (next->materials, index);

  return commit (self, next, g_strdup_printf (_("Remove own material %s"),
                                              material_name (self, id)));
}

static gboolean
add_measurement (OgDocument          *self,
                 const OgMeasurement *measurement,
                 GError             **error)
{
  OgFormula *next = edit (self);
  g_autofree char *id = og_measurements_next_id (next->measurements);
  OgMeasurement *filed = _og_measurement_as_filed (measurement, id, error);

  if (filed == NULL)
    {
      og_formula_free (next);
      return FALSE;
    }

  g_ptr_array_add (next->measurements, filed);

  return commit (self, next, g_strdup_printf (_("Add measurement %s"), id));
}

gboolean
og_document_add_measurement (OgDocument    *self,
                             OgMeasurement *measurement)
{
  g_autoptr (OgMeasurement) taken = measurement;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && measurement != NULL, FALSE);

  return add_measurement (self, taken, NULL);
}

gboolean
og_document_record_measurement (OgDocument     *self,
                                OgMeasurement  *measurement,
                                GError        **error)
{
  g_autoptr (OgMeasurement) taken = measurement;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && measurement != NULL, FALSE);

  if (self->bench_store == NULL || taken->material_id == NULL
      || find_material (og_document_get_formula (self), taken->material_id, NULL))
    return add_measurement (self, taken, error);

  return og_bench_store_add (self->bench_store, g_steal_pointer (&taken), error);
}

/* Returns: (nullable): a copy of the recipe to edit; @measurement is the one in it */
static OgFormula *
edit_measurement (OgDocument     *self,
                  const char     *id,
                  OgMeasurement **measurement,
                  guint          *position)
{
  OgFormula *next;

  if (og_measurements_find (og_document_get_formula (self)->measurements, id, NULL) == NULL)
    return NULL;

  next = edit (self);
  *measurement = og_measurements_find (next->measurements, id, position);

  return next;
}

gboolean
og_document_remove_measurement (OgDocument *self,
                                const char *id)
{
  OgMeasurement *measurement;
  OgFormula *next;
  guint position;
  char *label;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && id != NULL, FALSE);

  next = edit_measurement (self, id, &measurement, &position);
  if (next == NULL)
    return FALSE;

  label = g_strdup_printf (_("Remove measurement %s"), id);
  g_ptr_array_remove_index (next->measurements, position);

  return commit (self, next, label);
}

gboolean
og_document_set_measurement_aside (OgDocument *self,
                                   const char *id,
                                   gboolean    set_aside)
{
  OgMeasurement *measurement;
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && id != NULL, FALSE);

  next = edit_measurement (self, id, &measurement, NULL);
  if (next == NULL)
    return FALSE;

  measurement->set_aside = !!set_aside;

  return commit (self, next, g_strdup_printf (set_aside ? _("Set measurement %s aside")
                                                        : _("Use measurement %s again"), id));
}

gboolean
og_document_accept_measurement (OgDocument *self,
                                const char *id,
                                gboolean    accepted)
{
  OgMeasurement *measurement;
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && id != NULL, FALSE);

  next = edit_measurement (self, id, &measurement, NULL);
  if (next == NULL)
    return FALSE;

  measurement->accepted = !!accepted;

  return commit (self, next, g_strdup_printf (accepted ? _("Accept measurement %s")
                                                       : _("Accept measurement %s no longer"),
                                              id));
}

static gboolean
are_kept_by_files (const OgBodyBounds *bounds)
{
  for (int i = 0; i < OG_N_BODY_BOUNDS; i++)
    if (bounds->from[i] > OG_DOCUMENT_MAX_TARGET_MPA_S)
      return FALSE;

  return og_body_bounds_are_valid (bounds);
}

gboolean
og_document_set_body_bounds (OgDocument         *self,
                             const OgBodyBounds *bounds)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && bounds != NULL, FALSE);

  if (!are_kept_by_files (bounds))
    return FALSE;

  next = edit (self);
  next->body_bounds = *bounds;

  return commit (self, next, g_strdup (_("Change bounds of the body")));
}

gboolean
og_document_set_product (OgDocument *self,
                         OgProduct   product)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && product < OG_N_PRODUCTS, FALSE);

  next = edit (self);
  next->product = product;

  return commit (self, next, g_strdup (_("Change product")));
}

gboolean
og_document_set_package (OgDocument      *self,
                         const OgPackage *package)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && package != NULL, FALSE);

  if (!og_package_is_valid (package))
    return FALSE;

  next = edit (self);
  next->package = *package;

  return commit (self, next, g_strdup (_("Change container")));
}

gboolean
og_document_set_open_months (OgDocument *self,
                             guint       months)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  if (months > OG_DOCUMENT_MAX_OPEN_MONTHS)
    return FALSE;

  next = edit (self);
  next->open_months = months;

  return commit (self, next, g_strdup (_("Change period after opening")));
}

gboolean
og_document_set_warnings (OgDocument *self,
                          const char *warnings)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && is_text (warnings), FALSE);

  next = edit (self);

  return commit_text (self, next, &next->warnings, warnings, g_strdup (_("Change warnings")),
                      "warnings");
}

static gboolean
are_costs (const GPtrArray *costs)
{
  for (guint i = 0; i < costs->len; i++)
    {
      const OgCostLine *line = g_ptr_array_index (costs, i);

      if (!(line->price >= 0.0 && line->price <= OG_DOCUMENT_MAX_PRICE))
        return FALSE;
    }
  return TRUE;
}

gboolean
og_document_set_costs (OgDocument      *self,
                       const GPtrArray *costs)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && costs != NULL, FALSE);

  if (!are_costs (costs))
    return FALSE;

  next = edit (self);
  g_ptr_array_set_size (next->costs, 0);
  for (guint i = 0; i < costs->len; i++)
    g_ptr_array_add (next->costs, og_cost_line_copy (g_ptr_array_index (costs, i)));

  return commit (self, next, g_strdup (_("Change costs")));
}

gboolean
og_document_set_label (OgDocument        *self,
                       const char *const *shades,
                       const char *const *nano,
                       gboolean           gather_scents)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && shades != NULL && nano != NULL, FALSE);

  next = edit (self);
  g_strfreev (next->shades);
  next->shades = g_strdupv ((char **) shades);
  g_strfreev (next->nano);
  next->nano = g_strdupv ((char **) nano);
  next->gather_scents = !!gather_scents;

  return commit (self, next, g_strdup (_("Change label")));
}

gboolean
og_document_set_stability_plan (OgDocument  *self,
                                const GDate *start,
                                guint        months)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && (start == NULL || g_date_valid (start)), FALSE);

  if (months > OG_DOCUMENT_MAX_OPEN_MONTHS)
    return FALSE;

  next = edit (self);
  g_date_clear (&next->stability_start, 1);
  if (start != NULL)
    next->stability_start = *start;
  next->stability_months = months;

  return commit (self, next, g_strdup (_("Plan stability tests")));
}

gboolean
og_document_add_stability_result (OgDocument        *self,
                                  OgStabilityResult *result)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && result != NULL, FALSE);

  next = edit (self);
  g_ptr_array_add (next->stability_results, result);

  return commit (self, next, g_strdup (_("Add stability reading")));
}

gboolean
og_document_remove_stability_result (OgDocument *self,
                                     guint       index)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  if (index >= og_document_get_formula (self)->stability_results->len)
    return FALSE;

  next = edit (self);
  g_ptr_array_remove_index (next->stability_results, index);

  return commit (self, next, g_strdup (_("Remove stability reading")));
}

gboolean
og_document_replace (OgDocument *self,
                     OgFormula  *formula,
                     const char *label)
{
  g_return_val_if_fail (OG_IS_DOCUMENT (self) && formula != NULL && label != NULL, FALSE);

  return commit (self, formula, g_strdup (label));
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
