/* Every field of the state, stated once, in the order in which it lies in memory. The hash is made from these lists,
 * and a test shows that they tile the structures without a gap. X(KIND, member, count): count values of a kind. Left
 * out: run, which follows from the setup, the height errors and the days. */
#ifndef TAUTROW_GAME_JOB_FIELDS_H
#define TAUTROW_GAME_JOB_FIELDS_H

#define JOB__ROW_FIELDS(X)                                                                                             \
    X(BOOL, is_marked, 1)                                                                                              \
    X(REAL, height_error_m, 1)                                                                                         \
    X(BOOL, is_drilled, 1)                                                                                             \
    X(INT, bit, 1)                                                                                                     \
    X(REAL, drill_rpm, 1)                                                                                              \
    X(INT, clearings, 1)                                                                                               \
    X(REAL, hole.diameter_m, 1)                                                                                        \
    X(REAL, hole.depth_m, 1)                                                                                           \
    X(REAL, hole.pitch_rad, 1)                                                                                         \
    X(REAL, hole.yaw_rad, 1)                                                                                           \
    X(REAL, hole.wander_m, 1)                                                                                          \
    X(BOOL, is_driven, 1)                                                                                              \
    X(REAL, driver_rpm, 1)                                                                                             \
    X(REAL, seat.proud_m, 1)                                                                                           \
    X(REAL, seat.pitch_rad, 1)                                                                                         \
    X(REAL, seat.yaw_rad, 1)                                                                                           \
    X(REAL, seat.stripped, 1)                                                                                          \
    X(REAL, grip.bite, 1)                                                                                              \
    X(REAL, grip.penetration_m, 1)                                                                                     \
    X(REAL, grip.design_n, 1)                                                                                          \
    X(REAL, grip.ultimate_n, 1)                                                                                        \
    X(REAL, grip.split_index, 1)                                                                                       \
    X(REAL, grip.drive_torque_n_m, 1)                                                                                  \
    X(REAL, grip.side_n_per_n, 1)                                                                                      \
    X(BOOL, is_split, 1)                                                                                               \
    X(BOOL, anchor_in, 1)                                                                                              \
    X(BOOL, cable_in, 1)                                                                                               \
    X(INT, wrong_starts, 1)                                                                                            \
    X(REAL, engaged.anchor_turns, 1)                                                                                   \
    X(REAL, engaged.cable_turns, 1)                                                                                    \
    X(REAL, engaged.twist_turns, 1)                                                                                    \
    X(BOOL, was_unscrewed, 1)                                                                                          \
    X(BOOL, was_body_held, 1)                                                                                          \
    X(BOOL, is_joined, 1)                                                                                              \
    X(BOOL, is_hand_tight, 1)                                                                                          \
    X(BOOL, is_hung, 1)                                                                                                \
    X(REAL, pulled_n, 1)                                                                                               \
    X(BOOL, is_cable_marked, 1)                                                                                        \
    X(REAL, marked_pull_n, 1)                                                                                          \
    X(REAL, mark_error_m, 1)                                                                                           \
    X(BOOL, is_cut, 1)                                                                                                 \
    X(INT, cutter, 1)                                                                                                  \
    X(REAL, length_error_m, 1)                                                                                         \
    X(BOOL, is_frayed, 1)                                                                                              \
    X(REAL, crimp.seated_m, 1)                                                                                         \
    X(INT, crimp.squeeze_count, 1)                                                                                     \
    X(SQUEEZE, crimp.squeeze, MECH_MAX_SQUEEZES)                                                                       \
    X(BOOL, has_seat_mark, 1)                                                                                          \
    X(BOOL, is_die_placed, 1)                                                                                          \
    X(REAL, die_m, 1)                                                                                                  \
    X(REAL, die_angle_rad, 1)                                                                                          \
    X(REAL, slip_m, 1)                                                                                                 \
    X(REAL, crimp_slip_m, 1)                                                                                           \
    X(INT, redone, 1)                                                                                                  \
    X(BOOL, has_pliers, 1)                                                                                             \
    X(REAL, turns_held, 1)                                                                                             \
    X(REAL, turns_free, 1)                                                                                             \
    X(REAL, first_reading_n, 1)                                                                                        \
    X(LONG, measured_at, 1)                                                                                            \
    X(LONG, turned_at, 1)                                                                                              \
    X(BOOL, is_crimp_gauged, 1)                                                                                        \
    X(BOOL, has_collar, 1)                                                                                             \
    X(BOOL, is_fault_reported, JOB_FAULT_KINDS)

