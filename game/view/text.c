/* Fonts by SDL2_ttf. A face file is read once and opened at each size needed; strings go through the cache in
 * text_cache.c. Characters that the first family lacks come from the fallback family, run by run, as SDL2_ttf has no
 * fallback of its own. */
#include "tautrow/view/text.h"

#include "text_cache.h"
#include "text_faces.h"

#include <SDL.h>
#include <SDL_ttf.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "tautrow/base/assert.h"
#include "tautrow/base/text.h"

enum {
    FAMILIES = VIEW__FAMILIES,
    OPEN_FONTS = 40,
    PATH_CAP = 1024,
    RUN_CAP = 1024,
    MEASURE_SCALE = 4,
    CACHE_BYTES = 24 << 20
};
enum { MAX_FACE_BYTES = 16 << 20 };

typedef struct face {
    void *data;
    size_t size;
} face;

typedef struct open_font {
    TTF_Font *font;
    int family, weight, size_72;
    uint64_t used;
} open_font;

struct view_fonts {
    face face[FAMILIES][VIEW_WEIGHTS];
    open_font open[OPEN_FONTS];
    uint64_t uses;
    view__cache cache;
    bool has_ttf;
};

/* Family 0 is the program's own look; family 1 has nearly every sign. Semibold falls back to bold, then to regular. */
static const char *const face_name[FAMILIES][VIEW_WEIGHTS][2] = {
    {{"Lato-Regular.ttf", NULL}, {"Lato-Semibold.ttf", "Lato-Bold.ttf"}, {"Lato-Bold.ttf", NULL}},
    {{"DejaVuSans.ttf", NULL}, {"DejaVuSans-Bold.ttf", NULL}, {"DejaVuSans-Bold.ttf", NULL}},
};

/* Below each folder of the search list. */
static const char *const subfolder[] = {"",     "/lato",  "/dejavu",     "/truetype/lato",    "/truetype/dejavu",
                                        "/TTF", "/fonts", "/lato-fonts", "/dejavu-sans-fonts"};
static const char *const system_folder[] = {"/usr/share/fonts", "/usr/local/share/fonts", "/Library/Fonts",
                                            "C:/Windows/Fonts"};

/* ---- finding faces ------------------------------------------------------------------------------------------- */

static bool load_face(const char *folder, const char *sub, const char *name, face *out)
{
    char path[PATH_CAP];
    if (name == NULL || !tr_format(path, sizeof path, "%s%s/%s", folder, sub, name)) {
        return false;
    }
    SDL_RWops *file = SDL_RWFromFile(path, "rb");
    if (file == NULL) {
        return false;
    }
    const Sint64 size = SDL_RWsize(file);
    void *data = size > 0 && size <= MAX_FACE_BYTES ? malloc((size_t)size) : NULL;
    const bool is_read = data != NULL && SDL_RWread(file, data, 1, (size_t)size) == (size_t)size;
    SDL_RWclose(file);
    if (!is_read) {
        free(data);
        return false;
    }
    out->data = data;
    out->size = (size_t)size;
    return true;
}

/* Whether FreeType accepts the face: a text file called .ttf must not pass for a font. */
static bool face_opens(const face *f)
{
    TTF_Font *font = TTF_OpenFontRW(SDL_RWFromConstMem(f->data, (int)f->size), 1, 12);
    if (font == NULL) {
        return false;
    }
    TTF_CloseFont(font);
    return true;
}

static void find_face(view_fonts *fonts, int family, int weight, const char *folder)
{
    face *out = &fonts->face[family][weight];
    for (size_t name = 0; name < 2; name++) {
        for (size_t sub = 0; sub < sizeof subfolder / sizeof subfolder[0] && out->data == NULL; sub++) {
            if (load_face(folder, subfolder[sub], face_name[family][weight][name], out) && !face_opens(out)) {
                free(out->data);
                *out = (face){0};
            }
        }
    }
}

static void find_faces(view_fonts *fonts, const char *folder)
{
    for (int family = 0; family < FAMILIES; family++) {
        for (int weight = 0; weight < VIEW_WEIGHTS; weight++) {
            if (fonts->face[family][weight].data == NULL) {
                find_face(fonts, family, weight, folder);
            }
        }
    }
}

