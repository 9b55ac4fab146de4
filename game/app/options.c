/* The command line. One table says which option belongs to which verb; parsing and help both come from it. */
#define _GNU_SOURCE
#include "options.h"

#include <getopt.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tautrow/base/text.h"

enum {
    ON_WINDOW = 1 << APP_WINDOW,
    ON_CHECK = 1 << APP_CHECK,
    ON_SOLVE = 1 << APP_SOLVE,
    ON_PLAN = 1 << APP_PLAN,
    ON_REPLAY = 1 << APP_REPLAY,
    ON_FIT = 1 << APP_FIT,
    ON_ALL = ON_WINDOW | ON_CHECK | ON_SOLVE | ON_PLAN | ON_REPLAY | ON_FIT,
    ON_VERBS = ON_ALL & ~ON_WINDOW
};

typedef enum option_id {
    OPT_HELP = 256,
    OPT_VERSION,
    OPT_JSON,
    OPT_SYSTEM,
    OPT_LANG,
    OPT_STRICT,
    OPT_TAKE_UP,
    OPT_PULLS,
    OPT_TARGET,
    OPT_ONCE,
    OPT_ACTIONS,
    OPT_PDF,
    OPT_LINES,
    OPT_SCALE,
    OPT_SIZE,
    OPT_SCREENSHOT,
    OPT_SCREEN,
    OPT_JOURNAL,
    OPT_STEP,
    OPT_MODE,
    OPT_TRAINEE,
    OPT_RESUME,
    OPT_TARGETS,
    OPT_ATTEMPTS,
    OPT_TEXT,
    OPT_COMPARE,
    OPT_WRITE,
    OPT_FORCE,
    OPT_LEAVE_OUT,
    OPT_HOLD,
    OPT_SCATTER
} option_id;

typedef struct option_row {
    const char *name;
    const char *value; /* shown in the help; NULL = takes none */
    int has_arg;
    int id;
    int verbs;
} option_row;

/* The words stand under "cli.opt.<name>". */
static const option_row table[] = {
    {"help", NULL, no_argument, OPT_HELP, ON_ALL},
    {"version", NULL, no_argument, OPT_VERSION, ON_WINDOW},
    {"json", NULL, no_argument, OPT_JSON, ON_VERBS},
    {"system", "us|si", required_argument, OPT_SYSTEM, ON_ALL},
    {"lang", "en|es", required_argument, OPT_LANG, ON_ALL},
    {"strict", NULL, no_argument, OPT_STRICT, ON_CHECK},
    {"take-up", "ROW=LENGTH|FILE", required_argument, OPT_TAKE_UP, ON_SOLVE},
    {"pulls", "FILE", required_argument, OPT_PULLS, ON_SOLVE},
    {"target", "FORCE", optional_argument, OPT_TARGET, ON_SOLVE | ON_PLAN},
    {"once", NULL, no_argument, OPT_ONCE, ON_PLAN},
    {"actions", NULL, no_argument, OPT_ACTIONS, ON_REPLAY},
    {"pdf", "FILE", required_argument, OPT_PDF, ON_REPLAY},
    {"lines", NULL, no_argument, OPT_LINES, ON_PLAN},
    {"compare", NULL, no_argument, OPT_COMPARE, ON_PLAN},
    {"write", "FILE", required_argument, OPT_WRITE, ON_FIT},
    {"force", NULL, no_argument, OPT_FORCE, ON_FIT},
    {"hold", "base|joint|strand", required_argument, OPT_HOLD, ON_FIT},
    {"scatter", "PERCENT", required_argument, OPT_SCATTER, ON_FIT},
    {"leave-out", "N", required_argument, OPT_LEAVE_OUT, ON_FIT},
    {"scale", "FACTOR", required_argument, OPT_SCALE, ON_WINDOW},
    {"text", "PERCENT", required_argument, OPT_TEXT, ON_WINDOW},
    {"size", "WxH", required_argument, OPT_SIZE, ON_WINDOW},
    {"mode", "guided|practice|assessment", required_argument, OPT_MODE, ON_WINDOW},
    {"trainee", "NAME", required_argument, OPT_TRAINEE, ON_WINDOW},
    {"continue", "JOURNAL", required_argument, OPT_RESUME, ON_WINDOW},
    {"journal", "FILE", required_argument, OPT_JOURNAL, ON_WINDOW},
    {"attempts", "FOLDER", required_argument, OPT_ATTEMPTS, ON_WINDOW},
    {"step", "N", required_argument, OPT_STEP, ON_WINDOW},
    {"screen", "NAME", required_argument, OPT_SCREEN, ON_WINDOW},
    {"targets", "FILE", required_argument, OPT_TARGETS, ON_WINDOW},
    {"screenshot", "FILE", required_argument, OPT_SCREENSHOT, ON_WINDOW},
};
enum { TABLE_ROWS = sizeof table / sizeof *table };

