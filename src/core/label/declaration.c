/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/label/declaration.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/base/finding.h"
#include "core/base/nick.h"
#include "core/label/declaration-names.h"
#include "core/predict/rulings.h"

/* Wt %: above it the order counts: Regulation (EC) 1223/2009, Article 19(1)(g). */
#define ONE_PERCENT 1.0
/* Shares are whole millionths of the recipe and parts of mixtures: two that differ by less than
 * this are the same number written in binary. */
#define SAME_PCT 1e-9
#define MICA_CI "77019" /* a colour additive in the US (21 CFR 73.2496), not in Annex IV */

#define EU_RULE "Regulation (EC) 1223/2009, Article 19(1)(g)"
#define US_RULE "21 CFR 701.3"
#define ALLERGEN_RULE "Regulation (EC) 1223/2009, Annex III; Regulation (EU) 2023/1545"

/* --- names of the enumerations --- */

static const OgNick markets[OG_N_MARKETS] = {
  [OG_MARKET_EU] = { "eu", N_("European Union") },
  [OG_MARKET_US] = { "us", N_("United States") },
};
OG_DEFINE_NICKS (OgMarket, og_market, markets)
OG_DEFINE_NAMES (OgMarket, og_market, markets)

static const OgNick groups[OG_N_DECLARATION_GROUPS] = {
  [OG_DECLARATION_ORDERED] = { "ordered", N_("In order of weight") },
  [OG_DECLARATION_SMALL] = { "small", N_("Small amounts, any order") },
  [OG_DECLARATION_ALLERGEN] = { "allergen", N_("Allergen within a flavour or oil") },
  [OG_DECLARATION_COLOUR] = { "colour", N_("Colour, any order") },
  [OG_DECLARATION_MAY_CONTAIN] = { "may-contain", N_("Colour of another shade") },
};
OG_DEFINE_TO_NICK (OgDeclarationGroup, og_declaration_group, groups)
OG_DEFINE_NAMES (OgDeclarationGroup, og_declaration_group, groups)

/* --- entries --- */

/* Draft: an entry while materials are still being added up. */
typedef struct
{
  OgDeclarationEntry *entry;
  GPtrArray          *numbers; /* of char*: Colour Index numbers of a US colour, by number */
} Draft;

/* Declarer: one declaration being made. */
typedef struct
{
  const OgFormula            *formula;
  const OgCatalog            *catalog;
  const OgDeclarationOptions *options;
  OgDeclaration              *declaration;
  GPtrArray                  *drafts;    /* of Draft */
  GHashTable                 *by_key;    /* group and name -> Draft */
  GHashTable                 *allergens; /* OgRule -> OgDeclarationEntry: EU, of any share */
  GHashTable                 *said;      /* set of what a finding was already made of */
} Declarer;

/* Share: how much of one material a line brings. */
typedef struct
{
  double pct;
  double low_pct, high_pct;
  guint  line_id;
} Share;

static void
entry_free (gpointer data)
{
  OgDeclarationEntry *entry = data;

  g_free (entry->name);
  g_array_unref (entry->line_ids);
  g_ptr_array_unref (entry->ingredient_ids);
  g_free (entry);
}

static OgDeclarationEntry *
entry_new (const char         *name,
           OgDeclarationGroup  group)
{
  OgDeclarationEntry *entry = g_new0 (OgDeclarationEntry, 1);

  entry->name = g_strdup (name);
  entry->group = group;
  entry->line_ids = g_array_new (FALSE, FALSE, sizeof (guint));
  entry->ingredient_ids = g_ptr_array_new_with_free_func (g_free);

  return entry;
}

static void
draft_free (gpointer data)
{
  Draft *draft = data;

  g_clear_pointer (&draft->entry, entry_free);
  g_ptr_array_unref (draft->numbers);
  g_free (draft);
}

static void
entry_add (OgDeclarationEntry *entry,
           const char         *ingredient_id,
           const Share        *share)
{
  gboolean listed = FALSE;

  entry->pct += share->pct;
  entry->low_pct += share->low_pct;
  entry->high_pct += share->high_pct;
  for (guint i = 0; i < entry->line_ids->len; i++)
    listed = listed || g_array_index (entry->line_ids, guint, i) == share->line_id;
  if (!listed)
    g_array_append_val (entry->line_ids, share->line_id);
  if (!g_ptr_array_find_with_equal_func (entry->ingredient_ids, ingredient_id, g_str_equal, NULL))
    g_ptr_array_add (entry->ingredient_ids, g_strdup (ingredient_id));
}

