/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/export.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <errno.h>
#include <gio/gio.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "core/recipe/recipe-table.h"
#include "core/recipe/storage.h"
#include "draw/card-private.h"
#include "draw/paint.h"

#define PAGE_WIDTH 595.0 /* A4 */
#define PAGE_HEIGHT 842.0
#define CHART_WIDTH 900.0
#define CHART_HEIGHT 600.0
#define CHART_FONT_SIZE 13.0
#define PIXELS_PER_POINT 2.0
#define LEAST_PIXELS_PER_POINT 0.5
#define MOST_PIXELS 32000.0 /* an image surface holds 32767 */
#define JSON_INDENT 2

gboolean
og_export_format_from_path (const char     *path,
                            OgExportFormat *format)
{
  static const struct
  {
    const char    *suffix;
    OgExportFormat format;
  } suffixes[] = {
    { ".pdf", OG_EXPORT_PDF },   { ".png", OG_EXPORT_PNG },    { ".svg", OG_EXPORT_SVG },
    { ".html", OG_EXPORT_HTML }, { ".md", OG_EXPORT_MARKDOWN }, { ".csv", OG_EXPORT_CSV },
    { ".json", OG_EXPORT_JSON },
  };
  g_autofree char *lower = NULL;

  g_return_val_if_fail (path != NULL && format != NULL, FALSE);

  lower = g_ascii_strdown (path, -1);
  for (guint i = 0; i < G_N_ELEMENTS (suffixes); i++)
    if (g_str_has_suffix (lower, suffixes[i].suffix))
      {
        *format = suffixes[i].format;
        return TRUE;
      }

  return FALSE;
}

/* --- writing --- */

static const char *
reason_text (const GError *error)
{
  if (error->domain != G_FILE_ERROR)
    return error->message;

  switch (error->code)
    {
    case G_FILE_ERROR_NOENT:
    case G_FILE_ERROR_NOTDIR:
      return _("there is no such folder");
    case G_FILE_ERROR_ACCES:
    case G_FILE_ERROR_PERM:
      return _("you are not allowed to write there");
    case G_FILE_ERROR_ROFS:
      return _("the folder can only be read");
    case G_FILE_ERROR_NOSPC:
      return _("the disk is full");
    case G_FILE_ERROR_ISDIR:
      return _("it is a folder");
    default:
      return error->message;
    }
}

/* The file a symbolic link leads to keeps its place; a new file takes its own name. */
static char *
final_path (const char *path)
{
  char *resolved = realpath (path, NULL);
  char *copy = g_strdup (resolved != NULL ? resolved : path);

  free (resolved);
  return copy;
}

static gboolean
write_whole (const char  *path,
             const void  *bytes,
             gsize        length,
             GError     **error)
{
  g_autofree char *target = final_path (path);
  g_autofree char *shown = g_filename_display_name (path);
  g_autoptr (GError) inner = NULL;

  if (g_file_test (target, G_FILE_TEST_IS_DIR))
    {
      g_set_error (error, G_FILE_ERROR, G_FILE_ERROR_ISDIR, _("“%s” was not written: it is a folder"), shown);
      return FALSE;
    }
  if (g_file_set_contents_full (target, bytes, (gssize) length,
                                G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE, 0666, &inner))
    return TRUE;

  g_set_error (error, inner->domain, inner->code, _("“%s” was not written: %s"), shown, reason_text (inner));
  return FALSE;
}

/* --- pictures --- */

/* Takes @surface and @cr. Returns: whether everything was drawn */
static gboolean
finish_surface (cairo_surface_t  *surface,
                cairo_t          *cr,
                GError          **error)
{
  cairo_status_t status = cairo_status (cr);

  cairo_destroy (cr);
  cairo_surface_finish (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    return TRUE;

  g_set_error (error, G_IO_ERROR, G_IO_ERROR_FAILED, _("The picture cannot be drawn: %s"),
               cairo_status_to_string (status));
  return FALSE;
}

/* As finish_surface() for an image, which is turned into PNG bytes. */
static gboolean
finish_image (cairo_surface_t  *surface,
              cairo_t          *cr,
              GByteArray       *bytes,
              GError          **error)
{
  cairo_status_t status = cairo_status (cr);

  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_write_to_png_stream (surface, og_collect_bytes, bytes);
  if (status == CAIRO_STATUS_SUCCESS)
    return finish_surface (surface, cr, error);

  g_set_error (error, G_IO_ERROR, G_IO_ERROR_FAILED, _("The picture cannot be drawn: %s"),
               cairo_status_to_string (status));
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return FALSE;
}

void
og_export_style (OgDrawStyle *style)
{
  PangoContext *context;
  g_autoptr (PangoLayout) layout = NULL;

  og_draw_style_paper (style);
  context = og_text_context_new (NULL, style);
  layout = og_text_layout_new (context, style, _("Ingredient"), 1, PANGO_WEIGHT_NORMAL);
  style->rtl = og_text_is_rtl (layout);
  g_object_unref (context);
}

static cairo_surface_t *
image_surface (double  width,
               double  height,
               double  scale)
{
  return cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) ceil (width * scale), (int) ceil (height * scale));
}

