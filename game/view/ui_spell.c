/* Typing with a controller: A begins and ends it, the cross goes through the letters of the last place, on to the next and back.
 * Slow, but a name can be written without a keyboard. */
#include "tautrow/view/ui.h"

#include "ui_keep.h"

#include <string.h>

#include "tautrow/base/text.h"

/* Each as it begins a word, and as it stands inside one. */
static const char *const letters[][2] = {
    {"A", "a"}, {"B", "b"}, {"C", "c"}, {"D", "d"}, {"E", "e"}, {"F", "f"}, {"G", "g"}, {"H", "h"},
    {"I", "i"}, {"J", "j"}, {"K", "k"}, {"L", "l"}, {"M", "m"}, {"N", "n"}, {"Ñ", "ñ"}, {"O", "o"},
    {"P", "p"}, {"Q", "q"}, {"R", "r"}, {"S", "s"}, {"T", "t"}, {"U", "u"}, {"V", "v"}, {"W", "w"},
    {"X", "x"}, {"Y", "y"}, {"Z", "z"}, {"Á", "á"}, {"É", "é"}, {"Í", "í"}, {"Ó", "ó"}, {"Ú", "ú"},
    {"Ü", "ü"}, {"0", "0"}, {"1", "1"}, {"2", "2"}, {"3", "3"}, {"4", "4"}, {"5", "5"}, {"6", "6"},
    {"7", "7"}, {"8", "8"}, {"9", "9"}, {".", "."}, {"'", "'"}, {"-", "-"}, {" ", " "}};
enum { LETTERS = sizeof letters / sizeof letters[0] };

static size_t last_of(const char *text)
{
    const size_t size = strlen(text);
    return size == 0 ? 0 : tr_utf8_whole(text, size - 1);
}

/* What cannot be spelt counts as the first one. */
static int index_of(const char *letter)
{
    for (int i = 0; i < LETTERS; i++) {
        if (strcmp(letters[i][0], letter) == 0 || strcmp(letters[i][1], letter) == 0) {
            return i;
        }
    }
    return 0;
}

static bool set(char *text, size_t cap, size_t at, int index)
{
    const bool begins = at == 0 || text[at - 1] == ' ' || text[at - 1] == '-';
    const char *letter = letters[(index + LETTERS) % LETTERS][begins ? 0 : 1];
    return at + strlen(letter) < cap && tr_copy(text + at, cap - at, letter);
}

/* The last letter goes on by so many; an empty text gets its first one. */
static bool turn(char *text, size_t cap, int by)
{
    const size_t at = last_of(text);
    return set(text, cap, at, text[0] == '\0' ? 0 : index_of(text + at) + by);
}

static bool spell(view_ui *ui, char *text, size_t cap)
{
    bool is_changed = false;
    while (view_key_take(ui, VIEW_PAD_UP, 0)) {
        is_changed = turn(text, cap, -1) || is_changed;
    }
    while (view_key_take(ui, VIEW_PAD_DOWN, 0)) {
        is_changed = turn(text, cap, 1) || is_changed;
    }
    while (view_key_take(ui, VIEW_PAD_RIGHT, 0)) {
        is_changed = set(text, cap, strlen(text), 0) || is_changed;
    }
    while (text[0] != '\0' && view_key_take(ui, VIEW_PAD_LEFT, 0)) {
        text[last_of(text)] = '\0';
        is_changed = true;
    }
    return is_changed;
}

bool view__spell(view_ui *ui, view_id id, char *text, size_t cap, const char **how)
{
    view__slot *slot = view__slot_of(ui, view__hash(id, "spell", 0));
    const bool has_it = ui->focus == id && ui->input->device == VIEW_BY_PAD && view__is_on_top(ui);
    if (has_it && view__takes_activation(ui)) {
        slot->v[0] = 1.0F - slot->v[0];
    }
    slot->v[0] = has_it ? slot->v[0] : 0.0F;
    const bool is_on = slot->v[0] > 0.5F;
    *how = !has_it ? NULL : view_word(ui, is_on ? "ui.spell" : "ui.spell_begin");
    return is_on && spell(ui, text, cap);
}
