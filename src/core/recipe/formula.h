/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/material/ingredient.h"
#include "core/material/product.h"
#include "core/recipe/stability.h"

G_BEGIN_DECLS

/** OgFormulaLine: one line of a recipe. @id is unique in the formula and stays with the line for
 * its life. */
typedef struct
{
  guint       id;
  char       *ingredient_id;
  OgPpm       amount;
  gboolean    held;              /* kept as it is when other lines are re-solved */
  guint       balance_share;     /* 0: an ordinary line; n: takes n parts of what is missing to 100 % */
  double      add_temperature_c; /* NAN: as the phase */
  char       *note;              /* nullable */
  JsonObject *extra;             /* nullable: members of the file that this version does not know */
} OgFormulaLine;

typedef struct
{
  guint       id;
  char       *name;
  double      temperature_c; /* NAN: not said */
  char       *note;          /* nullable */
  GPtrArray  *lines;         /* of OgFormulaLine */
  JsonObject *extra;         /* nullable */
} OgFormulaPhase;

/** OgBodyBound: where one word for the body gives way to the next. */
typedef enum
{
  OG_BODY_BOUND_THIN,        /* poured, mPa.s: from here "thin", below it "dry" */
  OG_BODY_BOUND_LIGHT,
  OG_BODY_BOUND_SUBSTANTIAL,
  OG_BODY_BOUND_SYRUPY,
  OG_BODY_BOUND_HEAVY,
  OG_BODY_BOUND_SOFT_SET,    /* yield stress, Pa */
  OG_BODY_BOUND_SET,
  OG_N_BODY_BOUNDS
} OgBodyBound;

/** OgBodyBounds: the lower bounds of the words. The default is a starting guess of this project,
 * no standard; a recipe may bring its own. */
typedef struct
{
  double from[OG_N_BODY_BOUNDS];
} OgBodyBounds;

/** Sets the usual bounds, in mPa.s when poured at 25 C and in Pa of yield stress: judgement. */
void            og_body_bounds_init        (OgBodyBounds       *bounds);
/** TRUE if all are finite, above 0, and rise within mPa.s and within Pa. */
gboolean        og_body_bounds_are_valid   (const OgBodyBounds *bounds);
/** Returns: %TRUE if all bounds agree */
gboolean        og_body_bounds_equal       (const OgBodyBounds *a,
                                            const OgBodyBounds *b);
/** Returns: (transfer none): member name in files, "substantial_mpa_s" */
const char     *og_body_bound_to_nick      (OgBodyBound         bound);

typedef struct _OgFormula OgFormula;

/** OgVersion: a recipe as it was kept under a name. Never changed, so copies of a recipe share their
 * versions; counted by reference. */
typedef struct
{
  char            *name;   /* unique in its recipe */
  char            *note;   /* may be "" */
  GDate            date;   /* of the day it was kept */
  const OgFormula *recipe; /* without what belongs to all versions: measurements, stability, versions */
} OgVersion;

/** OgFormula: a recipe and the own materials it brings. A plain value: edits are pure, copies
 * are deep. */
struct _OgFormula
{
  char       *title;
  char       *purpose;           /* may be "" */
  char       *notes;             /* may be "" */
  double      batch_g;           /* above 0 */
  gboolean    batch_is_sum;      /* grams that are entered make the batch; the other lines keep theirs */
  double      target_low_mpa_s;  /* NAN: no target */
  double      target_high_mpa_s; /* NAN: no target */
  OgBodyBounds body_bounds;
  OgProduct   product;
  OgPackage   package;
  guint       open_months;       /* period after opening that the maker claims; 0: not said */
  char       *warnings;          /* own words for the label; may be "" */
  char      **shades;            /* colours of the other shades of the range; NULL-terminated, as @nano */
  char      **nano;              /* materials used as nanomaterials */
  gboolean    gather_scents;     /* flavours and essential oils stand under one name on the label */
  GPtrArray  *costs;             /* of OgCostLine: packaging, labour */
  GDate       stability_start;   /* of the stability tests; not valid: none are planned */
  guint       stability_months;  /* how long they are to speak for; 0: not said */
  GPtrArray  *stability_results; /* of OgStabilityResult, in the order they were noted */
  GPtrArray  *phases;            /* of OgFormulaPhase */
  GPtrArray  *materials;         /* of OgIngredient: own materials */
  GPtrArray  *measurements;      /* of OgMeasurement (core/bench.h): what was read at the bench */
  GPtrArray  *versions;          /* of OgVersion, in the order they were kept */
  guint       next_id;           /* next free id of lines and phases, those of versions included */
  JsonObject *extra;             /* nullable */
};

