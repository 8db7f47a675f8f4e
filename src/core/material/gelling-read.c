/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/material/parameters.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/error.h"
#include "core/base/json-read.h"
#include "core/material/ingredient-private.h"

#define FORMAT "oleograph-gelling"
#define VERSION 1 /* of the format, see data/model/SCHEMA.md */

/* What a figure of each name must satisfy; the ranges are those of the catalog where it has one. */
static const struct
{
  const char *name;
  const char *unit;
  double lowest, highest;
  gsize offset;
} rules[] = {
#define RULE(name, unit, lowest, highest) \
  { #name, unit, lowest, highest, G_STRUCT_OFFSET (OgGelDefaults, name) }
  RULE (gel_point_pct, "wt %", 0.001, 100.0),
  RULE (yield_at_twice_gel_point_pa, "Pa", 0.0, 1e8),
  RULE (gel_exponent, "1", 0.01, 20.0),
  RULE (intrinsic_viscosity_dl_g, "dL/g", 0.0, 1000.0),
  RULE (association, "1", 0.0, 1e6),
  RULE (flow_index, "1", 0.01, 2.0),
  RULE (density_g_ml, "g/ml", 0.05, 25.0),
  RULE (gel_point_ln_sd, "1", 0.0, 5.0),
  RULE (yield_ln_sd, "1", 0.0, 5.0),
  RULE (thickening_ln_sd, "1", 0.0, 5.0),
  RULE (association_ln_sd, "1", 0.0, 5.0),
  RULE (gel_exponent_ln_sd, "1", 0.0, 5.0),
  RULE (temperature_sd_k, "K", 0.0, 100.0),
#undef RULE
};

OG_JSON_DEFINE_CHOICE (OgQuality, og_quality)

/* Unit, quality and source must be said, although nothing is computed from them. */
static gboolean
check_origin (const OgJsonReader *figure,
              const char         *unit)
{
  g_autofree char *given = NULL;
  g_autofree char *source = NULL;
  OgQuality quality;

  if (!og_json_read_text (figure, "unit", OG_JSON_REQUIRED, &given) ||
      !og_quality_read (figure, "quality", OG_JSON_REQUIRED, &quality) ||
      !og_json_read_source (figure, OG_JSON_REQUIRED, &source))
    return FALSE;
  return g_str_equal (given, unit)
         || og_json_fail (figure, "unit", _("“%s” is not the unit “%s”"), given, unit);
}

static gboolean
read_figure (const OgJsonReader *family,
             guint               rule,
             double             *value)
{
  static const char *const known[] = { "value", "unit", "source", "quality", "note", NULL };
  OgJsonReader figure;

  return og_json_read_object (family, rules[rule].name, OG_JSON_REQUIRED, &figure) == OG_JSON_FOUND
         && og_json_check_members (&figure, known)
         && check_origin (&figure, rules[rule].unit)
         && og_json_read_number (&figure, "value", OG_JSON_REQUIRED, rules[rule].lowest,
                                 rules[rule].highest, value);
}

static gboolean
read_family (const OgJsonReader *families,
             OgGelFamily         id,
             OgGelDefaults      *defaults)
{
  const char *known[G_N_ELEMENTS (rules) + 1] = { NULL };
  OgJsonReader family;

  for (guint i = 0; i < G_N_ELEMENTS (rules); i++)
    known[i] = rules[i].name;
  if (og_json_read_object (families, og_gel_family_to_nick (id), OG_JSON_REQUIRED, &family)
        != OG_JSON_FOUND
      || !og_json_check_members (&family, known))
    return FALSE;

  for (guint i = 0; i < G_N_ELEMENTS (rules); i++)
    if (!read_figure (&family, i, (double *) G_STRUCT_MEMBER_P (defaults, rules[i].offset)))
      return FALSE;
  return TRUE;
}

static gboolean
read_families (const OgJsonReader *top,
               OgJsonContext      *context,
               OgParameters       *parameters)
{
  const char *nicks[OG_N_GEL_FAMILIES] = { NULL };
  OgJsonReader families, sources;

  if (og_json_read_object (top, "families", OG_JSON_REQUIRED, &families) != OG_JSON_FOUND
      || og_json_read_object (top, "sources", OG_JSON_REQUIRED, &sources) != OG_JSON_FOUND
      || !og_json_check_sources (&sources))
    return FALSE;

  context->sources = sources.object;
  for (OgGelFamily id = OG_GEL_NONE + 1; id < OG_N_GEL_FAMILIES; id++)
    nicks[id - 1] = og_gel_family_to_nick (id);
  if (!og_json_check_members (&families, nicks))
    return FALSE;

  for (OgGelFamily id = OG_GEL_NONE + 1; id < OG_N_GEL_FAMILIES; id++)
    if (!read_family (&families, id, &parameters->gelling[id]))
      return FALSE;
  return TRUE;
}

void
og_gel_defaults_init (OgGelDefaults *defaults)
{
  for (guint i = 0; i < G_N_ELEMENTS (rules); i++)
    *(double *) G_STRUCT_MEMBER_P (defaults, rules[i].offset) = NAN;
}

gboolean
og_parameters_load_gelling (OgParameters  *parameters,
                            const char    *path,
                            GError       **error)
{
  g_autoptr (OgJsonFile) file = NULL;
  OgJsonContext context = { .domain = OG_CATALOG_ERROR, .code = OG_CATALOG_ERROR_VALUE,
                            .reference_code = OG_CATALOG_ERROR_REFERENCE, .error = error };
  OgJsonReader top = { .context = &context };

  g_return_val_if_fail (parameters != NULL, FALSE);
  g_return_val_if_fail (path != NULL, FALSE);

  file = og_json_file_load_data (path, FORMAT, VERSION, error);
  if (file == NULL)
    return FALSE;

  context.file = file;
  top.object = json_node_get_object (file->root);
  return read_families (&top, &context, parameters);
}
