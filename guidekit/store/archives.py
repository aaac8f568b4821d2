"""ZIP archives that somebody else has written."""

from __future__ import annotations

import errno
import struct
import zipfile
import zlib
from typing import BinaryIO

#: What Python's reader raises for what is no archive, a broken or an encrypted one, or one packed
#: in a way that it does not know.
UNREADABLE = (
    zipfile.BadZipFile, zipfile.LargeZipFile, zlib.error, struct.error, EOFError, LookupError,
    NotImplementedError, OverflowError, RuntimeError, ValueError,
)  # fmt: skip


def archive_in(file: BinaryIO) -> zipfile.ZipFile:
    """An archive to be read; it raises `UNREADABLE`, and `OSError` only where the disk fails.

    Where it leads to before its beginning, Python's reader would ask the system for that place.
    """
    try:
        archive = zipfile.ZipFile(file)
    except OSError as error:
        if error.errno == errno.EINVAL:
            raise zipfile.BadZipFile("its list of files is not where it says") from None
        raise
    if any(info.header_offset < 0 for info in archive.infolist()):
        raise zipfile.BadZipFile("a file in it is not where it says")
    return archive
