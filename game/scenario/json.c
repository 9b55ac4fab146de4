/* JSON reader of this layer. A library would parse the grammar as well, but it keeps neither places nor duplicate keys,
 * and an instructor who mistypes a scenario needs both. It must never read past size nor take memory that the limits do
 * not allow. */
#include "json.h"

#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "tautrow/base/text.h"

struct scenario__json {
    scenario__node *node;
    size_t used, room;
    char *words; /* all keys and strings, each ended by NUL */
    size_t word_used;
};

typedef struct parser {
    const char *text;
    size_t size, at;
    int line, column, depth;
    scenario__json *json;
    tr_diags *diags;
    tr_result result;
    bool is_stopped; /* the grammar is broken: nothing after it can be trusted */
} parser;

static bool read_value(parser *p, scenario__node *node);

/* ---- places and complaints ---- */

static void path_of(const scenario__node *node, char *out, size_t cap)
{
    const scenario__node *chain[SCENARIO__MAX_DEPTH + 2];
    int depth = 0;
    while (node && node->parent && depth < SCENARIO__MAX_DEPTH + 2) {
        chain[depth++] = node;
        node = node->parent;
    }
    (void)tr_copy(out, cap, "$");
    while (depth > 0) {
        const scenario__node *step = chain[--depth];
        if (step->key) {
            (void)tr_append(out, cap, ".%s", step->key);
        } else {
            (void)tr_append(out, cap, "[%d]", step->index);
        }
    }
}

void scenario__path(const scenario__node *node, char *out, size_t cap)
{
    path_of(node, out, cap);
}

const char *scenario__kind_name(scenario__kind kind)
{
    static const char *const name[] = {"null", "false", "true", "a number", "a text", "a list", "an object"};
    return name[kind];
}

scenario__quote scenario__quoted(const char *word)
{
    scenario__quote quote;
    if (!tr_copy(quote.text, sizeof quote.text - 3, word)) {
        (void)tr_append(quote.text, sizeof quote.text, "...");
    }
    for (char *c = quote.text; *c; c++) {
        *c = *c == '\n' || *c == '\t' ? ' ' : *c;
    }
    return quote;
}

static bool stop(parser *p, tr_result result, const scenario__node *inside, const char *what)
{
    if (!p->is_stopped) {
        char path[TR_PATH_CAP];
        path_of(inside, path, sizeof path);
        tr_diags_add(p->diags, TR_ERROR, p->line, p->column, path, "%s", what);
        p->result = result;
        p->is_stopped = true;
    }
    return false;
}

/* ---- characters ---- */

static bool is_at_end(const parser *p)
{
    return p->at >= p->size;
}

static char peek(const parser *p)
{
    return is_at_end(p) ? '\0' : p->text[p->at];
}

static void step(parser *p)
{
    const unsigned char c = (unsigned char)p->text[p->at++];
    if (c == '\n') {
        p->line++;
        p->column = 1;
    } else if ((c & 0xC0U) != 0x80U) {
        p->column++;
    }
}

static void skip_space(parser *p)
{
    while (!is_at_end(p) && strchr(" \t\r\n", p->text[p->at]) != NULL && p->text[p->at] != '\0') {
        step(p);
    }
}

