/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/material/search.h"

#include <string.h>

/* All by judgement: shorter words are in too many others by chance. */
#define LEAST_TRAIT_LETTERS 3 /* letters that a kind, role or tag is found by */
#define LEAST_ONE_EDIT 3      /* letters of a word in which one edit is forgiven */
#define LEAST_TWO_EDITS 8     /* letters of a word in which two are */
#define MOST_LETTERS 64       /* of a word, that are compared for near spellings */
#define LEAST_DIGITS 4        /* of a part of a CAS or Colour Index number that is a word by itself */

#define FAR G_MAXUINT8 /* edits of a material that is not near */
#define N_SCORES 64    /* bound of scores, which are OgMatch * N_PLACES + place */

/* Where a word stands, worst first. */
typedef enum
{
  PLACE_TRAIT,
  PLACE_KIND,
  PLACE_NUMBER,
  PLACE_INCI,
  PLACE_ALIAS,
  PLACE_NAME,
  N_PLACES,
  NEAREST = N_PLACES - 1 /* score of what is nearest of all that is not found */
} Place;

typedef struct
{
  guint item;
  Place place;
} Posting;

typedef struct
{
  const char *text; /* borrowed from the table of words */
  GArray     *postings;
  gboolean    number;
} Word;

/* A whole name or number. */
typedef struct
{
  char   *text;
  Posting posting;
} Call;

struct _OgSearchIndex
{
  GPtrArray  *items; /* of borrowed OgIngredient */
  GHashTable *table; /* word -> GArray of Posting */
  GArray     *words; /* of Word, in order */
  GArray     *calls; /* of Call, in order */
};

/* What the trade also calls the materials of a kind (common practice, no source). */
static const struct
{
  OgKind      kind;
  const char *words;
} plain_words[] = {
  { OG_KIND_COLOUR, "pigment dye colorant color" },
  { OG_KIND_DISPERSION, "pigment paste grind colorant color predispersed" },
  { OG_KIND_PEARL, "pigment pearlescent mica glitter shimmer" },
  { OG_KIND_GELLING_AGENT, "gellant gelator thickener" },
  { OG_KIND_ALCOHOL, "fatty alcohol" },
  { OG_KIND_ESSENTIAL_OIL, "scent perfume aroma" },
  { OG_KIND_FLAVOUR, "flavor aroma taste" },
};

/* Runs of letters and runs of digits, folded, with one space between. */
static char *
make_key (const char *text)
{
  g_autofree char *folded = og_search_fold (text);
  GString *key = g_string_new (NULL);
  gboolean apart = FALSE;
  gboolean digits = FALSE;

  for (const char *p = folded; *p != '\0'; p = g_utf8_next_char (p))
    {
      const gunichar c = g_utf8_get_char (p);
      const gboolean digit = g_unichar_isdigit (c);

      if (!g_unichar_isalnum (c))
        {
          apart = TRUE;
          continue;
        }
      if (key->len > 0 && (apart || digit != digits))
        g_string_append_c (key, ' ');
      g_string_append_unichar (key, c);
      apart = FALSE;
      digits = digit;
    }
  return g_string_free (key, FALSE);
}

static gboolean
is_number (const char *word)
{
  return g_unichar_isdigit (g_utf8_get_char (word));
}

/* A check digit is no word: 7 is not what ends in -7. */
static gboolean
is_part_only (const char *word,
              Place       place)
{
  return place == PLACE_NUMBER && is_number (word) && strlen (word) < LEAST_DIGITS;
}

static void
add_words (OgSearchIndex *index,
           const char    *text,
           Posting        posting)
{
  g_autofree char *key = make_key (text);
  g_auto (GStrv) words = g_strsplit (key, " ", -1);

  for (gsize i = 0; words[i] != NULL; i++)
    {
      GArray *postings = g_hash_table_lookup (index->table, words[i]);

      if (is_part_only (words[i], posting.place))
        continue;
      if (postings == NULL)
        {
          postings = g_array_new (FALSE, FALSE, sizeof (Posting));
          g_hash_table_insert (index->table, g_strdup (words[i]), postings);
        }
      g_array_append_val (postings, posting);
    }
}

/* Takes in a name or number, as a whole and by its words. */
static void
add_call (OgSearchIndex *index,
          const char    *text,
          guint          item,
          Place          place)
{
  Call call = { NULL, { item, place } };

  if (text == NULL)
    return;
  call.text = make_key (text);
  g_array_append_val (index->calls, call);
  add_words (index, text, call.posting);
}

