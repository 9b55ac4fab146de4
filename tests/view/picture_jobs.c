/* See picture_jobs.h. */
#include "picture_jobs.h"

#include <stdio.h>
#include <stdlib.h>

#include "made_up.h"

enum { STORY_CAP = 1500 };

static job_setup setups[PICTURE_JOBS];
static job_state states[PICTURE_JOBS];
static job_state story_end;
static job_action story_actions[STORY_CAP];
static job_trace_entry story_entries[STORY_CAP];
static size_t story_count;
static mech_sheet pull_sheet;

/* 6 ft between 3.5 in square posts, 1/4-28 studs in a 3 in body, rows 3 in apart. */
static void short_run(job_setup *s)
{
    *s = made_up_deck(11);
    s->mode = JOB_GUIDED;
    for (int end = 0; end < MECH_ENDS; end++) {
        s->structure.post[end].depth_m = 3.5 * TR_INCH_M;
        s->structure.post[end].breadth_m = 3.5 * TR_INCH_M;
        s->structure.post[end].base_n_m_rad = 2.0e4;
    }
    s->structure.bay_count = 2;
    s->structure.bay_m[0] = 3.0 * TR_FOOT_M;
    s->structure.bay_m[1] = 3.0 * TR_FOOT_M;
    const mech_thread thread = {.pitch_m = TR_INCH_M / 28.0, .major_m = 0.25 * TR_INCH_M, .friction = 0.15};
    s->turnbuckle.anchor = thread;
    s->turnbuckle.cable = thread;
    s->turnbuckle.body_m = 3.0 * TR_INCH_M;
    s->nominal = (mech_engaged){.anchor_turns = 10.0, .cable_turns = 10.0};
    s->edge_m = 1.75 * TR_INCH_M;
}

static void start_all(job_setup *s, job_stage stage)
{
    for (int i = 0; i < s->structure.row_count; i++) {
        s->start_stage[i] = stage;
    }
}

static void play_story(const job_setup *setup, size_t until, job_state *state)
{
    job_start(setup, state);
    story_count = 0;
    int64_t now = 0;
    job_action action;
    while (story_count < until && job_expert_next(setup, state, &action)) {
        action.at_ms = now += 1500;
        story_actions[story_count++] = action;
        (void)job_apply(setup, state, &action);
    }
}

void picture_jobs_make(void)
{
    short_run(&setups[PICTURE_SHORT]);
    start_all(&setups[PICTURE_SHORT], JOB_STAGE_TENSION);
    play_story(&setups[PICTURE_SHORT], STORY_CAP, &story_end);
    job_replay(&setups[PICTURE_SHORT], story_actions, story_count, &story_end, story_entries);
    job_replay(&setups[PICTURE_SHORT], story_actions, story_count * 45 / 100, &states[PICTURE_SHORT], NULL);

    short_run(&setups[PICTURE_MIXED]);
    for (int i = 0; i < 11; i++) {
        setups[PICTURE_MIXED].start_stage[i] = (job_stage)(JOB_STAGE_MARK + i % 10);
        setups[PICTURE_MIXED].start_tension_n[i] = 900.0;
    }
    setups[PICTURE_MIXED].start_stage[10] = JOB_STAGE_COUNT;
    setups[PICTURE_MIXED].is_trainees[10] = false;
    setups[PICTURE_MIXED].is_trainees[9] = false;
    job_start(&setups[PICTURE_MIXED], &states[PICTURE_MIXED]);
    states[PICTURE_MIXED].bit = 1;

    setups[PICTURE_LONG] = made_up_deck(11);
    start_all(&setups[PICTURE_LONG], JOB_STAGE_COUNT);
    for (int i = 0; i < 11; i++) {
        setups[PICTURE_LONG].start_tension_n[i] = 1000.0;
    }
    job_start(&setups[PICTURE_LONG], &states[PICTURE_LONG]);

    short_run(&setups[PICTURE_FEW]);
    setups[PICTURE_FEW].structure.row_count = 3;
    for (int i = 0; i < 3; i++) {
        setups[PICTURE_FEW].structure.row_height_m[i] = (9.0 + 9.0 * i) * TR_INCH_M;
    }
    start_all(&setups[PICTURE_FEW], JOB_STAGE_COUNT);
    for (int i = 0; i < 3; i++) {
        setups[PICTURE_FEW].start_tension_n[i] = 1000.0;
    }
    job_start(&setups[PICTURE_FEW], &states[PICTURE_FEW]);

    setups[PICTURE_MANY] = made_up_deck(40);
    start_all(&setups[PICTURE_MANY], JOB_STAGE_TENSION);
    job_start(&setups[PICTURE_MANY], &states[PICTURE_MANY]);

    mech_rows start = {0};
    const job_setup *s = &setups[PICTURE_SHORT];
    job_state begin;
    job_start(s, &begin);
    start = begin.rows;
    const mech_limits limits = {s->row_limit_n, (double)INFINITY};
    mech_pull_sheet(&begin.run, &start, s->order, s->order_count, s->round_share, s->rounds, s->target_n, limits,
                    &pull_sheet);
}

