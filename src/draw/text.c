/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/text.h"

#include <string.h>

gboolean
og_text_is_blank (const char *text)
{
  return text == NULL || text[strspn (text, " \t\r\n")] == '\0';
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
