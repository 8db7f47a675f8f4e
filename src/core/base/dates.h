/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/**
 * og_date_parse:
 * @text: "2026-03-01", nothing before or after it
 *
 * Returns: %FALSE, leaving @date alone, for anything else or a day that does not exist
 */
gboolean og_date_parse   (const char  *text,
                          GDate       *date);
/** @text: "2027-08", nothing before or after it. Returns: %FALSE, leaving both alone, for anything
 * else */
gboolean og_month_parse  (const char  *text,
                          guint       *year,
                          guint       *month);
/** Returns: (transfer full): "2026-03-01" */
char    *og_date_to_text (const GDate *date);

G_END_DECLS
