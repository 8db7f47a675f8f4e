/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/base/csv.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* No recipe fills it; what does is another kind of file. */
#define MAX_TABLE_BYTES (16 * 1024 * 1024)
#define MAX_ROW_BYTES (64 * 1024) /* a quotation mark left open swallows no more than this */
#define SHOWN_LENGTH 40 /* characters of a cell that a message repeats */

/* First letters that a spreadsheet, or these tables, would not take as the beginning of a text. */
#define ESCAPED_LETTERS "=+-@#'"

void
og_csv_init (OgCsv      *csv,
             const char *text,
             gssize      length,
             const char *name)
{
  csv->name = name;
  csv->at = text;
  csv->end = text + (length < 0 ? (gssize) strlen (text) : length);
  csv->line = 1;
  csv->row_line = 1;
  csv->row_start = text;
  csv->delimiter = ',';
  csv->cells = g_ptr_array_new_with_free_func (g_free);
}

void
og_csv_clear (OgCsv *csv)
{
  g_clear_pointer (&csv->cells, g_ptr_array_unref);
}

gboolean
og_csv_fail (const OgCsv   *csv,
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
  g_set_error (error, OG_TABLE_ERROR, (gint) code, "%s:%u: %s", csv->name,
               csv->row_line, reason);
  return FALSE;
}

char *
og_csv_shown (const char *text)
{
  g_autofree char *start = NULL;

  if (g_utf8_strlen (text, -1) <= SHOWN_LENGTH)
    return g_strdup (text);
  start = g_utf8_substring (text, 0, SHOWN_LENGTH);
  return g_strconcat (start, "…", NULL);
}

/* --- rows of cells --------------------------------------------------------- */

static gboolean
check_text (OgCsv   *csv,
            GError **error)
{
  gsize length = (gsize) (csv->end - csv->at);
  const char *stop;

  if (length > MAX_TABLE_BYTES)
    return og_csv_fail (csv, OG_TABLE_ERROR_TOO_LARGE, error, _("The file is larger than %d MiB."),
                        MAX_TABLE_BYTES / (1024 * 1024));
  if (g_utf8_validate_len (csv->at, length, &stop))
    return TRUE;

  for (const char *p = csv->at; p < stop; p++)
    csv->row_line += *p == '\n';
  if (*stop == '\0')
    return og_csv_fail (csv, OG_TABLE_ERROR_SYNTAX, error, _("The text holds a zero byte."));
  return og_csv_fail (csv, OG_TABLE_ERROR_SYNTAX, error, _("The text is not valid UTF-8."));
}

static gboolean
at_line_end (const OgCsv *csv)
{
  return csv->at >= csv->end || *csv->at == '\n' || *csv->at == '\r';
}

static void
skip_line_end (OgCsv *csv)
{
  if (csv->at < csv->end && *csv->at == '\r')
    csv->at++;
  else if (csv->at >= csv->end || *csv->at != '\n')
    return;
  if (csv->at < csv->end && *csv->at == '\n')
    csv->at++;
  csv->line++;
}

static gboolean
check_row_length (const OgCsv  *csv,
                  GError      **error)
{
  if (csv->at - csv->row_start <= MAX_ROW_BYTES)
    return TRUE;
  return og_csv_fail (csv, OG_TABLE_ERROR_TOO_LARGE, error, _("The row is longer than %d KiB."),
                      MAX_ROW_BYTES / 1024);
}

static gboolean
read_quoted (OgCsv    *csv,
             GString  *cell,
             GError  **error)
{
  for (csv->at++; csv->at < csv->end; csv->at++)
    {
      if (!check_row_length (csv, error))
        return FALSE;
      if (*csv->at == '"')
        {
          if (csv->at + 1 >= csv->end || csv->at[1] != '"')
            break;
          csv->at++;
        }
      else if (*csv->at == '\n'
               || (*csv->at == '\r' && (csv->at + 1 == csv->end || csv->at[1] != '\n')))
        {
          csv->line++;
        }
      g_string_append_c (cell, *csv->at);
    }
  if (csv->at >= csv->end)
    return og_csv_fail (csv, OG_TABLE_ERROR_SYNTAX, error,
                        _("A quotation mark is opened and never closed."));

  csv->at++;
  while (csv->at < csv->end && (*csv->at == ' ' || *csv->at == '\t'))
    csv->at++;
  if (!at_line_end (csv) && *csv->at != csv->delimiter)
    return og_csv_fail (csv, OG_TABLE_ERROR_SYNTAX, error,
                        _("There is text between a closing quotation mark and the end of its "
                          "cell."));
  return TRUE;
}