static bool take(parser *p, char wanted)
{
    if (is_at_end(p) || p->text[p->at] != wanted) {
        return false;
    }
    step(p);
    return true;
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* ---- strings ---- */

/* They are of no use in our files and could play tricks on a terminal that shows a message about them. */
static const char CONTROL[] = "a text cannot hold a control character other than \\n and \\t";

/* Writes a code point to where; returns its length in UTF-8. */
static size_t encode(uint32_t code, char *where)
{
    unsigned char *to = (unsigned char *)where;
    if (code < 0x80) {
        to[0] = (unsigned char)code;
        return 1;
    }
    if (code < 0x800) {
        to[0] = (unsigned char)(0xC0U | (code >> 6U));
        to[1] = (unsigned char)(0x80U | (code & 0x3FU));
        return 2;
    }
    if (code < 0x10000) {
        to[0] = (unsigned char)(0xE0U | (code >> 12U));
        to[1] = (unsigned char)(0x80U | ((code >> 6U) & 0x3FU));
        to[2] = (unsigned char)(0x80U | (code & 0x3FU));
        return 3;
    }
    to[0] = (unsigned char)(0xF0U | (code >> 18U));
    to[1] = (unsigned char)(0x80U | ((code >> 12U) & 0x3FU));
    to[2] = (unsigned char)(0x80U | ((code >> 6U) & 0x3FU));
    to[3] = (unsigned char)(0x80U | (code & 0x3FU));
    return 4;
}

static bool read_hex4(parser *p, uint32_t *code)
{
    *code = 0;
    for (int i = 0; i < 4; i++) {
        const char c = peek(p);
        uint32_t digit = 0;
        if (is_digit(c)) {
            digit = (uint32_t)(c - '0');
        } else if (c >= 'a' && c <= 'f') {
            digit = (uint32_t)(c - 'a') + 10;
        } else if (c >= 'A' && c <= 'F') {
            digit = (uint32_t)(c - 'A') + 10;
        } else {
            return false;
        }
        *code = *code * 16 + digit;
        step(p);
    }
    return true;
}

/* What follows "\u". */
static bool read_unicode(parser *p, const scenario__node *inside, uint32_t *code)
{
    if (!read_hex4(p, code)) {
        return stop(p, TR_INVALID, inside, "expected four hexadecimal digits after \\u");
    }
    if (*code >= 0xD800 && *code < 0xDC00) {
        uint32_t low = 0;
        if (!take(p, '\\') || !take(p, 'u') || !read_hex4(p, &low) || low < 0xDC00 || low > 0xDFFF) {
            return stop(p, TR_INVALID, inside, "half of a character: the second \\u part is missing");
        }
        *code = 0x10000 + ((*code - 0xD800) << 10U) + (low - 0xDC00);
    } else if (*code >= 0xDC00 && *code <= 0xDFFF) {
        return stop(p, TR_INVALID, inside, "half of a character: the first \\u part is missing");
    }
    const bool is_control = *code < 0x20 || (*code >= 0x7F && *code < 0xA0);
    if (is_control && *code != '\n' && *code != '\t') {
        return stop(p, TR_INVALID, inside, *code ? CONTROL : "a text cannot hold NUL");
    }
    return true;
}

static bool read_escape(parser *p, const scenario__node *inside, char **to)
{
    static const char from[] = "\"\\/nt";
    static const char into[] = "\"\\/\n\t";
    const char c = peek(p);
    const char *found = c ? strchr(from, c) : NULL;
    uint32_t code = 0;
    if (found) {
        step(p);
        *(*to)++ = into[found - from];
        return true;
    }
    if (c != 'u') {
        return stop(p, TR_INVALID, inside, "no such escape: a backslash is written \\\\");
    }
    step(p);
    if (!read_unicode(p, inside, &code)) {
        return false;
    }
    *to += encode(code, *to);
    return true;
}

/* Copies one character that is no escape. */
static bool read_plain(parser *p, const scenario__node *inside, char **to)
{
    const unsigned char lead = (unsigned char)peek(p);
    const size_t length = lead < 0x80 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
    if (lead < 0x20 || lead == 0x7F) {
        return stop(p, TR_INVALID, inside, lead ? CONTROL : "a text cannot hold NUL");
    }
    if (length > p->size - p->at || !tr_utf8_valid(p->text + p->at, length)) {
        return stop(p, TR_INVALID, inside, "not UTF-8");
    }
    if (lead == 0xC2 && (unsigned char)p->text[p->at + 1] < 0xA0) {
        return stop(p, TR_INVALID, inside, CONTROL);
    }
    for (size_t i = 0; i < length; i++) {
        *(*to)++ = p->text[p->at];
        step(p);
    }
    return true;
}

/* Reads a string whose opening quote is here. Never longer than its source with both quotes, so words cannot overflow.
 */
static bool read_string(parser *p, const scenario__node *inside, const char **out)
{
    char *const start = p->json->words + p->json->word_used;
    char *to = start;
    step(p);
    for (;;) {
        if (is_at_end(p)) {
            return stop(p, TR_INVALID, inside, "the file ends inside a text: its closing quote is missing");
        }
        if (take(p, '"')) {
            break;
        }
        if (!(take(p, '\\') ? read_escape(p, inside, &to) : read_plain(p, inside, &to))) {
            return false;
        }
    }
    *to++ = '\0';
    p->json->word_used += (size_t)(to - start);
    *out = start;
    return true;
}

/* ---- numbers and words ---- */

static bool skip_digits(parser *p)
{
    bool any = false;
    while (is_digit(peek(p))) {
        step(p);
        any = true;
    }
    return any;
}

static bool skip_number(parser *p)
{
    (void)take(p, '-');
    if (!take(p, '0') && !skip_digits(p)) {
        return false;
    }
    if (take(p, '.') && !skip_digits(p)) {
        return false;
    }
    if (take(p, 'e') || take(p, 'E')) {
        if (!take(p, '+')) {
            (void)take(p, '-');
        }
        return skip_digits(p);
    }
    return true;
}

static bool read_number(parser *p, scenario__node *node)
{
    enum { LONGEST = 64 };
    char copy[LONGEST + 1];
    const size_t from = p->at;
    if (!skip_number(p)) {
        return stop(p, TR_INVALID, node, "not a number as JSON writes it: digits with a point, such as 0.5");
    }
    const size_t length = p->at - from;
    if (length > LONGEST) {
        return stop(p, TR_INVALID, node, "a number of more than 64 characters");
    }
    memcpy(copy, p->text + from, length);
    copy[length] = '\0';
    node->kind = SCENARIO__NUMBER;
    if (tr_double_parse(copy, &node->number) != length) {
        return stop(p, TR_INVALID, node, "a number too large to reckon with");
    }
    return true;
}

static bool read_word(parser *p, scenario__node *node)
{
    static const struct {
        const char *word;
        scenario__kind kind;
    } known[] = {{"null", SCENARIO__NULL}, {"false", SCENARIO__FALSE}, {"true", SCENARIO__TRUE}};
    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++) {
        const size_t length = strlen(known[i].word);
        if (p->size - p->at >= length && memcmp(p->text + p->at, known[i].word, length) == 0) {
            node->kind = known[i].kind;
            for (size_t n = 0; n < length; n++) {
                step(p);
            }
            return true;
        }
    }
    return stop(p, TR_INVALID, node,
                is_at_end(p) ? "the file ends where a value is expected"
                             : "expected a value: text in double quotes, a number, true, false, a list or an object");
}

