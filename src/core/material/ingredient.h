/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/base/json-read.h"
#include "core/base/units.h"
#include "core/material/chemistry.h"

G_BEGIN_DECLS

/** OgQuality: how a figure is known. data/catalog/SCHEMA.md says what each means. */
typedef enum
{
  OG_QUALITY_UNKNOWN,
  OG_QUALITY_MEASURED,
  OG_QUALITY_TYPICAL,
  OG_QUALITY_RANGE,
  OG_QUALITY_ESTIMATED,
  OG_QUALITY_RECALLED
} OgQuality;

/** OgFigure: one property value. Unknown when @quality is %OG_QUALITY_UNKNOWN; then @value is
 * NAN. */
typedef struct
{
  OgQuality quality;
  double    value;
  double    low;  /* NAN if no range */
  double    high; /* NAN if no range */
  double    at_c; /* NAN if it does not matter */
  char     *unit;
  char     *source; /* the citation, not the key */
  char     *note;   /* nullable */
} OgFigure;

typedef enum
{
  OG_FIGURE_DENSITY_G_ML,
  OG_FIGURE_DENSITY_SLOPE_G_ML_K,
  OG_FIGURE_REFRACTIVE_INDEX,
  OG_FIGURE_IODINE_VALUE,
  OG_FIGURE_SAPONIFICATION_VALUE,
  OG_FIGURE_MELTING_C,
  OG_FIGURE_FLASH_POINT_C,
  OG_FIGURE_SMOKE_POINT_C,
  OG_FIGURE_MAX_HEAT_C,
  OG_FIGURE_UNSAPONIFIABLE_PCT,
  OG_FIGURE_MOLAR_MASS_G_MOL,
  OG_FIGURE_USUAL_LOW_PCT,
  OG_FIGURE_USUAL_HIGH_PCT,
  OG_FIGURE_HEAT_CAPACITY_KJ_KG_K,
  OG_FIGURE_NATURAL_ORIGIN_INDEX, /* ISO 16128: 0, or above 0.5 ... 1 */
  OG_N_FIGURES
} OgFigureId;

typedef enum
{
  OG_KIND_OIL,
  OG_KIND_BUTTER,
  OG_KIND_WAX,
  OG_KIND_WAX_ESTER,
  OG_KIND_ESTER,
  OG_KIND_HYDROCARBON,
  OG_KIND_SILICONE,
  OG_KIND_ALCOHOL,
  OG_KIND_GELLING_AGENT,
  OG_KIND_ANTIOXIDANT,
  OG_KIND_COLOUR,
  OG_KIND_DISPERSION,
  OG_KIND_PEARL,
  OG_KIND_POWDER,
  OG_KIND_FLAVOUR,
  OG_KIND_ESSENTIAL_OIL,
  OG_KIND_VITAMIN,
  OG_KIND_ACTIVE,
  OG_N_KINDS
} OgKind;

/** OgGelFamily: how an agent thickens; %OG_GEL_NONE for a material that does not. */
typedef enum
{
  OG_GEL_NONE,
  OG_GEL_PHYSICAL_POLYMER,
  OG_GEL_POLYMER_SOLUTION,
  OG_GEL_CRYSTAL_NETWORK,
  OG_GEL_PARTICLE_NETWORK,
  OG_GEL_PLATELET_NETWORK,
  OG_GEL_VISCOUS_LIQUID
} OgGelFamily;

#define OG_N_GEL_FAMILIES (OG_GEL_VISCOUS_LIQUID + 1)

typedef enum
{
  OG_SOLVENT_UNKNOWN,
  OG_SOLVENT_NO,
  OG_SOLVENT_LIMITED,
  OG_SOLVENT_YES
} OgSolventFit;

/** OgGelling: the gelling block of data/catalog/SCHEMA.md. */
typedef struct
{
  OgGelFamily  family;
  OgFigure     gel_point_pct;
  OgFigure     yield_at_twice_gel_point_pa;
  OgFigure     gel_exponent;
  OgFigure     intrinsic_viscosity_dl_g;
  OgFigure     association;
  OgFigure     flow_index;
  OgFigure     dissolves_c;
  OgFigure     sets_c;
  OgFigure     melting_enthalpy_j_g;
  OgFigure     molar_mass_g_mol;
  OgSolventFit triglyceride, castor, ester, hydrocarbon, silicone;
  gboolean     needs_shear;
  gboolean     reversible;
  char        *note; /* nullable */
} OgGelling;

