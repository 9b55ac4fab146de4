/* A file that breaks the rule of the layers: the check must find it. */
#include "tautrow/job/state.h"
