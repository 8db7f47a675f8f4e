/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <string.h>

#include "core/base/error.h"
#include "core/material/ingredient.h"

/* Parses @text, with ' for ". */
static JsonObject *
object_from_text (const char *text)
{
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_autoptr (GError) error = NULL;
  g_autofree char *quoted = g_strdelimit (g_strdup (text), "'", '"');

  json_parser_load_from_data (parser, quoted, -1, &error);
  g_assert_no_error (error);
  return json_object_ref (json_node_get_object (json_parser_get_root (parser)));
}

/* Reads an own material: sources are the citations themselves. */
static OgIngredient *
read_own (const char          *text,
          const OgIngredient  *base,
          GError             **error)
{
  g_autoptr (JsonObject) object = object_from_text (text);

  return og_ingredient_new_from_json (object, NULL, base, error);
}

static OgIngredient *
read_good (const char         *text,
           const OgIngredient *base)
{
  g_autoptr (GError) error = NULL;
  OgIngredient *ingredient = read_own (text, base, &error);

  g_assert_no_error (error);
  return ingredient;
}

static const char oil_text[] =
  "{'id': 'test-oil', 'name': 'Cupuaçu Test Oil', 'inci': 'Probatum Oil', 'cas': '8001-79-4',"
  " 'aliases': ['Proof oil'], 'kind': 'oil', 'roles': ['base', 'gloss'], 'uses': ['lip'],"
  " 'tags': ['nut', 'drying'], 'cautions': ['Goes rancid.'], 'notes': 'A note.',"
  " 'figures': {"
  "  'density_g_ml': {'value': 0.92, 'low': 0.91, 'high': 0.93, 'unit': 'g/ml', 'at_c': 20,"
  "   'source': 'bench book', 'quality': 'measured', 'note': 'twice'},"
  "  'density_slope_g_ml_k': {'value': -0.0007, 'unit': 'g/(ml K)', 'source': 's',"
  "   'quality': 'estimated'},"
  "  'iodine_value': {'low': 80, 'high': 100, 'unit': 'g I2/100 g', 'source': 's',"
  "   'quality': 'range'}},"
  " 'profile': {'unit': 'wt % of fatty acids', 'source': 'gas chromatograph',"
  "  'quality': 'measured', 'note': 'one lot',"
  "  'acids': {'C18:1': {'value': 49, 'low': 40, 'high': 60},"
  "  'C16:0': {'value': 49}}},"
  " 'viscosity': [{'temperature_c': 40, 'value': 30, 'unit': 'mm2/s', 'source': 'v',"
  "   'quality': 'measured'}, {'temperature_c': 25, 'value': 60, 'unit': 'mPa.s', 'source': 'v',"
  "   'quality': 'typical', 'note': 'cup'}]}";