static Draft *
find_draft (Declarer           *self,
            const char         *name,
            OgDeclarationGroup  group)
{
  g_autofree char *folded = g_ascii_strdown (name, -1);
  g_autofree char *key = g_strdup_printf ("%d %s", group, folded);
  Draft *draft = g_hash_table_lookup (self->by_key, key);

  if (draft != NULL)
    return draft;

  draft = g_new0 (Draft, 1);
  draft->entry = entry_new (name, group);
  draft->numbers = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (self->drafts, draft);
  g_hash_table_insert (self->by_key, g_steal_pointer (&key), draft);

  return draft;
}

/* TRUE the first time that @code is said about @subject. */
static gboolean
say_once (Declarer   *self,
          const char *code,
          const char *subject)
{
  return g_hash_table_add (self->said, g_strdup_printf ("%s %s", code, subject));
}

static const char *
market_rule (const Declarer *self)
{
  return self->declaration->market == OG_MARKET_EU ? EU_RULE : US_RULE;
}

static gboolean
is_listed (const char *const *ids,
           const char        *id)
{
  return ids != NULL && g_strv_contains (ids, id);
}

/* --- colours --- */

/* Colours and flakes that are one are in Annex IV; powders are not, whatever number they bear. */
static gboolean
is_colorant (const OgIngredient *ingredient)
{
  return ingredient->kind == OG_KIND_COLOUR
         || (ingredient->ci != NULL
             && (ingredient->kind == OG_KIND_PEARL || ingredient->kind == OG_KIND_DISPERSION));
}

gboolean
og_ingredient_is_label_colour (const OgIngredient *ingredient,
                               OgMarket            market)
{
  g_return_val_if_fail (ingredient != NULL, FALSE);

  return is_colorant (ingredient)
         || (market == OG_MARKET_US && g_strcmp0 (ingredient->ci, MICA_CI) == 0);
}

char *
og_ingredient_label_name (const OgIngredient *ingredient,
                          OgMarket            market)
{
  g_return_val_if_fail (ingredient != NULL, NULL);

  if (market == OG_MARKET_EU && ingredient->ci != NULL && is_colorant (ingredient)
      && !og_inci_is_list (ingredient->inci))
    {
      g_autofree char *number = og_ci_for_label (ingredient->ci);

      return g_strdup_printf ("CI %s", number);
    }

  return ingredient->inci != NULL ? og_inci_for_market (ingredient->inci, market) : NULL;
}

