/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/material/catalog.h"

G_BEGIN_DECLS

/**
 * og_tags_check:
 * @option: "--without"
 * @tags: (nullable): as typed, NULL-terminated
 *
 * Refuses what no material of @catalog is tagged with, and says what is near it, else all tags there are. Returns:
 * %FALSE with %OG_CLI_ERROR_USAGE
 */
gboolean og_tags_check (const OgCatalog  *catalog,
                        const char       *option,
                        char            **tags,
                        GError          **error);

G_END_DECLS
