/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/row.h"

#include <math.h>

#include "model/row-private.h"

struct _OgRow
{
  GObject   parent_instance;

  OgRowKind kind;
  guint     id;
  guint     phase_id;
  guint     position;
  char     *ingredient_id;

  char     *name;
  char     *inci;
  double    percent;
  double    grams;
  double    temperature_c;
  guint     balance_share;
  gboolean  held;
  char     *note;
  gboolean  known;
  int       severity;
  char     *finding_text;
};

G_DEFINE_FINAL_TYPE (OgRow, og_row, G_TYPE_OBJECT)

enum
{
  PROP_0,
  PROP_NAME,
  PROP_INCI,
  PROP_PERCENT,
  PROP_GRAMS,
  PROP_TEMPERATURE_C,
  PROP_BALANCE_SHARE,
  PROP_HELD,
  PROP_NOTE,
  PROP_KNOWN,
  PROP_SEVERITY,
  PROP_FINDING_TEXT,
  N_PROPS
};

static GParamSpec *properties[N_PROPS];

static void
og_row_finalize (GObject *object)
{
  OgRow *self = OG_ROW (object);

  g_free (self->ingredient_id);
  g_free (self->name);
  g_free (self->inci);
  g_free (self->note);
  g_free (self->finding_text);

  G_OBJECT_CLASS (og_row_parent_class)->finalize (object);
}

static void
og_row_get_property (GObject    *object,
                     guint       prop_id,
                     GValue     *value,
                     GParamSpec *pspec)
{
  OgRow *self = OG_ROW (object);

  switch (prop_id)
    {
    case PROP_NAME:
      g_value_set_string (value, self->name);
      break;

    case PROP_INCI:
      g_value_set_string (value, self->inci);
      break;

    case PROP_PERCENT:
      g_value_set_double (value, self->percent);
      break;

    case PROP_GRAMS:
      g_value_set_double (value, self->grams);
      break;

    case PROP_TEMPERATURE_C:
      g_value_set_double (value, self->temperature_c);
      break;

    case PROP_BALANCE_SHARE:
      g_value_set_uint (value, self->balance_share);
      break;

    case PROP_HELD:
      g_value_set_boolean (value, self->held);
      break;

    case PROP_NOTE:
      g_value_set_string (value, self->note);
      break;

    case PROP_KNOWN:
      g_value_set_boolean (value, self->known);
      break;

    case PROP_SEVERITY:
      g_value_set_int (value, self->severity);
      break;

    case PROP_FINDING_TEXT:
      g_value_set_string (value, self->finding_text);
      break;

    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, prop_id, pspec);
    }
}

