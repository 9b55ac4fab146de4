/* Writes scenarios/measured/soft-porch-mockup.csv to standard output. Usage: make_measured SOURCE_ROOT */
#include <stdio.h>
#include <stdlib.h>

#include "data.h"
#include "mock_up.h"
#include "tautrow/base/text.h"

static void print_head(const mock_up *of)
{
    (void)printf(
        "# Synthetic: no such mock-up was built. Made by tests/app/make_measured.c from scenarios/soft-porch.json\n"
        "# with known stiffnesses and the scatter of a load cell, seed %llu:\n"
        "#   base rotation %.0f N m/rad, rail joint %.0f N/mm, strand EA %.0f kN, scatter %.1f %%\n"
        "# tautrow fit scenarios/soft-porch.json scenarios/measured/soft-porch-mockup.csv --scatter \"%.1f %%\"\n",
        (unsigned long long)of->seed, of->base_n_m_rad, of->joint_n_m / 1e3, of->ea_n / 1e3, 100.0 * of->scatter,
        100.0 * of->scatter);
}

/* Rows not pulled yet are left empty, as a crew would; the gauge shows tenths of a pound-force. */
static void print_pulls(const measured *seen, int row_count)
{
    bool is_pulled[MECH_MAX_ROWS] = {false};
    (void)printf("pull,row,reading");
    for (int row = 0; row < row_count; row++) {
        (void)printf(",row%d", row + 1);
    }
    (void)printf("\nunit,");
    for (int column = 0; column <= row_count; column++) {
        (void)printf(",lbf");
    }
    (void)printf("\n");
    for (int k = 0; k < seen->pull_count; k++) {
        const measured_pull *pull = &seen->pull[k];
        is_pulled[pull->row] = true;
        (void)printf("%d,%d,%.1f", k + 1, pull->row + 1, pull->reading_n / TR_LBF_N);
        for (int row = 0; row < row_count; row++) {
            if (is_pulled[row]) {
                (void)printf(",%.1f", pull->read_n[row] / TR_LBF_N);
            } else {
                (void)printf(",");
            }
        }
        (void)printf("\n");
    }
}

int main(int argc, char **argv)
{
    char path[APP_PATH_CAP];
    app_scenario *found = NULL;
    tr_diags *diags = calloc(1, sizeof *diags);
    measured *seen = calloc(1, sizeof *seen);
    scenario_catalogue *catalogue = argc == 2 && diags != NULL ? app_catalogue_load(argv[1], diags) : NULL;
    const mock_up shipped = mock_up_shipped();
    int code = EXIT_FAILURE;
    if (catalogue != NULL && seen != NULL && tr_format(path, sizeof path, "%s/scenarios/soft-porch.json", argv[1]) &&
        app_scenario_load(path, catalogue, NULL, &found, diags) == TR_OK &&
        mock_up_measure(&found->what.setup, &shipped, seen)) {
        print_head(&shipped);
        print_pulls(seen, found->what.setup.structure.row_count);
        code = EXIT_SUCCESS;
    }
    app_scenario_free(found);
    scenario_catalogue_close(catalogue);
    free(seen);
    free(diags);
    return code;
}