static void
add_kind (OgSearchIndex *index,
          OgKind         kind,
          guint          item)
{
  const Posting posting = { item, PLACE_KIND };

  add_words (index, og_kind_to_nick (kind), posting);
  for (gsize i = 0; i < G_N_ELEMENTS (plain_words); i++)
    if (plain_words[i].kind == kind)
      add_words (index, plain_words[i].words, posting);
}

static void
add_item (OgSearchIndex *index,
          guint          item)
{
  const OgIngredient *ingredient = g_ptr_array_index (index->items, item);
  const Posting trait = { item, PLACE_TRAIT };

  add_call (index, ingredient->name, item, PLACE_NAME);
  add_call (index, ingredient->id, item, PLACE_ALIAS);
  for (gsize i = 0; ingredient->aliases[i] != NULL; i++)
    add_call (index, ingredient->aliases[i], item, PLACE_ALIAS);
  add_call (index, ingredient->inci, item, PLACE_INCI);
  add_call (index, ingredient->cas, item, PLACE_NUMBER);
  add_call (index, ingredient->ci, item, PLACE_NUMBER);
  if (ingredient->ci != NULL)
    {
      g_autofree char *ci = g_strconcat ("CI ", ingredient->ci, NULL);

      add_call (index, ci, item, PLACE_NUMBER);
    }
  add_kind (index, ingredient->kind, item);
  for (gsize i = 0; ingredient->roles[i] != NULL; i++)
    add_words (index, ingredient->roles[i], trait);
  for (gsize i = 0; ingredient->tags[i] != NULL; i++)
    add_words (index, ingredient->tags[i], trait);
}

static int
compare_words (const Word *a,
               const Word *b)
{
  return strcmp (a->text, b->text);
}

static int
compare_calls (const Call *a,
               const Call *b)
{
  return strcmp (a->text, b->text);
}

static void
clear_call (Call *call)
{
  g_free (call->text);
}

static void
order_words (OgSearchIndex *index)
{
  GHashTableIter iter;
  gpointer text, postings;

  g_hash_table_iter_init (&iter, index->table);
  while (g_hash_table_iter_next (&iter, &text, &postings))
    {
      const Word word = { text, postings, is_number (text) };

      g_array_append_val (index->words, word);
    }
  g_array_sort (index->words, (GCompareFunc) compare_words);
}

OgSearchIndex *
og_search_index_new (const GPtrArray *items)
{
  OgSearchIndex *index;

  g_return_val_if_fail (items != NULL, NULL);

  index = g_new0 (OgSearchIndex, 1);
  index->items = g_ptr_array_sized_new (items->len);
  index->table = g_hash_table_new_full (g_str_hash, g_str_equal, g_free,
                                        (GDestroyNotify) g_array_unref);
  index->words = g_array_new (FALSE, FALSE, sizeof (Word));
  index->calls = g_array_new (FALSE, FALSE, sizeof (Call));
  g_array_set_clear_func (index->calls, (GDestroyNotify) clear_call);
  for (guint i = 0; i < items->len; i++)
    {
      g_ptr_array_add (index->items, g_ptr_array_index (items, i));
      add_item (index, i);
    }
  order_words (index);
  g_array_sort (index->calls, (GCompareFunc) compare_calls);
  return index;
}

void
og_search_index_free (OgSearchIndex *index)
{
  if (index == NULL)
    return;
  g_array_unref (index->words);
  g_array_unref (index->calls);
  g_hash_table_unref (index->table);
  g_ptr_array_unref (index->items);
  g_free (index);
}

/* One search on its way. */
typedef struct
{
  const OgSearchIndex *index;
  char                *key;
  char               **words;
  guint8              *scores; /* of each item by all words so far; 0: not found */
  guint8              *one;    /* by one word */
  guint                n_steps;
} Search;

static guint8
make_score (OgMatch match,
            Place   place)
{
  return (guint8) (match * N_PLACES + place);
}

static void
raise_to (guint8 *score,
          guint8  to)
{
  *score = MAX (*score, to);
}

static void
score_postings (Search     *search,
                const Word *word,
                OgMatch     match,
                Place       least)
{
  for (guint i = 0; i < word->postings->len; i++)
    {
      const Posting *posting = &g_array_index (word->postings, Posting, i);

      if (posting->place >= least)
        raise_to (&search->one[posting->item], make_score (match, posting->place));
    }
  search->n_steps += word->postings->len;
}

