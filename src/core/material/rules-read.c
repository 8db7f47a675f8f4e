/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/material/rules-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/base/error.h"
#include "core/base/finding.h"
#include "core/base/number-text.h"
#include "core/material/ingredient-private.h"

/* What holds for one file, and the rule being read. */
typedef struct
{
  const char *file;
  const char *id;      /* of the rule; NULL before it is known */
  JsonObject *object;  /* what members are read from */
  JsonObject *sources; /* NULL: the texts themselves */
  GHashTable *used;    /* source keys that a rule names */
  gboolean    own;
  GError    **error;
} Reader;

G_GNUC_PRINTF (4, 5)
static gboolean
fail (const Reader   *reader,
      const char     *member,
      OgCatalogError  code,
      const char     *format,
      ...)
{
  g_autofree char *reason = NULL;
  va_list args;

  va_start (args, format);
  reason = g_strdup_vprintf (format, args);
  va_end (args);
  g_set_error (reader->error, OG_CATALOG_ERROR, (int) code, "%s: %s: %s: %s", reader->file,
               reader->id != NULL ? reader->id : _("rule without id"), member, reason);
  return FALSE;
}

static gboolean
fail_value (const Reader *reader,
            const char   *member,
            const char   *reason)
{
  return fail (reader, member, OG_CATALOG_ERROR_VALUE, "%s", reason);
}

static gboolean
fail_word (const Reader *reader,
           const char   *member,
           const char   *word)
{
  return fail (reader, member, OG_CATALOG_ERROR_VALUE, _("“%s” is not one of the words allowed"),
               word);
}

static gboolean
is_text (JsonNode *node)
{
  if (!JSON_NODE_HOLDS_VALUE (node) || json_node_get_value_type (node) != G_TYPE_STRING)
    return FALSE;
  return json_node_get_string (node)[strspn (json_node_get_string (node), " \t\r\n")] != '\0';
}

/* @out: left alone if the member is not there and not needed */
static gboolean
read_text (const Reader *reader,
           const char   *member,
           gboolean      required,
           char        **out)
{
  JsonNode *node = json_object_get_member (reader->object, member);

  if (node == NULL)
    return required ? fail_value (reader, member, _("is missing")) : TRUE;
  if (!is_text (node))
    return fail_value (reader, member, _("must be a text that is not empty"));
  *out = g_strdup (json_node_get_string (node));
  return TRUE;
}

static gboolean
fail_range (const Reader *reader,
            const char   *member,
            double        number,
            double        low,
            double        high)
{
  g_autofree char *number_text = og_number_as_given (number);
  g_autofree char *low_text = og_number_as_given (low);
  g_autofree char *high_text = og_number_as_given (high);

  return fail (reader, member, OG_CATALOG_ERROR_VALUE, _("%s is outside %s to %s"), number_text,
               low_text, high_text);
}

static gboolean
read_number (const Reader *reader,
             const char   *member,
             gboolean      required,
             double        low,
             double        high,
             double       *out)
{
  JsonNode *node = json_object_get_member (reader->object, member);
  GType type;

  if (node == NULL)
    return required ? fail_value (reader, member, _("is missing")) : TRUE;
  type = JSON_NODE_HOLDS_VALUE (node) ? json_node_get_value_type (node) : G_TYPE_INVALID;
  if (type != G_TYPE_INT64 && type != G_TYPE_DOUBLE)
    return fail_value (reader, member, _("must be a finite number"));
  *out = json_node_get_double (node);
  if (!(*out >= low && *out <= high))
    return fail_range (reader, member, *out, low, high);
  return TRUE;
}

static gboolean
read_flag (const Reader *reader,
           const char   *member,
           gboolean     *out)
{
  JsonNode *node = json_object_get_member (reader->object, member);

  if (node == NULL)
    return TRUE;
  if (!JSON_NODE_HOLDS_VALUE (node) || json_node_get_value_type (node) != G_TYPE_BOOLEAN)
    return fail_value (reader, member, _("must be true or false"));
  *out = json_node_get_boolean (node);
  return TRUE;
}