/** OgViscosityDatum: one published or own point of the neat material. */
typedef struct
{
  double    temperature_c;
  double    value;
  gboolean  kinematic; /* TRUE: mm2/s, FALSE: mPa.s */
  OgQuality quality;
  char     *source;
  char     *note; /* nullable */
} OgViscosityDatum;

/** OgPart: one constituent of a mixture. */
typedef struct
{
  char  *ingredient_id;
  double pct;
} OgPart;

/** Returns: (transfer full) (element-type OgPart): no parts, which it will own */
GArray *og_parts_new  (void);
/** Returns: (transfer full) (element-type OgPart): a deep copy */
GArray *og_parts_copy (const GArray *parts);

/** OgConstituent: a substance within a material that labels and limits ask about (limonene in an
 * orange oil). */
typedef struct
{
  char    *name; /* as a label names it */
  char    *cas;  /* nullable */
  OgFigure pct;  /* wt % of the material */
} OgConstituent;

/**
 * OgIngredient:
 *
 * One material, immutable once built, reference counted. Strings are UTF-8; user text may hold
 * anything and is never markup.
 */
typedef struct
{
  char       *id;
  char       *name;
  char       *inci;         /* nullable */
  char       *cas;          /* nullable */
  char       *derived_from; /* nullable: id of the library material this own material starts from */
  OgKind      kind;
  char      **aliases;      /* NULL-terminated, as the following */
  char      **roles;
  char      **uses;
  char      **tags;
  char      **cautions;
  char       *notes;        /* nullable */
  OgFigure    figures[OG_N_FIGURES];
  OgProfile  *profile;      /* nullable; normalised to 100 */
  OgQuality   profile_quality;
  char       *profile_source; /* nullable */
  char       *profile_note;   /* nullable */
  GArray     *viscosity;    /* of OgViscosityDatum, by temperature; empty if unknown */
  gboolean    own_viscosity; /* @viscosity is what an own material says itself, not what its base says */
  OgGelling   gelling;
  GArray     *composition;  /* of OgPart; empty if it is not a mixture */
  GArray     *constituents; /* of OgConstituent: what a flavour or an essential oil brings along */
  gboolean    constituents_known; /* FALSE: nobody has said; TRUE with none: it brings none */
  char       *ci;           /* nullable: Colour Index number */
  char       *hex;          /* nullable: approximate mass tone "#rrggbb" */
  char       *sort_key;     /* og_search_fold() of name and id, one a line: orders materials */
  JsonObject *definition;   /* as read, for writing own materials back; never NULL */
} OgIngredient;

/**
 * og_ingredient_new_from_json:
 * @object: a MATERIAL of data/catalog/SCHEMA.md; with @base, only `id` is required and every member
 * given overrides
 * @sources: (nullable): KEY -> citation; %NULL takes `source` strings as the citation itself (own
 * materials)
 * @base: (nullable): the material this one is derived from
 *
 * Members of `figures`, `gelling`, `gelling.solvents` and `colour` override one by one, everything
 * else as a whole; JSON null takes an inherited optional member away. Own materials may carry
 * `derived_from` (it must be the id of
 * @base if there is one) and members of later versions, which are kept in @definition; with
 * @sources, a member that the file format does not know is refused. @object becomes the definition
 * and must not change any more.
 *
 * Returns: (transfer full): the material, or %NULL with an #OgCatalogError naming the id and member
 */
OgIngredient *og_ingredient_new_from_json    (JsonObject          *object,
                                              JsonObject          *sources,
                                              const OgIngredient  *base,
                                              GError             **error);
/** The same of the object @reader stands on, whose context has the sources. Returns: (transfer
 * full): %NULL with the error of @reader */
OgIngredient *og_ingredient_read             (const OgJsonReader  *reader,
                                              const OgIngredient  *base);
