/*
 * Asks one question and prints the answer: the request is the first argument, or standard input without one.
 *
 *     ./host '{"format":1,"ask":"catalogue","name":"flaked oats"}'
 */
#include "wortwright.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* All of standard input; NULL where it does not fit. */
static char *read_all(size_t *length)
{
    size_t room = 4096;
    char *text = malloc(room);
    *length = 0;
    while (text != NULL) {
        *length += fread(text + *length, 1, room - *length, stdin);
        if (*length < room)
            return text;
        char *larger = realloc(text, room * 2);
        if (larger == NULL)
            free(text);
        text = larger;
        room *= 2;
    }
    return NULL;
}

int main(int count, char **arguments)
{
    size_t length;
    char *read = NULL;
    const char *request;
    if (count > 1) {
        request = arguments[1];
        length = strlen(request);
    } else {
        request = read = read_all(&length);
        if (read == NULL)
            return EXIT_FAILURE;
    }
    char *answer = wortwright_answer(request, length);
    free(read);
    if (answer == NULL)
        return EXIT_FAILURE;
    int printed = puts(answer);
    wortwright_free(answer);
    return printed < 0 ? EXIT_FAILURE : EXIT_SUCCESS;
}
