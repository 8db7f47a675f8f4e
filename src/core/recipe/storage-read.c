/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/recipe/storage.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/json-read.h"
#include "core/base/json-write.h"
#include "core/material/ingredient-private.h"
#include "core/material/product-json.h"
#include "core/recipe/bench.h"
#include "core/recipe/recipe-limits.h"
#include "core/recipe/versions.h"

/* What is known while one document is read. */
typedef struct
{
  OgCatalog      *catalog;
  GHashTable     *ids;             /* of lines and phases alike */
  GHashTable     *materials;       /* id -> OgIngredient of the recipe, borrowed; while it is read */
  GHashTable     *measurement_ids;
  guint           highest_id;
  OgFormula      *formula;
  OgFormulaPhase *phase;           /* that lines are read into */
} Document;

static const char *const document_members[] = {
  "batch_g", "batch_is_sum", "body_bounds", "costs", "format", "label", "materials", "measurements", "notes", "open_months",
  "package", "phases", "product", "purpose", "stability", "target", "title", "version", "versions",
  "warnings", NULL
};
static const char *const version_members[] = {
  "date", "name", "note", "recipe", NULL
};
/* What differs from version to version. */
static const char *const version_recipe_members[] = {
  "batch_g", "batch_is_sum", "body_bounds", "costs", "label", "materials", "notes", "open_months", "package", "phases",
  "product", "purpose", "target", "title", "warnings", NULL
};
static const char *const phase_members[] = {
  "id", "lines", "name", "note", "temperature_c", NULL
};
static const char *const line_members[] = {
  "add_temperature_c", "amount", "balance_share", "held", "id", "ingredient", "note", NULL
};

OG_JSON_DEFINE_CHOICE (OgProduct, og_product)

/* Lines and phases draw their ids from one row of numbers. */
static gboolean
read_id (Document           *document,
         const OgJsonReader *reader,
         guint              *id)
{
  gint64 value = 0;

  if (!og_json_read_integer (reader, "id", OG_JSON_REQUIRED, 1, OG_RECIPE_MAX_ID, &value))
    return FALSE;
  if (!g_hash_table_add (document->ids, GUINT_TO_POINTER ((guint) value)))
    return og_json_fail (reader, NULL, _("The id %u occurs twice."), (guint) value);

  *id = (guint) value;
  document->highest_id = MAX (document->highest_id, *id);
  return TRUE;
}

static gboolean
read_temperature (const OgJsonReader *reader,
                  const char         *member,
                  double             *temperature_c)
{
  return og_json_read_number (reader, member, OG_JSON_OPTIONAL, OG_RECIPE_LOWEST_C,
                              OG_RECIPE_HIGHEST_C, temperature_c);
}

static gboolean
read_line (const OgJsonReader *reader,
           gpointer            user_data)
{
  Document *document = user_data;
  g_autofree char *ingredient = NULL;
  OgFormulaLine *line;
  gint64 amount = 0, share = 0;
  guint id;

  if (!read_id (document, reader, &id)
      || !og_json_read_name (reader, "ingredient", OG_JSON_REQUIRED, OG_RECIPE_MAX_NAME,
                             &ingredient)
      || !og_json_read_integer (reader, "amount", OG_JSON_REQUIRED, 0, OG_PPM_WHOLE, &amount)
      || !og_json_read_integer (reader, "balance_share", OG_JSON_OPTIONAL, 0,
                                OG_RECIPE_MAX_BALANCE_SHARE, &share))
    return FALSE;

  line = og_formula_add_line (document->formula, document->phase, ingredient, (OgPpm) amount,
                              G_MAXUINT);
  line->id = id;
  line->balance_share = (guint) share;
  line->extra = og_json_extra (reader->object, line_members);
  return og_json_read_flag (reader, "held", &line->held)
         && read_temperature (reader, "add_temperature_c", &line->add_temperature_c)
         && og_json_read_note (reader, "note", G_MAXLONG, &line->note);
}

static gboolean
read_phase (const OgJsonReader *reader,
            gpointer            user_data)
{
  Document *document = user_data;
  g_autofree char *name = g_strdup ("");
  OgFormulaPhase *phase;
  guint id;

  if (!read_id (document, reader, &id)
      || !og_json_read_note (reader, "name", OG_RECIPE_MAX_NAME, &name))
    return FALSE;

  phase = og_formula_add_phase (document->formula, name, NAN, G_MAXUINT);
  phase->id = id;
  phase->extra = og_json_extra (reader->object, phase_members);
  document->phase = phase;
  return read_temperature (reader, "temperature_c", &phase->temperature_c)
         && og_json_read_note (reader, "note", G_MAXLONG, &phase->note)
         && og_json_read_each (reader, "lines", OG_JSON_REQUIRED, read_line, document);
}

