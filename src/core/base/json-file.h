/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <json-glib/json-glib.h>

G_BEGIN_DECLS

/** OgJsonFile: a text that was parsed, and where its objects begin. */
typedef struct
{
  char       *name;  /* for messages */
  JsonNode   *root;  /* immutable */
  GHashTable *lines; /* JsonObject -> line of the text where it begins */
} OgJsonFile;

/**
 * og_json_file_parse:
 * @text: @length bytes; need not end in a zero byte
 * @name: file name for messages
 *
 * Returns: (transfer full): or %NULL with %OG_STORAGE_ERROR; the message begins with "NAME:LINE: "
 */
OgJsonFile *og_json_file_parse      (const char        *text,
                                     gsize              length,
                                     const char        *name,
                                     GError           **error);
/**
 * og_json_file_parse_data:
 * @text: text of a data file; @length bytes, or -1
 * @format: value that the member `format` must have
 * @version: value that the member `version` must have
 *
 * Returns: (transfer full): a file of one object, or %NULL with %OG_CATALOG_ERROR_SYNTAX
 */
OgJsonFile *og_json_file_parse_data (const char        *text,
                                     gssize             length,
                                     const char        *name,
                                     const char        *format,
                                     gint64             version,
                                     GError           **error);
/** The same from a file. Returns: (transfer full): also %NULL with a #GFileError */
OgJsonFile *og_json_file_load_data  (const char        *path,
                                     const char        *format,
                                     gint64             version,
                                     GError           **error);
/** Frees @file (nullable) with all it holds. */
void        og_json_file_free       (OgJsonFile        *file);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgJsonFile, og_json_file_free)

/** Returns: the line where @object begins; 1 for an object that was not in the text */
guint       og_json_file_get_line   (const OgJsonFile  *file,
                                     JsonObject        *object);

G_END_DECLS
