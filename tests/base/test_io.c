/* Files: whole or not at all, and what happens when the disk is full, the place is wrong or the file is none. */
#define _POSIX_C_SOURCE 200809L
#include "tautrow/base/io.h"

#include "tautrow/base/text.h"

#include "near.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

enum { WHY = 300 };

static char folder[64];

static int make_folder(void **state)
{
    (void)state;
    tr_copy(folder, sizeof folder, "/tmp/tautrow-io-XXXXXX");
    return mkdtemp(folder) == NULL ? 1 : 0;
}

static int remove_folder(void **state)
{
    (void)state;
    char command[100];
    tr_format(command, sizeof command, "chmod -R u+w %s && rm -r %s", folder, folder);
    return system(command);
}

static const char *in_folder(const char *name)
{
    static char path[128];
    tr_format(path, sizeof path, "%s/%s", folder, name);
    return path;
}

static void file_is(const char *path, const char *expected)
{
    char why[WHY] = "";
    char *text = NULL;
    size_t size = 0;
    assert_int_equal(tr_file_read(path, 1 << 20, &text, &size, why, sizeof why), TR_OK);
    assert_int_equal(size, strlen(expected));
    assert_string_equal(text, expected);
    free(text);
}

static void test_write_and_read(void **state)
{
    (void)state;
    char why[WHY] = "";
    const char *const path = in_folder("a.txt");
    assert_false(tr_file_exists(path));
    assert_int_equal(tr_file_write(path, "first", 5, why, sizeof why), TR_OK);
    assert_true(tr_file_exists(path));
    file_is(path, "first");
    assert_int_equal(tr_file_write(path, "second text", 11, why, sizeof why), TR_OK);
    file_is(path, "second text");
    assert_int_equal(tr_file_write(path, "", 0, why, sizeof why), TR_OK);
    file_is(path, "");
}

static void test_large_files(void **state)
{
    (void)state;
    enum { SIZE = 100000 };
    char why[WHY] = "";
    char *const text = malloc(SIZE);
    memset(text, 'x', SIZE);
    const char *const path = in_folder("large");
    assert_int_equal(tr_file_write(path, text, SIZE, why, sizeof why), TR_OK);
    char *back = NULL;
    size_t size = 0;
    assert_int_equal(tr_file_read(path, SIZE - 1, &back, &size, why, sizeof why), TR_LIMIT);
    assert_null(back);
    assert_non_null(strstr(why, "larger than 99999 bytes"));
    assert_int_equal(tr_file_read(path, SIZE, &back, &size, why, sizeof why), TR_OK);
    assert_int_equal(size, SIZE);
    assert_memory_equal(back, text, SIZE);
    assert_int_equal(back[SIZE], 0);
    free(back);
    free(text);
}

static void read_fails(const char *path, const char *expected)
{
    char why[WHY] = "";
    char *text = NULL;
    size_t size = 0;
    assert_int_equal(tr_file_read(path, 100, &text, &size, why, sizeof why), TR_IO);
    assert_null(text);
    assert_non_null(strstr(why, expected));
    assert_non_null(strstr(why, path));
}

static void test_what_cannot_be_read(void **state)
{
    (void)state;
    read_fails(in_folder("missing"), "No such file");
    read_fails(folder, "is a folder");
    read_fails("/dev/zero", "is no ordinary file");
    const char *const pipe = in_folder("pipe");
    assert_int_equal(mkfifo(pipe, 0600), 0);
    read_fails(pipe, "is no ordinary file"); /* and does not wait for a writer */
}

static void write_fails(const char *path, const char *expected)
{
    char why[WHY] = "";
    assert_int_equal(tr_file_write(path, "x", 1, why, sizeof why), TR_IO);
    assert_non_null(strstr(why, expected));
}

