/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/palette-model.h"

#include "model/material-private.h"

struct _OgMaterial
{
  GObject       parent_instance;

  OgIngredient *ingredient;
};

G_DEFINE_FINAL_TYPE (OgMaterial, og_material, G_TYPE_OBJECT)

enum
{
  PROP_0,
  PROP_ID,
  PROP_NAME,
  PROP_INCI,
  PROP_KIND_NAME,
  N_PROPS
};

static GParamSpec *properties[N_PROPS];

static void
og_material_finalize (GObject *object)
{
  OgMaterial *self = OG_MATERIAL (object);

  g_clear_pointer (&self->ingredient, og_ingredient_unref);

  G_OBJECT_CLASS (og_material_parent_class)->finalize (object);
}

static void
og_material_get_property (GObject    *object,
                          guint       prop_id,
                          GValue     *value,
                          GParamSpec *pspec)
{
  OgMaterial *self = OG_MATERIAL (object);

  switch (prop_id)
    {
    case PROP_ID:
      g_value_set_string (value, self->ingredient->id);
      break;

    case PROP_NAME:
      g_value_set_string (value, self->ingredient->name);
      break;

    case PROP_INCI:
      g_value_set_string (value, self->ingredient->inci);
      break;

    case PROP_KIND_NAME:
      g_value_set_string (value, og_kind_get_name (self->ingredient->kind));
      break;

    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, prop_id, pspec);
    }
}

static void
og_material_class_init (OgMaterialClass *klass)
{
  const GParamFlags flags = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS;
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->finalize = og_material_finalize;
  object_class->get_property = og_material_get_property;

  properties[PROP_ID] = g_param_spec_string ("id", NULL, NULL, NULL, flags);
  properties[PROP_NAME] = g_param_spec_string ("name", NULL, NULL, NULL, flags);
  properties[PROP_INCI] = g_param_spec_string ("inci", NULL, NULL, NULL, flags);
  properties[PROP_KIND_NAME] = g_param_spec_string ("kind-name", NULL, NULL, NULL, flags);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static void
og_material_init (OgMaterial *self)
{
}

OgMaterial *
_og_material_new (const OgIngredient *ingredient)
{
  OgMaterial *self = g_object_new (OG_TYPE_MATERIAL, NULL);

  self->ingredient = og_ingredient_ref ((OgIngredient *) ingredient);

  return self;
}

const OgIngredient *
og_material_get_ingredient (OgMaterial *self)
{
  g_return_val_if_fail (OG_IS_MATERIAL (self), NULL);

  return self->ingredient;
}
