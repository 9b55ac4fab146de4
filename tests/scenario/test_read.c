/* Sound scenarios: the shipped ones read without a word, defaults are what the schema says, and every value lands where
 * it belongs. */
#include "sample.h"

#include "fields.h"
#include "tautrow/base/units.h"

typedef struct fixture {
    scenario_catalogue *catalogue;
    scenario out;
    tr_diags diags;
} fixture;

static int start(void **state)
{
    fixture *f = calloc(1, sizeof *f);
    assert_non_null(f);
    f->catalogue = sample_catalogue();
    *state = f;
    return 0;
}

static int stop(void **state)
{
    fixture *f = *state;
    scenario_catalogue_close(f->catalogue);
    free(f);
    return 0;
}

static void read_sample(fixture *f, const char *find, const char *replace)
{
    char text[SAMPLE_CAP] = "";
    sample_change(find, replace, text);
    tr_diags_clear(&f->diags);
    const tr_result result = scenario_read(text, strlen(text), f->catalogue, &f->out, &f->diags);
    sample_print(&f->diags);
    assert_int_equal(result, TR_OK);
    assert_int_equal(f->diags.count, 0);
}

static void read_file(fixture *f, const char *name)
{
    size_t size = 0;
    char *text = sample_file(name, &size);
    tr_diags_clear(&f->diags);
    const tr_result result = scenario_read(text, size, f->catalogue, &f->out, &f->diags);
    free(text);
    sample_print(&f->diags);
    assert_int_equal(result, TR_OK);
    assert_int_equal(f->diags.count, 0);
}

static void test_shipped_scenarios(void **state)
{
    fixture *f = *state;
    for (int i = 0; i < SAMPLE_SCENARIO_COUNT; i++) {
        read_file(f, SAMPLE_SCENARIOS[i]);
        assert_string_not_equal(f->out.title.en, f->out.title.es);
        assert_string_not_equal(f->out.story.en, f->out.story.es);
        assert_true(f->out.setup.order_count > 0 || f->out.setup.after.days > 0);
        assert_string_not_equal(f->out.species.en, "");
        assert_string_not_equal(f->out.strand.es, "");
        const size_t warnings = scenario_warn(&f->out, NULL, &f->diags);
        sample_print(&f->diags);
        assert_int_equal(warnings, 0);
    }
}

/* The numbers of the file, worked out by hand. */
static void test_soft_porch_values(void **state)
{
    fixture *f = *state;
    read_file(f, "scenarios/soft-porch.json");
    const job_setup *setup = &f->out.setup;
    const mech_structure *structure = &setup->structure;
    assert_string_equal(setup->id, "soft-porch");
    assert_int_equal(structure->row_count, 9);
    assert_near(structure->row_height_m[8], 27 * TR_INCH_M, 1e-12);
    assert_int_equal(structure->bay_count, 2);
    assert_near(structure->bay_m[0] + structure->bay_m[1], 6 * TR_FOOT_M, 1e-12);
    assert_near(structure->rail.height_m, 30 * TR_INCH_M, 1e-12);
    /* NDS Supplement 2018 Table 4A: spruce-pine-fir No.1/No.2, E 1.4e6 psi, Fb 875 psi, CF 1.5; NDS 2018 appendix
     * D: 1.03; Table 2.3.2: permanent load 0.9 */
    assert_near(structure->post[MECH_NEAR].elastic_pa, 1.03 * 1.4e6 * TR_PSI_PA, 1);
    assert_near(structure->post[MECH_FAR].elastic_pa, structure->post[MECH_NEAR].elastic_pa, 0);
    assert_near(structure->post[MECH_NEAR].shear_pa, 1.03 * 1.4e6 * TR_PSI_PA / 16, 1);
    assert_near(setup->limits[MECH_NEAR].bending_pa, 875 * 1.5 * 0.9 * TR_PSI_PA, 1);
    assert_near(setup->wood.gravity, 0.42, 0); /* NDS 2018 Table 12.3.3A */
    assert_near(setup->wood.duration_factor, 0.9, 0);
    /* values.md 3.2: 1x19, 1/8 in: EA at 130 GPa 782 kN, 0.0475 kg/m and 3 % for the lay; 3.1: 2100 lbf */
    assert_near(structure->strand.ea_n, 782.2e3, 100);
    assert_near(structure->strand.mass_kg_m, 0.0489, 1e-9);
    assert_near(structure->strand.breaking_n, 2100 * TR_LBF_N, 1e-6);
    /* ASME B1.1: 1/4-28 UNF */
    assert_near(setup->turnbuckle.cable.pitch_m, 0.9071e-3, 1e-7);
    assert_near(mech_thread_pitch_diameter(&setup->turnbuckle.anchor), 5.761e-3, 1e-6);
    assert_near(setup->target_n, 200 * TR_LBF_N, 1e-9);
    assert_near(setup->row_limit_n, 400 * TR_LBF_N, 1e-9);
    assert_int_equal(setup->rounds, 2);
    assert_near(setup->round_share[0], 0.5, 1e-12);
    assert_near(setup->bit[setup->right_bit].diameter_m, 13.0 / 32 * TR_INCH_M, 1e-9);
    assert_int_equal(setup->mode, JOB_PRACTICE);
    assert_int_equal(setup->seed, 11);
    assert_near(setup->par_time_s, 30 * 60, 1e-9);
}

