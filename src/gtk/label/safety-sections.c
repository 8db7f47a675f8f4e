/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "core/base/number-text.h"
#include "gtk/label/safety-sections.h"
#include "gtk/parts/finding-row.h"
#include "gtk/parts/pieces.h"
#include "gtk/parts/swatch.h"

/* Findings */

static char *
count_findings (const GPtrArray *findings)
{
  guint n[3] = { 0, 0, 0 };
  g_autofree char *blocking = NULL;
  g_autofree char *cautions = NULL;
  g_autofree char *notes = NULL;

  for (guint i = 0; i < findings->len; i++)
    n[((OgFinding *) g_ptr_array_index (findings, i))->severity]++;
  if (findings->len == 0)
    return g_strdup (_("Nothing stands out"));
  blocking = g_strdup_printf (ngettext ("%u blocking", "%u blocking", n[OG_SEVERITY_BLOCKING]),
                              n[OG_SEVERITY_BLOCKING]);
  cautions = g_strdup_printf (ngettext ("%u caution", "%u cautions", n[OG_SEVERITY_CAUTION]),
                              n[OG_SEVERITY_CAUTION]);
  notes = g_strdup_printf (ngettext ("%u note", "%u notes", n[OG_SEVERITY_NOTE]),
                           n[OG_SEVERITY_NOTE]);
  if (n[OG_SEVERITY_BLOCKING] > 0)
    /* Translators: three counts, "1 blocking, 2 cautions, 3 notes" */
    return g_strdup_printf (_("%s, %s, %s"), blocking, cautions, notes);
  /* Translators: two counts, "2 cautions, 3 notes" */
  return g_strdup_printf (_("%s, %s"), cautions, notes);
}

void
og_section_show_findings (OgFactSection   *section,
                          GtkWidget       *list,
                          const GPtrArray *findings)
{
  g_autofree char *summary = count_findings (findings);
  gboolean blocking = FALSE;

  og_list_clear (list);
  for (guint i = 0; i < findings->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (findings, i);

      blocking |= finding->severity == OG_SEVERITY_BLOCKING;
      gtk_list_box_append (GTK_LIST_BOX (list), og_finding_row_new (finding));
    }
  og_fact_section_set_summary (section, summary);
  og_fact_section_set_alert (section, blocking);
}

/* Keeping */

static void
append_spans (GtkWidget       *box,
              const OgKeeping *keeping)
{
  og_facts_append_heading (box, _("Closed, full and dark"));
  for (guint i = 0; i < keeping->spans->len; i++)
    {
      const OgKeepingSpan *span = &g_array_index (keeping->spans, OgKeepingSpan, i);
      g_autofree char *degrees = og_number_fixed (span->temperature_c, 0);
      /* Translators: %s is a temperature */
      g_autofree char *name = g_strdup_printf (_("At %s °C"), degrees);
      g_autofree char *value = og_saying_take_text (og_keeping_span_saying (span));

      og_facts_append (box, name, value, NULL);
    }
  og_facts_append_text (box, og_saying_text (keeping->basis), "fact-origin");
}

static void
append_indices (GtkWidget       *box,
                const OgKeeping *keeping)
{
  g_autofree char *cox = og_number_significant (keeping->cox, 3);
  g_autofree char *ox = og_number_significant (keeping->oxidisability, 3);
  g_autofree char *pi = og_number_significant (keeping->peroxidisability, 3);

  og_facts_append_heading (box, _("Oxidation of the oils"));
  og_facts_append (box, _("COX value"), cox, NULL);
  og_facts_append (box, _("Oxidisability"), ox, NULL);
  og_facts_append (box, _("Peroxidisability"), pi, NULL);
}

static void
append_parts (GtkWidget       *box,
              const OgKeeping *keeping)
{
  const guint most = MIN (keeping->parts->len, 4u);

  if (most == 0)
    return;
  og_facts_append_heading (box, _("What turns first"));
  for (guint i = 0; i < most; i++)
    {
      const OgKeepingPart *part = &g_array_index (keeping->parts, OgKeepingPart, i);
      g_autofree char *pct = og_number_fixed (100.0 * part->share, 0);
      /* Translators: %s is a number: share of the oxidation that one material is behind */
      g_autofree char *value = g_strdup_printf (_("%s %% of it"), pct);

      og_facts_append (box, part->ingredient->name, value, NULL);
    }
}

