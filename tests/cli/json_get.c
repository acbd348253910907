/* SPDX-License-Identifier: GPL-3.0-or-later */
/* json_get.c: one value of the JSON text on standard input, for the shell
 * tests: json_get centre.0.  A number is printed with every digit, a list or an
 * object as JSON.  Exit 0; 1: no such place in it; 2: not JSON. */
#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const json_t *step(const json_t *json, const char *key)
{
    if (json_is_array(json)) {
        char *end;
        size_t i = strtoul(key, &end, 10);
        return *end || !*key ? NULL : json_array_get(json, i);
    }
    return json_object_get(json, key);
}

static const json_t *find(const json_t *json, char *path)
{
    while (json && path && *path) {
        char *dot = strchr(path, '.');
        if (dot)
            *dot = '\0';
        json = step(json, path);
        path = dot ? dot + 1 : NULL;
    }
    return json;
}

static void print(const json_t *json)
{
    if (json_is_string(json))
        puts(json_string_value(json));
    else if (json_is_integer(json))
        printf("%" JSON_INTEGER_FORMAT "\n", json_integer_value(json));
    else if (json_is_real(json))
        printf("%.17g\n", json_real_value(json));
    else {
        json_dumpf(json, stdout, JSON_ENCODE_ANY | JSON_REAL_PRECISION(17));
        putchar('\n');
    }
}

int main(int argc, char *argv[])
{
    json_error_t error;
    json_t *json = json_loadf(stdin, JSON_REJECT_DUPLICATES | JSON_DECODE_ANY,
                              &error);
    if (!json) {
        fprintf(stderr, "json_get: line %d: %s\n", error.line, error.text);
        return 2;
    }
    const json_t *found = find(json, argc > 1 ? argv[1] : NULL);
    if (found)
        print(found);
    json_decref(json);
    return found ? 0 : 1;
}
