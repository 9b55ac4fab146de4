/* The values of assets/catalogue/catalogue.json against the tables that it names. They are read as the program reads
 * them, through the catalogue and, for what a post and a strand make of them, through a scenario. */
#include "sections.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "catalogue.h"
#include "tautrow/base/io.h"
#include "tautrow/base/text.h"
#include "tautrow/scenario/scenario.h"

/* Entry of the catalogue by id. Entries are filled afresh; one that is missing reads as zeros and fails its rows. */
static void read_entry(const scenario_catalogue *catalogue, const char *id, scenario__part part,
                       scenario__any_part *out)
{
    tr_diags *diags = calloc(1, sizeof *diags);
    memset(out, 0, sizeof *out);
    if (diags == NULL) {
        return;
    }
    scenario__reader reader = {.diags = diags, .catalogue = catalogue};
    const scenario__node name = {.kind = SCENARIO__STRING, .text = id};
    if (!scenario__read_part(&reader, &name, part, out)) {
        memset(out, 0, sizeof *out);
    }
    free(diags);
}

/* What a table says of a kind of wood; NAN = it says nothing. */
typedef struct wood {
    const char *id;
    const char *graded; /* where E and Fb of graded lumber come from */
    const char *graded_standing;
    double elastic_psi, bending_psi, size_factor;
    double gravity;
    const char *clear_source;
    double clear_psi, handbook_gravity;
} wood;

#define TABLE_4A "NDS Supplement 2018, Table 4A"
#define TABLE_4B "NDS Supplement 2018, Table 4B"
#define TABLE_4D "NDS Supplement 2018, Table 4D"
#define HANDBOOK "Wood Handbook, FPL-GTR-282, Table 5-3b"
#define IMPORTED "Wood Handbook, FPL-GTR-282, Table 5-5b"

static const wood WOODS[] = {
    {"cedar-4x4", TABLE_4A, COPIED, 1.0e6, 700, 1.5, 0.36, HANDBOOK, 1.11e6, 0.32},
    {"spf-4x4", TABLE_4A, COPIED, 1.4e6, 875, 1.5, 0.42, HANDBOOK ", white spruce", 1.43e6, 0.36},
    {"redwood-4x4", TABLE_4A, COPIED, 1.0e6, 725, 1.5, 0.37, HANDBOOK ", young-growth", 1.10e6, 0.35},
    {"hem-fir-4x4", TABLE_4A, COPIED, 1.3e6, 850, 1.5, 0.43, HANDBOOK ", western hemlock", 1.63e6, 0.45},
    {"douglas-fir-4x4", TABLE_4A, COPIED, 1.6e6, 900, 1.5, 0.50, HANDBOOK ", coast", 1.95e6, 0.48},
    {"white-oak-4x4", TABLE_4A, COPIED, 0.9e6, 850, 1.5, 0.73, HANDBOOK, 1.78e6, 0.68},
    {"southern-pine-4x4", TABLE_4B, COPIED, 1.4e6, 1100, 1.0, 0.55, HANDBOOK ", loblolly", 1.79e6, 0.51},
    {"douglas-fir-6x6", TABLE_4D, MEMORY, 1.6e6, 1200, 1.0, 0.50, HANDBOOK ", coast", 1.95e6, 0.48},
    {"southern-pine-6x6", TABLE_4D, MEMORY, 1.2e6, 850, 1.0, 0.55, HANDBOOK ", loblolly", 1.79e6, 0.51},
    {"hem-fir-6x6", TABLE_4D, MEMORY, 1.3e6, 975, 1.0, 0.43, HANDBOOK ", western hemlock", 1.63e6, 0.45},
    {"teak", NULL, NULL, (double)NAN, (double)NAN, (double)NAN, (double)NAN, IMPORTED, 1.55e6, 0.55},
    {"ipe", NULL, NULL, (double)NAN, (double)NAN, (double)NAN, (double)NAN, IMPORTED, 3.14e6, 0.92},
};
enum { WOOD_COUNT = sizeof WOODS / sizeof WOODS[0] };

static void row(book *b, const char *id, const char *what, const char *unit, double published, int decimals,
                double ours)
{
    char name[BOOK_WORDS_CAP];
    (void)tr_format(name, sizeof name, "%s: %s", id, what);
    book_half(b, name, unit, published, decimals, ours);
}

static void graded(book *b, const wood *w, const scenario__species *s)
{
    book_source(b, w->graded, w->graded_standing);
    row(b, w->id, "E", "1e6 psi", w->elastic_psi * 1e-6, 1, s->elastic_pa / TR_PSI_PA * 1e-6);
    row(b, w->id, "Fb", "psi", w->bending_psi, 0, s->bending_pa / TR_PSI_PA);
    row(b, w->id, "size factor", "", w->size_factor, 1, s->size_factor);
    book_source(b, "NDS 2018, Table 12.3.3A", COPIED);
    row(b, w->id, "G for connections", "", w->gravity, 2, s->gravity);
}