/* ---- lists and objects ---- */

static scenario__node *add_member(parser *p, scenario__node *parent, scenario__node *before)
{
    if (parent->count >= SCENARIO__MAX_MEMBERS) {
        (void)stop(p, TR_LIMIT, parent, "more than 512 entries in one list or object");
        return NULL;
    }
    if (p->json->used >= p->json->room) {
        /* a sound text has no more values than its brackets and commas allow, so room runs out at the limit only */
        (void)stop(p, TR_LIMIT, parent, "more than 8192 values in one file");
        return NULL;
    }
    scenario__node *node = &p->json->node[p->json->used++];
    memset(node, 0, sizeof *node);
    node->parent = parent;
    node->index = parent->count++;
    if (before) {
        before->next = node;
    } else {
        parent->first = node;
    }
    return node;
}

static void refuse_twice(parser *p, const scenario__node *node)
{
    for (const scenario__node *other = node->parent->first; other != node; other = other->next) {
        if (strcmp(other->key, node->key) == 0) {
            char path[TR_PATH_CAP];
            path_of(node, path, sizeof path);
            tr_diags_add(p->diags, TR_ERROR, node->key_line, node->key_column, path,
                         "\"%s\" is given twice; the first is on line %d", scenario__quoted(node->key).text,
                         other->key_line);
            p->result = TR_INVALID;
            return;
        }
    }
}

static bool read_key(parser *p, scenario__node *node)
{
    skip_space(p);
    node->key_line = p->line;
    node->key_column = p->column;
    if (peek(p) != '"') {
        node->key = NULL;
        return stop(p, TR_INVALID, node->parent,
                    is_at_end(p)     ? "the file ends inside an object: } is missing"
                    : peek(p) == '}' ? "a comma before } is one too many"
                                     : "expected a key in double quotes");
    }
    const char *key = NULL;
    if (!read_string(p, node->parent, &key)) {
        return false;
    }
    if (key[strcspn(key, "\n\t")] != '\0') {
        return stop(p, TR_INVALID, node->parent, "a key cannot hold a line break or a tab");
    }
    node->key = key;
    refuse_twice(p, node);
    skip_space(p);
    return take(p, ':') || stop(p, TR_INVALID, node, "expected : after the key");
}

