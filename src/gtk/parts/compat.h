/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * Everything that GTK deprecates after 4.8 and that has no other way there. A port to a newer GTK
 * starts and ends in this file.
 */

/** OgFileFilter: one choice of file kind; @patterns is a list such as "*.oleograph;*.csv". */
typedef struct
{
  const char *name;
  const char *patterns;
} OgFileFilter;

/** @file: (nullable) (transfer none): the choice, or NULL when the reader gave up */
typedef void (*OgFileFunc) (GtkWindow *parent, GFile *file, gpointer data);

/**
 * og_compat_choose_file:
 * @action: open or save
 * @filters: ends with an entry without a name
 * @folder: (nullable): where to begin
 * @name: (nullable): file name to suggest when saving
 *
 * Asks for one file. @func is called once, unless @parent goes away before; asking before a file is
 * replaced is the chooser's own work.
 */
void og_compat_choose_file    (GtkWindow            *parent,
                               const char           *title,
                               GtkFileChooserAction  action,
                               const OgFileFilter   *filters,
                               GFile                *folder,
                               const char           *name,
                               OgFileFunc            func,
                               gpointer              data);

typedef enum
{
  OG_ANSWER_PLAIN,
  OG_ANSWER_SUGGESTED,
  OG_ANSWER_DESTRUCTIVE
} OgAnswerStyle;

typedef struct
{
  const char   *label;
  OgAnswerStyle style;
} OgAnswer;

/** @answer: index of the answer; the first one also stands for closing the question */
typedef void (*OgAnswerFunc) (GtkWindow *parent, guint answer, gpointer data);

/**
 * og_compat_ask:
 * @answers: at most four; the first one gives up. Enter takes the suggested one, or else the first
 * @func: (nullable): called once, unless @parent goes away before
 *
 * A modal question in front of @parent.
 */
void og_compat_ask            (GtkWindow            *parent,
                               const char           *heading,
                               const char           *body,
                               const OgAnswer       *answers,
                               guint                 n_answers,
                               OgAnswerFunc          func,
                               gpointer              data);

/**
 * og_compat_show_shortcuts:
 * @ui: description of one GtkShortcutsWindow with the id "shortcuts"
 */
void og_compat_show_shortcuts (GtkWindow            *parent,
                               const char           *ui);

/** Looks up a named colour of the theme. Returns: FALSE if it has none of that name */
gboolean og_compat_lookup_color (GtkWidget *widget,
                                 const char *name,
                                 GdkRGBA    *colour);
/** Text colour of @widget. */
void     og_compat_get_color    (GtkWidget  *widget,
                                 GdkRGBA    *colour);

G_END_DECLS