/* A number is found whole or not at all, letters also within a word. */
static void
score_word (Search     *search,
            const char *typed)
{
  const Place least_trait =
    g_utf8_strlen (typed, -1) >= LEAST_TRAIT_LETTERS ? PLACE_TRAIT : PLACE_NUMBER;
  GArray *whole = g_hash_table_lookup (search->index->table, typed);

  if (whole != NULL)
    score_postings (search, &(Word) { typed, whole, FALSE }, OG_MATCH_WORDS, PLACE_TRAIT);
  if (is_number (typed))
    return;
  for (guint i = 0; i < search->index->words->len; i++)
    {
      const Word *word = &g_array_index (search->index->words, Word, i);
      const char *at = word->number ? NULL : strstr (word->text, typed);

      if (at == word->text && word->postings != whole)
        score_postings (search, word, OG_MATCH_BEGINNINGS, least_trait);
      else if (at != NULL && at != word->text)
        score_postings (search, word, OG_MATCH_INSIDE, PLACE_NUMBER);
    }
  search->n_steps += search->index->words->len;
}

/* The worst of the words counts. */
static void
score_words (Search *search)
{
  const guint n = search->index->items->len;

  for (gsize i = 0; search->words[i] != NULL; i++)
    {
      memset (search->one, 0, n);
      score_word (search, search->words[i]);
      for (guint item = 0; item < n; item++)
        search->scores[item] = i > 0 ? MIN (search->scores[item], search->one[item])
                                     : search->one[item];
    }
}

/* First call that is not before @key. */
static guint
find_call (const OgSearchIndex *index,
           const char          *key)
{
  guint low = 0;
  guint high = index->calls->len;

  while (low < high)
    {
      const guint middle = low + (high - low) / 2;

      if (strcmp (g_array_index (index->calls, Call, middle).text, key) < 0)
        low = middle + 1;
      else
        high = middle;
    }
  return low;
}

/* What begins with the text as it was typed. A number that goes on is near only. */
static void
score_calls (Search   *search,
             gboolean  near)
{
  const GArray *calls = search->index->calls;
  const gsize length = strlen (search->key);
  const gboolean number = g_unichar_isdigit (g_utf8_get_char (
    g_utf8_find_prev_char (search->key, search->key + length)));

  for (guint i = find_call (search->index, search->key); i < calls->len; i++, search->n_steps++)
    {
      const Call *call = &g_array_index (calls, Call, i);
      const char end = call->text[MIN (length, strlen (call->text))];

      if (!g_str_has_prefix (call->text, search->key))
        break;
      if (near)
        search->scores[call->posting.item] = NEAREST;
      else if (end == '\0' || end == ' ' || !number)
        raise_to (&search->scores[call->posting.item],
                  make_score (end == '\0' ? OG_MATCH_EXACT : OG_MATCH_BEGINS, call->posting.place));
    }
}

/* Best first, the order of the items among equals. */
static GArray *
collect (const Search *search)
{
  const guint n = search->index->items->len;
  guint first[N_SCORES + 1] = { 0 };
  GArray *hits = g_array_new (FALSE, FALSE, sizeof (OgHit));

  for (guint item = 0; item < n; item++)
    first[search->scores[item]]++;
  for (guint score = N_SCORES, at = 0; score > 0; score--)
    {
      const guint many = first[score];

      first[score] = at;
      at += many;
    }
  first[0] = n - first[0];
  g_array_set_size (hits, first[0]);
  for (guint item = 0; item < n; item++)
    {
      const guint score = search->scores[item];

      if (score > 0)
        g_array_index (hits, OgHit, first[score]++) =
          (OgHit) { g_ptr_array_index (search->index->items, item), (OgMatch) (score / N_PLACES),
                    score };
    }
  return hits;
}

/* Fewest edits from @a to any beginning of @b: what was typed may go on. */
static guint
count_edits (const gunichar *a,
             glong           n_a,
             const gunichar *b,
             glong           n_b)
{
  guint rows[3][MOST_LETTERS + 1];
  guint fewest = G_MAXUINT;

  for (glong j = 0; j <= n_b; j++)
    rows[0][j] = (guint) j;
  for (glong i = 1; i <= n_a; i++)
    {
      guint *row = rows[i % 3];
      const guint *before = rows[(i + 2) % 3];

      row[0] = (guint) i;
      for (glong j = 1; j <= n_b; j++)
        {
          row[j] = before[j - 1] + (a[i - 1] != b[j - 1]);
          row[j] = MIN (row[j], MIN (before[j], row[j - 1]) + 1);
          if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
            row[j] = MIN (row[j], rows[(i + 1) % 3][j - 2] + 1);
        }
    }
  for (glong j = 0; j <= n_b; j++)
    fewest = MIN (fewest, rows[n_a % 3][j]);
  return fewest;
}

