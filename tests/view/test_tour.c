/* The tour: its steps by mouse and by keys, that only the deed advances a doing step, that what is dimmed answers nothing, and that
 * its words are few and lie over nothing, in both languages at every size. */
#include "near.h"

#include <ctype.h>

#include "draw_text.h"
#include "fake_font.h"
#include "frame_faults.h"
#include "job_desk.h"
#include "tautrow/view/text.h"
#include "tautrow/view/tour.h"
#include "ui_keep.h"

typedef struct tour_desk {
    job_desk job;
    view_tour tour;
    view_tour_wish wish; /* the last one that was not to stay */
    size_t first;        /* first drawing command of the tour itself */
} tour_desk;

/* As the program does it: two rows taut, the pliers on the third. */
static void bring(job_desk *desk, int *row)
{
    job_action action;
    int turned = 0;
    for (int i = 0; i < 400; i++) {
        assert_true(job_expert_next(&desk->what.setup, &desk->state, &action));
        if (action.verb == JOB_DO_TURN_BODY && turned++ == 2) {
            break;
        }
        (void)job_desk_do(desk, &action);
    }
    *row = job_action_row(&action);
    view_job_show(desk->job, JOB_STAGE_TENSION, *row);
}

static void frame(tour_desk *d)
{
    job_desk *j = &d->job;
    j->input.dt_s = 1.0F / 60.0F;
    j->input.time_s += 1.0 / 60.0;
    view_begin(&j->ui, &j->input, &j->prefs, j->lang);
    view_tour_begin(&j->ui, &d->tour, j->job);
    view_job_frame(&j->ui, j->job, &j->model, &j->said);
    for (int i = 0; i < j->said.action_count; i++) {
        const job_outcome outcome = job_desk_do(j, &j->said.action[i]);
        view_tour_heard(&d->tour, &j->said.action[i], &outcome);
    }
    d->first = view_draw_count(j->draw);
    const view_tour_wish wish = view_tour_end(&j->ui, &d->tour, j->job, &j->model, &j->what);
    d->wish = wish != VIEW_TOUR_STAY ? wish : d->wish;
    view_end(&j->ui);
    view_input_forget(&j->input);
}

static void open_with(tour_desk *d, const char *code, const view_metrics *metrics, float width, float height,
                      float text)
{
    memset(d, 0, sizeof *d);
    job_desk_open(&d->job, "first-row", JOB_GUIDED, code); /* what the program takes */
    d->job.metrics = *metrics;
    job_desk_ready(&d->job);
    d->job.input.width = width;
    d->job.input.height = height;
    d->job.prefs.text_scale = text;
    bring(&d->job, &d->tour.row);
    frame(d);
    frame(d);
}

static void open_tour(tour_desk *d)
{
    open_with(d, "en", &fake_metrics, 1280.0F, 800.0F, 1.0F);
}

static void key(tour_desk *d, int code, unsigned mods)
{
    view_input_key(&d->job.input, code, mods, false);
    frame(d);
    frame(d);
}

static void press_at(tour_desk *d, float x, float y)
{
    view_input *in = &d->job.input;
    in->has_mouse = true;
    in->mouse_x = x;
    in->mouse_y = y;
    frame(d);
    in->pressed[VIEW_MOUSE_LEFT] = in->down[VIEW_MOUSE_LEFT] = true;
    frame(d);
    in->released[VIEW_MOUSE_LEFT] = true;
    in->down[VIEW_MOUSE_LEFT] = false;
    frame(d);
    frame(d);
}

/* Presses the widget called by this word where it can be pressed now; false where it cannot. */
static bool press(tour_desk *d, const char *word_key)
{
    const char *label = view_word(&d->job.ui, word_key);
    const view_target *targets = NULL;
    const size_t count = view_targets(&d->job.ui, &targets);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(targets[i].label, label) == 0) {
            const view_rect at = targets[i].rect;
            press_at(d, at.x + at.w / 2.0F, at.y + at.h / 2.0F);
            return true;
        }
    }
    return false;
}

/* ---- steps ------------------------------------------------------------------------------------------------------ */

