/* A check on ourselves, kept on in every build: a simulator that grades people must rather stop
 * than go on with a wrong state. Never use it for input. */
#ifndef TAUTROW_BASE_ASSERT_H
#define TAUTROW_BASE_ASSERT_H

/* Prints the condition and its place to stderr and aborts. */
_Noreturn void tr_assert_failed(const char *condition, const char *file, int line);

#define TR_ASSERT(condition) ((condition) ? (void)0 : tr_assert_failed(#condition, __FILE__, __LINE__))

#endif
