/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/base/finding.h"
#include "core/material/ingredient.h"
#include "core/material/product.h"

G_BEGIN_DECLS

/** OgRuleKind: what a rule asks. data/rules/SCHEMA.md says more. */
typedef enum
{
  OG_RULE_LISTED,     /* allowed as it stands: where that is written */
  OG_RULE_LIMIT,      /* at most @max_pct of the finished product */
  OG_RULE_PROHIBITED, /* not as an ingredient; natural traces are another rule */
  OG_RULE_DECLARE,    /* named on the label above @max_pct of the finished product */
  OG_RULE_NOTICE,     /* a sentence for whoever uses the material */
  OG_N_RULE_KINDS
} OgRuleKind;

/** OgAuthority: who says so. Only law and own rules can block. */
typedef enum
{
  OG_AUTHORITY_LAW,
  OG_AUTHORITY_INDUSTRY, /* self-regulation of a trade */
  OG_AUTHORITY_ADVICE,   /* scientific or official advice without force of law */
  OG_AUTHORITY_PRACTICE, /* common practice */
  OG_AUTHORITY_OWN,      /* the reader's own rules file */
  OG_N_AUTHORITIES
} OgAuthority;

/** OgRuleQuality: how the entry is known. */
typedef enum
{
  OG_RULE_READ,     /* read in a published copy */
  OG_RULE_PARTLY,   /* part read, part recalled */
  OG_RULE_RECALLED, /* from memory: not yet compared with the text */
  OG_RULE_OWN,      /* the reader answers for it */
  OG_N_RULE_QUALITIES
} OgRuleQuality;

/** Every product that can be said, as bits of OgRule.products. */
#define OG_PRODUCTS_ALL (((1u << OG_N_PRODUCTS) - 1u) & ~(1u << OG_PRODUCT_UNSAID))

/** OgEquivalent: a substance that a limit counts as another one, by molar mass. */
typedef struct
{
  char  *cas;
  double molar_mass_g_mol;
} OgEquivalent;

/** OgRule: one entry of a rules file; immutable. */
typedef struct
{
  char         *id;
  char         *name;         /* of the substance, as the entry or a label writes it */
  OgRuleKind    kind;
  char         *code;         /* code of the finding it makes */
  guint         products;     /* bits 1 << OgProduct it holds for, never %OG_PRODUCT_UNSAID */
  double        max_pct;      /* limit or threshold, wt % of the product; NAN without one */
  double        least_pct;    /* notice: share of a material from which on it is given; 0: any */
  gboolean      within;       /* also where the material is part of a mixture or of an essential oil */
  gboolean      mixture;      /* also of a material that is a mixture itself */
  gboolean      extended;     /* an allergen of the extension of 2023, with transition dates */
  OgSeverity    severity;     /* greatest severity of its finding */
  char         *jurisdiction; /* nullable: "EU", "UK", "US", "IFRA", "CH", or the reader's own word */
  OgAuthority   authority;
  char         *reference;    /* legal reference; nullable for common practice */
  char         *state;        /* date of the list it was taken from, "2024-05-16" */
  OgRuleQuality quality;
  char         *source;
  char         *text;         /* nullable: sentence with at most one "%s" for the material */
  char         *note;         /* nullable: conditions, dates, and whatever else the entry says */
  char        **cas;          /* what it is about: NULL-terminated, as the following */
  char        **inci;
  char        **ci;
  char        **ids;
  char        **kinds;        /* nicks of #OgKind */
  char        **tags;
  char        **only;         /* tags: of materials that carry one of them; empty: of all */
  char        **unless;       /* tags: not of materials that carry one of them */
  char        **words;        /* of title, purpose and label text */
  char         *equivalent;   /* nullable: the substance that amounts are counted as */
  double        equivalent_g_mol;
  GArray       *equivalents;  /* of OgEquivalent */
} OgRule;

/** OgRules: the entries of all rules files, found by CAS number, INCI name, CI number, id and tag.
 * Immutable, reference counted. */
typedef struct _OgRules OgRules;