/** Returns: (transfer full): an empty recipe of 100 g without phases */
OgFormula      *og_formula_new             (void);
/** Returns: (transfer full): a copy; own materials and unknown members are shared by reference,
 * and json-glib counts references without locks: see og_work_copy_formula() for other threads */
OgFormula      *og_formula_copy            (const OgFormula  *formula);
/** Frees @formula with all it holds. */
void            og_formula_free            (OgFormula        *formula);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgFormula, og_formula_free)
/** Same recipe: everything that a file would hold, ids included. */
gboolean        og_formula_equal           (const OgFormula  *a,
                                            const OgFormula  *b);

/**
 * og_version_new:
 * @recipe: (transfer full): what is kept; loses what belongs to all versions
 * @date: a valid date
 *
 * Returns: (transfer full)
 */
OgVersion      *og_version_new             (const char       *name,
                                            const char       *note,
                                            const GDate      *date,
                                            OgFormula        *recipe);
/** Returns: (transfer full): @version itself */
OgVersion      *og_version_ref             (OgVersion        *version);
/** Lets go of @version (nullable). */
void            og_version_unref           (OgVersion        *version);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgVersion, og_version_unref)

/** Adds a phase before @position (or last, for G_MAXUINT). Returns: (transfer none) */
OgFormulaPhase *og_formula_add_phase       (OgFormula        *formula,
                                            const char       *name,
                                            double            temperature_c,
                                            guint             position);
/** Adds a line of @amount to @phase before @position (or last). Returns: (transfer none) */
OgFormulaLine  *og_formula_add_line        (OgFormula        *formula,
                                            OgFormulaPhase   *phase,
                                            const char       *ingredient_id,
                                            OgPpm             amount,
                                            guint             position);
/** Returns: (nullable) (transfer none): the phase, and in @position (out, nullable) where it
 * stands */
OgFormulaPhase *og_formula_find_phase      (const OgFormula  *formula,
                                            guint             phase_id,
                                            guint            *position);
/** Returns: (nullable) (transfer none): the line; @phase and @position (nullable) say where it
 * stands */
OgFormulaLine  *og_formula_find_line       (const OgFormula  *formula,
                                            guint             line_id,
                                            OgFormulaPhase  **phase,
                                            guint            *position);
/** Removes and frees a line; @line_id must be one of the recipe. */
void            og_formula_remove_line     (OgFormula        *formula,
                                            guint             line_id);
/** Removes and frees a phase with its lines; @phase_id must be one of the recipe. */
void            og_formula_remove_phase    (OgFormula        *formula,
                                            guint             phase_id);
/** Takes @amount, more than 0 and less than all, off a line for a new one at the end of @phase_id. What stays keeps
 * temperature, note and balance; the new line is held if it is. Returns: (transfer none): the new line */
OgFormulaLine  *og_formula_split_line      (OgFormula        *formula,
                                            guint             line_id,
                                            OgPpm             amount,
                                            guint             phase_id);
/** Moves a line to @position of @phase_id; @position counts without the line itself. */
void            og_formula_move_line       (OgFormula        *formula,
                                            guint             line_id,
                                            guint             phase_id,
                                            guint             position);