static bool has_any_regular(const view_fonts *fonts)
{
    return fonts->face[0][VIEW_REGULAR].data != NULL || fonts->face[1][VIEW_REGULAR].data != NULL;
}

static tr_result open_fonts(const char *const folders[], size_t count, bool is_with_system, view_fonts **out, char *why,
                            size_t why_cap)
{
    view_fonts *fonts = calloc(1, sizeof *fonts);
    if (fonts == NULL) {
        return TR_NO_MEMORY;
    }
    fonts->cache.limit = CACHE_BYTES;
    fonts->has_ttf = TTF_Init() == 0;
    if (!fonts->has_ttf) {
        tr_format(why, why_cap, "the font library did not start: %s", TTF_GetError());
        view_fonts_close(fonts);
        return TR_IO;
    }
    for (size_t i = 0; i < count; i++) {
        find_faces(fonts, folders[i]);
    }
    for (size_t i = 0; is_with_system && i < sizeof system_folder / sizeof system_folder[0]; i++) {
        find_faces(fonts, system_folder[i]);
    }
    if (!has_any_regular(fonts)) {
        tr_copy(why, why_cap,
                "no font was found: neither Lato-Regular.ttf nor DejaVuSans.ttf; install the package fonts-lato or "
                "fonts-dejavu-core, or let TAUTROW_FONTS name the folder that has them");
        view_fonts_close(fonts);
        return TR_IO;
    }
    *out = fonts;
    return TR_OK;
}

tr_result view_fonts_open(const char *const folders[], size_t count, view_fonts **out, char *why, size_t why_cap)
{
    return open_fonts(folders, count, true, out, why, why_cap);
}

tr_result view_fonts_open_only(const char *const folders[], size_t count, view_fonts **out, char *why, size_t why_cap)
{
    return open_fonts(folders, count, false, out, why, why_cap);
}

void view_fonts_close(view_fonts *fonts)
{
    if (fonts == NULL) {
        return;
    }
    view__cache_clear(&fonts->cache);
    for (size_t i = 0; i < OPEN_FONTS; i++) {
        if (fonts->open[i].font != NULL) {
            TTF_CloseFont(fonts->open[i].font);
        }
    }
    for (int family = 0; family < FAMILIES; family++) {
        for (int weight = 0; weight < VIEW_WEIGHTS; weight++) {
            free(fonts->face[family][weight].data);
        }
    }
    if (fonts->has_ttf) {
        TTF_Quit();
    }
    free(fonts);
}

/* ---- a face at a size ---------------------------------------------------------------------------------------- */

/* A family that lacks a weight lends its regular one. */
static const face *face_of(const view_fonts *fonts, int family, int weight)
{
    const face *f = &fonts->face[family][weight];
    return f->data != NULL ? f : &fonts->face[family][VIEW_REGULAR];
}

bool view__fonts_face(const view_fonts *fonts, int family, view_weight weight, const void **data, size_t *size)
{
    const face *f = face_of(fonts, family, (int)weight);
    *data = f->data;
    *size = f->size;
    return f->data != NULL;
}

static open_font *slot_for(view_fonts *fonts, int family, int weight, int size_72)
{
    open_font *oldest = &fonts->open[0];
    for (size_t i = 0; i < OPEN_FONTS; i++) {
        open_font *slot = &fonts->open[i];
        if (slot->font != NULL && slot->family == family && slot->weight == weight && slot->size_72 == size_72) {
            return slot;
        }
        if (slot->used < oldest->used) {
            oldest = slot;
        }
    }
    if (oldest->font != NULL) {
        TTF_CloseFont(oldest->font);
    }
    *oldest = (open_font){.family = family, .weight = weight, .size_72 = size_72};
    return oldest;
}

/* One point at size_72 dots an inch is size_72/72 pixels: the only way to a size that is not whole. */
static TTF_Font *font_at(view_fonts *fonts, int family, int weight, int size_72)
{
    const face *f = face_of(fonts, family, weight);
    if (f->data == NULL) {
        return NULL;
    }
    open_font *slot = slot_for(fonts, family, weight, size_72);
    if (slot->font == NULL) {
        SDL_RWops *memory = SDL_RWFromConstMem(f->data, (int)f->size);
        slot->font = TTF_OpenFontDPIRW(memory, 1, 1, (unsigned)size_72, (unsigned)size_72);
        if (slot->font == NULL) {
            return NULL;
        }
        /* widths grow in step with the size, so that what fits at one scale fits at all */
        TTF_SetFontHinting(slot->font, TTF_HINTING_LIGHT_SUBPIXEL);
        TTF_SetFontKerning(slot->font, 1);
    }
    slot->used = ++fonts->uses;
    return slot->font;
}

