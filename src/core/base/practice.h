/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Facts of the bench that several parts of the program say or act on. None has a published source:
 * they are common practice or judgement, as is said at each. */

/** How far a pot stays below a flash point, K. Common practice, no source, is 20 K; judgement adds
 * 10 K, because flash points of the library are mostly recalled and their cup is not known. */
#define OG_FLASH_MARGIN_K 30.0
/** How far a pot stays below a smoke point, K: judgement, since a smoke point varies that much
 * between lots. */
#define OG_SMOKE_MARGIN_K 10.0
/** Hottest pot that a water bath is told for, C: it ends at about 98 C and nears it slowly.
 * Judgement. */
#define OG_WATER_BATH_C 90.0
/** From here on a drop of water turns to steam in the oil, C. */
#define OG_STEAM_C 100.0
/** Above it oil burns the skin at once and ages fast, C: judgement. */
#define OG_HOT_OIL_C 130.0
/* Barely warm to the inner wrist, C: where heat-shy materials go in. Common practice, no source. */
#define OG_WRIST_LOW_C 35.0
#define OG_WRIST_HIGH_C 40.0
/** A change of the logarithm of the poured viscosity that is hardly seen: about 10 %; judgement */
#define OG_BODY_KEPT_LN 0.1
