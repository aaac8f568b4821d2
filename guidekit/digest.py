"""One digest of the same values on every system: SHA-256 of their canonical JSON (RFC 8785).

Order of keys, line ends of the file and spelling of numbers make no difference. Letters count as
they are written, for the standard leaves them so.
"""

from __future__ import annotations

from hashlib import sha256
from typing import Any

import rfc8785


def digest_of(values: Any) -> str:
    """64 hexadecimal digits for plain data: text, numbers, true and false, lists and tables."""
    return sha256(rfc8785.dumps(values)).hexdigest()
