/* Words by key. A language file is UTF-8 text, one "key = text" a line; '#' starts a comment line; "\n" in a text is a
 * line break. {0} {1} ... are filled in by tr_lang_fill. Keys are dotted, lower case: "stage.drill.now". All of
 * assets/lang/<language>/ *.txt belong to one language. */
#ifndef TAUTROW_BASE_LANG_H
#define TAUTROW_BASE_LANG_H

#include <stddef.h>

#include "tautrow/base/result.h"

enum { TR_LANG_MAX_WORDS = 2048, TR_LANG_MAX_FILE = 262144 };

typedef struct tr_lang tr_lang;

/* An empty language; NULL when there is no memory. code is "en" or "es". Owned by the caller, freed by tr_lang_close.
 */
tr_lang *tr_lang_open(const char *code);
void tr_lang_close(tr_lang *lang);
const char *tr_lang_code(const tr_lang *lang);

/* Adds the words of one file's text[size]. Errors (no '=', a key twice, not UTF-8) are listed with their line. The text
 * is copied. */
tr_result tr_lang_add(tr_lang *lang, const char *text, size_t size, tr_diags *diags);

/* The text of a key; the key itself where the language lacks it, so that a gap is seen. Valid until tr_lang_close. lang
 * may be NULL. */
const char *tr_word(const tr_lang *lang, const char *key);

/* NULL where the language lacks the key. */
const char *tr_word_or_null(const tr_lang *lang, const char *key);

/* Fills {0}..{9} of the text of key with args[0..count). */
void tr_lang_fill(const tr_lang *lang, const char *key, const char *const args[], size_t count, char *out, size_t cap);

size_t tr_lang_count(const tr_lang *lang);
const char *tr_lang_key(const tr_lang *lang, size_t index);

#endif
