/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/recipe/recipe-table.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/base/csv.h"
#include "core/base/error.h"
#include "core/base/json-guard.h"
#include "core/base/number-text.h"
#include "core/base/read-file.h"
#include "core/recipe/recipe-limits.h"
#include "core/recipe/storage.h"

#define MAX_ROWS 10000 /* a table with more is no recipe */

/* What floating-point sums of decimal percentages may be off by, in millionths. */
#define PPM_TOLERANCE 0.001
#define SUM_DIGITS 10

typedef enum
{
  COLUMN_PHASE,
  COLUMN_INGREDIENT,
  COLUMN_PERCENT,
  COLUMN_ADD_TEMPERATURE_C,
  N_COLUMNS
} Column;

static const char *const column_names[N_COLUMNS] = {
  "phase", "ingredient", "percent", "add_temperature_c"
};

/* Share: a line whose percent was given as a number, in millionths before rounding. */
typedef struct
{
  OgFormulaLine *line;
  double         ppm;
} Share;

/* Table: what is known while one table is read. */
typedef struct
{
  OgCsv            csv;
  const OgCatalog *catalog;
  int              columns[N_COLUMNS]; /* index in a row, or -1 */
  OgFormula       *formula;
  GHashTable      *phases;   /* name -> OgFormulaPhase */
  GArray          *shares;   /* of Share */
  guint            n_rows;
  guint            n_balance;
  guint            n_plain_balance;
} Table;

/* --- rows of the recipe ---------------------------------------------------- */

static const char *
cell_at (const Table *table,
         Column       column)
{
  return og_csv_get_cell (&table->csv, table->columns[column]);
}

static OgFormulaPhase *
find_phase (Table   *table,
            GError **error)
{
  const char *name = og_csv_unescape (cell_at (table, COLUMN_PHASE));
  OgFormulaPhase *phase = g_hash_table_lookup (table->phases, name);

  if (phase != NULL)
    return phase;
  if (g_utf8_strlen (name, -1) > OG_RECIPE_MAX_NAME)
    {
      og_csv_fail (&table->csv, OG_TABLE_ERROR_VALUE, error,
                   _("The name of the phase is longer than %d characters."), OG_RECIPE_MAX_NAME);
      return NULL;
    }
  phase = og_formula_add_phase (table->formula, name, NAN, G_MAXUINT);
  g_hash_table_insert (table->phases, phase->name, phase);
  return phase;
}

static const OgIngredient *
find_ingredient (Table   *table,
                 GError **error)
{
  const char *name = og_csv_unescape (cell_at (table, COLUMN_INGREDIENT));
  g_autoptr (GError) reason = NULL;
  const OgIngredient *ingredient;

  if (*name == '\0')
    {
      og_csv_fail (&table->csv, OG_TABLE_ERROR_INGREDIENT, error,
                   _("The row names no ingredient."));
      return NULL;
    }
  if (g_utf8_strlen (name, -1) > OG_RECIPE_MAX_NAME)
    {
      og_csv_fail (&table->csv, OG_TABLE_ERROR_VALUE, error,
                   _("The name of the ingredient is longer than %d characters."),
                   OG_RECIPE_MAX_NAME);
      return NULL;
    }
  ingredient = og_catalog_resolve (table->catalog, name, &reason);
  if (ingredient == NULL)
    og_csv_fail (&table->csv, OG_TABLE_ERROR_INGREDIENT, error, "%s", reason->message);
  return ingredient;
}

/* Reads "balance" or "balance N"; @share stays 0 for anything else. */
static gboolean
read_balance (Table       *table,
              const char  *text,
              guint       *share,
              GError     **error)
{
  static const char word[] = "balance";
  g_autofree char *rest = NULL;
  guint64 parts = 1;

  *share = 0;
  if (g_ascii_strncasecmp (text, word, strlen (word)) != 0)
    return TRUE;
  rest = g_strstrip (g_strdup (text + strlen (word)));
  if (*rest != '\0'
      && !g_ascii_string_to_unsigned (rest, 10, 1, OG_RECIPE_MAX_BALANCE_SHARE, &parts, NULL))
    return og_csv_fail (&table->csv, OG_TABLE_ERROR_BALANCE, error,
                        _("After “balance” there must be a whole number of parts, or nothing."));

  *share = (guint) parts;
  table->n_balance++;
  table->n_plain_balance += *rest == '\0';
  if (table->n_balance > 1 && table->n_plain_balance > 0)
    return og_csv_fail (&table->csv, OG_TABLE_ERROR_BALANCE, error,
                        _("Several lines hold “balance”; say how many parts each takes, "
                          "for instance “balance 2” and “balance 1”."));
  return TRUE;
}

