/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/base/json-read.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <math.h>
#include <string.h>

#include "core/base/dates.h"
#include "core/base/error.h"
#include "core/base/number-text.h"

/* --- what is wrong --------------------------------------------------------- */

static void
append_path (GString            *text,
             const OgJsonReader *reader)
{
  if (reader->parent == NULL || reader->label != NULL)
    return;

  append_path (text, reader->parent);
  g_string_append (text, reader->member);
  if (reader->index >= 0)
    g_string_append_printf (text, "[%d]", reader->index);
  g_string_append_c (text, '.');
}

static const char *
find_label (const OgJsonReader *reader)
{
  while (reader != NULL && reader->label == NULL)
    reader = reader->parent;
  return reader != NULL ? reader->label : NULL;
}

static gboolean G_GNUC_PRINTF (4, 0)
fail_valist (const OgJsonReader *reader,
             const char         *member,
             int                 code,
             const char         *format,
             va_list             args)
{
  const OgJsonContext *context = reader->context;
  g_autoptr (GString) text = g_string_new (NULL);
  const char *label = find_label (reader);

  if (context->file != NULL)
    g_string_append_printf (text, "%s:%u: ", context->file->name,
                            og_json_file_get_line (context->file, reader->object));
  if (label != NULL)
    g_string_append_printf (text, "%s: ", label);
  if (member != NULL)
    {
      append_path (text, reader);
      g_string_append_printf (text, "%s: ", member);
    }
  g_string_append_vprintf (text, format, args);
  g_set_error_literal (context->error, context->domain, code, text->str);
  return FALSE;
}

gboolean
og_json_fail (const OgJsonReader *reader,
              const char         *member,
              const char         *format,
              ...)
{
  va_list args;

  va_start (args, format);
  fail_valist (reader, member, reader->context->code, format, args);
  va_end (args);
  return FALSE;
}

gboolean
og_json_fail_code (const OgJsonReader *reader,
                   const char         *member,
                   int                 code,
                   const char         *format,
                   ...)
{
  va_list args;

  va_start (args, format);
  fail_valist (reader, member, code, format, args);
  va_end (args);
  return FALSE;
}

gboolean
og_json_fail_word (const OgJsonReader *reader,
                   const char         *member,
                   const char         *word)
{
  return og_json_fail (reader, member, _("“%s” is not one of the words allowed"), word);
}

/* --- members --------------------------------------------------------------- */

gboolean
og_json_check_members (const OgJsonReader *reader,
                       const char *const  *known)
{
  JsonObjectIter iter;
  const char *member;

  json_object_iter_init (&iter, reader->object);
  while (json_object_iter_next (&iter, &member, NULL))
    if (!g_strv_contains (known, member))
      return og_json_fail (reader, member, "%s", _("is not a member of the format"));
  return TRUE;
}

OgJsonFound
og_json_find (const OgJsonReader  *reader,
              const char          *member,
              OgJsonNeed           need,
              JsonNode           **node)
{
  *node = json_object_get_member (reader->object, member);
  if (*node == NULL)
    {
      if (need == OG_JSON_OPTIONAL || reader->nulls == OG_JSON_NULL_REMOVES)
        return OG_JSON_ABSENT;
      og_json_fail (reader, member, "%s", _("is missing"));
      return OG_JSON_FAULT;
    }
  if (need == OG_JSON_REQUIRED || !JSON_NODE_HOLDS_NULL (*node)
      || reader->nulls == OG_JSON_NULL_REFUSED)
    return OG_JSON_FOUND;
  return reader->nulls == OG_JSON_NULL_REMOVES ? OG_JSON_REMOVED : OG_JSON_ABSENT;
}

static gboolean
holds (JsonNode *node,
       GType     type)
{
  return JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == type;
}

