/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/learning-private.h"

#include "core/base/json-write.h"
#include "model/document.h"

struct _OgLearning
{
  OgBelief  *belief;      /* nullable: nothing was measured */
  GBytes    *taught;      /* nullable: the measurements that @belief was learned from */
  OgCatalog *taught_with; /* nullable: the materials, likewise */
  gboolean   stale;
};

OgLearning *
_og_learning_new (void)
{
  OgLearning *learning = g_new0 (OgLearning, 1);

  learning->stale = TRUE;

  return learning;
}

static void
forget (OgLearning *learning)
{
  g_clear_pointer (&learning->belief, og_belief_unref);
  g_clear_pointer (&learning->taught, g_bytes_unref);
  g_clear_pointer (&learning->taught_with, og_catalog_unref);
}

void
_og_learning_free (OgLearning *learning)
{
  forget (learning);
  g_free (learning);
}

void
_og_learning_outdate (OgLearning *learning)
{
  learning->stale = TRUE;
}

char *
_og_learning_bench_id (const char *id)
{
  return g_strconcat (OG_DOCUMENT_BENCH_PREFIX, id, NULL);
}

static void
add_bench_measurements (const OgFormula *formula,
                        OgBenchStore    *bench_store,
                        GPtrArray       *measurements)
{
  const GPtrArray *bench = og_bench_store_get_measurements (bench_store);

  for (guint i = 0; i < bench->len; i++)
    {
      const OgMeasurement *measurement = g_ptr_array_index (bench, i);
      OgMeasurement *copy;

      if (og_formula_find_material (formula, measurement->material_id, NULL) != NULL)
        continue;

      copy = og_measurement_copy (measurement);
      g_free (copy->id);
      copy->id = _og_learning_bench_id (measurement->id);
      g_ptr_array_add (measurements, copy);
    }
}

static GPtrArray *
collect_measurements (const OgFormula *formula,
                      OgBenchStore    *bench_store)
{
  const GPtrArray *own = formula->measurements;
  GPtrArray *measurements
      = g_ptr_array_new_with_free_func ((GDestroyNotify) og_measurement_free);

  for (guint i = 0; i < own->len; i++)
    g_ptr_array_add (measurements, og_measurement_copy (g_ptr_array_index (own, i)));
  if (bench_store != NULL)
    add_bench_measurements (formula, bench_store, measurements);

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
learn (OgLearning      *learning,
       const OgFormula *formula,
       OgCatalog       *catalog,
       OgBenchStore    *bench_store)
{
  g_autoptr (GPtrArray) measurements = collect_measurements (formula, bench_store);
  g_autoptr (GBytes) taught = measurements_to_bytes (measurements);

  if (learning->taught_with == catalog && g_bytes_equal (learning->taught, taught))
    return;

  forget (learning);
  if (measurements->len > 0)
    learning->belief = og_belief_learn (measurements, catalog);
  learning->taught = g_steal_pointer (&taught);
  learning->taught_with = og_catalog_ref (catalog);
}

OgBelief *
_og_learning_get_belief (OgLearning      *learning,
                         const OgFormula *formula,
                         OgCatalog       *catalog,
                         OgBenchStore    *bench_store)
{
  if (learning->stale)
    learn (learning, formula, catalog, bench_store);
  learning->stale = FALSE;

  return learning->belief;
}