static gboolean
read_percent (Table          *table,
              OgFormulaLine  *line,
              GError        **error)
{
  g_autofree char *text = g_strstrip (g_strdup (cell_at (table, COLUMN_PERCENT)));
  g_autofree char *text_shown = og_csv_shown (text);
  Share share = { .line = line };
  double pct;

  if (!read_balance (table, text, &line->balance_share, error))
    return FALSE;
  if (line->balance_share > 0)
    return TRUE;
  if (*text == '\0')
    return og_csv_fail (&table->csv, OG_TABLE_ERROR_VALUE, error, _("The row has no percent."));
  if (!og_parse_number (text, &pct))
    return og_csv_fail (&table->csv, OG_TABLE_ERROR_VALUE, error,
                        _("The percent “%s” is neither a number nor “balance”."), text_shown);
  if (!(pct >= 0 && pct <= 100))
    return og_csv_fail (&table->csv, OG_TABLE_ERROR_VALUE, error,
                        _("The percent “%s” does not lie between 0 and 100."), text_shown);

  share.ppm = pct * OG_PPM_PER_PERCENT;
  g_array_append_val (table->shares, share);
  return TRUE;
}

static gboolean
fail_temperature (const Table  *table,
                  const char   *text,
                  GError      **error)
{
  g_autofree char *shown = og_csv_shown (text);
  g_autofree char *low = og_number_as_given (OG_RECIPE_LOWEST_C);
  g_autofree char *high = og_number_as_given (OG_RECIPE_HIGHEST_C);

  return og_csv_fail (&table->csv, OG_TABLE_ERROR_VALUE, error,
                      _("The temperature “%s” is not a number between %s and %s."), shown, low,
                      high);
}

static gboolean
read_temperature (Table          *table,
                  OgFormulaLine  *line,
                  GError        **error)
{
  g_autofree char *text = g_strstrip (g_strdup (cell_at (table, COLUMN_ADD_TEMPERATURE_C)));
  double temperature_c;

  if (*text == '\0')
    return TRUE;
  if (!og_parse_number (text, &temperature_c)
      || temperature_c < OG_RECIPE_LOWEST_C || temperature_c > OG_RECIPE_HIGHEST_C)
    return fail_temperature (table, text, error);
  line->add_temperature_c = temperature_c;
  return TRUE;
}

static gboolean
take_row (Table   *table,
          guint    width,
          GError **error)
{
  const OgIngredient *ingredient;
  OgFormulaPhase *phase;
  OgFormulaLine *line;

  if (++table->n_rows > MAX_ROWS)
    return og_csv_fail (&table->csv, OG_TABLE_ERROR_TOO_LARGE, error,
                        _("The table has more than %d rows."), MAX_ROWS);
  if (!og_csv_check_width (&table->csv, width, error))
    return FALSE;
  phase = find_phase (table, error);
  if (phase == NULL)
    return FALSE;
  ingredient = find_ingredient (table, error);
  if (ingredient == NULL)
    return FALSE;
  line = og_formula_add_line (table->formula, phase, ingredient->id, 0, G_MAXUINT);
  return read_percent (table, line, error) && read_temperature (table, line, error);
}

/* --- the recipe as a whole ------------------------------------------------- */

static gboolean
check_sum (const Table  *table,
           double        sum_ppm,
           GError      **error)
{
  double off_ppm = fabs (sum_ppm - OG_PPM_WHOLE);
  g_autofree char *sum = og_number_significant (sum_ppm / OG_PPM_PER_PERCENT, SUM_DIGITS);
  g_autofree char *off = og_number_significant (off_ppm / OG_PPM_PER_PERCENT, SUM_DIGITS);

  if (sum_ppm > OG_PPM_WHOLE + PPM_TOLERANCE)
    return og_csv_fail (&table->csv, OG_TABLE_ERROR_SUM, error,
                        _("The amounts make %s %%; that is %s %% too much."), sum, off);
  if (table->n_balance == 0 && sum_ppm < OG_PPM_WHOLE - PPM_TOLERANCE)
    return og_csv_fail (&table->csv, OG_TABLE_ERROR_SUM, error,
                        _("The amounts make %s %%; %s %% are missing."), sum, off);
  return TRUE;
}

