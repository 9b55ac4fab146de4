/* Throws bytes at the journal reader. One input is tried twice: as it is, and with the check digits of its lines made
 * right, so that what lies behind them (parser, order, replay, score) is reached, too. Whatever comes, the answer must
 * be a clean one.
 *
 * With a fuzzing engine: define TAUTROW_FUZZER and link it. Without: the main below runs every file of a folder, and
 * changed copies of it, always the same ones. fuzz_journal --make FOLDER       writes a few seeds fuzz_journal FOLDER
 * [CHANGES]    tries every file of it, each with so many changes */
#define _POSIX_C_SOURCE 200809L
#include "journal.h"

#include "tautrow/base/assert.h"
#include "tautrow/base/io.h"
#include "tautrow/base/rng.h"
#include "tautrow/base/text.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

enum { WHY_CAP = 320, PATH_CAP = 512, MAX_INPUT = 65536 };

static char *read_or_stop(const char *path, size_t *size)
{
    char why[WHY_CAP] = "";
    char *text = NULL;
    if (tr_file_read(path, RECORD_MAX_FILE, &text, size, why, sizeof why) != TR_OK) {
        fprintf(stderr, "%s\n", why);
        exit(2);
    }
    return text;
}

static scenario_catalogue *open_catalogue(void)
{
    size_t size = 0;
    tr_diags diags;
    tr_diags_clear(&diags);
    char *const text = read_or_stop(TAUTROW_SOURCE "/assets/catalogue/catalogue.json", &size);
    scenario_catalogue *const catalogue = scenario_catalogue_open(text, size, &diags);
    free(text);
    TR_ASSERT(catalogue != NULL);
    return catalogue;
}

/* Reads and checks what must hold of every answer. Returns whether the journal verified. */
static bool try_text(const char *text, size_t size)
{
    record_attempt *attempt = NULL;
    record_reading reading;
    tr_diags diags;
    tr_diags_clear(&diags);
    const tr_result result = record_attempt_read(text, size, &attempt, &reading, &diags);
    TR_ASSERT((attempt != NULL) == (result == TR_OK));
    TR_ASSERT((result == TR_BROKEN || result == TR_INVALID) == (reading.broken_line > 0));
    TR_ASSERT((reading.broken_line > 0) == (reading.problem[0] != '\0'));
    TR_ASSERT(reading.broken_line <= reading.lines + 1);
    TR_ASSERT(tr_utf8_valid(reading.problem, strlen(reading.problem)));
    if (attempt != NULL) {
        const job_action *actions = NULL;
        const size_t count = record_attempt_actions(attempt, &actions);
        for (size_t i = 0; i < count; i++) {
            TR_ASSERT(job_action_is_sound(&actions[i], record_attempt_scenario(attempt)->setup.structure.row_count));
        }
    }
    record_attempt_close(attempt);
    return result == TR_OK;
}

/* Copies the lines with their tails made right. */
static size_t seal_lines(const char *text, size_t size, char *out, size_t cap)
{
    char link[RECORD__LINK_TEXT] = "";
    size_t used = 0;
    while (size > 0) {
        const char *const end = memchr(text, '\n', size);
        const size_t whole = end != NULL ? (size_t)(end - text) : size;
        const size_t kept = whole > RECORD__TAIL ? whole - RECORD__TAIL : whole;
        if (used + kept + RECORD__TAIL + 2 > cap) {
            break;
        }
        memcpy(out + used, text, kept);
        out[used + kept] = '\0';
        record__seal(out + used, cap - used, link);
        used += strlen(out + used);
        out[used++] = '\n';
        text += whole + (end != NULL ? 1 : 0);
        size -= whole + (end != NULL ? 1 : 0);
    }
    return used;
}

static bool try_both(const char *text, size_t size)
{
    const bool is_good = try_text(text, size);
    const size_t cap = 2 * size + 64;
    char *const sealed = malloc(cap);
    TR_ASSERT(sealed != NULL);
    const bool is_good_sealed = try_text(sealed, seal_lines(text, size, sealed, cap));
    free(sealed);
    return is_good || is_good_sealed;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *const text = malloc(size + 1);
    TR_ASSERT(text != NULL);
    memcpy(text, data, size);
    (void)try_both(text, size);
    free(text);
    return 0;
}

#ifndef TAUTROW_FUZZER

/* Changes a few bytes: any byte, a digit, a character that JSON minds, or a piece taken from elsewhere. */
static void change(char *text, size_t size, tr_rng *rng)
{
    static const char special[] = "{}[]\",:-.eE0129\n\\ truefalsenull";
    const char *const header_end = memchr(text, '\n', size);
    /* mostly behind the header, where there is more to reach */
    const size_t first = header_end != NULL && header_end + 1 < text + size ? (size_t)(header_end - text) + 1 : 0;
    for (uint64_t i = 1 + tr_rng_next(rng) % 3; i > 0; i--) {
        const size_t at = tr_rng_next(rng) % 8 == 0 ? (size_t)(tr_rng_next(rng) % size)
                                                    : first + (size_t)(tr_rng_next(rng) % (size - first));
        const size_t from = (size_t)(tr_rng_next(rng) % size);
        const size_t length = (size_t)(tr_rng_next(rng) % 12);
        switch (tr_rng_next(rng) % 4) {
        case 0:
            text[at] = (char)(unsigned char)(tr_rng_next(rng) & 0xFFU);
            break;
        case 1:
            text[at] = (char)('0' + (int)(tr_rng_next(rng) % 10));
            break;
        case 2:
            text[at] = special[tr_rng_next(rng) % (sizeof special - 1)];
            break;
        default:
            memmove(text + at, text + from, at + length <= size && from + length <= size ? length : 0);
            break;
        }
    }
}