/* Members of a list or an object, its opening bracket being here. */
static bool read_members(parser *p, scenario__node *node, char closing)
{
    scenario__node *before = NULL;
    if (++p->depth > SCENARIO__MAX_DEPTH) {
        return stop(p, TR_LIMIT, node, "nested more than 16 deep");
    }
    step(p);
    skip_space(p);
    if (take(p, closing)) {
        p->depth--;
        return true;
    }
    for (;;) {
        scenario__node *member = add_member(p, node, before);
        if (!member || (closing == '}' && !read_key(p, member)) || !read_value(p, member)) {
            return false;
        }
        before = member;
        skip_space(p);
        if (take(p, closing)) {
            p->depth--;
            return true;
        }
        if (!take(p, ',')) {
            return stop(p, TR_INVALID, node,
                        is_at_end(p)     ? "the file ends before this is closed"
                        : closing == '}' ? "expected a comma or }"
                                         : "expected a comma or ]");
        }
    }
}

static bool read_value(parser *p, scenario__node *node) /* recursion: as deep as SCENARIO__MAX_DEPTH allows */
{
    skip_space(p);
    node->line = p->line;
    node->column = p->column;
    switch (peek(p)) {
    case '{':
        node->kind = SCENARIO__OBJECT;
        return read_members(p, node, '}');
    case '[':
        node->kind = SCENARIO__LIST;
        return read_members(p, node, ']');
    case '"':
        node->kind = SCENARIO__STRING;
        return read_string(p, node, &node->text);
    default:
        break;
    }
    return peek(p) == '-' || is_digit(peek(p)) ? read_number(p, node) : read_word(p, node);
}

/* ---- the whole text ---- */

/* No text has more values than brackets and commas allow. */
static size_t most_values(const char *text, size_t size)
{
    size_t most = 1;
    for (size_t i = 0; i < size; i++) {
        most += text[i] == ',' || text[i] == '{' || text[i] == '[';
    }
    return most < SCENARIO__MAX_VALUES ? most : SCENARIO__MAX_VALUES;
}

static scenario__json *make_room(size_t values, size_t size)
{
    scenario__json *json = calloc(1, sizeof *json);
    if (!json) {
        return NULL;
    }
    json->node = calloc(values, sizeof *json->node);
    json->words = malloc(size + 1);
    json->room = values;
    if (!json->node || !json->words) {
        scenario__json_close(json);
        return NULL;
    }
    return json;
}

static void read_text(parser *p)
{
    scenario__node *root = &p->json->node[p->json->used++];
    if (p->size >= 3 && memcmp(p->text, "\xEF\xBB\xBF", 3) == 0) {
        p->at = 3;
    }
    if (!read_value(p, root)) {
        return;
    }
    skip_space(p);
    if (!is_at_end(p)) {
        (void)stop(p, TR_INVALID, NULL, "expected the end of the file here");
    }
}

tr_result scenario__json_open(const char *text, size_t size, size_t max, scenario__json **out, tr_diags *diags)
{
    *out = NULL;
    if (size > max) {
        tr_diags_add(diags, TR_ERROR, 0, 0, "$", "the file is larger than %zu bytes", max);
        return TR_LIMIT;
    }
    scenario__json *json = make_room(most_values(text, size), size);
    if (!json) {
        return TR_NO_MEMORY;
    }
    parser p = {.text = text, .size = size, .line = 1, .column = 1, .json = json, .diags = diags, .result = TR_OK};
    read_text(&p);
    if (p.is_stopped) {
        scenario__json_close(json);
    } else {
        *out = json;
    }
    return p.result;
}

void scenario__json_close(scenario__json *json)
{
    if (json) {
        free(json->node);
        free(json->words);
        free(json);
    }
}

const scenario__node *scenario__json_root(const scenario__json *json)
{
    return &json->node[0];
}

const scenario__node *scenario__member(const scenario__node *object, const char *key)
{
    if (!object || object->kind != SCENARIO__OBJECT) {
        return NULL;
    }
    for (const scenario__node *member = object->first; member; member = member->next) {
        if (strcmp(member->key, key) == 0) {
            return member;
        }
    }
    return NULL;
}
