/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/base/json-file.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/base/error.h"
#include "core/base/json-guard.h"
#include "core/base/read-file.h"

/* An object that is being read. */
typedef struct
{
  guint line;
  guint n_members;
} OpenObject;

typedef struct
{
  GHashTable *lines;
  GArray     *open;  /* of OpenObject */
  char       *twice; /* nullable: the first member that an object has twice */
  guint       twice_line;
} Tracker;

static void
on_object_start (JsonParser *parser,
                 gpointer    user_data)
{
  Tracker *tracker = user_data;
  OpenObject opened = { json_parser_get_current_line (parser), 0 };

  g_array_append_val (tracker->open, opened);
}

/* The library keeps the last of several members of one name. */
static void
on_object_member (JsonParser *parser,
                  JsonObject *object,
                  const char *member,
                  gpointer    user_data)
{
  Tracker *tracker = user_data;
  OpenObject *open = &g_array_index (tracker->open, OpenObject, tracker->open->len - 1);

  open->n_members++;
  if (json_object_get_size (object) >= open->n_members || tracker->twice != NULL)
    return;
  tracker->twice = g_strdup (member);
  tracker->twice_line = json_parser_get_current_line (parser);
}

static void
on_object_end (JsonParser *parser,
               JsonObject *object,
               gpointer    user_data)
{
  Tracker *tracker = user_data;
  guint last = tracker->open->len - 1;

  g_hash_table_insert (tracker->lines, object,
                       GUINT_TO_POINTER (g_array_index (tracker->open, OpenObject, last).line));
  g_array_set_size (tracker->open, last);
}

static void
fail_twice (const char  *name,
            Tracker     *tracker,
            GError     **error)
{
  g_set_error (error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_SYNTAX,
               /* Translators: file, line, and the member of a JSON object */
               _("%s:%u: The member “%s” occurs twice."), name, tracker->twice_line, tracker->twice);
  g_free (tracker->twice);
}

/* The library begins its messages with "<data>:LINE:COLUMN: ". */
static void
fail_syntax (const char    *name,
             const GError  *reason,
             GError       **error)
{
  const char *text = reason->message;
  const char *place = strchr (text, ':');
  guint64 line = place != NULL ? g_ascii_strtoull (place + 1, NULL, 10) : 0;
  const char *words = strstr (text, ": ");

  g_set_error (error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_SYNTAX,
               _("%s:%u: The JSON is not well formed (%s)."),
               name, (guint) MAX (line, 1), words != NULL ? words + 2 : text);
}

OgJsonFile *
og_json_file_parse (const char  *text,
                    gsize        length,
                    const char  *name,
                    GError     **error)
{
  g_autoptr (JsonParser) parser = NULL;
  g_autoptr (OgJsonFile) file = NULL;
  g_autoptr (GArray) open = NULL;
  g_autoptr (GError) reason = NULL;
  gsize mark = length >= 3 && memcmp (text, "\xef\xbb\xbf", 3) == 0 ? 3 : 0;
  Tracker tracker;

  g_return_val_if_fail (name != NULL, NULL);

  if (!og_json_guard (text, length, name, error))
    return NULL;

  file = g_new0 (OgJsonFile, 1);
  file->name = g_strdup (name);
  file->lines = g_hash_table_new (NULL, NULL);
  open = g_array_new (FALSE, FALSE, sizeof (OpenObject));
  tracker = (Tracker) { .lines = file->lines, .open = open };
  parser = json_parser_new_immutable ();
  g_signal_connect (parser, "object-start", G_CALLBACK (on_object_start), &tracker);
  g_signal_connect (parser, "object-member", G_CALLBACK (on_object_member), &tracker);
  g_signal_connect (parser, "object-end", G_CALLBACK (on_object_end), &tracker);
  if (!json_parser_load_from_data (parser, text + mark, (gssize) (length - mark), &reason))
    {
      fail_syntax (name, reason, error);
      g_free (tracker.twice);
      return NULL;
    }
  if (tracker.twice != NULL)
    {
      fail_twice (name, &tracker, error);
      return NULL;
    }
  if (json_parser_get_root (parser) != NULL)
    file->root = json_node_ref (json_parser_get_root (parser));
  else
    file->root = json_node_new (JSON_NODE_NULL);
  return g_steal_pointer (&file);
}

void
og_json_file_free (OgJsonFile *file)
{
  if (file == NULL)
    return;

  g_clear_pointer (&file->root, json_node_unref);
  g_hash_table_unref (file->lines);
  g_free (file->name);
  g_free (file);
}

guint
og_json_file_get_line (const OgJsonFile *file,
                       JsonObject       *object)
{
  return MAX (GPOINTER_TO_UINT (g_hash_table_lookup (file->lines, object)), 1);
}

static gboolean
has_version (JsonObject *object,
             const char *format,
             gint64      version)
{
  JsonNode *format_node = json_object_get_member (object, "format");
  JsonNode *version_node = json_object_get_member (object, "version");

  return format_node != NULL && JSON_NODE_HOLDS_VALUE (format_node) &&
         json_node_get_value_type (format_node) == G_TYPE_STRING &&
         g_str_equal (json_node_get_string (format_node), format) &&
         version_node != NULL && JSON_NODE_HOLDS_VALUE (version_node) &&
         json_node_get_value_type (version_node) == G_TYPE_INT64 &&
         json_node_get_int (version_node) == version;
}

OgJsonFile *
og_json_file_parse_data (const char  *text,
                         gssize       length,
                         const char  *name,
                         const char  *format,
                         gint64       version,
                         GError     **error)
{
  g_autoptr (OgJsonFile) file = NULL;
  g_autoptr (GError) fault = NULL;

  g_return_val_if_fail (text != NULL, NULL);

  file = og_json_file_parse (text, length < 0 ? strlen (text) : (gsize) length, name, &fault);
  if (file == NULL)
    {
      g_set_error_literal (error, OG_CATALOG_ERROR, OG_CATALOG_ERROR_SYNTAX, fault->message);
      return NULL;
    }
  if (!JSON_NODE_HOLDS_OBJECT (file->root) ||
      !has_version (json_node_get_object (file->root), format, version))
    {
      g_set_error (error, OG_CATALOG_ERROR, OG_CATALOG_ERROR_SYNTAX,
                   _("%s: is not a file of the format “%s”, version %d"),
                   name, format, (int) version);
      return NULL;
    }
  return g_steal_pointer (&file);
}

OgJsonFile *
og_json_file_load_data (const char  *path,
                        const char  *format,
                        gint64       version,
                        GError     **error)
{
  g_autofree char *name = NULL;
  g_autoptr (GBytes) bytes = NULL;
  const char *text;
  gsize length;

  g_return_val_if_fail (path != NULL, NULL);

  bytes = og_read_file (path, OG_JSON_MAX_BYTES, error);
  if (bytes == NULL)
    return NULL;

  text = g_bytes_get_data (bytes, &length);
  name = g_path_get_basename (path);
  return og_json_file_parse_data (text, (gssize) length, name, format, version, error);
}
