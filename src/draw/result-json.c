/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/export.h"

#include <math.h>

#include "core/label/colour.h"
#include "core/label/natural-origin.h"
#include "core/predict/settling.h"

static void
set_number (JsonObject *object,
            const char *member,
            double      value)
{
  if (isfinite (value))
    json_object_set_double_member (object, member, value);
  else
    json_object_set_null_member (object, member);
}

static void
set_text (JsonObject *object,
          const char *member,
          const char *text)
{
  if (text != NULL)
    json_object_set_string_member (object, member, text);
  else
    json_object_set_null_member (object, member);
}

static void
set_estimate (JsonObject       *object,
              const OgEstimate *estimate)
{
  set_number (object, "value", estimate->value);
  set_number (object, "low80", estimate->low80);
  set_number (object, "high80", estimate->high80);
}

static JsonObject *
profile_object (const OgProfile *profile)
{
  JsonObject *object = json_object_new ();

  for (guint i = 0; profile != NULL && i < profile->shares->len; i++)
    {
      const OgAcidShare *share = &g_array_index (profile->shares, OgAcidShare, i);
      g_autofree char *code = og_acid_to_code (share->acid);

      set_number (object, code, share->pct);
    }

  return object;
}

static JsonArray *
viscosity_array (const OgResult *result)
{
  JsonArray *array = json_array_new ();

  for (guint i = 0; i < result->viscosity->len; i++)
    {
      const OgViscosityPoint *point = &g_array_index (result->viscosity, OgViscosityPoint, i);
      JsonObject *object = json_object_new ();

      set_number (object, "temperature_c", point->temperature_c);
      set_number (object, "shear_rate_1_s", point->shear_rate_1_s);
      set_estimate (object, &point->viscosity_mpa_s);
      json_array_add_object_element (array, object);
    }

  return array;
}

static JsonArray *
agents_array (const OgResult *result)
{
  JsonArray *array = json_array_new ();

  for (guint i = 0; i < result->agents->len; i++)
    {
      const OgAgentState *agent = &g_array_index (result->agents, OgAgentState, i);
      JsonObject *object = json_object_new ();

      set_text (object, "ingredient", agent->ingredient_id);
      set_number (object, "share_percent", agent->share_pct);
      set_number (object, "gel_point_percent", agent->gel_point_pct);
      set_number (object, "clears_c", agent->clears_c);
      set_number (object, "sets_c", agent->sets_c);
      json_array_add_object_element (array, object);
    }

  return array;
}

static JsonArray *
settling_array (const OgResult *result)
{
  JsonArray *array = json_array_new ();

  for (guint i = 0; i < result->settling->len; i++)
    {
      const OgSettling *settling = &g_array_index (result->settling, OgSettling, i);
      JsonObject *object = json_object_new ();

      set_text (object, "ingredient", settling->ingredient->id);
      set_number (object, "speed_mm_day", settling->speed_mm_day);
      json_object_set_boolean_member (object, "held", settling->held);
      json_array_add_object_element (array, object);
    }

  return array;
}

static JsonArray *
findings_array (const OgResult *result)
{
  JsonArray *array = json_array_new ();

  for (guint i = 0; i < result->findings->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (result->findings, i);
      JsonObject *object = json_object_new ();

      set_text (object, "severity", og_severity_to_nick (finding->severity));
      set_text (object, "code", finding->code);
      set_text (object, "text", og_saying_text (finding->text));
      set_text (object, "source", og_saying_text (finding->source));
      set_number (object, "amount_pct", finding->amount_pct);
      set_number (object, "limit_pct", finding->limit_pct);
      set_text (object, "cure", og_saying_text (finding->cure));
      set_text (object, "reference", og_saying_text (finding->reference));
      set_text (object, "jurisdiction", finding->jurisdiction);
      json_array_add_object_element (array, object);
    }

  return array;
}

static JsonObject *
origin_object (const OgResult *result)
{
  g_autoptr (OgNaturalOrigin) origin = og_natural_origin_sum (result->contents);
  JsonObject *object = json_object_new ();

  set_number (object, "low_percent", origin->low_pct);
  set_number (object, "high_percent", origin->high_pct);
  set_number (object, "unknown_percent", origin->unknown_pct);

  return object;
}

static void
set_rgb (JsonObject  *object,
         const char  *name,
         const OgRgb *rgb)
{
  char hex[8];

  og_rgb_to_hex (rgb, hex);
  set_text (object, name, *hex != '\0' ? hex : NULL);
}

static JsonObject *
tint_object (const OgResult *result)
{
  JsonObject *object = json_object_new ();
  OgTint tint;

  og_tint_predict (result->contents, OG_TINT_FILM_UM, &tint);
  set_text (object, "depth", og_tint_depth_to_nick (tint.depth));
  set_number (object, "pigment_percent", tint.pigment_pct);
  set_number (object, "flake_percent", tint.pearl_pct);
  set_number (object, "film_um", tint.film_um);
  set_number (object, "hiding", tint.hiding);
  set_rgb (object, "mass_tone", &tint.mass_tone);
  set_rgb (object, "over_white", &tint.over_white);
  set_rgb (object, "over_lips", &tint.over_lips);

  return object;
}

JsonNode *
og_result_to_json (const OgResult *result)
{
  JsonObject *object, *yield, *indices;
  JsonNode *node;

  g_return_val_if_fail (result != NULL, NULL);

  object = json_object_new ();
  set_number (object, "total_percent", (double) result->total_ppm / OG_PPM_PER_PERCENT);
  set_number (object, "density_g_ml", result->density_g_ml);
  json_object_set_object_member (object, "profile", profile_object (result->profile));
  set_number (object, "iodine_value", result->iodine_value);
  set_number (object, "saponification_value", result->saponification_value);
  set_number (object, "refractive_index", result->refractive_index);
  json_object_set_array_member (object, "viscosity", viscosity_array (result));
  yield = json_object_new ();
  set_estimate (yield, &result->yield_stress_pa);
  json_object_set_object_member (object, "yield_stress_pa", yield);
  set_number (object, "gel_probability", result->gel_probability);
  if (result->belief != NULL)
    {
      JsonObject *prior = json_object_new ();

      set_estimate (prior, &result->prior_pour);
      json_object_set_object_member (object, "prior_pour", prior);
    }
  json_object_set_array_member (object, "agents", agents_array (result));
  json_object_set_array_member (object, "settling", settling_array (result));
  set_text (object, "body", og_body_to_nick (result->body));
  set_text (object, "body_text", og_saying_text (result->body_text));
  indices = json_object_new ();
  set_number (indices, "cox", result->cox);
  set_number (indices, "oxidisability", result->oxidisability);
  set_number (indices, "peroxidisability", result->peroxidisability);
  json_object_set_object_member (object, "indices", indices);
  json_object_set_object_member (object, "natural_origin", origin_object (result));
  json_object_set_object_member (object, "tint", tint_object (result));
  json_object_set_array_member (object, "findings", findings_array (result));

  node = json_node_new (JSON_NODE_OBJECT);
  json_node_take_object (node, object);

  return node;
}
