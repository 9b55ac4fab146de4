/* Tables of the things a catalogue holds. Ranges are there to catch slips of the pen (a unit, a digit), not to judge a
 * product. */
#include "parts.h"

#include <math.h>
#include <stdint.h>

#include "catalogue.h"
#include "table.h"

#define INCHES(n) ((n)*TR_INCH_M)

static const scenario__field species_fields[] = {
    LABEL(scenario__species),
    QUANTITY(scenario__species, "elastic", elastic_pa, STRESS, 1e9, 40e9, NONE),
    QUANTITY(scenario__species, "clear_elastic", clear_elastic_pa, STRESS, 1e9, 40e9, NONE),
    PLAIN(scenario__species, "shear_ratio", shear_ratio, 5, 40, 16),
    NEED_QUANTITY(scenario__species, "bending", bending_pa, STRESS, 1e6, 100e6),
    PLAIN(scenario__species, "size_factor", size_factor, 0.5, 2, 1),
    PLAIN(scenario__species, "wet_bending", wet_bending, 0.3, 1, 0.85),
    PLAIN(scenario__species, "wet_elastic", wet_elastic, 0.3, 1, 0.9),
    PLAIN(scenario__species, "wet_withdrawal", wet_withdrawal, 0.3, 1, 0.7),
    NEED_PLAIN(scenario__species, "gravity", gravity, 0.2, 1.3),
    NEED_PLAIN(scenario__species, "gravity_handbook", gravity_handbook, 0.2, 1.3),
    PLAIN(scenario__species, "creep_dry", creep_dry, 0, 4, 0.8),
    PLAIN(scenario__species, "creep_wet", creep_wet, 0, 4, 2),
    PLAIN(scenario__species, "creep_exponent", creep_exponent, 0.05, 1, 0.2),
};

static const scenario__field strand_fields[] = {
    LABEL(scenario__strand),
    NEED_QUANTITY(scenario__strand, "diameter", diameter_m, LENGTH, 0.001, 0.02),
    PLAIN(scenario__strand, "fill", fill, 0.3, 1, 0.76),
    QUANTITY(scenario__strand, "elastic", elastic_pa, STRESS, 20e9, 220e9, 130e9),
    NEED_QUANTITY(scenario__strand, "mass", mass_kg_m, LINE_MASS, 0.001, 2),
    NEED_QUANTITY(scenario__strand, "breaking", breaking_n, FORCE, 500, 300e3),
    QUANTITY(scenario__strand, "expansion", thermal_1_k, EXPANSION, 0, 40e-6, 16e-6),
    QUANTITY(scenario__strand, "bedding", bedding, RATIO, 0, 0.01, 0.0003),
    QUANTITY(scenario__strand, "bedding_half", bedding_half_n, FORCE, 1, 50e3, 500),
    NEED_QUANTITY(scenario__strand, "torsion", torsion_n_m2, TORSION, 1e-5, 100),
};

static const scenario__field stud_fields[] = {
    NEED_QUANTITY(scenario__stud, "pitch", pitch_m, LENGTH, 0.0003, 0.005),
    NEED_QUANTITY(scenario__stud, "diameter", diameter_m, LENGTH, 0.003, 0.03),
    NEED_QUANTITY(scenario__stud, "engaged", engaged_turns, TURNS, 1, 60),
};
static const scenario__shape stud_shape = {"a stud", stud_fields, COUNT(stud_fields)};

static const scenario__field turnbuckle_fields[] = {
    LABEL(scenario__turnbuckle),
    NEED_INSIDE(scenario__turnbuckle, "anchor_stud", anchor, stud_shape),
    NEED_INSIDE(scenario__turnbuckle, "cable_stud", cable, stud_shape),
    PLAIN(scenario__turnbuckle, "friction", friction, 0.02, 1, 0.15),
    NEED_QUANTITY(scenario__turnbuckle, "body", body_m, LENGTH, 0.5 * TR_INCH_M, 20 * TR_INCH_M),
    PLAIN(scenario__turnbuckle, "least_engaged", least_engaged, 0.2, 5, 1),
    PLAIN(scenario__turnbuckle, "twist_release", twist_release, 0, 1, 0.3),
};

