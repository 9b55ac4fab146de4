/* Nodes of an end are numbered 1000 * (end + 1) upward: base, then a middle node and a node for every level. */
#define _POSIX_C_SOURCE 200809L
#include "deck.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "tautrow/base/text.h"

enum { PATH_CAP = 512, LEVER = 900, RAIL_ELEMENT = 9000, ROW_ELEMENT = 5000, BAR_POINTS = 8 };

static const double LEVER_M = 0.2;
static const double JOINT_M = 0.05;     /* length that each joint spring takes of the rail */
static const double EXPANSION = 1e-5;   /* of the rows' material; any will do */
static const double BAR_AREA_M2 = 1e-5; /* of rows and rail; any will do, as the modulus makes up for it */
static const double LEVER_PA = 1e15;
static const double PIN_N_M_RAD = 0.01;

static int node_at(int end, int level)
{
    return 1000 * (end + 1) + 2 * level;
}

static int level_count(const mech_structure *made)
{
    return made->row_count + 1 + (made->rail.is_fitted ? 1 : 0);
}

static double level_height(const mech_structure *made, int level)
{
    if (level == 0) {
        return 0.0;
    }
    return level <= made->row_count ? made->row_height_m[level - 1] : made->rail.height_m;
}

static double end_x(const mech_run *run, int end)
{
    return end == MECH_NEAR ? 0.0 : run->length_m * run->cos_slope;
}

/* How much higher than the lower post this one stands. */
static double end_z(const mech_run *run, int end)
{
    return end == (int)run->made_of.upper ? run->length_m * run->sin_slope : 0.0;
}

static bool is_sloped(const mech_run *run)
{
    return run->sin_slope != 0.0;
}

/* A pinned base has the lever as well, on next to no spring: a free node at the end of such beams was seen to go wrong
 * now and then (3 runs of 72 were off by up to 0.8 % of the target, without a warning). */
static bool is_sprung(const mech_post *post)
{
    return !post->is_rigid && !isinf(post->base_n_m_rad);
}

/* ---- writing ---- */

static void write_nodes(FILE *f, const mech_run *run)
{
    const mech_structure *made = &run->made_of;
    (void)fprintf(f, "*NODE,NSET=NALL\n");
    for (int end = 0; end < MECH_ENDS; end++) {
        const double x = end_x(run, end);
        const double foot = end_z(run, end);
        for (int level = 0; level < level_count(made); level++) {
            const double z = level_height(made, level);
            (void)fprintf(f, "%d,%.12g,0.,%.12g\n", node_at(end, level), x, foot + z);
            if (level > 0 && !made->post[end].is_rigid) {
                (void)fprintf(f, "%d,%.12g,0.,%.12g\n", node_at(end, level) - 1, x,
                              foot + 0.5 * (z + level_height(made, level - 1)));
            }
        }
        if (is_sprung(&made->post[end])) {
            const double out = end == MECH_NEAR ? -LEVER_M : LEVER_M;
            (void)fprintf(f, "%d,%.12g,0.,%.12g\n%d,%.12g,0.,%.12g\n", LEVER + 10 * end, x + 0.5 * out, foot,
                          LEVER + 10 * end + 1, x + out, foot);
        }
        if (made->rail.is_fitted && !is_sloped(run)) {
            (void)fprintf(f, "%d,%.12g,0.,%.12g\n", RAIL_ELEMENT + end, x + (end == MECH_NEAR ? JOINT_M : -JOINT_M),
                          made->rail.height_m);
        }
    }
}

static void write_constants(FILE *f, const char *name, double elastic_pa, double shear_pa)
{
    (void)fprintf(
        f, "*MATERIAL,NAME=%s\n*ELASTIC,TYPE=ENGINEERING CONSTANTS\n%.9e,%.9e,%.9e,0.,0.,0.,%.9e,%.9e,\n%.9e,294.\n",
        name, elastic_pa, elastic_pa, elastic_pa, shear_pa, shear_pa, shear_pa);
}

