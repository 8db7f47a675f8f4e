/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/card-private.h"

#include <cairo-svg.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "draw/paint.h"

#define PICTURE_WIDTH 640
#define CHART_PICTURE_HEIGHT 360

/* --- Markdown --- */

static gboolean
is_list_start (const char *text)
{
  size_t digits = strspn (text, "0123456789");

  return text[0] == '+' || text[0] == '-' || text[0] == '=' ||
         (digits > 0 && (text[digits] == '.' || text[digits] == ')') &&
          strchr (" \t\r\n", text[digits + 1]) != NULL);
}

/* Plain text in one line of Markdown: nothing in it is taken for markup; line breaks become spaces. */
static void
append_markdown (GString    *out,
                 const char *raw)
{
  g_autofree char *text = g_utf8_make_valid (raw, -1);
  const char *p = text + strspn (text, " \t\r\n");

  if (is_list_start (p))
    {
      size_t digits = strspn (p, "0123456789");

      g_string_append_len (out, p, (gssize) digits);
      g_string_append_printf (out, "\\%c", p[digits]);
      p += digits + 1;
    }
  for (; *p != '\0'; p++)
    {
      if (*p == '\n' || *p == '\r' || *p == '\t')
        g_string_append_c (out, ' ');
      else if (*p == '&')
        g_string_append (out, "&amp;");
      else if (*p == '<')
        g_string_append (out, "&lt;");
      else if (*p == '>')
        g_string_append (out, "&gt;");
      else if (strchr ("\\`*_{}[]#|~!$", *p) != NULL)
        g_string_append_printf (out, "\\%c", *p);
      else
        g_string_append_c (out, *p);
    }
}

/* paragraphs: one for each line of @raw that is not blank */
static void
append_markdown_paragraphs (GString    *out,
                            const char *raw)
{
  g_auto (GStrv) lines = g_strsplit (raw, "\n", -1);

  for (guint i = 0; lines[i] != NULL; i++)
    {
      if (lines[i][strspn (lines[i], " \t\r")] == '\0')
        continue;
      append_markdown (out, lines[i]);
      g_string_append (out, "\n\n");
    }
}

static void
append_markdown_cell (GString    *out,
                      const char *text)
{
  if (text != NULL)
    {
      g_string_append_c (out, ' ');
      append_markdown (out, text);
    }
  g_string_append (out, " |");
}

static void
append_markdown_table (GString           *out,
                       const OgCardBlock *block)
{
  const char *const *titles = og_card_column_titles ();

  g_string_append_printf (out, "| %s | %s | %s | %s | %s |\n", titles[0], _("INCI"), titles[1], titles[2],
                          titles[3]);
  g_string_append (out, "|---|---|---:|---:|---|\n");
  for (guint i = 0; i < block->rows->len; i++)
    {
      const OgCardRow *row = g_ptr_array_index (block->rows, i);

      g_string_append (out, "| ");
      if (row->kind != OG_ROW_LINE)
        g_string_append (out, "**");
      append_markdown (out, row->text);
      if (row->kind != OG_ROW_LINE)
        g_string_append (out, "**");
      g_string_append (out, " |");
      append_markdown_cell (out, row->kind == OG_ROW_LINE ? row->detail : NULL);
      append_markdown_cell (out, row->pct);
      append_markdown_cell (out, row->g);
      append_markdown_cell (out, row->kind == OG_ROW_PHASE ? row->detail : row->notes);
      g_string_append_c (out, '\n');
    }
  g_string_append_c (out, '\n');
}

static void
append_markdown_steps (GString           *out,
                       const OgCardBlock *block)
{
  for (guint i = 0; i < block->rows->len; i++)
    {
      const OgCardRow *row = g_ptr_array_index (block->rows, i);
      g_autofree char *number = g_strdup_printf ("%u. ", i + 1);

      g_string_append (out, number);
      append_markdown (out, row->text);
      g_string_append_c (out, '\n');
      if (row->detail != NULL)
        {
          g_string_append_printf (out, "\n%*s> **%s** ", (int) strlen (number), "", _("Caution:"));
          append_markdown (out, row->detail);
          g_string_append (out, "\n\n");
        }
    }
  g_string_append_c (out, '\n');
}

