/* Words by key: the lines of the language files, kept sorted so that a key is found by halving. */
#include "tautrow/base/lang.h"

#include "tautrow/base/text.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

/* One "key = text"; both lie in the block of the file that they came from. */
typedef struct word {
    const char *key;
    const char *text;
    int file;
    int line;
} word;

/* The copied text of one file. */
typedef struct block {
    struct block *next;
    char text[];
} block;

struct tr_lang {
    char code[8];
    block *blocks;
    int file_count;
    size_t count;
    word word[TR_LANG_MAX_WORDS];
};

tr_lang *tr_lang_open(const char *code)
{
    tr_lang *const lang = calloc(1, sizeof *lang);
    if (lang != NULL) {
        tr_copy(lang->code, sizeof lang->code, code);
    }
    return lang;
}

void tr_lang_close(tr_lang *lang)
{
    if (lang == NULL) {
        return;
    }
    while (lang->blocks != NULL) {
        block *const next = lang->blocks->next;
        free(lang->blocks);
        lang->blocks = next;
    }
    free(lang);
}

const char *tr_lang_code(const tr_lang *lang)
{
    return lang->code;
}

/* Index of the first word whose key is not before key. */
static size_t place_of(const tr_lang *lang, const char *key)
{
    size_t low = 0;
    size_t high = lang->count;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        if (strcmp(lang->word[middle].key, key) < 0) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    return low;
}

static const word *find(const tr_lang *lang, const char *key)
{
    const size_t place = place_of(lang, key);
    const bool is_there = place < lang->count && strcmp(lang->word[place].key, key) == 0;
    return is_there ? &lang->word[place] : NULL;
}

/* ---- reading a file --------------------------------------------------------------------------------------------- */

static bool is_blank(char c)
{
    return c == ' ' || c == '\t' || c == '\r';
}

/* Start of text without blanks; the blanks at its end are cut off in place. */
static char *trim(char *text)
{
    while (is_blank(*text)) {
        text++;
    }
    size_t length = strlen(text);
    while (length > 0 && is_blank(text[length - 1])) {
        text[--length] = '\0';
    }
    return text;
}

static bool is_key(const char *text)
{
    static const char allowed[] = "abcdefghijklmnopqrstuvwxyz0123456789_.-";
    return text[0] != '\0' && text[strspn(text, allowed)] == '\0';
}

/* Turns \n and \\ into what they stand for, in place. False on any other backslash. */
static bool unescape(char *text)
{
    char *write = text;
    for (const char *read = text; *read != '\0'; read++) {
        char c = *read;
        if (c == '\\') {
            read++;
            if (*read != 'n' && *read != '\\') {
                return false;
            }
            c = *read == 'n' ? '\n' : '\\';
        }
        *write++ = c;
    }
    *write = '\0';
    return true;
}

static void put_word(tr_lang *lang, word added, tr_diags *diags)
{
    const word *const twin = find(lang, added.key);
    if (twin != NULL) {
        const bool is_same_file = twin->file == added.file;
        tr_diags_add(diags, TR_ERROR, added.line, 1, "", "the key \"%s\" is already in line %d of %s", added.key,
                     twin->line, is_same_file ? "this file" : "another file");
        return;
    }
    if (lang->count == TR_LANG_MAX_WORDS) {
        tr_diags_add(diags, TR_ERROR, added.line, 1, "", "there is room for %d words only", TR_LANG_MAX_WORDS);
        return;
    }
    const size_t place = place_of(lang, added.key);
    memmove(&lang->word[place + 1], &lang->word[place], (lang->count - place) * sizeof lang->word[0]);
    lang->word[place] = added;
    lang->count++;
}

static void read_line(tr_lang *lang, char *line, int number, tr_diags *diags)
{
    char *const start = trim(line);
    if (start[0] == '\0' || start[0] == '#') {
        return;
    }
    char *const equals = strchr(start, '=');
    if (equals == NULL) {
        tr_diags_add(diags, TR_ERROR, number, 1, "", "needs an equals sign: key = text");
        return;
    }
    *equals = '\0';
    char *const key = trim(start);
    char *const text = trim(equals + 1);
    if (!is_key(key)) {
        tr_diags_add(diags, TR_ERROR, number, 1, "",
                     "\"%s\" is no key: use small letters, digits, points, hyphens and underscores", key);
    } else if (text[0] == '\0') {
        tr_diags_add(diags, TR_ERROR, number, 1, "", "the key \"%s\" has no text", key);
    } else if (!unescape(text)) {
        tr_diags_add(diags, TR_ERROR, number, 1, "", "a backslash must be followed by n (line break) or another one");
    } else {
        put_word(lang, (word){.key = key, .text = text, .file = lang->file_count, .line = number}, diags);
    }
}