static int
compare_fraction (gconstpointer a,
                  gconstpointer b,
                  gpointer      user_data)
{
  double x = ((const Share *) a)->ppm, y = ((const Share *) b)->ppm;

  return (x < y) - (x > y);
}

/* Whole millionths, the largest fractions rounded up, so that the sum is the rounded sum. */
static void
round_shares (GArray *shares,
              double  sum_ppm)
{
  gint64 left = MIN (llround (sum_ppm), OG_PPM_WHOLE);

  for (guint i = 0; i < shares->len; i++)
    {
      Share *share = &g_array_index (shares, Share, i);

      share->line->amount = (OgPpm) floor (share->ppm);
      share->ppm -= share->line->amount;
      left -= share->line->amount;
    }
  g_qsort_with_data (shares->data, (int) shares->len, sizeof (Share), compare_fraction, NULL);
  for (guint i = 0; i < shares->len && left > 0; i++, left--)
    g_array_index (shares, Share, i).line->amount++;
}

static gboolean
settle_amounts (Table   *table,
                GError **error)
{
  double sum_ppm = 0;

  for (guint i = 0; i < table->shares->len; i++)
    sum_ppm += g_array_index (table->shares, Share, i).ppm;
  if (!check_sum (table, sum_ppm, error))
    return FALSE;
  round_shares (table->shares, sum_ppm);
  og_formula_balance (table->formula);
  return TRUE;
}

/* A temperature that all lines of a phase share is the temperature of the phase. */
static void
settle_temperature (OgFormulaPhase *phase)
{
  const OgFormulaLine *first = g_ptr_array_index (phase->lines, 0);
  double temperature_c = first->add_temperature_c;

  for (guint i = 0; i < phase->lines->len; i++)
    {
      const OgFormulaLine *line = g_ptr_array_index (phase->lines, i);

      if (!(line->add_temperature_c == temperature_c))
        return;
    }
  phase->temperature_c = temperature_c;
  for (guint i = 0; i < phase->lines->len; i++)
    ((OgFormulaLine *) g_ptr_array_index (phase->lines, i))->add_temperature_c = NAN;
}

static char *
title_from_name (const char *name)
{
  char *title = g_path_get_basename (name);
  char *dot = strrchr (title, '.');

  if (dot != NULL && dot != title)
    *dot = '\0';
  return title;
}

static gboolean
read_table (Table   *table,
            GError **error)
{
  gboolean found;
  guint width;

  if (!og_csv_read_header (&table->csv, column_names, N_COLUMNS, COLUMN_PERCENT + 1,
                           table->columns, error))
    return FALSE;

  width = table->csv.cells->len;
  while (TRUE)
    {
      if (!og_csv_next (&table->csv, &found, error))
        return FALSE;
      if (!found)
        break;
      if (!take_row (table, width, error))
        return FALSE;
    }
  if (!settle_amounts (table, error))
    return FALSE;
  for (guint i = 0; i < table->formula->phases->len; i++)
    settle_temperature (g_ptr_array_index (table->formula->phases, i));
  return TRUE;
}

static void
table_clear (Table *table)
{
  og_csv_clear (&table->csv);
  g_clear_pointer (&table->phases, g_hash_table_unref);
  g_clear_pointer (&table->shares, g_array_unref);
  g_clear_pointer (&table->formula, og_formula_free);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Table, table_clear)

OgFormula *
og_recipe_table_parse (const char       *text,
                       gssize            length,
                       const char       *name,
                       const OgCatalog  *catalog,
                       GError          **error)
{
  g_auto (Table) table = {
    .catalog = catalog,
  };

  g_return_val_if_fail (text != NULL && name != NULL && catalog != NULL, NULL);

  og_csv_init (&table.csv, text, length, name);
  table.phases = g_hash_table_new (g_str_hash, g_str_equal);
  table.shares = g_array_new (FALSE, FALSE, sizeof (Share));
  table.formula = og_formula_new ();
  g_free (table.formula->title);
  table.formula->title = title_from_name (name);

  if (!read_table (&table, error))
    return NULL;
  return g_steal_pointer (&table.formula);
}