static void
append_markdown_list (GString           *out,
                      const OgCardBlock *block)
{
  for (guint i = 0; i < block->rows->len; i++)
    {
      const OgCardRow *row = g_ptr_array_index (block->rows, i);

      g_string_append (out, "- ");
      if (row->label != NULL)
        {
          g_string_append (out, "**");
          append_markdown (out, row->label);
          g_string_append (out, ":** ");
        }
      append_markdown (out, row->text);
      if (row->detail != NULL)
        {
          g_string_append (out, " *(");
          append_markdown (out, row->detail);
          g_string_append (out, ")*");
        }
      g_string_append_c (out, '\n');
    }
  g_string_append_c (out, '\n');
}

static void
append_markdown_facts (GString           *out,
                       const OgCardBlock *block)
{
  g_string_append_printf (out, "| %s | %s |\n|---|---|\n", _("Figure"), _("Value"));
  for (guint i = 0; i < block->rows->len; i++)
    {
      const OgCardRow *row = g_ptr_array_index (block->rows, i);

      g_string_append_c (out, '|');
      append_markdown_cell (out, row->label);
      append_markdown_cell (out, row->text);
      g_string_append_c (out, '\n');
    }
  g_string_append_c (out, '\n');
}

static void
append_markdown_form (GString           *out,
                      const OgCardBlock *block)
{
  g_string_append_c (out, '|');
  for (guint i = 0; i < block->columns->len; i++)
    append_markdown_cell (out, g_array_index (block->columns, OgCardColumn, i).title);
  g_string_append (out, "\n|");
  for (guint i = 0; i < block->columns->len; i++)
    g_string_append (out, g_array_index (block->columns, OgCardColumn, i).number ? "---:|" : "---|");
  g_string_append_c (out, '\n');
  for (guint i = 0; i < block->rows->len; i++)
    {
      const OgCardRow *row = g_ptr_array_index (block->rows, i);

      g_string_append_c (out, '|');
      if (row->kind == OG_ROW_PHASE)
        append_markdown_cell (out, row->text);
      for (guint j = row->kind == OG_ROW_PHASE ? 1 : 0; j < block->columns->len; j++)
        append_markdown_cell (out, row->kind == OG_ROW_PHASE ? NULL : row->cells[j]);
      g_string_append_c (out, '\n');
    }
  g_string_append_c (out, '\n');
}

static void
append_markdown_heading (GString    *out,
                         const char *marks,
                         const char *text)
{
  g_string_append (out, marks);
  append_markdown (out, text);
  g_string_append (out, "\n\n");
}

static void
append_markdown_headline (GString           *out,
                          const OgCardBlock *block)
{
  g_string_append (out, "**");
  append_markdown (out, block->text);
  g_string_append (out, "**");
  if (block->detail != NULL)
    {
      g_string_append (out, ": ");
      append_markdown (out, block->detail);
    }
  g_string_append (out, "\n\n");
  for (guint i = 0; i < block->rows->len; i++)
    append_markdown_paragraphs (out, ((OgCardRow *) g_ptr_array_index (block->rows, i))->text);
}

static void
append_markdown_block (GString           *out,
                       const OgCardBlock *block)
{
  switch (block->kind)
    {
    case OG_BLOCK_TITLE:
      append_markdown_heading (out, "# ", block->text);
      if (block->detail != NULL)
        append_markdown_paragraphs (out, block->detail);
      break;
    case OG_BLOCK_HEADLINE:
      append_markdown_headline (out, block);
      break;
    case OG_BLOCK_HEADING:
      append_markdown_heading (out, "## ", block->text);
      break;
    case OG_BLOCK_SUBHEADING:
      append_markdown_heading (out, "### ", block->text);
      break;
    case OG_BLOCK_CHART:
    case OG_BLOCK_PROFILE:
    case OG_BLOCK_PARAGRAPH:
      append_markdown_paragraphs (out, block->text);
      break;
    case OG_BLOCK_TABLE:
      append_markdown_table (out, block);
      break;
    case OG_BLOCK_STEPS:
      append_markdown_steps (out, block);
      break;
    case OG_BLOCK_LIST:
      append_markdown_list (out, block);
      break;
    case OG_BLOCK_FACTS:
      append_markdown_facts (out, block);
      break;
    case OG_BLOCK_FORM:
      append_markdown_form (out, block);
      break;
    default:
      g_return_if_reached ();
    }
}

