/* Jobs in many states and a case for every picture, shared by the sheet for eyes and by the tests. */
#ifndef TESTS_VIEW_PICTURE_JOBS_H
#define TESTS_VIEW_PICTURE_JOBS_H

#include "tautrow/view/pictures.h"

typedef struct picture_case {
    const char *name;
    float w, h; /* the size to look at it */
    void (*draw)(const view_pen *pen, view_rect area);
} picture_case;

extern const picture_case picture_cases[];
extern const size_t picture_case_count;

/* Plays the jobs that the cases show; once, before any case is drawn. */
void picture_jobs_make(void);

typedef enum picture_job {
    PICTURE_SHORT, /* 6 ft, 3.5 in posts, guided, 11 rows being tensioned */
    PICTURE_MIXED, /* the same run, each row at another stage */
    PICTURE_LONG,  /* 20 ft, 5.5 in posts, finished */
    PICTURE_FEW,   /* 3 rows */
    PICTURE_MANY,  /* 40 rows */
    PICTURE_JOBS
} picture_job;

const job_setup *picture_setup(picture_job job);
const job_state *picture_state(picture_job job);
view_story picture_story(void); /* of the short run, by the expert */

#endif