const job_setup *picture_setup(picture_job job)
{
    return &setups[job];
}

const job_state *picture_state(picture_job job)
{
    return &states[job];
}

view_story picture_story(void)
{
    return (view_story){story_entries, story_count, (double)story_count * 0.45, 5};
}

/* ---- elevation and ladder --------------------------------------------------------------------------------------- */

static void elevation(const view_pen *pen, view_rect area, picture_job job, bool show_true, int row, int plucked)
{
    const view_elevation_look look = {
        .show_true = show_true, .row = row, .gap = -1, .plucked_row = plucked, .hum = 0.8, .hum_rad = 1.0};
    view_hits hits;
    view_elevation(pen, area, &setups[job], &states[job], &look, &hits);
}

static void elevation_short(const view_pen *pen, view_rect area)
{
    elevation(pen, area, PICTURE_SHORT, true, 5, -1);
}

static void elevation_mixed(const view_pen *pen, view_rect area)
{
    elevation(pen, area, PICTURE_MIXED, false, 3, -1);
}

static void elevation_long(const view_pen *pen, view_rect area)
{
    elevation(pen, area, PICTURE_LONG, false, 3, 7);
}

static void elevation_few(const view_pen *pen, view_rect area)
{
    elevation(pen, area, PICTURE_FEW, true, 2, -1);
}

static void elevation_many(const view_pen *pen, view_rect area)
{
    elevation(pen, area, PICTURE_MANY, true, 20, -1);
}

static void elevation_gap(const view_pen *pen, view_rect area)
{
    const view_elevation_look look = {.row = -1, .gap = 4, .plucked_row = -1};
    view_elevation(pen, area, &setups[PICTURE_LONG], &states[PICTURE_LONG], &look, NULL);
}

static void ladder(const view_pen *pen, view_rect area, picture_job job, bool show_true)
{
    double former[8][MECH_MAX_ROWS] = {{0}};
    double reading[MECH_MAX_ROWS];
    for (int i = 0; i < MECH_MAX_ROWS; i++) {
        reading[i] = i % 3 == 0 ? -1.0 : 900.0 + 20.0 * i;
        for (int j = 0; j < 8; j++) {
            former[j][i] = states[job].rows.tension_n[i] * (1.6 - 0.06 * j);
        }
    }
    const view_ladder_look look = {.show_true = show_true,
                                   .row = 5,
                                   .reading_n = reading,
                                   .former_n = (const double(*)[MECH_MAX_ROWS])former,
                                   .former_count = 8};
    view_ladder_hits hits;
    view_ladder(pen, area, &setups[job], &states[job], &look, &hits);
}

static void ladder_guided(const view_pen *pen, view_rect area)
{
    ladder(pen, area, PICTURE_SHORT, true);
}