char *
og_card_to_markdown (OgCard *card)
{
  GString *out;

  g_return_val_if_fail (card != NULL, NULL);

  out = g_string_new (NULL);
  for (guint i = 0; i < card->blocks->len; i++)
    append_markdown_block (out, g_ptr_array_index (card->blocks, i));
  while (out->len > 1 && g_str_has_suffix (out->str, "\n\n"))
    g_string_truncate (out, out->len - 1);

  return g_string_free (out, FALSE);
}

/* --- HTML --- */

static const char style_sheet[] =
  "body{font:16px/1.5 sans-serif;color:#1f2529;background:#fff;max-width:46em;margin:2em auto;padding:0 1em}"
  "h1{font-size:2em;line-height:1.2;margin:0}"
  "h2{font-size:1.2em;margin:2em 0 .6em;border-top:2px solid #0d676e;padding-top:.4em}"
  "h3{font-size:1em;margin:1em 0 .2em}"
  ".purpose,.small,figcaption{color:#5a646b}"
  ".body{font-size:2em;font-weight:600;color:#0d676e}"
  "figure{margin:1em 0}img{max-width:100%;height:auto}"
  "table{border-collapse:collapse;width:100%}"
  "th,td{text-align:start;padding:.25em .4em;border-bottom:1px solid #dfe3e5;vertical-align:top}"
  "td.n,th.n{text-align:end;font-variant-numeric:tabular-nums;white-space:nowrap}"
  "tr.phase th{background:#e9f1f1}tr.total td{font-weight:600;border-top:1px solid #5a646b}"
  ".caution{color:#a13a17}ol p.caution{border-inline-start:3px solid #a13a17;padding-inline-start:.6em;margin:.3em 0}"
  "table.form td{border:1px solid #5a646b;height:1.8em}"
  "td small{display:block;color:#5a646b}"
  "@media print{body{margin:0;max-width:none}tr,li{break-inside:avoid}}";

static void
append_escaped (GString    *out,
                const char *raw)
{
  g_autofree char *valid = g_utf8_make_valid (raw, -1);
  g_autofree char *text = g_markup_escape_text (valid, -1);

  g_string_append (out, text);
}

static void
append_element (GString    *out,
                const char *open,
                const char *text,
                const char *close)
{
  if (text == NULL)
    return;
  g_string_append (out, open);
  append_escaped (out, text);
  g_string_append (out, close);
  g_string_append_c (out, '\n');
}

static void
append_paragraphs (GString    *out,
                   const char *open,
                   const char *text)
{
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);

  for (guint i = 0; lines[i] != NULL; i++)
    if (lines[i][strspn (lines[i], " \t\r")] != '\0')
      append_element (out, open, lines[i], "</p>");
}

/* A picture as part of the page: no second file, and no clash of element names between two pictures. */
static void
append_picture (GString     *out,
                OgCard      *card,
                OgBlockKind  kind,
                const char  *description)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  g_autofree char *data = NULL;
  OgDrawStyle style;
  double height;
  cairo_surface_t *surface;
  cairo_t *cr;
  cairo_status_t status;

  og_draw_style_paper (&style);
  style.font_size = 13;
  style.rtl = card->style.rtl;
  height = kind == OG_BLOCK_CHART ? CHART_PICTURE_HEIGHT
                                  : ceil (og_profile_chart_height (PICTURE_WIDTH, card->result->profile, &style));
  surface = cairo_svg_surface_create_for_stream (og_collect_bytes, bytes, PICTURE_WIDTH, height);
  cr = cairo_create (surface);
  if (kind == OG_BLOCK_CHART)
    og_chart_draw (cr, PICTURE_WIDTH, height, &card->chart, &style);
  else
    og_profile_chart_draw (cr, PICTURE_WIDTH, height, card->result->profile, &style);
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);

  g_string_append (out, "<figure>\n");
  if (status == CAIRO_STATUS_SUCCESS)
    {
      data = g_base64_encode (bytes->data, bytes->len);
      g_string_append_printf (out, "<img width=\"%d\" height=\"%d\" alt=\"\" src=\"data:image/svg+xml;base64,%s\">\n",
                              PICTURE_WIDTH, (int) height, data);
    }
  else
    g_warning ("A picture of the card is missing: %s", cairo_status_to_string (status));
  append_element (out, "<figcaption>", description, "</figcaption>");
  g_string_append (out, "</figure>\n");
}