static guint
count_word_edits (const char *typed,
                  const Word *word)
{
  g_autofree gunichar *a = NULL;
  g_autofree gunichar *b = NULL;
  glong n_a, n_b;
  guint edits, most;

  if (word->number || is_number (typed))
    return g_str_has_prefix (word->text, typed) ? 1 : FAR;
  a = g_utf8_to_ucs4_fast (typed, -1, &n_a);
  b = g_utf8_to_ucs4_fast (word->text, -1, &n_b);
  if (n_a > MOST_LETTERS)
    return FAR;
  most = n_a >= LEAST_TWO_EDITS ? 2 : n_a >= LEAST_ONE_EDIT ? 1 : 0;
  edits = count_edits (a, n_a, b, MIN (n_b, MOST_LETTERS));
  return edits <= most ? edits : FAR;
}

/* Edits from @typed to the nearest word of each item. */
static void
measure_word (Search     *search,
              const char *typed,
              guint8     *edits)
{
  memset (edits, FAR, search->index->items->len);
  for (guint i = 0; i < search->index->words->len; i++)
    {
      const Word *word = &g_array_index (search->index->words, Word, i);
      const guint here = strstr (word->text, typed) != NULL && !is_number (typed)
                           ? 0 : count_word_edits (typed, word);

      for (guint j = 0; here < FAR && j < word->postings->len; j++)
        {
          guint8 *item = &edits[g_array_index (word->postings, Posting, j).item];

          *item = MIN (*item, (guint8) here);
        }
      search->n_steps += 1 + (here < FAR ? word->postings->len : 0);
    }
}

/* Makes scores of the edits that all words together need, fewest highest. */
static void
score_near (Search *search)
{
  const guint n = search->index->items->len;
  g_autofree guint *sums = g_new0 (guint, n);

  for (gsize i = 0; search->words[i] != NULL; i++)
    {
      measure_word (search, search->words[i], search->one);
      for (guint item = 0; item < n; item++)
        sums[item] = sums[item] >= FAR || search->one[item] == FAR ? FAR
                                                                    : sums[item] + search->one[item];
    }
  for (guint item = 0; item < n; item++)
    search->scores[item] = sums[item] < FAR ? (guint8) MAX (NEAREST - (int) sums[item], 1) : 0;
  score_calls (search, TRUE);
}

GArray *
og_search_index_find (const OgSearchIndex *index,
                      const char          *typed,
                      guint               *n_steps)
{
  g_autofree char *key = NULL;
  g_auto (GStrv) words = NULL;
  g_autofree guint8 *scores = NULL;
  g_autofree guint8 *one = NULL;
  GArray *hits;
  Search search;

  g_return_val_if_fail (index != NULL && typed != NULL, NULL);

  key = make_key (typed);
  words = g_strsplit (key, " ", -1);
  scores = g_new0 (guint8, index->items->len);
  one = g_new0 (guint8, index->items->len);
  search = (Search) { index, key, words, scores, one, 0 };
  if (*key != '\0')
    {
      score_words (&search);
      score_calls (&search, FALSE);
    }
  hits = collect (&search);
  if (hits->len == 0 && *key != '\0')
    {
      g_array_unref (hits);
      score_near (&search);
      hits = collect (&search);
    }
  if (n_steps != NULL)
    *n_steps = search.n_steps;
  return hits;
}

const OgIngredient *
og_hits_get_sure (const GArray *hits)
{
  const OgHit *first;
  guint n_exact = 0, n_named = 0;

  g_return_val_if_fail (hits != NULL, NULL);

  if (hits->len == 0 || og_hits_are_near (hits))
    return NULL;
  first = &g_array_index (hits, OgHit, 0);
  for (guint i = 0; i < hits->len; i++)
    {
      const OgHit *hit = &g_array_index (hits, OgHit, i);

      n_exact += hit->match == OG_MATCH_EXACT;
      n_named += hit->score == make_score (OG_MATCH_EXACT, PLACE_NAME);
    }
  return n_named == 1 || n_exact == 1 || hits->len == 1 ? first->ingredient : NULL;
}

gboolean
og_hits_are_near (const GArray *hits)
{
  g_return_val_if_fail (hits != NULL, FALSE);

  return hits->len > 0 && g_array_index (hits, OgHit, 0).match == OG_MATCH_NEAR;
}
