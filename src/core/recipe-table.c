/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/recipe-table.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "core/error.h"
#include "core/storage.h"

#define MAX_TABLE_BYTES (16 * 1024 * 1024)
#define MAX_ROW_BYTES (64 * 1024)
#define MAX_ROWS 10000
#define MAX_NAME_LENGTH 10000
#define MAX_BALANCE_SHARE 1000000
#define LOWEST_TEMPERATURE_C (-100.0)
#define HIGHEST_TEMPERATURE_C 400.0
#define SHOWN_LENGTH 40

/* What floating-point sums of decimal percentages may be off by, in millionths. */
#define PPM_TOLERANCE 0.001

/* First letters that a spreadsheet, or this format, would not take as the beginning of a name. */
#define ESCAPED_LETTERS "=+-@#'"

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
  const char      *name;
  const OgCatalog *catalog;
  const char      *at;
  const char      *end;
  guint            line;     /* of the file, where we are */
  guint            row_line; /* of the file, where the row began */
  const char      *row_start;
  char             delimiter;
  GPtrArray       *cells;    /* of char*, the current row */
  int              columns[N_COLUMNS]; /* index in a row, or -1 */
  OgFormula       *formula;
  GHashTable      *phases;   /* name -> OgFormulaPhase */
  GArray          *shares;   /* of Share */
  guint            n_rows;
  guint            n_balance;
  guint            n_plain_balance;
} Table;

static gboolean G_GNUC_PRINTF (4, 5)
fail (const Table   *table,
      OgTableError   code,
      GError       **error,
      const char    *format,
      ...)
{
  g_autofree char *reason = NULL;
  va_list args;

  va_start (args, format);
  reason = g_strdup_vprintf (format, args);
  va_end (args);
  g_set_error (error, OG_TABLE_ERROR, (gint) code, "%s:%u: %s", table->name,
               table->row_line, reason);
  return FALSE;
}

/* Returns: (transfer full): a cell as a message may show it */
static char *
shown (const char *text)
{
  g_autofree char *start = NULL;

  if (g_utf8_strlen (text, -1) <= SHOWN_LENGTH)
    return g_strdup (text);
  start = g_utf8_substring (text, 0, SHOWN_LENGTH);
  return g_strconcat (start, "…", NULL);
}

/* --- rows of cells --------------------------------------------------------- */

static gboolean
check_text (Table   *table,
            GError **error)
{
  gsize length = (gsize) (table->end - table->at);
  const char *stop;

  if (length > MAX_TABLE_BYTES)
    return fail (table, OG_TABLE_ERROR_TOO_LARGE, error, _("The file is larger than %d MiB."),
                 MAX_TABLE_BYTES / (1024 * 1024));
  if (g_utf8_validate_len (table->at, length, &stop))
    return TRUE;

  for (const char *p = table->at; p < stop; p++)
    table->row_line += *p == '\n';
  if (*stop == '\0')
    return fail (table, OG_TABLE_ERROR_SYNTAX, error, _("The text holds a zero byte."));
  return fail (table, OG_TABLE_ERROR_SYNTAX, error, _("The text is not valid UTF-8."));
}

static gboolean
at_line_end (const Table *table)
{
  return table->at >= table->end || *table->at == '\n' || *table->at == '\r';
}

static void
skip_line_end (Table *table)
{
  if (table->at < table->end && *table->at == '\r')
    table->at++;
  else if (table->at >= table->end || *table->at != '\n')
    return;
  if (table->at < table->end && *table->at == '\n')
    table->at++;
  table->line++;
}

static gboolean
check_row_length (const Table  *table,
                  GError      **error)
{
  if (table->at - table->row_start <= MAX_ROW_BYTES)
    return TRUE;
  return fail (table, OG_TABLE_ERROR_TOO_LARGE, error, _("The row is longer than %d KiB."),
               MAX_ROW_BYTES / 1024);
}