static void write_post(FILE *f, const mech_run *run, int end)
{
    const mech_structure *made = &run->made_of;
    const mech_post *post = &made->post[end];
    (void)fprintf(f, "*ELEMENT,TYPE=B32R,ELSET=POST%d\n", end);
    for (int level = 1; level < level_count(made); level++) {
        const int top = node_at(end, level);
        (void)fprintf(f, "%d,%d,%d,%d\n", 1000 * (end + 1) + level, top - 2, top - 1, top);
    }
    char name[16];
    (void)tr_format(name, sizeof name, "WOOD%d", end);
    write_constants(f, name, post->elastic_pa / (1.0 + made->creep), 5.0 / 6.0 * post->shear_pa / (1.0 + made->creep));
    (void)fprintf(f, "*BEAM SECTION,ELSET=POST%d,MATERIAL=%s,SECTION=RECT\n%.12g,%.12g\n1.,0.,0.\n", end, name,
                  post->depth_m, post->breadth_m);
    if (is_sprung(post)) {
        const int lever = LEVER + 10 * end;
        (void)fprintf(f, "*ELEMENT,TYPE=B32R,ELSET=LEVER%d\n%d,%d,%d,%d\n", end, 8000 + end, node_at(end, 0), lever,
                      lever + 1);
        (void)fprintf(f, "*BEAM SECTION,ELSET=LEVER%d,MATERIAL=STIFF,SECTION=RECT\n0.1,0.1\n0.,0.,1.\n", end);
        (void)fprintf(f, "*ELEMENT,TYPE=SPRING1,ELSET=BASE%d\n%d,%d\n*SPRING,ELSET=BASE%d\n3\n%.9e\n", end, 8010 + end,
                      lever + 1, end, fmax(post->base_n_m_rad, PIN_N_M_RAD) / (LEVER_M * LEVER_M));
    }
}

/* A bar's section: modulus for a stiffness k over a length, with the one area of all bars. */
static void write_bars(FILE *f, const char *set, double ea_n, double expansion)
{
    (void)fprintf(f, "*MATERIAL,NAME=M%s\n*ELASTIC\n%.12e,0.\n*EXPANSION,ZERO=0.\n%.9e\n", set, ea_n / BAR_AREA_M2,
                  expansion);
    (void)fprintf(f, "*SOLID SECTION,ELSET=%s,MATERIAL=M%s\n%.9e\n", set, set, BAR_AREA_M2);
}

static void write_rows(FILE *f, const mech_run *run)
{
    const mech_structure *made = &run->made_of;
    (void)fprintf(f, "*ELEMENT,TYPE=T3D2,ELSET=ROWS\n");
    for (int row = 0; row < made->row_count; row++) {
        (void)fprintf(f, "%d,%d,%d\n", ROW_ELEMENT + row, node_at(MECH_NEAR, row + 1), node_at(MECH_FAR, row + 1));
    }
    const double give = run->length_m / made->strand.ea_n + 1.0 / made->insert_n_m;
    write_bars(f, "ROWS", run->length_m / give, EXPANSION);
}

static void write_rail(FILE *f, const mech_run *run)
{
    const mech_structure *made = &run->made_of;
    const int top = level_count(made) - 1;
    if (is_sloped(
            run)) { /* one bar with the joints' give in it: springs in line would have nothing to keep them in line */
        const double give = run->length_m / made->rail.ea_n + 1.0 / made->rail.joint_n_m[MECH_NEAR] +
                            1.0 / made->rail.joint_n_m[MECH_FAR];
        (void)fprintf(f, "*ELEMENT,TYPE=T3D2,ELSET=RAIL\n%d,%d,%d\n", RAIL_ELEMENT, node_at(MECH_NEAR, top),
                      node_at(MECH_FAR, top));
        write_bars(f, "RAIL", run->length_m / give, 0.0);
        return;
    }
    (void)fprintf(f, "*ELEMENT,TYPE=T3D2,ELSET=RAIL\n%d,%d,%d\n", RAIL_ELEMENT, RAIL_ELEMENT, RAIL_ELEMENT + 1);
    write_bars(f, "RAIL", made->rail.ea_n * (run->length_m - 2.0 * JOINT_M) / run->length_m, 0.0);
    for (int end = 0; end < MECH_ENDS; end++) {
        (void)fprintf(f, "*ELEMENT,TYPE=SPRINGA,ELSET=JOINT%d\n%d,%d,%d\n*SPRING,ELSET=JOINT%d\n\n%.9e\n", end,
                      9010 + end, node_at(end, top), RAIL_ELEMENT + end, end, made->rail.joint_n_m[end]);
    }
}