static int
compare_texts (gconstpointer a,
               gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

static void
add_number (GPtrArray  *numbers,
            const char *ci)
{
  g_autofree char *number = og_ci_for_label (ci);
  g_autofree char *text = g_strdup_printf ("CI %s", number);

  if (g_ptr_array_find_with_equal_func (numbers, text, g_str_equal, NULL))
    return;
  g_ptr_array_add (numbers, g_steal_pointer (&text));
  g_ptr_array_sort (numbers, compare_texts);
}

/* A colour of the US is named as listed, with the numbers that the EU knows it by. */
static void
finish_name (OgDeclarationEntry *entry,
             const GPtrArray    *numbers)
{
  GString *name = g_string_new (entry->name);

  for (guint i = 0; i < numbers->len; i++)
    g_string_append_printf (name, "%s%s", i == 0 ? " (" : ", ",
                            (const char *) g_ptr_array_index (numbers, i));
  if (numbers->len > 0)
    g_string_append_c (name, ')');
  if (entry->nano)
    g_string_append (name, " (nano)");
  g_free (entry->name);
  entry->name = g_string_free (name, FALSE);
}

/* --- materials --- */

static void
add_missing (Declarer           *self,
             const OgIngredient *ingredient,
             const char         *id,
             const Share        *share)
{
  const char *name = ingredient != NULL ? ingredient->name : id;
  Draft *draft = find_draft (self, name, OG_DECLARATION_ORDERED);

  draft->entry->missing = TRUE;
  entry_add (draft->entry, id, share);
  if (!say_once (self, "name", id))
    return;
  og_finding_list_add (self->declaration->findings, OG_SEVERITY_BLOCKING, "declaration-name-missing", share->line_id,
                       og_saying_verbatim (market_rule (self)),
                       og_saying_new (N_ ("%s has no INCI name, so the declaration is not complete. Ask the supplier "
                                          "for the name, or for what the mixture is made of."),
                                      og_word_text (name)));
}

static void
add_named (Declarer           *self,
           const OgIngredient *ingredient,
           const char         *id,
           const char         *name,
           const Share        *share)
{
  gboolean eu = self->declaration->market == OG_MARKET_EU;
  gboolean colour = ingredient != NULL
                    && og_ingredient_is_label_colour (ingredient, self->declaration->market);
  gboolean nano = eu && is_listed (self->options->nano, id);
  g_autofree char *key = g_strconcat (name, nano ? " (nano)" : "", NULL);
  Draft *draft = find_draft (self, key, colour ? OG_DECLARATION_COLOUR : OG_DECLARATION_ORDERED);

  if (nano && !draft->entry->nano)
    {
      draft->entry->nano = TRUE;
      g_free (draft->entry->name);
      draft->entry->name = g_strdup (name);
    }
  entry_add (draft->entry, id, share);
  if (!eu && colour && ingredient->ci != NULL && is_colorant (ingredient))
    add_number (draft->numbers, ingredient->ci);
  if (eu && colour && ingredient->ci == NULL && !g_str_has_prefix (name, "CI ")
      && say_once (self, "number", id))
    og_finding_list_add (self->declaration->findings, OG_SEVERITY_BLOCKING, "declaration-colour-number", share->line_id,
                         og_saying_verbatim (EU_RULE),
                         og_saying_new (N_ ("%s has no Colour Index number on file. The EU list "
                                            "names colours by it."),
                                        og_word_text (ingredient->name)));
  if (eu && !nano && ingredient != NULL && og_ingredient_has_tag (ingredient, "nano-possible")
      && say_once (self, "nano", id))
    og_finding_list_add (self->declaration->findings, OG_SEVERITY_NOTE, "declaration-nano", share->line_id,
                         og_saying_verbatim (EU_RULE),
                         og_saying_new (N_ ("%s is also sold as a nanomaterial. Ask the supplier: "
                                            "if it is one, its name needs “(nano)”."),
                                        og_word_text (ingredient->name)));
}

/* TRUE if @inci is the name or, as "CI 77491", the number of @ingredient. */
static gboolean
bears_name (const OgIngredient *ingredient,
            const char         *inci)
{
  if (g_str_has_prefix (inci, "CI "))
    return g_strcmp0 (ingredient->ci, inci + strlen ("CI ")) == 0;
  return ingredient->inci != NULL && g_ascii_strcasecmp (ingredient->inci, inci) == 0;
}

/* A single colour that bears @inci, if all that bear it have one number. */
static const OgIngredient *
find_colour (const OgCatalog *catalog,
             const char      *inci)
{
  const OgIngredient *found = NULL;

  for (guint i = 0; i < og_catalog_get_n_items (catalog); i++)
    {
      const OgIngredient *ingredient = og_catalog_get_item (catalog, i);

      if (ingredient->ci == NULL || ingredient->inci == NULL || og_inci_is_list (ingredient->inci)
          || !bears_name (ingredient, inci))
        continue;
      if (found != NULL && strcmp (found->ci, ingredient->ci) != 0)
        return NULL;
      found = ingredient;
    }

  return found;
}

/* Part number @index of those that an INCI name lists holds at most an equal share of the first
 * index + 1, since lists fall by weight. */
static Share
part_share (const Share *whole,
            guint        index,
            guint        n)
{
  return (Share) {
    .pct = NAN,
    .low_pct = index == 0 ? whole->low_pct / n : 0,
    .high_pct = whole->high_pct / (index + 1),
    .line_id = whole->line_id,
  };
}

/* ListedName: one name of a mixture that is known by an INCI list alone. */
typedef struct
{
  const OgIngredient *colour; /* nullable */
  char               *name;
} ListedName;

static void
listed_name_clear (gpointer data)
{
  ListedName *listed = data;

  g_free (listed->name);
}

static GArray *
read_listed (const Declarer     *self,
             const OgIngredient *ingredient)
{
  g_autoptr (GPtrArray) names = og_inci_split (ingredient->inci);
  GArray *all = g_array_new (FALSE, TRUE, sizeof (ListedName));

  g_array_set_clear_func (all, listed_name_clear);
  for (guint i = 0; i < names->len; i++)
    {
      const char *inci = g_ptr_array_index (names, i);
      ListedName listed = { .colour = find_colour (self->catalog, inci) };

      listed.name = listed.colour != NULL
                      ? og_ingredient_label_name (listed.colour, self->declaration->market)
                      : og_inci_for_market (inci, self->declaration->market);
      g_array_append_val (all, listed);
    }

  return all;
}

static gboolean
is_one_name (const GArray *all)
{
  const ListedName *names = (const ListedName *) (gconstpointer) all->data;

  for (guint i = 1; i < all->len; i++)
    if (strcmp (names[i].name, names[0].name) != 0)
      return FALSE;

  return TRUE;
}

static void
add_listed (Declarer           *self,
            const OgIngredient *ingredient,
            const Share        *whole)
{
  static const Share nothing = { 0 };
  g_autoptr (GArray) all = read_listed (self, ingredient);
  gboolean one = is_one_name (all);

  for (guint i = 0; i < all->len; i++)
    {
      const ListedName *listed = &g_array_index (all, ListedName, i);
      Share share = one ? (i == 0 ? *whole : nothing) : part_share (whole, i, all->len);

      share.line_id = whole->line_id;
      add_named (self, listed->colour, ingredient->id, listed->name, &share);
    }
  if (!one && say_once (self, "shares", ingredient->id))
    og_finding_list_add (self->declaration->findings, OG_SEVERITY_CAUTION, "declaration-shares-unknown", whole->line_id,
                         og_saying_verbatim (market_rule (self)),
                         og_saying_new (N_ ("%s is a mixture whose shares are not known. Its names stand where the "
                                            "largest shares they can have would put them; ask the supplier for the "
                                            "shares."),
                                        og_word_text (ingredient->name)));
}

static gboolean
is_scent (const OgIngredient *ingredient)
{
  return ingredient->kind == OG_KIND_FLAVOUR || ingredient->kind == OG_KIND_ESSENTIAL_OIL;
}

/* Returns: (transfer none): the one name of flavours and essential oils */
static const char *
scent_name (const Declarer *self)
{
  gboolean lips = (og_product_get_sites (self->formula->product) & OG_SITE_LIPS) != 0;

  return lips ? "Aroma" : "Parfum";
}

static gboolean
names_allergens (const Declarer *self,
                 const OgRule   *rule)
{
  return rule->kind == OG_RULE_DECLARE && g_strcmp0 (rule->jurisdiction, "EU") == 0
         && (rule->products & og_product_get_choices (self->formula->product)) != 0;
}

/* Returns: (transfer full): the name of @ingredient; of a material that is an allergen itself, the
 * one that the EU list of allergens gives it */
static char *
own_name (const Declarer     *self,
          const OgIngredient *ingredient)
{
  const GArray *matches = og_catalog_get_rule_shares (self->catalog, ingredient);

  for (guint i = 0; matches != NULL && i < matches->len; i++)
    {
      const OgRuleShare *match = &g_array_index (matches, OgRuleShare, i);
      const OgRule *rule = og_rules_get_item (og_catalog_get_rules (self->catalog), match->rule);

      if (self->declaration->market == OG_MARKET_EU && match->as_such
          && names_allergens (self, rule))
        return g_strdup (rule->name);
    }

  return og_ingredient_label_name (ingredient, self->declaration->market);
}

static void
add_material (Declarer           *self,
              const OgIngredient *ingredient,
              const char         *id,
              const Share        *share)
{
  gboolean gathered = ingredient != NULL && self->options->gather_scents && is_scent (ingredient);
  g_autofree char *name = NULL;

  if (gathered)
    name = og_inci_for_market (scent_name (self), self->declaration->market);
  else if (ingredient != NULL)
    name = own_name (self, ingredient);

  if (name == NULL)
    add_missing (self, ingredient, id, share);
  else if (!gathered && og_inci_is_list (ingredient->inci))
    add_listed (self, ingredient, share);
  else
    add_named (self, ingredient, id, name, share);
}

/* --- allergens within materials --- */

/* A flavour, fragrance or essential oil that is no single substance. */
static gboolean
may_bring_allergens (const OgIngredient *ingredient)
{
  return is_scent (ingredient)
         && !og_figure_is_known (&ingredient->figures[OG_FIGURE_MOLAR_MASS_G_MOL]);
}

static void
note_composition (Declarer           *self,
                  const OgIngredient *ingredient,
                  guint               line_id,
                  gboolean            typical)
{
  if (!ingredient->constituents_known && may_bring_allergens (ingredient)
      && say_once (self, "allergens", ingredient->id))
    og_finding_list_add (self->declaration->findings, OG_SEVERITY_BLOCKING, "declaration-allergens-unknown", line_id,
                         og_saying_verbatim (ALLERGEN_RULE),
                         og_saying_new (N_ ("Which allergens %s holds is not known. Each that is above 0.001 %% of "
                                            "the product has to be named: ask the supplier for the allergen "
                                            "declaration."),
                                        og_word_text (ingredient->name)));
  if (typical && say_once (self, "typical", ingredient->id))
    og_finding_list_add (self->declaration->findings, OG_SEVERITY_CAUTION, "declaration-allergens-typical", line_id,
                         og_saying_verbatim (ALLERGEN_RULE),
                         og_saying_new (N_ ("The allergens of %s are taken from a typical composition. Reckon with "
                                            "the allergen declaration of the lot before you print a label."),
                                        og_word_text (ingredient->name)));
}

/* Adds what @ingredient brings to the amount of each allergen. */
static void
add_allergens (Declarer           *self,
               const OgIngredient *ingredient,
               const Share        *share)
{
  const GArray *matches = og_catalog_get_rule_shares (self->catalog, ingredient);
  gboolean typical = FALSE;

  for (guint i = 0; matches != NULL && i < matches->len; i++)
    {
      const OgRuleShare *match = &g_array_index (matches, OgRuleShare, i);
      const OgRule *rule = og_rules_get_item (og_catalog_get_rules (self->catalog), match->rule);
      OgDeclarationEntry *entry;
      Share part = *share;

      if (!names_allergens (self, rule))
        continue;
      entry = g_hash_table_lookup (self->allergens, rule);
      if (entry == NULL)
        {
          entry = entry_new (rule->name, OG_DECLARATION_ALLERGEN);
          g_hash_table_insert (self->allergens, (gpointer) rule, entry);
        }
      part.pct *= match->typical;
      part.low_pct = part.pct;
      part.high_pct *= match->high;
      entry_add (entry, ingredient->id, &part);
      typical = typical || !match->declared;
    }
  note_composition (self, ingredient, share->line_id, typical);
}

static gboolean
is_among_drafts (const Declarer *self,
                 const char     *name)
{
  for (guint i = 0; i < self->drafts->len; i++)
    {
      const Draft *draft = g_ptr_array_index (self->drafts, i);

      if (g_ascii_strcasecmp (draft->entry->name, name) == 0)
        return TRUE;
    }

  return FALSE;
}

/* Moves what has to be named of one allergen into the declaration, or notes in @near that a lot
 * rich in it would have to be named. */
static void
finish_allergen (Declarer           *self,
                 const OgRule       *rule,
                 OgDeclarationEntry *entry,
                 GPtrArray          *near)
{
  double bound = rule->max_pct + SAME_PCT;

  if (entry->pct > bound && !is_among_drafts (self, entry->name))
    {
      g_ptr_array_add (self->declaration->entries, entry);
      return;
    }
  if (entry->pct <= bound && entry->high_pct > bound)
    g_ptr_array_add (near, rule->name);
  entry_free (entry);
}

static void
finish_allergens (Declarer *self)
{
  const OgRules *rules = og_catalog_get_rules (self->catalog);
  g_autoptr (GPtrArray) near = g_ptr_array_new ();
  g_autofree char *names = NULL;

  for (guint i = 0; rules != NULL && i < og_rules_get_n_items (rules); i++)
    {
      const OgRule *rule = og_rules_get_item (rules, i);
      OgDeclarationEntry *entry = g_hash_table_lookup (self->allergens, rule);

      if (entry != NULL)
        finish_allergen (self, rule, entry, near);
    }
  if (near->len == 0)
    return;

  g_ptr_array_add (near, NULL);
  names = g_strjoinv (", ", (char **) near->pdata);
  og_finding_list_add (self->declaration->findings, OG_SEVERITY_CAUTION, "declaration-allergen-near", 0,
                       og_saying_verbatim (ALLERGEN_RULE),
                       og_saying_new (N_ ("Not listed, but a lot rich in them would bring them above the bound: %s. "
                                          "Reckon with the allergen declaration of the lot."),
                                      og_word_text (names)));
}

/* --- order --- */

static gboolean
is_above_one_percent (const OgDeclarationEntry *entry,
                      OgMarket                  market)
{
  return market == OG_MARKET_EU ? entry->high_pct >= ONE_PERCENT - SAME_PCT
                                : entry->high_pct > ONE_PERCENT + SAME_PCT;
}

/* An allergen that alone makes 1 % or more takes its place among the others of that weight. */
static int
rank (const OgDeclarationEntry *entry)
{
  if (entry->group == OG_DECLARATION_ALLERGEN && entry->high_pct >= ONE_PERCENT - SAME_PCT)
    return OG_DECLARATION_ORDERED;

  return (int) entry->group;
}

static int
compare_entries (gconstpointer a,
                 gconstpointer b)
{
  const OgDeclarationEntry *x = *(const OgDeclarationEntry *const *) a;
  const OgDeclarationEntry *y = *(const OgDeclarationEntry *const *) b;
  gint64 x_pct = llround (x->high_pct / SAME_PCT), y_pct = llround (y->high_pct / SAME_PCT);

  if (rank (x) != rank (y))
    return rank (x) - rank (y);
  if (x->group == OG_DECLARATION_MAY_CONTAIN)
    return 0;
  if (x_pct != y_pct)
    return x_pct < y_pct ? 1 : -1;

  return strcmp (x->name, y->name);
}

/* Moves the drafts into the declaration, each in its group. */
static void
finish_drafts (Declarer *self)
{
  for (guint i = 0; i < self->drafts->len; i++)
    {
      Draft *draft = g_ptr_array_index (self->drafts, i);
      OgDeclarationEntry *entry = g_steal_pointer (&draft->entry);

      finish_name (entry, draft->numbers);
      if (entry->group == OG_DECLARATION_ORDERED
          && !is_above_one_percent (entry, self->declaration->market))
        entry->group = OG_DECLARATION_SMALL;
      g_ptr_array_add (self->declaration->entries, entry);
    }
  g_ptr_array_set_size (self->drafts, 0);
}

/* --- colours of other shades --- */

static gboolean
is_entry (const OgDeclaration *declaration,
          const char          *name)
{
  for (guint i = 0; i < declaration->entries->len; i++)
    {
      const OgDeclarationEntry *entry = g_ptr_array_index (declaration->entries, i);

      if (g_ascii_strcasecmp (entry->name, name) == 0)
        return TRUE;
    }

  return FALSE;
}

static void
add_shade_name (Declarer           *self,
                const OgIngredient *colour,
                const char         *name)
{
  g_autoptr (GPtrArray) numbers = g_ptr_array_new_with_free_func (g_free);
  OgDeclarationEntry *entry = entry_new (name, OG_DECLARATION_MAY_CONTAIN);

  if (self->declaration->market == OG_MARKET_US && colour != NULL && colour->ci != NULL
      && is_colorant (colour))
    add_number (numbers, colour->ci);
  finish_name (entry, numbers);
  if (is_entry (self->declaration, entry->name))
    {
      entry_free (entry);
      return;
    }
  if (colour != NULL)
    g_ptr_array_add (entry->ingredient_ids, g_strdup (colour->id));
  g_ptr_array_add (self->declaration->entries, entry);
}

static void
add_shade_colour (Declarer           *self,
                  const OgIngredient *ingredient)
{
  g_autofree char *name = og_ingredient_label_name (ingredient, self->declaration->market);
  g_autoptr (GArray) listed = NULL;

  if (name == NULL)
    return;
  if (!og_inci_is_list (name))
    {
      add_shade_name (self, ingredient, name);
      return;
    }
  listed = read_listed (self, ingredient);
  for (guint i = 0; i < listed->len; i++)
    {
      const ListedName *one = &g_array_index (listed, ListedName, i);

      add_shade_name (self, one->colour, one->name);
    }
}

static void
add_shade (Declarer   *self,
           const char *id)
{
  g_autoptr (GArray) parts = g_array_new (FALSE, FALSE, sizeof (OgPart));
  g_autoptr (GPtrArray) contents = NULL;
  OgPart whole = { (char *) id, 100 };
  gboolean found = FALSE;

  g_array_append_val (parts, whole);
  contents = og_parts_contents (parts, self->catalog);
  for (guint i = 0; i < contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (contents, i);

      if (content->ingredient == NULL
          || !og_ingredient_is_label_colour (content->ingredient, self->declaration->market))
        continue;
      found = TRUE;
      add_shade_colour (self, content->ingredient);
    }
  if (!found)
    og_finding_list_add (self->declaration->findings, OG_SEVERITY_BLOCKING, "declaration-shade", 0,
                         og_saying_verbatim (market_rule (self)),
                         og_saying_new (N_ ("“%s” is not a colour, so it cannot be among the "
                                            "colours of other shades."),
                                        og_word_text (id)));
}

/* --- the list as text --- */

static char *
join_names (const OgDeclaration *declaration,
            int                  from,
            int                  below)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  for (guint i = 0; i < declaration->entries->len; i++)
    {
      const OgDeclarationEntry *entry = g_ptr_array_index (declaration->entries, i);

      if ((int) entry->group >= from && (int) entry->group < below)
        g_ptr_array_add (names, entry->name);
    }
  g_ptr_array_add (names, NULL);

  return g_strjoinv (", ", (char **) names->pdata);
}