/* Wet factors of Table 4A: Fb 0.85, yet 1.0 where Fb CF is at most 1150 psi; E 0.9. Table 4D: 1.0 for both. */
static void wet(book *b, const wood *w, const scenario__species *s)
{
    const bool is_timber = strcmp(w->graded, TABLE_4D) == 0;
    const bool is_own_rule = strcmp(w->graded, TABLE_4B) == 0; /* taken from Table 4A: an assumption, no row */
    if (!is_own_rule) {
        book_source(b, is_timber ? TABLE_4D ", adjustment factors" : TABLE_4A ", adjustment factors", COPIED);
        row(b, w->id, "wet factor of Fb", "", is_timber || w->bending_psi * w->size_factor <= 1150.0 ? 1.0 : 0.85, 2,
            s->wet_bending);
        row(b, w->id, "wet factor of E", "", is_timber ? 1.0 : 0.9, 1, s->wet_elastic);
    }
    book_source(b, "NDS 2018, Table 11.3.3", MEMORY);
    row(b, w->id, "wet factor of withdrawal", "", 0.7, 1, s->wet_withdrawal);
}

static void clear_wood(book *b, const wood *w, const scenario__species *s)
{
    book_source(b, w->clear_source, COPIED);
    row(b, w->id, "E of clear wood", "1e6 psi", w->clear_psi * 1e-6, 2, s->clear_elastic_pa / TR_PSI_PA * 1e-6);
    row(b, w->id, "specific gravity", "", w->handbook_gravity, 2, s->gravity_handbook);
    book_source(b, "Wood Handbook, FPL-GTR-282, ch. 9: G about E/16", COPIED);
    row(b, w->id, "E/G", "", 16.0, 0, s->shear_ratio);
    book_source(b, "EN 1995-1-1:2004, Table 3.2, service classes 2 and 3", COPIED);
    row(b, w->id, "k_def dry", "", 0.8, 1, s->creep_dry);
    row(b, w->id, "k_def wet", "", 2.0, 1, s->creep_wet);
}

static void species(book *b, const scenario_catalogue *catalogue)
{
    for (int i = 0; i < WOOD_COUNT; i++) {
        scenario__any_part entry;
        read_entry(catalogue, WOODS[i].id, SCENARIO__SPECIES, &entry);
        if (WOODS[i].graded != NULL) {
            graded(b, &WOODS[i], &entry.species);
            wet(b, &WOODS[i], &entry.species);
        }
        clear_wood(b, &WOODS[i], &entry.species);
    }
}

/* 1x19 strand: what the tables say of each size. */
typedef struct wires {
    const char *id;
    const char *strength_source, *strength_standing;
    double breaking_n;
    int breaking_decimals;
    double area_mm2, mass_kg_m, ea_kn;
    double most_lb_100ft; /* greatest mass that the specification allows; 0 = none at hand */
} wires;

#define MIL_STRAND "MIL-DTL-87161 type II; AC 43.13-1B Table 7-4"

static const wires STRANDS[] = {
    {"1x19-1-8", MIL_STRAND, MEMORY, 2100.0 * TR_LBF_N, 0, 6.017, 0.0475, 782.0, 3.5},
    {"1x19-5-32", MIL_STRAND, MEMORY, 3300.0 * TR_LBF_N, 0, 9.402, 0.0743, 1222.0, 5.5},
    {"1x19-4mm", "EN 12385-10 form, grade 1570, K 0.525", MEMORY_WORKED, 13190.0, -1, 9.550, 0.0754, 1242.0, 0.0},
    {"1x19-3-16", MIL_STRAND, MEMORY, 4700.0 * TR_LBF_N, 0, 13.539, 0.1070, 1760.0, 7.7},
};
/* Wires that lie at an angle are longer than the strand: 2 to 4 %. */
#define LAY 1.03
enum { STRAND_COUNT = sizeof STRANDS / sizeof STRANDS[0] };

static void breaking(book *b, const wires *w, const scenario__strand *s)
{
    book_source(b, w->strength_source, w->strength_standing);
    if (w->breaking_decimals < 0) {
        row(b, w->id, "breaking strength", "kN", w->breaking_n * 1e-3, 2, s->breaking_n * 1e-3);
    } else {
        row(b, w->id, "breaking strength", "lbf", w->breaking_n / TR_LBF_N, w->breaking_decimals,
            s->breaking_n / TR_LBF_N);
    }
}