static cairo_surface_t *
pdf_surface (GByteArray *bytes,
             double      width,
             double      height,
             const char *title)
{
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream (og_collect_bytes, bytes, width, height);
  g_autofree char *valid = title != NULL ? g_utf8_make_valid (title, -1) : NULL;

  if (valid != NULL)
    cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, valid);
  /* a card carries no date, so that the same recipe gives the same file */
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, NULL);

  return surface;
}

static gboolean
card_to_pdf (OgCard             *card,
             const OgDrawStyle  *style,
             GByteArray         *bytes,
             GError            **error)
{
  cairo_surface_t *surface = pdf_surface (bytes, PAGE_WIDTH, PAGE_HEIGHT, card->title);
  cairo_t *cr = cairo_create (surface);
  guint n_pages = og_card_paginate (card, PAGE_WIDTH, PAGE_HEIGHT, style);

  for (guint page = 0; page < n_pages; page++)
    {
      og_card_draw_page (card, cr, page);
      cairo_show_page (cr);
    }

  return finish_surface (surface, cr, error);
}

static gboolean
card_to_svg (OgCard             *card,
             const OgDrawStyle  *style,
             GByteArray         *bytes,
             GError            **error)
{
  double height = og_card_lay_out_tall (card, PAGE_WIDTH, style);
  cairo_surface_t *surface = cairo_svg_surface_create_for_stream (og_collect_bytes, bytes, PAGE_WIDTH, height);
  cairo_t *cr = cairo_create (surface);

  og_card_draw_page (card, cr, 0);

  return finish_surface (surface, cr, error);
}

static gboolean
card_to_png (OgCard             *card,
             const OgDrawStyle  *style,
             GByteArray         *bytes,
             GError            **error)
{
  double height = og_card_lay_out_tall (card, PAGE_WIDTH, style);
  double scale = MIN (PIXELS_PER_POINT, MOST_PIXELS / height);
  cairo_surface_t *surface;
  cairo_t *cr;

  if (scale < LEAST_PIXELS_PER_POINT)
    {
      g_set_error (error, G_IO_ERROR, G_IO_ERROR_NOT_SUPPORTED,
                   _("The recipe is too long for one picture. Write a PDF instead."));
      return FALSE;
    }

  surface = image_surface (PAGE_WIDTH, height, scale);
  cr = cairo_create (surface);
  cairo_scale (cr, scale, scale);
  og_card_draw_page (card, cr, 0);

  return finish_image (surface, cr, bytes, error);
}

/* --- data --- */

static char *
card_to_json (const OgFormula  *formula,
              const OgResult   *result,
              GError          **error)
{
  g_autoptr (GBytes) document = og_storage_serialise (formula);
  g_autoptr (JsonParser) parser = json_parser_new_immutable ();
  g_autoptr (JsonGenerator) generator = json_generator_new ();
  g_autoptr (JsonNode) root = json_node_new (JSON_NODE_OBJECT);
  g_autofree char *text = NULL;
  JsonObject *object;
  gsize length;
  const char *data = g_bytes_get_data (document, &length);

  if (!json_parser_load_from_data (parser, data, (gssize) length, error))
    return NULL;

  object = json_object_new ();
  json_object_set_string_member (object, "format", "oleograph-card");
  json_object_set_member (object, "recipe", json_node_copy (json_parser_get_root (parser)));
  json_object_set_member (object, "evaluation", og_result_to_json (result));
  json_node_take_object (root, object);
  json_generator_set_root (generator, root);
  json_generator_set_pretty (generator, TRUE);
  json_generator_set_indent (generator, JSON_INDENT);
  text = json_generator_to_data (generator, NULL);

  return g_strconcat (text, "\n", NULL);
}

