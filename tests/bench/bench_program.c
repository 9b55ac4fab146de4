/* The program as a child process on a display that shows nothing, with its own loop: how long until the first frame, how much of
 * a processor it takes while nobody touches it, and the memory it had at most. Nothing of this machine's user is read. */
#define _DEFAULT_SOURCE
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "bench.h"
#include "tautrow/base/io.h"
#include "tautrow/base/text.h"

enum { MOST_WORDS = 12 };

static const double SETTLE_S = 4.0; /* what moves at first comes to rest */
static const double IDLE_S = 8.0;
static const double GIVE_UP_S = 20.0;

static void wait_s(double seconds)
{
    const struct timespec time = {(time_t)seconds, (long)((seconds - (double)(time_t)seconds) * 1e9)};
    (void)nanosleep(&time, NULL);
}

static pid_t started(const char *home, const char *const words[MOST_WORDS])
{
    const pid_t child = fork();
    if (child != 0) {
        return child;
    }
    char *argv[MOST_WORDS + 1] = {NULL};
    for (int i = 0; i < MOST_WORDS && words[i] != NULL; i++) {
        argv[i] = strdup(words[i]);
    }
    (void)setenv("SDL_VIDEODRIVER", "dummy", 1);
    (void)setenv("SDL_AUDIODRIVER", "dummy", 1);
    (void)setenv("HOME", home, 1);
    (void)unsetenv("XDG_CONFIG_HOME");
    (void)unsetenv("XDG_DATA_HOME");
    (void)execv(argv[0], argv);
    _exit(127);
}

/* Ends the child; the memory that it had at most in MB, below 0 where it had ended by itself. */
static double ended(pid_t child)
{
    int status = 0;
    struct rusage use;
    memset(&use, 0, sizeof use);
    if (waitpid(child, &status, WNOHANG) != 0) {
        return -1.0;
    }
    (void)kill(child, SIGTERM); /* SDL makes "the window was closed" of it */
    return wait4(child, &status, 0, &use) == child ? (double)use.ru_maxrss / 1024.0 : -1.0;
}

/* Processor time of a process so far; the 14th and 15th word of its line in /proc, behind the name in brackets. */
static double cpu_s(pid_t child)
{
    char path[64];
    char line[512] = "";
    (void)tr_format(path, sizeof path, "/proc/%ld/stat", (long)child);
    FILE *file = fopen(path, "r");
    if (file == NULL) {
        return -1.0;
    }
    const char *got = fgets(line, sizeof line, file);
    (void)fclose(file);
    const char *at = got == NULL ? NULL : strrchr(line, ')');
    for (int word = 2; at != NULL && word < 14; word++) {
        at = strchr(at + 1, ' ');
    }
    if (at == NULL) {
        return -1.0;
    }
    char *next = NULL;
    const double user = strtod(at, &next);
    const double system = strtod(next, NULL);
    return (user + system) / (double)sysconf(_SC_CLK_TCK);
}

/* The program says after each frame what can be pressed: the first time, one was drawn. */
static void bench_start(const char *program, const char *home)
{
    double taken[BENCH_RUNS];
    char targets[256];
    (void)tr_format(targets, sizeof targets, "%s/targets.txt", home);
    const char *const words[MOST_WORDS] = {program, "--targets", targets};
    for (int i = 0; i < BENCH_RUNS; i++) {
        (void)remove(targets);
        const double start = bench_now_s();
        const pid_t child = started(home, words);
        while (!tr_file_exists(targets) && bench_now_s() - start < GIVE_UP_S) {
            wait_s(0.0005);
        }
        taken[i] = bench_now_s() - start;
        if (ended(child) < 0.0) {
            (void)printf("the program did not stay: no figures of it\n");
            return;
        }
    }
    (void)remove(targets);
    bench_print("the program: start to first frame", taken, 1e-3, "ms");
}

static void bench_idle(const char *what, const char *home, const char *const words[MOST_WORDS])
{
    const pid_t child = started(home, words);
    wait_s(SETTLE_S);
    const double cpu_before = cpu_s(child);
    const double before = bench_now_s();
    wait_s(IDLE_S);
    const double share = (cpu_s(child) - cpu_before) / (bench_now_s() - before);
    const double memory = ended(child);
    if (cpu_before < 0.0 || memory < 0.0) {
        (void)printf("%-58s no figures\n", what);
        return;
    }
    (void)printf("%-58s        %9.2f %% of a processor (to 0.1), memory at most %.1f MB\n", what, share * 100.0,
                 memory);
}

static void remove_all(const char *home)
{
    const pid_t child = fork();
    if (child == 0) {
        (void)execlp("rm", "rm", "-rf", "--", home, (char *)NULL);
        _exit(127);
    }
    (void)waitpid(child, NULL, 0);
}

void bench_program(const char *exercise)
{
    const char *program = TAUTROW_PROGRAM;
    char home[] = "/tmp/tautrow-bench-XXXXXX";
    if (mkdtemp(home) == NULL) {
        (void)printf("no folder for the program's home: no figures of it\n");
        return;
    }
    bench_start(program, home);
    const char *const at_home[MOST_WORDS] = {program};
    const char *const at_job[MOST_WORDS] = {program, exercise, "--mode", "practice"};
    const char *const large[MOST_WORDS] = {program, exercise, "--mode", "practice", "--scale", "2"};
    bench_idle("the program, untouched: home", home, at_home);
    bench_idle("the program, untouched: job", home, at_job);
    bench_idle("the program, untouched: job at 2560x1600", home, large);
    remove_all(home);
}
