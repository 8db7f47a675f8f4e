/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/design/bench-effects.h"

struct _OgBenchEffects
{
  OgDocument *document;
  OgBelief *belief;       /* nullable: what @without was found with */
  GHashTable *without;    /* id of a lesson -> OgBelief */
};

OgBenchEffects *
og_bench_effects_new (OgDocument *document)
{
  OgBenchEffects *self;

  g_return_val_if_fail (OG_IS_DOCUMENT (document), NULL);

  self = g_new0 (OgBenchEffects, 1);
  self->document = g_object_ref (document);
  self->without = g_hash_table_new_full (g_str_hash, g_str_equal, g_free,
                                         (GDestroyNotify) og_belief_unref);
  return self;
}

void
og_bench_effects_free (OgBenchEffects *self)
{
  g_clear_object (&self->document);
  g_clear_pointer (&self->belief, og_belief_unref);
  g_clear_pointer (&self->without, g_hash_table_unref);
  g_free (self);
}

/* A belief is kept by the document as long as nothing else is to be learned. */
static void
forget_if_stale (OgBenchEffects *self)
{
  OgBelief *belief = og_document_get_belief (self->document);

  if (belief == self->belief)
    return;
  g_hash_table_remove_all (self->without);
  g_clear_pointer (&self->belief, og_belief_unref);
  self->belief = belief != NULL ? og_belief_ref (belief) : NULL;
}

/* Adds those of @measurements that the document learns from, but for the one called @left_out. */
static void
add_used (OgBenchEffects  *self,
          GPtrArray       *used,
          const GPtrArray *measurements,
          gboolean         bench,
          const char      *left_out)
{
  for (guint i = 0; i < measurements->len; i++)
    {
      const OgMeasurement *measurement = g_ptr_array_index (measurements, i);
      const OgLesson *lesson = og_document_find_lesson (self->document, bench, measurement->id);
      OgMeasurement *copy;

      if (lesson == NULL || !lesson->used || g_str_equal (lesson->measurement_id, left_out))
        continue;
      copy = og_measurement_copy (measurement);
      g_free (copy->id);
      copy->id = g_strdup (lesson->measurement_id);
      g_ptr_array_add (used, copy);
    }
}

static OgBelief *
learn_without (OgBenchEffects *self,
               const char     *left_out)
{
  g_autoptr (GPtrArray) used =
    g_ptr_array_new_with_free_func ((GDestroyNotify) og_measurement_free);
  OgBenchStore *store = og_document_get_bench_store (self->document);

  add_used (self, used, og_document_get_formula (self->document)->measurements, FALSE, left_out);
  if (store != NULL)
    add_used (self, used, og_bench_store_get_measurements (store), TRUE, left_out);
  return og_belief_learn (used, og_document_get_catalog (self->document));
}

gboolean
og_bench_effects_find (OgBenchEffects *self,
                       gboolean        bench,
                       const char     *id,
                       OgEstimate     *without,
                       OgEstimate     *with)
{
  g_autoptr (OgResult) result = NULL;
  const OgLesson *lesson;
  OgConditions conditions = { NULL };
  OgBelief *belief;

  g_return_val_if_fail (self != NULL && id != NULL && without != NULL && with != NULL, FALSE);

  forget_if_stale (self);
  lesson = og_document_find_lesson (self->document, bench, id);
  if (lesson == NULL || !lesson->used)
    return FALSE;
  belief = g_hash_table_lookup (self->without, lesson->measurement_id);
  if (belief == NULL)
    {
      belief = learn_without (self, lesson->measurement_id);
      g_hash_table_insert (self->without, g_strdup (lesson->measurement_id), belief);
    }
  conditions.belief = belief;
  result = og_evaluate (og_document_get_formula (self->document),
                        og_document_get_catalog (self->document), &conditions);
  *without = result->pour;
  *with = og_document_get_result (self->document)->pour;
  return TRUE;
}