/* All in one plane; the foot does not shift; the top of a post is kept from twisting, which makes its node a rigid knot
 * (a lone point of the expanded section would dent). */
static void write_supports(FILE *f, const mech_run *run)
{
    const mech_structure *made = &run->made_of;
    const int levels = level_count(made);
    (void)fprintf(f, "*BOUNDARY\nNALL,2,2\n");
    for (int end = 0; end < MECH_ENDS; end++) {
        const mech_post *post = &made->post[end];
        if (post->is_rigid) {
            for (int level = 0; level < levels; level++) {
                (void)fprintf(f, "%d,1,3\n", node_at(end, level));
            }
        } else {
            (void)fprintf(f, "%d,1,4\n%d,6,6\n%d,6,6\n", node_at(end, 0), node_at(end, 0), node_at(end, levels - 1));
            for (int level = 1; level < levels && is_sloped(run); level++) {
                /* ours leaves out what the pull along a post does to its length; knots, as above */
                (void)fprintf(f, "%d,3,3\n%d,6,6\n", node_at(end, level), node_at(end, level));
            }
            if (isinf(post->base_n_m_rad)) {
                (void)fprintf(f, "%d,5,5\n", node_at(end, 0));
            }
        }
        if (made->rail.is_fitted && !is_sloped(run)) {
            (void)fprintf(f, "%d,3,3\n", RAIL_ELEMENT + end);
        }
    }
}

/* Rows are cooled by what shortens them, free, by their take-up. Posts do not expand, so their nodes may be cooled too.
 */
static void write_step(FILE *f, const mech_run *run, const mech_rows *state)
{
    const mech_structure *made = &run->made_of;
    (void)fprintf(f, "*STEP\n*STATIC\n*TEMPERATURE\n");
    for (int row = 0; row < made->row_count; row++) {
        const double cooling = state->is_strung[row] ? state->take_up_m[row] / (EXPANSION * run->length_m) : 0.0;
        (void)fprintf(f, "%d,%.12e\n%d,%.12e\n", node_at(MECH_NEAR, row + 1), -cooling, node_at(MECH_FAR, row + 1),
                      -cooling);
    }
    (void)fprintf(f, "*EL PRINT,ELSET=ROWS\nS\n%s*NODE PRINT,NSET=TOPS\nU\n*END STEP\n",
                  made->rail.is_fitted ? "*EL PRINT,ELSET=RAIL\nS\n" : "");
}

static void write_all(FILE *f, const mech_run *run, const mech_rows states[], int count)
{
    const mech_structure *made = &run->made_of;
    const int top = level_count(made) - 1;
    write_nodes(f, run);
    (void)fprintf(f, "*NSET,NSET=TOPS\n%d,%d\n", node_at(MECH_NEAR, top), node_at(MECH_FAR, top));
    write_constants(f, "STIFF", LEVER_PA, LEVER_PA);
    for (int end = 0; end < MECH_ENDS; end++) {
        if (!made->post[end].is_rigid) {
            write_post(f, run, end);
        }
    }
    write_rows(f, run);
    if (made->rail.is_fitted) {
        write_rail(f, run);
    }
    write_supports(f, run);
    (void)fprintf(f, "*INITIAL CONDITIONS,TYPE=TEMPERATURE\nNALL,0.\n");
    for (int i = 0; i < count; i++) {
        write_step(f, run, &states[i]);
    }
}