static const char *const verb_names[APP_VERBS] = {"", "check", "solve", "plan", "replay", "fit"};

static bool read_number(const char *text, double least, double most, double *out)
{
    double value = 0.0;
    const size_t used = tr_double_parse(text, &value);
    if (used == 0 || text[used] != '\0' || value < least || value > most) {
        return false;
    }
    *out = value;
    return true;
}

static bool read_size(const char *text, int *width, int *height)
{
    double w = 0.0;
    double h = 0.0;
    char first[16];
    const char *cross = strchr(text, 'x');
    if (cross == NULL || (size_t)(cross - text) >= sizeof first) {
        return false;
    }
    (void)tr_format(first, sizeof first, "%.*s", (int)(cross - text), text);
    if (!read_number(first, 320, 16384, &w) || !read_number(cross + 1, 240, 16384, &h)) {
        return false;
    }
    *width = (int)w;
    *height = (int)h;
    return true;
}

static bool one_of(const char *text, const char *const choices[], size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (strcmp(text, choices[i]) == 0) {
            return true;
        }
    }
    return false;
}

/* Options that every verb knows. False where the value is none of the choices. */
static bool take_common(app_options *out, int id, const char *value)
{
    static const char *const systems[] = {"us", "si"};
    static const char *const langs[] = {"en", "es"};
    switch (id) {
    case OPT_HELP:
        out->help = true;
        return true;
    case OPT_VERSION:
        out->version = true;
        return true;
    case OPT_JSON:
        out->json = true;
        return true;
    case OPT_SYSTEM:
        out->has_system = true;
        out->system = strcmp(value, "si") == 0 ? TR_SI : TR_US;
        return one_of(value, systems, 2);
    default:
        out->lang = value;
        return one_of(value, langs, 2);
    }
}

static bool take_verb(app_options *out, int id, const char *value)
{
    switch (id) {
    case OPT_STRICT:
        out->strict = true;
        return true;
    case OPT_TAKE_UP:
        if (out->take_up_count >= APP_MAX_TAKE_UPS) {
            return false;
        }
        out->take_up[out->take_up_count++] = value;
        return true;
    case OPT_PULLS:
        out->pulls = value;
        return true;
    case OPT_TARGET:
        out->wants_target = true;
        out->target = value;
        return true;
    case OPT_ACTIONS:
        out->actions = true;
        return true;
    case OPT_PDF:
        out->pdf = value;
        return *value != '\0';
    case OPT_ONCE:
        out->once = true;
        return true;
    default:
        out->lines = true;
        return true;
    }
}

static bool take_fit(app_options *out, int id, const char *value)
{
    static const char *const values[] = {"base", "joint", "strand"};
    char why[TR_TEXT_CAP];
    double number = 0.0;
    switch (id) {
    case OPT_COMPARE:
        out->compare = true;
        return true;
    case OPT_WRITE:
        out->write = value;
        return *value != '\0';
    case OPT_FORCE:
        out->force = true;
        return true;
    case OPT_HOLD:
        for (int i = 0; i < APP_HOLDS; i++) {
            out->hold[i] = out->hold[i] || strcmp(value, values[i]) == 0;
        }
        return one_of(value, values, APP_HOLDS);
    case OPT_SCATTER:
        return tr_quantity_parse(value, TR_DIM_RATIO, &out->scatter, why, sizeof why) && out->scatter > 0.0 &&
               out->scatter <= 0.2;
    default:
        out->leave_out = read_number(value, 0, 20, &number) ? (int)number : -1;
        return out->leave_out >= 0 && number <= (double)out->leave_out;
    }
}

static bool take_window(app_options *out, int id, const char *value)
{
    static const char *const modes[] = {"guided", "practice", "assessment"};
    double step = 0.0;
    switch (id) {
    case OPT_SCALE:
        return read_number(value, 0.5, 8.0, &out->scale);
    case OPT_SIZE:
        return read_size(value, &out->width, &out->height);
    case OPT_MODE:
        out->mode = value;
        return one_of(value, modes, 3);
    case OPT_TRAINEE:
        out->trainee = value;
        return true;
    case OPT_RESUME:
        out->resume = value;
        return true;
    case OPT_JOURNAL:
        out->journal = value;
        return true;
    case OPT_STEP:
        if (!read_number(value, 0, 1e6, &step)) {
            return false;
        }
        out->step = (long long)step;
        return true;
    case OPT_TEXT:
        return read_number(value, 100, 200, &out->text);
    case OPT_TARGETS:
        out->targets = value;
        return true;
    case OPT_ATTEMPTS:
        out->attempts = value;
        return *value != '\0';
    case OPT_SCREEN:
        out->screen = value;
        return true;
    default:
        out->screenshot = value;
        return true;
    }
}

