/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "cli/catalog-check.h"
#include "cli/findings.h"
#include "cli/text-table.h"
#include "cli/verbs.h"
#include "core/base/number-text.h"
#include "core/label/exposure.h"

/* What the options ask for. */
typedef struct
{
  char **rules;         /* (nullable): files of own rules */
  char  *jurisdictions; /* (nullable): "EU,UK" */
  char  *exposure;      /* (nullable): SUBSTANCE[,NOAEL[,ABSORPTION[,BIOAVAILABILITY]]] */
} Wishes;

static void
wishes_clear (Wishes *wishes)
{
  g_strfreev (wishes->rules);
  g_free (wishes->jurisdictions);
  g_free (wishes->exposure);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Wishes, wishes_clear)

/* One substance that the reader wants the dose of. */
typedef struct
{
  OgSubstanceAmount amount;
  OgReferencePoint  point;
} Question;

static void
question_clear (Question *question)
{
  og_substance_amount_clear (&question->amount);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Question, question_clear)

/* Reads the numbers behind the name of the substance. */
static gboolean
read_point (char             **parts,
            OgReferencePoint  *point,
            GError           **error)
{
  double *const out[] = { &point->noael_mg_kg_day, &point->absorption_pct,
                          &point->bioavailability_pct };
  static const double most[] = { 1e6, 100.0, 100.0 };

  for (guint i = 0; i < G_N_ELEMENTS (out) && parts[i + 1] != NULL; i++)
    {
      char *one[] = { g_strstrip (parts[i + 1]), NULL };
      g_autoptr (GArray) numbers = og_call_parse_numbers ("--exposure", one, 0.0, most[i], error);

      if (numbers == NULL)
        return FALSE;
      *out[i] = g_array_index (numbers, double, 0);
    }
  if (g_strv_length (parts) <= G_N_ELEMENTS (out) + 1)
    return TRUE;
  return og_call_refuse (error, _("--exposure: “%s” is one number too many"),
                         parts[G_N_ELEMENTS (out) + 1]);
}

static gboolean
read_question (const Wishes   *wishes,
               const OgRecipe *recipe,
               Question       *question,
               GError        **error)
{
  g_auto (GStrv) parts = NULL;

  if (wishes->exposure == NULL)
    return TRUE;
  if (!og_call_check_text ("--exposure", wishes->exposure, error))
    return FALSE;
  parts = g_strsplit (wishes->exposure, ",", -1);
  og_reference_point_init (&question->point);
  return read_point (parts, &question->point, error) &&
         og_substance_find (recipe->formula, recipe->catalog, parts[0] != NULL ? parts[0] : "",
                            &question->amount, error);
}

static void
put_exposure_row (OgTextTable    *table,
                  const char     *name,
                  guint           sites,
                  const Question *question)
{
  g_autofree char *dose = NULL;
  g_autofree char *margin = NULL;
  OgExposure exposure;

  og_exposure_compute (sites, question->amount.pct, question->amount.high_pct, &question->point,
                       &exposure);
  dose = og_number_significant (exposure.dose_mg_kg_day, 4);
  margin = og_number_significant (exposure.margin, 4);
  og_text_table_add (table, (const char *[]) { name, dose, margin });
}