static gboolean
read_quoted (Table    *table,
             GString  *cell,
             GError  **error)
{
  for (table->at++; table->at < table->end; table->at++)
    {
      if (!check_row_length (table, error))
        return FALSE;
      if (*table->at == '"')
        {
          if (table->at + 1 >= table->end || table->at[1] != '"')
            break;
          table->at++;
        }
      else if (*table->at == '\n'
               || (*table->at == '\r' && (table->at + 1 == table->end || table->at[1] != '\n')))
        {
          table->line++;
        }
      g_string_append_c (cell, *table->at);
    }
  if (table->at >= table->end)
    return fail (table, OG_TABLE_ERROR_SYNTAX, error,
                 _("A quotation mark is opened and never closed."));

  table->at++;
  while (table->at < table->end && (*table->at == ' ' || *table->at == '\t'))
    table->at++;
  if (!at_line_end (table) && *table->at != table->delimiter)
    return fail (table, OG_TABLE_ERROR_SYNTAX, error,
                 _("There is text between a closing quotation mark and the end of its cell."));
  return TRUE;
}

static gboolean
read_plain (Table    *table,
            GString  *cell,
            GError  **error)
{
  for (; !at_line_end (table) && *table->at != table->delimiter; table->at++)
    {
      if (!check_row_length (table, error))
        return FALSE;
      if (*table->at == '"')
        return fail (table, OG_TABLE_ERROR_SYNTAX, error,
                     _("A quotation mark stands inside a cell that does not begin with one."));
      g_string_append_c (cell, *table->at);
    }
  g_strchomp (cell->str);
  return TRUE;
}

static gboolean
read_cell (Table   *table,
           GError **error)
{
  g_autoptr (GString) cell = g_string_new (NULL);
  gboolean done;

  while (table->at < table->end && (*table->at == ' ' || *table->at == '\t'))
    table->at++;
  if (table->at < table->end && *table->at == '"')
    done = read_quoted (table, cell, error);
  else
    done = read_plain (table, cell, error);
  if (!done)
    return FALSE;
  g_ptr_array_add (table->cells, g_strdup (cell->str));
  return TRUE;
}

static gboolean
read_row (Table   *table,
          GError **error)
{
  g_ptr_array_set_size (table->cells, 0);
  while (TRUE)
    {
      if (!read_cell (table, error) || !check_row_length (table, error))
        return FALSE;
      if (at_line_end (table))
        break;
      table->at++;
    }
  skip_line_end (table);
  return TRUE;
}

static gboolean
row_is_empty (const Table *table)
{
  for (guint i = 0; i < table->cells->len; i++)
    {
      if (*(const char *) g_ptr_array_index (table->cells, i) != '\0')
        return FALSE;
    }
  return TRUE;
}

/* Comments are skipped unread, so that a lone quotation mark in one does no harm. */
static gboolean
skip_comment (Table    *table,
              gboolean *skipped,
              GError  **error)
{
  const char *p = table->at;

  while (p < table->end && (*p == ' ' || *p == '\t'))
    p++;
  *skipped = p < table->end && *p == '#';
  if (!*skipped)
    return TRUE;
  while (!at_line_end (table))
    table->at++;
  if (!check_row_length (table, error))
    return FALSE;
  skip_line_end (table);
  return TRUE;
}

/* Reads the next row that says something; @found tells whether there was one. */
static gboolean
next_row (Table    *table,
          gboolean *found,
          GError  **error)
{
  *found = FALSE;
  while (table->at < table->end)
    {
      gboolean skipped;

      table->row_start = table->at;
      table->row_line = table->line;
      if (!skip_comment (table, &skipped, error))
        return FALSE;
      if (skipped)
        continue;
      if (!read_row (table, error))
        return FALSE;
      if (row_is_empty (table) || *(const char *) g_ptr_array_index (table->cells, 0) == '#')
        continue;
      *found = TRUE;
      return TRUE;
    }
  return TRUE;
}

/* --- header ---------------------------------------------------------------- */

