/* A second opinion on condensed runs: the two posts as plain finite elements with a full stiffness matrix, solved by
 * elimination. Shares no formula with the closed forms in the program. */
#ifndef TESTS_MECH_ELEMENTS_H
#define TESTS_MECH_ELEMENTS_H

#include "near.h"
#include "tautrow/mech/run.h"

enum { ELEMENTS_LEVELS = MECH_MAX_ROWS + 2, ELEMENTS_MAX = 2 * MECH_ENDS * ELEMENTS_LEVELS };

/* Unknowns: for each end and level (base, rows, top) the deflection and the rotation; held ones get 1 on the diagonal.
 */
typedef struct elements {
    int levels;
    int count;
    double height_m[ELEMENTS_LEVELS];
    double matrix[ELEMENTS_MAX][ELEMENTS_MAX];
    double answer[ELEMENTS_MAX];
} elements;

static inline int elements_at(const elements *e, int end, int level, int turn)
{
    return 2 * (end * e->levels + level) + turn;
}

/* Timoshenko beam element: values.md 6.1, "Timoshenko stiffness", g = 6EI/(kAG L^2). */
static inline void elements_add_beam(elements *e, const mech_post *post, double creep, int end, int level)
{
    const double length = e->height_m[level + 1] - e->height_m[level];
    const double area = post->breadth_m * post->depth_m;
    const double stiff = post->elastic_pa / (1.0 + creep) * area * post->depth_m * post->depth_m / 12.0;
    const double g = 6.0 * stiff / (area * post->shear_pa / (1.0 + creep) / 1.2 * length * length);
    const double near_turn = 4.0 * stiff / length * (2.0 + g) / (2.0 * (1.0 + 2.0 * g));
    const double far_turn = near_turn * (1.0 - g) / (2.0 + g);
    const double shear = (near_turn + far_turn) / length;
    const double push = 2.0 * shear / length;
    const double local[4][4] = {{push, shear, -push, shear},
                                {shear, near_turn, -shear, far_turn},
                                {-push, -shear, push, -shear},
                                {shear, far_turn, -shear, near_turn}};
    for (int i = 0; i < 4; i++) {
        for (int j = 0; j < 4; j++) {
            e->matrix[elements_at(e, end, level + i / 2, i % 2)][elements_at(e, end, level + j / 2, j % 2)] +=
                local[i][j];
        }
    }
}

static inline void elements_hold(elements *e, int unknown)
{
    for (int other = 0; other < e->count; other++) {
        e->matrix[unknown][other] = e->matrix[other][unknown] = 0.0;
    }
    e->matrix[unknown][unknown] = 1.0;
}

static inline double elements_rail(const mech_structure *made)
{
    double length = 0.0;
    for (int bay = 0; bay < made->bay_count; bay++) {
        length += made->bay_m[bay];
    }
    return made->rail.is_fitted
               ? 1.0 / (length / made->rail.ea_n + 1.0 / made->rail.joint_n_m[0] + 1.0 / made->rail.joint_n_m[1])
               : 0.0;
}

static inline void elements_assemble(elements *e, const mech_structure *made)
{
    *e = (elements){.levels = made->row_count + 1 + (made->rail.is_fitted ? 1 : 0)};
    e->count = 2 * MECH_ENDS * e->levels;
    for (int row = 0; row < made->row_count; row++) {
        e->height_m[row + 1] = made->row_height_m[row];
    }
    if (made->rail.is_fitted) {
        e->height_m[e->levels - 1] = made->rail.height_m;
    }
    const int top[MECH_ENDS] = {elements_at(e, 0, e->levels - 1, 0), elements_at(e, 1, e->levels - 1, 0)};
    for (int i = 0; i < MECH_ENDS; i++) {
        for (int j = 0; j < MECH_ENDS; j++) {
            e->matrix[top[i]][top[j]] += elements_rail(made);
        }
    }
    for (int end = 0; end < MECH_ENDS; end++) {
        const mech_post *post = &made->post[end];
        for (int level = 0; level + 1 < e->levels && !post->is_rigid; level++) {
            elements_add_beam(e, post, made->creep, end, level);
        }
        for (int unknown = 0; unknown < 2 * e->levels && post->is_rigid; unknown++) {
            elements_hold(e, elements_at(e, end, 0, 0) + unknown);
        }
        elements_hold(e, elements_at(e, end, 0, 0));
        if (isinf(post->base_n_m_rad)) {
            elements_hold(e, elements_at(e, end, 0, 1));
        } else {
            e->matrix[elements_at(e, end, 0, 1)][elements_at(e, end, 0, 1)] += post->base_n_m_rad;
        }
    }
}

/* One newton inward on both posts at a row. Destroys the matrix. */
static inline void elements_solve(elements *e, const mech_structure *made, int row)
{
    for (int end = 0; end < MECH_ENDS; end++) {
        e->answer[elements_at(e, end, row + 1, 0)] = made->post[end].is_rigid ? 0.0 : 1.0;
    }
    for (int pivot = 0; pivot < e->count; pivot++) {
        for (int i = pivot + 1; i < e->count; i++) {
            const double share = e->matrix[i][pivot] / e->matrix[pivot][pivot];
            for (int j = pivot; j < e->count && share != 0.0; j++) {
                e->matrix[i][j] -= share * e->matrix[pivot][j];
            }
            e->answer[i] -= share * e->answer[pivot];
        }
    }
    for (int i = e->count - 1; i >= 0; i--) {
        for (int j = i + 1; j < e->count; j++) {
            e->answer[i] -= e->matrix[i][j] * e->answer[j];
        }
        e->answer[i] /= e->matrix[i][i];
    }
}

static inline double elements_deflection(const elements *e, int end, int level)
{
    return e->answer[elements_at(e, end, level, 0)];
}

#endif
