/* Paper: letters set by the outlines of their faces (FreeType), pages written by Cairo. Every glyph is placed here, by
 * the widths and kerning in the font's own units, so that what is measured is what is printed; Cairo is told which
 * characters the glyphs stand for, which is what makes the text one to search and to copy. */
#include "tautrow/view/pdf.h"

#include "paint_list.h"
#include "text_faces.h"

#include <cairo-ft.h>
#include <cairo-pdf.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include FT_ADVANCES_H

#include "tautrow/base/text.h"
#include "tautrow/base/units.h"

enum { RUN_CAP = 512 };            /* glyphs of one font side by side */
static const double POINTS = 0.75; /* a layout unit, in points of 1/72 in */

/* ---- faces --------------------------------------------------------------------------------------------------- */

/* One face with all that it stands on. Cairo keeps fonts for a while after their last use, so a face is freed when
 * Cairo lets go of it and not before. */
typedef struct outline {
    FT_Library library;
    FT_Face face;
    void *data;
} outline;

typedef struct letter_face {
    FT_Face face; /* lives as long as font */
    cairo_font_face_t *font;
} letter_face;

struct view_letters {
    letter_face face[VIEW__FAMILIES][VIEW_WEIGHTS];
};

static void outline_close(void *opened)
{
    outline *o = opened;
    if (o->face != NULL) {
        (void)FT_Done_Face(o->face);
    }
    if (o->library != NULL) {
        (void)FT_Done_FreeType(o->library);
    }
    free(o->data);
    free(o);
}

static outline *outline_open(const void *data, size_t size)
{
    outline *o = calloc(1, sizeof *o);
    if (o == NULL) {
        return NULL;
    }
    o->data = malloc(size);
    if (o->data == NULL || FT_Init_FreeType(&o->library) != 0) {
        outline_close(o);
        return NULL;
    }
    memcpy(o->data, data, size);
    if (FT_New_Memory_Face(o->library, o->data, (FT_Long)size, 0, &o->face) != 0) {
        outline_close(o);
        return NULL;
    }
    return o;
}

/* Only its address counts: under it Cairo keeps what is to be freed with a face. */
static const cairo_user_data_key_t outline_key;

static bool open_face(const view_fonts *fonts, int family, view_weight weight, letter_face *out)
{
    const void *data = NULL;
    size_t size = 0;
    if (!view__fonts_face(fonts, family, weight, &data, &size)) {
        return true; /* the other family will do */
    }
    outline *o = outline_open(data, size);
    if (o == NULL) {
        return false;
    }
    out->face = o->face;
    out->font = cairo_ft_font_face_create_for_ft_face(o->face, FT_LOAD_NO_HINTING | FT_LOAD_NO_BITMAP);
    if (cairo_font_face_set_user_data(out->font, &outline_key, o, outline_close) != CAIRO_STATUS_SUCCESS) {
        cairo_font_face_destroy(out->font);
        outline_close(o);
        *out = (letter_face){0};
        return false;
    }
    return true;
}

tr_result view_letters_open(const view_fonts *fonts, view_letters **out, char *why, size_t why_cap)
{
    view_letters *letters = calloc(1, sizeof *letters);
    if (letters == NULL) {
        tr_copy(why, why_cap, "not enough memory");
        return TR_NO_MEMORY;
    }
    for (int family = 0; family < VIEW__FAMILIES; family++) {
        for (int weight = 0; weight < VIEW_WEIGHTS; weight++) {
            if (!open_face(fonts, family, (view_weight)weight, &letters->face[family][weight])) {
                view_letters_close(letters);
                tr_copy(why, why_cap, "a font cannot be opened for paper");
                return TR_IO;
            }
        }
    }
    *out = letters;
    return TR_OK;
}

