/* Rank agreement between the order in which rows were pulled and the rule's order. Kendall, M. G. (1938), "A new
 * measure of rank correlation", Biometrika 30: tau = (pairs in agreement - pairs in disagreement) / all pairs. */
#include "tautrow/score/score.h"

static int place_of(int row, const int *list, int count)
{
    for (int i = 0; i < count; i++) {
        if (list[i] == row) {
            return i;
        }
    }
    return -1;
}

double score_kendall(const int *order, int count, const int *rule, int rule_count)
{
    int pairs = 0;
    int balance = 0;
    for (int i = 0; i < count; i++) {
        const int first = place_of(order[i], rule, rule_count);
        for (int j = i + 1; j < count && first >= 0; j++) {
            const int second = place_of(order[j], rule, rule_count);
            if (second >= 0 && second != first) {
                pairs++;
                balance += first < second ? 1 : -1;
            }
        }
    }
    return pairs == 0 ? 1.0 : (double)balance / (double)pairs;
}