static void enter_goes_through_and_starts(void **context)
{
    (void)context;
    tour_desk d;
    open_tour(&d);
    for (int step = 0; step < VIEW_TOUR_STEPS; step++) {
        assert_int_equal(d.tour.step, step);
        assert_int_equal(d.wish, VIEW_TOUR_STAY);
        key(&d, VIEW_KEY_ENTER, 0);
    }
    assert_int_equal(d.wish, VIEW_TOUR_START);
    key(&d, VIEW_KEY_BACKSPACE, 0);
    assert_int_equal(d.tour.step, VIEW_TOUR_STEPS - 2);
    job_desk_close(&d.job);
}

static void escape_skips_at_every_step(void **context)
{
    (void)context;
    tour_desk d;
    open_tour(&d);
    for (int step = 0; step < VIEW_TOUR_STEPS; step++) {
        view_tour_go(&d.tour, step);
        d.wish = VIEW_TOUR_STAY;
        key(&d, VIEW_KEY_ESCAPE, 0);
        assert_int_equal(d.wish, VIEW_TOUR_SKIP);
        assert_false(d.job.said.leave);
    }
    job_desk_close(&d.job);
}

static void a_mouse_goes_on_and_back_and_skips(void **context)
{
    (void)context;
    tour_desk d;
    open_tour(&d);
    assert_false(press(&d, "tour.back")); /* there is nothing before the first */
    assert_true(press(&d, "tour.next"));
    assert_int_equal(d.tour.step, VIEW_TOUR_TRAIL);
    assert_true(press(&d, "tour.back"));
    assert_int_equal(d.tour.step, VIEW_TOUR_RUN);
    assert_true(press(&d, "tour.skip"));
    assert_int_equal(d.wish, VIEW_TOUR_SKIP);
    job_desk_close(&d.job);
}

/* Nothing but Tab and Enter: how a controller goes, too. */
static void tab_comes_to_everything_that_answers(void **context)
{
    (void)context;
    static const char *const wanted[] = {"job.tension.tighter", "tour.skip", "tour.back", "tour.next"};
    tour_desk d;
    open_tour(&d);
    view_tour_go(&d.tour, VIEW_TOUR_TURN);
    bool is_found[4] = {false};
    for (int i = 0; i < 20; i++) {
        key(&d, VIEW_KEY_TAB, 0);
        for (int k = 0; k < 4; k++) {
            is_found[k] = is_found[k] || strcmp(view_focus_label(&d.job.ui), view_word(&d.job.ui, wanted[k])) == 0;
        }
        assert_string_not_equal(view_focus_label(&d.job.ui), view_word(&d.job.ui, "job.settings"));
    }
    for (int k = 0; k < 4; k++) {
        assert_true(is_found[k]);
    }
    job_desk_close(&d.job);
}

/* ---- doing ------------------------------------------------------------------------------------------------------ */

static void a_quarter_turn_leads_on(void **context)
{
    (void)context;
    tour_desk d;
    open_tour(&d);
    view_tour_go(&d.tour, VIEW_TOUR_TURN);
    frame(&d);
    key(&d, VIEW_KEY_LEFT, 0); /* looser is not what was asked for */
    assert_int_equal(d.tour.step, VIEW_TOUR_TURN);
    view_tour_go(&d.tour, VIEW_TOUR_TURN);
    key(&d, VIEW_KEY_RIGHT, VIEW_SHIFT); /* an eighth is half of it */
    assert_int_equal(d.tour.step, VIEW_TOUR_TURN);
    assert_true(press(&d, "job.tension.tighter"));
    assert_int_equal(d.tour.step, VIEW_TOUR_COUPLING);
    job_desk_close(&d.job);
}

/* The coupling is the solver's: the rows that were taut have lost when the third one has risen, and the bubble says so. */
static void turning_on_sinks_the_taut_rows(void **context)
{
    (void)context;
    tour_desk d;
    open_tour(&d);
    view_tour_go(&d.tour, VIEW_TOUR_TURN);
    frame(&d);
    double before[MECH_MAX_ROWS];
    memcpy(before, d.job.state.rows.tension_n, sizeof before);
    for (int quarter = 0; quarter < 5; quarter++) {
        assert_false(d.tour.is_done);
        key(&d, VIEW_KEY_RIGHT, 0);
        assert_int_equal(d.tour.step, VIEW_TOUR_COUPLING);
    }
    assert_true(d.tour.is_done);
    assert_int_equal(d.tour.step, VIEW_TOUR_COUPLING); /* there is something to look at: it does not run away */
    const double *now = d.job.state.rows.tension_n;
    int sunk = 0;
    for (int i = 0; i < d.job.what.setup.structure.row_count; i++) {
        sunk += i != d.tour.row && before[i] > 100.0 && now[i] < 0.95 * before[i] ? 1 : 0;
    }
    assert_int_equal(sunk, 2);
    assert_true(now[d.tour.row] > before[d.tour.row] + 100.0);
    assert_true(draw_says(d.job.draw, " before, "));
    job_desk_close(&d.job);
}