void view_letters_close(view_letters *letters)
{
    if (letters == NULL) {
        return;
    }
    for (int family = 0; family < VIEW__FAMILIES; family++) {
        for (int weight = 0; weight < VIEW_WEIGHTS; weight++) {
            if (letters->face[family][weight].font != NULL) {
                cairo_font_face_destroy(letters->face[family][weight].font);
            }
        }
    }
    free(letters);
}

/* ---- setting a line ------------------------------------------------------------------------------------------ */

/* Glyphs of one font, from where the pen stands. */
typedef struct run {
    const letter_face *face;
    const char *text;
    size_t bytes;
    int count;
    double width;
    cairo_glyph_t glyph[RUN_CAP];
    cairo_text_cluster_t cluster[RUN_CAP];
} run;

static FT_ULong decode(const char *text, int *bytes)
{
    const unsigned char *c = (const unsigned char *)text;
    const int more = c[0] >= 0xF0U ? 3 : c[0] >= 0xE0U ? 2 : c[0] >= 0xC0U ? 1 : 0;
    FT_ULong code = more == 0 ? c[0] : c[0] & (0x3FU >> (unsigned)more);
    int read = 1;
    for (; read <= more && (c[read] & 0xC0U) == 0x80U; read++) {
        code = (code << 6U) | (c[read] & 0x3FU);
    }
    *bytes = read;
    return code;
}

/* The face that has the character: the first family before the second; where neither has it, whichever is there. */
static const letter_face *face_for(const view_letters *letters, view_weight weight, FT_ULong code)
{
    const letter_face *there = NULL;
    for (int family = VIEW__FAMILIES - 1; family >= 0; family--) {
        const letter_face *f = &letters->face[family][weight];
        if (f->face != NULL && (there == NULL || FT_Get_Char_Index(f->face, code) != 0)) {
            there = f;
        }
    }
    return there;
}

static double kerning(FT_Face face, unsigned left, unsigned right)
{
    FT_Vector by = {0, 0};
    if (left == 0 || !FT_HAS_KERNING(face) || FT_Get_Kerning(face, left, right, FT_KERNING_UNSCALED, &by) != 0) {
        return 0.0;
    }
    return (double)by.x;
}

/* Takes the longest run of one face off *text and sets it. False at the end, or without a font. */
static bool next_run(const view_letters *letters, view_font font, const char **text, run *out)
{
    out->face = NULL;
    out->text = *text;
    out->bytes = 0;
    out->count = 0;
    out->width = 0.0;
    unsigned before = 0;
    while (**text != '\0' && out->count < RUN_CAP) {
        int bytes = 0;
        const FT_ULong read = decode(*text, &bytes);
        const FT_ULong code = read < ' ' ? ' ' : read; /* there is no sign for what controls a terminal */
        const letter_face *face = code == ' ' && out->face != NULL ? out->face : face_for(letters, font.weight, code);
        if (face == NULL || (out->face != NULL && face != out->face)) {
            break;
        }
        out->face = face;
        const double unit = (double)font.size / (double)face->face->units_per_EM;
        const unsigned index = FT_Get_Char_Index(face->face, code);
        FT_Fixed advance = 0;
        (void)FT_Get_Advance(face->face, index, FT_LOAD_NO_SCALE, &advance);
        out->width += kerning(face->face, before, index) * unit;
        out->glyph[out->count] = (cairo_glyph_t){index, out->width, 0.0};
        out->cluster[out->count++] = (cairo_text_cluster_t){bytes, 1};
        out->width += (double)advance * unit;
        out->bytes += (size_t)bytes;
        *text += bytes;
        before = index;
    }
    return out->count > 0;
}

static float measure(void *context, view_font font, const char *text)
{
    const view_letters *letters = context;
    double width = 0.0;
    run part;
    while (next_run(letters, font, &text, &part)) {
        width += part.width;
    }
    return (float)width;
}

view_metrics view_letters_metrics(view_letters *letters)
{
    return (view_metrics){.width = measure, .context = letters};
}

/* ---- drawing ------------------------------------------------------------------------------------------------- */