static void ladder_practice(const view_pen *pen, view_rect area)
{
    ladder(pen, area, PICTURE_SHORT, false);
}

static void ladder_mixed(const view_pen *pen, view_rect area)
{
    ladder(pen, area, PICTURE_MIXED, true);
}

static void ladder_many(const view_pen *pen, view_rect area)
{
    ladder(pen, area, PICTURE_MANY, true);
}

static void ladder_few(const view_pen *pen, view_rect area)
{
    ladder(pen, area, PICTURE_FEW, true);
}

/* ---- close-ups -------------------------------------------------------------------------------------------------- */

#define DEG (TR_PI / 180.0)

static void closeup(const view_pen *pen, view_rect area, job_stage stage, const job_state *state, int row,
                    const view_hand *hand)
{
    view_grip grip;
    view_closeup(pen, area, stage, &setups[PICTURE_MIXED], state, row, hand, &grip);
}

static void mark_under_way(const view_pen *pen, view_rect area)
{
    const view_hand hand = {.mark = {.pole_m = 0.002, .pencil_m = 0.003, .stroke = 0.6}};
    closeup(pen, area, JOB_STAGE_MARK, &states[PICTURE_MIXED], 0, &hand);
}

static void mark_done(const view_pen *pen, view_rect area)
{
    job_state state = states[PICTURE_MIXED];
    state.row[4].height_error_m = -0.004;
    const view_hand hand = {0};
    closeup(pen, area, JOB_STAGE_MARK, &state, 4, &hand);
}

static void drill_under_way(const view_pen *pen, view_rect area)
{
    const view_hand hand = {.drill = {.is_shown = true,
                                      .depth_m = 0.024,
                                      .deepest_m = 0.030,
                                      .pitch_rad = 2.5 * DEG,
                                      .yaw_rad = -0.7 * DEG,
                                      .rpm = 900,
                                      .spin_rad = 1.0,
                                      .chips = 0.6}};
    closeup(pen, area, JOB_STAGE_DRILL, &states[PICTURE_MIXED], 1, &hand);
}

static void drill_start(const view_pen *pen, view_rect area)
{
    const view_hand hand = {.drill = {.is_shown = true, .depth_m = -0.008, .rpm = 0}};
    closeup(pen, area, JOB_STAGE_DRILL, &states[PICTURE_MIXED], 1, &hand);
}

static void drill_done(const view_pen *pen, view_rect area)
{
    const view_hand hand = {0};
    closeup(pen, area, JOB_STAGE_DRILL, &states[PICTURE_MIXED], 2, &hand);
}

static void insert_under_way(const view_pen *pen, view_rect area)
{
    const view_hand hand = {
        .insert = {.is_shown = true, .proud_m = 0.008, .pitch_rad = 1.0 * DEG, .rpm = 320, .spin_rad = 2.0}};
    closeup(pen, area, JOB_STAGE_INSERT, &states[PICTURE_MIXED], 2, &hand);
}

static void insert_proud(const view_pen *pen, view_rect area)
{
    job_state state = states[PICTURE_MIXED];
    state.row[3].seat.proud_m = 0.0022;
    state.row[3].is_split = true;
    const view_hand hand = {0};
    closeup(pen, area, JOB_STAGE_INSERT, &state, 3, &hand);
}

static void assemble_empty(const view_pen *pen, view_rect area)
{
    const view_hand hand = {0};
    closeup(pen, area, JOB_STAGE_ASSEMBLE, &states[PICTURE_MIXED], 3, &hand);
}

static void assemble_under_way(const view_pen *pen, view_rect area)
{
    job_state state = states[PICTURE_MIXED];
    state.row[3].anchor_in = true;
    state.row[3].engaged.anchor_turns = 10.0;
    const view_hand hand = {.assemble = {.is_shown = true, .stud = 1, .end = 1, .turns = 5.4}};
    closeup(pen, area, JOB_STAGE_ASSEMBLE, &state, 3, &hand);
}