static gboolean
get_number (JsonNode *node,
            double   *number)
{
  if (!holds (node, G_TYPE_INT64) && !holds (node, G_TYPE_DOUBLE))
    return FALSE;

  *number = json_node_get_double (node);
  return isfinite (*number);
}

static gboolean
is_blank (const char *text)
{
  return text[strspn (text, " \t\r\n")] == '\0';
}

static gboolean
is_text (JsonNode *node)
{
  return holds (node, G_TYPE_STRING) && !is_blank (json_node_get_string (node));
}

gboolean
og_json_peek_text (const OgJsonReader  *reader,
                   const char          *member,
                   OgJsonNeed           need,
                   const char         **out)
{
  JsonNode *node;
  OgJsonFound found = og_json_find (reader, member, need, &node);

  if (found == OG_JSON_FOUND && !is_text (node))
    return og_json_fail (reader, member, "%s", _("must be a text that is not empty"));
  if (found == OG_JSON_FOUND || found == OG_JSON_REMOVED)
    *out = found == OG_JSON_FOUND ? json_node_get_string (node) : NULL;
  return found != OG_JSON_FAULT;
}

static gboolean
take_text (const OgJsonReader  *reader,
           const char          *member,
           glong                max_length,
           const char          *text,
           char               **out)
{
  if (text != NULL && g_utf8_strlen (text, -1) > max_length)
    return og_json_fail (reader, member, _("is longer than %ld characters"), max_length);

  g_free (*out);
  *out = g_strdup (text);
  return TRUE;
}

gboolean
og_json_read_text (const OgJsonReader  *reader,
                   const char          *member,
                   OgJsonNeed           need,
                   char               **out)
{
  const char *text = *out;

  return og_json_peek_text (reader, member, need, &text)
         && (text == *out || take_text (reader, member, G_MAXLONG, text, out));
}

gboolean
og_json_read_name (const OgJsonReader  *reader,
                   const char          *member,
                   OgJsonNeed           need,
                   glong                max_length,
                   char               **out)
{
  JsonNode *node;
  OgJsonFound found = og_json_find (reader, member, need, &node);

  if (found == OG_JSON_FAULT || found == OG_JSON_ABSENT)
    return found == OG_JSON_ABSENT;
  if (found == OG_JSON_FOUND
      && (!holds (node, G_TYPE_STRING) || *json_node_get_string (node) == '\0'))
    return og_json_fail (reader, member, "%s", _("must be a text that is not empty"));
  return take_text (reader, member, max_length,
                    found == OG_JSON_FOUND ? json_node_get_string (node) : NULL, out);
}

gboolean
og_json_read_note (const OgJsonReader  *reader,
                   const char          *member,
                   glong                max_length,
                   char               **out)
{
  JsonNode *node;
  OgJsonFound found = og_json_find (reader, member, OG_JSON_OPTIONAL, &node);

  if (found == OG_JSON_ABSENT)
    return TRUE;
  if (found == OG_JSON_FOUND && !holds (node, G_TYPE_STRING))
    return og_json_fail (reader, member, "%s", _("must be a text"));
  return take_text (reader, member, max_length,
                    found == OG_JSON_FOUND ? json_node_get_string (node) : NULL, out);
}

static gboolean
fail_range (const OgJsonReader *reader,
            const char         *member,
            double              number,
            double              low,
            double              high)
{
  g_autofree char *number_text = og_number_as_given (number);
  g_autofree char *low_text = og_number_as_given (low);
  g_autofree char *high_text = og_number_as_given (high);

  return og_json_fail (reader, member, _("%s is outside %s to %s"), number_text, low_text,
                       high_text);
}

gboolean
og_json_read_number (const OgJsonReader *reader,
                     const char         *member,
                     OgJsonNeed          need,
                     double              low,
                     double              high,
                     double             *out)
{
  double number = NAN;
  JsonNode *node;
  OgJsonFound found = og_json_find (reader, member, need, &node);

  if (found == OG_JSON_FAULT || found == OG_JSON_ABSENT)
    return found == OG_JSON_ABSENT;
  if (found == OG_JSON_FOUND && !get_number (node, &number))
    return og_json_fail (reader, member, "%s", _("must be a finite number"));
  if (number < low || number > high)
    return fail_range (reader, member, number, low, high);
  *out = number;
  return TRUE;
}

