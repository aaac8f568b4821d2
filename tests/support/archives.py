"""ZIP archives with which something is wrong."""

import random
from collections.abc import Iterator

#: APPNOTE.TXT, 4.3.7, 4.3.12 and 4.3.16: heads of files, those of its list, and its end.
LOCAL, CENTRAL, END = b"PK\3\4", b"PK\1\2", b"PK\5\6"


def heads(data: bytes) -> Iterator[tuple[int, bytes]]:
    """Where each head of a file begins, and the end, and which kind it is."""
    for kind in (LOCAL, CENTRAL, END):
        at = data.find(kind)
        while at >= 0:
            yield at, kind
            at = data.find(kind, at + 1)


def encrypted(data: bytes) -> bytes:
    """The same archive, of which every file says that it is encrypted (APPNOTE.TXT, 4.4.4)."""
    changed = bytearray(data)
    for at, kind in heads(data):
        if kind != END:
            changed[at + (6 if kind == LOCAL else 8)] |= 1
    return bytes(changed)


def damaged(data: bytes, times: int) -> Iterator[bytes]:
    """The same archive so many times, each with other bytes in a head or soon behind it."""
    chance = random.Random(7)
    places = [at for at, _ in heads(data)]
    for _ in range(times):
        changed = bytearray(data)
        at = chance.choice(places) + chance.randrange(4, 48)
        changed[at : at + 2] = chance.randbytes(2)
        yield bytes(changed[: len(data)])
