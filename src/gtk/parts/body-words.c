/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "core/base/number-text.h"
#include "gtk/parts/body-words.h"

static char *
interval_text (double      from,
               double      to,
               const char *unit)
{
  g_autofree char *low = og_number_significant (from, 3);
  g_autofree char *high = og_number_significant (to, 3);

  if (!isfinite (from))
    /* Translators: %s is a number and a unit */
    return g_strdup_printf (_("below %s %s"), high, unit);
  if (!isfinite (to))
    return g_strdup_printf (_("from %s %s"), low, unit);
  /* Translators: a range with its unit, "300–1200 mPa·s" */
  return g_strdup_printf (_("%s–%s %s"), low, high, unit);
}

char *
og_body_interval_to_text (const OgBodyBounds *bounds,
                          OgBody              body)
{
  const double *from = bounds->from;

  switch (body)
    {
    case OG_BODY_DRY:
      return interval_text (NAN, from[OG_BODY_BOUND_THIN], _("mPa·s"));
    case OG_BODY_THIN:
      return interval_text (from[OG_BODY_BOUND_THIN], from[OG_BODY_BOUND_LIGHT], _("mPa·s"));
    case OG_BODY_LIGHT:
      return interval_text (from[OG_BODY_BOUND_LIGHT], from[OG_BODY_BOUND_SUBSTANTIAL],
                            _("mPa·s"));
    case OG_BODY_SUBSTANTIAL:
      return interval_text (from[OG_BODY_BOUND_SUBSTANTIAL], from[OG_BODY_BOUND_SYRUPY],
                            _("mPa·s"));
    case OG_BODY_SYRUPY:
      return interval_text (from[OG_BODY_BOUND_SYRUPY], from[OG_BODY_BOUND_HEAVY], _("mPa·s"));
    case OG_BODY_HEAVY:
      return interval_text (from[OG_BODY_BOUND_HEAVY], NAN, _("mPa·s"));
    case OG_BODY_SOFT_SET:
      return interval_text (from[OG_BODY_BOUND_SOFT_SET], from[OG_BODY_BOUND_SET], _("Pa"));
    case OG_BODY_SET:
      return interval_text (from[OG_BODY_BOUND_SET], NAN, _("Pa"));
    case OG_BODY_UNKNOWN:
    default:
      return g_strdup ("");
    }
}

void
og_body_words_fill (GtkDropDown        *drop_down,
                    const OgBodyBounds *bounds,
                    const char         *unknown)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);

  if (unknown != NULL)
    gtk_string_list_append (names, unknown);
  for (guint i = OG_BODY_DRY; i <= OG_BODY_SET; i++)
    {
      g_autofree char *interval = og_body_interval_to_text (bounds, (OgBody) i);
      g_autofree char *text =
        /* Translators: a word for the body and what it stands for, "Light, 120–300 mPa·s" */
        g_strdup_printf (_("%s, %s"), og_body_get_name ((OgBody) i), interval);

      gtk_string_list_append (names, text);
    }
  gtk_drop_down_set_model (drop_down, G_LIST_MODEL (names));
}

OgBody
og_body_words_get (GtkDropDown *drop_down,
                   gboolean     with_unknown)
{
  const guint selected = gtk_drop_down_get_selected (drop_down);

  if (selected == GTK_INVALID_LIST_POSITION)
    return OG_BODY_UNKNOWN;
  return (OgBody) (with_unknown ? selected : selected + OG_BODY_DRY);
}

void
og_body_words_set (GtkDropDown *drop_down,
                   OgBody       body,
                   gboolean     with_unknown)
{
  gtk_drop_down_set_selected (drop_down,
                              with_unknown ? (guint) body : (guint) body - OG_BODY_DRY);
}
