/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/material/rules-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/base/error.h"
#include "core/base/finding.h"
#include "core/base/json-read.h"
#include "core/material/ingredient-private.h"

OG_JSON_DEFINE_CHOICE (OgRuleKind, og_rule_kind)
OG_JSON_DEFINE_CHOICE (OgAuthority, og_authority)
OG_JSON_DEFINE_CHOICE (OgRuleQuality, og_rule_quality)
OG_JSON_DEFINE_CHOICE (OgSeverity, og_severity)

static gboolean
read_texts (const OgJsonReader   *reader,
            const char           *member,
            gboolean            (*is_known) (const char *text),
            char               ***out)
{
  return og_json_read_texts (reader, member, OG_JSON_OPTIONAL, 0, is_known, out);
}

static gboolean
is_kind (const char *text)
{
  OgKind kind;

  return og_kind_from_nick (text, &kind);
}

static gboolean
read_match (const OgJsonReader *reader,
            OgRule             *rule)
{
  static const char *const known[] = { "cas", "inci", "ci", "id", "kind", "tag", "word", NULL };
  OgJsonReader inner;

  if (og_json_read_object (reader, "match", OG_JSON_REQUIRED, &inner) != OG_JSON_FOUND ||
      !og_json_check_members (&inner, known) ||
      !read_texts (&inner, "inci", NULL, &rule->inci) ||
      !read_texts (&inner, "ci", NULL, &rule->ci) ||
      !read_texts (&inner, "id", NULL, &rule->ids) ||
      !read_texts (&inner, "kind", is_kind, &rule->kinds) ||
      !read_texts (&inner, "word", NULL, &rule->words) ||
      !read_texts (&inner, "tag", og_tag_is_known, &rule->tags) ||
      !read_texts (&inner, "cas", NULL, &rule->cas))
    return FALSE;
  for (guint i = 0; rule->cas[i] != NULL; i++)
    if (!og_cas_is_valid (rule->cas[i]))
      return og_json_fail (&inner, "cas", _("“%s” is not a CAS number"), rule->cas[i]);
  if (rule->inci[0] == NULL && rule->ci[0] == NULL && rule->ids[0] == NULL &&
      rule->words[0] == NULL && rule->kinds[0] == NULL && rule->tags[0] == NULL && rule->cas[0] == NULL)
    return og_json_fail (reader, "match", "%s", _("must not be empty"));
  return TRUE;
}

static gboolean
read_equivalent (const OgJsonReader *reader,
                 OgRule             *rule)
{
  static const char *const known[] = { "name", "molar_mass_g_mol", "of", NULL };
  JsonObjectIter iter;
  const char *cas;
  OgJsonReader inner, of;
  OgJsonFound found = og_json_read_object (reader, "equivalent", OG_JSON_OPTIONAL, &inner);

  if (found != OG_JSON_FOUND)
    return found == OG_JSON_ABSENT;
  if (!og_json_check_members (&inner, known) ||
      !og_json_read_text (&inner, "name", OG_JSON_REQUIRED, &rule->equivalent) ||
      !og_json_read_number (&inner, "molar_mass_g_mol", OG_JSON_REQUIRED, 1.0, 1e8,
                            &rule->equivalent_g_mol) ||
      og_json_read_object (&inner, "of", OG_JSON_REQUIRED, &of) != OG_JSON_FOUND)
    return FALSE;

  json_object_iter_init (&iter, of.object);
  while (json_object_iter_next (&iter, &cas, NULL))
    {
      OgEquivalent equivalent = { NULL, NAN };

      if (!g_strv_contains ((const char *const *) rule->cas, cas))
        return og_json_fail_code (&inner, "of", OG_CATALOG_ERROR_REFERENCE,
                                  _("“%s” is not a CAS number that the rule matches"), cas);
      if (!og_json_read_number (&of, cas, OG_JSON_REQUIRED, 1.0, 1e8, &equivalent.molar_mass_g_mol))
        return FALSE;
      equivalent.cas = g_strdup (cas);
      g_array_append_val (rule->equivalents, equivalent);
    }
  return TRUE;
}

