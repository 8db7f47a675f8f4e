/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <string.h>

#include "gtk/parts/compat.h"
#include "gtk/parts/theme-style.h"

#define DIM_SHARE 0.8
#define GRID_SHARE 0.16
#define FALLBACK_DPI 96.0
#define POINTS_PER_INCH 72.0

static OgColour
from_rgba (const GdkRGBA *rgba)
{
  return (OgColour) { rgba->red, rgba->green, rgba->blue, rgba->alpha };
}

static OgColour
mix (const OgColour *over,
     const OgColour *under,
     double          share)
{
  const double rest = 1.0 - share;

  return (OgColour) {
    over->r * share + under->r * rest,
    over->g * share + under->g * rest,
    over->b * share + under->b * rest,
    1.0,
  };
}

/* Relative luminance without the gamma step: enough to tell a dark theme from a light one. */
static double
brightness (const OgColour *colour)
{
  return 0.2126 * colour->r + 0.7152 * colour->g + 0.0722 * colour->b;
}

static gboolean
look_up (GtkWidget  *widget,
         const char *name,
         OgColour   *colour)
{
  GdkRGBA rgba;

  if (!og_compat_lookup_color (widget, name, &rgba))
    return FALSE;
  *colour = from_rgba (&rgba);
  return TRUE;
}

gboolean
og_theme_is_high_contrast (GtkWidget *widget)
{
  g_autofree char *name = NULL;
  const char *forced = g_getenv ("GTK_THEME");

  if (forced == NULL || *forced == '\0')
    {
      g_object_get (gtk_widget_get_settings (widget), "gtk-theme-name", &name, NULL);
      forced = name;
    }
  return forced != NULL
         && (g_str_has_prefix (forced, "HighContrast") || strstr (forced, "-hc") != NULL);
}

static void
set_colours (OgDrawStyle *style,
             GtkWidget   *widget)
{
  GdkRGBA text;
  OgColour foreground;
  OgColour background;

  og_compat_get_color (widget, &text);
  foreground = from_rgba (&text);
  if (brightness (&foreground) > 0.5)
    og_draw_style_dark (style);
  else
    og_draw_style_paper (style);

  if (!look_up (widget, "theme_bg_color", &background))
    background = style->background;
  style->high_contrast = og_theme_is_high_contrast (widget);
  style->background = background;
  style->foreground = mix (&foreground, &background, foreground.a);
  style->dim = style->high_contrast ? style->foreground
                                    : mix (&style->foreground, &background, DIM_SHARE);
  style->grid = mix (&style->foreground, &background, style->high_contrast ? 0.5 : GRID_SHARE);
  if (style->high_contrast)
    style->accent = style->foreground;
  else if (!look_up (widget, "accent_color", &style->accent))
    look_up (widget, "og_ink", &style->accent);
  look_up (widget, "og_caution", &style->caution);
}

static void
set_font (OgDrawStyle *style,
          GtkWidget   *widget)
{
  PangoContext *context = gtk_widget_get_pango_context (widget);
  g_autoptr(PangoFontDescription) font =
    pango_font_description_copy (pango_context_get_font_description (context));
  g_autofree char *text = NULL;
  double dpi = pango_cairo_context_get_resolution (context);

  style->font_size = (double) pango_font_description_get_size (font) / PANGO_SCALE;
  if (!pango_font_description_get_size_is_absolute (font))
    style->font_size *= (dpi > 0.0 ? dpi : FALLBACK_DPI) / POINTS_PER_INCH;
  pango_font_description_unset_fields (font, PANGO_FONT_MASK_SIZE);
  text = pango_font_description_to_string (font);
  style->font = g_intern_string (text); /* as many as there are fonts in use */
}

void
og_theme_style_init (OgDrawStyle *style,
                     GtkWidget   *widget)
{
  g_return_if_fail (style != NULL);
  g_return_if_fail (GTK_IS_WIDGET (widget));

  set_colours (style, widget);
  set_font (style, widget);
  style->rtl = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;
}