/* Reads an array of texts; @out is never %NULL afterwards. */
static gboolean
read_texts (const Reader *reader,
            const char   *member,
            gboolean    (*is_fit) (const char *text),
            char       ***out)
{
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  JsonNode *node = json_object_get_member (reader->object, member);
  JsonArray *array;

  if (node != NULL && !JSON_NODE_HOLDS_ARRAY (node))
    return fail_value (reader, member, _("must be an array"));

  array = node != NULL ? json_node_get_array (node) : NULL;
  for (guint i = 0; array != NULL && i < json_array_get_length (array); i++)
    {
      JsonNode *element = json_array_get_element (array, i);
      const char *text;

      if (!is_text (element))
        return fail_value (reader, member, _("must be a text that is not empty"));
      text = json_node_get_string (element);
      if (is_fit != NULL && !is_fit (text))
        return fail_word (reader, member, text);
      g_ptr_array_add (texts, g_strdup (text));
    }
  g_ptr_array_add (texts, NULL);
  *out = (char **) g_ptr_array_free (g_steal_pointer (&texts), FALSE);
  return TRUE;
}

static gboolean
check_members (const Reader      *reader,
               const char *const *known)
{
  JsonObjectIter iter;
  const char *member;

  json_object_iter_init (&iter, reader->object);
  while (json_object_iter_next (&iter, &member, NULL))
    if (!g_strv_contains (known, member))
      return fail_value (reader, member, _("is not a member of the format"));
  return TRUE;
}

/* Points @inner at the object @member. Returns: FALSE with an error if it is something else */
static gboolean
enter (const Reader *reader,
       const char   *member,
       gboolean      required,
       Reader       *inner)
{
  JsonNode *node = json_object_get_member (reader->object, member);

  *inner = *reader;
  inner->object = NULL;
  if (node == NULL)
    return required ? fail_value (reader, member, _("is missing")) : TRUE;
  if (!JSON_NODE_HOLDS_OBJECT (node))
    return fail_value (reader, member, _("must be an object"));
  inner->object = json_node_get_object (node);
  return TRUE;
}

static gboolean
is_kind (const char *text)
{
  OgKind kind;

  return og_kind_from_nick (text, &kind);
}

static gboolean
read_match (const Reader *reader,
            OgRule       *rule)
{
  static const char *const known[] = { "cas", "inci", "ci", "id", "kind", "tag", "word", NULL };
  Reader inner;

  if (!enter (reader, "match", TRUE, &inner) || !check_members (&inner, known))
    return FALSE;
  if (!read_texts (&inner, "inci", NULL, &rule->inci) ||
      !read_texts (&inner, "ci", NULL, &rule->ci) ||
      !read_texts (&inner, "id", NULL, &rule->ids) ||
      !read_texts (&inner, "kind", is_kind, &rule->kinds) ||
      !read_texts (&inner, "word", NULL, &rule->words) ||
      !read_texts (&inner, "tag", og_tag_is_known, &rule->tags) ||
      !read_texts (&inner, "cas", NULL, &rule->cas))
    return FALSE;
  for (guint i = 0; rule->cas[i] != NULL; i++)
    if (!og_cas_is_valid (rule->cas[i]))
      return fail (reader, "match.cas", OG_CATALOG_ERROR_VALUE, _("“%s” is not a CAS number"),
                   rule->cas[i]);
  if (rule->inci[0] == NULL && rule->ci[0] == NULL && rule->ids[0] == NULL &&
      rule->words[0] == NULL && rule->kinds[0] == NULL && rule->tags[0] == NULL && rule->cas[0] == NULL)
    return fail_value (reader, "match", _("must not be empty"));
  return TRUE;
}

