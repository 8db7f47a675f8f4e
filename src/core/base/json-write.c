/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/base/json-write.h"

#include <math.h>
#include <string.h>

static void write_node (GString  *out,
                        JsonNode *node,
                        guint     depth);

static void
write_break (GString *out,
             guint    depth)
{
  g_string_append_printf (out, "\n%*s", (int) depth * 2, "");
}

/* The fewest digits that read back as the same number, never looking like an integer. */
static void
write_double (GString *out,
              double   value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  static const char *const formats[] = { "%.15g", "%.16g", "%.17g" };

  for (guint i = 0; i < G_N_ELEMENTS (formats); i++)
    {
      g_ascii_formatd (text, sizeof text, formats[i], value);
      if (g_ascii_strtod (text, NULL) == value)
        break;
    }
  g_string_append (out, text);
  if (strpbrk (text, ".e") == NULL)
    g_string_append (out, ".0");
}

static void
write_value (GString  *out,
             JsonNode *node)
{
  g_autofree char *text = NULL;

  if (json_node_get_value_type (node) == G_TYPE_DOUBLE)
    {
      write_double (out, json_node_get_double (node));
      return;
    }
  text = json_to_string (node, FALSE);
  g_string_append (out, text);
}

static void
write_array (GString   *out,
             JsonArray *array,
             guint      depth)
{
  guint length = json_array_get_length (array);

  g_string_append_c (out, '[');
  for (guint i = 0; i < length; i++)
    {
      if (i > 0)
        g_string_append_c (out, ',');
      write_break (out, depth + 1);
      write_node (out, json_array_get_element (array, i), depth + 1);
    }
  if (length > 0)
    write_break (out, depth);
  g_string_append_c (out, ']');
}

static void
write_member (GString    *out,
              const char *member,
              JsonNode   *node,
              guint       depth)
{
  g_autoptr (JsonNode) key = json_node_init_string (json_node_alloc (), member);

  write_break (out, depth);
  write_value (out, key);
  g_string_append (out, ": ");
  write_node (out, node, depth);
}

static void
write_object (GString    *out,
              JsonObject *object,
              guint       depth)
{
  g_autoptr (GList) members = json_object_get_members (object);

  members = g_list_sort (members, (GCompareFunc) strcmp);
  g_string_append_c (out, '{');
  for (GList *l = members; l != NULL; l = l->next)
    {
      if (l != members)
        g_string_append_c (out, ',');
      write_member (out, l->data, json_object_get_member (object, l->data), depth + 1);
    }
  if (members != NULL)
    write_break (out, depth);
  g_string_append_c (out, '}');
}

static void
write_node (GString  *out,
            JsonNode *node,
            guint     depth)
{
  switch (json_node_get_node_type (node))
    {
    case JSON_NODE_OBJECT:
      write_object (out, json_node_get_object (node), depth);
      break;

    case JSON_NODE_ARRAY:
      write_array (out, json_node_get_array (node), depth);
      break;

    case JSON_NODE_VALUE:
      write_value (out, node);
      break;

    case JSON_NODE_NULL:
    default:
      g_string_append (out, "null");
      break;
    }
}

void
og_json_set_number (JsonObject *object,
                    const char *member,
                    double      value)
{
  if (isnan (value))
    return;
  g_return_if_fail (isfinite (value));

  if (value == floor (value) && fabs (value) < 1e15)
    json_object_set_int_member (object, member, (gint64) value);
  else
    json_object_set_double_member (object, member, value);
}

void
og_json_set_text (JsonObject *object,
                  const char *member,
                  const char *text)
{
  if (text != NULL && *text != '\0')
    json_object_set_string_member (object, member, text);
}

JsonObject *
og_json_begin (JsonObject *extra)
{
  JsonObject *object = json_object_new ();
  JsonObjectIter iter;
  const char *member;
  JsonNode *node;

  if (extra == NULL)
    return object;
  json_object_iter_init (&iter, extra);
  while (json_object_iter_next (&iter, &member, &node))
    json_object_set_member (object, member, json_node_copy (node));
  return object;
}

GBytes *
og_json_to_bytes (JsonObject *object)
{
  GString *out;

  g_return_val_if_fail (object != NULL, NULL);

  out = g_string_new (NULL);
  write_object (out, object, 0);
  g_string_append_c (out, '\n');
  return g_string_free_to_bytes (out);
}

JsonObject *
og_json_extra (JsonObject        *object,
               const char *const *known)
{
  g_autoptr (JsonObject) extra = NULL;
  JsonObjectIter iter;
  const char *member;
  JsonNode *node;

  json_object_iter_init (&iter, object);
  while (json_object_iter_next (&iter, &member, &node))
    {
      if (g_strv_contains (known, member))
        continue;
      if (extra == NULL)
        extra = json_object_new ();
      json_object_set_member (extra, member, json_node_copy (node));
    }
  return g_steal_pointer (&extra);
}

gboolean
og_json_equal (JsonObject *a,
               JsonObject *b)
{
  g_autoptr (JsonNode) node_a = NULL;
  g_autoptr (JsonNode) node_b = NULL;

  if (a == b)
    return TRUE;
  if (a == NULL || b == NULL)
    return FALSE;
  node_a = json_node_init_object (json_node_alloc (), a);
  node_b = json_node_init_object (json_node_alloc (), b);
  return json_node_equal (node_a, node_b);
}