static void test_what_cannot_be_written(void **state)
{
    (void)state;
    write_fails(folder, "is a folder");
    write_fails("/dev/full", "is no ordinary file");
    write_fails(in_folder("no/such/place"), "No such file");
    if (geteuid() == 0) {
        return; /* root may write anywhere */
    }
    const char *const closed = in_folder("closed");
    assert_int_equal(mkdir(closed, 0500), 0);
    write_fails(in_folder("closed/a"), "Permission denied");
}

/* Limits the size of files for what runs in a child: a write past it is cut short and then fails, as on a full disk. */
static void in_child_with_full_disk(rlim_t bytes, void (*work)(void))
{
    fflush(NULL);
    const pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        const struct rlimit limit = {.rlim_cur = bytes, .rlim_max = bytes};
        signal(SIGXFSZ, SIG_IGN);
        if (setrlimit(RLIMIT_FSIZE, &limit) != 0) {
            _exit(2);
        }
        work();
        _exit(0);
    }
    int status = 0;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFEXITED(status));
    assert_int_equal(WEXITSTATUS(status), 0);
}

static void leave_unless(bool is_right, int code)
{
    if (!is_right) {
        _exit(code);
    }
}

static void write_too_much(void)
{
    char why[WHY] = "";
    char text[200];
    memset(text, 'n', sizeof text);
    leave_unless(tr_file_write(in_folder("kept"), text, sizeof text, why, sizeof why) == TR_IO, 3);
    leave_unless(strstr(why, "cannot be written") != NULL, 4);
}

static void test_a_full_disk_leaves_the_old_file(void **state)
{
    (void)state;
    char why[WHY] = "";
    assert_int_equal(tr_file_write(in_folder("kept"), "old", 3, why, sizeof why), TR_OK);
    in_child_with_full_disk(100, write_too_much);
    file_is(in_folder("kept"), "old");
    char command[120];
    tr_format(command, sizeof command, "test -z \"$(ls %s | grep new-)\"", folder);
    assert_int_equal(system(command), 0); /* nothing left beside it */
}

static void test_folders(void **state)
{
    (void)state;
    char why[WHY] = "";
    assert_int_equal(tr_folder_make(in_folder("x/y//z/"), why, sizeof why), TR_OK);
    assert_int_equal(tr_folder_make(in_folder("x/y/z"), why, sizeof why), TR_OK);
    assert_true(tr_file_exists(in_folder("x/y/z")));
    assert_int_equal(tr_folder_make("/", why, sizeof why), TR_OK);
    assert_int_equal(tr_folder_make("", why, sizeof why), TR_IO);
    assert_int_equal(tr_file_write(in_folder("file"), "", 0, why, sizeof why), TR_OK);
    assert_int_equal(tr_folder_make(in_folder("file"), why, sizeof why), TR_IO);
    assert_int_equal(tr_folder_make(in_folder("file/below"), why, sizeof why), TR_IO);
    assert_non_null(strstr(why, "cannot be made"));
}

static void test_lines(void **state)
{
    (void)state;
    char why[WHY] = "";
    tr_lines *lines = NULL;
    const char *const path = in_folder("lines");
    assert_int_equal(tr_lines_open(path, true, &lines, why, sizeof why), TR_OK);
    assert_int_equal(tr_lines_add(lines, "one", 3, why, sizeof why), TR_OK);
    file_is(path, "one\n"); /* there at once, not at the close */
    assert_int_equal(tr_lines_add(lines, "", 0, why, sizeof why), TR_OK);
    tr_lines_close(lines);
    lines = NULL;
    assert_int_equal(tr_lines_open(path, true, &lines, why, sizeof why), TR_IO);
    assert_null(lines);
    assert_non_null(strstr(why, "is there already"));
    assert_int_equal(tr_lines_open(path, false, &lines, why, sizeof why), TR_OK);
    assert_int_equal(tr_lines_add(lines, "two", 3, why, sizeof why), TR_OK);
    tr_lines_close(lines);
    file_is(path, "one\n\ntwo\n");
    tr_lines_close(NULL);
}