static void
og_row_class_init (OgRowClass *klass)
{
  const GParamFlags flags = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS | G_PARAM_EXPLICIT_NOTIFY;
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->finalize = og_row_finalize;
  object_class->get_property = og_row_get_property;

  properties[PROP_NAME] = g_param_spec_string ("name", NULL, NULL, NULL, flags);
  properties[PROP_INCI] = g_param_spec_string ("inci", NULL, NULL, NULL, flags);
  properties[PROP_PERCENT]
      = g_param_spec_double ("percent", NULL, NULL, 0.0, G_MAXDOUBLE, 0.0, flags);
  properties[PROP_GRAMS]
      = g_param_spec_double ("grams", NULL, NULL, 0.0, G_MAXDOUBLE, 0.0, flags);
  properties[PROP_TEMPERATURE_C]
      = g_param_spec_double ("temperature-c", NULL, NULL, -G_MAXDOUBLE, G_MAXDOUBLE, 0.0, flags);
  properties[PROP_BALANCE_SHARE]
      = g_param_spec_uint ("balance-share", NULL, NULL, 0, G_MAXUINT, 0, flags);
  properties[PROP_HELD] = g_param_spec_boolean ("held", NULL, NULL, FALSE, flags);
  properties[PROP_NOTE] = g_param_spec_string ("note", NULL, NULL, NULL, flags);
  properties[PROP_KNOWN] = g_param_spec_boolean ("known", NULL, NULL, FALSE, flags);
  properties[PROP_SEVERITY]
      = g_param_spec_int ("severity", NULL, NULL, -1, OG_SEVERITY_BLOCKING, -1, flags);
  properties[PROP_FINDING_TEXT] = g_param_spec_string ("finding-text", NULL, NULL, NULL, flags);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static void
og_row_init (OgRow *self)
{
  self->temperature_c = NAN;
  self->severity = -1;
}

OgRow *
_og_row_new (OgRowKind kind,
             guint     id)
{
  OgRow *self = g_object_new (OG_TYPE_ROW, NULL);

  self->kind = kind;
  self->id = id;

  return self;
}

static void
notify (OgRow *self,
        guint  prop_id)
{
  g_object_notify_by_pspec (G_OBJECT (self), properties[prop_id]);
}

static void
set_string (OgRow      *self,
            char      **slot,
            const char *value,
            guint       prop_id)
{
  if (g_strcmp0 (*slot, value) == 0)
    return;

  g_free (*slot);
  *slot = g_strdup (value);
  notify (self, prop_id);
}

static void
set_double (OgRow  *self,
            double *slot,
            double  value,
            guint   prop_id)
{
  if (*slot == value || (isnan (*slot) && isnan (value)))
    return;

  *slot = value;
  notify (self, prop_id);
}

static void
set_int (OgRow *self,
         int   *slot,
         int    value,
         guint  prop_id)
{
  if (*slot == value)
    return;

  *slot = value;
  notify (self, prop_id);
}

static void
set_balance_share (OgRow *self,
                   guint  balance_share)
{
  if (self->balance_share == balance_share)
    return;

  self->balance_share = balance_share;
  notify (self, PROP_BALANCE_SHARE);
}

static void
set_amount (OgRow  *self,
            gint64  ppm,
            double  batch_g)
{
  const double percent = (double) ppm / OG_PPM_PER_PERCENT;

  set_double (self, &self->percent, percent, PROP_PERCENT);
  set_double (self, &self->grams, batch_g * percent / 100.0, PROP_GRAMS);
}

static gint64
phase_total (const OgFormulaPhase *phase)
{
  gint64 total = 0;

  for (guint i = 0; i < phase->lines->len; i++)
    {
      const OgFormulaLine *line = g_ptr_array_index (phase->lines, i);

      total += line->amount;
    }

  return total;
}

void
_og_row_mirror_phase (OgRow                *self,
                      const OgFormulaPhase *phase,
                      double                batch_g)
{
  g_return_if_fail (self->kind == OG_ROW_PHASE);

  g_object_freeze_notify (G_OBJECT (self));

  self->phase_id = phase->id;
  set_string (self, &self->name, phase->name, PROP_NAME);
  set_string (self, &self->note, phase->note, PROP_NOTE);
  set_double (self, &self->temperature_c, phase->temperature_c, PROP_TEMPERATURE_C);
  set_amount (self, phase_total (phase), batch_g);
  set_int (self, &self->known, TRUE, PROP_KNOWN);

  g_object_thaw_notify (G_OBJECT (self));
}

void
_og_row_mirror_line (OgRow               *self,
                     const OgFormulaLine *line,
                     guint                phase_id,
                     const OgCatalog     *catalog,
                     double               batch_g)
{
  const OgIngredient *ingredient = og_catalog_get (catalog, line->ingredient_id);
  const gboolean known = ingredient != NULL;

  g_return_if_fail (self->kind == OG_ROW_LINE);

  g_object_freeze_notify (G_OBJECT (self));

  self->phase_id = phase_id;
  if (g_strcmp0 (self->ingredient_id, line->ingredient_id) != 0)
    {
      g_free (self->ingredient_id);
      self->ingredient_id = g_strdup (line->ingredient_id);
    }
  set_string (self, &self->name, known ? ingredient->name : line->ingredient_id, PROP_NAME);
  set_string (self, &self->inci, known ? ingredient->inci : NULL, PROP_INCI);
  set_string (self, &self->note, line->note, PROP_NOTE);
  set_double (self, &self->temperature_c, line->add_temperature_c, PROP_TEMPERATURE_C);
  set_amount (self, line->amount, batch_g);
  set_balance_share (self, line->balance_share);
  set_int (self, &self->held, !!line->held, PROP_HELD);
  set_int (self, &self->known, known, PROP_KNOWN);

  g_object_thaw_notify (G_OBJECT (self));
}

void
_og_row_set_finding (OgRow      *self,
                     int         severity,
                     const char *text)
{
  g_object_freeze_notify (G_OBJECT (self));
  set_int (self, &self->severity, severity, PROP_SEVERITY);
  set_string (self, &self->finding_text, text, PROP_FINDING_TEXT);
  g_object_thaw_notify (G_OBJECT (self));
}

void
_og_row_set_position (OgRow *self,
                      guint  position)
{
  self->position = position;
}

guint
_og_row_get_position (OgRow *self)
{
  return self->position;
}

OgRowKind
og_row_get_kind (OgRow *self)
{
  g_return_val_if_fail (OG_IS_ROW (self), OG_ROW_LINE);

  return self->kind;
}

guint
og_row_get_id (OgRow *self)
{
  g_return_val_if_fail (OG_IS_ROW (self), 0);

  return self->id;
}

guint
og_row_get_phase_id (OgRow *self)
{
  g_return_val_if_fail (OG_IS_ROW (self), 0);

  return self->phase_id;
}

const char *
og_row_get_ingredient_id (OgRow *self)
{
  g_return_val_if_fail (OG_IS_ROW (self), NULL);

  return self->ingredient_id;
}

const char *
og_row_get_name (OgRow *self)
{
  g_return_val_if_fail (OG_IS_ROW (self), NULL);

  return self->name;
}

const char *
og_row_get_inci (OgRow *self)
{
  g_return_val_if_fail (OG_IS_ROW (self), NULL);

  return self->inci;
}

double
og_row_get_percent (OgRow *self)
{
  g_return_val_if_fail (OG_IS_ROW (self), NAN);

  return self->percent;
}

double
og_row_get_grams (OgRow *self)
{
  g_return_val_if_fail (OG_IS_ROW (self), NAN);

  return self->grams;
}

double
og_row_get_temperature_c (OgRow *self)
{
  g_return_val_if_fail (OG_IS_ROW (self), NAN);

  return self->temperature_c;
}

guint
og_row_get_balance_share (OgRow *self)
{
  g_return_val_if_fail (OG_IS_ROW (self), 0);

  return self->balance_share;
}

gboolean
og_row_get_held (OgRow *self)
{
  g_return_val_if_fail (OG_IS_ROW (self), FALSE);

  return self->held;
}

const char *
og_row_get_note (OgRow *self)
{
  g_return_val_if_fail (OG_IS_ROW (self), NULL);

  return self->note;
}

gboolean
og_row_get_known (OgRow *self)
{
  g_return_val_if_fail (OG_IS_ROW (self), FALSE);

  return self->known;
}

int
og_row_get_severity (OgRow *self)
{
  g_return_val_if_fail (OG_IS_ROW (self), -1);

  return self->severity;
}

const char *
og_row_get_finding_text (OgRow *self)
{
  g_return_val_if_fail (OG_IS_ROW (self), NULL);

  return self->finding_text;
}
