/* A sound scenario to spoil, and the files of the source tree. Texts of the tests have ' where JSON has ". */
#ifndef TESTS_SCENARIO_SAMPLE_H
#define TESTS_SCENARIO_SAMPLE_H

#include "near.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tautrow/base/io.h"
#include "tautrow/base/text.h"
#include "tautrow/scenario/scenario.h"

enum { SAMPLE_CAP = 8192 };

static const char SAMPLE[] =
    "{\n"
    "  'format': 'tautrow.scenario/1',\n"
    "  'id': 'sample',\n"
    "  'title': {'en': 'A sample', 'es': 'Una muestra'},\n"
    "  'story': 'For the tests',\n"
    "  'difficulty': 2,\n"
    "  'minutes': 20,\n"
    "  'units': 'us',\n"
    "  'run': {\n"
    "    'length': '12 ft',\n"
    "    'line_posts': 3,\n"
    "    'near_post': {'depth': '5 1/2 in', 'species': 'douglas-fir-6x6', 'base': 'deck-6x6'}\n"
    "  },\n"
    "  'rail': {'height': '36 in'},\n"
    "  'rows': {'count': 11, 'first': '3 in', 'spacing': '3 in', 'trainee': 'all'},\n"
    "  'strand': '1x19-1-8',\n"
    "  'turnbuckle': 'unf-1-4',\n"
    "  'insert': 'quarter-softwood',\n"
    "  'bits': 'inch',\n"
    "  'crimper': 'eighth',\n"
    "  'tension': {\n"
    "    'target': '200 lbf',\n"
    "    'limit': '400 lbf',\n"
    "    'order': 'middle_out',\n"
    "    'rounds': ['50 %', '100 %']\n"
    "  },\n"
    "  'before': [\n"
    "    {'rows': [1, 2, 3], 'stage': 'tension'}\n"
    "  ],\n"
    "  'faults': [{'kind': 'unseated', 'row': 2}],\n"
    "  'rubric': {'pass_mark': 70, 'criteria': {'order': {'weight': 6}}}\n"
    "}\n";

/* Turns every ' into ". */
static inline void sample_quote(char *text)
{
    for (char *c = text; *c; c++) {
        *c = *c == '\'' ? '"' : *c;
    }
}

/* SAMPLE with `find` (which must be there, once) replaced. */
static inline void sample_change(const char *find, const char *replace, char out[SAMPLE_CAP])
{
    const char *at = strstr(SAMPLE, find);
    if (!at || strstr(at + 1, find)) {
        print_error("not once in the sample: %s\n", find);
        fail();
        return;
    }
    (void)tr_format(out, SAMPLE_CAP, "%.*s%s%s", (int)(at - SAMPLE), SAMPLE, replace, at + strlen(find));
    sample_quote(out);
}

static inline char *sample_file(const char *name, size_t *size)
{
    char path[512];
    char why[256];
    char *text = NULL;
    (void)tr_format(path, sizeof path, "%s/%s", TAUTROW_SOURCE, name);
    if (tr_file_read(path, SCENARIO_MAX_FILE, &text, size, why, sizeof why) != TR_OK) {
        print_error("%s: %s\n", path, why);
        fail();
    }
    return text;
}

static inline void sample_print(const tr_diags *diags)
{
    for (size_t i = 0; i < diags->count; i++) {
        const tr_diag *diag = &diags->item[i];
        print_error("  %d:%d %s: %s\n", diag->line, diag->column, diag->path, diag->text);
    }
}

static inline scenario_catalogue *sample_catalogue(void)
{
    size_t size = 0;
    tr_diags *diags = calloc(1, sizeof *diags);
    char *text = sample_file("assets/catalogue/catalogue.json", &size);
    scenario_catalogue *catalogue = scenario_catalogue_open(text, size, diags);
    if (!catalogue) {
        sample_print(diags);
    }
    free(text);
    free(diags);
    assert_non_null(catalogue);
    return catalogue;
}

static const char *const SAMPLE_SCENARIOS[] = {"scenarios/soft-porch.json",     "scenarios/long-deck.json",
                                               "scenarios/left-half-done.json", "scenarios/thirty-days.json",
                                               "scenarios/stair.json",          "scenarios/bent-gallery.json",
                                               "scenarios/corner-post.json",    "scenarios/first-row.json"};
enum { SAMPLE_SCENARIO_COUNT = sizeof SAMPLE_SCENARIOS / sizeof SAMPLE_SCENARIOS[0] };

#endif