/* --- writing --------------------------------------------------------------- */

static void
write_percent (GString *out,
               OgPpm    amount)
{
  int fraction = amount % OG_PPM_PER_PERCENT, digits = 4;

  g_string_append_printf (out, "%d", amount / OG_PPM_PER_PERCENT);
  if (fraction == 0)
    return;
  for (; fraction % 10 == 0; fraction /= 10)
    digits--;
  g_string_append_printf (out, ".%0*d", digits, fraction);
}

static double
line_temperature (const OgFormulaPhase *phase,
                  const OgFormulaLine  *line)
{
  return isnan (line->add_temperature_c) ? phase->temperature_c : line->add_temperature_c;
}

static void
look_for_extras (OgFormulaPhase *phase,
                 OgFormulaLine  *line,
                 gpointer        user_data)
{
  guint *counts = user_data;

  if (line->balance_share > 0)
    counts[0]++;
  if (!isnan (line_temperature (phase, line)))
    counts[1]++;
}

static void
write_line (GString              *out,
            const char           *phase_name,
            const OgFormulaPhase *phase,
            const OgFormulaLine  *line,
            const guint           counts[2])
{
  double temperature_c = line_temperature (phase, line);

  og_csv_put_text (out, phase_name);
  g_string_append_c (out, ',');
  og_csv_put_text (out, line->ingredient_id);
  g_string_append_c (out, ',');
  if (line->balance_share == 0)
    write_percent (out, line->amount);
  else if (counts[0] == 1 && line->balance_share == 1)
    g_string_append (out, "balance");
  else
    g_string_append_printf (out, "balance %u", line->balance_share);
  if (counts[1] > 0)
    g_string_append_c (out, ',');
  if (!isnan (temperature_c))
    og_csv_put_number (out, temperature_c);
  g_string_append_c (out, '\n');
}

/* Phases are told apart by name in a table: a name that came before is numbered. */
static char *
unique_name (GHashTable *used,
             const char *name)
{
  char *unique = g_strdup (name);

  for (guint n = 2; g_hash_table_contains (used, unique); n++)
    {
      g_free (unique);
      unique = g_strdup_printf ("%s (%u)", name, n);
    }
  g_hash_table_add (used, unique);
  return unique;
}

char *
og_recipe_table_write (const OgFormula *formula)
{
  g_autoptr (GHashTable) used = NULL;
  guint counts[2] = { 0, 0 };
  GString *out;

  g_return_val_if_fail (formula != NULL, NULL);

  used = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  og_formula_foreach_line (formula, look_for_extras, counts);
  out = g_string_new ("phase,ingredient,percent");
  if (counts[1] > 0)
    g_string_append (out, ",add_temperature_c");
  g_string_append_c (out, '\n');
  for (guint i = 0; i < formula->phases->len; i++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (formula->phases, i);
      const char *name = phase->lines->len > 0 ? unique_name (used, phase->name) : NULL;

      for (guint j = 0; j < phase->lines->len; j++)
        write_line (out, name, phase, g_ptr_array_index (phase->lines, j), counts);
    }
  return g_string_free (out, FALSE);
}

/* --- files ----------------------------------------------------------------- */

gboolean
og_recipe_is_document (const char *text)
{
  g_return_val_if_fail (text != NULL, FALSE);

  if (g_str_has_prefix (text, "\xef\xbb\xbf"))
    text += 3;
  while (g_ascii_isspace (*text))
    text++;
  return *text == '{' || *text == '[';
}

OgFormula *
og_recipe_load (const char  *path,
                OgCatalog   *catalog,
                GError     **error)
{
  g_autoptr (GBytes) bytes = NULL;
  g_autofree char *name = NULL;
  const char *text;
  gsize length;

  g_return_val_if_fail (path != NULL && catalog != NULL, NULL);

  name = g_filename_display_name (path);
  bytes = og_read_file (path, OG_JSON_MAX_BYTES, error);
  if (bytes == NULL)
    return NULL;
  text = g_bytes_get_data (bytes, &length);
  return og_recipe_is_document (text) ? og_storage_parse (bytes, name, catalog, error)
                                : og_recipe_table_parse (text, (gssize) length, name, catalog, error);
}
