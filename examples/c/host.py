"""Asks one question and prints the answer: python3 host.py LIBRARY REQUEST, without REQUEST from standard input."""

import ctypes
import json
import sys

library = ctypes.CDLL(sys.argv[1])
library.wortwright_answer.argtypes = [ctypes.c_char_p, ctypes.c_size_t]
library.wortwright_answer.restype = ctypes.c_void_p  # Not c_char_p: that would lose the pointer that is to be freed.
library.wortwright_free.argtypes = [ctypes.c_void_p]


def answer(request):
    """The answer as a dictionary; `request` is JSON, such as json.dumps makes of one."""
    data = request.encode()
    text = library.wortwright_answer(data, len(data))
    try:
        return json.loads(ctypes.string_at(text))
    finally:
        library.wortwright_free(text)


request = sys.argv[2] if len(sys.argv) > 2 else sys.stdin.buffer.read().decode(errors="replace")
print(json.dumps(answer(request)))
