/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/material/rules-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/base/error.h"
#include "core/base/json-file.h"
#include "core/material/ingredient-private.h"

#define FORMAT "oleograph-rules"
#define VERSION 1 /* of the format, see data/rules/SCHEMA.md */

/* The ways to name a substance, strongest first. */
typedef enum
{
  KEY_ID,
  KEY_CAS,
  KEY_INCI,
  KEY_CI,
  KEY_KIND,
  KEY_TAG,
  N_KEYS
} Key;

struct _OgRules
{
  gatomicrefcount ref_count;
  GPtrArray      *items;         /* of OgRule; owned by the parts it was joined from */
  GPtrArray      *parts;         /* of OgRules that own the items; NULL if these are its own */
  GHashTable     *by_id;         /* id -> index + 1 */
  GHashTable     *index[N_KEYS]; /* folded text -> GArray of guint */
};

/* Lower case, without what stands in brackets, one space between words: "Ricinus Communis (Castor)
 * Seed Oil" is "ricinus communis seed oil". */
static char *
fold_inci (const char *text)
{
  g_autofree char *folded = og_search_fold (text);
  GString *plain = g_string_sized_new (strlen (folded));
  int depth = 0;

  for (const char *p = folded; *p != '\0'; p++)
    {
      if (*p == '(')
        depth++;
      if (depth == 0 && (*p != ' ' || (plain->len > 0 && plain->str[plain->len - 1] != ' ')))
        g_string_append_c (plain, *p);
      if (*p == ')' && depth > 0)
        depth--;
    }
  return g_strchomp (g_string_free (plain, FALSE));
}

static void
index_texts (OgRules     *rules,
             Key          key,
             char       **texts,
             guint        position)
{
  for (guint i = 0; texts[i] != NULL; i++)
    {
      g_autofree char *text = key == KEY_INCI ? fold_inci (texts[i]) : g_strdup (texts[i]);
      GArray *found = g_hash_table_lookup (rules->index[key], text);

      if (found == NULL)
        {
          found = g_array_new (FALSE, FALSE, sizeof (guint));
          g_hash_table_insert (rules->index[key], g_steal_pointer (&text), found);
        }
      g_array_append_val (found, position);
    }
}

static OgRules *
rules_new (GPtrArray *items)
{
  OgRules *rules = g_new0 (OgRules, 1);

  g_atomic_ref_count_init (&rules->ref_count);
  rules->items = g_ptr_array_ref (items);
  rules->by_id = g_hash_table_new (g_str_hash, g_str_equal);
  for (guint key = 0; key < N_KEYS; key++)
    rules->index[key] = g_hash_table_new_full (g_str_hash, g_str_equal, g_free,
                                               (GDestroyNotify) g_array_unref);
  for (guint i = 0; i < items->len; i++)
    {
      OgRule *rule = g_ptr_array_index (items, i);

      g_hash_table_insert (rules->by_id, rule->id, GUINT_TO_POINTER (i + 1));
      index_texts (rules, KEY_ID, rule->ids, i);
      index_texts (rules, KEY_CAS, rule->cas, i);
      index_texts (rules, KEY_INCI, rule->inci, i);
      index_texts (rules, KEY_CI, rule->ci, i);
      index_texts (rules, KEY_KIND, rule->kinds, i);
      index_texts (rules, KEY_TAG, rule->tags, i);
    }
  return rules;
}

OgRules *
og_rules_load (const char  *path,
               gboolean     own,
               GError     **error)
{
  g_autoptr (OgJsonFile) file = NULL;
  g_autoptr (GPtrArray) items = NULL;

  g_return_val_if_fail (path != NULL, NULL);

  file = og_json_file_load_data (path, FORMAT, VERSION, error);
  if (file != NULL)
    items = og_rules_read (file, own, error);
  return items != NULL ? rules_new (items) : NULL;
}

OgRules *
og_rules_new_from_json (const char  *text,
                        gssize       length,
                        const char  *name,
                        gboolean     own,
                        GError     **error)
{
  g_autoptr (OgJsonFile) file = NULL;
  g_autoptr (GPtrArray) items = NULL;

  g_return_val_if_fail (text != NULL && name != NULL, NULL);

  file = og_json_file_parse_data (text, length, name, FORMAT, VERSION, error);
  if (file != NULL)
    items = og_rules_read (file, own, error);
  return items != NULL ? rules_new (items) : NULL;
}

