/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/recipe/storage.h"

#include <math.h>

#include "core/base/dates.h"
#include "core/base/json-write.h"
#include "core/material/product-json.h"
#include "core/recipe/bench.h"

static JsonObject *
line_to_json (const OgFormulaLine *line)
{
  JsonObject *object = og_json_begin (line->extra);

  json_object_set_int_member (object, "id", line->id);
  json_object_set_string_member (object, "ingredient", line->ingredient_id);
  json_object_set_int_member (object, "amount", line->amount);
  if (line->balance_share > 0)
    json_object_set_int_member (object, "balance_share", line->balance_share);
  if (line->held)
    json_object_set_boolean_member (object, "held", TRUE);
  og_json_set_number (object, "add_temperature_c", line->add_temperature_c);
  og_json_set_text (object, "note", line->note);
  return object;
}

static JsonObject *
phase_to_json (const OgFormulaPhase *phase)
{
  JsonObject *object = og_json_begin (phase->extra);
  JsonArray *lines = json_array_new ();

  for (guint i = 0; i < phase->lines->len; i++)
    json_array_add_object_element (lines, line_to_json (g_ptr_array_index (phase->lines, i)));
  json_object_set_int_member (object, "id", phase->id);
  json_object_set_string_member (object, "name", phase->name);
  json_object_set_array_member (object, "lines", lines);
  og_json_set_number (object, "temperature_c", phase->temperature_c);
  og_json_set_text (object, "note", phase->note);
  return object;
}

static void
set_target (JsonObject      *document,
            const OgFormula *formula)
{
  JsonObject *target;

  if (isnan (formula->target_low_mpa_s) || isnan (formula->target_high_mpa_s))
    return;
  target = json_object_new ();
  og_json_set_number (target, "low_mpa_s", formula->target_low_mpa_s);
  og_json_set_number (target, "high_mpa_s", formula->target_high_mpa_s);
  json_object_set_object_member (document, "target", target);
}

static void
set_body_bounds (JsonObject      *document,
                 const OgFormula *formula)
{
  OgBodyBounds usual;
  JsonObject *bounds;

  og_body_bounds_init (&usual);
  if (og_body_bounds_equal (&usual, &formula->body_bounds))
    return;
  bounds = json_object_new ();
  for (int i = 0; i < OG_N_BODY_BOUNDS; i++)
    og_json_set_number (bounds, og_body_bound_to_nick ((OgBodyBound) i), formula->body_bounds.from[i]);
  json_object_set_object_member (document, "body_bounds", bounds);
}

static void
set_costs (JsonObject      *document,
           const OgFormula *formula)
{
  JsonArray *costs;

  if (formula->costs->len == 0)
    return;
  costs = json_array_new ();
  for (guint i = 0; i < formula->costs->len; i++)
    json_array_add_object_element (costs,
                                   og_cost_line_to_json (g_ptr_array_index (formula->costs, i)));
  json_object_set_array_member (document, "costs", costs);
}

static void
set_ids (JsonObject         *object,
         const char         *member,
         const char *const  *ids)
{
  JsonArray *array;

  if (ids[0] == NULL)
    return;
  array = json_array_new ();
  for (guint i = 0; ids[i] != NULL; i++)
    json_array_add_string_element (array, ids[i]);
  json_object_set_array_member (object, member, array);
}

/* Takes @object. */
static void
set_unless_empty (JsonObject *document,
                  const char *member,
                  JsonObject *object)
{
  if (json_object_get_size (object) > 0)
    json_object_set_object_member (document, member, object);
  else
    json_object_unref (object);
}

static void
set_label (JsonObject      *document,
           const OgFormula *formula)
{
  JsonObject *label = json_object_new ();

  set_ids (label, "shades", (const char *const *) formula->shades);
  set_ids (label, "nano", (const char *const *) formula->nano);
  if (formula->gather_scents)
    json_object_set_boolean_member (label, "gather_scents", TRUE);
  set_unless_empty (document, "label", label);
}

static void
set_stability (JsonObject      *document,
               const OgFormula *formula)
{
  JsonObject *stability = json_object_new ();
  JsonArray *results;
  g_autofree char *start = NULL;

  if (g_date_valid (&formula->stability_start))
    start = og_date_to_text (&formula->stability_start);
  og_json_set_text (stability, "start", start);
  if (formula->stability_months > 0)
    json_object_set_int_member (stability, "months", formula->stability_months);
  if (formula->stability_results->len > 0)
    {
      results = json_array_new ();
      for (guint i = 0; i < formula->stability_results->len; i++)
        json_array_add_object_element (results,
                                       og_stability_result_to_json (
                                         g_ptr_array_index (formula->stability_results, i)));
      json_object_set_array_member (stability, "results", results);
    }
  set_unless_empty (document, "stability", stability);
}