#define JOB__PULL_FIELDS(X)                                                                                            \
    X(INT, row, 1)                                                                                                     \
    X(REAL, before_n, 1)                                                                                               \
    X(REAL, after_n, 1)

#define JOB__LOAD_FIELDS(X)                                                                                            \
    X(REAL, since_day, 1)                                                                                              \
    X(REAL, pull_n, MECH_ENDS *MECH_MAX_ROWS)

/* ROWS, PULLS, LOADS and RUN are not plain values: the hash goes down into the first three and leaves the last out. */
#define JOB__STATE_FIELDS(X)                                                                                           \
    X(LONG, action_count, 1)                                                                                           \
    X(LONG, now_ms, 1)                                                                                                 \
    X(BOOL, is_sheet_open, 1)                                                                                          \
    X(INT, answer, 3)                                                                                                  \
    X(BOOL, is_pole_set, 1)                                                                                            \
    X(REAL, pole_error_m, 1)                                                                                           \
    X(BOOL, has_glasses, 1)                                                                                            \
    X(INT, bit, 1)                                                                                                     \
    X(REAL, drill_rpm, 1)                                                                                              \
    X(REAL, driver_rpm, 1)                                                                                             \
    X(INT, cutter, 1)                                                                                                  \
    X(BOOL, stands_clear, 1)                                                                                           \
    X(BOOL, is_wiped, 1)                                                                                               \
    X(BOOL, is_post_sighted, 1)                                                                                        \
    X(BOOL, is_gap_tried, MECH_MAX_ROWS + 1)                                                                           \
    X(REAL, days, 1)                                                                                                   \
    X(LONG, waited_at, 1)                                                                                              \
    X(INT, load_count, 1)                                                                                              \
    X(LOADS, load, JOB_MAX_LOADS)                                                                                      \
    X(BOOL, is_signed, 1)                                                                                              \
    X(ROWS, row, MECH_MAX_ROWS)                                                                                        \
    X(RUN, run, 1)                                                                                                     \
    X(BOOL, rows.is_strung, MECH_MAX_ROWS)                                                                             \
    X(REAL, rows.take_up_m, MECH_MAX_ROWS)                                                                             \
    X(REAL, rows.peak_n, MECH_MAX_ROWS)                                                                                \
    X(REAL, rows.tension_n, MECH_MAX_ROWS)                                                                             \
    X(REAL, rows.crept.post_m, MECH_ENDS *(MECH_MAX_ROWS + 1))                                                         \
    X(REAL, rows.crept.rail_n, 1)                                                                                      \
    X(REAL, rows.beyond_n, MECH_MAX_ROWS *MECH_MAX_BENDS)                                                              \
    X(REAL, rows.beyond_peak_n, MECH_MAX_ROWS *MECH_MAX_BENDS)                                                         \
    X(REAL, rows.passed_m, MECH_MAX_ROWS *MECH_MAX_BENDS)                                                              \
    X(INT, pull_count, 1)                                                                                              \
    X(PULLS, pull, JOB_MAX_PULL_LOG)                                                                                   \
    X(INT, trip.row, 1)                                                                                                \
    X(REAL, trip.turns, 1)                                                                                             \
    X(REAL, trip.before_n, 1)                                                                                          \
    X(BOOL, trip.is_logged, 1)                                                                                         \
    X(BOOL, trip.is_first, 1)                                                                                          \
    X(REAL, peak_n, MECH_MAX_ROWS)                                                                                     \
    X(REAL, off_centre_peak_n_m, 1)                                                                                    \
    X(REAL, bending_peak, 1)                                                                                           \
    X(INT, refusals, 1)                                                                                                \
    X(INT, refused_without_glasses, 1)                                                                                 \
    X(REAL, turns_unclear, 1)                                                                                          \
    X(INT, hints, 1)                                                                                                   \
    X(INT, slips_under_load, 1)

#endif