static gboolean
read_equivalent (const Reader *reader,
                 OgRule       *rule)
{
  static const char *const known[] = { "name", "molar_mass_g_mol", "of", NULL };
  JsonObjectIter iter;
  const char *cas;
  Reader inner, of;

  if (!enter (reader, "equivalent", FALSE, &inner) || inner.object == NULL)
    return inner.object == NULL && json_object_get_member (reader->object, "equivalent") == NULL;
  if (!check_members (&inner, known) ||
      !read_text (&inner, "name", TRUE, &rule->equivalent) ||
      !read_number (&inner, "molar_mass_g_mol", TRUE, 1.0, 1e8, &rule->equivalent_g_mol) ||
      !enter (&inner, "of", TRUE, &of))
    return FALSE;

  json_object_iter_init (&iter, of.object);
  while (json_object_iter_next (&iter, &cas, NULL))
    {
      OgEquivalent equivalent = { NULL, NAN };

      if (!g_strv_contains ((const char *const *) rule->cas, cas))
        return fail (reader, "equivalent.of", OG_CATALOG_ERROR_REFERENCE,
                     _("“%s” is not a CAS number that the rule matches"), cas);
      if (!read_number (&of, cas, TRUE, 1.0, 1e8, &equivalent.molar_mass_g_mol))
        return FALSE;
      equivalent.cas = g_strdup (cas);
      g_array_append_val (rule->equivalents, equivalent);
    }
  return TRUE;
}

/* The products named, else those of the sites named, else all. */
static gboolean
read_products (const Reader *reader,
               OgRule       *rule)
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
        return fail_word (reader, "products", products[i]);
      rule->products |= 1u << product;
    }
  for (guint i = 0; sites[i] != NULL; i++)
    {
      if (g_str_equal (sites[i], "lips"))
        wanted |= OG_SITE_LIPS;
      else if (g_str_equal (sites[i], "skin"))
        wanted |= OG_SITE_SKIN;
      else
        return fail_word (reader, "sites", sites[i]);
    }
  if (rule->products != 0 && wanted != 0)
    return fail_value (reader, "products", _("cannot be given together with sites"));
  if (rule->products != 0)
    return TRUE;
  for (guint product = OG_PRODUCT_UNSAID + 1; product < OG_N_PRODUCTS; product++)
    if (wanted == 0 || (og_product_get_sites ((OgProduct) product) & wanted) != 0)
      rule->products |= 1u << product;
  return TRUE;
}

static gboolean
read_kind (const Reader *reader,
           OgRule       *rule)
{
  static const char *const codes[] = { "listed", "above-limit", "prohibited", "declare", NULL };
  g_autofree char *nick = NULL;
  gboolean measured;

  if (!read_text (reader, "kind", TRUE, &nick))
    return FALSE;
  if (!og_rule_kind_from_nick (nick, &rule->kind))
    return fail_word (reader, "kind", nick);
  if (!read_text (reader, "code", FALSE, &rule->code))
    return FALSE;
  if (rule->code == NULL && rule->kind != OG_RULE_NOTICE)
    rule->code = g_strdup (codes[rule->kind]);
  if (rule->code == NULL && reader->own)
    rule->code = g_strdup ("own-notice");
  if (rule->code == NULL)
    return fail_value (reader, "code", _("is missing"));

  measured = rule->kind == OG_RULE_LIMIT || rule->kind == OG_RULE_DECLARE;
  if (!measured && json_object_has_member (reader->object, "max_pct"))
    return fail_value (reader, "max_pct", _("belongs to limits and declarations only"));
  return read_number (reader, "max_pct", measured, 0.0, 100.0, &rule->max_pct) &&
         read_number (reader, "least_pct", FALSE, 0.0, 100.0, &rule->least_pct);
}