static void
append_guards (GtkWidget       *box,
               const OgKeeping *keeping)
{
  og_facts_append_heading (box, _("Antioxidant"));
  if (keeping->guards->len == 0)
    og_facts_append_text (box, _("None in the recipe."), NULL);
  for (guint i = 0; i < keeping->guards->len; i++)
    {
      const OgKeepingGuard *guard = &g_array_index (keeping->guards, OgKeepingGuard, i);
      g_autofree char *pct = og_number_trimmed (guard->pct, 3);
      g_autofree char *value = g_strdup_printf (_("%s %%"), pct);

      og_facts_append (box, guard->ingredient->name, value, og_guard_level_get_name (guard->level));
    }
}

void
og_section_show_keeping (OgFactSection   *section,
                         const OgKeeping *keeping)
{
  GtkWidget *box = og_fact_section_get_box (section);
  g_autofree char *room = og_saying_take_text (og_keeping_span_saying (&keeping->room));
  /* Translators: %s is a time such as "6 to 12 months" */
  g_autofree char *summary = isfinite (keeping->room.low_months)
                               ? g_strdup_printf (_("Estimated %s at room temperature"), room)
                               : g_strdup (_("Unknown"));

  og_fact_section_clear (section);
  og_fact_section_set_summary (section, summary);
  append_spans (box, keeping);
  append_parts (box, keeping);
  append_guards (box, keeping);
  append_indices (box, keeping);
  og_facts_append_heading (box, _("Advice"));
  for (guint i = 0; i < keeping->advice->len; i++)
    og_facts_append_text (box, og_saying_text (g_ptr_array_index (keeping->advice, i)), NULL);
}

/* Colour and gloss */

static void
append_swatches (GtkWidget    *box,
                 const OgTint *tint)
{
  GtkWidget *swatches = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  const OgRgb white = { 1.0, 1.0, 1.0 };
  OgRgb lips;

  og_tint_lip_ground (&lips);
  gtk_box_set_homogeneous (GTK_BOX (swatches), TRUE);
  gtk_box_append (GTK_BOX (swatches), og_swatch_new (&tint->over_lips, &lips, _("On lips")));
  gtk_box_append (GTK_BOX (swatches), og_swatch_new (&tint->over_white, &white,
                                                     _("Over white: undertone")));
  gtk_box_append (GTK_BOX (swatches), og_swatch_new (&tint->mass_tone, NULL, _("Mass tone")));
  gtk_box_append (GTK_BOX (box), swatches);
}

void
og_section_show_tint (OgFactSection *section,
                      const OgTint  *tint,
                      double         refractive_index)
{
  GtkWidget *box = og_fact_section_get_box (section);
  g_autofree char *pigment = og_number_trimmed (tint->pigment_pct, 3);
  g_autofree char *load = g_strdup_printf (_("%s %%"), pigment);
  g_autofree char *index = isfinite (refractive_index) ? og_number_fixed (refractive_index, 3)
                                                       : g_strdup (_("unknown"));
  g_autoptr (OgSaying) words = og_tint_describe (tint);

  og_fact_section_clear (section);
  og_fact_section_set_summary (section, og_tint_depth_get_name (tint->depth));
  if (isfinite (tint->over_lips.red) && tint->pigment_pct > 0.0)
    {
      append_swatches (box, tint);
      og_facts_append_text (box, _("Approximate: to choose by, not to match by."), "fact-origin");
    }
  og_facts_append_text (box, og_saying_text (words), NULL);
  og_facts_append (box, _("Pigment"), load, NULL);
  og_facts_append (box, _("Refractive index at 25 °C"), index,
                   _("The higher, the glossier the film looks."));
}

/* Natural origin */

void
og_section_show_origin (OgFactSection         *section,
                        const OgNaturalOrigin *origin,
                        const OgCatalog       *catalog)
{
  GtkWidget *box = og_fact_section_get_box (section);
  g_autofree char *text = og_saying_take_text (og_natural_origin_saying (origin));
  g_autofree char *low = og_number_fixed (origin->low_pct, 1);
  g_autofree char *high = og_number_fixed (origin->high_pct, 1);
  g_autofree char *summary =
    origin->unknown_pct > 0.05
      /* Translators: a range of per cent */
      ? g_strdup_printf (_("%s to %s %%"), low, high)
      : g_strdup_printf (_("%s %%"), low);

  og_fact_section_clear (section);
  og_fact_section_set_summary (section, summary);
  og_facts_append_text (box, text, NULL);
  if (origin->unknown_ids->len > 0)
    og_facts_append_heading (box, _("Index not known"));
  for (guint i = 0; i < origin->unknown_ids->len; i++)
    {
      const char *id = g_ptr_array_index (origin->unknown_ids, i);
      const OgIngredient *ingredient = og_catalog_get (catalog, id);

      og_facts_append_text (box, ingredient != NULL ? ingredient->name : id, NULL);
    }
}