static void assemble_wrong(const view_pen *pen, view_rect area)
{
    const view_hand hand = {.assemble = {.is_shown = true, .stud = 0, .end = 1, .turns = 0.3, .is_refused = true}};
    closeup(pen, area, JOB_STAGE_ASSEMBLE, &states[PICTURE_MIXED], 3, &hand);
}

static void assemble_meet(const view_pen *pen, view_rect area)
{
    job_state state = states[PICTURE_MIXED];
    state.row[3].anchor_in = state.row[3].cable_in = true;
    state.row[3].engaged.anchor_turns = 42.0;
    state.row[3].engaged.cable_turns = 42.0;
    const view_hand hand = {0};
    closeup(pen, area, JOB_STAGE_ASSEMBLE, &state, 3, &hand);
}

static void cut_pull(const view_pen *pen, view_rect area)
{
    job_state state = states[PICTURE_MIXED];
    state.row[4].is_hung = true;
    const view_hand hand = {.cut = {.pull_n = 25.0}};
    closeup(pen, area, JOB_STAGE_CUT, &state, 4, &hand);
}

static void cut_mark(const view_pen *pen, view_rect area)
{
    job_state state = states[PICTURE_MIXED];
    state.row[4].is_hung = true;
    state.row[4].pulled_n = 60.0;
    const view_hand hand = {.cut = {.mark_m = 0.003, .is_marking = true}};
    closeup(pen, area, JOB_STAGE_CUT, &state, 4, &hand);
}

static void cut_cutter(const view_pen *pen, view_rect area)
{
    job_state state = states[PICTURE_MIXED];
    state.row[4].is_hung = true;
    state.row[4].pulled_n = 60.0;
    state.row[4].is_cable_marked = true;
    const view_hand hand = {.cut = {.cut_m = 0.002, .is_cutting = true, .closing = 0.3}};
    closeup(pen, area, JOB_STAGE_CUT, &state, 4, &hand);
}

static void cut_frayed(const view_pen *pen, view_rect area)
{
    job_state state = states[PICTURE_MIXED];
    state.row[5].is_frayed = true;
    const view_hand hand = {0};
    closeup(pen, area, JOB_STAGE_CUT, &state, 5, &hand);
}

static void crimp_push(const view_pen *pen, view_rect area)
{
    job_state state = states[PICTURE_MIXED];
    state.row[5].has_seat_mark = true;
    const view_hand hand = {.crimp = {.is_pushing = true, .seat_m = 0.022}};
    closeup(pen, area, JOB_STAGE_CRIMP, &state, 5, &hand);
}

static void crimp_second(const view_pen *pen, view_rect area)
{
    job_state state = states[PICTURE_MIXED];
    job_row *row = &state.row[5];
    row->has_seat_mark = true;
    row->crimp =
        (mech_crimp){.seated_m = 0.030, .squeeze_count = 1, .squeeze[0] = {.position_m = 0.009, .closing = 1.0}};
    const view_hand hand = {.crimp = {.has_crimper = true, .die_m = 0.022, .angle_rad = 60.0 * DEG, .closing = 0.3}};
    closeup(pen, area, JOB_STAGE_CRIMP, &state, 5, &hand);
}

static void crimp_closing(const view_pen *pen, view_rect area)
{
    job_state state = states[PICTURE_MIXED];
    state.row[5].crimp.seated_m = 0.030;
    const view_hand hand = {.crimp = {.has_crimper = true, .die_m = 0.010, .closing = 0.2}};
    closeup(pen, area, JOB_STAGE_CRIMP, &state, 5, &hand);
}

static void crimp_done(const view_pen *pen, view_rect area)
{
    const view_hand hand = {0};
    closeup(pen, area, JOB_STAGE_CRIMP, &states[PICTURE_MIXED], 7, &hand);
}