/** Moves a phase to @position; beyond the end it becomes the last. */
void            og_formula_move_phase      (OgFormula        *formula,
                                            guint             phase_id,
                                            guint             position);
/** Returns: (nullable) (transfer none): first line that holds @ingredient_id */
OgFormulaLine  *og_formula_find_ingredient (const OgFormula  *formula,
                                            const char       *ingredient_id);
/** Returns: (nullable) (transfer none): the own material @id; @position (out) (optional): where in
 * @materials */
OgIngredient   *og_formula_find_material   (const OgFormula  *formula,
                                            const char       *id,
                                            guint            *position);
/** Returns: the number of lines of all phases */
guint           og_formula_get_n_lines     (const OgFormula  *formula);
/** Calls @func for every line in order. */
typedef void (*OgFormulaLineFunc) (OgFormulaPhase *phase, OgFormulaLine *line, gpointer user_data);
/** Calls @func for every line in the order of the recipe; @func must not add or remove any. */
void            og_formula_foreach_line    (const OgFormula  *formula,
                                            OgFormulaLineFunc func,
                                            gpointer          user_data);

/**
 * og_formula_balance:
 *
 * Sets every balance line to its share of what the other lines leave of 100 %, to the last
 * millionth (remainders go to the first balance lines). Over 100 % the balance lines become 0.
 * Without balance lines nothing changes.
 *
 * Returns: the total afterwards, in millionths; %OG_PPM_WHOLE when the recipe is whole
 */
gint64          og_formula_balance         (OgFormula        *formula);
/** Returns: the sum of all lines, in millionths */
gint64          og_formula_total           (const OgFormula  *formula);
/**
 * og_formula_normalise:
 *
 * Scales the lines that are neither held nor balance so that the total is 100 % exactly,
 * largest-remainder rounding.
 *
 * Returns: %FALSE, changing nothing, if that is impossible (nothing to scale, or held lines exceed
 * 100 %)
 */
gboolean        og_formula_normalise       (OgFormula        *formula);
/**
 * og_formula_weigh:
 * @line_id: one of the recipe
 * @g: grams of that line, at least 0
 *
 * Makes the batch the sum of what its lines weigh, with @g for this line and for every other what it weighs now, to
 * a tenth of a milligram; the shares follow and make 100 % exactly, largest-remainder rounding.
 *
 * Returns: %FALSE, changing nothing, if all of it would weigh nothing
 */
gboolean        og_formula_weigh           (OgFormula        *formula,
                                            guint             line_id,
                                            double            g);

/** OgContent: share of one material in the whole formula after mixtures are taken apart. */
typedef struct
{
  const OgIngredient *ingredient; /* borrowed from the catalog; NULL for an id the catalog does not know */
  char               *ingredient_id;
  double              fraction;   /* of the formula mass, 0 ... 1 */
} OgContent;

struct _OgCatalog;
/**
 * og_formula_contents:
 *
 * What the recipe holds once every mixture (a colour ground in oil) is taken apart and equal
 * materials are added up, in order of first appearance.
 *
 * Returns: (transfer full) (element-type OgContent): frees its elements
 */
GPtrArray      *og_formula_contents        (const OgFormula          *formula,
                                            const struct _OgCatalog  *catalog);

/**
 * og_parts_contents:
 * @parts: (element-type OgPart): materials and their wt %; only borrowed
 *
 * The same for a plain list of materials. Returns: (transfer full) (element-type OgContent)
 */
GPtrArray      *og_parts_contents          (const GArray             *parts,
                                            const struct _OgCatalog  *catalog);

/**
 * og_contents_density:
 * @contents: (element-type OgContent)
 * @known_fraction: (out) (optional): mass fraction whose density is known
 *
 * Density by volume of what has one at @temperature_c.
 *
 * Returns: g/ml; NAN if more than a tenth by mass has none
 */
double          og_contents_density        (const GPtrArray          *contents,
                                            double                    temperature_c,
                                            double                   *known_fraction);

G_END_DECLS
