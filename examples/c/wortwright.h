/*
 * Wortwright for hosts that call C: one JSON request in, one JSON answer out.
 *
 *     cargo rustc --release --lib --features c-api --crate-type cdylib
 *     cc host.c -o host -L target/release -lwortwright
 *
 * With --crate-type staticlib, link -lpthread -ldl -lm beside it.
 * What may be asked and what is answered stands in the documentation of the module `exchange`.
 * All functions may be called from any thread, and at the same time.
 */
#ifndef WORTWRIGHT_H
#define WORTWRIGHT_H

#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/* The version, such as "0.1.0". Not to be freed. */
const char *wortwright_version(void);

/*
 * The answer to `length` bytes of UTF-8 at `request`: JSON in UTF-8, closed by a zero byte, to be freed with
 * wortwright_free. Whatever is wrong with the request stands in the answer, even where `request` is NULL; bytes that are
 * not UTF-8 are read as U+FFFD, which JSON takes in strings only.
 * NULL only where there is no memory left.
 */
char *wortwright_answer(const char *request, size_t length);

/* Frees an answer. NULL is let pass; anything else must be an answer that was not freed before. */
void wortwright_free(char *answer);

#ifdef __cplusplus
}
#endif

#endif