static void join_in(const view_pen *pen, view_rect area)
{
    const view_hand hand = {.turn = {.in_turns = 3.0, .is_body_held = true}};
    closeup(pen, area, JOB_STAGE_JOIN, &states[PICTURE_MIXED], 6, &hand);
}

static void turn_held(const view_pen *pen, view_rect area)
{
    job_state state = states[PICTURE_MIXED];
    state.row[7].has_pliers = true;
    const view_hand hand = {.turn = {.pin_rad = 40.0 * DEG, .effort_n_m = 2.3, .has_effort = true}};
    closeup(pen, area, JOB_STAGE_TENSION, &state, 7, &hand);
}

static void turn_free(const view_pen *pen, view_rect area)
{
    job_state state = states[PICTURE_MIXED];
    state.row[7].engaged.twist_turns = 4.0;
    const view_hand hand = {.turn = {.pin_rad = 100.0 * DEG,
                                     .stud_rad = 100.0 * DEG,
                                     .effort_n_m = 1.0,
                                     .has_effort = true,
                                     .is_sliding = true,
                                     .pliers = 0.4}};
    closeup(pen, area, JOB_STAGE_TENSION, &state, 7, &hand);
}

static void turn_few(const view_pen *pen, view_rect area)
{
    job_state state = states[PICTURE_MIXED];
    state.row[7].engaged.cable_turns = 3.0;
    const view_hand hand = {0};
    closeup(pen, area, JOB_STAGE_TENSION, &state, 7, &hand);
}

static void ball_in(const view_pen *pen, view_rect area)
{
    const view_hand hand = {.check = {.tool = VIEW_CHECK_BALL, .gap = 5, .ball_m = 0.020}};
    view_grip grip;
    view_closeup_check(pen, area, &setups[PICTURE_LONG], &states[PICTURE_LONG], 5, &hand, &grip);
}

static void ball_deck(const view_pen *pen, view_rect area)
{
    const view_hand hand = {.check = {.tool = VIEW_CHECK_BALL, .gap = 0, .ball_m = 0.09}};
    view_closeup_check(pen, area, &setups[PICTURE_LONG], &states[PICTURE_LONG], 5, &hand, NULL);
}

static void sight_wet(const view_pen *pen, view_rect area)
{
    const view_hand hand = {.check = {.tool = VIEW_CHECK_SIGHT, .is_wet = true, .loose = 5}};
    view_closeup_check(pen, area, &setups[PICTURE_SHORT], &states[PICTURE_SHORT], 5, &hand, NULL);
}

static void gauge_reads(const view_pen *pen, view_rect area)
{
    const view_hand hand = {.check = {.tool = VIEW_CHECK_GAUGE, .press = 1.0, .reading_n = 980.0}};
    view_closeup_check(pen, area, &setups[PICTURE_LONG], &states[PICTURE_LONG], 5, &hand, NULL);
}

static void crimp_gauge(const view_pen *pen, view_rect area)
{
    const view_hand hand = {.check = {.tool = VIEW_CHECK_CRIMP_GAUGE, .across_m = 0.0061, .axis = 1}};
    view_closeup_check(pen, area, &setups[PICTURE_LONG], &states[PICTURE_LONG], 5, &hand, NULL);
}

static void over_collar(const view_pen *pen, view_rect area)
{
    const view_hand hand = {.over = {.is_shown = true, .collar_m = 0.012}};
    view_closeup_over(pen, area, &setups[PICTURE_LONG], &states[PICTURE_LONG], 5, &hand, NULL);
}

static void over_home(const view_pen *pen, view_rect area)
{
    job_state state = states[PICTURE_LONG];
    state.row[5].has_collar = true;
    const view_hand hand = {0};
    view_closeup_over(pen, area, &setups[PICTURE_LONG], &state, 5, &hand, NULL);
}

/* ---- charts ----------------------------------------------------------------------------------------------------- */