/* The catalogue's mass is that of the metal with 3 % for the lay; the two published figures say how heavy strand is at most. */
static void heavier(book *b, const wires *w, const scenario__strand *s, double area_m2)
{
    char name[BOOK_WORDS_CAP];
    const double unit = 83e3 * area_m2 / TR_GRAVITY_M_S2;
    (void)tr_format(name, sizeof name, "%s: mass by unit weight 83 kN/m3", w->id);
    book_source(b, "EN 1993-1-11:2006, eq. 2.1", QUOTED_WORKED);
    book_within(b, name, "kg/m", unit, 4, s->mass_kg_m, 0.05 * unit, "5 %: ours allows for the lay, not for filling");
    if (w->most_lb_100ft > 0.0) {
        const double lb_100ft = s->mass_kg_m / 0.45359237 * 100.0 * TR_FOOT_M;
        (void)tr_format(name, sizeof name, "%s: greatest mass allowed", w->id);
        book_source(b, "MIL-W-87161 Table I", MEMORY);
        book_within(b, name, "lb/100 ft", w->most_lb_100ft, 1, lb_100ft, 0.08 * w->most_lb_100ft,
                    "8 %: below the greatest");
    }
}

static void strands(book *b, const scenario_catalogue *catalogue)
{
    for (int i = 0; i < STRAND_COUNT; i++) {
        const wires *w = &STRANDS[i];
        scenario__any_part entry;
        read_entry(catalogue, w->id, SCENARIO__STRAND, &entry);
        const scenario__strand *s = &entry.strand;
        const double area_m2 = s->fill * TR_PI / 4.0 * s->diameter_m * s->diameter_m;
        breaking(b, w, s);
        book_source(b, "geometry: 19 equal wires, 19/25 of the circle", MEMORY_WORKED);
        row(b, w->id, "metal area", "mm2", w->area_mm2, 3, area_m2 * 1e6);
        book_source(b, "geometry: metal at 7.9 g/cm3", FOUND_WORKED);
        row(b, w->id, "bare mass from its own area", "kg/m", w->mass_kg_m, 4, 7900.0 * area_m2);
        book_source(b, "geometry, and 3 % for the lay (1.02 to 1.04, wire-rope texts)", MEMORY_WORKED);
        row(b, w->id, "mass", "kg/m", w->mass_kg_m * LAY, 4, s->mass_kg_m);
        heavier(b, w, s, area_m2);
        book_source(b, "EN 1993-1-11:2006, Table 3.1", QUOTED);
        row(b, w->id, "modulus", "GPa", 130.0, 0, s->elastic_pa * 1e-9);
        book_source(b, "EN 1993-1-11:2006, Table 3.1, times the area", QUOTED_WORKED);
        row(b, w->id, "EA", "kN", w->ea_kn, 0, s->elastic_pa * area_m2 * 1e-3);
        book_source(b, "EN 1993-1-11:2006, 3.3(1)", QUOTED);
        row(b, w->id, "expansion", "1e-6 /K", 16.0, 0, s->thermal_1_k * 1e6);
        book_source(b, "helix theory (Hruska; Feyrer, Wire Ropes, ch. 2), by the fourth power of the diameter",
                    MEMORY_WORKED);
        row(b, w->id, "torsional stiffness", "N m2", 0.07425 * pow(s->diameter_m / 0.003175, 4.0), 3, s->torsion_n_m2);
    }
    scenario__any_part entry;
    read_entry(catalogue, "1x19-1-8", SCENARIO__STRAND, &entry);
    book_source(b, "EN 1993-1-11:2006, Table 2.2: spiral strand 0.73 to 0.77", QUOTED);
    book_within(b, "fill factor", "", 0.75, 2, entry.strand.fill, 0.02, "printed range");
}

