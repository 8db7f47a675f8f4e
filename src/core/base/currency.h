/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/**
 * og_currency_find:
 * @text: (nullable): what a reader wrote: "eur"
 *
 * Sums of money are added up by currency, so two spellings of one would part them.
 *
 * Returns: (transfer none) (nullable): the code of ISO 4217 in capital letters, "EUR"; %NULL if @text is none
 */
const char *og_currency_find (const char *text);

G_END_DECLS
