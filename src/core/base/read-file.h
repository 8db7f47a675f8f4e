/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/** What stands for the standard input where a file is asked for; "/dev/stdin" is the same. */
#define OG_STANDARD_INPUT "-"

/**
 * og_read_file:
 * @path: an ordinary file, or %OG_STANDARD_INPUT
 * @most: bytes; not more than one byte above it is ever read
 *
 * Reads a whole file. What is no ordinary file is refused before a byte is read, so that a pipe that nobody writes to
 * or a device without end holds nothing up.
 *
 * Returns: (transfer full): the bytes, with a zero byte behind them that does not count; %NULL with a #GFileError, or
 * with %OG_STORAGE_ERROR_TOO_LARGE above @most
 */
GBytes *og_read_file (const char  *path,
                      gsize        most,
                      GError     **error);

G_END_DECLS
