/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/text.h"

#include <glib/gi18n-lib.h>
#include <string.h>

gboolean
og_text_is_blank (const char *text)
{
  return text == NULL || text[strspn (text, " \t\r\n")] == '\0';
}

void
og_remarks_add (GString    *remarks,
                const char *remark)
{
  if (og_text_is_blank (remark))
    return;
  if (remarks->len > 0)
    g_string_append (remarks, C_("between remarks", "; "));
  g_string_append (remarks, remark);
}

char *
og_remarks_finish (GString *remarks)
{
  return remarks->len > 0 ? g_string_free (remarks, FALSE)
                          : (g_string_free (remarks, TRUE), NULL);
}

void
og_sentences_add (GString *text,
                  char    *sentence)
{
  if (text->len > 0)
    g_string_append_c (text, ' ');
  g_string_append (text, sentence);
  g_free (sentence);
}