gboolean
og_json_read_integer (const OgJsonReader *reader,
                      const char         *member,
                      OgJsonNeed          need,
                      gint64              low,
                      gint64              high,
                      gint64             *out)
{
  JsonNode *node;
  OgJsonFound found = og_json_find (reader, member, need, &node);
  gint64 number;

  if (found != OG_JSON_FOUND)
    return found != OG_JSON_FAULT;
  if (!holds (node, G_TYPE_INT64))
    return og_json_fail (reader, member, "%s", _("must be a whole number"));

  number = json_node_get_int (node);
  if (number < low || number > high)
    return og_json_fail (reader, member, _("%" PRId64 " is outside %" PRId64 " to %" PRId64),
                         number, low, high);
  *out = number;
  return TRUE;
}

gboolean
og_json_read_flag (const OgJsonReader *reader,
                   const char         *member,
                   gboolean           *out)
{
  JsonNode *node;
  OgJsonFound found = og_json_find (reader, member, OG_JSON_OPTIONAL, &node);

  if (found == OG_JSON_ABSENT)
    return TRUE;
  if (found == OG_JSON_FOUND && !holds (node, G_TYPE_BOOLEAN))
    return og_json_fail (reader, member, "%s", _("must be true or false"));
  *out = found == OG_JSON_FOUND && json_node_get_boolean (node);
  return TRUE;
}

gboolean
og_json_read_date (const OgJsonReader *reader,
                   const char         *member,
                   OgJsonNeed          need,
                   GDate              *out)
{
  const char *text = NULL;

  if (!og_json_peek_text (reader, member, need, &text))
    return FALSE;
  if (text != NULL && !og_date_parse (text, out))
    return og_json_fail (reader, member, _("“%s” is no date: year-month-day is needed."), text);
  return TRUE;
}

gboolean
og_json_read_source (const OgJsonReader  *reader,
                     OgJsonNeed           need,
                     char               **out)
{
  const OgJsonContext *context = reader->context;
  const char *text = *out;

  if (!og_json_peek_text (reader, "source", need, &text))
    return FALSE;
  if (text == *out)
    return TRUE;
  if (context->sources == NULL)
    return take_text (reader, "source", G_MAXLONG, text, out);
  if (!json_object_has_member (context->sources, text))
    return og_json_fail_code (reader, "source", context->reference_code,
                              _("source “%s” is not defined"), text);

  if (context->used_sources != NULL)
    g_hash_table_add (context->used_sources, (gpointer) text);
  return take_text (reader, "source", G_MAXLONG,
                    json_object_get_string_member (context->sources, text), out);
}

gboolean
og_json_check_sources (const OgJsonReader *sources)
{
  JsonObjectIter iter;
  const char *key;
  JsonNode *node;

  json_object_iter_init (&iter, sources->object);
  while (json_object_iter_next (&iter, &key, &node))
    if (!is_text (node))
      return og_json_fail (sources, key, "%s", _("must be a text that is not empty"));
  return TRUE;
}

gboolean
og_json_check_used (const OgJsonReader *sources)
{
  JsonObjectIter iter;
  const char *key;

  json_object_iter_init (&iter, sources->object);
  while (json_object_iter_next (&iter, &key, NULL))
    if (!g_hash_table_contains (sources->context->used_sources, key))
      return og_json_fail_code (sources, key, sources->context->reference_code, "%s",
                                _("is not used"));
  return TRUE;
}