/* EU: with other shades, every colour goes behind the sign. US: those of other shades alone. */
static char *
write_text (const OgDeclaration *declaration,
            gboolean             shades)
{
  gboolean eu = declaration->market == OG_MARKET_EU;
  int from = !shades ? OG_N_DECLARATION_GROUPS
             : eu    ? OG_DECLARATION_COLOUR
                     : OG_DECLARATION_MAY_CONTAIN;
  g_autofree char *sure = join_names (declaration, 0, from);
  g_autofree char *perhaps = join_names (declaration, from, OG_N_DECLARATION_GROUPS);

  if (*perhaps == '\0')
    return g_steal_pointer (&sure);

  return g_strdup_printf ("%s%s[%s %s]", sure, *sure != '\0' ? ", " : "",
                          eu ? "+/-" : "May Contain:", perhaps);
}

/* --- the declaration --- */

static void
add_line (OgFormulaPhase *phase,
          OgFormulaLine  *line,
          gpointer        user_data)
{
  Declarer *self = user_data;
  g_autoptr (GArray) parts = g_array_new (FALSE, FALSE, sizeof (OgPart));
  g_autoptr (GPtrArray) contents = NULL;
  OgPart whole = { line->ingredient_id, og_ppm_to_pct (line->amount) };

  if (line->amount <= 0)
    return;

  g_array_append_val (parts, whole);
  contents = og_parts_contents (parts, self->catalog);
  for (guint i = 0; i < contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (contents, i);
      double pct = 100 * content->fraction;
      Share share = { pct, pct, pct, line->id };

      if (pct <= 0)
        continue;
      add_material (self, content->ingredient, content->ingredient_id, &share);
      if (content->ingredient != NULL && self->declaration->market == OG_MARKET_EU)
        add_allergens (self, content->ingredient, &share);
    }
}