/* Own materials come before those of the library, so that one can build on another. */
static gboolean
find_base (const Document      *document,
           const OgJsonReader  *reader,
           const OgIngredient **base)
{
  g_autofree char *id = NULL;

  *base = NULL;
  if (!og_json_read_name (reader, "derived_from", OG_JSON_OPTIONAL, OG_RECIPE_MAX_NAME, &id))
    return FALSE;
  if (id == NULL)
    return TRUE;

  *base = g_hash_table_lookup (document->materials, id);
  if (*base == NULL)
    *base = og_catalog_get (document->catalog, id);
  return *base != NULL
         || og_json_fail (reader, NULL, _("A material is derived from “%s”, which is not known."),
                          id);
}

static gboolean
read_material (const OgJsonReader *reader,
               gpointer            user_data)
{
  Document *document = user_data;
  g_autoptr (OgIngredient) material = NULL;
  const OgIngredient *base;

  if (!find_base (document, reader, &base))
    return FALSE;
  material = og_ingredient_read (reader, base);
  if (material == NULL)
    return FALSE;
  if (!g_hash_table_insert (document->materials, material->id, material))
    return og_json_fail (reader, NULL, _("The material “%s” occurs twice."), material->id);

  g_ptr_array_add (document->formula->materials, g_steal_pointer (&material));
  return TRUE;
}

static gboolean
read_measurement (const OgJsonReader *reader,
                  gpointer            user_data)
{
  Document *document = user_data;
  g_autoptr (OgMeasurement) measurement = og_measurement_read (reader);

  if (measurement == NULL)
    return FALSE;
  if (!g_hash_table_add (document->measurement_ids, measurement->id))
    return og_json_fail (reader, NULL, _("The measurement “%s” occurs twice."), measurement->id);

  g_ptr_array_add (document->formula->measurements, g_steal_pointer (&measurement));
  return TRUE;
}

static gboolean
read_target (OgFormula          *formula,
             const OgJsonReader *reader)
{
  OgJsonReader target;
  OgJsonFound found = og_json_read_object (reader, "target", OG_JSON_OPTIONAL, &target);

  if (found != OG_JSON_FOUND)
    return found == OG_JSON_ABSENT;
  if (!og_json_read_number (&target, "low_mpa_s", OG_JSON_OPTIONAL, 0, OG_RECIPE_MAX_TARGET_MPA_S,
                            &formula->target_low_mpa_s)
      || !og_json_read_number (&target, "high_mpa_s", OG_JSON_OPTIONAL, 0,
                               OG_RECIPE_MAX_TARGET_MPA_S, &formula->target_high_mpa_s))
    return FALSE;
  return formula->target_low_mpa_s <= formula->target_high_mpa_s
         || og_json_fail (&target, NULL,
                          _("“%s” needs a low and a high bound, the low one first."), "target");
}

static gboolean
read_body_bounds (OgBodyBounds       *bounds,
                  const OgJsonReader *reader)
{
  OgJsonReader object;
  OgJsonFound found = og_json_read_object (reader, "body_bounds", OG_JSON_OPTIONAL, &object);

  if (found != OG_JSON_FOUND)
    return found == OG_JSON_ABSENT;
  for (int i = 0; i < OG_N_BODY_BOUNDS; i++)
    if (!og_json_read_number (&object, og_body_bound_to_nick ((OgBodyBound) i), OG_JSON_OPTIONAL, 0,
                              OG_RECIPE_MAX_TARGET_MPA_S, &bounds->from[i]))
      return FALSE;
  return og_body_bounds_are_valid (bounds)
         || og_json_fail (&object, NULL, _("The numbers of “%s” must be above 0 and rise."),
                          "body_bounds");
}

static gboolean
read_package (OgFormula          *formula,
              const OgJsonReader *reader)
{
  OgJsonReader package;
  OgJsonFound found = og_json_read_object (reader, "package", OG_JSON_OPTIONAL, &package);

  return found == OG_JSON_FOUND ? og_package_read (&package, &formula->package)
                                : found == OG_JSON_ABSENT;
}

