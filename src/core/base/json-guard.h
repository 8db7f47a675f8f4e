/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/** Most bytes of a file that is read as JSON: 64 MiB, a hundred times the largest recipe that was
 * tried; it bounds what one file can make the program allocate. */
#define OG_JSON_MAX_BYTES (64 * 1024 * 1024)
/** Most brackets open at once: json-glib 1.6 reads by recursion, and a recipe needs eight. */
#define OG_JSON_MAX_DEPTH 64

/**
 * og_json_guard:
 * @text: @length bytes; need not end in a zero byte
 * @name: file name for messages
 *
 * Refuses JSON text that is too large, nested too deep, not UTF-8, not JSON by RFC 8259, or that
 * holds a number beyond the types of the parser, before a parser sees it.
 *
 * Returns: %FALSE with %OG_STORAGE_ERROR; the message begins with "NAME:LINE: "
 */
gboolean og_json_guard (const char  *text,
                        gsize        length,
                        const char  *name,
                        GError     **error);

G_END_DECLS