/* ---- runs ---------------------------------------------------------------------------------------------------- */

static Uint32 decode(const char **text)
{
    const unsigned char *c = (const unsigned char *)*text;
    const int more = c[0] >= 0xF0U ? 3 : c[0] >= 0xE0U ? 2 : c[0] >= 0xC0U ? 1 : 0;
    Uint32 code = more == 0 ? c[0] : c[0] & (0x3FU >> (unsigned)more);
    int read = 1;
    for (; read <= more && (c[read] & 0xC0U) == 0x80U; read++) {
        code = (code << 6U) | (c[read] & 0x3FU);
    }
    *text += read;
    return code;
}

static int family_of(view_fonts *fonts, int weight, int size_72, Uint32 code)
{
    for (int family = 0; family < FAMILIES; family++) {
        TTF_Font *font = font_at(fonts, family, weight, size_72);
        if (font != NULL && TTF_GlyphIsProvided32(font, code)) {
            return family;
        }
    }
    return fonts->face[0][VIEW_REGULAR].data != NULL ? 0 : 1;
}

typedef struct run {
    char text[RUN_CAP];
    TTF_Font *font;
} run;

/* Takes the longest run of one family off *text. Spaces stay in the run they are in. False at the end or without a
 * font. */
static bool next_run(view_fonts *fonts, int weight, int size_72, const char **text, run *out)
{
    if (**text == '\0') {
        return false;
    }
    const char *at = *text;
    const char *start = at;
    const int family = family_of(fonts, weight, size_72, decode(&at));
    const char *end = at;
    while (*at != '\0' && (size_t)(at - start) < RUN_CAP - 8) {
        const bool is_space = *at == ' ';
        if (family_of(fonts, weight, size_72, decode(&at)) != family && !is_space) {
            break;
        }
        end = at;
    }
    tr_format(out->text, sizeof out->text, "%.*s", (int)(end - start), start);
    *text = end;
    out->font = font_at(fonts, family, weight, size_72);
    return out->font != NULL;
}

/* How far the first glyph reaches to the left of the pen: SDL2_ttf moves the picture right by that much. */
static int left_overhang(TTF_Font *font, const char *text)
{
    int least_x = 0;
    if (TTF_GlyphMetrics32(font, decode(&text), &least_x, NULL, NULL, NULL, NULL) != 0) {
        return 0;
    }
    return least_x < 0 ? -least_x : 0;
}

/* ---- measuring ----------------------------------------------------------------------------------------------- */

static int size_of(view_font font, float scale)
{
    const float pixels_72 = font.size * scale * 72.0F;
    return pixels_72 < 72.0F ? 72 : pixels_72 > 72.0F * 2000.0F ? 72 * 2000 : (int)lroundf(pixels_72);
}

/* Measured four times as large as drawn at scale 1: SDL2_ttf only tells whole pixels. */
static float measure(void *context, view_font font, const char *text)
{
    view_fonts *fonts = context;
    const int size_72 = size_of(font, MEASURE_SCALE);
    const view__key key = {.weight = (int)font.weight, .size_72 = size_72, .text = text};
    const view__entry *known = view__cache_find(&fonts->cache, &key);
    if (known != NULL) {
        return known->advance;
    }
    float advance = 0.0F;
    const char *rest = text;
    run part;
    while (next_run(fonts, key.weight, size_72, &rest, &part)) {
        int width = 0;
        if (TTF_SizeUTF8(part.font, part.text, &width, NULL) == 0) {
            advance += (float)(width - left_overhang(part.font, part.text)) / MEASURE_SCALE;
        }
    }
    view__entry *entry = view__cache_add(&fonts->cache, &key, 0);
    if (entry != NULL) {
        entry->advance = advance;
    }
    return advance;
}

view_metrics view_fonts_metrics(view_fonts *fonts)
{
    return (view_metrics){.width = measure, .context = fonts};
}

/* ---- rendering ----------------------------------------------------------------------------------------------- */

