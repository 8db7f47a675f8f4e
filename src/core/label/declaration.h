/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/predict/evaluate.h"

G_BEGIN_DECLS

/** OgMarket: whose rules an ingredient declaration follows. */
typedef enum
{
  OG_MARKET_EU, /* Regulation (EC) 1223/2009, Article 19 */
  OG_MARKET_US, /* 21 CFR 701.3 */
  OG_N_MARKETS
} OgMarket;

const char *og_market_to_nick   (OgMarket     market); /* "eu" */
const char *og_market_get_name  (OgMarket     market); /* translated: "European Union" */
/** Returns: %FALSE if nothing is called @nick; the value is left alone then */
gboolean    og_market_from_nick (const char  *nick,
                                 OgMarket    *market);

/** OgDeclarationGroup: which rule of order puts a name where it stands. */
typedef enum
{
  OG_DECLARATION_ORDERED,     /* by falling weight */
  OG_DECLARATION_SMALL,       /* below 1 % (US: not above 1 %), any order; falling weight is kept */
  OG_DECLARATION_ALLERGEN,    /* a substance within a flavour or an essential oil, EU only */
  OG_DECLARATION_COLOUR,      /* after all others, any order; falling weight is kept */
  OG_DECLARATION_MAY_CONTAIN, /* a colour of other shades only */
  OG_N_DECLARATION_GROUPS
} OgDeclarationGroup;

const char *og_declaration_group_to_nick  (OgDeclarationGroup group); /* "may-contain" */
const char *og_declaration_group_get_name (OgDeclarationGroup group); /* translated */

/** OgDeclarationEntry: one name of the list. */
typedef struct
{
  char              *name;     /* as the label writes it, "(nano)" and CI numbers included */
  double             pct;      /* wt % of the recipe; NAN if only the bounds are known */
  double             low_pct;  /* bounds; both equal @pct when it is known */
  double             high_pct;
  OgDeclarationGroup group;
  gboolean           nano;
  gboolean           missing;  /* the material has no INCI name: @name is its common name */
  GArray            *line_ids; /* of guint: lines of the recipe that it comes from */
  GPtrArray         *ingredient_ids; /* of char*: materials it comes from, mixtures taken apart */
} OgDeclarationEntry;

typedef struct
{
  OgMarket   market;
  char      *text;     /* the list to copy; INCI names are not translated */
  GPtrArray *entries;  /* of OgDeclarationEntry, in the order of the list */
  GPtrArray *findings; /* of OgFinding, most severe first; a blocking one makes it incomplete */
  gboolean   complete; /* every name is known and the recipe is whole */
} OgDeclaration;

/** OgDeclarationOptions: what may be said instead of what the recipe says; zeroed memory says
 * nothing. Lists of ids are nullable and NULL-terminated. */
typedef struct
{
  const char *const *shades;        /* colours of the other shades of the range */
  const char *const *nano;          /* materials used as nanomaterials */
  gboolean           gather_scents; /* one name for flavours and essential oils: aroma or parfum */
} OgDeclarationOptions;

/**
 * og_declare:
 * @formula: any recipe
 * @catalog: materials, own ones of @formula included
 * @options: (nullable): %NULL: as the recipe says
 *
 * The ingredient list of @formula: mixtures taken apart, equal names added up, then the order of
 * the market. EU: at 1 % and above by falling weight, below it in any order (falling weight, ties
 * by name, is kept), allergens above 0.001 % of a product that stays on the skin, colours last by
 * Colour Index number. US: above 1 % by falling weight, then those of at most 1 %, then colour
 * additives by their listed names, mica among them; allergens are not named. Names follow the
 * market: botanical names keep the common name in brackets in the US alone.
 *
 * A material whose INCI name lists several with "(and)" is split in their order; the shares are
 * unknown then, and it is placed by the largest they can be.
 *
 * Returns: (transfer full): never %NULL
 */
OgDeclaration *og_declare              (const OgFormula             *formula,
                                        const OgCatalog             *catalog,
                                        OgMarket                     market,
                                        const OgDeclarationOptions  *options);
/** Adds what the rules of the market block in @result, og_evaluate() of the same recipe, to the findings: a label of a
 * product that may not be sold there is not complete. */
void           og_declaration_hold_recipe (OgDeclaration            *declaration,
                                        const OgResult              *result);
/** The same for what is forbidden among the colours of the other shades. @shades: (nullable): as for og_declare();
 * %NULL: as the recipe says */
void           og_declaration_hold_shades (OgDeclaration            *declaration,
                                        const OgFormula             *formula,
                                        OgCatalog                   *catalog,
                                        const char *const           *shades);
/** Frees @declaration with all it holds. */
void           og_declaration_free     (OgDeclaration               *declaration);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgDeclaration, og_declaration_free)

/** Returns: (transfer full) (nullable): the name of @ingredient on a label of @market; %NULL if
 * its INCI name is not known */
char          *og_ingredient_label_name (const OgIngredient         *ingredient,
                                         OgMarket                    market);
/** TRUE if @ingredient is declared among the colours of @market. */
gboolean       og_ingredient_is_label_colour (const OgIngredient    *ingredient,
                                              OgMarket               market);

G_END_DECLS