static void test_lines_are_cut(void **state)
{
    (void)state;
    char why[WHY] = "";
    tr_lines *lines = NULL;
    const char *const path = in_folder("cut");
    assert_int_equal(tr_file_write(path, "one\ntwo\nthr", 11, why, sizeof why), TR_OK);
    assert_int_equal(tr_lines_open(path, false, &lines, why, sizeof why), TR_OK);
    assert_int_equal(tr_lines_cut(lines, 12, why, sizeof why), TR_IO);
    assert_int_equal(tr_lines_cut(lines, 8, why, sizeof why), TR_OK);
    file_is(path, "one\ntwo\n");
    assert_int_equal(tr_lines_add(lines, "3", 1, why, sizeof why), TR_OK);
    tr_lines_close(lines);
    file_is(path, "one\ntwo\n3\n");
    assert_true(tr_file_remove(path));
    assert_false(tr_file_exists(path));
    assert_true(tr_file_remove(path));
    assert_false(tr_file_remove(folder));
}

static void test_lines_in_wrong_places(void **state)
{
    (void)state;
    char why[WHY] = "";
    tr_lines *lines = NULL;
    assert_int_equal(tr_lines_open(folder, false, &lines, why, sizeof why), TR_IO);
    assert_int_equal(tr_lines_open(in_folder("no/such/place"), true, &lines, why, sizeof why), TR_IO);
    assert_null(lines);
    assert_int_equal(tr_lines_open("/dev/full", false, &lines, why, sizeof why), TR_OK);
    for (int i = 0; i < 3; i++) {
        assert_int_equal(tr_lines_add(lines, "one", 3, why, sizeof why), TR_IO);
        assert_non_null(strstr(why, "/dev/full"));
    }
    tr_lines_close(lines);
}

static void open_a_second_time(void)
{
    char why[WHY] = "";
    tr_lines *lines = NULL;
    leave_unless(tr_lines_open(in_folder("taken"), false, &lines, why, sizeof why) == TR_IO, 3);
    leave_unless(strstr(why, "in use") != NULL, 4);
}

static void test_one_program_at_a_time(void **state)
{
    (void)state;
    char why[WHY] = "";
    tr_lines *lines = NULL;
    assert_int_equal(tr_lines_open(in_folder("taken"), true, &lines, why, sizeof why), TR_OK);
    in_child_with_full_disk(1000, open_a_second_time);
    tr_lines_close(lines);
}

static void add_past_the_end(void)
{
    char why[WHY] = "";
    tr_lines *lines = NULL;
    leave_unless(tr_lines_open(in_folder("short"), true, &lines, why, sizeof why) == TR_OK, 3);
    leave_unless(tr_lines_add(lines, "12345", 5, why, sizeof why) == TR_OK, 4);
    leave_unless(tr_lines_add(lines, "123456789", 9, why, sizeof why) == TR_IO, 5); /* 10 bytes where 4 have room */
    leave_unless(tr_lines_add(lines, "123", 3, why, sizeof why) == TR_OK, 6); /* fits exactly, if it was cut back */
    leave_unless(tr_lines_add(lines, "", 0, why, sizeof why) == TR_IO, 7);
    tr_lines_close(lines);
}

static void test_a_short_write_is_cut_back(void **state)
{
    (void)state;
    in_child_with_full_disk(10, add_past_the_end);
    file_is(in_folder("short"), "12345\n123\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_write_and_read),
        cmocka_unit_test(test_large_files),
        cmocka_unit_test(test_what_cannot_be_read),
        cmocka_unit_test(test_what_cannot_be_written),
        cmocka_unit_test(test_a_full_disk_leaves_the_old_file),
        cmocka_unit_test(test_folders),
        cmocka_unit_test(test_lines),
        cmocka_unit_test(test_lines_are_cut),
        cmocka_unit_test(test_lines_in_wrong_places),
        cmocka_unit_test(test_one_program_at_a_time),
        cmocka_unit_test(test_a_short_write_is_cut_back),
    };
    return cmocka_run_group_tests(tests, make_folder, remove_folder);
}
