/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/text-table.h"

#include <string.h>

#define LINE_COLUMNS 78
#define GAP "  "

struct _OgTextTable
{
  char      *alignment;
  GPtrArray *rows; /* of char **, as many cells as columns */
};

/* Columns that a terminal gives the text. */
static guint
text_columns (const char *text)
{
  guint columns = 0;

  for (const char *p = text; *p != '\0'; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);

      if (!g_unichar_iszerowidth (c))
        columns += g_unichar_iswide (c) ? 2 : 1;
    }

  return columns;
}

static void
put_spaces (GString *out,
            guint    n)
{
  while (n-- > 0)
    g_string_append_c (out, ' ');
}

OgTextTable *
og_text_table_new (const char *alignment)
{
  OgTextTable *table = g_new0 (OgTextTable, 1);

  table->alignment = g_strdup (alignment);
  table->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) g_strfreev);

  return table;
}

void
og_text_table_free (OgTextTable *table)
{
  g_free (table->alignment);
  g_ptr_array_unref (table->rows);
  g_free (table);
}

void
og_text_table_add (OgTextTable       *table,
                   const char *const *cells)
{
  size_t n_columns = strlen (table->alignment);
  char **row = g_new0 (char *, n_columns + 1);

  for (size_t i = 0; i < n_columns; i++)
    row[i] = cells[i] != NULL ? g_utf8_make_valid (cells[i], -1) : g_strdup ("");

  g_ptr_array_add (table->rows, row);
}

static void
put_row (OgTextTable  *table,
         char        **row,
         const guint  *widths,
         guint         indent,
         GString      *out)
{
  size_t n_columns = strlen (table->alignment);

  put_spaces (out, indent);
  for (size_t i = 0; i < n_columns; i++)
    {
      guint padding = widths[i] - text_columns (row[i]);

      if (i > 0)
        g_string_append (out, GAP);
      if (table->alignment[i] == 'r')
        put_spaces (out, padding);
      g_string_append (out, row[i]);
      if (table->alignment[i] != 'r')
        put_spaces (out, padding);
    }
  while (out->len > 0 && out->str[out->len - 1] == ' ')
    g_string_truncate (out, out->len - 1);
  g_string_append_c (out, '\n');
}

static void
put_rule (guint    columns,
          guint    indent,
          GString *out)
{
  put_spaces (out, indent);
  for (guint i = 0; i < columns; i++)
    g_string_append (out, "─");
  g_string_append_c (out, '\n');
}

void
og_text_table_put (OgTextTable *table,
                   guint        indent,
                   GString     *out)
{
  size_t n_columns = strlen (table->alignment);
  g_autofree guint *widths = g_new0 (guint, n_columns);
  guint total = 0;

  for (guint r = 0; r < table->rows->len; r++)
    {
      char **row = g_ptr_array_index (table->rows, r);

      for (size_t i = 0; i < n_columns; i++)
        widths[i] = MAX (widths[i], text_columns (row[i]));
    }
  for (size_t i = 0; i < n_columns; i++)
    total += widths[i] + (i > 0 ? strlen (GAP) : 0);

  for (guint r = 0; r < table->rows->len; r++)
    {
      put_row (table, g_ptr_array_index (table->rows, r), widths, indent, out);
      if (r == 0)
        put_rule (total, indent, out);
    }
}

void
og_text_put_wrapped (const char *lead,
                     const char *text,
                     GString    *out)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);
  g_auto (GStrv) words = g_strsplit_set (valid, " \t\n\r", -1);
  guint indent = text_columns (lead);
  guint column = indent;
  gboolean begun = FALSE;

  g_string_append (out, lead);
  for (guint i = 0; words[i] != NULL; i++)
    {
      guint columns = text_columns (words[i]);

      if (columns == 0)
        continue;
      if (begun && column + 1 + columns > LINE_COLUMNS)
        {
          g_string_append_c (out, '\n');
          put_spaces (out, indent);
          column = indent;
        }
      else if (begun)
        {
          g_string_append_c (out, ' ');
          column++;
        }
      g_string_append (out, words[i]);
      column += columns;
      begun = TRUE;
    }
  g_string_append_c (out, '\n');
}