bool deck_write(const char *folder, const char *name, const mech_run *run, const mech_rows states[], int count)
{
    char path[PATH_CAP];
    (void)tr_format(path, sizeof path, "%s/%s.inp", folder, name);
    FILE *f = fopen(path, "w");
    if (f == NULL) {
        (void)fprintf(stderr, "%s cannot be written\n", path);
        return false;
    }
    write_all(f, run, states, count);
    const bool is_whole = ferror(f) == 0;
    return fclose(f) == 0 && is_whole;
}

/* ---- running ---- */

static bool is_found(const char *folder, size_t length)
{
    char path[PATH_CAP];
    return tr_format(path, sizeof path, "%.*s/ccx", (int)length, folder) && access(path, X_OK) == 0;
}

bool deck_is_there(void)
{
    const char *folders = getenv("PATH");
    while (folders != NULL && *folders) {
        const size_t length = strcspn(folders, ":");
        if (is_found(folders, length)) {
            return true;
        }
        folders += length + (folders[length] == ':');
    }
    return false;
}

/* In the child: quiet, in the folder. One thread, as the machine is shared and the decks are small. */
static _Noreturn void become_ccx(const char *folder, const char *name)
{
    if (chdir(folder) == 0 && freopen("ccx.out", "w", stdout) != NULL && dup2(fileno(stdout), STDERR_FILENO) >= 0 &&
        setenv("OMP_NUM_THREADS", "1", 1) == 0) {
        (void)execlp("ccx", "ccx", "-i", name, (char *)NULL);
    }
    _exit(127);
}

bool deck_run(const char *folder, const char *name)
{
    (void)fflush(NULL);
    const pid_t child = fork();
    if (child < 0) {
        return false;
    }
    if (child == 0) {
        become_ccx(folder, name);
    }
    int status = 0;
    return waitpid(child, &status, 0) == child && WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

/* ---- reading ---- */

/* Adds a line "element point sxx ..." of the .dat file to the sums. sxx is level: of a bar on a slope it is the share cos^2. */
static bool add_stress(const char *line, double cos_slope, deck_answer *sum)
{
    char *end = NULL;
    const long element = strtol(line, &end, 10);
    (void)strtol(end, &end, 10); /* integration point */
    const double pull = strtod(end, &end) * BAR_AREA_M2 / BAR_POINTS / (cos_slope * cos_slope);
    if (element == RAIL_ELEMENT) {
        sum->rail_n -= pull;
        return true;
    }
    if (element >= ROW_ELEMENT && element < ROW_ELEMENT + MECH_MAX_ROWS) {
        sum->tension_n[element - ROW_ELEMENT] += pull;
        return true;
    }
    return false;
}

static void read_top(const char *line, deck_answer *out)
{
    char *end = NULL;
    const long node = strtol(line, &end, 10);
    const double x = strtod(end, &end);
    const int which = node >= 2000 ? MECH_FAR : MECH_NEAR;
    out->top_m[which] = which == MECH_NEAR ? x : -x;
}

bool deck_read(const char *folder, const char *name, const mech_run *run, deck_answer *out)
{
    char path[PATH_CAP];
    char line[256];
    (void)tr_format(path, sizeof path, "%s/%s.dat", folder, name);
    FILE *f = fopen(path, "r");
    if (f == NULL) {
        return false;
    }
    int lines = 0;
    int wanted = BAR_POINTS * run->made_of.row_count;
    bool is_stress = false;
    memset(out, 0, sizeof *out);
    while (fgets(line, sizeof line, f) != NULL) {
        if (strstr(line, "stresses") != NULL) {
            is_stress = true;
            if (strstr(line, "ROWS") != NULL) { /* a new state begins */
                memset(out, 0, sizeof *out);
                lines = 0;
            }
        } else if (strstr(line, "displacements") != NULL) {
            is_stress = false;
        } else if (is_stress) {
            lines += add_stress(line, run->cos_slope, out);
        } else if (strspn(line, " \r\n") < strlen(line)) {
            read_top(line, out);
        }
    }
    (void)fclose(f);
    wanted += run->made_of.rail.is_fitted ? BAR_POINTS : 0;
    return lines == wanted;
}
