/* Rendered and measured strings, kept by (weight, size in 1/72 pixel, kind, text), bounded in bytes, least recently
 * used out first. */
#ifndef VIEW_TEXT_CACHE_H
#define VIEW_TEXT_CACHE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef struct view__key {
    int weight;
    int size_72; /* pixels an em x 72 */
    bool is_mask;
    const char *text;
} view__key;

typedef struct view__entry {
    struct view__entry *chain;         /* the next one in the same bucket */
    struct view__entry *older, *newer; /* order of use */
    view__key key;                     /* its text is the entry's own copy */
    uint32_t hash;
    size_t bytes;
    float advance;
    int width, height, stride, origin_x, origin_y;
    uint8_t *alpha; /* NULL for a measured one */
} view__entry;

enum { VIEW__BUCKETS = 4096 };

typedef struct view__cache {
    view__entry *bucket[VIEW__BUCKETS];
    view__entry *oldest, *newest;
    size_t bytes, entries, limit;
} view__cache;

/* The entry of key, now the most recently used; NULL when there is none. */
view__entry *view__cache_find(view__cache *cache, const view__key *key);
/* Adds an empty entry with room for alpha_size bytes, dropping old ones as needed; NULL when there is no memory. An
 * entry larger than the whole bound is kept until the next one comes. */
view__entry *view__cache_add(view__cache *cache, const view__key *key, size_t alpha_size);
void view__cache_limit(view__cache *cache, size_t bytes);
void view__cache_clear(view__cache *cache);

#endif