static const scenario__field insert_fields[] = {
    LABEL(scenario__insert),
    NEED_QUANTITY(scenario__insert, "major", major_m, LENGTH, 0.004, 0.03),
    NEED_QUANTITY(scenario__insert, "minor", minor_m, LENGTH, 0.003, 0.03),
    NEED_QUANTITY(scenario__insert, "length", length_m, LENGTH, 0.01, 0.15),
    QUANTITY(scenario__insert, "flange", flange_m, LENGTH, 0, 0.01, 0.0015),
    ENDLESS(scenario__insert, "stiffness", stiffness_n_m, STIFFNESS, 1e5, 1e9, 5e6, "rigid"),
    NEED_QUANTITY(scenario__insert, "bit", bit_m, LENGTH, 0.003, 0.03),
};

static const scenario__field bits_fields[] = {
    LABEL(scenario__bits),
    NEED_RAW(scenario__bits, "diameters", diameters, NULL),
};

static const scenario__field crimper_fields[] = {
    LABEL(scenario__crimper),
    NEED_PLAIN(scenario__crimper, "efficiency", efficiency, 0.1, 1),
    NEED_QUANTITY(scenario__crimper, "bore", bore_m, LENGTH, 0.005, 0.15),
    NEED_QUANTITY(scenario__crimper, "barrel", barrel_m, LENGTH, 0.003, 0.03),
    NEED_QUANTITY(scenario__crimper, "crimped", crimped_m, LENGTH, 0.003, 0.03),
    NEED_QUANTITY(scenario__crimper, "die", die_m, LENGTH, 0.002, 0.15),
    QUANTITY(scenario__crimper, "best_turn", best_turn_rad, ANGLE, 0.1, 1.6, TR_PI / 2),
    PLAIN(scenario__crimper, "one_squeeze", one_squeeze, 0, 1, 0.45),
    PLAIN(scenario__crimper, "no_turn", no_turn, 0, 1, 0.6),
    NEED_QUANTITY(scenario__crimper, "gauge", gauge_pass_m, LENGTH, 0.003, 0.03),
};

static const scenario__field base_fields[] = {
    LABEL(scenario__base),
    NEED_ENDLESS(scenario__base, "stiffness", stiffness_n_m_rad, ROTATION, 0, 1e7, "fixed"),
    ENDLESS(scenario__base, "capacity", capacity_n_m, MOMENT, 1, 1e6, (double)INFINITY, "not given"),
};

const scenario__shape scenario__part_shape[SCENARIO__PARTS] = {
    [SCENARIO__SPECIES] = SHAPE("a species", species_fields),
    [SCENARIO__STRAND] = SHAPE("a strand", strand_fields),
    [SCENARIO__TURNBUCKLE] = SHAPE("a turnbuckle", turnbuckle_fields),
    [SCENARIO__INSERT] = SHAPE("an insert", insert_fields),
    [SCENARIO__BITS] = SHAPE("a bit set", bits_fields),
    [SCENARIO__CRIMPER] = SHAPE("a crimper", crimper_fields),
    [SCENARIO__BASE] = SHAPE("a post base", base_fields),
};

const char *const scenario__part_key[SCENARIO__PARTS + 1] = {"species", "strand",  "turnbuckle", "insert",
                                                             "bits",    "crimper", "base",       NULL};

/* ---- what one entry must make sense in by itself ---- */

static void check_species(scenario__reader *reader, const scenario__node *node, const scenario__species *species)
{
    if (isnan(species->elastic_pa) && isnan(species->clear_elastic_pa)) {
        SCENARIO__SAY(reader, node, "needs \"elastic\" (graded lumber) or \"clear_elastic\" (clear wood)");
    }
}

static void check_insert(scenario__reader *reader, const scenario__node *node, const scenario__insert *insert)
{
    if (insert->minor_m >= insert->major_m) {
        SCENARIO__SAY(reader, scenario__member(node, "minor"), "must be smaller than \"major\"");
    }
    if (insert->bit_m >= insert->major_m) {
        SCENARIO__SAY(reader, scenario__member(node, "bit"),
                      "must be smaller than \"major\", or the thread finds no wood");
    }
}

