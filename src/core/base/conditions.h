/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Shear rates at which the body is told, 1/s: judgement within the ranges of common practice. */
#define OG_SHEAR_REST 0.01
#define OG_SHEAR_POUR 10.0
#define OG_SHEAR_RUB 1000.0
/* Temperatures at which it is told, C: the reference of most tables, and skin (judgement). */
#define OG_TEMPERATURE_ROOM_C 25.0
#define OG_TEMPERATURE_SKIN_C 32.0
