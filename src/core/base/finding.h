/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/base/saying.h"

G_BEGIN_DECLS

/** OgSeverity: how much a finding matters. Only what is blocking changes an exit status. */
typedef enum
{
  OG_SEVERITY_NOTE,
  OG_SEVERITY_CAUTION,
  OG_SEVERITY_BLOCKING
} OgSeverity;

/** "note", "caution", "blocking" */
const char *og_severity_to_nick   (OgSeverity   severity);
/** Returns: %FALSE if nothing is called @nick; the value is left alone then */
gboolean    og_severity_from_nick (const char  *nick,
                                   OgSeverity  *severity);
/** Returns: (transfer none): translated, "Caution" */
const char *og_severity_get_name  (OgSeverity   severity);

/** OgFinding: something the reader should know. @code is stable and for programs. */
typedef struct
{
  OgSeverity  severity;
  const char *code;
  OgSaying   *text;
  OgSaying   *source;  /* nullable: what the finding rests on */
  guint       line_id; /* 0: the recipe as a whole */
  double      amount_pct;   /* wt % of the product that the finding is about; NAN: none */
  double      limit_pct;    /* what it is compared with; NAN: nothing */
  OgSaying   *cure;         /* nullable: what would take the finding away */
  OgSaying   *reference;    /* nullable: law, standard or guide */
  char       *jurisdiction; /* nullable: where it holds, see og_jurisdiction_get_name() */
} OgFinding;

/** Returns: (transfer full): nothing known but what is given; @code is a literal, @text and @source
 * (both nullable) become its own */
OgFinding  *og_finding_new        (OgSeverity        severity,
                                   const char       *code,
                                   OgSaying         *text,
                                   OgSaying         *source);
/** Returns: (transfer full): a copy that shares its sayings */
OgFinding  *og_finding_copy       (const OgFinding  *finding);
/** Frees @finding with its texts. */
void        og_finding_free       (OgFinding        *finding);

/** Returns: (transfer full) (element-type OgFinding): an empty list that frees its findings */
GPtrArray  *og_finding_list_new   (void);
/**
 * og_finding_list_add:
 * @code: a literal
 * @line_id: 0 for the recipe as a whole
 * @source: (transfer full) (nullable): what it rests on
 * @text: (transfer full)
 */
void        og_finding_list_add   (GPtrArray        *list,
                                   OgSeverity        severity,
                                   const char       *code,
                                   guint             line_id,
                                   OgSaying         *source,
                                   OgSaying         *text);
/** Adds copies of what is blocking in @others and holds everywhere or, without a @jurisdiction (nullable), anywhere. */
void        og_finding_list_add_blocking (GPtrArray       *list,
                                          const GPtrArray *others,
                                          const char      *jurisdiction);
/** Puts the most severe first; those of one severity keep their order. */
void        og_finding_list_sort  (GPtrArray        *list);
/** Returns: %OG_SEVERITY_NOTE if there is no finding */
OgSeverity  og_finding_list_worst (const GPtrArray  *list);

/** Returns: (transfer full): the source of what everybody does and nobody has published */
OgSaying   *og_common_practice_new (void);

G_END_DECLS
