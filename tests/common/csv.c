/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "csv.h"

#include <math.h>

static char **
take_fields (const char **cursor)
{
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  g_autoptr (GString) field = g_string_new (NULL);
  const char *p = *cursor;
  gboolean quoted = FALSE;

  for (;; p++)
    {
      if (quoted && *p == '"' && p[1] == '"')
        {
          g_string_append_c (field, '"');
          p++;
        }
      else if (*p == '"')
        quoted = !quoted;
      else if (*p == '\0' || (!quoted && (*p == ',' || *p == '\n')))
        {
          g_strv_builder_add (builder, field->str);
          g_string_truncate (field, 0);
          if (*p != ',')
            break;
        }
      else if (*p != '\r' || quoted)
        g_string_append_c (field, *p);
    }
  *cursor = *p == '\n' ? p + 1 : p;
  return g_strv_builder_end (builder);
}

CsvTable *
csv_table_load (const char *folder,
                const char *name)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  CsvTable *table = g_new0 (CsvTable, 1);
  const char *cursor;

  if (!g_file_get_contents (path, &text, NULL, &error))
    g_error ("%s", error->message);
  table->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) g_strfreev);
  for (cursor = text; *cursor != '\0';)
    g_ptr_array_add (table->rows, take_fields (&cursor));
  return table;
}

void
csv_table_free (CsvTable *table)
{
  g_ptr_array_unref (table->rows);
  g_free (table);
}

guint
csv_table_len (const CsvTable *table)
{
  return table->rows->len - 1;
}

const char *
csv_table_text (const CsvTable *table,
                guint           row,
                const char     *column)
{
  char **header = g_ptr_array_index (table->rows, 0);
  char **fields = g_ptr_array_index (table->rows, row + 1);

  for (guint i = 0; header[i] != NULL; i++)
    if (g_str_equal (header[i], column))
      {
        if (i >= g_strv_length (fields))
          g_error ("row %u has no field %s", row + 2, column);
        return fields[i];
      }
  g_error ("no column %s", column);
}

double
csv_table_number (const CsvTable *table,
                  guint           row,
                  const char     *column)
{
  const char *text = csv_table_text (table, row, column);
  char *end = NULL;
  double value;

  if (*text == '\0')
    return NAN;
  value = g_ascii_strtod (text, &end);
  if (*end != '\0')
    g_error ("row %u, column %s: %s is no number", row + 2, column, text);
  return value;
}
