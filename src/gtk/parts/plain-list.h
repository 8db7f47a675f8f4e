/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/predict/evaluate.h"

G_BEGIN_DECLS

#define OG_TYPE_PLAIN_LIST (og_plain_list_get_type ())
G_DECLARE_FINAL_TYPE (OgPlainList, og_plain_list, OG, PLAIN_LIST, GtkWidget)

/*
 * A list of lines that are only read. It is one stop of the Tab key; the arrow keys go from line to
 * line.
 */

/** @name: for screen readers */
GtkWidget *og_plain_list_new         (const char      *name);
/** A row that has the focus gives it to the one that takes its place. */
void       og_plain_list_clear       (OgPlainList     *self);
/** Adds a row that holds @child and is read out as @spoken. Returns: (transfer none): the row */
GtkWidget *og_plain_list_add         (OgPlainList     *self,
                                      GtkWidget       *child,
                                      const char      *spoken);
/** Adds a line of a fact. @remark: (nullable): said more quietly below */
void       og_plain_list_add_fact    (OgPlainList     *self,
                                      const char      *title,
                                      const char      *value,
                                      const char      *remark);
/** Adds a finding with the sign of its severity. */
void       og_plain_list_add_finding (OgPlainList     *self,
                                      const OgFinding *finding);

G_END_DECLS