/* --- the two exports --- */

static gboolean
write_text (const char  *path,
            const char  *text,
            GError     **error)
{
  return text != NULL && write_whole (path, text, strlen (text), error);
}

static gboolean
export_picture (OgCard          *card,
                const char      *path,
                OgExportFormat   format,
                GError         **error)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  gboolean done;

  if (format == OG_EXPORT_PDF)
    done = card_to_pdf (card, &card->style, bytes, error);
  else if (format == OG_EXPORT_PNG)
    done = card_to_png (card, &card->style, bytes, error);
  else
    done = card_to_svg (card, &card->style, bytes, error);

  return done && write_whole (path, bytes->data, bytes->len, error);
}

gboolean
og_export_sheet (OgCard          *sheet,
                 const char      *path,
                 OgExportFormat   format,
                 GError         **error)
{
  g_autofree char *text = NULL;

  g_return_val_if_fail (sheet != NULL && path != NULL, FALSE);

  og_export_style (&sheet->style);
  switch (format)
    {
    case OG_EXPORT_MARKDOWN:
      text = og_card_to_markdown (sheet);
      return write_text (path, text, error);
    case OG_EXPORT_HTML:
      text = og_card_to_html (sheet);
      return write_text (path, text, error);
    case OG_EXPORT_PDF:
    case OG_EXPORT_PNG:
    case OG_EXPORT_SVG:
      return export_picture (sheet, path, format, error);
    case OG_EXPORT_CSV:
    case OG_EXPORT_JSON:
    default:
      g_return_val_if_reached (FALSE);
    }
}

gboolean
og_export_card (const OgFormula  *formula,
                OgResult         *result,
                const char       *path,
                OgExportFormat    format,
                GError          **error)
{
  g_autoptr (OgCard) card = NULL;
  g_autofree char *text = NULL;

  g_return_val_if_fail (formula != NULL && result != NULL && path != NULL, FALSE);

  if (format == OG_EXPORT_CSV)
    {
      text = og_recipe_table_write (formula);
      return write_text (path, text, error);
    }
  if (format == OG_EXPORT_JSON)
    {
      text = card_to_json (formula, result, error);
      return write_text (path, text, error);
    }

  card = og_card_new (formula, result);
  return og_export_sheet (card, path, format, error);
}

gboolean
og_export_painting (OgPaintFunc      paint,
                    gconstpointer    data,
                    double           width,
                    double           height,
                    double           font_size,
                    const char      *path,
                    OgExportFormat   format,
                    GError         **error)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  cairo_surface_t *surface;
  OgDrawStyle style;
  cairo_t *cr;
  gboolean done;

  g_return_val_if_fail (paint != NULL && path != NULL && width > 0 && height > 0, FALSE);

  if (format == OG_EXPORT_PNG)
    surface = image_surface (width, height, PIXELS_PER_POINT);
  else if (format == OG_EXPORT_SVG)
    surface = cairo_svg_surface_create_for_stream (og_collect_bytes, bytes, width, height);
  else if (format == OG_EXPORT_PDF)
    surface = pdf_surface (bytes, width, height, NULL);
  else
    {
      g_set_error (error, G_IO_ERROR, G_IO_ERROR_NOT_SUPPORTED,
                   _("A picture can be written as PNG, SVG or PDF only."));
      return FALSE;
    }

  og_export_style (&style);
  style.font_size = font_size;
  cr = cairo_create (surface);
  if (format == OG_EXPORT_PNG)
    cairo_scale (cr, PIXELS_PER_POINT, PIXELS_PER_POINT);
  paint (cr, width, height, data, &style);
  done = format == OG_EXPORT_PNG ? finish_image (surface, cr, bytes, error)
                                 : finish_surface (surface, cr, error);

  return done && write_whole (path, bytes->data, bytes->len, error);
}

static void
paint_chart (cairo_t           *cr,
             double             width,
             double             height,
             gconstpointer      data,
             const OgDrawStyle *style)
{
  og_chart_draw (cr, width, height, data, style);
}

gboolean
og_export_chart (const OgChart   *chart,
                 const char      *path,
                 OgExportFormat   format,
                 GError         **error)
{
  g_return_val_if_fail (chart != NULL && path != NULL, FALSE);

  return og_export_painting (paint_chart, chart, CHART_WIDTH, CHART_HEIGHT, CHART_FONT_SIZE, path,
                             format, error);
}