static void
check_whole (Declarer *self)
{
  gint64 total = og_formula_total (self->formula);

  if (self->declaration->entries->len == 0)
    og_finding_list_add (self->declaration->findings, OG_SEVERITY_BLOCKING, "declaration-empty", 0, NULL,
                         og_saying_plain (N_ ("There is nothing in the recipe to declare.")));
  else if (total != OG_PPM_WHOLE)
    og_finding_list_add (self->declaration->findings, OG_SEVERITY_BLOCKING, "declaration-total", 0,
                         og_saying_verbatim (market_rule (self)),
                         og_saying_new (N_ ("The recipe makes up %s %%, not 100 %%, so order and 1 %% bound may "
                                            "change."),
                                        og_word_significant ((double) total / OG_PPM_PER_PERCENT, 4)));
}

static void
add_rule_note (Declarer *self)
{
  const char *text = self->declaration->market == OG_MARKET_EU
                         /* xgettext:no-c-format */
                         ? N_ ("Order by weight when added; below 1 % in any order; colours last. Check your local "
                               "rules before you print it.")
                         /* xgettext:no-c-format */
                         : N_ ("Order by weight; at most 1 % in any order; colour additives last. Check your local "
                               "rules before you print it.");

  og_finding_list_add (self->declaration->findings, OG_SEVERITY_NOTE, "declaration-rule", 0,
                       og_saying_verbatim (market_rule (self)), og_saying_plain (text));
}