static void
append_html_line (GString         *out,
                  const OgCardRow *row)
{
  g_string_append_printf (out, "<tr%s><td>", row->kind == OG_ROW_TOTAL ? " class=\"total\"" : "");
  append_escaped (out, row->text);
  if (row->detail != NULL)
    {
      g_string_append (out, "<small>");
      append_escaped (out, row->detail);
      g_string_append (out, "</small>");
    }
  g_string_append (out, "</td><td class=\"n\">");
  append_escaped (out, row->pct);
  g_string_append (out, "</td><td class=\"n\">");
  append_escaped (out, row->g);
  g_string_append (out, row->caution ? "</td><td class=\"caution\">" : "</td><td class=\"small\">");
  if (row->notes != NULL)
    append_escaped (out, row->notes);
  g_string_append (out, "</td></tr>\n");
}

static void
append_html_table (GString           *out,
                   const OgCardBlock *block)
{
  const char *const *titles = og_card_column_titles ();

  g_string_append (out, "<table>\n<thead><tr>");
  for (guint i = 0; i < 4; i++)
    {
      g_string_append (out, i == 1 || i == 2 ? "<th scope=\"col\" class=\"n\">" : "<th scope=\"col\">");
      append_escaped (out, titles[i]);
      g_string_append (out, "</th>");
    }
  g_string_append (out, "</tr></thead>\n<tbody>\n");
  for (guint i = 0; i < block->rows->len; i++)
    {
      const OgCardRow *row = g_ptr_array_index (block->rows, i);

      if (row->kind != OG_ROW_PHASE)
        {
          append_html_line (out, row);
          continue;
        }
      g_string_append (out, "<tr class=\"phase\"><th scope=\"rowgroup\" colspan=\"3\">");
      append_escaped (out, row->text);
      g_string_append (out, "</th><th>");
      if (row->detail != NULL)
        append_escaped (out, row->detail);
      g_string_append (out, "</th></tr>\n");
    }
  g_string_append (out, "</tbody>\n</table>\n");
}

static void
append_html_items (GString           *out,
                   const OgCardBlock *block)
{
  gboolean steps = block->kind == OG_BLOCK_STEPS;

  g_string_append (out, steps ? "<ol>\n" : "<ul>\n");
  for (guint i = 0; i < block->rows->len; i++)
    {
      const OgCardRow *row = g_ptr_array_index (block->rows, i);

      g_string_append (out, "<li>");
      if (row->label != NULL)
        {
          g_string_append (out, row->caution ? "<strong class=\"caution\">" : "<strong>");
          append_escaped (out, row->label);
          g_string_append (out, "</strong> ");
        }
      append_escaped (out, row->text);
      if (row->detail != NULL)
        {
          g_string_append (out, steps ? "\n<p class=\"caution\">" : " <span class=\"small\">");
          append_escaped (out, row->detail);
          g_string_append (out, steps ? "</p>" : "</span>");
        }
      g_string_append (out, "</li>\n");
    }
  g_string_append (out, steps ? "</ol>\n" : "</ul>\n");
}

static void
append_html_facts (GString           *out,
                   const OgCardBlock *block)
{
  g_string_append (out, "<table>\n<tbody>\n");
  for (guint i = 0; i < block->rows->len; i++)
    {
      const OgCardRow *row = g_ptr_array_index (block->rows, i);

      g_string_append (out, "<tr><th scope=\"row\">");
      append_escaped (out, row->label);
      g_string_append (out, "</th><td>");
      append_escaped (out, row->text);
      g_string_append (out, "</td></tr>\n");
    }
  g_string_append (out, "</tbody>\n</table>\n");
}