static void a_pluck_is_heard(void **context)
{
    (void)context;
    tour_desk d;
    open_tour(&d);
    view_tour_go(&d.tour, VIEW_TOUR_PLUCK);
    frame(&d);
    key(&d, VIEW_KEY_RIGHT, 0);
    assert_false(d.tour.is_done);
    key(&d, 'K', 0);
    assert_true(d.tour.is_done);
    view_tour_go(&d.tour, VIEW_TOUR_PLUCK);
    frame(&d);
    assert_true(press(&d, "job.pluck"));
    assert_true(d.tour.is_done);
    assert_true(d.tour.tone_hz > 1.0); /* slack still: it has not been turned */
    job_desk_close(&d.job);
}

static void what_is_dimmed_answers_nothing(void **context)
{
    (void)context;
    static const int keys[] = {'G', 'C', 'P', 'K', 'J', VIEW_KEY_F1, VIEW_KEY_UP, VIEW_KEY_RIGHT};
    static const char *const doors[] = {"job.leave", "job.settings", "stage.read.name",
                                        "job.pluck", "job.run",      "orders.title"};
    tour_desk d;
    open_tour(&d);
    for (int step = 0; step < VIEW_TOUR_STEPS; step++) {
        view_tour_go(&d.tour, step);
        frame(&d);
        const bool is_doing = step >= VIEW_TOUR_TURN && step <= VIEW_TOUR_PLUCK;
        const size_t before = d.job.model.trace_count;
        for (size_t i = 0; i < sizeof keys / sizeof keys[0] && !is_doing; i++) {
            key(&d, keys[i], 0);
        }
        for (size_t i = 0; i < 6; i++) {
            const bool is_lit = is_doing && strcmp(doors[i], "job.pluck") == 0;
            assert_true(is_lit || !press(&d, doors[i]));
        }
        const view_job_places *at = view_job_places_of(d.job.job);
        press_at(&d, at->bar.x + 30.0F, at->bar.y + at->bar.h / 2.0F);
        press_at(&d, at->trail.x + 30.0F, at->trail.y + at->trail.h / 2.0F);
        assert_int_equal(d.job.model.trace_count, before);
        assert_int_equal(d.tour.step, step);
    }
    job_desk_close(&d.job);
}

/* ---- words ------------------------------------------------------------------------------------------------------ */

static int words_in(const char *text)
{
    int count = 0;
    for (bool was_space = true; *text != '\0'; text++) {
        const bool is_letter = isalnum((unsigned char)*text) || (unsigned char)*text >= 0x80U || *text == '{';
        count += was_space && is_letter ? 1 : 0;
        was_space = isspace((unsigned char)*text) != 0;
    }
    return count;
}

/* 200 words a minute: an unhurried reader's pace (common practice, no source). */
static void all_words_are_read_in_a_minute(void **context)
{
    (void)context;
    static const char *const keys[] = {
        "tour.run.title",     "tour.run.text",    "tour.trail.title",    "tour.trail.text",    "tour.turn.title",
        "tour.turn.text",     "tour.turn.do",     "tour.coupling.title", "tour.coupling.text", "tour.coupling.do",
        "tour.coupling.told", "tour.pluck.title", "tour.pluck.text",     "tour.pluck.do",      "job.said.pluck",
        "tour.modes.title",   "tour.modes.text",  "tour.first"};
    static const char *const codes[] = {"en", "es"};
    for (int i = 0; i < 2; i++) {
        tr_lang *lang = job_desk_words(codes[i]);
        int count = 0;
        for (size_t k = 0; k < sizeof keys / sizeof keys[0]; k++) {
            assert_non_null(tr_word_or_null(lang, keys[k]));
            count += words_in(tr_word(lang, keys[k]));
        }
        print_message("%s: %d words\n", codes[i], count);
        assert_in_range(count, 60, 200);
        tr_lang_close(lang);
    }
}