/**
 * og_rules_load:
 * @path: a file of the format of data/rules/SCHEMA.md
 * @own: the reader's own rules: source, quality and jurisdiction may be left out, and findings say
 * whose they are
 *
 * Returns: (transfer full): or %NULL with an #OgCatalogError that names file, rule and member, or a
 * #GFileError
 */
OgRules      *og_rules_load              (const char          *path,
                                          gboolean             own,
                                          GError             **error);
/** The same from text of @length bytes, or -1; @name stands in messages. */
OgRules      *og_rules_new_from_json     (const char          *text,
                                          gssize               length,
                                          const char          *name,
                                          gboolean             own,
                                          GError             **error);
/**
 * og_rules_new_joined:
 * @parts: (element-type OgRules): in order
 *
 * All rules of @parts. An own rule replaces one of the same id before it.
 *
 * Returns: (transfer full): or %NULL with %OG_CATALOG_ERROR_DUPLICATE for an id that occurs twice
 * otherwise
 */
OgRules      *og_rules_new_joined        (const GPtrArray     *parts,
                                          GError             **error);
/** Takes a reference. Returns: its argument */
OgRules      *og_rules_ref               (OgRules             *rules);
/** Gives a reference back; the last one frees. */
void          og_rules_unref             (OgRules             *rules);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgRules, og_rules_unref)

/** Returns: the number of rules */
guint         og_rules_get_n_items       (const OgRules       *rules);
/** Returns: (transfer none): rule at @index, in the order of files */
const OgRule *og_rules_get_item          (const OgRules       *rules,
                                          guint                index);
/** Returns: (nullable) (transfer none) */
const OgRule *og_rules_get               (const OgRules       *rules,
                                          const char          *id);

/** OgRuleShare: what one unit of a material adds to the amount that a rule counts. */
typedef struct
{
  guint    rule;     /* index */
  double   typical;  /* 1 for the substance itself; less for what holds some of it */
  double   high;     /* with every constituent at the upper end of its range */
  gboolean as_such;  /* the material itself is meant, not something within it */
  gboolean declared; /* not taken from a typical composition */
} OgRuleShare;

/**
 * og_rules_match:
 *
 * The rules that concern @ingredient, itself and its constituents. A tag speaks only where no entry
 * of the same code and jurisdiction names the material. Of a mixture only its id, tags and
 * constituents count: its parts are asked themselves.
 *
 * Returns: (transfer full) (element-type OgRuleShare): by rule
 */
GArray       *og_rules_match             (const OgRules       *rules,
                                          const OgIngredient  *ingredient);

/** Returns: molar mass of what is counted over that of @cas, as a mass ratio; 1 if the rule counts
 * the substance as it is */
double        og_rule_get_factor         (const OgRule        *rule,
                                          const char          *cas);
/** Returns: (transfer full): the products of @products in words: "lips", "skin", "lips and skin", or
 * their names */
OgSaying     *og_products_saying         (guint                products);

const char   *og_rule_kind_to_nick       (OgRuleKind           kind);      /* "limit" */
/** Returns: %FALSE if nothing is called @nick; the value is left alone then */
gboolean      og_rule_kind_from_nick     (const char          *nick,
                                          OgRuleKind          *kind);
const char   *og_authority_to_nick       (OgAuthority          authority); /* "law" */
/** Returns: %FALSE if nothing is called @nick; the value is left alone then */
gboolean      og_authority_from_nick     (const char          *nick,
                                          OgAuthority         *authority);
const char   *og_rule_quality_to_nick    (OgRuleQuality        quality);   /* "read" */
/** Returns: %FALSE if nothing is called @nick; the value is left alone then */
gboolean      og_rule_quality_from_nick  (const char          *nick,
                                          OgRuleQuality       *quality);
const char   *og_rule_quality_get_name   (OgRuleQuality        quality);   /* translated: "read in a published copy" */
OgWord        og_rule_quality_word       (OgRuleQuality        quality);
/** Returns: translated name of @jurisdiction, the word itself if it is not one of the library's */
const char   *og_jurisdiction_get_name   (const char          *jurisdiction);
/** Returns: the same as a value of a saying */
OgWord        og_jurisdiction_word       (const char          *jurisdiction);

G_END_DECLS
