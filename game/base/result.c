/* The list of findings about bad input. It never grows, so that a hostile file cannot make it: what does not fit is
 * counted. */
#include "tautrow/base/result.h"

#include "tautrow/base/assert.h"
#include "tautrow/base/text.h"

#include <stdarg.h>

void tr_diags_clear(tr_diags *diags)
{
    diags->count = 0;
    diags->dropped = 0;
    diags->errors = 0;
}

void tr_diags_add(tr_diags *diags, tr_severity severity, int line, int column, const char *path, const char *format,
                  ...)
{
    TR_ASSERT(line >= 0 && column >= 0);
    if (severity == TR_ERROR) {
        diags->errors++;
    }
    if (diags->count >= TR_MAX_DIAGS) {
        diags->dropped++;
        return;
    }
    tr_diag *const diag = &diags->item[diags->count++];
    diag->severity = severity;
    diag->line = line;
    diag->column = column;
    tr_copy(diag->path, sizeof diag->path, path != NULL ? path : "");
    va_list args;
    va_start(args, format);
    tr_format_list(diag->text, sizeof diag->text, format, args);
    va_end(args);
}
