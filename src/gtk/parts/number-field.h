/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define OG_TYPE_NUMBER_FIELD (og_number_field_get_type ())
G_DECLARE_FINAL_TYPE (OgNumberField, og_number_field, OG, NUMBER_FIELD, GtkWidget)

#define OG_NUMBER_FIELD_MOST 5

/*
 * A line of a form: what is asked for, one entry or several for repeated readings, the unit, and
 * below them what is wrong with the text. While the reader types, a problem is told quietly; it
 * turns into a mistake when the focus leaves.
 *
 * Properties: "title" (string, construct-only), "unit" (string, nullable, construct-only),
 * "entries" (uint, construct-only). Signal: "changed" (the text is another one).
 */
GtkWidget  *og_number_field_new             (const char    *title,
                                             const char    *unit,
                                             guint          n_entries);
/**
 * og_number_field_read:
 * @values: (out) (array length=n_values): room for %OG_NUMBER_FIELD_MOST numbers
 * @n_values: (out): how many entries hold one; empty entries are passed over
 *
 * Returns: whether all that was typed is a number; if not, the field says so
 */
gboolean    og_number_field_read            (OgNumberField *self,
                                             double        *values,
                                             guint         *n_values);
/** Returns: whether nothing was typed */
gboolean    og_number_field_is_empty        (OgNumberField *self);
/** Types @value, with at most @decimals, into the first entry; NAN empties it. */
void        og_number_field_set_value       (OgNumberField *self,
                                             double         value,
                                             guint          decimals);
/** @text: (nullable): what holds while nothing is typed */
void        og_number_field_set_placeholder (OgNumberField *self,
                                             const char    *text);
/** @problem: (nullable): a translated sentence */
void        og_number_field_set_problem     (OgNumberField *self,
                                             const char    *problem);
const char *og_number_field_get_problem     (OgNumberField *self);
/** Lets the title take part in a common width. */
void        og_number_field_join            (OgNumberField *self,
                                             GtkSizeGroup  *titles);

G_END_DECLS
