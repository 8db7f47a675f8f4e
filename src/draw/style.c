/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/style.h"

#define RGB(hex) \
  { ((hex) >> 16 & 0xff) / 255.0, ((hex) >> 8 & 0xff) / 255.0, ((hex) & 0xff) / 255.0, 1.0 }

void
og_draw_style_paper (OgDrawStyle *style)
{
  static const OgDrawStyle paper = {
    .background = RGB (0xffffff),
    .foreground = RGB (0x1f2529),
    .dim = RGB (0x5a646b),
    .grid = RGB (0xdfe3e5),
    .accent = RGB (0x0d676e),
    .series = { RGB (0xb3502a), RGB (0x6a4c9c), RGB (0x8a6d0f), RGB (0x33618f) },
    .caution = RGB (0xa13a17),
    .font = "Sans",
    .font_size = 9,
  };

  *style = paper;
}

void
og_draw_style_dark (OgDrawStyle *style)
{
  static const OgDrawStyle dark = {
    .background = RGB (0x1c2022),
    .foreground = RGB (0xe7e9e6),
    .dim = RGB (0xa6aeb0),
    .grid = RGB (0x343b3e),
    .accent = RGB (0x62c6c2),
    .series = { RGB (0xf0996c), RGB (0xbba2f2), RGB (0xdcc05a), RGB (0x8bb6ea) },
    .caution = RGB (0xffa07c),
    .font = "Sans",
    .font_size = 9,
  };

  *style = dark;
}