/* Middle first, then the one above, the one below (common practice, no source), over the rows that are left to tension.
 */
static void test_order_over_the_trainees_rows(void **state)
{
    static const int all[] = {4, 5, 3, 6, 2, 7, 1, 8, 0};
    fixture *f = *state;
    read_file(f, "scenarios/soft-porch.json");
    assert_int_equal(f->out.setup.order_count, 9);
    for (int i = 0; i < 9; i++) {
        assert_int_equal(f->out.setup.order[i], all[i]);
    }
    read_file(f, "scenarios/left-half-done.json");
    assert_int_equal(f->out.setup.order_count, 3);
    assert_int_equal(f->out.setup.order[0], 5);
    assert_int_equal(f->out.setup.order[1], 6);
    assert_int_equal(f->out.setup.order[2], 4);
    read_sample(f, "'order': 'middle_out'", "'order': [11, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10]");
    assert_int_equal(f->out.setup.order_rule, MECH_ORDER_LIST);
    assert_int_equal(f->out.setup.order[0], 10);
}

static void test_coming_back(void **state)
{
    fixture *f = *state;
    read_file(f, "scenarios/soft-porch.json");
    assert_near(f->out.setup.after.days, 0, 0);
    /* Wood Handbook, ch. 4 (from memory): 3.1 to 4.5e-6 /K along the grain */
    assert_near(f->out.setup.structure.span_thermal_1_k, 4e-6, 0);
    read_file(f, "scenarios/thirty-days.json");
    assert_near(f->out.setup.after.days, 30, 0);
    assert_near(f->out.setup.after.warming_k, 10 / 1.8, 1e-9);
    assert_near(f->out.setup.after.coldest_k, -24 / 1.8, 1e-9);
    assert_int_equal(f->out.setup.order_count, 0);
    read_sample(f, "'difficulty': 2,", "'difficulty': 2, 'after': {'days': '7 days', 'temperature': '58 degF'},");
    assert_near(f->out.setup.after.days, 7, 0);
    assert_near(f->out.setup.after.warming_k, -10 / 1.8, 1e-9);
    assert_near(f->out.setup.after.coldest_k, -10 / 1.8, 1e-9);
    read_sample(f, "'difficulty': 2,", "'difficulty': 2, 'after': {'days': '7 days'},");
    assert_near(f->out.setup.after.warming_k, 0, 0);
    assert_near(f->out.setup.after.coldest_k, 0, 0);
}

static void test_slope(void **state)
{
    fixture *f = *state;
    read_file(f, "scenarios/soft-porch.json");
    assert_near(f->out.setup.structure.slope_rad, 0, 0);
    read_file(f, "scenarios/stair.json");
    assert_near(f->out.setup.structure.slope_rad, 34 * TR_PI / 180, 1e-12);
    assert_int_equal(f->out.setup.structure.upper, MECH_FAR);
    assert_near(f->out.setup.ball_m, 4.375 * TR_INCH_M, 1e-12); /* IRC R312.1.3, exception for stairs */
    read_sample(f, "'line_posts': 3,", "'line_posts': 3, 'slope': '20 deg', 'upper': 'near',");
    assert_int_equal(f->out.setup.structure.upper, MECH_NEAR);
}