/* The mark that comes first in the header separates the cells; no name of a column holds one. */
static char
find_delimiter (const Table *table)
{
  gboolean comment = FALSE, fresh = TRUE;

  for (const char *p = table->at; p < table->end; p++)
    {
      if (*p == '\n' || *p == '\r')
        {
          comment = FALSE;
          fresh = TRUE;
          continue;
        }
      if (fresh && *p == '#')
        comment = TRUE;
      if (*p != ' ' && *p != '\t')
        fresh = FALSE;
      if (!comment && (*p == ',' || *p == ';'))
        return *p;
    }
  return ',';
}

static gboolean
take_column (Table       *table,
             guint        index,
             const char  *title,
             GError     **error)
{
  g_autofree char *text = NULL;

  for (guint i = 0; i < N_COLUMNS; i++)
    {
      if (g_ascii_strcasecmp (title, column_names[i]) != 0)
        continue;
      if (table->columns[i] >= 0)
        return fail (table, OG_TABLE_ERROR_HEADER, error,
                     _("The column “%s” occurs twice."), column_names[i]);
      table->columns[i] = (int) index;
      return TRUE;
    }
  if (*title == '\0')
    return TRUE;

  text = shown (title);
  return fail (table, OG_TABLE_ERROR_HEADER, error,
               _("The column “%s” is not one of phase, ingredient, percent, add_temperature_c."),
               text);
}

static gboolean
read_header (Table   *table,
             GError **error)
{
  gboolean found;

  table->delimiter = find_delimiter (table);
  if (!next_row (table, &found, error))
    return FALSE;
  if (!found)
    return fail (table, OG_TABLE_ERROR_HEADER, error,
                 _("The table is empty; it must begin with phase,ingredient,percent."));

  for (guint i = 0; i < table->cells->len; i++)
    {
      g_autofree char *title = g_strstrip (g_strdup (g_ptr_array_index (table->cells, i)));

      if (!take_column (table, i, title, error))
        return FALSE;
    }
  for (guint i = 0; i <= COLUMN_PERCENT; i++)
    {
      if (table->columns[i] < 0)
        return fail (table, OG_TABLE_ERROR_HEADER, error,
                     _("The first row does not name the column “%s”."), column_names[i]);
    }
  return TRUE;
}

/* --- rows of the recipe ---------------------------------------------------- */

static const char *
cell_at (const Table *table,
         Column       column)
{
  int index = table->columns[column];

  if (index < 0 || (guint) index >= table->cells->len)
    return "";
  return g_ptr_array_index (table->cells, (guint) index);
}

static const char *
without_escape (const char *name)
{
  if (name[0] == '\'' && name[1] != '\0' && strchr (ESCAPED_LETTERS, name[1]) != NULL)
    return name + 1;
  return name;
}

static gboolean
check_width (const Table  *table,
             guint         width,
             GError      **error)
{
  for (guint i = width; i < table->cells->len; i++)
    {
      if (*(const char *) g_ptr_array_index (table->cells, i) != '\0')
        return fail (table, OG_TABLE_ERROR_SYNTAX, error,
                     _("The row has more cells than the first row; "
                       "put quotation marks around a number with a decimal comma."));
    }
  return TRUE;
}