/* The products named, else those of the sites named, else all. */
static gboolean
read_products (const OgJsonReader *reader,
               OgRule             *rule)
{
  g_auto (GStrv) sites = NULL;
  g_auto (GStrv) products = NULL;
  guint wanted = 0;

  if (!read_texts (reader, "sites", NULL, &sites) ||
      !read_texts (reader, "products", NULL, &products))
    return FALSE;
  for (guint i = 0; products[i] != NULL; i++)
    {
      OgProduct product;

      if (!og_product_from_nick (products[i], &product) || product == OG_PRODUCT_UNSAID)
        return og_json_fail_word (reader, "products", products[i]);
      rule->products |= 1u << product;
    }
  for (guint i = 0; sites[i] != NULL; i++)
    {
      if (g_str_equal (sites[i], "lips"))
        wanted |= OG_SITE_LIPS;
      else if (g_str_equal (sites[i], "skin"))
        wanted |= OG_SITE_SKIN;
      else
        return og_json_fail_word (reader, "sites", sites[i]);
    }
  if (rule->products != 0 && wanted != 0)
    return og_json_fail (reader, "products", "%s", _("cannot be given together with sites"));
  if (rule->products != 0)
    return TRUE;
  for (guint product = OG_PRODUCT_UNSAID + 1; product < OG_N_PRODUCTS; product++)
    if (wanted == 0 || (og_product_get_sites ((OgProduct) product) & wanted) != 0)
      rule->products |= 1u << product;
  return TRUE;
}

static gboolean
read_kind (const OgJsonReader *reader,
           gboolean            own,
           OgRule             *rule)
{
  static const char *const codes[] = { "listed", "above-limit", "prohibited", "declare", NULL };
  gboolean measured;

  if (!og_rule_kind_read (reader, "kind", OG_JSON_REQUIRED, &rule->kind) ||
      !og_json_read_text (reader, "code", OG_JSON_OPTIONAL, &rule->code))
    return FALSE;
  if (rule->code == NULL && rule->kind != OG_RULE_NOTICE)
    rule->code = g_strdup (codes[rule->kind]);
  if (rule->code == NULL && own)
    rule->code = g_strdup ("own-notice");
  if (rule->code == NULL)
    return og_json_fail (reader, "code", "%s", _("is missing"));

  measured = rule->kind == OG_RULE_LIMIT || rule->kind == OG_RULE_DECLARE;
  if (!measured && json_object_has_member (reader->object, "max_pct"))
    return og_json_fail (reader, "max_pct", "%s", _("belongs to limits and declarations only"));
  return og_json_read_number (reader, "max_pct", measured ? OG_JSON_REQUIRED : OG_JSON_OPTIONAL,
                              0.0, 100.0, &rule->max_pct) &&
         og_json_read_number (reader, "least_pct", OG_JSON_OPTIONAL, 0.0, 100.0, &rule->least_pct);
}

static gboolean
read_severity (const OgJsonReader *reader,
               OgRule             *rule)
{
  gboolean binding = rule->authority == OG_AUTHORITY_LAW || rule->authority == OG_AUTHORITY_OWN;

  rule->severity = OG_SEVERITY_NOTE;
  if (rule->kind == OG_RULE_LIMIT || rule->kind == OG_RULE_PROHIBITED)
    rule->severity = binding ? OG_SEVERITY_BLOCKING : OG_SEVERITY_CAUTION;
  return og_severity_read (reader, "severity", OG_JSON_OPTIONAL, &rule->severity);
}

static gboolean
read_source (const OgJsonReader *reader,
             gboolean            own,
             OgRule             *rule)
{
  OgJsonNeed need = own ? OG_JSON_OPTIONAL : OG_JSON_REQUIRED;

  if (!og_rule_quality_read (reader, "quality", need, &rule->quality) ||
      !og_json_read_source (reader, need, &rule->source))
    return FALSE;
  if (own)
    rule->quality = OG_RULE_OWN;
  return TRUE;
}

static gboolean
read_authority (const OgJsonReader *reader,
                gboolean            own,
                OgRule             *rule)
{
  if (!og_json_read_text (reader, "jurisdiction", OG_JSON_OPTIONAL, &rule->jurisdiction))
    return FALSE;
  rule->authority = OG_AUTHORITY_OWN;
  if (!own && !og_authority_read (reader, "authority", OG_JSON_REQUIRED, &rule->authority))
    return FALSE;
  if (!own && rule->authority == OG_AUTHORITY_OWN)
    return og_json_fail_word (reader, "authority", og_authority_to_nick (OG_AUTHORITY_OWN));
  if (rule->authority != OG_AUTHORITY_PRACTICE && rule->jurisdiction == NULL && !own)
    return og_json_fail (reader, "jurisdiction", "%s", _("is missing"));
  return og_json_read_text (reader, "reference",
                            rule->authority == OG_AUTHORITY_LAW ? OG_JSON_REQUIRED : OG_JSON_OPTIONAL,
                            &rule->reference);
}

