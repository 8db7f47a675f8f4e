/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Shear rates at which the body is told, 1/s: judgement within the ranges of common practice. */
#define OG_SHEAR_REST 0.01
#define OG_SHEAR_POUR 10.0
#define OG_SHEAR_RUB 1000.0

/* Temperatures, C. Several mean nearly the same number; what they mean tells which one to take. */
#define OG_TEMPERATURE_ROOM_C 25.0 /* a room: the body is told, work begins; judgement */
#define OG_TEMPERATURE_TABLE_C 25.0 /* reference of most published tables */
#define OG_TEMPERATURE_SKIN_C 32.0  /* of skin; judgement */
#define OG_TEMPERATURE_VOLUME_C 20.0 /* of declared volumes: Directive 76/211/EEC, Annex I; of most
                                        certificates of density and refraction: common practice */
#define OG_TEMPERATURE_WARM_C 40.0 /* a summer's shelf, the warm test; common practice, no source */

/* For which a prediction may be asked, C; judgement: oils crystallise below, decompose above. */
#define OG_TEMPERATURE_LOWEST_C (-20.0)
#define OG_TEMPERATURE_HIGHEST_C 200.0

/* Which a file may hold, C: what lies outside is a slip of the keyboard. Judgement. */
#define OG_TEMPERATURE_FILE_LOWEST_C (-100.0)
#define OG_TEMPERATURE_FILE_HIGHEST_C 400.0