static void fittings(book *b, const scenario_catalogue *catalogue)
{
    static const struct {
        const char *id, *source;
        double pitch_mm, diameter_mm, friction, friction_range;
    } table[] = {{"unf-1-4", "ASME B1.1, 1/4-28 UNF", 25.4 / 28.0, 6.35, 0.12, 0.04},
                 {"unf-1-4-dry", "ASME B1.1, 1/4-28 UNF", 25.4 / 28.0, 6.35, 0.38, 0.12},
                 {"unf-5-16", "ASME B1.1, 5/16-24 UNF", 25.4 / 24.0, 7.9375, 0.12, 0.04},
                 {"m6", "ISO 261, M6x1", 1.0, 6.0, 0.12, 0.04}};
    for (int i = 0; i < 4; i++) {
        scenario__any_part entry;
        read_entry(catalogue, table[i].id, SCENARIO__TURNBUCKLE, &entry);
        const scenario__turnbuckle *t = &entry.turnbuckle;
        book_source(b, table[i].source, COPIED);
        row(b, table[i].id, "pitch of the anchor stud", "mm", table[i].pitch_mm, 4, t->anchor.pitch_m * 1e3);
        row(b, table[i].id, "pitch of the cable stud", "mm", table[i].pitch_mm, 4, t->cable.pitch_m * 1e3);
        row(b, table[i].id, "major diameter", "mm", table[i].diameter_mm, 4, t->anchor.diameter_m * 1e3);
        char name[BOOK_WORDS_CAP];
        (void)tr_format(name, sizeof name, "%s: friction", table[i].id);
        book_source(b, "EN ISO 3506 informative data; VDI 2230 classes: greased 0.08 to 0.16, dry 0.26 to 0.50",
                    MEMORY);
        book_within(b, name, "", table[i].friction, 2, t->friction, table[i].friction_range, "range");
    }
    static const struct {
        const char *id;
        double before_in, after_in;
    } crimps[] = {{"eighth", 0.250, 0.219}, {"five-thirty-seconds", 0.297, 0.250}, {"three-sixteenths", 0.359, 0.313}};
    book_source(b, "AC 43.13-1B Table 7-5, straight-shank terminal", MEMORY);
    for (int i = 0; i < 3; i++) {
        scenario__any_part entry;
        read_entry(catalogue, crimps[i].id, SCENARIO__CRIMPER, &entry);
        row(b, crimps[i].id, "barrel before", "in", crimps[i].before_in, 3, entry.crimper.barrel_m / TR_INCH_M);
        row(b, crimps[i].id, "barrel after", "in", crimps[i].after_in, 3, entry.crimper.crimped_m / TR_INCH_M);
    }
}

/* What a scenario makes of them: soft-porch stands on spf-4x4 posts with 1x19-1-8 strand. */
static bool as_read(book *b, const scenario_catalogue *catalogue, tr_diags *diags)
{
    char *text = NULL;
    size_t size = 0;
    char why[TR_TEXT_CAP];
    scenario *porch = calloc(1, sizeof *porch);
    const bool is_read = porch != NULL &&
                         tr_file_read(TAUTROW_SOURCE "/scenarios/soft-porch.json", SCENARIO_MAX_FILE, &text, &size, why,
                                      sizeof why) == TR_OK &&
                         scenario_read(text, size, catalogue, porch, diags) == TR_OK;
    if (is_read) {
        const mech_structure *made = &porch->setup.structure;
        book_source(b, "NDS 2018 appendix D, eq. D-4: 1.03 E is free of shear", MEMORY_WORKED);
        book_half(b, "soft-porch scenario, post of SPF No. 2: E", "1e6 psi", 1.442, 3,
                  made->post[MECH_NEAR].elastic_pa / TR_PSI_PA * 1e-6);
        book_half(b, "  E/G", "", 16.0, 1, made->post[MECH_NEAR].elastic_pa / made->post[MECH_NEAR].shear_pa);
        book_source(b, "NDS 2018, Table 2.3.2: permanent load 0.9; Fb 875 psi, CF 1.5", COPIED_WORKED);
        book_half(b, "  bending reference value", "psi", 1181.25, 2,
                  porch->setup.limits[MECH_NEAR].bending_pa / TR_PSI_PA);
        book_source(b, "EN 1993-1-11:2006 Table 3.1 on 6.017 mm2", FOUND_WORKED);
        book_half(b, "  EA of the strand", "lbf", 175852.0, 0, made->strand.ea_n / TR_LBF_N);
    }
    free(text);
    free(porch);
    return is_read;
}

bool section_catalogue(book *b)
{
    char *text = NULL;
    size_t size = 0;
    char why[TR_TEXT_CAP];
    bool is_read = false;
    tr_diags *diags = calloc(1, sizeof *diags);
    if (diags != NULL && tr_file_read(TAUTROW_SOURCE "/assets/catalogue/catalogue.json", SCENARIO_MAX_FILE, &text,
                                      &size, why, sizeof why) == TR_OK) {
        scenario_catalogue *catalogue = scenario_catalogue_open(text, size, diags);
        if (catalogue != NULL) {
            book_section(b, "The catalogue", "[test_catalogue](../tests/scenario/test_catalogue.c)");
            book_words(
                b, "Ids are those of [catalogue.json](../assets/catalogue/catalogue.json). What it marks as assumption "
                   "or demo data (bases, inserts, crimp factors, bedding-in) has no row: there is nothing to "
                   "check it against.");
            species(b, catalogue);
            strands(b, catalogue);
            fittings(b, catalogue);
            is_read = as_read(b, catalogue, diags);
        }
        scenario_catalogue_close(catalogue);
    }
    free(text);
    free(diags);
    return is_read;
}