static gboolean
read_severity (const Reader *reader,
               OgRule       *rule)
{
  g_autofree char *nick = NULL;
  gboolean binding = rule->authority == OG_AUTHORITY_LAW || rule->authority == OG_AUTHORITY_OWN;

  if (!read_text (reader, "severity", FALSE, &nick))
    return FALSE;
  if (nick != NULL && !og_severity_from_nick (nick, &rule->severity))
    return fail_word (reader, "severity", nick);
  if (nick != NULL)
    return TRUE;

  rule->severity = OG_SEVERITY_NOTE;
  if (rule->kind == OG_RULE_LIMIT || rule->kind == OG_RULE_PROHIBITED)
    rule->severity = binding ? OG_SEVERITY_BLOCKING : OG_SEVERITY_CAUTION;
  return TRUE;
}

static gboolean
read_source (const Reader *reader,
             OgRule       *rule)
{
  g_autofree char *key = NULL;
  g_autofree char *nick = NULL;

  if (!read_text (reader, "quality", !reader->own, &nick) ||
      !read_text (reader, "source", !reader->own, &key))
    return FALSE;
  rule->quality = OG_RULE_OWN;
  if (nick != NULL && !og_rule_quality_from_nick (nick, &rule->quality))
    return fail_word (reader, "quality", nick);
  if (reader->own)
    rule->quality = OG_RULE_OWN;
  if (key == NULL || reader->sources == NULL)
    {
      rule->source = g_steal_pointer (&key);
      return TRUE;
    }
  if (!json_object_has_member (reader->sources, key))
    return fail (reader, "source", OG_CATALOG_ERROR_REFERENCE, _("source “%s” is not defined"), key);
  rule->source = g_strdup (json_object_get_string_member (reader->sources, key));
  g_hash_table_add (reader->used, g_steal_pointer (&key));
  return TRUE;
}

static gboolean
read_authority (const Reader *reader,
                OgRule       *rule)
{
  g_autofree char *nick = NULL;

  if (!read_text (reader, "jurisdiction", FALSE, &rule->jurisdiction) ||
      !read_text (reader, "authority", !reader->own, &nick))
    return FALSE;
  rule->authority = OG_AUTHORITY_OWN;
  if (nick != NULL && !reader->own && !og_authority_from_nick (nick, &rule->authority))
    return fail_word (reader, "authority", nick);
  if (rule->authority != OG_AUTHORITY_PRACTICE && rule->jurisdiction == NULL && !reader->own)
    return fail_value (reader, "jurisdiction", _("is missing"));
  return read_text (reader, "reference", rule->authority == OG_AUTHORITY_LAW, &rule->reference);
}

static gboolean
read_members (const Reader *reader,
              OgRule       *rule)
{
  static const char *const known[] = { "id", "name", "kind", "code", "match", "sites", "products",
                                       "max_pct", "least_pct", "within", "mixture", "only",
                                       "unless", "extended", "equivalent", "jurisdiction", "authority",
                                       "reference", "state", "quality", "source", "severity",
                                       "text", "note", NULL };

  return check_members (reader, known) &&
         read_text (reader, "name", TRUE, &rule->name) &&
         read_kind (reader, rule) &&
         read_match (reader, rule) &&
         read_equivalent (reader, rule) &&
         read_products (reader, rule) &&
         read_flag (reader, "within", &rule->within) &&
         read_flag (reader, "mixture", &rule->mixture) &&
         read_flag (reader, "extended", &rule->extended) &&
         read_texts (reader, "only", og_tag_is_known, &rule->only) &&
         read_texts (reader, "unless", og_tag_is_known, &rule->unless) &&
         read_authority (reader, rule) &&
         read_text (reader, "state", FALSE, &rule->state) &&
         read_source (reader, rule) &&
         read_severity (reader, rule) &&
         read_text (reader, "text", FALSE, &rule->text) &&
         read_text (reader, "note", FALSE, &rule->note);
}

static void
clear_equivalent (OgEquivalent *equivalent)
{
  g_free (equivalent->cas);
}