static OgFormulaPhase *
find_phase (Table   *table,
            GError **error)
{
  const char *name = without_escape (cell_at (table, COLUMN_PHASE));
  OgFormulaPhase *phase = g_hash_table_lookup (table->phases, name);

  if (phase != NULL)
    return phase;
  if (g_utf8_strlen (name, -1) > MAX_NAME_LENGTH)
    {
      fail (table, OG_TABLE_ERROR_VALUE, error,
            _("The name of the phase is longer than %d characters."), MAX_NAME_LENGTH);
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
  const char *name = without_escape (cell_at (table, COLUMN_INGREDIENT));
  g_autoptr (GError) reason = NULL;
  const OgIngredient *ingredient;

  if (*name == '\0')
    {
      fail (table, OG_TABLE_ERROR_INGREDIENT, error, _("The row names no ingredient."));
      return NULL;
    }
  if (g_utf8_strlen (name, -1) > MAX_NAME_LENGTH)
    {
      fail (table, OG_TABLE_ERROR_VALUE, error,
            _("The name of the ingredient is longer than %d characters."), MAX_NAME_LENGTH);
      return NULL;
    }
  ingredient = og_catalog_resolve (table->catalog, name, &reason);
  if (ingredient == NULL)
    fail (table, OG_TABLE_ERROR_INGREDIENT, error, "%s", reason->message);
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
      && !g_ascii_string_to_unsigned (rest, 10, 1, MAX_BALANCE_SHARE, &parts, NULL))
    return fail (table, OG_TABLE_ERROR_BALANCE, error,
                 _("After “balance” there must be a whole number of parts, or nothing."));

  *share = (guint) parts;
  table->n_balance++;
  table->n_plain_balance += *rest == '\0';
  if (table->n_balance > 1 && table->n_plain_balance > 0)
    return fail (table, OG_TABLE_ERROR_BALANCE, error,
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
  g_autofree char *text_shown = shown (text);
  Share share = { .line = line };
  double pct;

  if (!read_balance (table, text, &line->balance_share, error))
    return FALSE;
  if (line->balance_share > 0)
    return TRUE;
  if (*text == '\0')
    return fail (table, OG_TABLE_ERROR_VALUE, error, _("The row has no percent."));
  if (!og_parse_number (text, &pct))
    return fail (table, OG_TABLE_ERROR_VALUE, error,
                 _("The percent “%s” is neither a number nor “balance”."), text_shown);
  if (!(pct >= 0 && pct <= 100))
    return fail (table, OG_TABLE_ERROR_VALUE, error,
                 _("The percent “%s” does not lie between 0 and 100."), text_shown);

  share.ppm = pct * OG_PPM_PER_PERCENT;
  g_array_append_val (table->shares, share);
  return TRUE;
}

static gboolean
read_temperature (Table          *table,
                  OgFormulaLine  *line,
                  GError        **error)
{
  g_autofree char *text = g_strstrip (g_strdup (cell_at (table, COLUMN_ADD_TEMPERATURE_C)));
  g_autofree char *text_shown = shown (text);
  double temperature_c;

  if (*text == '\0')
    return TRUE;
  if (!og_parse_number (text, &temperature_c)
      || temperature_c < LOWEST_TEMPERATURE_C || temperature_c > HIGHEST_TEMPERATURE_C)
    return fail (table, OG_TABLE_ERROR_VALUE, error,
                 _("The temperature “%s” is not a number between %g and %g."),
                 text_shown, LOWEST_TEMPERATURE_C, HIGHEST_TEMPERATURE_C);
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
    return fail (table, OG_TABLE_ERROR_TOO_LARGE, error,
                 _("The table has more than %d rows."), MAX_ROWS);
  if (!check_width (table, width, error))
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
  char sum[G_ASCII_DTOSTR_BUF_SIZE], off[G_ASCII_DTOSTR_BUF_SIZE];
  double off_ppm = fabs (sum_ppm - OG_PPM_WHOLE);

  g_ascii_formatd (sum, sizeof sum, "%.10g", sum_ppm / OG_PPM_PER_PERCENT);
  g_ascii_formatd (off, sizeof off, "%.10g", off_ppm / OG_PPM_PER_PERCENT);
  if (sum_ppm > OG_PPM_WHOLE + PPM_TOLERANCE)
    return fail (table, OG_TABLE_ERROR_SUM, error,
                 _("The amounts make %s %%; that is %s %% too much."), sum, off);
  if (table->n_balance == 0 && sum_ppm < OG_PPM_WHOLE - PPM_TOLERANCE)
    return fail (table, OG_TABLE_ERROR_SUM, error,
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

  if (!check_text (table, error))
    return FALSE;
  if (table->end - table->at >= 3 && memcmp (table->at, "\xef\xbb\xbf", 3) == 0)
    table->at += 3;
  if (!read_header (table, error))
    return FALSE;

  width = table->cells->len;
  while (TRUE)
    {
      if (!next_row (table, &found, error))
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
  g_clear_pointer (&table->cells, g_ptr_array_unref);
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
    .name = name,
    .catalog = catalog,
    .line = 1,
    .row_line = 1,
    .columns = { -1, -1, -1, -1 },
  };

  g_return_val_if_fail (text != NULL && name != NULL && catalog != NULL, NULL);

  table.at = text;
  table.end = text + (length < 0 ? (gssize) strlen (text) : length);
  table.cells = g_ptr_array_new_with_free_func (g_free);
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
write_name (GString    *out,
            const char *name)
{
  gsize length = strlen (name);
  gboolean quote = strpbrk (name, ",;\"\r\n") != NULL
                   || g_ascii_isspace (name[0])
                   || (length > 0 && g_ascii_isspace (name[length - 1]));

  if (quote)
    g_string_append_c (out, '"');
  if (length > 0 && strchr (ESCAPED_LETTERS, name[0]) != NULL)
    g_string_append_c (out, '\'');
  for (const char *p = name; *p != '\0'; p++)
    {
      if (*p == '"')
        g_string_append_c (out, '"');
      g_string_append_c (out, *p);
    }
  if (quote)
    g_string_append_c (out, '"');
}

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
  char number[G_ASCII_DTOSTR_BUF_SIZE];
  double temperature_c = line_temperature (phase, line);

  write_name (out, phase_name);
  g_string_append_c (out, ',');
  write_name (out, line->ingredient_id);
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
    g_string_append (out, g_ascii_formatd (number, sizeof number, "%.15g", temperature_c));
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

static gboolean
fail_file (const char  *name,
           int          code,
           GError     **error)
{
  g_set_error (error, G_FILE_ERROR, (int) g_file_error_from_errno (code),
               _("%s: The file cannot be read: %s"), name, g_strerror (code));
  return FALSE;
}

/* Never takes in more than the cap, so that an endless device cannot fill the memory. */
static gboolean
read_file (const char  *path,
           const char  *name,
           GByteArray  *bytes,
           GError     **error)
{
  guint8 block[64 * 1024];
  FILE *file = g_fopen (path, "rb");
  gsize n;
  int code = 0;

  if (file == NULL)
    return fail_file (name, errno, error);
  while (bytes->len <= OG_STORAGE_MAX_BYTES && (n = fread (block, 1, sizeof block, file)) > 0)
    g_byte_array_append (bytes, block, (guint) n);
  if (ferror (file))
    code = errno;
  fclose (file);
  if (code != 0)
    return fail_file (name, code, error);
  return TRUE;
}

static gboolean
looks_like_json (const GByteArray *bytes)
{
  guint i = bytes->len >= 3 && memcmp (bytes->data, "\xef\xbb\xbf", 3) == 0 ? 3 : 0;

  while (i < bytes->len && g_ascii_isspace ((char) bytes->data[i]))
    i++;
  return i < bytes->len && (bytes->data[i] == '{' || bytes->data[i] == '[');
}

OgFormula *
og_recipe_load (const char  *path,
                OgCatalog   *catalog,
                GError     **error)
{
  g_autoptr (GByteArray) buffer = NULL;
  g_autoptr (GBytes) bytes = NULL;
  g_autofree char *name = NULL;
  gboolean json;
  gsize length;

  g_return_val_if_fail (path != NULL && catalog != NULL, NULL);

  name = g_filename_display_name (path);
  buffer = g_byte_array_new ();
  if (!read_file (path, name, buffer, error))
    return NULL;
  json = looks_like_json (buffer);
  bytes = g_byte_array_free_to_bytes (g_steal_pointer (&buffer));
  if (json)
    return og_storage_parse (bytes, name, catalog, error);

  length = g_bytes_get_size (bytes);
  return og_recipe_table_parse (length > 0 ? g_bytes_get_data (bytes, NULL) : "", (gssize) length,
                                name, catalog, error);
}
