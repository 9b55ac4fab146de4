/* Finding and replacing values in a JSON text. It trusts the text to be sound: the scenario layer has read it. */
#include "json_edit.h"

#include <stdlib.h>
#include <string.h>

#include "tautrow/base/text.h"

static const char *const BLANKS = " \t\r\n";

static size_t skip_blanks(const char *text, size_t at)
{
    return at + strspn(text + at, BLANKS);
}

/* at is on the opening quote; returns the place behind the closing one. */
static size_t skip_string(const char *text, size_t at)
{
    for (at++; text[at] != '\0' && text[at] != '"'; at++) {
        at += text[at] == '\\' && text[at + 1] != '\0' ? 1 : 0;
    }
    return at + (text[at] == '"' ? 1 : 0);
}

static size_t skip_value(const char *text, size_t at)
{
    int depth = 0;
    do {
        const char c = text[at];
        if (c == '"') {
            at = skip_string(text, at);
        } else if (c == '{' || c == '[') {
            depth++;
            at++;
        } else if (c == '}' || c == ']') {
            depth--;
            at++;
        } else if (depth > 0) {
            at++;
        } else {
            at += strcspn(text + at, ",]} \t\r\n");
        }
    } while (depth > 0 && text[at] != '\0');
    return at;
}

/* The value of key in the object that starts at `at`. */
static bool find_member(const char *text, size_t at, const char *key, size_t key_length, app_span *out)
{
    if (text[at] != '{') {
        return false;
    }
    at = skip_blanks(text, at + 1);
    while (text[at] == '"') {
        const size_t name = at + 1;
        at = skip_string(text, at);
        const bool is_it = at - 1 - name == key_length && strncmp(text + name, key, key_length) == 0;
        at = skip_blanks(text, at);
        at = skip_blanks(text, at + (text[at] == ':' ? 1 : 0));
        out->from = at;
        at = skip_value(text, at);
        out->to = at;
        if (is_it) {
            return true;
        }
        at = skip_blanks(text, at);
        at = skip_blanks(text, at + (text[at] == ',' ? 1 : 0));
    }
    return false;
}

static size_t top_of(const char *text)
{
    const size_t mark = strncmp(text, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
    return skip_blanks(text, mark);
}

bool app_json_find(const char *text, const char *path, app_span *out)
{
    app_span here = {.from = top_of(text)};
    while (*path != '\0') {
        const size_t length = strcspn(path, ".");
        if (!find_member(text, here.from, path, length, &here)) {
            return false;
        }
        path += length + (path[length] == '.' ? 1 : 0);
    }
    *out = here;
    return true;
}

static char *splice(const char *text, app_span span, const char *middle)
{
    const size_t cap = strlen(text) + strlen(middle) + 1;
    char *out = malloc(cap);
    if (out != NULL) {
        memcpy(out, text, span.from);
        out[span.from] = '\0';
        (void)tr_append(out, cap, "%s%s", middle, text + span.to);
    }
    return out;
}

/* Adds a first member, behind the same blanks as the one that was first so far. */
static char *add_member(const char *text, size_t object, const char *key, const char *value)
{
    const size_t behind = object + 1;
    const size_t blanks = strspn(text + behind, BLANKS);
    const bool is_empty = text[behind + blanks] == '}';
    const size_t cap = blanks + strlen(key) + strlen(value) + 8;
    const app_span span = {.from = behind, .to = behind};
    char *middle = malloc(cap);
    char *out = NULL;
    if (middle != NULL && tr_format(middle, cap, "%.*s\"%s\": %s%s", is_empty ? 0 : (int)blanks, text + behind, key,
                                    value, is_empty ? "" : ",")) {
        out = splice(text, span, middle);
    }
    free(middle);
    return out;
}

char *app_json_set(const char *text, const char *path, const char *value)
{
    app_span span = {0};
    if (app_json_find(text, path, &span)) {
        return splice(text, span, value);
    }
    char parent[128];
    const char *dot = strrchr(path, '.');
    const size_t length = dot == NULL ? 0 : (size_t)(dot - path);
    if (!tr_format(parent, sizeof parent, "%.*s", (int)length, path) || !app_json_find(text, parent, &span) ||
        text[span.from] != '{') {
        return NULL;
    }
    return add_member(text, span.from, dot == NULL ? path : dot + 1, value);
}