OgRules *
og_rules_new_joined (const GPtrArray  *parts,
                     GError          **error)
{
  g_autoptr (GPtrArray) items = g_ptr_array_new ();
  g_autoptr (GHashTable) places = g_hash_table_new (g_str_hash, g_str_equal);
  OgRules *joined;

  g_return_val_if_fail (parts != NULL, NULL);

  for (guint p = 0; p < parts->len; p++)
    {
      const OgRules *part = g_ptr_array_index (parts, p);

      for (guint i = 0; i < part->items->len; i++)
        {
          OgRule *rule = g_ptr_array_index (part->items, i);
          guint place = GPOINTER_TO_UINT (g_hash_table_lookup (places, rule->id));

          if (place != 0 && rule->quality != OG_RULE_OWN)
            {
              g_set_error (error, OG_CATALOG_ERROR, OG_CATALOG_ERROR_DUPLICATE,
                           _("%s: id: is taken already, by another rule"), rule->id);
              return NULL;
            }
          if (place != 0)
            {
              g_ptr_array_index (items, place - 1) = rule;
              continue;
            }
          g_ptr_array_add (items, rule);
          g_hash_table_insert (places, rule->id, GUINT_TO_POINTER (items->len));
        }
    }
  joined = rules_new (items);
  joined->parts = g_ptr_array_new_with_free_func ((GDestroyNotify) og_rules_unref);
  for (guint p = 0; p < parts->len; p++)
    g_ptr_array_add (joined->parts, og_rules_ref (g_ptr_array_index (parts, p)));
  return joined;
}

OgRules *
og_rules_ref (OgRules *rules)
{
  g_return_val_if_fail (rules != NULL, NULL);

  g_atomic_ref_count_inc (&rules->ref_count);
  return rules;
}

void
og_rules_unref (OgRules *rules)
{
  if (rules == NULL || !g_atomic_ref_count_dec (&rules->ref_count))
    return;

  for (guint key = 0; key < N_KEYS; key++)
    g_hash_table_unref (rules->index[key]);
  g_hash_table_unref (rules->by_id);
  g_ptr_array_unref (rules->items);
  g_clear_pointer (&rules->parts, g_ptr_array_unref);
  g_free (rules);
}

guint
og_rules_get_n_items (const OgRules *rules)
{
  g_return_val_if_fail (rules != NULL, 0);

  return rules->items->len;
}

const OgRule *
og_rules_get_item (const OgRules *rules,
                   guint          index)
{
  g_return_val_if_fail (rules != NULL && index < rules->items->len, NULL);

  return g_ptr_array_index (rules->items, index);
}

const OgRule *
og_rules_get (const OgRules *rules,
              const char    *id)
{
  guint place;

  g_return_val_if_fail (rules != NULL && id != NULL, NULL);

  place = GPOINTER_TO_UINT (g_hash_table_lookup (rules->by_id, id));
  return place != 0 ? g_ptr_array_index (rules->items, place - 1) : NULL;
}

/* --- matching -------------------------------------------------------------- */

/* What is known so far about one material. */
typedef struct
{
  const OgRules      *rules;
  const OgIngredient *ingredient;
  GArray             *shares; /* of OgRuleShare */
  double              typical, high;
  gboolean            as_such, declared;
  const char         *cas;
} Matcher;

static OgRuleShare *
find_share (const Matcher *matcher,
            guint          rule)
{
  for (guint i = 0; i < matcher->shares->len; i++)
    {
      OgRuleShare *share = &g_array_index (matcher->shares, OgRuleShare, i);

      if (share->rule == rule)
        return share;
    }
  return NULL;
}

/* Whether an entry for the substance itself says already what the tag would. */
static gboolean
is_said (const Matcher *matcher,
         const OgRule  *by_tag)
{
  for (guint i = 0; i < matcher->shares->len; i++)
    {
      const OgRuleShare *share = &g_array_index (matcher->shares, OgRuleShare, i);
      const OgRule *rule = og_rules_get_item (matcher->rules, share->rule);

      if (share->as_such && g_str_equal (rule->code, by_tag->code)
          && g_strcmp0 (rule->jurisdiction, by_tag->jurisdiction) == 0)
        return TRUE;
    }
  return FALSE;
}

static gboolean
has_any_tag (const OgIngredient *ingredient,
             char              **tags)
{
  for (guint i = 0; tags[i] != NULL; i++)
    if (og_ingredient_has_tag (ingredient, tags[i]))
      return TRUE;
  return FALSE;
}

static gboolean
is_meant (const OgIngredient *ingredient,
          const OgRule       *rule)
{
  if (rule->only[0] != NULL && !has_any_tag (ingredient, rule->only))
    return FALSE;
  return !has_any_tag (ingredient, rule->unless);
}