/* ---- sizes ------------------------------------------------------------------------------------------------------ */

/* The tour's own texts alone: what it lies over is dimmed or covered. What is to be done stands where it is seen, however
 * little room there is. */
static int own_faults(const tour_desk *d)
{
    static const char *const asks[VIEW_TOUR_STEPS] = {[VIEW_TOUR_TURN] = "tour.turn.do",
                                                      [VIEW_TOUR_COUPLING] = "tour.coupling.do",
                                                      [VIEW_TOUR_PLUCK] = "tour.pluck.do"};
    const char *ask = asks[d->tour.step];
    char start[8] = "";
    view_draw own = *d->job.draw;
    own.command += d->first;
    own.commands -= d->first;
    frame_seen seen = frame_of(&d->job.ui, "tour");
    seen.draw = &own;
    if (ask != NULL) {
        (void)tr_format(start, sizeof start, "%.6s", view_word(&d->job.ui, ask));
    }
    return frame_text_faults(&seen) + (frame_shows(&seen, start) ? 0 : 1);
}

static bool meets(view_rect a, view_rect b)
{
    return fminf(a.x + a.w, b.x + b.w) - fmaxf(a.x, b.x) > 1.0F && fminf(a.y + a.h, b.y + b.h) - fmaxf(a.y, b.y) > 1.0F;
}

/* The first part of each step is seen whole: the bubble does not lie over it. */
static int covers_main_part(const tour_desk *d)
{
    const view_job_places *at = view_job_places_of(d->job.job);
    const view_rect main_part[VIEW_TOUR_STEPS] = {at->run, at->trail, at->work, at->run, at->work, at->bar};
    const view_target *targets = NULL;
    const size_t count = view_targets(&d->job.ui, &targets);
    const view_rect next = targets[count - 1].rect;
    assert_true(count >= 2 && next.w > 20.0F);
    return meets(next, main_part[d->tour.step]) ? 1 : 0;
}

static void its_words_lie_over_nothing(void **context)
{
    (void)context;
    static const char *const codes[] = {"en", "es"};
    static const float sizes[][3] = {{1280, 800, 1}, {1280, 800, 2}, {1024, 640, 1}, {1024, 640, 2}, {2560, 1600, 1}};
    int faults = 0;
    char why[TR_TEXT_CAP];
    view_fonts *fonts = NULL;
    if (view_fonts_open(NULL, 0, &fonts, why, sizeof why) != TR_OK) {
        skip();
    }
    const view_metrics metrics = view_fonts_metrics(fonts);
    for (int i = 0; i < 20; i++) {
        const float *size = sizes[i % 5];
        tour_desk d;
        open_with(&d, codes[i / 5 % 2], &metrics, size[0], size[1], size[2]);
        d.job.prefs.reduced_motion = d.job.prefs.left_handed = i >= 10;
        for (int step = 0; step < VIEW_TOUR_STEPS; step++) {
            view_tour_go(&d.tour, step);
            for (int k = 0; k < 6; k++) {
                frame(&d);
            }
            const int found = own_faults(&d) + covers_main_part(&d);
            if (found > 0) {
                print_error("%s %.0fx%.0f, text %.0f, step %d: %d\n", codes[i / 5 % 2], (double)size[0],
                            (double)size[1], (double)size[2], step, found);
            }
            faults += found;
        }
        job_desk_close(&d.job);
    }
    view_fonts_close(fonts);
    assert_int_equal(faults, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(enter_goes_through_and_starts),
        cmocka_unit_test(escape_skips_at_every_step),
        cmocka_unit_test(a_mouse_goes_on_and_back_and_skips),
        cmocka_unit_test(tab_comes_to_everything_that_answers),
        cmocka_unit_test(a_quarter_turn_leads_on),
        cmocka_unit_test(turning_on_sinks_the_taut_rows),
        cmocka_unit_test(a_pluck_is_heard),
        cmocka_unit_test(what_is_dimmed_answers_nothing),
        cmocka_unit_test(all_words_are_read_in_a_minute),
        cmocka_unit_test(its_words_lie_over_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