static void test_bends(void **state)
{
    fixture *f = *state;
    read_file(f, "scenarios/bent-gallery.json");
    const mech_structure *structure = &f->out.setup.structure;
    assert_int_equal(structure->bend_count, 1);
    assert_int_equal(structure->bend[0].line_post, 1);
    assert_near(structure->bend[0].angle_rad, TR_PI / 6, 1e-12);
    assert_near(structure->bend[0].friction, 0.3, 1e-12);
    read_sample(f, "'line_posts': 3,",
                "'line_posts': 3, 'bends': [{'line_post': 1, 'angle': '9 deg'}, {'line_post': 3, 'angle': '5 deg'}],");
    assert_int_equal(f->out.setup.structure.bend_count, 2);
    assert_int_equal(f->out.setup.structure.bend[1].line_post, 2);
    read_sample(f, "'difficulty': 2,", "'difficulty': 3,");
    assert_int_equal(f->out.setup.structure.bend_count, 0);
}

static void test_corner(void **state)
{
    fixture *f = *state;
    read_file(f, "scenarios/bent-gallery.json");
    assert_false(f->out.setup.structure.corner.is_there);
    read_file(f, "scenarios/corner-post.json");
    const mech_corner *corner = &f->out.setup.structure.corner;
    assert_true(corner->is_there);
    assert_int_equal(corner->end, MECH_FAR);
    assert_near(corner->tension_n, 200 * TR_LBF_N, 1e-9);
    assert_near(corner->length_m, 8 * TR_FOOT_M, 1e-12);
    assert_near(corner->raise_m, 1.5 * TR_INCH_M, 1e-12);
}

static void test_who_does_what(void **state)
{
    fixture *f = *state;
    read_file(f, "scenarios/left-half-done.json");
    const job_setup *setup = &f->out.setup;
    assert_false(setup->is_trainees[0]);
    assert_true(setup->is_trainees[4]);
    assert_int_equal(setup->start_stage[0], JOB_STAGE_COUNT);
    assert_near(setup->start_tension_n[0], 1000, 1e-9);
    assert_int_equal(setup->start_stage[4], JOB_STAGE_CUT);
    assert_int_equal(setup->start_stage[5], JOB_STAGE_CRIMP);
    assert_near(setup->start_tension_n[5], 0, 0);
    assert_int_equal(setup->fault_count, 2);
    assert_int_equal(setup->fault[0].kind, JOB_FAULT_UNSEATED);
    assert_int_equal(setup->fault[0].row, 2);
    assert_near(setup->fault[0].amount, 0.010, 1e-12);
    assert_int_equal(setup->fault[1].kind, JOB_FAULT_TWISTED);
    assert_near(setup->fault[1].amount, 4, 1e-12);
    /* left out of both lists: done, at the target */
    read_sample(f, "'trainee': 'all'", "'trainee': [1, 2, 3]");
    assert_int_equal(setup->start_stage[10], JOB_STAGE_COUNT);
    assert_near(setup->start_tension_n[10], setup->target_n, 0);
    /* no list at all: what is not finished is the trainee's */
    read_sample(f, ", 'trainee': 'all'}", "}");
    assert_true(setup->is_trainees[0] && setup->is_trainees[10]);
    assert_int_equal(setup->start_stage[10], JOB_STAGE_MARK);
}

