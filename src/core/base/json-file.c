/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/base/json-file.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/base/error.h"
#include "core/base/json-guard.h"
#include "core/base/json-guard.h"

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

JsonNode *
og_json_file_parse (const char  *text,
                    gssize       length,
                    const char  *name,
                    const char  *format,
                    gint64       version,
                    GError     **error)
{
  g_autoptr (JsonParser) parser = json_parser_new_immutable ();
  g_autoptr (GError) fault = NULL;
  JsonNode *root;

  g_return_val_if_fail (text != NULL, NULL);

  if (length < 0)
    length = (gssize) strlen (text);
  if (!og_json_guard (text, (gsize) length, name, &fault))
    {
      g_set_error_literal (error, OG_CATALOG_ERROR, OG_CATALOG_ERROR_SYNTAX, fault->message);
      return NULL;
    }
  if (!json_parser_load_from_data (parser, text, length, &fault))
    {
      g_set_error (error, OG_CATALOG_ERROR, OG_CATALOG_ERROR_SYNTAX, "%s: %s",
                   name, fault->message);
      return NULL;
    }

  root = json_parser_get_root (parser);
  if (root == NULL || !JSON_NODE_HOLDS_OBJECT (root) ||
      !has_version (json_node_get_object (root), format, version))
    {
      g_set_error (error, OG_CATALOG_ERROR, OG_CATALOG_ERROR_SYNTAX,
                   _("%s: is not a file of the format “%s”, version %d"),
                   name, format, (int) version);
      return NULL;
    }
  return json_node_ref (root);
}

JsonNode *
og_json_file_load (const char  *path,
                   const char  *format,
                   gint64       version,
                   GError     **error)
{
  g_autofree char *name = NULL;
  g_autofree char *text = NULL;
  gsize length;

  g_return_val_if_fail (path != NULL, NULL);

  if (!g_file_get_contents (path, &text, &length, error))
    return NULL;

  name = g_path_get_basename (path);
  return og_json_file_parse (text, (gssize) length, name, format, version, error);
}
