/* The cache behind text.c: a hash table whose entries also hang in one list by last use. */
#include "text_cache.h"

#include <stdlib.h>
#include <string.h>

#include "tautrow/base/assert.h"

static uint32_t hash_of(const view__key *key)
{
    uint32_t hash =
        2166136261U ^ ((uint32_t)key->weight * 31U) ^ ((uint32_t)key->size_72 << 3U) ^ (uint32_t)key->is_mask;
    for (const char *c = key->text; *c != '\0'; c++) { /* FNV-1a */
        hash = (hash ^ (unsigned char)*c) * 16777619U;
    }
    return hash;
}

static void unlink_use(view__cache *cache, view__entry *entry)
{
    *(entry->older != NULL ? &entry->older->newer : &cache->oldest) = entry->newer;
    *(entry->newer != NULL ? &entry->newer->older : &cache->newest) = entry->older;
}

static void link_newest(view__cache *cache, view__entry *entry)
{
    entry->newer = NULL;
    entry->older = cache->newest;
    *(cache->newest != NULL ? &cache->newest->newer : &cache->oldest) = entry;
    cache->newest = entry;
}

static void drop(view__cache *cache, view__entry *entry)
{
    view__entry **link = &cache->bucket[entry->hash % VIEW__BUCKETS];
    while (*link != entry) {
        link = &(*link)->chain;
    }
    *link = entry->chain;
    unlink_use(cache, entry);
    cache->bytes -= entry->bytes;
    cache->entries--;
    free(entry);
}

static void shrink_to(view__cache *cache, size_t bytes)
{
    view__entry *entry = cache->oldest;
    while (entry != NULL && cache->bytes > bytes) {
        view__entry *next = entry->newer;
        TR_ASSERT(next != entry); /* a list in a circle would be freed twice */
        drop(cache, entry);
        entry = next;
    }
}

view__entry *view__cache_find(view__cache *cache, const view__key *key)
{
    const uint32_t hash = hash_of(key);
    for (view__entry *e = cache->bucket[hash % VIEW__BUCKETS]; e != NULL; e = e->chain) {
        if (e->hash == hash && e->key.weight == key->weight && e->key.size_72 == key->size_72 &&
            e->key.is_mask == key->is_mask && strcmp(e->key.text, key->text) == 0) {
            unlink_use(cache, e);
            link_newest(cache, e);
            return e;
        }
    }
    return NULL;
}

view__entry *view__cache_add(view__cache *cache, const view__key *key, size_t alpha_size)
{
    const size_t text_size = strlen(key->text) + 1;
    const size_t bytes = sizeof(view__entry) + alpha_size + text_size;
    shrink_to(cache, cache->limit > bytes ? cache->limit - bytes : 0);
    view__entry *entry = calloc(1, bytes); /* one block: entry, mask, text */
    if (entry == NULL) {
        return NULL;
    }
    uint8_t *tail = (uint8_t *)(entry + 1);
    char *text = (char *)(tail + alpha_size);
    memcpy(text, key->text, text_size);
    entry->key = *key;
    entry->key.text = text;
    entry->hash = hash_of(key);
    entry->bytes = bytes;
    entry->alpha = alpha_size > 0 ? tail : NULL;
    entry->chain = cache->bucket[entry->hash % VIEW__BUCKETS];
    cache->bucket[entry->hash % VIEW__BUCKETS] = entry;
    link_newest(cache, entry);
    cache->bytes += bytes;
    cache->entries++;
    return entry;
}

void view__cache_limit(view__cache *cache, size_t bytes)
{
    cache->limit = bytes;
    shrink_to(cache, bytes);
}

void view__cache_clear(view__cache *cache)
{
    shrink_to(cache, 0);
}