static void test_defaults(void **state)
{
    fixture *f = *state;
    read_sample(f, "    'limit': '400 lbf',\n    'order': 'middle_out',\n    'rounds': ['50 %', '100 %']",
                "    'tolerance': '8 %'");
    const job_setup *setup = &f->out.setup;
    assert_near(setup->tolerance, 0.08, 1e-12);
    assert_near(setup->row_limit_n, 300 * TR_LBF_N, 1e-9);
    assert_int_equal(setup->order_rule, MECH_MIDDLE_OUT);
    assert_int_equal(setup->rounds, 2);
    assert_near(setup->round_share[1], 1, 0);
    assert_near(setup->ball_m, 4 * TR_INCH_M, 1e-12);       /* 2018 IRC R312.1.3 */
    assert_near(setup->guard.rail_n, 200 * TR_LBF_N, 1e-9); /* IRC Table R301.5 */
    assert_near(setup->guard.infill_n, 50 * TR_LBF_N, 1e-9);
    assert_near(setup->hole_depth_m, 1.625 * TR_INCH_M, 1e-9);
    assert_near(setup->edge_m, 2.75 * TR_INCH_M, 1e-9);
    assert_near(setup->par_time_s, 20 * 60, 1e-9);
    assert_int_equal(setup->seed, 1);
    assert_int_equal(setup->cutter_count, 3);
    assert_near(setup->fault[0].amount, 0.008, 1e-12);
    assert_near(f->out.rubric.pass_mark, 70, 0);
    assert_near(f->out.rubric.band[SCENARIO_ORDER].weight, 6, 0);
    assert_near(f->out.rubric.band[SCENARIO_BIT].full, 1.0, 0);
    assert_string_equal(f->out.story.en, "For the tests");
    assert_string_equal(f->out.story.es, "For the tests");
}

static void test_rubric_changes(void **state)
{
    fixture *f = *state;
    read_sample(f, "{'order': {'weight': 6}}",
                "{'evenness': {'weight': 12, 'full': '10 %', 'none': 0.5}, 'mark_height': {'none': '1/2 in'}, 'order': "
                "{'weight': 0}}");
    const scenario_band *band = f->out.rubric.band;
    assert_near(band[SCENARIO_EVENNESS].weight, 12, 0);
    assert_near(band[SCENARIO_EVENNESS].full, 0.1, 1e-12);
    assert_near(band[SCENARIO_EVENNESS].none, 0.5, 1e-12);
    assert_near(band[SCENARIO_MARK_HEIGHT].none, 0.0127, 1e-12);
    assert_near(band[SCENARIO_MARK_HEIGHT].full, 0.0016, 1e-12);
    assert_near(band[SCENARIO_ORDER].weight, 0, 0);
}

/* NDS 2018 Table 12.2A: G 0.42, 1/2 in: 291 lbf per inch of thread; with a full bite, 1 1/2 in of it and permanent load
 * 0.9. */
static void test_insert_capacity(void **state)
{
    fixture *f = *state;
    read_file(f, "scenarios/soft-porch.json");
    const job_setup *setup = &f->out.setup;
    const mech_hole hole = {.diameter_m = setup->bit[setup->right_bit].diameter_m, .depth_m = setup->hole_depth_m};
    const mech_seat seat = {0};
    const mech_grip grip = mech_insert_grip(&setup->insert, &hole, &seat, &setup->wood, setup->edge_m);
    assert_near(grip.design_n / TR_LBF_N, 291 * 1.5 * 0.9, 1);
}

static void test_wet_and_rigid_posts(void **state)
{
    fixture *f = *state;
    read_sample(f, "'species': 'douglas-fir-6x6', 'base': 'deck-6x6'}",
                "'species': 'douglas-fir-4x4', 'base': 'fixed', 'wet': true}, 'far_post': {'rigid': true}");
    const job_setup *setup = &f->out.setup;
    /* NDS Supplement 2018 Table 4A: wet E 0.9; Fb 900 * 1.5 > 1150 psi: 0.85; NDS 2018 Table 11.3.3: withdrawal 0.7 */
    assert_near(setup->structure.post[MECH_NEAR].elastic_pa, 1.03 * 1.6e6 * 0.9 * TR_PSI_PA, 1);
    assert_near(setup->limits[MECH_NEAR].bending_pa, 900 * 1.5 * 0.85 * 0.9 * TR_PSI_PA, 1);
    assert_near(setup->wood.wet_factor, 0.7, 0);
    assert_near(setup->creep_k_def, 2.0, 0); /* EN 1995-1-1 Table 3.2, service class 3 */
    assert_true(isinf(setup->structure.post[MECH_NEAR].base_n_m_rad));
    assert_true(setup->structure.post[MECH_FAR].is_rigid);
    assert_true(isinf(setup->limits[MECH_FAR].bending_pa));
}

/* A clear-wood entry uses the handbook's modulus times 1.10 (Wood Handbook, chapter 5). */
static void test_clear_wood(void **state)
{
    fixture *f = *state;
    read_sample(f, "'douglas-fir-6x6'", "'ipe'");
    assert_near(f->out.setup.structure.post[MECH_NEAR].elastic_pa, 1.10 * 3.14e6 * TR_PSI_PA, 1);
}

