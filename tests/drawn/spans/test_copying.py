"""A new file is compared with the old one while it is hashed."""

from hashlib import sha256
from pathlib import Path
from random import Random

import pytest

from guidekit.drawn.spans.copying import BLOCK, digest_compared, write_pieces
from guidekit.drawn.spans.source import ByteSpan, Source
from guidekit.drawn.unfit import UnfitError

OLD = Random(1).randbytes(3 * BLOCK)
PIECES = (b"new", ByteSpan(5, BLOCK + 7), b"", ByteSpan(2 * BLOCK, BLOCK), b"end", ByteSpan(0, 5))
PAIRS = [(ByteSpan(3, BLOCK + 7), PIECES[1]), (ByteSpan(BLOCK + 10, BLOCK), PIECES[3])]


def written(folder: Path) -> tuple[Path, Path]:
    """An old file, and a new one of pieces."""
    old, new = folder / "old", folder / "new"
    old.write_bytes(OLD)
    with old.open("rb") as source, new.open("wb") as file:
        write_pieces(PIECES, Source(source), file)
    return old, new


def compared(old: Path, new: Path) -> str:
    """The digest of the new file, once it is compared."""
    with old.open("rb") as a, new.open("rb") as b:
        return digest_compared(Source(b), Source(a), reversed(PAIRS))


def test_digest_of_all(tmp_path: Path) -> None:
    """The digest is that of the whole file, the parts that are not compared included."""
    old, new = written(tmp_path)
    data = b"new" + OLD[5 : BLOCK + 12] + OLD[2 * BLOCK :] + b"end" + OLD[:5]
    assert new.read_bytes() == data
    assert compared(old, new) == sha256(data).hexdigest()


@pytest.mark.parametrize("at", [3, 2 + BLOCK, BLOCK + 9, BLOCK + 10, 2 * BLOCK + 9])
def test_one_wrong_byte(tmp_path: Path, at: int) -> None:
    """A byte that is not as in the old file is found wherever it is, at every edge of a block."""
    old, new = written(tmp_path)
    data = bytearray(new.read_bytes())
    data[at] ^= 1
    new.write_bytes(data)
    with pytest.raises(UnfitError, match="what is drawn would not be in the new file as it was"):
        compared(old, new)