static OgRule *
read_rule (Reader     *reader,
           JsonNode   *node,
           const char *state)
{
  OgRule *rule = g_new0 (OgRule, 1);
  gboolean good;

  rule->max_pct = rule->equivalent_g_mol = NAN;
  rule->within = rule->mixture = TRUE;
  rule->equivalents = g_array_new (FALSE, TRUE, sizeof (OgEquivalent));
  g_array_set_clear_func (rule->equivalents, (GDestroyNotify) clear_equivalent);
  reader->id = NULL;
  if (JSON_NODE_HOLDS_OBJECT (node))
    {
      reader->object = json_node_get_object (node);
      good = read_text (reader, "id", TRUE, &rule->id);
      reader->id = rule->id;
      good = good && read_members (reader, rule);
    }
  else
    {
      good = fail_value (reader, "rules", _("must be an object"));
    }
  if (!good)
    {
      og_rule_free (rule);
      return NULL;
    }
  if (rule->state == NULL)
    rule->state = g_strdup (state);
  return rule;
}

static gboolean
fail_top (const Reader *reader,
          const char   *member,
          const char   *reason)
{
  g_set_error (reader->error, OG_CATALOG_ERROR, OG_CATALOG_ERROR_VALUE, "%s: %s: %s",
               reader->file, member, reason);
  return FALSE;
}

static gboolean
check_sources (const Reader *reader,
               gboolean      after)
{
  JsonObjectIter iter;
  const char *key;
  JsonNode *node;

  if (reader->sources == NULL)
    return TRUE;
  json_object_iter_init (&iter, reader->sources);
  while (json_object_iter_next (&iter, &key, &node))
    {
      if (!is_text (node))
        return fail_top (reader, key, _("must be a text that is not empty"));
      if (after && !reader->own && !g_hash_table_contains (reader->used, key))
        return fail_top (reader, key, _("is not used"));
    }
  return TRUE;
}

static gboolean
read_top (Reader     *reader,
          JsonObject *top,
          char      **state,
          JsonArray **array)
{
  static const char *const known[] = { "format", "version", "title", "state", "sources", "rules",
                                       NULL };
  JsonObjectIter iter;
  const char *member;
  JsonNode *rules = json_object_get_member (top, "rules");
  JsonNode *sources = json_object_get_member (top, "sources");

  json_object_iter_init (&iter, top);
  while (json_object_iter_next (&iter, &member, NULL))
    if (!g_strv_contains (known, member))
      return fail_top (reader, member, _("is not a member of the format"));
  if (rules == NULL || !JSON_NODE_HOLDS_ARRAY (rules))
    return fail_top (reader, "rules", _("must be an array"));
  if (sources == NULL ? !reader->own : !JSON_NODE_HOLDS_OBJECT (sources))
    return fail_top (reader, "sources", _("must be an object"));

  *array = json_node_get_array (rules);
  reader->sources = sources != NULL ? json_node_get_object (sources) : NULL;
  reader->object = top;
  return read_text (reader, "state", !reader->own, state) && check_sources (reader, FALSE);
}

GPtrArray *
og_rules_read (JsonNode    *root,
               const char  *name,
               gboolean     own,
               GError     **error)
{
  g_autoptr (GPtrArray) rules = g_ptr_array_new_with_free_func ((GDestroyNotify) og_rule_free);
  g_autoptr (GHashTable) used = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autofree char *state = NULL;
  Reader reader = { .file = name, .used = used, .own = own, .error = error };
  JsonArray *array = NULL;

  if (!read_top (&reader, json_node_get_object (root), &state, &array))
    return NULL;
  for (guint i = 0; i < json_array_get_length (array); i++)
    {
      OgRule *rule = read_rule (&reader, json_array_get_element (array, i), state);

      if (rule == NULL)
        return NULL;
      g_ptr_array_add (rules, rule);
    }
  return check_sources (&reader, TRUE) ? g_steal_pointer (&rules) : NULL;
}