static gboolean
read_plain (OgCsv    *csv,
            GString  *cell,
            GError  **error)
{
  for (; !at_line_end (csv) && *csv->at != csv->delimiter; csv->at++)
    {
      if (!check_row_length (csv, error))
        return FALSE;
      if (*csv->at == '"')
        return og_csv_fail (csv, OG_TABLE_ERROR_SYNTAX, error,
                            _("A quotation mark stands inside a cell that does not begin with "
                              "one."));
      g_string_append_c (cell, *csv->at);
    }
  g_strchomp (cell->str);
  return TRUE;
}

static gboolean
read_cell (OgCsv   *csv,
           GError **error)
{
  g_autoptr (GString) cell = g_string_new (NULL);
  gboolean done;

  while (csv->at < csv->end && (*csv->at == ' ' || *csv->at == '\t'))
    csv->at++;
  if (csv->at < csv->end && *csv->at == '"')
    done = read_quoted (csv, cell, error);
  else
    done = read_plain (csv, cell, error);
  if (!done)
    return FALSE;
  g_ptr_array_add (csv->cells, g_strdup (cell->str));
  return TRUE;
}

static gboolean
read_row (OgCsv   *csv,
          GError **error)
{
  g_ptr_array_set_size (csv->cells, 0);
  while (TRUE)
    {
      if (!read_cell (csv, error) || !check_row_length (csv, error))
        return FALSE;
      if (at_line_end (csv))
        break;
      csv->at++;
    }
  skip_line_end (csv);
  return TRUE;
}

static gboolean
row_is_empty (const OgCsv *csv)
{
  for (guint i = 0; i < csv->cells->len; i++)
    {
      if (*(const char *) g_ptr_array_index (csv->cells, i) != '\0')
        return FALSE;
    }
  return TRUE;
}

/* Comments are skipped unread, so that a lone quotation mark in one does no harm. */
static gboolean
skip_comment (OgCsv    *csv,
              gboolean *skipped,
              GError  **error)
{
  const char *p = csv->at;

  while (p < csv->end && (*p == ' ' || *p == '\t'))
    p++;
  *skipped = p < csv->end && *p == '#';
  if (!*skipped)
    return TRUE;
  while (!at_line_end (csv))
    csv->at++;
  if (!check_row_length (csv, error))
    return FALSE;
  skip_line_end (csv);
  return TRUE;
}

gboolean
og_csv_next (OgCsv     *csv,
             gboolean  *found,
             GError   **error)
{
  *found = FALSE;
  while (csv->at < csv->end)
    {
      gboolean skipped;

      csv->row_start = csv->at;
      csv->row_line = csv->line;
      if (!skip_comment (csv, &skipped, error))
        return FALSE;
      if (skipped)
        continue;
      if (!read_row (csv, error))
        return FALSE;
      if (row_is_empty (csv) || *(const char *) g_ptr_array_index (csv->cells, 0) == '#')
        continue;
      *found = TRUE;
      return TRUE;
    }
  return TRUE;
}

/* --- header ---------------------------------------------------------------- */

/* The mark that comes first in the header separates the cells; no name of a column holds one. */
static char
find_delimiter (const OgCsv *csv)
{
  gboolean comment = FALSE, fresh = TRUE;

  for (const char *p = csv->at; p < csv->end; p++)
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

/* Returns: (transfer full) */
static char *
join (const char *const *names,
      guint              n_names,
      const char        *separator)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < n_names; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? separator : "", names[i]);

  return g_string_free (text, FALSE);
}