static void
put_exposure_text (OgCall         *call,
                   guint           sites,
                   const Question *question)
{
  g_autoptr (OgTextTable) table = og_text_table_new ("lrr");
  g_autofree char *pct = og_number_significant (question->amount.pct, 4);
  g_autofree char *absorbed = og_number_significant (question->point.absorption_pct, 4);
  g_autofree char *available = og_number_significant (question->point.bioavailability_pct, 4);
  g_autofree char *usual = og_number_fixed (OG_USUAL_MARGIN, 0);
  g_autofree char *head = g_strdup_printf (_("Exposure to %s, %s %% of the product:"),
                                           question->amount.name, pct);
  g_autofree char *terms = NULL;
  g_autoptr (OgSaying) source = og_daily_amount_source ();

  g_string_append_c (call->out, '\n');
  og_text_put_wrapped ("", head, call->out);
  og_text_table_add (table, (const char *[]) { _("Used"), _("Dose, mg/(kg day)"), _("Margin of safety") });
  if ((sites & OG_SITE_LIPS) != 0)
    put_exposure_row (table, og_daily_amount_get_name (OG_SITE_LIPS), OG_SITE_LIPS, question);
  if ((sites & OG_SITE_SKIN) != 0)
    put_exposure_row (table, og_daily_amount_get_name (OG_SITE_SKIN), OG_SITE_SKIN, question);
  if (sites == (OG_SITE_LIPS | OG_SITE_SKIN))
    put_exposure_row (table, _("both"), sites, question);
  og_text_table_put (table, 2, call->out);

  terms = g_strdup_printf (_("Swallowed from lips: all; absorbed through skin: %s %%; oral bioavailability: %s %%. "
                             "A margin of %s or more is usual; without a reference value (NOAEL) there is none. "
                             "A qualified assessor decides."),
                           absorbed, available, usual);
  og_text_put_wrapped ("  ", terms, call->out);
  if (!question->amount.complete)
    og_text_put_wrapped ("  ", _("A scent of unknown composition may bring more of it."), call->out);
  og_text_put_wrapped ("  ", og_saying_text (source), call->out);
}

static void
add_exposure_use (JsonBuilder    *builder,
                  const char     *name,
                  guint           sites,
                  const Question *question)
{
  OgExposure exposure;

  og_exposure_compute (sites, question->amount.pct, question->amount.high_pct, &question->point,
                       &exposure);
  json_builder_begin_object (builder);
  og_json_add_string (builder, "use", name);
  og_json_add_number (builder, "dose_mg_kg_day", exposure.dose_mg_kg_day);
  og_json_add_number (builder, "high_dose_mg_kg_day", exposure.high_dose_mg_kg_day);
  og_json_add_number (builder, "margin", exposure.margin);
  og_json_add_number (builder, "low_margin", exposure.low_margin);
  json_builder_end_object (builder);
}

static void
add_exposure_json (JsonBuilder    *builder,
                   guint           sites,
                   const Question *question)
{
  g_autoptr (OgSaying) source = og_daily_amount_source ();

  og_json_begin_object (builder, "exposure");
  og_json_add_string (builder, "substance", question->amount.name);
  og_json_add_number (builder, "amount_pct", question->amount.pct);
  og_json_add_number (builder, "high_pct", question->amount.high_pct);
  og_json_add_boolean (builder, "complete", question->amount.complete);
  og_json_add_number (builder, "noael_mg_kg_day", question->point.noael_mg_kg_day);
  og_json_add_number (builder, "absorption_pct", question->point.absorption_pct);
  og_json_add_number (builder, "bioavailability_pct", question->point.bioavailability_pct);
  og_json_begin_array (builder, "uses");
  if ((sites & OG_SITE_LIPS) != 0)
    add_exposure_use (builder, "lips", OG_SITE_LIPS, question);
  if ((sites & OG_SITE_SKIN) != 0)
    add_exposure_use (builder, "skin", OG_SITE_SKIN, question);
  if (sites == (OG_SITE_LIPS | OG_SITE_SKIN))
    add_exposure_use (builder, "both", sites, question);
  json_builder_end_array (builder);
  og_json_add_string (builder, "source", og_saying_text (source));
  json_builder_end_object (builder);
}

