/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Small things about texts that the files of this folder share. */

/** @text: (nullable). Returns: whether there is nothing but space in it */
gboolean og_text_is_blank (const char *text);
/** Appends @remark after those before it; skips blank ones. @remark: (nullable) */
void     og_remarks_add   (GString    *remarks,
                           const char *remark);
/** @remarks: (transfer full). Returns: (transfer full) (nullable): their text; %NULL without any */
char    *og_remarks_finish (GString   *remarks);
/** Appends @sentence, after a space if something stands before it. @sentence: (transfer full) */
void     og_sentences_add (GString    *text,
                           char       *sentence);

G_END_DECLS
