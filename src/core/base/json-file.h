/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <json-glib/json-glib.h>

G_BEGIN_DECLS

/**
 * og_json_file_parse:
 * @text: text of a data file; @length bytes, or -1
 * @name: file name for messages
 * @format: value that the member `format` must have
 * @version: value that the member `version` must have
 *
 * Returns: (transfer full): an object node, or %NULL with %OG_CATALOG_ERROR_SYNTAX
 */
JsonNode *og_json_file_parse (const char  *text,
                              gssize       length,
                              const char  *name,
                              const char  *format,
                              gint64       version,
                              GError     **error);
/** The same from a file. Returns: (transfer full): also %NULL with a #GFileError */
JsonNode *og_json_file_load  (const char  *path,
                              const char  *format,
                              gint64       version,
                              GError     **error);

G_END_DECLS
