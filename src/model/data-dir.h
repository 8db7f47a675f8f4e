/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/**
 * og_data_dir:
 *
 * Folder that holds `catalog/`, `model/` and `demo/`: the environment variable OLEOGRAPH_DATA_DIR,
 * else the source tree's `data` for a program run from the build folder, else the installed place.
 *
 * Returns: (transfer full)
 */
char *og_data_dir (void);

G_END_DECLS
