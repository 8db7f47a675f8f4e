/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "fixtures.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

OgCurve *
test_curve_new (OgCurveAxis axis,
                guint       n,
                double      low_x,
                double      high_x,
                double      first,
                double      last,
                double      spread)
{
  OgCurve *curve = g_new0 (OgCurve, 1);

  curve->axis = axis;
  curve->n = n;
  curve->x = g_new (double, n);
  curve->value = g_new (double, n);
  curve->low80 = g_new (double, n);
  curve->high80 = g_new (double, n);
  for (guint i = 0; i < n; i++)
    {
      double t = n > 1 ? (double) i / (n - 1) : 0;

      curve->x[i] = axis == OG_CURVE_SHEAR_RATE_1_S ? low_x * pow (high_x / low_x, t)
                                                    : low_x + t * (high_x - low_x);
      curve->value[i] = first * pow (last / first, t);
      curve->low80[i] = curve->value[i] / spread;
      curve->high80[i] = curve->value[i] * spread;
    }
  curve->own_x = curve->mark_x = curve->clear_x = curve->valid_low_x = curve->valid_high_x = NAN;
  curve->own = (OgEstimate) { NAN, NAN, NAN };
  curve->temperature_c = axis == OG_CURVE_TEMPERATURE_C ? NAN : 25;
  curve->shear_rate_1_s = axis == OG_CURVE_SHEAR_RATE_1_S ? NAN : OG_SHEAR_POUR;

  return curve;
}

void
test_curve_set_own (OgCurve *curve,
                    guint    index)
{
  curve->own_x = curve->x[index];
  curve->own = (OgEstimate) { curve->value[index], curve->low80[index], curve->high80[index] };
}

void
test_curve_free (OgCurve *curve)
{
  g_free (curve->x);
  g_free (curve->value);
  g_free (curve->low80);
  g_free (curve->high80);
  g_free (curve->prior_low80);
  g_free (curve->prior_high80);
  g_free (curve->ingredient_id);
  g_free (curve);
}

OgChart
test_chart (const OgCurve *own)
{
  return (OgChart) {
    .curves = { own },
    .n_curves = 1,
    .target_low_mpa_s = NAN,
    .target_high_mpa_s = NAN,
    .cursor_x = NAN,
  };
}

cairo_surface_t *
test_paint_chart (int                width,
                  int                height,
                  const OgChart     *chart,
                  const OgDrawStyle *style)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  cairo_t *cr = cairo_create (surface);

  og_chart_draw (cr, width, height, chart, style);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  g_assert_cmpint (cairo_surface_status (surface), ==, CAIRO_STATUS_SUCCESS);

  return surface;
}

guint32
test_pixel (cairo_surface_t *surface,
            int              x,
            int              y)
{
  const guint8 *data = cairo_image_surface_get_data (surface);
  const guint32 *row = (const guint32 *) (const void *) (data + y * cairo_image_surface_get_stride (surface));

  return row[x] & 0xffffff;
}

guint32
test_colour (const OgColour *colour)
{
  return (guint32) lround (colour->r * 255) << 16 | (guint32) lround (colour->g * 255) << 8 |
         (guint32) lround (colour->b * 255);
}

int
test_difference (guint32 a,
                 guint32 b)
{
  int worst = 0;

  for (int shift = 0; shift <= 16; shift += 8)
    worst = MAX (worst, ABS ((int) (a >> shift & 0xff) - (int) (b >> shift & 0xff)));

  return worst;
}

void
test_assert_border (cairo_surface_t *surface,
                    int              border,
                    guint32          colour)
{
  int width = cairo_image_surface_get_width (surface);
  int height = cairo_image_surface_get_height (surface);

  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      if (x < border || y < border || x >= width - border || y >= height - border)
        if (test_pixel (surface, x, y) != colour)
          g_error ("%d x %d: pixel %d, %d of the border is %06x", width, height, x, y,
                   test_pixel (surface, x, y));
}

guint
test_count_ink (cairo_surface_t *surface,
                guint32          colour)
{
  guint n = 0;

  for (int y = 0; y < cairo_image_surface_get_height (surface); y++)
    for (int x = 0; x < cairo_image_surface_get_width (surface); x++)
      n += test_pixel (surface, x, y) != colour ? 1 : 0;

  return n;
}

char *
test_pdf_to_text (const char *path)
{
  g_autofree char *program = g_find_program_in_path ("pdftotext");
  g_autoptr (GError) error = NULL;
  char *text = NULL;
  int status;
  const char *argv[] = { program, "-enc", "UTF-8", "-layout", path, "-", NULL };

  if (program == NULL)
    return NULL;

  g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, &text, NULL, &status, &error);
  g_assert_no_error (error);
  g_assert_cmpint (status, ==, 0);

  return text;
}

char *
test_folder_new (void)
{
  g_autoptr (GError) error = NULL;
  char *folder = g_dir_make_tmp ("oleograph-draw-XXXXXX", &error);

  g_assert_no_error (error);
  return folder;
}

guint
test_folder_count (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  guint n = 0;

  g_assert_nonnull (dir);
  while (g_dir_read_name (dir) != NULL)
    n++;

  return n;
}

static void
remove_all (const char *path)
{
  if (g_file_test (path, G_FILE_TEST_IS_DIR) && !g_file_test (path, G_FILE_TEST_IS_SYMLINK))
    {
      g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
      const char *name;

      g_assert_nonnull (dir);
      while ((name = g_dir_read_name (dir)) != NULL)
        {
          g_autofree char *child = g_build_filename (path, name, NULL);

          remove_all (child);
        }
    }
  g_assert_cmpint (g_remove (path), ==, 0);
}

void
test_folder_remove (char *folder)
{
  remove_all (folder);
  g_free (folder);
}

void
test_assert_has (const char *text,
                 const char *part)
{
  if (strstr (text, part) == NULL)
    g_error ("“%s” is missing in:\n%s", part, text);
}

void
test_assert_has_not (const char *text,
                     const char *part)
{
  if (strstr (text, part) != NULL)
    g_error ("“%s” should not be in:\n%s", part, text);
}