static void
judge (OgDeclaration *declaration)
{
  og_finding_list_sort (declaration->findings);
  declaration->complete = og_finding_list_worst (declaration->findings) < OG_SEVERITY_BLOCKING;
}

static void
finish (Declarer *self)
{
  OgDeclaration *declaration = self->declaration;
  const char *const *shades = self->options->shades;

  finish_allergens (self);
  finish_drafts (self);
  for (guint i = 0; shades != NULL && shades[i] != NULL; i++)
    add_shade (self, shades[i]);
  g_ptr_array_sort (declaration->entries, compare_entries);
  declaration->text = write_text (declaration, shades != NULL && shades[0] != NULL);
  check_whole (self);
  add_rule_note (self);
  judge (declaration);
}

OgDeclaration *
og_declare (const OgFormula            *formula,
            const OgCatalog            *catalog,
            OgMarket                    market,
            const OgDeclarationOptions *options)
{
  OgDeclarationOptions own;
  g_autoptr (GPtrArray) drafts = g_ptr_array_new_with_free_func (draft_free);
  g_autoptr (GHashTable) allergens = g_hash_table_new (NULL, NULL);
  g_autoptr (GHashTable) by_key = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GHashTable) said = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  Declarer self = {
    .formula = formula,
    .catalog = catalog,
    .options = options != NULL ? options : &own,
    .drafts = drafts,
    .by_key = by_key,
    .allergens = allergens,
    .said = said,
  };

  g_return_val_if_fail (formula != NULL && catalog != NULL && market < OG_N_MARKETS, NULL);

  own = (OgDeclarationOptions) { (const char *const *) formula->shades,
                                 (const char *const *) formula->nano, formula->gather_scents };
  self.declaration = g_new0 (OgDeclaration, 1);
  self.declaration->market = market;
  self.declaration->entries = g_ptr_array_new_with_free_func (entry_free);
  self.declaration->findings = og_finding_list_new ();
  og_formula_foreach_line (formula, add_line, &self);
  finish (&self);

  return self.declaration;
}