static gboolean
read_cost (const OgJsonReader *reader,
           gpointer            user_data)
{
  OgFormula *formula = user_data;
  OgCostLine *line = og_cost_line_read (reader);

  if (line != NULL)
    g_ptr_array_add (formula->costs, line);
  return line != NULL;
}

static gboolean
read_label (OgFormula          *formula,
            const OgJsonReader *reader)
{
  OgJsonReader label;
  OgJsonFound found = og_json_read_object (reader, "label", OG_JSON_OPTIONAL, &label);

  if (found != OG_JSON_FOUND)
    return found == OG_JSON_ABSENT;
  return og_json_read_notes (&label, "shades", &formula->shades)
         && og_json_read_notes (&label, "nano", &formula->nano)
         && og_json_read_flag (&label, "gather_scents", &formula->gather_scents);
}

static gboolean
read_months (const OgJsonReader *reader,
             const char         *member,
             guint              *months)
{
  gint64 value = *months;

  if (!og_json_read_integer (reader, member, OG_JSON_OPTIONAL, 0, OG_RECIPE_MAX_MONTHS, &value))
    return FALSE;
  *months = (guint) value;
  return TRUE;
}

static gboolean
read_result (const OgJsonReader *reader,
             gpointer            user_data)
{
  OgFormula *formula = user_data;
  OgStabilityResult *result = og_stability_result_read (reader);

  if (result != NULL)
    g_ptr_array_add (formula->stability_results, result);
  return result != NULL;
}

static gboolean
read_stability (OgFormula          *formula,
                const OgJsonReader *reader)
{
  OgJsonReader stability;
  OgJsonFound found = og_json_read_object (reader, "stability", OG_JSON_OPTIONAL, &stability);

  if (found != OG_JSON_FOUND)
    return found == OG_JSON_ABSENT;
  return og_json_read_date (&stability, "start", OG_JSON_OPTIONAL, &formula->stability_start)
         && read_months (&stability, "months", &formula->stability_months)
         && og_json_read_each (&stability, "results", OG_JSON_OPTIONAL, read_result, formula);
}

static gboolean
read_handover (OgFormula          *formula,
               const OgJsonReader *reader)
{
  return og_product_read (reader, "product", OG_JSON_OPTIONAL, &formula->product)
         && read_package (formula, reader)
         && read_months (reader, "open_months", &formula->open_months)
         && og_json_read_note (reader, "warnings", G_MAXLONG, &formula->warnings)
         && og_json_read_each (reader, "costs", OG_JSON_OPTIONAL, read_cost, formula)
         && read_label (formula, reader);
}

static gboolean
read_head (OgFormula          *formula,
           const OgJsonReader *reader)
{
  if (!og_json_read_number (reader, "batch_g", OG_JSON_REQUIRED, 0, OG_RECIPE_MAX_BATCH_G,
                            &formula->batch_g))
    return FALSE;
  if (formula->batch_g <= 0)
    return og_json_fail (reader, "batch_g", "%s", _("must be above 0"));

  return og_json_read_flag (reader, "batch_is_sum", &formula->batch_is_sum)
         && og_json_read_note (reader, "title", OG_RECIPE_MAX_NAME, &formula->title)
         && og_json_read_note (reader, "purpose", OG_RECIPE_MAX_NAME, &formula->purpose)
         && og_json_read_note (reader, "notes", G_MAXLONG, &formula->notes)
         && read_target (formula, reader)
         && read_body_bounds (&formula->body_bounds, reader)
         && read_handover (formula, reader);
}

/* What a document and each of its versions say alike. */
static gboolean
read_recipe (Document           *document,
             const OgJsonReader *reader)
{
  g_autoptr (GHashTable) materials = g_hash_table_new (g_str_hash, g_str_equal);

  document->materials = materials;
  return read_head (document->formula, reader)
         && og_json_read_each (reader, "materials", OG_JSON_OPTIONAL, read_material, document)
         && og_json_read_each (reader, "phases", OG_JSON_REQUIRED, read_phase, document);
}

/* --- versions -------------------------------------------------------------- */

