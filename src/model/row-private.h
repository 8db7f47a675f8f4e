/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "model/row.h"

G_BEGIN_DECLS

/* What only the lines model may do to a row. */

/* Returns: (transfer full): a row of @kind for the phase or line @id, without content yet */
OgRow *_og_row_new          (OgRowKind             kind,
                             guint                 id);
/* Takes over what stands in @phase; @batch_g: grams of the whole recipe */
void   _og_row_mirror_phase (OgRow                *self,
                             const OgFormulaPhase *phase,
                             double                batch_g);
/* Takes over what stands in @line; @catalog: for the names; @batch_g: grams of the whole recipe */
void   _og_row_mirror_line  (OgRow                *self,
                             const OgFormulaLine  *line,
                             guint                 phase_id,
                             const OgCatalog      *catalog,
                             double                batch_g);
/* @severity -1 and @text NULL: no finding */
void   _og_row_set_finding  (OgRow                *self,
                             int                   severity,
                             const char           *text);
/* @position: in the list model, from 0 */
void   _og_row_set_position (OgRow                *self,
                             guint                 position);
/* Returns: as last set */
guint  _og_row_get_position (OgRow                *self);

G_END_DECLS
