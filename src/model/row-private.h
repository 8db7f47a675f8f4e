/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "model/row.h"

G_BEGIN_DECLS

/* What only the lines model may do to a row. */

OgRow *_og_row_new          (OgRowKind             kind,
                             guint                 id);
void   _og_row_mirror_phase (OgRow                *self,
                             const OgFormulaPhase *phase,
                             double                batch_g);
void   _og_row_mirror_line  (OgRow                *self,
                             const OgFormulaLine  *line,
                             guint                 phase_id,
                             const OgCatalog      *catalog,
                             double                batch_g);
/* @severity -1 and @text NULL: no finding */
void   _og_row_set_finding  (OgRow                *self,
                             int                   severity,
                             const char           *text);
void   _og_row_set_position (OgRow                *self,
                             guint                 position);
guint  _og_row_get_position (OgRow                *self);

G_END_DECLS
