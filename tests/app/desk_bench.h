/* The desk without a window, and hands that write its input: what the tests of the whole program share. */
#ifndef TESTS_DESK_BENCH_H
#define TESTS_DESK_BENCH_H

#include "near.h"

#include <stdlib.h>
#include <string.h>

#include "desk.h"
#include "tautrow/base/text.h"

typedef struct desk_bench {
    app_options options; /* the command line's, to be set before it is opened */
    app_context context;
    app_desk desk;
    view_input in;
    long long ms;
} desk_bench;

/* Nothing on the command line but, where is_picture, that a picture is wanted: then nothing of this machine's settings and
 * journals is read. Frames are 1/50 s apart. */
static inline void bench_prepare(desk_bench *b, bool is_picture)
{
    memset(b, 0, sizeof *b);
    b->options.step = -1;
    b->options.screenshot = is_picture ? "none" : NULL;
    b->in = (view_input){.width = 1280.0F, .height = 800.0F, .dt_s = 0.02F};
}

/* False, with a message, where this machine has no font. */
static inline bool bench_open(desk_bench *b, const char *code)
{
    static tr_diags diags;
    char why[TR_TEXT_CAP] = "";
    tr_diags_clear(&diags);
    b->context = (app_context){.options = &b->options, .folder = TAUTROW_SOURCE};
    b->context.lang = app_lang_load(TAUTROW_SOURCE, code, why, sizeof why);
    b->context.catalogue = app_catalogue_load(TAUTROW_SOURCE, &diags);
    assert_true(b->context.lang != NULL && b->context.catalogue != NULL);
    if (!app_desk_open(&b->desk, &b->context, why, sizeof why)) {
        print_message("%s\n", why);
        return false;
    }
    return true;
}

static inline void bench_close(desk_bench *b)
{
    app_desk_close(&b->desk);
    scenario_catalogue_close(b->context.catalogue);
    tr_lang_close(b->context.lang);
}

static inline void bench_frame(desk_bench *b)
{
    b->in.time_s += (double)b->in.dt_s;
    b->ms += lround((double)b->in.dt_s * 1000.0);
    app_desk_frame(&b->desk, &b->in, b->ms);
    view_input_forget(&b->in);
}

static inline void bench_frames(desk_bench *b, int count)
{
    for (int i = 0; i < count; i++) {
        bench_frame(b);
    }
}

/* A key is struck, and what it does is drawn. */
static inline void bench_key(desk_bench *b, int key)
{
    view_input_key(&b->in, key, 0, false);
    bench_frames(b, 2);
}

#endif