static void
append_html_form (GString           *out,
                  const OgCardBlock *block)
{
  g_string_append (out, "<table class=\"form\">\n<thead>\n<tr>");
  for (guint i = 0; i < block->columns->len; i++)
    {
      g_string_append (out, "<th scope=\"col\">");
      append_escaped (out, g_array_index (block->columns, OgCardColumn, i).title);
      g_string_append (out, "</th>");
    }
  g_string_append (out, "</tr>\n</thead>\n<tbody>\n");
  for (guint i = 0; i < block->rows->len; i++)
    {
      const OgCardRow *row = g_ptr_array_index (block->rows, i);

      g_string_append (out, "<tr>");
      if (row->kind == OG_ROW_PHASE)
        {
          g_string_append_printf (out, "<th scope=\"rowgroup\" colspan=\"%u\">", block->columns->len);
          append_escaped (out, row->text);
          g_string_append (out, "</th>");
        }
      for (guint j = 0; row->kind != OG_ROW_PHASE && j < block->columns->len; j++)
        {
          g_string_append (out, g_array_index (block->columns, OgCardColumn, j).number
                                  ? "<td class=\"n\">" : "<td>");
          append_escaped (out, row->cells[j] != NULL ? row->cells[j] : "");
          g_string_append (out, "</td>");
        }
      g_string_append (out, "</tr>\n");
    }
  g_string_append (out, "</tbody>\n</table>\n");
}

static void
append_html_block (GString           *out,
                   OgCard            *card,
                   const OgCardBlock *block)
{
  switch (block->kind)
    {
    case OG_BLOCK_TITLE:
      append_element (out, "<h1>", block->text, "</h1>");
      if (block->detail != NULL)
        append_paragraphs (out, "<p class=\"purpose\">", block->detail);
      break;
    case OG_BLOCK_HEADLINE:
      append_element (out, "<div class=\"body\">", block->text, "</div>");
      append_element (out, "<p>", block->detail, "</p>");
      for (guint i = 0; i < block->rows->len; i++)
        append_element (out, "<p class=\"small\">", ((OgCardRow *) g_ptr_array_index (block->rows, i))->text,
                        "</p>");
      break;
    case OG_BLOCK_HEADING:
      append_element (out, "<h2>", block->text, "</h2>");
      break;
    case OG_BLOCK_SUBHEADING:
      append_element (out, "<h3>", block->text, "</h3>");
      break;
    case OG_BLOCK_CHART:
    case OG_BLOCK_PROFILE:
      append_picture (out, card, block->kind, block->text);
      break;
    case OG_BLOCK_PARAGRAPH:
      append_paragraphs (out, "<p>", block->text);
      break;
    case OG_BLOCK_TABLE:
      append_html_table (out, block);
      break;
    case OG_BLOCK_STEPS:
    case OG_BLOCK_LIST:
      append_html_items (out, block);
      break;
    case OG_BLOCK_FACTS:
      append_html_facts (out, block);
      break;
    case OG_BLOCK_FORM:
      append_html_form (out, block);
      break;
    default:
      g_return_if_reached ();
    }
}

char *
og_card_to_html (OgCard *card)
{
  GString *out;

  g_return_val_if_fail (card != NULL, NULL);

  out = g_string_new ("<!DOCTYPE html>\n");
  g_string_append_printf (out, "<html%s>\n<head>\n<meta charset=\"utf-8\">\n"
                          "<meta name=\"viewport\" content=\"width=device-width\">\n",
                          card->style.rtl ? " dir=\"rtl\"" : "");
  append_element (out, "<title>", card->title, "</title>");
  g_string_append_printf (out, "<style>%s</style>\n</head>\n<body>\n", style_sheet);
  for (guint i = 0; i < card->blocks->len; i++)
    append_html_block (out, card, g_ptr_array_index (card->blocks, i));
  g_string_append (out, "</body>\n</html>\n");

  return g_string_free (out, FALSE);
}