static void check_turnbuckle(scenario__reader *reader, const scenario__node *node,
                             const scenario__turnbuckle *turnbuckle)
{
    const double used = turnbuckle->anchor.pitch_m * turnbuckle->anchor.engaged_turns +
                        turnbuckle->cable.pitch_m * turnbuckle->cable.engaged_turns;
    if (used >= turnbuckle->body_m) {
        SCENARIO__SAY(reader, scenario__member(node, "body"),
                      "is too short: the studs would meet with the threads they have engaged at hand tight");
    }
}

static void check_crimper(scenario__reader *reader, const scenario__node *node, const scenario__crimper *crimper)
{
    if (crimper->crimped_m >= crimper->barrel_m) {
        SCENARIO__SAY(reader, scenario__member(node, "crimped"), "must be smaller than \"barrel\"");
    }
    if (crimper->gauge_pass_m < crimper->crimped_m) {
        SCENARIO__SAY(reader, scenario__member(node, "gauge"),
                      "must not be smaller than \"crimped\", or no crimp could pass");
    }
}

/* An inline part may have a source, or none; the catalogue asks for more, see catalogue.c. */
static void check_source_kind(scenario__reader *reader, const scenario__node *source)
{
    if (source && source->kind != SCENARIO__OBJECT) {
        (void)scenario__want(reader, source, SCENARIO__STRING, "a text, or an object with a text for each key");
    }
}

static void check_part(scenario__reader *reader, const scenario__node *node, scenario__part part, const void *filled)
{
    double diameters[JOB_MAX_BITS];
    switch (part) {
    case SCENARIO__SPECIES:
        check_species(reader, node, filled);
        break;
    case SCENARIO__INSERT:
        check_insert(reader, node, filled);
        break;
    case SCENARIO__TURNBUCKLE:
        check_turnbuckle(reader, node, filled);
        break;
    case SCENARIO__CRIMPER:
        check_crimper(reader, node, filled);
        break;
    case SCENARIO__BITS:
        (void)scenario__read_bits(reader, ((const scenario__bits *)filled)->diameters, diameters);
        break;
    case SCENARIO__STRAND:
    case SCENARIO__BASE:
    case SCENARIO__PARTS:
        break;
    }
}

int scenario__read_bits(scenario__reader *reader, const scenario__node *list, double out_m[JOB_MAX_BITS])
{
    int count = 0;
    if (!list || !scenario__want(reader, list, SCENARIO__LIST, "a list of bit diameters")) {
        return 0;
    }
    if (list->count < 1 || list->count > JOB_MAX_BITS) {
        SCENARIO__SAY(reader, list, "expected 1 to %d bits, found %d", JOB_MAX_BITS, list->count);
        return 0;
    }
    for (const scenario__node *bit = list->first; bit; bit = bit->next) {
        double diameter_m = 0;
        if (scenario__quantity(reader, bit, TR_DIM_LENGTH, 0.001, INCHES(2), &diameter_m)) {
            if (count > 0 && diameter_m <= out_m[count - 1]) {
                SCENARIO__SAY(reader, bit, "bits go from small to large, each once");
            }
            out_m[count++] = diameter_m;
        }
    }
    return count;
}

bool scenario__read_part(scenario__reader *reader, const scenario__node *node, scenario__part part, void *out)
{
    const int errors = reader->errors;
    if (node->kind == SCENARIO__STRING) {
        const scenario__node *entry = scenario__look_up(reader, node, part);
        if (!entry) {
            return false;
        }
        node = entry; /* it was found sound when the catalogue was opened */
    } else if (node->kind != SCENARIO__OBJECT) {
        SCENARIO__SAY(reader, node,
                      "expected the id of a catalogue entry or an object { } with the keys of %s, found %s",
                      scenario__part_shape[part].what, scenario__kind_name(node->kind));
        return false;
    }
    scenario__fill(reader, node, &scenario__part_shape[part], out);
    check_source_kind(reader, scenario__member(node, "source"));
    if (reader->errors == errors) {
        check_part(reader, node, part, out);
    }
    return reader->errors == errors;
}