static void test_inline_parts(void **state)
{
    fixture *f = *state;
    read_sample(f, "'strand': '1x19-1-8'",
                "'strand': {'name': 'Odd cable', 'diameter': '3 mm', 'mass': '42.4 g/m', 'breaking': '7.42 kN', "
                "'torsion': '0.06 N m2'}");
    /* values.md 3.2: 1x19, 3 mm: metal area 5.372 mm2, EA at 130 GPa 698 kN */
    assert_near(f->out.setup.structure.strand.ea_n, 698e3, 500);
    assert_string_equal(f->out.strand.es, "Odd cable");
}

/* The example of the handbook must be a scenario, and one without warnings: people start from it. */
static void test_documented_example(void **state)
{
    fixture *f = *state;
    size_t size = 0;
    char *text = sample_file("docs/formats-scenario.md", &size);
    const char *from = strstr(text, "```json\n");
    assert_non_null(from);
    from += strlen("```json\n");
    const char *to = strstr(from, "```");
    assert_non_null(to);
    const tr_result result = scenario_read(from, (size_t)(to - from), f->catalogue, &f->out, &f->diags);
    if (result == TR_OK) {
        (void)scenario_warn(&f->out, NULL, &f->diags);
    }
    free(text);
    sample_print(&f->diags);
    assert_int_equal(result, TR_OK);
    assert_int_equal(f->diags.count, 0);
}

static void test_digest_follows_the_bytes(void **state)
{
    fixture *f = *state;
    read_sample(f, "'minutes': 20", "'minutes': 20");
    const tr_hash first = f->out.digest;
    read_sample(f, "'minutes': 20", "'minutes':  20");
    assert_memory_not_equal(&first, &f->out.digest, sizeof first);
}

static void test_names_are_the_jobs(void **state)
{
    (void)state;
    for (int i = 0; i <= JOB_STAGE_COUNT; i++) {
        assert_string_equal(scenario__stage_names[i], job_stage_name((job_stage)i));
    }
    for (int i = 0; i < JOB_FAULT_KINDS; i++) {
        assert_string_equal(scenario__fault_names[i], job_fault_name((job_fault_kind)i));
    }
    assert_string_equal(scenario_criterion_look(SCENARIO_STUD_HELD)->key, "stud_held");
    assert_int_equal(scenario_criterion_look(SCENARIO_STUD_HELD)->stage, JOB_STAGE_TENSION);
}

static void test_texts_by_language(void **state)
{
    (void)state;
    const scenario_title title = {"post", "poste"};
    const scenario_story story = {"row", "fila"};
    assert_string_equal(scenario_title_in(&title, "es"), "poste");
    assert_string_equal(scenario_title_in(&title, "en"), "post");
    assert_string_equal(scenario_story_in(&story, "es"), "fila");
    assert_string_equal(scenario_story_in(&story, "xx"), "row");
}

int main(void)
{
#define WITH_CATALOGUE(test) cmocka_unit_test_setup_teardown(test, start, stop)
    const struct CMUnitTest tests[] = {
        WITH_CATALOGUE(test_shipped_scenarios),
        WITH_CATALOGUE(test_soft_porch_values),
        WITH_CATALOGUE(test_order_over_the_trainees_rows),
        WITH_CATALOGUE(test_coming_back),
        WITH_CATALOGUE(test_slope),
        WITH_CATALOGUE(test_bends),
        WITH_CATALOGUE(test_corner),
        WITH_CATALOGUE(test_who_does_what),
        WITH_CATALOGUE(test_defaults),
        WITH_CATALOGUE(test_rubric_changes),
        WITH_CATALOGUE(test_insert_capacity),
        WITH_CATALOGUE(test_wet_and_rigid_posts),
        WITH_CATALOGUE(test_clear_wood),
        WITH_CATALOGUE(test_inline_parts),
        WITH_CATALOGUE(test_documented_example),
        WITH_CATALOGUE(test_digest_follows_the_bytes),
        cmocka_unit_test(test_names_are_the_jobs),
        cmocka_unit_test(test_texts_by_language),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