static void
match_key (Matcher    *matcher,
           Key         key,
           const char *text,
           GArray     *seen)
{
  const GArray *found = text != NULL ? g_hash_table_lookup (matcher->rules->index[key], text) : NULL;

  for (guint i = 0; found != NULL && i < found->len; i++)
    {
      guint index = g_array_index (found, guint, i);
      const OgRule *rule = og_rules_get_item (matcher->rules, index);
      double factor = og_rule_get_factor (rule, matcher->cas);
      OgRuleShare *share;
      gboolean twice = FALSE;

      for (guint s = 0; s < seen->len && !twice; s++)
        twice = g_array_index (seen, guint, s) == index;
      if (twice || !is_meant (matcher->ingredient, rule) ||
          (key == KEY_TAG && is_said (matcher, rule)))
        continue;
      g_array_append_val (seen, index);
      share = find_share (matcher, index);
      if (share == NULL)
        {
          OgRuleShare fresh = { .rule = index, .declared = TRUE };

          g_array_append_val (matcher->shares, fresh);
          share = find_share (matcher, index);
        }
      share->typical += factor * matcher->typical;
      share->high += factor * matcher->high;
      share->as_such = share->as_such || matcher->as_such;
      share->declared = share->declared && matcher->declared;
    }
}

static void
match_inci (Matcher    *matcher,
            const char *inci,
            GArray     *seen)
{
  g_autofree char *folded = inci != NULL ? fold_inci (inci) : NULL;

  match_key (matcher, KEY_INCI, folded, seen);
}

/* "15850:2" is a salt of 15850 that the lists do not name apart. */
static void
match_ci (Matcher    *matcher,
          const char *ci,
          GArray     *seen)
{
  const char *colon = ci != NULL ? strchr (ci, ':') : NULL;

  if (colon != NULL && !g_hash_table_contains (matcher->rules->index[KEY_CI], ci))
    {
      g_autofree char *base = g_strndup (ci, (gsize) (colon - ci));

      match_key (matcher, KEY_CI, base, seen);
      return;
    }
  match_key (matcher, KEY_CI, ci, seen);
}

static void
match_itself (Matcher            *matcher,
              const OgIngredient *ingredient)
{
  g_autoptr (GArray) seen = g_array_new (FALSE, FALSE, sizeof (guint));

  matcher->typical = matcher->high = 1.0;
  matcher->as_such = matcher->declared = TRUE;
  matcher->cas = ingredient->cas;
  match_key (matcher, KEY_ID, ingredient->id, seen);
  match_key (matcher, KEY_ID, ingredient->derived_from, seen);
  if (ingredient->composition->len == 0)
    {
      match_key (matcher, KEY_CAS, ingredient->cas, seen);
      match_inci (matcher, ingredient->inci, seen);
      match_ci (matcher, ingredient->ci, seen);
      match_key (matcher, KEY_KIND, og_kind_to_nick (ingredient->kind), seen);
    }
  for (guint i = 0; ingredient->tags[i] != NULL; i++)
    match_key (matcher, KEY_TAG, ingredient->tags[i], seen);
}

static void
match_constituent (Matcher             *matcher,
                   const OgConstituent *constituent)
{
  g_autoptr (GArray) seen = g_array_new (FALSE, FALSE, sizeof (guint));
  const OgFigure *pct = &constituent->pct;

  matcher->typical = pct->value / 100.0;
  matcher->high = (isfinite (pct->high) ? pct->high : pct->value) / 100.0;
  matcher->as_such = FALSE;
  matcher->declared = pct->quality == OG_QUALITY_MEASURED;
  matcher->cas = constituent->cas;
  match_key (matcher, KEY_CAS, constituent->cas, seen);
  match_inci (matcher, constituent->name, seen);
}

static int
compare_shares (const OgRuleShare *a,
                const OgRuleShare *b)
{
  return (a->rule > b->rule) - (a->rule < b->rule);
}

GArray *
og_rules_match (const OgRules      *rules,
                const OgIngredient *ingredient)
{
  Matcher matcher = { .rules = rules, .ingredient = ingredient };

  g_return_val_if_fail (rules != NULL && ingredient != NULL, NULL);

  matcher.shares = g_array_new (FALSE, FALSE, sizeof (OgRuleShare));
  match_itself (&matcher, ingredient);
  for (guint i = 0; i < ingredient->constituents->len; i++)
    match_constituent (&matcher, &g_array_index (ingredient->constituents, OgConstituent, i));
  g_array_sort (matcher.shares, (GCompareFunc) compare_shares);
  return matcher.shares;
}