static void chart_tension(const view_pen *pen, view_rect area)
{
    const view_story story = picture_story();
    (void)view_chart_tension(pen, area, &setups[PICTURE_SHORT], &story);
}

static void chart_tension_all(const view_pen *pen, view_rect area)
{
    view_story story = picture_story();
    story.row = -1;
    story.cursor = -1.0;
    (void)view_chart_tension(pen, area, &setups[PICTURE_SHORT], &story);
}

static void chart_off_centre(const view_pen *pen, view_rect area)
{
    const view_story story = picture_story();
    (void)view_chart_off_centre(pen, area, &setups[PICTURE_SHORT], &story);
}

static void chart_bars(const view_pen *pen, view_rect area)
{
    view_chart_bars(pen, area, &setups[PICTURE_SHORT], states[PICTURE_SHORT].rows.tension_n, 5);
}

static void chart_pulls(const view_pen *pen, view_rect area)
{
    view_chart_pulls(pen, area, &setups[PICTURE_SHORT], &pull_sheet, &story_end);
}

static void chart_shape(const view_pen *pen, view_rect area)
{
    view_chart_shape(pen, area, &story_end.run, &story_end.rows);
}

const picture_case picture_cases[] = {
    {"elevation_short", 780, 400, elevation_short},
    {"elevation_mixed", 780, 400, elevation_mixed},
    {"elevation_long", 780, 400, elevation_long},
    {"elevation_few", 780, 400, elevation_few},
    {"elevation_many", 780, 400, elevation_many},
    {"elevation_gap", 780, 400, elevation_gap},
    {"ladder_guided", 260, 400, ladder_guided},
    {"ladder_practice", 260, 400, ladder_practice},
    {"ladder_mixed", 260, 400, ladder_mixed},
    {"ladder_many", 260, 400, ladder_many},
    {"ladder_few", 260, 400, ladder_few},
    {"mark_under_way", 780, 280, mark_under_way},
    {"mark_done", 780, 280, mark_done},
    {"drill_start", 780, 280, drill_start},
    {"drill_under_way", 780, 280, drill_under_way},
    {"drill_done", 780, 280, drill_done},
    {"insert_under_way", 780, 280, insert_under_way},
    {"insert_proud", 780, 280, insert_proud},
    {"assemble_empty", 780, 280, assemble_empty},
    {"assemble_under_way", 780, 280, assemble_under_way},
    {"assemble_wrong", 780, 280, assemble_wrong},
    {"assemble_meet", 780, 280, assemble_meet},
    {"cut_pull", 780, 280, cut_pull},
    {"cut_mark", 780, 280, cut_mark},
    {"cut_cutter", 780, 280, cut_cutter},
    {"cut_frayed", 780, 280, cut_frayed},
    {"crimp_push", 780, 280, crimp_push},
    {"crimp_closing", 780, 280, crimp_closing},
    {"crimp_second", 780, 280, crimp_second},
    {"crimp_done", 780, 280, crimp_done},
    {"join_in", 780, 280, join_in},
    {"turn_held", 780, 280, turn_held},
    {"turn_free", 780, 280, turn_free},
    {"turn_few", 780, 280, turn_few},
    {"ball_in", 780, 280, ball_in},
    {"ball_deck", 780, 280, ball_deck},
    {"sight_wet", 780, 280, sight_wet},
    {"gauge_reads", 780, 280, gauge_reads},
    {"crimp_gauge", 780, 280, crimp_gauge},
    {"over_collar", 780, 280, over_collar},
    {"over_home", 780, 280, over_home},
    {"chart_tension", 620, 320, chart_tension},
    {"chart_tension_all", 400, 200, chart_tension_all},
    {"chart_off_centre", 400, 200, chart_off_centre},
    {"chart_bars", 500, 260, chart_bars},
    {"chart_pulls", 500, 260, chart_pulls},
    {"chart_shape", 400, 300, chart_shape},
};
const size_t picture_case_count = sizeof picture_cases / sizeof picture_cases[0];