static void
set_handover (JsonObject      *document,
              const OgFormula *formula)
{
  OgPackage unsaid;

  og_package_init (&unsaid);
  if (formula->product != OG_PRODUCT_UNSAID)
    json_object_set_string_member (document, "product", og_product_to_nick (formula->product));
  if (!og_package_equal (&unsaid, &formula->package))
    json_object_set_object_member (document, "package", og_package_to_json (&formula->package));
  if (formula->open_months > 0)
    json_object_set_int_member (document, "open_months", formula->open_months);
  if (*formula->warnings != '\0')
    json_object_set_string_member (document, "warnings", formula->warnings);
  set_costs (document, formula);
  set_label (document, formula);
}

static void
set_materials (JsonObject      *document,
               const OgFormula *formula)
{
  JsonArray *materials;

  if (formula->materials->len == 0)
    return;
  materials = json_array_new ();
  for (guint i = 0; i < formula->materials->len; i++)
    {
      const OgIngredient *material = g_ptr_array_index (formula->materials, i);

      json_array_add_object_element (materials, json_object_ref (material->definition));
    }
  json_object_set_array_member (document, "materials", materials);
}

static void
set_measurements (JsonObject      *document,
                  const OgFormula *formula)
{
  JsonArray *measurements;

  if (formula->measurements->len == 0)
    return;
  measurements = json_array_new ();
  for (guint i = 0; i < formula->measurements->len; i++)
    json_array_add_object_element (measurements,
                                   og_measurement_to_json (g_ptr_array_index (formula->measurements,
                                                                              i)));
  json_object_set_array_member (document, "measurements", measurements);
}

/* What a document and each of its versions say alike. @extra: (nullable) */
static JsonObject *
recipe_to_json (const OgFormula *formula,
                JsonObject      *extra)
{
  JsonObject *recipe = og_json_begin (extra);
  JsonArray *phases = json_array_new ();

  for (guint i = 0; i < formula->phases->len; i++)
    json_array_add_object_element (phases, phase_to_json (g_ptr_array_index (formula->phases, i)));
  json_object_set_string_member (recipe, "title", formula->title);
  json_object_set_string_member (recipe, "purpose", formula->purpose);
  json_object_set_string_member (recipe, "notes", formula->notes);
  json_object_set_array_member (recipe, "phases", phases);
  og_json_set_number (recipe, "batch_g", formula->batch_g);
  if (formula->batch_is_sum)
    json_object_set_boolean_member (recipe, "batch_is_sum", TRUE);
  set_target (recipe, formula);
  set_body_bounds (recipe, formula);
  set_handover (recipe, formula);
  set_materials (recipe, formula);
  return recipe;
}

static JsonObject *
version_to_json (const OgVersion *version)
{
  JsonObject *object = json_object_new ();
  g_autofree char *date = og_date_to_text (&version->date);

  json_object_set_string_member (object, "date", date);
  json_object_set_string_member (object, "name", version->name);
  if (*version->note != '\0')
    json_object_set_string_member (object, "note", version->note);
  json_object_set_object_member (object, "recipe", recipe_to_json (version->recipe, NULL));
  return object;
}

static void
set_versions (JsonObject      *document,
              const OgFormula *formula)
{
  JsonArray *versions;

  if (formula->versions->len == 0)
    return;
  versions = json_array_new ();
  for (guint i = 0; i < formula->versions->len; i++)
    json_array_add_object_element (versions,
                                   version_to_json (g_ptr_array_index (formula->versions, i)));
  json_object_set_array_member (document, "versions", versions);
}

static JsonObject *
formula_to_json (const OgFormula *formula)
{
  JsonObject *document = recipe_to_json (formula, formula->extra);

  json_object_set_string_member (document, "format", OG_STORAGE_FORMAT);
  json_object_set_int_member (document, "version", formula->versions->len > 0 ? OG_STORAGE_VERSIONED : 1);
  set_stability (document, formula);
  set_measurements (document, formula);
  set_versions (document, formula);
  return document;
}

GBytes *
og_storage_serialise (const OgFormula *formula)
{
  g_autoptr (JsonObject) document = NULL;

  g_return_val_if_fail (formula != NULL, NULL);

  document = formula_to_json (formula);
  return og_json_to_bytes (document);
}