/* What is not well-formed can be seen but not searched: Cairo would refuse the page for it. */
static void show_run(cairo_t *cr, const run *r)
{
    cairo_set_font_face(cr, r->face->font);
    if (tr_utf8_valid(r->text, r->bytes)) {
        cairo_show_text_glyphs(cr, r->text, (int)r->bytes, r->glyph, r->count, r->cluster, r->count, 0);
    } else {
        cairo_show_glyphs(cr, r->glyph, r->count);
    }
}

static void draw_text(const view__brush *b, const view__command *c)
{
    view_letters *letters = b->context;
    const char *text = b->draw->text + c->first;
    const double width = (double)measure(letters, c->font, text);
    double pen = c->align == VIEW_LEFT ? 0.0 : c->align == VIEW_RIGHT ? -width : -width / 2.0;
    run part;
    cairo_save(b->cr);
    cairo_translate(b->cr, (double)c->rect.x, (double)c->rect.y);
    if (c->op == VIEW__TEXT_UP) {
        cairo_rotate(b->cr, -TR_PI / 2.0);
    }
    cairo_set_font_size(b->cr, (double)c->font.size);
    while (next_run(letters, c->font, &text, &part)) {
        for (int i = 0; i < part.count; i++) {
            part.glyph[i].x += pen;
        }
        show_run(b->cr, &part);
        pen += part.width;
    }
    cairo_restore(b->cr);
}

static void draw_page(cairo_t *cr, const view_draw *draw, view_letters *letters)
{
    view__brush b = {.cr = cr, .draw = draw, .scale = 1.0, .is_exact = true, .text = draw_text, .context = letters};
    cairo_save(cr);
    cairo_scale(cr, POINTS, POINTS);
    view__paint_list(&b);
    cairo_restore(cr);
    cairo_show_page(cr);
}

/* ---- the file ------------------------------------------------------------------------------------------------ */

typedef struct sheaf {
    char *bytes;
    size_t size, cap;
} sheaf;

static cairo_status_t take(void *context, const unsigned char *data, unsigned size)
{
    sheaf *out = context;
    if (out->size + size > out->cap) {
        const size_t cap = 2 * (out->size + size);
        char *grown = realloc(out->bytes, cap);
        if (grown == NULL) {
            return CAIRO_STATUS_NO_MEMORY;
        }
        out->bytes = grown;
        out->cap = cap;
    }
    memcpy(out->bytes + out->size, data, size);
    out->size += size;
    return CAIRO_STATUS_SUCCESS;
}

static void describe(cairo_surface_t *surface, const view_pdf_about *about)
{
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, about->title);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_AUTHOR, about->author);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_SUBJECT, about->subject);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, about->author);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, about->created);
}

tr_result view_pdf(const view_draw *const pages[], size_t count, const view_pdf_about *about, view_letters *letters,
                   char **bytes, size_t *size, char *why, size_t why_cap)
{
    sheaf out = {0};
    cairo_surface_t *surface =
        cairo_pdf_surface_create_for_stream(take, &out, (double)about->width * POINTS, (double)about->height * POINTS);
    describe(surface, about);
    cairo_t *cr = cairo_create(surface);
    for (size_t i = 0; i < count; i++) {
        draw_page(cr, pages[i], letters);
    }
    cairo_status_t status = cairo_status(cr);
    cairo_destroy(cr);
    cairo_surface_finish(surface);
    status = status != CAIRO_STATUS_SUCCESS ? status : cairo_surface_status(surface);
    cairo_surface_destroy(surface);
    if (status != CAIRO_STATUS_SUCCESS) {
        free(out.bytes);
        tr_format(why, why_cap, "the pages could not be made: %s", cairo_status_to_string(status));
        return status == CAIRO_STATUS_NO_MEMORY ? TR_NO_MEMORY : TR_INVALID;
    }
    *bytes = out.bytes;
    *size = out.size;
    return TR_OK;
}