/** Takes a reference. Returns: its argument */
OgIngredient *og_ingredient_ref              (OgIngredient        *ingredient);
/** Gives a reference back; the last one frees. */
void          og_ingredient_unref            (OgIngredient        *ingredient);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgIngredient, og_ingredient_unref)

/** Returns: %TRUE if @ingredient bears @tag ("nut", "powder"; data/catalog/SCHEMA.md lists them) */
gboolean      og_ingredient_has_tag          (const OgIngredient  *ingredient,
                                              const char          *tag);
/** Returns: %TRUE if @ingredient has @role ("base", "gelling"; data/catalog/SCHEMA.md lists them) */
gboolean      og_ingredient_has_role         (const OgIngredient  *ingredient,
                                              const char          *role);
/** Returns: %TRUE if @ingredient is fit for @use ("lip", "body") */
gboolean      og_ingredient_has_use          (const OgIngredient  *ingredient,
                                              const char          *use);
/** TRUE for oils and butters with a profile: materials taken as triglycerides by the prediction. */
gboolean      og_ingredient_is_triglyceride  (const OgIngredient  *ingredient);
/** TRUE for what stays solid in the oil at any stove temperature: colours, pearls, powders. */
gboolean      og_ingredient_is_suspended     (const OgIngredient  *ingredient);

/**
 * og_ingredient_density:
 *
 * Density of the neat material at @temperature_c, g/ml: its own figure moved by its slope (or that of
 * its class, OG_TRIGLYCERIDE_DENSITY_SLOPE_G_ML_K or OG_OTHER_DENSITY_SLOPE_G_ML_K), else the relation of the
 * profile.
 *
 * Returns: NAN if unknown
 */
double        og_ingredient_density          (const OgIngredient  *ingredient,
                                              double               temperature_c);
/** TRUE if the material may be heated to @temperature_c: it bears it, and neither flashes nor smokes
 * within OG_FLASH_MARGIN_K and OG_SMOKE_MARGIN_K. What is not known does not count. */
gboolean      og_ingredient_takes_heat       (const OgIngredient  *ingredient,
                                              double               temperature_c);
/** Iodine value: own figure, else from the profile for triglycerides, else NAN. */
double        og_ingredient_iodine_value     (const OgIngredient  *ingredient);
/** Saponification value: own figure, else from the profile for triglycerides, else NAN. */
double        og_ingredient_saponification   (const OgIngredient  *ingredient);

/** Returns: %TRUE if @figure has a value or a range */
gboolean      og_figure_is_known             (const OgFigure      *figure);
/** Relative spread (standard deviation of ln value) from low/high read as an 80 % interval;
 * @fallback without a range. */
double        og_figure_ln_sd                (const OgFigure      *figure,
                                              double               fallback);

/**
 * og_search_fold:
 *
 * Returns: (transfer full): @text case-folded, decomposed and without accents, as search texts and
 * words are compared
 */
char         *og_search_fold                 (const char          *text);

const char   *og_kind_to_nick                (OgKind               kind); /* "gelling-agent" */
const char   *og_kind_get_name               (OgKind               kind); /* translated, plural: "Gelling agents" */
/** Returns: %FALSE if nothing is called @nick; the value is left alone then */
gboolean      og_kind_from_nick              (const char          *nick,
                                              OgKind              *kind);
/** Returns: (transfer none): "measured", "typical", "range", "estimated", "recalled", "unknown" */
const char   *og_quality_to_nick             (OgQuality            quality);
const char   *og_quality_get_name            (OgQuality            quality); /* translated */
const char   *og_figure_id_to_nick           (OgFigureId           id);      /* "density_g_ml" */
const char   *og_figure_id_get_name          (OgFigureId           id);      /* translated, with unit */
const char   *og_figure_id_get_unit          (OgFigureId           id);      /* as in files: "g/ml" */
/** Returns: %FALSE if nothing is called @nick; the value is left alone then */
gboolean      og_figure_id_from_nick         (const char          *nick,
                                              OgFigureId          *id);
const char   *og_tag_get_name                (const char          *tag);     /* translated; the tag itself if unknown */
/** Returns: (transfer none): translated name of @role, or @role itself if it has none */
const char   *og_role_get_name               (const char          *role);

G_END_DECLS