static gboolean
read_members (const OgJsonReader *reader,
              gboolean            own,
              OgRule             *rule)
{
  static const char *const known[] = { "id", "name", "kind", "code", "match", "sites", "products",
                                       "max_pct", "least_pct", "within", "mixture", "only",
                                       "unless", "extended", "equivalent", "jurisdiction", "authority",
                                       "reference", "state", "quality", "source", "severity",
                                       "text", "note", NULL };

  return og_json_check_members (reader, known) &&
         og_json_read_text (reader, "name", OG_JSON_REQUIRED, &rule->name) &&
         read_kind (reader, own, rule) &&
         read_match (reader, rule) &&
         read_equivalent (reader, rule) &&
         read_products (reader, rule) &&
         og_json_read_flag (reader, "within", &rule->within) &&
         og_json_read_flag (reader, "mixture", &rule->mixture) &&
         og_json_read_flag (reader, "extended", &rule->extended) &&
         read_texts (reader, "only", og_tag_is_known, &rule->only) &&
         read_texts (reader, "unless", og_tag_is_known, &rule->unless) &&
         read_authority (reader, own, rule) &&
         og_json_read_text (reader, "state", OG_JSON_OPTIONAL, &rule->state) &&
         read_source (reader, own, rule) &&
         read_severity (reader, rule) &&
         og_json_read_text (reader, "text", OG_JSON_OPTIONAL, &rule->text) &&
         og_json_read_text (reader, "note", OG_JSON_OPTIONAL, &rule->note);
}

static void
clear_equivalent (OgEquivalent *equivalent)
{
  g_free (equivalent->cas);
}

static OgRule *
rule_new (void)
{
  OgRule *rule = g_new0 (OgRule, 1);

  rule->max_pct = rule->equivalent_g_mol = NAN;
  rule->within = rule->mixture = TRUE;
  rule->equivalents = g_array_new (FALSE, TRUE, sizeof (OgEquivalent));
  g_array_set_clear_func (rule->equivalents, (GDestroyNotify) clear_equivalent);
  return rule;
}

/* The rules of a file on their way in. */
typedef struct
{
  gboolean    own;
  char       *state; /* of the rules that name none */
  GPtrArray  *rules;
  GHashTable *ids;
} Intake;

static gboolean
read_rule (const OgJsonReader *reader,
           gpointer            user_data)
{
  Intake *intake = user_data;
  OgJsonReader place = *reader;
  OgRule *rule = rule_new ();

  g_ptr_array_add (intake->rules, rule);
  place.label = _("rule without id");
  if (!og_json_read_text (&place, "id", OG_JSON_REQUIRED, &rule->id))
    return FALSE;

  place.label = rule->id;
  if (!read_members (&place, intake->own, rule))
    return FALSE;
  if (rule->state == NULL)
    rule->state = g_strdup (intake->state);
  return g_hash_table_add (intake->ids, rule->id)
         || og_json_fail_code (&place, "id", OG_CATALOG_ERROR_DUPLICATE, "%s",
                               _("is taken already"));
}

/* Own rules need no sources, and may keep some that no rule names. */
static gboolean
read_file (const OgJsonReader *top,
           OgJsonContext      *context,
           Intake             *intake)
{
  static const char *const known[] = { "format", "version", "title", "state", "sources", "rules",
                                       NULL };
  OgJsonNeed need = intake->own ? OG_JSON_OPTIONAL : OG_JSON_REQUIRED;
  OgJsonReader sources;
  OgJsonFound found;

  if (!og_json_check_members (top, known) ||
      !og_json_read_text (top, "state", need, &intake->state))
    return FALSE;
  found = og_json_read_object (top, "sources", need, &sources);
  if (found == OG_JSON_FAULT || (found == OG_JSON_FOUND && !og_json_check_sources (&sources)))
    return FALSE;

  if (found == OG_JSON_FOUND)
    context->sources = sources.object;
  return og_json_read_each (top, "rules", OG_JSON_REQUIRED, read_rule, intake) &&
         (intake->own || og_json_check_used (&sources));
}

GPtrArray *
og_rules_read (const OgJsonFile  *file,
               gboolean           own,
               GError           **error)
{
  g_autoptr (GPtrArray) rules = g_ptr_array_new_with_free_func ((GDestroyNotify) og_rule_free);
  g_autoptr (GHashTable) used = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GHashTable) ids = g_hash_table_new (g_str_hash, g_str_equal);
  OgJsonContext context = { file, OG_CATALOG_ERROR, OG_CATALOG_ERROR_VALUE,
                            OG_CATALOG_ERROR_REFERENCE, error, NULL, used };
  OgJsonReader top = { .context = &context, .object = json_node_get_object (file->root) };
  Intake intake = { own, NULL, rules, ids };
  gboolean good = read_file (&top, &context, &intake);

  g_free (intake.state);
  return good ? g_steal_pointer (&rules) : NULL;
}