static void
add_rulings_json (JsonBuilder     *builder,
                  const GPtrArray *rulings)
{
  og_json_begin_array (builder, "rulings");
  for (guint i = 0; i < rulings->len; i++)
    {
      const OgRuling *ruling = g_ptr_array_index (rulings, i);
      g_autoptr (OgSaying) where = og_products_saying (ruling->products);

      if (ruling->rule->kind == OG_RULE_NOTICE)
        continue;
      json_builder_begin_object (builder);
      og_json_add_string (builder, "id", ruling->rule->id);
      og_json_add_string (builder, "kind", og_rule_kind_to_nick (ruling->rule->kind));
      og_json_add_string (builder, "name", ruling->rule->name);
      og_json_add_string (builder, "material", og_saying_text (ruling->material));
      og_json_add_string (builder, "for", og_saying_text (where));
      og_json_add_number (builder, "amount_pct", ruling->amount_pct);
      og_json_add_number (builder, "high_pct", ruling->high_pct);
      og_json_add_number (builder, "limit_pct", ruling->rule->max_pct);
      og_json_add_string (builder, "verdict", og_verdict_to_nick (ruling->verdict));
      og_json_add_string (builder, "jurisdiction", ruling->rule->jurisdiction);
      og_json_add_string (builder, "authority", og_authority_to_nick (ruling->rule->authority));
      og_json_add_string (builder, "reference", ruling->rule->reference);
      og_json_add_string (builder, "quality", og_rule_quality_to_nick (ruling->rule->quality));
      og_json_add_string (builder, "state", ruling->rule->state);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
put_recipe_json (OgCall          *call,
                 const OgRecipe  *recipe,
                 const OgResult  *result,
                 const GPtrArray *findings,
                 const Question  *question)
{
  g_autoptr (JsonBuilder) builder = og_call_begin_json ();
  g_autoptr (OgSaying) advice = og_result_get_advice (result);

  og_json_add_string (builder, "product", og_product_to_nick (recipe->formula->product));
  og_findings_add_json (builder, findings);
  add_rulings_json (builder, result->rulings);
  if (question->amount.name != NULL)
    add_exposure_json (builder, og_product_get_sites (recipe->formula->product), question);
  og_json_add_string (builder, "advice", og_saying_text (advice));
  og_call_end_json (call, builder);
}

static void
put_recipe_text (OgCall          *call,
                 const OgRecipe  *recipe,
                 const OgResult  *result,
                 const GPtrArray *findings,
                 const Question  *question)
{
  g_autoptr (OgSaying) advice = og_result_get_advice (result);

  og_text_put_wrapped ("", recipe->formula->title, call->out);
  og_findings_put (call->out, findings);
  if (question->amount.name != NULL)
    put_exposure_text (call, og_product_get_sites (recipe->formula->product), question);
  if (advice != NULL)
    {
      g_string_append_c (call->out, '\n');
      og_text_put_wrapped ("", og_saying_text (advice), call->out);
    }
}

/* Returns: (transfer container): those that hold in one of @jurisdictions or in no place alone */
static GPtrArray *
select_findings (const GPtrArray *findings,
                 const char      *jurisdictions)
{
  GPtrArray *selected = g_ptr_array_new ();
  g_auto (GStrv) wanted = jurisdictions != NULL ? g_strsplit (jurisdictions, ",", -1) : NULL;

  for (guint i = 0; wanted != NULL && wanted[i] != NULL; i++)
    g_strstrip (wanted[i]);
  for (guint i = 0; i < findings->len; i++)
    {
      OgFinding *finding = g_ptr_array_index (findings, i);

      if (wanted == NULL || finding->jurisdiction == NULL ||
          g_strv_contains ((const char *const *) wanted, finding->jurisdiction))
        g_ptr_array_add (selected, finding);
    }
  return selected;
}

/* Puts the rules of the files on top of @catalog. */
static gboolean
add_rules (OgCatalog  **catalog,
           char       **paths,
           GError     **error)
{
  for (guint i = 0; paths != NULL && paths[i] != NULL; i++)
    {
      g_autoptr (OgRules) own = og_rules_load (paths[i], TRUE, error);
      OgCatalog *whole;

      if (own == NULL)
        return FALSE;
      whole = og_catalog_new_with_rules (*catalog, own, error);
      if (whole == NULL)
        return FALSE;
      og_catalog_unref (*catalog);
      *catalog = whole;
    }
  return TRUE;
}

static void
judge_exposure (OgResult       *result,
                guint           sites,
                const Question *question)
{
  OgExposure exposure;
  OgFinding *finding;

  if (question->amount.name == NULL)
    return;
  og_exposure_compute (sites, question->amount.pct, question->amount.high_pct, &question->point, &exposure);
  finding = og_exposure_find_margin (&exposure, question->amount.name);
  if (finding == NULL)
    return;
  g_ptr_array_add (result->findings, finding);
  og_finding_list_sort (result->findings);
}

static OgExit
check_recipe (OgCall        *call,
              const Wishes  *wishes,
              const char    *path,
              GError       **error)
{
  g_auto (OgRecipe) recipe = { NULL, NULL };
  g_auto (Question) question = { { NULL } };
  g_autoptr (OgResult) result = NULL;
  g_autoptr (GPtrArray) findings = NULL;

  if (!og_call_read_recipe (call, &recipe, path, error) ||
      !add_rules (&recipe.catalog, wishes->rules, error) ||
      !read_question (wishes, &recipe, &question, error))
    return OG_EXIT_FILE;

  result = og_evaluate (recipe.formula, recipe.catalog, NULL);
  judge_exposure (result, og_product_get_sites (recipe.formula->product), &question);
  findings = select_findings (result->findings, wishes->jurisdictions);
  if (call->json)
    put_recipe_json (call, &recipe, result, findings, &question);
  else
    put_recipe_text (call, &recipe, result, findings, &question);

  return og_findings_status (findings);
}

static void
put_catalog_json (OgCall               *call,
                  const OgCatalog      *catalog,
                  const OgCatalogCheck *check)
{
  g_autoptr (JsonBuilder) builder = og_call_begin_json ();

  og_json_add_whole (builder, "materials", og_catalog_get_n_items (catalog));
  og_json_begin_object (builder, "kinds");
  for (int kind = 0; kind < OG_N_KINDS; kind++)
    {
      og_json_add_whole (builder, og_kind_to_nick ((OgKind) kind), check->n_by_kind[kind]);
    }
  json_builder_end_object (builder);
  og_json_begin_object (builder, "figures");
  for (int quality = OG_QUALITY_MEASURED; quality <= OG_QUALITY_RECALLED; quality++)
    {
      og_json_add_whole (builder, og_quality_to_nick ((OgQuality) quality),
                         check->n_figures_by_quality[quality]);
    }
  json_builder_end_object (builder);
  og_json_begin_object (builder, "rules");
  for (int quality = 0; quality < OG_N_RULE_QUALITIES; quality++)
    {
      og_json_add_whole (builder, og_rule_quality_to_nick ((OgRuleQuality) quality),
                         check->n_rules_by_quality[quality]);
    }
  json_builder_end_object (builder);
  og_json_add_whole (builder, "flowing", check->n_flowing);
  og_json_add_whole (builder, "flowing_with_viscosity", check->n_flowing_known);
  og_json_add_strings (builder, "checked", og_catalog_check_scope ());
  og_findings_add_json (builder, check->findings);
  og_call_end_json (call, builder);
}

static void
put_count (OgTextTable *table,
           const char  *name,
           guint        n)
{
  g_autofree char *number = g_strdup_printf ("%u", n);

  og_text_table_add (table, (const char *[]) { name, number });
}

static void
put_catalog_text (OgCall               *call,
                  const OgCatalog      *catalog,
                  const OgCatalogCheck *check)
{
  g_autoptr (OgTextTable) kinds = og_text_table_new ("lr");
  g_autoptr (OgTextTable) figures = og_text_table_new ("lr");
  g_autoptr (OgTextTable) rules = og_text_table_new ("lr");
  const char *const *scope = og_catalog_check_scope ();

  og_text_table_add (kinds, (const char *[]) { _("Kind"), _("Materials") });
  for (int kind = 0; kind < OG_N_KINDS; kind++)
    put_count (kinds, og_kind_get_name ((OgKind) kind), check->n_by_kind[kind]);
  put_count (kinds, _("In all"), og_catalog_get_n_items (catalog));
  og_text_table_put (kinds, 2, call->out);
  g_string_append_c (call->out, '\n');

  og_text_table_add (figures, (const char *[]) { _("Figures, by how they are known"), _("Number") });
  for (int quality = OG_QUALITY_MEASURED; quality <= OG_QUALITY_RECALLED; quality++)
    put_count (figures, og_quality_get_name ((OgQuality) quality), check->n_figures_by_quality[quality]);
  og_text_table_put (figures, 2, call->out);
  g_string_append_c (call->out, '\n');

  og_text_table_add (rules, (const char *[]) { _("Rules, by how they are known"), _("Number") });
  for (int quality = 0; quality < OG_N_RULE_QUALITIES; quality++)
    put_count (rules, og_rule_quality_get_name ((OgRuleQuality) quality),
               check->n_rules_by_quality[quality]);
  og_text_table_put (rules, 2, call->out);
  g_string_append_c (call->out, '\n');

  g_string_append_printf (call->out, _("Of %u materials that flow, %u have a known viscosity."),
                          check->n_flowing, check->n_flowing_known);
  g_string_append_printf (call->out, "\n\n%s\n", _("What was checked:"));
  for (guint i = 0; scope[i] != NULL; i++)
    og_text_put_wrapped ("  • ", _(scope[i]), call->out);
  g_string_append_printf (call->out, "\n%s\n", _("What was found:"));
  og_findings_put (call->out, check->findings);
}

static OgExit
check_catalog (OgCall        *call,
               const Wishes  *wishes,
               GError       **error)
{
  g_autoptr (OgCatalog) catalog = og_call_load_catalog (error);
  g_autoptr (OgCatalogCheck) check = NULL;

  if (catalog == NULL || !add_rules (&catalog, wishes->rules, error))
    return OG_EXIT_FILE;

  check = og_catalog_check (catalog);
  if (call->json)
    put_catalog_json (call, catalog, check);
  else
    put_catalog_text (call, catalog, check);

  return og_findings_status (check->findings);
}

OgExit
og_verb_check (OgCall  *call,
               GError **error)
{
  g_auto (Wishes) wishes = { NULL };
  const GOptionEntry entries[] = {
    { "rules", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &wishes.rules,
      N_("Also hold it to the rules of this file"), N_("FILE") },
    { "jurisdiction", 0, 0, G_OPTION_ARG_FILENAME, &wishes.jurisdictions,
      N_("Leave out rules of other places than these, such as EU,UK"), N_("PLACES") },
    { "exposure", 0, 0, G_OPTION_ARG_FILENAME, &wishes.exposure,
      N_("Dose of a substance: its name, then NOAEL in mg/(kg day), absorption and bioavailability in %"),
      N_("SUBSTANCE[,NOAEL[,%[,%]]]") },
    G_OPTION_ENTRY_NULL
  };

  if (!og_call_parse (call, entries, 0, 1, error) ||
      !og_call_check_text ("--jurisdiction", wishes.jurisdictions, error))
    return OG_EXIT_DONE;
  if (call->files == NULL
      && (wishes.exposure != NULL || wishes.jurisdictions != NULL || call->version != NULL))
    {
      og_call_refuse (error, _("--exposure, --jurisdiction and --version need a recipe"));
      return OG_EXIT_USAGE;
    }

  return call->files != NULL ? check_recipe (call, &wishes, call->files[0], error)
                             : check_catalog (call, &wishes, error);
}