static gboolean
take_column (const OgCsv        *csv,
             guint               index,
             const char         *title,
             const char *const  *names,
             guint               n_names,
             int                *columns,
             GError            **error)
{
  g_autofree char *text = NULL;
  g_autofree char *known = NULL;

  for (guint i = 0; i < n_names; i++)
    {
      if (g_ascii_strcasecmp (title, names[i]) != 0)
        continue;
      if (columns[i] >= 0)
        return og_csv_fail (csv, OG_TABLE_ERROR_HEADER, error, _("The column “%s” occurs twice."),
                                   names[i]);
      columns[i] = (int) index;
      return TRUE;
    }
  if (*title == '\0')
    return TRUE;

  text = og_csv_shown (title);
  known = join (names, n_names, ", ");
  return og_csv_fail (csv, OG_TABLE_ERROR_HEADER, error, _("The column “%s” is not one of %s."),
                             text, known);
}

static gboolean
read_titles (OgCsv              *csv,
             const char *const  *names,
             guint               n_names,
             int                *columns,
             GError            **error)
{
  for (guint i = 0; i < csv->cells->len; i++)
    {
      g_autofree char *title = g_strstrip (g_strdup (g_ptr_array_index (csv->cells, i)));

      if (!take_column (csv, i, title, names, n_names, columns, error))
        return FALSE;
    }

  return TRUE;
}

gboolean
og_csv_read_header (OgCsv              *csv,
                    const char *const  *names,
                    guint               n_names,
                    guint               n_needed,
                    int                *columns,
                    GError            **error)
{
  g_autofree char *needed = join (names, n_needed, ",");
  gboolean found;

  for (guint i = 0; i < n_names; i++)
    columns[i] = -1;
  if (!check_text (csv, error))
    return FALSE;
  if (csv->end - csv->at >= 3 && memcmp (csv->at, "\xef\xbb\xbf", 3) == 0)
    csv->at += 3;
  csv->delimiter = find_delimiter (csv);
  if (!og_csv_next (csv, &found, error))
    return FALSE;
  if (!found)
    return og_csv_fail (csv, OG_TABLE_ERROR_HEADER, error,
                               _("The table is empty; it must begin with %s."), needed);
  if (!read_titles (csv, names, n_names, columns, error))
    return FALSE;
  for (guint i = 0; i < n_needed; i++)
    {
      if (columns[i] < 0)
        return og_csv_fail (csv, OG_TABLE_ERROR_HEADER, error,
                                   _("The first row does not name the column “%s”."), names[i]);
    }

  return TRUE;
}

/* --- cells ------------------------------------------------------------------- */

const char *
og_csv_get_cell (const OgCsv *csv,
                 int          index)
{
  if (index < 0 || (guint) index >= csv->cells->len)
    return "";

  return g_ptr_array_index (csv->cells, (guint) index);
}

void
og_csv_put_number (GString *out,
                   double   number)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  g_string_append (out, g_ascii_formatd (text, sizeof text, "%.15g", number));
}

const char *
og_csv_unescape (const char *text)
{
  if (text[0] == '\'' && text[1] != '\0' && strchr (ESCAPED_LETTERS, text[1]) != NULL)
    return text + 1;
  return text;
}

gboolean
og_csv_check_width (const OgCsv  *csv,
                    guint         width,
                    GError      **error)
{
  for (guint i = width; i < csv->cells->len; i++)
    {
      if (*(const char *) g_ptr_array_index (csv->cells, i) != '\0')
        return og_csv_fail (csv, OG_TABLE_ERROR_SYNTAX, error,
                            _("The row has more cells than the first row; "
                              "put quotation marks around a number with a decimal comma."));
    }
  return TRUE;
}

/* --- writing --------------------------------------------------------------- */

void
og_csv_put_text (GString    *out,
                 const char *text)
{
  gsize length = strlen (text);
  gboolean quote = strpbrk (text, ",;\"\r\n") != NULL
                   || g_ascii_isspace (text[0])
                   || (length > 0 && g_ascii_isspace (text[length - 1]));

  if (quote)
    g_string_append_c (out, '"');
  if (length > 0 && strchr (ESCAPED_LETTERS, text[0]) != NULL)
    g_string_append_c (out, '\'');
  for (const char *p = text; *p != '\0'; p++)
    {
      if (*p == '"')
        g_string_append_c (out, '"');
      g_string_append_c (out, *p);
    }
  if (quote)
    g_string_append_c (out, '"');
}