/* Jurisdiction of the rule tables. */
static const char *
jurisdiction_of (OgMarket market)
{
  return market == OG_MARKET_EU ? "EU" : "US";
}

/* What is forbidden whatever its share. */
static void
add_prohibited (OgDeclaration   *declaration,
                const GPtrArray *findings)
{
  g_autoptr (GPtrArray) blocking = og_finding_list_new ();

  og_finding_list_add_blocking (blocking, findings, jurisdiction_of (declaration->market));
  for (guint i = 0; i < blocking->len; i++)
    {
      OgFinding *finding = g_ptr_array_index (blocking, i);

      finding->line_id = 0;
      if (finding->limit_pct == 0.0)
        g_ptr_array_add (declaration->findings, og_finding_copy (finding));
    }
}

void
og_declaration_hold_recipe (OgDeclaration  *declaration,
                            const OgResult *result)
{
  g_return_if_fail (declaration != NULL && result != NULL);

  og_finding_list_add_blocking (declaration->findings, result->findings, jurisdiction_of (declaration->market));
  judge (declaration);
}

/* A recipe of the colours alone: how much of them the other shades hold is not said. */
void
og_declaration_hold_shades (OgDeclaration     *declaration,
                            const OgFormula   *formula,
                            OgCatalog         *catalog,
                            const char *const *shades)
{
  g_autoptr (OgFormula) colours = NULL;
  g_autoptr (OgResult) result = NULL;
  OgFormulaPhase *phase;

  g_return_if_fail (declaration != NULL && formula != NULL && catalog != NULL);

  if (shades == NULL)
    shades = (const char *const *) formula->shades;
  if (shades == NULL || shades[0] == NULL)
    return;
  colours = og_formula_new ();
  colours->product = formula->product;
  phase = og_formula_add_phase (colours, "", NAN, G_MAXUINT);
  for (guint i = 0; shades[i] != NULL; i++)
    og_formula_add_line (colours, phase, shades[i], OG_PPM_PER_PERCENT, G_MAXUINT);
  result = og_evaluate (colours, catalog, NULL);
  add_prohibited (declaration, result->findings);
  judge (declaration);
}

void
og_declaration_free (OgDeclaration *declaration)
{
  if (declaration == NULL)
    return;

  g_free (declaration->text);
  g_ptr_array_unref (declaration->entries);
  g_ptr_array_unref (declaration->findings);
  g_free (declaration);
}