static void
test_everything_read (void)
{
  g_autoptr (OgIngredient) oil = read_good (oil_text, NULL);
  const OgFigure *figure = &oil->figures[OG_FIGURE_DENSITY_G_ML];
  const OgViscosityDatum *datum;

  g_assert_cmpstr (oil->id, ==, "test-oil");
  g_assert_cmpstr (oil->name, ==, "Cupuaçu Test Oil");
  g_assert_cmpstr (oil->inci, ==, "Probatum Oil");
  g_assert_cmpstr (oil->cas, ==, "8001-79-4");
  g_assert_null (oil->derived_from);
  g_assert_cmpint (oil->kind, ==, OG_KIND_OIL);
  g_assert_cmpstr (oil->aliases[0], ==, "Proof oil");
  g_assert_null (oil->aliases[1]);
  g_assert_true (og_ingredient_has_role (oil, "gloss"));
  g_assert_false (og_ingredient_has_role (oil, "slip"));
  g_assert_true (og_ingredient_has_use (oil, "lip"));
  g_assert_false (og_ingredient_has_use (oil, "hair"));
  g_assert_true (og_ingredient_has_tag (oil, "drying"));
  g_assert_false (og_ingredient_has_tag (oil, "bee"));
  g_assert_cmpstr (oil->cautions[0], ==, "Goes rancid.");
  g_assert_cmpstr (oil->notes, ==, "A note.");

  g_assert_cmpfloat (figure->value, ==, 0.92);
  g_assert_cmpfloat (figure->low, ==, 0.91);
  g_assert_cmpfloat (figure->high, ==, 0.93);
  g_assert_cmpfloat (figure->at_c, ==, 20.0);
  g_assert_cmpstr (figure->unit, ==, "g/ml");
  g_assert_cmpstr (figure->source, ==, "bench book");
  g_assert_cmpstr (figure->note, ==, "twice");
  g_assert_cmpint (figure->quality, ==, OG_QUALITY_MEASURED);

  figure = &oil->figures[OG_FIGURE_IODINE_VALUE];
  g_assert_cmpfloat (figure->value, ==, 90.0);
  g_assert_true (isnan (figure->at_c));

  g_assert_cmpfloat_with_epsilon (og_profile_sum (oil->profile), 100.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (g_array_index (oil->profile->shares, OgAcidShare, 1).high_pct,
                                  60.0 / 0.98, 1e-9);
  g_assert_cmpstr (oil->profile_source, ==, "gas chromatograph");
  g_assert_cmpstr (oil->profile_note, ==, "one lot");
  g_assert_cmpint (oil->profile_quality, ==, OG_QUALITY_MEASURED);

  g_assert_cmpuint (oil->viscosity->len, ==, 2);
  datum = &g_array_index (oil->viscosity, OgViscosityDatum, 0);
  g_assert_cmpfloat (datum->temperature_c, ==, 25.0);
  g_assert_false (datum->kinematic);
  g_assert_cmpstr (datum->note, ==, "cup");
  datum = &g_array_index (oil->viscosity, OgViscosityDatum, 1);
  g_assert_cmpfloat (datum->value, ==, 30.0);
  g_assert_true (datum->kinematic);
  g_assert_cmpstr (json_object_get_string_member (oil->definition, "id"), ==, "test-oil");
}

/* What is not given is unknown, never 0. */
static void
test_unknown (void)
{
  g_autoptr (OgIngredient) bare =
    read_good ("{'id': 'x', 'name': 'X', 'kind': 'ester', 'roles': ['base'], 'uses': ['lip'],"
               " 'tags': []}", NULL);

  for (guint i = 0; i < OG_N_FIGURES; i++)
    {
      g_assert_false (og_figure_is_known (&bare->figures[i]));
      g_assert_true (isnan (bare->figures[i].value));
      g_assert_true (isnan (bare->figures[i].low) && isnan (bare->figures[i].high));
    }
  g_assert_false (og_figure_is_known (&bare->gelling.gel_point_pct));
  g_assert_cmpint (bare->gelling.family, ==, OG_GEL_NONE);
  g_assert_null (bare->profile);
  g_assert_cmpuint (bare->viscosity->len, ==, 0);
  g_assert_cmpuint (bare->composition->len, ==, 0);
  g_assert_true (isnan (og_ingredient_density (bare, 25.0)));
  g_assert_true (isnan (og_ingredient_iodine_value (bare)));
  g_assert_true (isnan (og_ingredient_saponification (bare)));
}

static void
test_density (void)
{
  g_autoptr (OgIngredient) oil = read_good (oil_text, NULL);
  g_autoptr (OgIngredient) no_slope =
    read_good ("{'id': 'a', 'figures': {'density_slope_g_ml_k': null}}", oil);
  g_autoptr (OgIngredient) no_figure =
    read_good ("{'id': 'b', 'figures': {'density_g_ml': null}}", oil);
  g_autoptr (OgIngredient) no_profile =
    read_good ("{'id': 'c', 'figures': {'density_slope_g_ml_k': null}, 'profile': null}", oil);

  g_assert_cmpfloat_with_epsilon (og_ingredient_density (oil, 60.0), 0.92 - 0.0007 * 40.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (og_ingredient_density (no_slope, 60.0),
                                  0.92 - 0.00066 * 40.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (og_ingredient_density (no_figure, 60.0),
                                  og_profile_density (oil->profile, 60.0), 1e-12);
  g_assert_cmpfloat_with_epsilon (og_ingredient_density (no_profile, 60.0),
                                  0.92 - 0.0007 * 40.0, 1e-12);
}

static void
test_values (void)
{
  g_autoptr (OgIngredient) oil = read_good (oil_text, NULL);
  g_autoptr (OgIngredient) ester = read_good ("{'id': 'e', 'kind': 'wax-ester', 'figures': null}",
                                              oil);

  g_assert_true (og_ingredient_is_triglyceride (oil));
  g_assert_false (og_ingredient_is_suspended (oil));
  g_assert_cmpfloat (og_ingredient_iodine_value (oil), ==, 90.0);
  g_assert_cmpfloat_with_epsilon (og_ingredient_saponification (oil),
                                  og_profile_saponification (oil->profile), 1e-12);

  /* the relations hold for triglycerides only */
  g_assert_false (og_ingredient_is_triglyceride (ester));
  g_assert_true (isnan (og_ingredient_iodine_value (ester)));
  g_assert_true (isnan (og_ingredient_saponification (ester)));
  g_assert_true (isnan (og_ingredient_density (ester, 20.0)));
}

/* For a normal distribution 80 % lies within 1.2816 standard deviations (any table of the normal
 * distribution). */
static void
test_ln_sd (void)
{
  OgFigure figure = { OG_QUALITY_ESTIMATED, 2.0, 1.0, 4.0, NAN, NULL, NULL, NULL };

  g_assert_cmpfloat_with_epsilon (og_figure_ln_sd (&figure, 9.0), G_LN2 / 1.2816, 1e-4);
  figure.low = figure.high = 2.0;
  g_assert_cmpfloat (og_figure_ln_sd (&figure, 9.0), ==, 0.0);
  figure.low = 0.0;
  g_assert_cmpfloat (og_figure_ln_sd (&figure, 9.0), ==, 9.0);
  figure.low = NAN;
  g_assert_cmpfloat (og_figure_ln_sd (&figure, 9.0), ==, 9.0);
}

static const char agent_text[] =
  "{'id': 'agent', 'name': 'Agent', 'kind': 'gelling-agent', 'roles': ['gelling-agent'],"
  " 'uses': ['lip'], 'tags': ['powder'], 'colour': {'ci': '77491', 'hex': '#8a3B2a', 'note': 'n'},"
  " 'gelling': {'family': 'crystal-network',"
  "  'gel_point_pct': {'value': 2, 'low': 1, 'high': 4, 'unit': 'wt %', 'source': 'judgement',"
  "   'quality': 'estimated'},"
  "  'sets_c': {'value': 60, 'unit': 'C', 'source': 'judgement', 'quality': 'estimated'},"
  "  'solvents': {'triglyceride': 'yes', 'castor': 'limited', 'silicone': 'no'},"
  "  'needs_shear': true, 'reversible': false, 'note': 'stir'}}";

static void
test_gelling (void)
{
  g_autoptr (OgIngredient) agent = read_good (agent_text, NULL);
  const OgGelling *gelling = &agent->gelling;

  g_assert_cmpint (gelling->family, ==, OG_GEL_CRYSTAL_NETWORK);
  g_assert_cmpfloat (gelling->gel_point_pct.value, ==, 2.0);
  g_assert_cmpfloat (gelling->sets_c.value, ==, 60.0);
  g_assert_false (og_figure_is_known (&gelling->dissolves_c));
  g_assert_cmpint (gelling->triglyceride, ==, OG_SOLVENT_YES);
  g_assert_cmpint (gelling->castor, ==, OG_SOLVENT_LIMITED);
  g_assert_cmpint (gelling->silicone, ==, OG_SOLVENT_NO);
  g_assert_cmpint (gelling->ester, ==, OG_SOLVENT_UNKNOWN);
  g_assert_true (gelling->needs_shear);
  g_assert_false (gelling->reversible);
  g_assert_cmpstr (gelling->note, ==, "stir");
  g_assert_cmpstr (agent->ci, ==, "77491");
  g_assert_cmpstr (agent->hex, ==, "#8a3B2a");
}

/* A derived material is its base but for what it says itself, and leaves the base alone. */
static void
test_derived (void)
{
  g_autoptr (OgIngredient) oil = read_good (oil_text, NULL);
  g_autoptr (OgIngredient) lot =
    read_good ("{'id': 'lot-7', 'derived_from': 'test-oil', 'name': 'Lot 7', 'tags': [],"
               " 'figures': {'iodine_value': {'value': 84, 'unit': 'g I2/100 g',"
               "  'source': 'certificate', 'quality': 'measured'}, 'density_slope_g_ml_k': null},"
               " 'profile': {'unit': 'wt % of fatty acids', 'source': 'certificate',"
               "  'quality': 'measured', 'acids': {'C18:1': {'value': 100}}},"
               " 'viscosity': [{'temperature_c': 25, 'value': 70, 'unit': 'mPa.s',"
               "  'source': 'own cup', 'quality': 'measured'}], 'cas': null}", oil);

  g_assert_cmpstr (lot->id, ==, "lot-7");
  g_assert_cmpstr (lot->derived_from, ==, "test-oil");
  g_assert_cmpstr (lot->name, ==, "Lot 7");
  g_assert_cmpstr (lot->inci, ==, "Probatum Oil");
  g_assert_null (lot->cas);
  g_assert_cmpuint (g_strv_length (lot->tags), ==, 0);
  g_assert_cmpuint (g_strv_length (lot->roles), ==, 2);
  g_assert_cmpfloat (lot->figures[OG_FIGURE_IODINE_VALUE].value, ==, 84.0);
  g_assert_true (isnan (lot->figures[OG_FIGURE_IODINE_VALUE].low));
  g_assert_cmpstr (lot->figures[OG_FIGURE_IODINE_VALUE].source, ==, "certificate");
  g_assert_cmpfloat (lot->figures[OG_FIGURE_DENSITY_G_ML].value, ==, 0.92);
  g_assert_false (og_figure_is_known (&lot->figures[OG_FIGURE_DENSITY_SLOPE_G_ML_K]));
  g_assert_cmpuint (lot->profile->shares->len, ==, 1);
  g_assert_null (lot->profile_note);
  g_assert_cmpuint (lot->viscosity->len, ==, 1);
  g_assert_true (g_str_has_prefix (lot->sort_key, "lot 7"));
  g_assert_false (json_object_has_member (lot->definition, "inci"));

  g_assert_cmpstr (oil->cas, ==, "8001-79-4");
  g_assert_cmpfloat (oil->figures[OG_FIGURE_IODINE_VALUE].value, ==, 90.0);
  g_assert_cmpuint (oil->profile->shares->len, ==, 2);
  g_assert_cmpuint (oil->viscosity->len, ==, 2);
}

static void
test_derived_every_figure (void)
{
  static const struct
  {
    OgFigureId  id;
    const char *unit;
    double      value;
  } figures[] = {
    { OG_FIGURE_DENSITY_G_ML, "g/ml", 0.5 },
    { OG_FIGURE_DENSITY_SLOPE_G_ML_K, "g/(ml K)", -0.001 },
    { OG_FIGURE_REFRACTIVE_INDEX, "1", 1.5 },
    { OG_FIGURE_IODINE_VALUE, "g I2/100 g", 0.0 },
    { OG_FIGURE_SAPONIFICATION_VALUE, "mg KOH/g", 0.0 },
    { OG_FIGURE_MELTING_C, "C", -70.0 },
    { OG_FIGURE_FLASH_POINT_C, "C", 300.0 },
    { OG_FIGURE_SMOKE_POINT_C, "C", 200.0 },
    { OG_FIGURE_MAX_HEAT_C, "C", 40.0 },
    { OG_FIGURE_UNSAPONIFIABLE_PCT, "wt %", 1.0 },
    { OG_FIGURE_MOLAR_MASS_G_MOL, "g/mol", 900.0 },
    { OG_FIGURE_USUAL_LOW_PCT, "wt %", 1.0 },
    { OG_FIGURE_USUAL_HIGH_PCT, "wt %", 99.0 },
    { OG_FIGURE_HEAT_CAPACITY_KJ_KG_K, "kJ/(kg K)", 2.0 },
    { OG_FIGURE_NATURAL_ORIGIN_INDEX, "1", 0.75 },
  };
  g_autoptr (OgIngredient) oil = read_good (oil_text, NULL);

  G_STATIC_ASSERT (G_N_ELEMENTS (figures) == OG_N_FIGURES);
  for (guint i = 0; i < OG_N_FIGURES; i++)
    {
      g_autofree char *text =
        g_strdup_printf ("{'id': 'own', 'figures': {'%s': {'value': %g, 'unit': '%s', 'at_c': 25,"
                         " 'source': 'own', 'quality': 'measured'}}}",
                         og_figure_id_to_nick (figures[i].id), figures[i].value, figures[i].unit);
      g_autoptr (OgIngredient) own = read_good (text, oil);

      g_assert_cmpfloat (own->figures[figures[i].id].value, ==, figures[i].value);
      g_assert_cmpstr (own->figures[figures[i].id].source, ==, "own");
      for (guint j = 0; j < OG_N_FIGURES; j++)
        if (j != (guint) figures[i].id)
          g_assert_cmpint (own->figures[j].quality, ==, oil->figures[j].quality);
    }
}

static void
test_derived_gelling (void)
{
  g_autoptr (OgIngredient) agent = read_good (agent_text, NULL);
  g_autoptr (OgIngredient) own =
    read_good ("{'id': 'own', 'colour': {'hex': '#ffffff'}, 'gelling': {"
               " 'gel_point_pct': {'value': 3, 'unit': 'wt %', 'source': 'bench',"
               "  'quality': 'measured'},"
               " 'sets_c': null, 'solvents': {'castor': 'yes', 'silicone': null},"
               " 'needs_shear': null}}", agent);
  g_autoptr (OgIngredient) unsolved =
    read_good ("{'id': 'unsolved', 'gelling': {'solvents': null, 'note': null}}", agent);
  g_autoptr (OgIngredient) plain = read_good ("{'id': 'plain', 'gelling': null, 'colour': null}",
                                              agent);

  g_assert_cmpint (own->gelling.family, ==, OG_GEL_CRYSTAL_NETWORK);
  g_assert_cmpfloat (own->gelling.gel_point_pct.value, ==, 3.0);
  g_assert_false (og_figure_is_known (&own->gelling.sets_c));
  g_assert_cmpint (own->gelling.triglyceride, ==, OG_SOLVENT_YES);
  g_assert_cmpint (own->gelling.castor, ==, OG_SOLVENT_YES);
  g_assert_cmpint (own->gelling.silicone, ==, OG_SOLVENT_UNKNOWN);
  g_assert_false (own->gelling.needs_shear);
  g_assert_cmpstr (own->ci, ==, "77491");
  g_assert_cmpstr (own->hex, ==, "#ffffff");

  g_assert_cmpint (unsolved->gelling.triglyceride, ==, OG_SOLVENT_UNKNOWN);
  g_assert_cmpint (unsolved->gelling.castor, ==, OG_SOLVENT_UNKNOWN);
  g_assert_true (unsolved->gelling.needs_shear);
  g_assert_null (unsolved->gelling.note);

  g_assert_cmpint (plain->gelling.family, ==, OG_GEL_NONE);
  g_assert_false (og_figure_is_known (&plain->gelling.gel_point_pct));
  g_assert_null (plain->ci);
}

static void
test_derived_refused (void)
{
  static const struct
  {
    const char    *text;
    OgCatalogError code;
    const char    *fragment;
  } cases[] = {
    { "{'name': 'X'}", OG_CATALOG_ERROR_VALUE, "id: is missing" },
    { "{'id': null}", OG_CATALOG_ERROR_VALUE, "id: must be a text" },
    { "{'id': 'x', 'name': null}", OG_CATALOG_ERROR_VALUE, "x: name: must be a text" },
    { "{'id': 'x', 'kind': null}", OG_CATALOG_ERROR_VALUE, "x: kind: must be a text" },
    { "{'id': 'x', 'roles': null}", OG_CATALOG_ERROR_VALUE, "x: roles: must be an array" },
    { "{'id': 'x', 'derived_from': 'other'}", OG_CATALOG_ERROR_REFERENCE, "x: derived_from: " },
    { "{'id': 'x', 'kind': 'wax'}", OG_CATALOG_ERROR_VALUE, "x: profile: belongs to" },
    { "{'id': 'x', 'figures': {'iodine_value': {'value': 80}}}", OG_CATALOG_ERROR_VALUE,
      "x: figures.iodine_value.quality: is missing" },
    { "{'id': 'x', 'profile': {'acids': {}}}", OG_CATALOG_ERROR_VALUE, "x: profile.unit" },
    { "{'id': 'x', 'gelling': {'needs_shear': true}}", OG_CATALOG_ERROR_VALUE,
      "x: gelling.family: is missing" },
  };
  g_autoptr (OgIngredient) oil = read_good (oil_text, NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;

      g_test_message ("%s", cases[i].text);
      g_assert_null (read_own (cases[i].text, oil, &error));
      g_assert_error (error, OG_CATALOG_ERROR, (int) cases[i].code);
      g_test_message ("%s", error->message);
      g_assert_nonnull (strstr (error->message, cases[i].fragment));
    }
}

/* Own materials may come from a later version, may have any id, and may outlive what they were
 * derived from. */
static void
test_own_is_lenient (void)
{
  g_autoptr (OgIngredient) own =
    read_good ("{'id': 'Öl №1 <b>', 'name': 'X & <i>', 'kind': 'oil', 'roles': ['base'],"
               " 'uses': ['lip'], 'tags': [], 'derived_from': 'gone', 'price': 3,"
               " 'figures': {'smell': 1}}", NULL);

  g_assert_cmpstr (own->id, ==, "Öl №1 <b>");
  g_assert_cmpstr (own->derived_from, ==, "gone");
  g_assert_cmpint (json_object_get_int_member (own->definition, "price"), ==, 3);
}

static void
test_composition (void)
{
  g_autoptr (OgIngredient) paste =
    read_good ("{'id': 'paste', 'name': 'Paste', 'kind': 'dispersion', 'roles': ['colour'],"
               " 'uses': ['lip'], 'tags': [], 'composition': [{'ingredient': 'a', 'pct': 33.3},"
               " {'ingredient': 'b', 'pct': 66.7}]}", NULL);

  g_autoptr (OgIngredient) darker = read_good ("{'id': 'darker'}", paste);
  g_autoptr (OgIngredient) opaque = read_good ("{'id': 'opaque', 'composition': null}", paste);

  g_assert_cmpuint (opaque->composition->len, ==, 0);
  g_assert_cmpstr (g_array_index (darker->composition, OgPart, 1).ingredient_id, ==, "b");
  g_assert_cmpuint (paste->composition->len, ==, 2);
  g_assert_cmpstr (g_array_index (paste->composition, OgPart, 0).ingredient_id, ==, "a");
  g_assert_cmpfloat (g_array_index (paste->composition, OgPart, 1).pct, ==, 66.7);
  g_assert_false (og_ingredient_is_suspended (paste));
}

/* What a flavour brings along: said, said to be nothing, and not said. */
static void
test_constituents (void)
{
  static const char *const refused[] = {
    "[{'name': 'Limonene'}]",
    "[{'pct': {'value': 1, 'unit': 'wt %', 'source': 's', 'quality': 'typical'}}]",
    "[{'name': 'Limonene', 'cas': '5989-27-4', 'pct': {'value': 1, 'unit': 'wt %',"
    " 'source': 's', 'quality': 'typical'}}]",
    "[{'name': 'Limonene', 'pct': {'value': 1, 'unit': '%', 'source': 's',"
    " 'quality': 'typical'}}]",
    "[{'name': 'a', 'pct': {'value': 60, 'unit': 'wt %', 'source': 's', 'quality': 'typical'}},"
    " {'name': 'b', 'pct': {'value': 41, 'unit': 'wt %', 'source': 's', 'quality': 'typical'}}]",
  };
  g_autoptr (OgIngredient) flavour =
    read_good ("{'id': 'f', 'name': 'F', 'kind': 'flavour', 'roles': ['flavour'], 'uses': ['lip'],"
               " 'tags': [], 'constituents': [{'name': 'Limonene', 'cas': '5989-27-5', 'pct':"
               " {'value': 5, 'low': 4, 'high': 6, 'unit': 'wt %', 'source': 'declaration',"
               " 'quality': 'measured'}}, {'name': 'Linalool', 'pct': {'value': 1, 'unit': 'wt %',"
               " 'source': 'declaration', 'quality': 'measured'}}]}", NULL);
  g_autoptr (OgIngredient) heir = read_good ("{'id': 'heir'}", flavour);
  g_autoptr (OgIngredient) opaque = read_good ("{'id': 'opaque', 'constituents': null}", flavour);
  g_autoptr (OgIngredient) bare = read_good ("{'id': 'bare', 'constituents': []}", flavour);
  const OgConstituent *limonene = &g_array_index (heir->constituents, OgConstituent, 0);

  g_assert_true (heir->constituents_known);
  g_assert_cmpuint (heir->constituents->len, ==, 2);
  g_assert_cmpstr (limonene->name, ==, "Limonene");
  g_assert_cmpstr (limonene->cas, ==, "5989-27-5");
  g_assert_cmpfloat (limonene->pct.high, ==, 6.0);
  g_assert_cmpstr (limonene->pct.source, ==, "declaration");
  g_assert_null (g_array_index (heir->constituents, OgConstituent, 1).cas);

  g_assert_false (opaque->constituents_known);
  g_assert_cmpuint (opaque->constituents->len, ==, 0);
  g_assert_true (bare->constituents_known);
  g_assert_cmpuint (bare->constituents->len, ==, 0);

  for (guint i = 0; i < G_N_ELEMENTS (refused); i++)
    {
      g_autofree char *text = g_strdup_printf ("{'id': 'x', 'constituents': %s}", refused[i]);
      g_autoptr (GError) error = NULL;
      g_autoptr (OgIngredient) wrong = read_own (text, flavour, &error);

      g_assert_error (error, OG_CATALOG_ERROR, OG_CATALOG_ERROR_VALUE);
      g_assert_null (wrong);
    }
}

static void
test_suspended (void)
{
  for (guint kind = 0; kind < OG_N_KINDS; kind++)
    {
      g_autofree char *text =
        g_strdup_printf ("{'id': 'x', 'name': 'X', 'kind': '%s', 'roles': ['base'],"
                         " 'uses': ['lip'], 'tags': []}", og_kind_to_nick (kind));
      g_autoptr (OgIngredient) ingredient = read_good (text, NULL);

      g_assert_cmpint (ingredient->kind, ==, kind);
      g_assert_cmpint (og_ingredient_is_suspended (ingredient), ==,
                       kind == OG_KIND_COLOUR || kind == OG_KIND_PEARL || kind == OG_KIND_POWDER);
    }
}

static void
test_words (void)
{
  OgKind kind;

  for (guint i = 0; i < OG_N_KINDS; i++)
    {
      g_assert_true (og_kind_from_nick (og_kind_to_nick (i), &kind));
      g_assert_cmpint (kind, ==, i);
      g_assert_cmpuint (strlen (og_kind_get_name (i)), >, 0);
    }
  g_assert_false (og_kind_from_nick ("Oil", &kind));
  g_assert_cmpstr (og_kind_to_nick (OG_KIND_GELLING_AGENT), ==, "gelling-agent");
  g_assert_cmpstr (og_kind_get_name (OG_KIND_GELLING_AGENT), ==, "Gelling agents");
  for (guint i = OG_QUALITY_UNKNOWN; i <= OG_QUALITY_RECALLED; i++)
    g_assert_cmpuint (strlen (og_quality_get_name (i)), >, 0);
  g_assert_cmpstr (og_quality_to_nick (OG_QUALITY_RECALLED), ==, "recalled");
  for (guint i = 0; i < OG_N_FIGURES; i++)
    g_assert_cmpuint (strlen (og_figure_id_get_name (i)), >, 0);
  g_assert_cmpstr (og_figure_id_to_nick (OG_FIGURE_DENSITY_G_ML), ==, "density_g_ml");
  g_assert_cmpstr (og_tag_get_name ("nut"), ==, "Tree nut");
  g_assert_cmpstr (og_tag_get_name ("no such tag"), ==, "no such tag");
  g_assert_cmpstr (og_role_get_name ("slip"), ==, "Slip");
  g_assert_cmpstr (og_role_get_name ("no such role"), ==, "no such role");
}

static void
test_search_fold (void)
{
  static const char *const cases[][2] = {
    { "Cupuaçu", "cupuacu" }, { "STRASSE", "strasse" }, { "Straße", "strasse" },
    { "ﬁne Éclat", "fine eclat" }, { "", "" }, { "a\xff" "b", "a\xef\xbf\xbd" "b" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *folded = og_search_fold (cases[i][0]);

      g_assert_cmpstr (folded, ==, cases[i][1]);
    }
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/ingredient/everything-read", test_everything_read);
  g_test_add_func ("/ingredient/unknown", test_unknown);
  g_test_add_func ("/ingredient/density", test_density);
  g_test_add_func ("/ingredient/values", test_values);
  g_test_add_func ("/ingredient/ln-sd", test_ln_sd);
  g_test_add_func ("/ingredient/gelling", test_gelling);
  g_test_add_func ("/ingredient/derived", test_derived);
  g_test_add_func ("/ingredient/derived/every-figure", test_derived_every_figure);
  g_test_add_func ("/ingredient/derived/gelling", test_derived_gelling);
  g_test_add_func ("/ingredient/derived/refused", test_derived_refused);
  g_test_add_func ("/ingredient/own-is-lenient", test_own_is_lenient);
  g_test_add_func ("/ingredient/composition", test_composition);
  g_test_add_func ("/ingredient/constituents", test_constituents);
  g_test_add_func ("/ingredient/suspended", test_suspended);
  g_test_add_func ("/ingredient/words", test_words);
  g_test_add_func ("/ingredient/search-fold", test_search_fold);

  return g_test_run ();
}