/* Lines of versions have ids of their own row, and later ones need ids above them. */
static OgFormula *
read_version_recipe (Document           *document,
                     const OgJsonReader *version)
{
  g_autoptr (OgFormula) formula = og_formula_new ();
  g_autoptr (GHashTable) ids = g_hash_table_new (NULL, NULL);
  Document inner = { .catalog = document->catalog, .ids = ids, .formula = formula };
  OgJsonReader recipe;

  if (og_json_read_object (version, "recipe", OG_JSON_REQUIRED, &recipe) != OG_JSON_FOUND
      || !og_json_check_members (&recipe, version_recipe_members)
      || !read_recipe (&inner, &recipe))
    return NULL;
  if (!og_versions_fit_recipe (formula))
    {
      og_json_fail (&recipe, "phases", _("more than %d lines and phases"), OG_RECIPE_MAX_VERSION_LINES);
      return NULL;
    }

  formula->next_id = inner.highest_id + 1;
  document->highest_id = MAX (document->highest_id, inner.highest_id);
  return g_steal_pointer (&formula);
}

static gboolean
read_version (const OgJsonReader *reader,
              gpointer            user_data)
{
  Document *document = user_data;
  GPtrArray *versions = document->formula->versions;
  g_autofree char *name = NULL;
  g_autofree char *note = g_strdup ("");
  OgFormula *recipe;
  GDate date;

  if (!og_json_check_members (reader, version_members)
      || !og_json_read_name (reader, "name", OG_JSON_REQUIRED, OG_RECIPE_MAX_VERSION_NAME, &name)
      || !og_json_read_note (reader, "note", OG_RECIPE_MAX_VERSION_NOTE, &note)
      || !og_json_read_date (reader, "date", OG_JSON_REQUIRED, &date))
    return FALSE;
  if (!og_versions_is_name (name))
    return og_json_fail (reader, "name", "%s", _("must not begin or end with a blank"));
  if (og_versions_find (versions, name, NULL) != NULL)
    return og_json_fail (reader, NULL, _("The version “%s” occurs twice."), name);
  if (versions->len >= OG_RECIPE_MAX_VERSIONS)
    return og_json_fail (reader, NULL, _("A recipe keeps at most %d versions."), OG_RECIPE_MAX_VERSIONS);

  recipe = read_version_recipe (document, reader);
  if (recipe == NULL)
    return FALSE;
  g_ptr_array_add (versions, og_version_new (name, note, &date, recipe));
  return TRUE;
}

static gboolean
read_versions (Document           *document,
               const OgJsonReader *reader)
{
  gint64 format = 0;

  if (!og_json_read_integer (reader, "version", OG_JSON_REQUIRED, 1, OG_STORAGE_VERSION, &format))
    return FALSE;
  if (format < OG_STORAGE_VERSIONED && json_object_has_member (reader->object, "versions"))
    return og_json_fail (reader, "versions", _("needs “version” %d"), OG_STORAGE_VERSIONED);
  return og_json_read_each (reader, "versions", OG_JSON_OPTIONAL, read_version, document);
}

/* --- all of it ------------------------------------------------------------- */

static gboolean
read_document (Document           *document,
               const OgJsonReader *reader)
{
  document->formula->extra = og_json_extra (reader->object, document_members);
  if (!read_recipe (document, reader)
      || !read_stability (document->formula, reader)
      || !og_json_read_each (reader, "measurements", OG_JSON_OPTIONAL, read_measurement, document)
      || !read_versions (document, reader))
    return FALSE;
  document->formula->next_id = document->highest_id + 1;
  return TRUE;
}

OgFormula *
og_storage_parse (GBytes      *bytes,
                  const char  *name,
                  OgCatalog   *catalog,
                  GError     **error)
{
  g_autoptr (OgFormula) formula = NULL;
  g_autoptr (GHashTable) ids = g_hash_table_new (NULL, NULL);
  g_autoptr (GHashTable) measurement_ids = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (OgJsonFile) file = NULL;
  Document document = { .catalog = catalog, .ids = ids, .measurement_ids = measurement_ids };
  OgJsonContext context;
  OgJsonReader reader;

  g_return_val_if_fail (bytes != NULL && name != NULL && catalog != NULL, NULL);

  file = og_json_file_parse (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes), name, error);
  if (file == NULL
      || !og_json_begin_document (file, OG_STORAGE_FORMAT, OG_STORAGE_VERSION,
                                  _("The file is JSON, but not an Oleograph document."), &context,
                                  &reader, error))
    return NULL;

  document.formula = formula = og_formula_new ();
  return read_document (&document, &reader) ? g_steal_pointer (&formula) : NULL;
}