static bool take(app_options *out, const option_row *row, const char *value, char *why, size_t why_cap)
{
    if ((row->verbs & (1 << out->verb)) == 0) {
        (void)tr_format(why, why_cap, "--%s does not go with %s", row->name,
                        out->verb == APP_WINDOW ? "the window" : verb_names[out->verb]);
        return false;
    }
    bool fine = false;
    if (row->id <= OPT_LANG) {
        fine = take_common(out, row->id, value);
    } else if (row->id <= OPT_LINES) {
        fine = take_verb(out, row->id, value);
    } else if (row->id >= OPT_COMPARE) {
        fine = take_fit(out, row->id, value);
    } else {
        fine = take_window(out, row->id, value);
    }
    if (!fine) {
        (void)tr_format(why, why_cap, "--%s wants %s, not \"%.60s\"", row->name, row->value, value);
    }
    return fine;
}

static void fill_long_options(struct option longs[TABLE_ROWS + 1])
{
    memset(longs, 0, (TABLE_ROWS + 1) * sizeof *longs);
    for (int i = 0; i < TABLE_ROWS; i++) {
        longs[i] = (struct option){table[i].name, table[i].has_arg, NULL, table[i].id};
    }
}

/* The verb, if the first word is one. */
static app_verb verb_of(int argc, char **argv)
{
    for (int verb = APP_CHECK; argc > 1 && verb < APP_VERBS; verb++) {
        if (strcmp(argv[1], verb_names[verb]) == 0) {
            return (app_verb)verb;
        }
    }
    return APP_WINDOW;
}

static const option_row *row_of(int id)
{
    int i = 0;
    while (i < TABLE_ROWS - 1 && table[i].id != id) {
        i++;
    }
    return &table[i];
}

bool app_options_read(int argc, char **argv, app_options *out, char *why, size_t why_cap)
{
    struct option longs[TABLE_ROWS + 1];
    fill_long_options(longs);
    memset(out, 0, sizeof *out);
    out->step = -1;
    out->verb = verb_of(argc, argv);
    opterr = 0;
    optind = out->verb == APP_WINDOW ? 1 : 2;
    for (int id = 0; (id = getopt_long(argc, argv, ":h", longs, NULL)) != -1;) {
        if (id == '?' || id == ':') {
            const char *before = id == ':' ? "missing value of" : "unknown option";
            (void)tr_format(why, why_cap, "%s %s", before, argv[optind - 1]);
            return false;
        }
        const option_row *row = row_of(id == 'h' ? (int)OPT_HELP : id);
        if (!take(out, row, optarg, why, why_cap)) {
            return false;
        }
    }
    out->files = (const char *const *)(argv + optind);
    out->file_count = argc - optind;
    return true;
}

void app_options_help(app_verb verb, const tr_lang *lang)
{
    char key[64];
    (void)tr_format(key, sizeof key, "cli.help.%s", verb == APP_WINDOW ? "window" : verb_names[verb]);
    (void)printf("%s\n\n", tr_word(lang, key));
    for (int i = 0; i < TABLE_ROWS; i++) {
        if ((table[i].verbs & (1 << verb)) == 0) {
            continue;
        }
        char left[64];
        const char *value = table[i].value;
        if (value != NULL && value[0] >= 'A' && value[0] <= 'Z') { /* not what is typed, but what kind of thing */
            (void)tr_format(key, sizeof key, "cli.arg.%s", table[i].name);
            value = tr_word(lang, key);
        }
        if (value == NULL) {
            (void)tr_format(left, sizeof left, "--%s", table[i].name);
        } else if (table[i].has_arg == optional_argument) {
            (void)tr_format(left, sizeof left, "--%s[=%s]", table[i].name, value);
        } else {
            (void)tr_format(left, sizeof left, "--%s %s", table[i].name, value);
        }
        (void)tr_format(key, sizeof key, "cli.opt.%s", table[i].name);
        (void)printf("  %-36s %s\n", left, tr_word(lang, key));
    }
    (void)printf("\n%s\n", tr_word(lang, "cli.help.exits"));
}
