/* Cutting rectangles and setting text: layout without state. */
#include "tautrow/view/ui.h"

#include "ui_keep.h"

#include <math.h>

#include "tautrow/base/assert.h"

/* ---- rectangles ---------------------------------------------------------------------------------------------- */

static float part_of(float wanted, float all)
{
    return fmaxf(0.0F, fminf(wanted, all));
}

view_rect view_cut_left(view_rect *rect, float width)
{
    const float w = part_of(width, rect->w);
    const view_rect cut = {rect->x, rect->y, w, rect->h};
    rect->x += w;
    rect->w -= w;
    return cut;
}

view_rect view_cut_right(view_rect *rect, float width)
{
    const float w = part_of(width, rect->w);
    rect->w -= w;
    return (view_rect){rect->x + rect->w, rect->y, w, rect->h};
}

view_rect view_cut_top(view_rect *rect, float height)
{
    const float h = part_of(height, rect->h);
    const view_rect cut = {rect->x, rect->y, rect->w, h};
    rect->y += h;
    rect->h -= h;
    return cut;
}

view_rect view_cut_bottom(view_rect *rect, float height)
{
    const float h = part_of(height, rect->h);
    rect->h -= h;
    return (view_rect){rect->x, rect->y + rect->h, rect->w, h};
}

view_rect view_inset(view_rect rect, float by)
{
    return view_inset_xy(rect, by, by);
}

view_rect view_inset_xy(view_rect rect, float by_x, float by_y)
{
    return (view_rect){rect.x + by_x, rect.y + by_y, fmaxf(0.0F, rect.w - 2.0F * by_x),
                       fmaxf(0.0F, rect.h - 2.0F * by_y)};
}

view_rect view_centre_in(view_rect rect, float width, float height)
{
    return (view_rect){rect.x + (rect.w - width) / 2.0F, rect.y + (rect.h - height) / 2.0F, width, height};
}

view_rect view_split_x(view_rect rect, int count, int index, float gap)
{
    const float width = (rect.w - gap * (float)(count - 1)) / (float)count;
    return (view_rect){rect.x + (float)index * (width + gap), rect.y, fmaxf(0.0F, width), rect.h};
}

bool view_rect_has(view_rect rect, float x, float y)
{
    return x >= rect.x && x < rect.x + rect.w && y >= rect.y && y < rect.y + rect.h;
}

view_rect view__rect_meet(view_rect a, view_rect b)
{
    const float x0 = fmaxf(a.x, b.x);
    const float y0 = fmaxf(a.y, b.y);
    const float x1 = fminf(a.x + a.w, b.x + b.w);
    const float y1 = fminf(a.y + a.h, b.y + b.h);
    return (view_rect){x0, y0, fmaxf(0.0F, x1 - x0), fmaxf(0.0F, y1 - y0)};
}

/* ---- flow ---------------------------------------------------------------------------------------------------- */

view_flow view_row(view_rect area, float line_height, float gap)
{
    return (view_flow){.area = area, .gap = gap, .line_height = line_height};
}

view_rect view_row_next(view_flow *row, float width)
{
    if (row->x > 0.0F && row->x + width > row->area.w) {
        row->x = 0.0F;
        row->y += row->line_height + row->gap;
    }
    const view_rect next = {row->area.x + row->x, row->area.y + row->y, fminf(width, row->area.w), row->line_height};
    row->x += width + row->gap;
    return next;
}

view_flow view_column(view_rect area, float gap)
{
    return (view_flow){.area = area, .gap = gap};
}

view_rect view_column_next(view_flow *column, float height)
{
    const view_rect next = {column->area.x, column->area.y + column->y, column->area.w, height};
    column->y += height + column->gap;
    return next;
}

float view_flow_height(const view_flow *flow)
{
    if (flow->line_height > 0.0F) {
        return flow->y + flow->line_height;
    }
    return fmaxf(0.0F, flow->y - flow->gap);
}

/* ---- text ---------------------------------------------------------------------------------------------------- */

typedef struct type_style {
    view_font font;
    float line;
} type_style;

static const type_style types[VIEW_TYPES] = {
    [VIEW_CAPTION] = {{12.5F, VIEW_SEMIBOLD}, 17.0F}, [VIEW_BODY] = {{15.0F, VIEW_REGULAR}, 22.0F},
    [VIEW_STRONG] = {{15.0F, VIEW_SEMIBOLD}, 22.0F},  [VIEW_TITLE] = {{18.0F, VIEW_BOLD}, 26.0F},
    [VIEW_HEADING] = {{26.0F, VIEW_BOLD}, 34.0F},     [VIEW_DISPLAY] = {{42.0F, VIEW_BOLD}, 50.0F},
};

/* Large type grows less: it is readable already, and a heading of double size would leave no room for the work. */
static float scale_of(const view_ui *ui, view_type type)
{
    const float share = type == VIEW_DISPLAY ? 0.4F : type == VIEW_HEADING ? 0.6F : 1.0F;
    return 1.0F + (ui->text_scale - 1.0F) * share;
}

view_font view_font_of(const view_ui *ui, view_type type)
{
    TR_ASSERT((unsigned)type < VIEW_TYPES);
    view_font font = types[type].font;
    font.size *= scale_of(ui, type);
    return font;
}

float view_line_of(const view_ui *ui, view_type type)
{
    TR_ASSERT((unsigned)type < VIEW_TYPES);
    return roundf(types[type].line * scale_of(ui, type));
}

float view_width_of(const view_ui *ui, view_type type, const char *text)
{
    return view_text_width(ui->metrics, view_font_of(ui, type), text);
}

float view_control_height(const view_ui *ui)
{
    return roundf(14.0F + 22.0F * ui->text_scale);
}

/* Capitals are 0.72 of the em in the faces in use: half of that below the middle. */
float view__baseline(view_rect rect, view_font font)
{
    return roundf(rect.y + rect.h / 2.0F + font.size * 0.355F);
}

void view_label(view_ui *ui, view_rect rect, view_type type, view_align align, view_color color, const char *text)
{
    const view_font font = view_font_of(ui, type);
    const float x = align == VIEW_LEFT ? rect.x : align == VIEW_RIGHT ? rect.x + rect.w : rect.x + rect.w / 2.0F;
    view_text_fit(ui->draw, ui->metrics, x, view__baseline(rect, font), rect.w + 0.5F, font, align, color, text);
}

float view_heading(view_ui *ui, view_rect rect, view_type type, const char *text)
{
    const float height = view_text_block(ui->draw, ui->metrics, rect, view_font_of(ui, type), view_line_of(ui, type),
                                         ui->theme->ink, 2, text);
    return height + (type >= VIEW_HEADING ? VIEW_GAP_3 : VIEW_GAP_2);
}

float view_paragraph(view_ui *ui, view_rect rect, view_type type, view_color color, const char *text)
{
    return view_text_block(ui->draw, ui->metrics, rect, view_font_of(ui, type), view_line_of(ui, type), color, 0, text);
}

float view_paragraph_height(const view_ui *ui, float width, view_type type, const char *text)
{
    return view_text_block(NULL, ui->metrics, (view_rect){0.0F, 0.0F, width, 0.0F}, view_font_of(ui, type),
                           view_line_of(ui, type), 0, 0, text);
}
