/* Other posts, rails and rows for one scenario, made by changing its text: so every rule of the scenario layer (which
 * modulus, which limits, where the rows sit) holds for a variant as for a file. */
#ifndef GAME_APP_VARIANTS_H
#define GAME_APP_VARIANTS_H

#include <stdbool.h>

#include "commands.h"

enum { APP_MAX_VARIANTS = 96, APP_VARIANT_NAME_CAP = 88 };

/* What is varied. */
typedef enum app_vary {
    APP_VARY_NOTHING, /* as given */
    APP_VARY_WOOD,
    APP_VARY_SECTION,
    APP_VARY_BASE,
    APP_VARY_RAIL,
    APP_VARY_LINE_POSTS,
    APP_VARY_SPACING,
    APP_VARY_SEVERAL,
    APP_VARIES
} app_vary;

typedef struct app_variant {
    app_vary vary;
    char name[APP_VARIANT_NAME_CAP];
    char *text; /* a scenario */
} app_variant;

typedef struct app_variants {
    int count;
    bool has_other_wood; /* a name ends in "*": a size that the catalogue has not in this wood */
    app_variant of[APP_MAX_VARIANTS];
} app_variants;

/* All variants of a scenario, as given first; every row is new in all of them (nothing was done before, no slip-ups).
 * NULL with a sentence in why. */
app_variants *app_variants_make(const app_context *context, const app_scenario *found, char *why, size_t why_cap);
void app_variants_free(app_variants *variants);

#endif