static gboolean
read_strings (const OgJsonReader   *reader,
              const char           *member,
              OgJsonNeed            need,
              gboolean              may_be_blank,
              gboolean            (*is_known) (const char *text),
              char               ***out)
{
  g_autoptr (GStrvBuilder) texts = g_strv_builder_new ();
  JsonArray *array;
  OgJsonFound found = og_json_read_array (reader, member, need, &array);

  if (found == OG_JSON_FAULT)
    return FALSE;
  if (found == OG_JSON_ABSENT && *out != NULL)
    return TRUE;

  for (guint i = 0; array != NULL && i < json_array_get_length (array); i++)
    {
      g_autofree char *entry = g_strdup_printf ("%s[%u]", member, i);
      JsonNode *node = json_array_get_element (array, i);

      if (may_be_blank && !holds (node, G_TYPE_STRING))
        return og_json_fail (reader, entry, "%s", _("must be a text"));
      if (!may_be_blank && !is_text (node))
        return og_json_fail (reader, entry, "%s", _("must be a text that is not empty"));
      if (is_known != NULL && !is_known (json_node_get_string (node)))
        return og_json_fail_word (reader, entry, json_node_get_string (node));
      g_strv_builder_add (texts, json_node_get_string (node));
    }

  g_strfreev (*out);
  *out = g_strv_builder_end (texts);
  return TRUE;
}

gboolean
og_json_read_texts (const OgJsonReader   *reader,
                    const char           *member,
                    OgJsonNeed            need,
                    guint                 least,
                    gboolean            (*is_known) (const char *text),
                    char               ***out)
{
  JsonNode *node;

  if (!read_strings (reader, member, need, FALSE, is_known, out))
    return FALSE;
  return og_json_find (reader, member, need, &node) != OG_JSON_FOUND
         || json_array_get_length (json_node_get_array (node)) >= least
         || og_json_fail (reader, member, "%s", _("must not be empty"));
}

gboolean
og_json_read_notes (const OgJsonReader   *reader,
                    const char           *member,
                    char               ***out)
{
  return read_strings (reader, member, OG_JSON_OPTIONAL, TRUE, NULL, out);
}

gboolean
og_json_get_numbers (JsonNode *node,
                     guint     n,
                     double   *numbers)
{
  JsonArray *array = node != NULL && JSON_NODE_HOLDS_ARRAY (node) ? json_node_get_array (node)
                                                                  : NULL;

  if (array == NULL || json_array_get_length (array) != n)
    return FALSE;
  for (guint i = 0; i < n; i++)
    if (!get_number (json_array_get_element (array, i), &numbers[i]))
      return FALSE;
  return TRUE;
}

gboolean
og_json_read_numbers (const OgJsonReader *reader,
                      const char         *member,
                      guint               least,
                      guint               most,
                      double             *numbers,
                      guint              *n)
{
  JsonArray *array;

  if (og_json_read_array (reader, member, OG_JSON_REQUIRED, &array) != OG_JSON_FOUND)
    return FALSE;

  *n = json_array_get_length (array);
  if (*n >= least && *n <= most
      && og_json_get_numbers (json_object_get_member (reader->object, member), *n, numbers))
    return TRUE;
  if (least == most)
    return og_json_fail (reader, member, _("must be an array of %u finite numbers"), most);
  return og_json_fail (reader, member, _("must be an array of %u to %u finite numbers"),
                       least, most);
}

/* --- objects and arrays ---------------------------------------------------- */

static void
enter (const OgJsonReader *parent,
       const char         *member,
       int                 index,
       JsonNode           *node,
       OgJsonReader       *child)
{
  *child = (OgJsonReader) {
    .context = parent->context,
    .object = json_node_get_object (node),
    .nulls = parent->nulls,
    .parent = parent,
    .member = member,
    .index = index,
  };
}