static int try_file(const char *path, int changes)
{
    size_t size = 0;
    char *const text = read_or_stop(path, &size);
    char *const copy = malloc(size + 1);
    TR_ASSERT(copy != NULL);
    tr_rng rng = tr_rng_seed(size);
    int good = try_both(text, size) ? 1 : 0;
    for (int i = 0; i < changes && size > 0 && size <= MAX_INPUT; i++) {
        memcpy(copy, text, size);
        change(copy, size, &rng);
        good += try_both(copy, size) ? 1 : 0;
    }
    free(copy);
    free(text);
    return good;
}

static int try_folder(const char *folder, int changes)
{
    DIR *const list = opendir(folder);
    if (list == NULL) {
        fprintf(stderr, "%s: no such folder\n", folder);
        return 2;
    }
    int files = 0;
    int good = 0;
    for (const struct dirent *entry = readdir(list); entry != NULL; entry = readdir(list)) {
        char path[PATH_CAP];
        if (entry->d_name[0] != '.' && tr_format(path, sizeof path, "%s/%s", folder, entry->d_name)) {
            good += try_file(path, changes);
            files++;
        }
    }
    closedir(list);
    printf("%d files, each with %d changes; %d inputs verified\n", files, changes, good);
    return files > 0 ? 0 : 1; /* an empty folder proves nothing */
}

/* A journal of the careful installer's first so many actions; the careful hand also takes some back. */
static void make_seed(const char *folder, const char *name, int actions, bool is_finished)
{
    char path[PATH_CAP];
    char why[WHY_CAP] = "";
    size_t size = 0;
    tr_diags diags;
    tr_diags_clear(&diags);
    scenario_catalogue *const catalogue = open_catalogue();
    char *const text = read_or_stop(TAUTROW_SOURCE "/scenarios/soft-porch.json", &size);
    scenario what;
    TR_ASSERT(scenario_read(text, size, catalogue, &what, &diags) == TR_OK);
    const record_about about = {.trainee = "Sam", .version = "0.1.0", .mode = JOB_GUIDED, .seed = 5};
    record_attempt *const attempt = record_attempt_open(text, size, &what, scenario_catalogue_text(catalogue), &about);
    TR_ASSERT(attempt != NULL);
    tr_format(path, sizeof path, "%s/%s", folder, name);
    TR_ASSERT(tr_file_remove(path));
    TR_ASSERT(record_attempt_journal(attempt, path, why, sizeof why) == TR_OK);
    job_action action;
    for (int i = 0; i < actions && job_expert_next(&what.setup, record_attempt_state(attempt), &action); i++) {
        (void)record_attempt_do(attempt, &action, NULL);
        if (i % 10 == 3) {
            (void)record_attempt_undo(attempt, action.at_ms + 1);
        }
    }
    score_card card;
    if (is_finished) {
        record_attempt_finish(attempt, &card);
    }
    record_attempt_close(attempt);
    free(text);
    scenario_catalogue_close(catalogue);
}

static int make_seeds(const char *folder)
{
    static const char torn[] = "{\"format\":\"tautrow.journal/1\",\"version\":\"0.1.0\",\"scena";
    char path[PATH_CAP];
    char why[WHY_CAP] = "";
    tr_format(path, sizeof path, "%s/torn", folder);
    if (tr_folder_make(folder, why, sizeof why) != TR_OK ||
        tr_file_write(path, torn, strlen(torn), why, sizeof why) != TR_OK) {
        fprintf(stderr, "%s\n", why);
        return 2;
    }
    make_seed(folder, "header", 0, false);
    make_seed(folder, "begun", 40, false);
    make_seed(folder, "finished", 1000, true);
    return 0;
}

int main(int argc, char **argv)
{
    if (argc == 3 && strcmp(argv[1], "--make") == 0) {
        return make_seeds(argv[2]);
    }
    if (argc != 2 && argc != 3) {
        fprintf(stderr, "usage: fuzz_journal --make FOLDER | FOLDER [CHANGES]\n");
        return 2;
    }
    double changes = 0.0;
    if (argc == 3 && (tr_double_parse(argv[2], &changes) == 0 || changes < 0.0 || changes > 1e8)) {
        fprintf(stderr, "CHANGES must be a number\n");
        return 2;
    }
    return try_folder(argv[1], (int)changes);
}

#endif
