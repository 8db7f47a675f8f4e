/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * Whom Ctrl+Z belongs to. A text keeps a history of its own, but only of what the reader typed since it got the focus
 * or was last taken over; beyond that the keys go to the window's actions "win.undo" and "win.redo", if it has them.
 */

/** From now on the keys for undo and redo are dealt out in every window of the program, once for the whole program. */
void og_text_undo_watch   (void);
/**
 * og_editable_show:
 * @text: UTF-8
 *
 * Shows what the program has to say: it leaves no trace in the history of the text, and what was typed before is
 * forgotten. The only way in which the program sets the text of an entry.
 */
void og_editable_show     (GtkEditable *editable,
                           const char  *text);

G_END_DECLS