OgJsonFound
og_json_read_object (const OgJsonReader *reader,
                     const char         *member,
                     OgJsonNeed          need,
                     OgJsonReader       *child)
{
  JsonNode *node;
  OgJsonFound found = og_json_find (reader, member, need, &node);

  if (found != OG_JSON_FOUND)
    return found;
  if (!JSON_NODE_HOLDS_OBJECT (node))
    {
      og_json_fail (reader, member, "%s", _("must be an object"));
      return OG_JSON_FAULT;
    }
  enter (reader, member, -1, node, child);
  return OG_JSON_FOUND;
}

OgJsonFound
og_json_read_array (const OgJsonReader  *reader,
                    const char          *member,
                    OgJsonNeed           need,
                    JsonArray          **array)
{
  JsonNode *node;
  OgJsonFound found = og_json_find (reader, member, need, &node);

  *array = NULL;
  if (found != OG_JSON_FOUND)
    return found;
  if (!JSON_NODE_HOLDS_ARRAY (node))
    {
      og_json_fail (reader, member, "%s", _("must be an array"));
      return OG_JSON_FAULT;
    }
  *array = json_node_get_array (node);
  return OG_JSON_FOUND;
}

gboolean
og_json_read_entries (const OgJsonReader *reader,
                      const char         *member,
                      JsonArray          *array,
                      OgJsonReadEntry     read,
                      gpointer            user_data)
{
  for (guint i = 0; array != NULL && i < json_array_get_length (array); i++)
    {
      JsonNode *node = json_array_get_element (array, i);
      g_autofree char *name = g_strdup_printf ("%s[%u]", member, i);
      OgJsonReader entry;

      if (!JSON_NODE_HOLDS_OBJECT (node))
        return og_json_fail (reader, name, "%s", _("must be an object"));
      enter (reader, member, (int) i, node, &entry);
      if (entry.nulls == OG_JSON_NULL_REMOVES)
        entry.nulls = OG_JSON_NULL_ABSENT;
      if (!read (&entry, user_data))
        return FALSE;
    }
  return TRUE;
}

gboolean
og_json_read_each (const OgJsonReader *reader,
                   const char         *member,
                   OgJsonNeed          need,
                   OgJsonReadEntry     read,
                   gpointer            user_data)
{
  JsonArray *array;

  return og_json_read_array (reader, member, need, &array) != OG_JSON_FAULT
         && og_json_read_entries (reader, member, array, read, user_data);
}

/* --- whole files ----------------------------------------------------------- */

gboolean
og_json_begin_document (const OgJsonFile  *file,
                        const char        *format,
                        int                version,
                        const char        *other,
                        OgJsonContext     *context,
                        OgJsonReader      *reader,
                        GError           **error)
{
  const char *given = NULL;
  gint64 number = 0;

  *context = (OgJsonContext) {
    .file = file,
    .domain = OG_STORAGE_ERROR,
    .code = OG_STORAGE_ERROR_VALUE,
    .reference_code = OG_STORAGE_ERROR_VALUE,
    .error = error,
  };
  *reader = (OgJsonReader) { .context = context, .nulls = OG_JSON_NULL_ABSENT };
  if (JSON_NODE_HOLDS_OBJECT (file->root))
    {
      JsonNode *node;

      reader->object = json_node_get_object (file->root);
      node = json_object_get_member (reader->object, "format");
      given = node != NULL && is_text (node) ? json_node_get_string (node) : NULL;
    }
  if (g_strcmp0 (given, format) != 0)
    return og_json_fail_code (reader, NULL, OG_STORAGE_ERROR_NOT_A_DOCUMENT, "%s", other);
  if (!og_json_read_integer (reader, "version", OG_JSON_REQUIRED, 1, G_MAXINT64, &number))
    return FALSE;
  if (number > version)
    return og_json_fail_code (reader, NULL, OG_STORAGE_ERROR_NEWER_VERSION,
                              _("The file was written by a newer Oleograph (format %" PRId64
                                "; this program reads up to %d)."), number, version);
  return TRUE;
}