enum { RUNS = 16 };

typedef struct piece {
    SDL_Surface *surface;
    int x, ascent, overhang;
} piece;

/* The largest of the alpha channels wins where two runs touch. */
static void blend_piece(view__entry *mask, const piece *p)
{
    const SDL_Surface *s = p->surface;
    const int left = p->x - p->overhang + mask->origin_x;
    const int top = mask->origin_y - p->ascent;
    for (int y = 0; y < s->h; y++) {
        const uint8_t *row = (const uint8_t *)s->pixels + (ptrdiff_t)y * s->pitch;
        if (top + y < 0 || top + y >= mask->height) {
            continue;
        }
        uint8_t *to = mask->alpha + (ptrdiff_t)(top + y) * mask->stride;
        for (int x = 0; x < s->w; x++) {
            uint32_t pixel = 0;
            memcpy(&pixel, row + (ptrdiff_t)x * 4, sizeof pixel);
            const uint8_t alpha = (uint8_t)(pixel >> 24U);
            if (left + x >= 0 && left + x < mask->width && alpha > to[left + x]) {
                to[left + x] = alpha;
            }
        }
    }
}

static size_t render_pieces(view_fonts *fonts, const view__key *key, piece out[RUNS])
{
    const char *rest = key->text;
    run part;
    size_t count = 0;
    int pen = 0;
    while (count < RUNS && next_run(fonts, key->weight, key->size_72, &rest, &part)) {
        SDL_Surface *surface = TTF_RenderUTF8_Blended(part.font, part.text, (SDL_Color){255, 255, 255, 255});
        if (surface == NULL) { /* nothing but zero-width signs */
            continue;
        }
        piece *p = &out[count++];
        *p = (piece){surface, pen, TTF_FontAscent(part.font), left_overhang(part.font, part.text)};
        pen += surface->w - p->overhang;
    }
    return count;
}

static view__entry *render(view_fonts *fonts, const view__key *key)
{
    piece pieces[RUNS];
    const size_t count = render_pieces(fonts, key, pieces);
    int left = 0;
    int right = 0;
    int above = 0;
    int below = 0;
    for (size_t i = 0; i < count; i++) {
        const piece *p = &pieces[i];
        left = SDL_max(left, p->overhang - p->x);
        right = SDL_max(right, p->x - p->overhang + p->surface->w);
        above = SDL_max(above, p->ascent);
        below = SDL_max(below, p->surface->h - p->ascent);
    }
    const int stride = (left + right + 3) / 4 * 4; /* what Cairo wants of an A8 surface */
    view__entry *mask = view__cache_add(&fonts->cache, key, (size_t)stride * (size_t)(above + below));
    if (mask != NULL) {
        mask->width = left + right;
        mask->height = above + below;
        mask->stride = stride;
        mask->origin_x = left;
        mask->origin_y = above;
        mask->advance = (float)right;
    }
    for (size_t i = 0; i < count; i++) {
        if (mask != NULL && mask->alpha != NULL) {
            blend_piece(mask, &pieces[i]);
        }
        SDL_FreeSurface(pieces[i].surface);
    }
    return mask;
}

bool view_fonts_mask(view_fonts *fonts, view_font font, float scale, const char *text, view_mask *out)
{
    TR_ASSERT((unsigned)font.weight < VIEW_WEIGHTS);
    const view__key key = {.weight = (int)font.weight, .size_72 = size_of(font, scale), .is_mask = true, .text = text};
    const view__entry *entry = view__cache_find(&fonts->cache, &key);
    if (entry == NULL) {
        entry = render(fonts, &key);
    }
    if (entry == NULL || entry->alpha == NULL) {
        return false;
    }
    *out = (view_mask){.alpha = entry->alpha,
                       .width = entry->width,
                       .height = entry->height,
                       .stride = entry->stride,
                       .origin_x = entry->origin_x,
                       .origin_y = entry->origin_y,
                       .advance = entry->advance};
    return true;
}

view_cache_use view_fonts_cache(const view_fonts *fonts)
{
    return (view_cache_use){fonts->cache.bytes, fonts->cache.entries, fonts->cache.limit};
}

void view_fonts_limit(view_fonts *fonts, size_t bytes)
{
    view__cache_limit(&fonts->cache, bytes);
}
