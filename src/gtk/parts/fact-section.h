/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define OG_TYPE_FACT_SECTION (og_fact_section_get_type ())
G_DECLARE_FINAL_TYPE (OgFactSection, og_fact_section, OG, FACT_SECTION, GtkWidget)

/* A part of a page that tells its answer in one line and the reasons once it is opened. */
GtkWidget *og_fact_section_new          (const char     *title);
/** @summary: the answer in a few words */
void       og_fact_section_set_summary  (OgFactSection  *self,
                                         const char     *summary);
/** Marks the answer as something to look at. */
void       og_fact_section_set_alert    (OgFactSection  *self,
                                         gboolean        alert);
void       og_fact_section_set_open     (OgFactSection  *self,
                                         gboolean        open);
/** Returns: (transfer none): a vertical box for the reasons */
GtkWidget *og_fact_section_get_box      (OgFactSection  *self);
/** Takes everything out of the box. */
void       og_fact_section_clear        (OgFactSection  *self);

/* What goes into such a box. */
void       og_facts_append_heading      (GtkWidget         *box,
                                         const char        *text);
/** @remark: (nullable): smaller, below the value */
void       og_facts_append              (GtkWidget         *box,
                                         const char        *name,
                                         const char        *value,
                                         const char        *remark);
/** @css_class: (nullable) */
void       og_facts_append_text         (GtkWidget         *box,
                                         const char        *text,
                                         const char        *css_class);

G_END_DECLS