/* Takes out all words of the file that was being read. */
static void drop_file(tr_lang *lang)
{
    size_t kept = 0;
    for (size_t i = 0; i < lang->count; i++) {
        if (lang->word[i].file != lang->file_count) {
            lang->word[kept++] = lang->word[i];
        }
    }
    lang->count = kept;
}

static int line_of(const char *text, size_t at)
{
    int line = 1;
    for (size_t i = 0; i < at; i++) {
        line += text[i] == '\n' ? 1 : 0;
    }
    return line;
}

static void read_lines(tr_lang *lang, char *text, tr_diags *diags)
{
    int number = 1;
    for (char *line = text; line != NULL; number++) {
        char *const end = strchr(line, '\n');
        if (end != NULL) {
            *end = '\0';
        }
        read_line(lang, line, number, diags);
        line = end != NULL ? end + 1 : NULL;
    }
}

tr_result tr_lang_add(tr_lang *lang, const char *text, size_t size, tr_diags *diags)
{
    static const char mark[] = "\xEF\xBB\xBF"; /* some editors put this byte order mark in front */
    if (size > TR_LANG_MAX_FILE) {
        tr_diags_add(diags, TR_ERROR, 0, 0, "", "the file has %zu bytes, %d is the most", size, TR_LANG_MAX_FILE);
        return TR_LIMIT;
    }
    if (!tr_utf8_valid(text, size)) {
        const void *const nul = memchr(text, 0, size);
        const size_t good = tr_utf8_whole(text, nul != NULL ? (size_t)((const char *)nul - text) : size);
        tr_diags_add(diags, TR_ERROR, line_of(text, good), 1, "", "is not UTF-8 text");
        return TR_INVALID;
    }
    if (size >= 3 && memcmp(text, mark, 3) == 0) {
        text += 3;
        size -= 3;
    }
    block *const copy = malloc(sizeof *copy + size + 1);
    if (copy == NULL) {
        return TR_NO_MEMORY;
    }
    memcpy(copy->text, text, size);
    copy->text[size] = '\0';
    const size_t errors = diags->errors;
    read_lines(lang, copy->text, diags);
    if (diags->errors > errors) {
        drop_file(lang); /* all of a file or nothing */
        free(copy);
        return TR_INVALID;
    }
    copy->next = lang->blocks;
    lang->blocks = copy;
    lang->file_count++;
    return TR_OK;
}

/* ---- looking up ------------------------------------------------------------------------------------------------- */

const char *tr_word_or_null(const tr_lang *lang, const char *key)
{
    const word *const found = lang != NULL ? find(lang, key) : NULL;
    return found != NULL ? found->text : NULL;
}

const char *tr_word(const tr_lang *lang, const char *key)
{
    const char *const text = tr_word_or_null(lang, key);
    return text != NULL ? text : key;
}

void tr_lang_fill(const tr_lang *lang, const char *key, const char *const args[], size_t count, char *out, size_t cap)
{
    const char *text = tr_word(lang, key);
    out[0] = '\0';
    bool fits = true;
    while (*text != '\0' && fits) {
        const bool is_slot = text[0] == '{' && text[1] >= '0' && text[1] <= '9' && text[2] == '}';
        const size_t slot = is_slot ? (size_t)(text[1] - '0') : count;
        if (slot < count) {
            fits = tr_append(out, cap, "%s", args[slot]);
            text += 3;
            continue;
        }
        const size_t length = 1 + strcspn(text + 1, "{"); /* up to the next brace, this character included */
        fits = tr_append(out, cap, "%.*s", (int)length, text);
        text += length;
    }
}

size_t tr_lang_count(const tr_lang *lang)
{
    return lang->count;
}

const char *tr_lang_key(const tr_lang *lang, size_t index)
{
    return index < lang->count ? lang->word[index].key : NULL;
}
