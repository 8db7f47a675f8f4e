/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/base/json-file.h"
#include "core/base/json-write.h"
#include "model/ledger-private.h"

/* An id of the form that all materials have; what the form does not allow becomes a hyphen. */
static char *
lot_ingredient_id (const OgLot *lot)
{
  g_autofree char *code = g_ascii_strdown (lot->code, -1);
  gboolean exact = TRUE;

  for (char *p = code; *p != '\0'; p++)
    {
      if (g_ascii_isalnum (*p) || *p == '-')
        continue;
      *p = '-';
      exact = FALSE;
    }

  return exact ? g_strdup_printf ("%s-lot-%s", lot->material_id, code)
               : g_strdup_printf ("%s-lot-%s-%" G_GINT64_FORMAT, lot->material_id, code, lot->id);
}

static void
add_figures (JsonObject  *figures,
             const OgLot *lot)
{
  /* Translators: the source of a figure; %s is the lot */
  g_autofree char *source = g_strdup_printf (_("certificate of lot %s"), lot->code);

  for (guint i = 0; i < lot->certificate->len; i++)
    {
      const OgCertificateValue *value = &g_array_index (lot->certificate, OgCertificateValue, i);
      JsonObject *figure = json_object_new ();

      og_json_set_number (figure, "value", value->value);
      og_json_set_number (figure, "at_c", value->at_c);
      og_json_set_text (figure, "unit", og_figure_id_get_unit (value->figure));
      og_json_set_text (figure, "source", source);
      og_json_set_text (figure, "quality", og_quality_to_nick (OG_QUALITY_MEASURED));
      json_object_set_object_member (figures, og_figure_id_to_nick (value->figure), figure);
    }
}

/* Returns: (transfer full): the members a lot has otherwise; %NULL if the text is no object */
static JsonObject *
parse_override (const char  *text,
                const char  *code,
                GError     **error)
{
  g_autoptr (OgJsonFile) file = NULL;

  if (text == NULL)
    return json_object_new ();
  file = og_json_file_parse (text, strlen (text), code, error);
  if (file == NULL)
    return NULL;
  if (!JSON_NODE_HOLDS_OBJECT (file->root))
    {
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE,
                   _("Lot “%s”: what it has otherwise is no JSON object."), code);
      return NULL;
    }

  return og_json_begin (json_node_get_object (file->root));
}

/* Returns: (transfer full): the definition of the lot as a material derived from its own */
static JsonObject *
lot_definition (const OgLot  *lot,
                const char   *base_name,
                GError      **error)
{
  g_autoptr (JsonObject) object = parse_override (lot->override_json, lot->code, error);
  g_autofree char *id = lot_ingredient_id (lot);
  g_autofree char *name = NULL;
  JsonObject *figures;

  if (object == NULL)
    return NULL;
  /* Translators: a material, and which lot of it */
  name = g_strdup_printf (_("%s, lot %s"), base_name, lot->code);
  og_json_set_text (object, "id", id);
  og_json_set_text (object, "derived_from", lot->material_id);
  og_json_set_text (object, "name", name);
  og_json_set_text (object, "lot", lot->code);
  if (lot->certificate->len == 0)
    return g_steal_pointer (&object);
  figures = json_object_has_member (object, "figures")
                && JSON_NODE_HOLDS_OBJECT (json_object_get_member (object, "figures"))
              ? og_json_begin (json_object_get_object_member (object, "figures"))
              : json_object_new ();
  add_figures (figures, lot);
  json_object_set_object_member (object, "figures", figures);

  return g_steal_pointer (&object);
}

OgIngredient *
og_ledger_lot_to_ingredient (const OgLot        *lot,
                             const OgIngredient *base,
                             GError            **error)
{
  g_autoptr (JsonObject) object = NULL;

  g_return_val_if_fail (lot != NULL && base != NULL, NULL);
  g_return_val_if_fail (g_strcmp0 (lot->material_id, base->id) == 0, NULL);

  object = lot_definition (lot, base->name, error);

  return object != NULL ? og_ingredient_new_from_json (object, NULL, base, error) : NULL;
}

/* Returns: (transfer full): the least that a material may be */
static JsonObject *
plain_material (const char *id)
{
  static const char *const lists[] = { "roles", "uses", "tags" };
  static const char *const words[] = { "base", "lip", NULL };
  JsonObject *object = json_object_new ();

  json_object_set_string_member (object, "id", id);
  json_object_set_string_member (object, "name", id);
  json_object_set_string_member (object, "kind", og_kind_to_nick (OG_KIND_OIL));
  for (guint i = 0; i < G_N_ELEMENTS (lists); i++)
    {
      JsonArray *list = json_array_new ();

      if (words[i] != NULL)
        json_array_add_string_element (list, words[i]);
      json_object_set_array_member (object, lists[i], list);
    }

  return object;
}

static gboolean
refuse_certificate (const char  *code,
                    const char  *reason,
                    GError     **error)
{
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE,
               /* Translators: the second %s says what is wrong */
               _("The certificate of lot “%s” cannot be: %s"), code, reason);

  return FALSE;
}

static gboolean
check_value (const OgCertificateValue  *value,
             const char                *code,
             GError                   **error)
{
  g_autofree char *reason = NULL;

  if (isfinite (value->value) && !isinf (value->at_c))
    return TRUE;
  reason = g_strdup_printf (_("“%s” must be a number."), og_figure_id_to_nick (value->figure));

  return refuse_certificate (code, reason, error);
}

/* A certificate is checked by making a material of it, whatever the lot is of. */
gboolean
_og_ledger_check_certificate (const OgLot  *lot,
                              GError      **error)
{
  g_autoptr (JsonObject) object = NULL;
  g_autoptr (JsonObject) base_object = NULL;
  g_autoptr (OgIngredient) base = NULL;
  g_autoptr (OgIngredient) made = NULL;
  g_autoptr (GError) reason = NULL;

  if (lot->certificate->len == 0 && lot->override_json == NULL)
    return TRUE;
  for (guint i = 0; i < lot->certificate->len; i++)
    if (!check_value (&g_array_index (lot->certificate, OgCertificateValue, i), lot->code, error))
      return FALSE;
  base_object = plain_material (lot->material_id);
  base = og_ingredient_new_from_json (base_object, NULL, NULL, &reason);
  object = base != NULL ? lot_definition (lot, base->name, &reason) : NULL;
  made = object != NULL ? og_ingredient_new_from_json (object, NULL, base, &reason) : NULL;

  return made != NULL || refuse_certificate (lot->code, reason->message, error);
}
